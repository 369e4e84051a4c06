package water

import (
	"fmt"
	"math"

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
}

// simulate runs the balance over the record to the end of day stop. The first
// year (or less, if the record is shorter) is run once before, unseen, so that
// the start does not rest on a guess of how wet the bed is. each is called
// after every hour that is seen.
func simulate(s Setup, rec *site.Record, stop int, each func(hour int, st *state)) (*state, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if len(rec.Days) == 0 {
		return nil, fmt.Errorf("water balance: the record has no whole day")
	}
	st := newState(s)
	sun := sunTable(s.LatitudeDeg)
	decay := st.decays()
	day := func(d int, each func(hour int, st *state)) {
		et0, p := st.day(rec.Days[d])
		share := &sun[rec.Start.AddDate(0, 0, d).YearDay()-1]
		for h := range 24 {
			hour := 24*d + h
			st.hour(rec.RainMM[hour], et0*share[h], p, decay)
			if each != nil {
				each(hour, st)
			}
		}
	}
	for d := range min(365, len(rec.Days)) {
		day(d, nil)
	}
	st.volume = Balance{}
	before := st.storedM3()
	for d := range stop {
		day(d, each)
	}
	st.volume.StoredChangeM3 = st.storedM3() - before
	return st, nil
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
	for d := range rec.Days {
		if !(rec.Days[d].ET0MM >= 0) {
			return nil, fmt.Errorf("water balance: day %d of the record has no ET0", d+1)
		}
	}
	t := newTracker(s, rec)
	end, err := simulate(s, rec, len(rec.Days), t.hour)
	if err != nil {
		return nil, err
	}
	return t.result(end), nil
}

// DayTrace is one day in one band, for people who recompute by hand.
type DayTrace struct {
	Day         int     // of the record
	RainMM      float64 // on the bed
	InflowM3    float64 // from the catch areas
	IntakeMM    float64 // into the band, with what evaporated from water on it
	SeepedMM    float64 // out below
	DemandMM    float64 // Kc ET0
	UsedMM      float64 // by plants and sun
	HeldMM      float64 // in the mix at the end of the day
	DepletionMM float64 // below field capacity at the end of the day, 0 if above
	Ks          float64 // from the depletion at the end of the day
	PondM3      float64 // at the end of the day
	DeepestMM   float64 // over the foot of the band
	WetHours    int
	Missing     int // hours without a rain value
}

// Trace walks one band through the days from up to but not including to.
func Trace(s Setup, rec *site.Record, band, from, to int) ([]DayTrace, error) {
	if band < 0 || band >= len(s.Bed.Bands()) || from < 0 || to > len(rec.Days) || from >= to {
		return nil, fmt.Errorf("trace of band %d, days %d to %d: outside the bed or the record", band, from, to)
	}
	traces := make([]DayTrace, to-from)
	inflowBefore := math.NaN()
	_, err := simulate(s, rec, to, func(hour int, st *state) {
		d := hour/24 - from
		if d < 0 {
			inflowBefore = st.volume.InflowM3
			return
		}
		if math.IsNaN(inflowBefore) {
			inflowBefore = 0
		}
		tr := &traces[d]
		tr.Day = hour / 24
		tr.RainMM += rec.RainMM[hour]
		tr.InflowM3 += st.volume.InflowM3 - inflowBefore
		inflowBefore = st.volume.InflowM3
		tr.IntakeMM += st.intake[band]
		tr.SeepedMM += st.seeped[band]
		tr.UsedMM += st.used[band]
		tr.DeepestMM = max(tr.DeepestMM, st.depthMM(band))
		if st.wet(band) {
			tr.WetHours++
		}
		if rec.Missing[hour] {
			tr.Missing++
		}
		et0, p := st.day(rec.Days[tr.Day])
		tr.DemandMM = s.Kc * et0
		tr.HeldMM = st.held[band]
		tr.DepletionMM = max(0, st.mix.fieldMM-st.held[band])
		tr.Ks = Stress(tr.DepletionMM, st.mix.tawMM, p)
		tr.PondM3 = st.pond
	})
	return traces, err
}
