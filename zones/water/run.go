package water

import (
	"fmt"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

// Result is what a run found. Band figures are indexed [band][year], aligned
// with Bands and Years; days and hours count from the start of the record.
type Result struct {
	Bands    []basin.Band
	Years    []site.Year
	Balance  Balance
	ByYear   []Balance // volumes of each year
	Exposure [][]YearExposure
	// LevelsMM are pond levels (relative to the spill, rising); Above[k][year]
	// is the longest run of equivalent hours (see Spell) that the pond stood
	// higher than LevelsMM[k]. The depth over a place of height h that stands
	// for so long is the level less h.
	LevelsMM []float64
	Above    [][]float64
	// OfferedMM[band][day] is the water that roots in the band could draw on
	// beside what they held at field capacity, mm: what entered the mix or
	// evaporated from open water over it, and what still stood above field
	// capacity at the start of the day.
	OfferedMM [][]float64
	// DemandMM[day] is Kc ET0, mm.
	DemandMM []float64

	gapDay  []bool    // days whose gaps end dry spells
	growing []bool    // days of the growing season; nil: all
	pTab    float64   // of the setup
	shares  []float64 // p of each day for that
}

// check refuses a setup or a record that the balance cannot run on.
func check(s Setup, rec *site.Record) error {
	if err := s.check(); err != nil {
		return err
	}
	if len(rec.Days) == 0 {
		return fmt.Errorf("water balance: the record has no whole day")
	}
	for d := range rec.Days {
		if !(rec.Days[d].ET0MM >= 0) {
			return fmt.Errorf("water balance: day %d of the record has no ET0", d+1)
		}
	}
	return nil
}

// simulate runs the balance over the record to the end of day stop. The first
// year (or less, if the record is shorter) is run once before, unseen, so that
// the start does not rest on a guess of how wet the bed is. each, unless it is
// nil, is called after every hour that is seen or, unless byHour, after hours
// from and up to but not including to that went by at once (see skip).
func simulate(s Setup, rec *site.Record, stop int, byHour bool, each func(from, to int, st *state)) *state {
	st := newState(s)
	w := s.weather(rec)
	var inflow, demand [24]float64
	day := func(d int, each func(from, to int, st *state)) {
		et0, p := st.day(rec.Days[d])
		rain := rec.RainMM[24*d : 24*d+24]
		if w.rainless[d] && !byHour && st.dryDay(et0, p) {
			if each != nil {
				each(24*d, 24*d+24, st)
			}
			return
		}
		st.today(rain, et0, w.rainless[d], w.sun[d], &inflow, &demand)
		for h := 0; h < 24; {
			to := h
			if !byHour {
				to += st.skip(rain[h:], inflow[h:], demand[h:], p)
			}
			if to == h {
				st.move(rain[h], inflow[h], demand[h], p)
				to++
			}
			if each != nil {
				each(24*d+h, 24*d+to, st)
			}
			h = to
		}
	}
	for d := range min(365, len(rec.Days)) {
		day(d, nil)
	}
	st.begin()
	for d := range stop {
		day(d, each)
	}
	return st
}

// sunTable returns the share of a day's ET0 in each hour, by day of the year.
func sunTable(latDeg float64) *[366][24]float64 {
	var t [366][24]float64
	for j := range t {
		t[j] = site.DaylightFractions(latDeg, j+1)
	}
	return &t
}

// Run runs the balance over a whole record and finds the spells. Every day of
// the record must have its ET0 (see site.Record.FillET0).
func Run(s Setup, rec *site.Record) (*Result, error) {
	if err := check(s, rec); err != nil {
		return nil, err
	}
	return run(s, rec, rec.Years(s.LatitudeDeg)), nil
}

func run(s Setup, rec *site.Record, years []site.Year) *Result {
	s.Weather = s.weather(rec)
	t := newTracker(s, rec, years)
	return t.result(simulate(s, rec, len(rec.Days), false, t.hours))
}

// Volumes runs the balance over a record for its volumes alone, without
// following spells.
func Volumes(s Setup, rec *site.Record) (Balance, error) {
	if err := check(s, rec); err != nil {
		return Balance{}, err
	}
	return simulate(s, rec, len(rec.Days), false, nil).volumes(), nil
}
