package water

import "hollowbed/zones/site"

// wetSaturation is the share of full pores from which a place counts as saturated
// though no water stands on it: soil wetted from above keeps some 5 % of its pores
// as trapped air. From memory, no source at hand.
const wetSaturation = 0.95

// leastAir is the air, as a share of the soil's volume, below which roots are held
// to be short of it. The usual threshold of soil science; from memory, no source
// at hand.
const leastAir = 0.10

// DormantShare is what an hour of wetness counts in the dormant season against
// one in the growing season, for a plant. Assumption, no source beyond the
// statement that flooding harms less in dormancy (Michigan State University
// Extension, see SOURCES.md).
const DormantShare = 1.0 / 3

// A gap of so many hours without a rain value in a row ends every spell, and so
// many in one day a dry one. Shorter gaps are bridged, as if no rain fell in them,
// and the spell is marked: an hour lost now and then, as stations do, would
// else cut the dry spells of a year in half, and an hour that is wet without
// the missing rain was wet. Choice of this project, no source.
const gapH = 6

// Spell is an unbroken run of wet hours or of dry days.
type Spell struct {
	FromHour     int // of the record
	Hours        int
	GrowingHours int     // wet spells: of them in the growing season
	DeepestMM    float64 // wet spells: deepest water over the foot of the band
	Gap          bool    // touches or bridges hours without a rain value, or touches an end of the record
}

// EquivalentHours counts dormant hours at DormantShare.
func (s Spell) EquivalentHours() float64 {
	return float64(s.GrowingHours) + DormantShare*float64(s.Hours-s.GrowingHours)
}

// YearExposure is how wet and how dry one band got in one year. A spell that
// runs over the turn of the year counts in each year with the length it has
// reached there, so no winter is cut in two.
type YearExposure struct {
	Wet        Spell // longest by hours
	WetGrowing Spell // longest by hours of the growing season
	WetWorst   Spell // longest by equivalent hours
	WetHours   int   // in the year
	DeepestMM  float64
	Dry        Spell // longest, of days of the growing season; Hours is 24 times its days
	DryDays    int   // days of the growing season with depletion over RAW
	AirPoorH   int   // longest run of hours wet or with less air than leastAir
}

// levelCount is how many pond levels are followed for depth and duration.
const levelCount = 24

// tracker follows the spells of a run hour by hour.
type tracker struct {
	rec     *site.Record
	weather *Weather
	years   []site.Year
	year    int // index in years of the current day

	exposure [][]YearExposure
	wetRun   []Spell
	dryRun   []Spell
	airRun   []int // hours
	wet      bool  // a wet spell may go on
	gap      bool  // the hour before had no rain value, or there is none

	levels   []float64
	levelRun []float64
	above    [][]float64

	offered [][]float64
	excess  []float64 // mm over field capacity at the end of the day before, by band
	demand  []float64
	shares  []float64 // p by day
	byYear  []Balance
	done    Balance // volumes at the end of the year before
}

func newTracker(s Setup, rec *site.Record, years []site.Year) *tracker {
	bands := s.Bed.Bands()
	t := &tracker{
		rec: rec, weather: s.weather(rec), years: years,
		exposure: make([][]YearExposure, len(bands)),
		wetRun:   make([]Spell, len(bands)), dryRun: make([]Spell, len(bands)), airRun: make([]int, len(bands)),
		levels: make([]float64, levelCount), levelRun: make([]float64, levelCount), above: make([][]float64, levelCount),
		offered: make([][]float64, len(bands)), excess: make([]float64, len(bands)), demand: make([]float64, len(rec.Days)), shares: make([]float64, len(rec.Days)),
		byYear: make([]Balance, len(years)), gap: true,
	}
	for b := range bands {
		t.exposure[b] = make([]YearExposure, len(years))
		t.offered[b] = make([]float64, len(rec.Days))
	}
	bottom := bands[0].FootMM
	for k := range t.levels {
		t.levels[k] = bottom * (1 - float64(k)/levelCount)
		t.above[k] = make([]float64, len(years))
	}
	return t
}

// depthMM returns the depth of water over the foot of a place.
func (s *state) depthMM(p *place) float64 {
	if !s.hasPond() {
		return 0
	}
	return max(0, s.levelMM-p.footMM)
}

// wet says whether a place is ponded over half its height, or its mix is at
// least 95 % full.
func (s *state) wet(p *place) bool {
	return p.heldMM >= s.mix.wetMM ||
		s.levelMM > p.footMM && s.levelMM >= (p.footMM+p.topMM)/2 && s.hasPond()
}

// hours follows one hour, or several in which no place was wet or short of air.
func (t *tracker) hours(from, to int, st *state) {
	day := from / 24
	if to > from+1 || t.weather.broken[from] {
		t.breakSpells()
	} else {
		t.wetHour(from, t.weather.growing[day], st)
	}
	t.gap = t.missing(to - 1)
	if st.moved {
		for b := range st.places {
			t.offered[b][day] += st.places[b].intakeMM
		}
	}
	if to%24 == 0 {
		t.endDay(day, st)
		if day+1 == t.years[t.year].ToDay {
			t.closeYear(st)
		}
	}
}

// gaps finds the hours that end wet spells, and the days that end dry ones, by
// what is missing in them.
func gaps(missing []bool) (hours, days []bool) {
	hours, days = make([]bool, len(missing)), make([]bool, len(missing)/24)
	inDay := make([]int, len(days))
	run := 0
	for h, m := range missing {
		if run++; !m {
			run = 0
			continue
		}
		inDay[h/24]++
		days[h/24] = days[h/24] || inDay[h/24] >= gapH
		for back := 0; run >= gapH && back < run && !hours[h-back]; back++ {
			hours[h-back], days[(h-back)/24] = true, true
		}
	}
	return hours, days
}

// missing says whether an hour has no rain value, as hours beyond the record.
func (t *tracker) missing(hour int) bool {
	return hour >= len(t.rec.Missing) || t.rec.Missing[hour]
}

// lost says whether a day has an hour without a rain value, as days beyond the
// record.
func (t *tracker) lost(day int) bool {
	return day < 0 || day >= len(t.weather.lost) || t.weather.lost[day]
}

// breakSpells ends all spells of wetness: none is wet, or at a gap, where what
// went on is not known.
func (t *tracker) breakSpells() {
	if t.wet {
		t.keepAllWet()
		t.wet = false
		clear(t.wetRun)
		clear(t.airRun)
		clear(t.levelRun)
	}
}

func (t *tracker) wetHour(hour int, growing bool, st *state) {
	t.wet = true
	gap := t.missing(hour) || t.missing(hour+1)
	for b := range st.places {
		p, run := &st.places[b], &t.wetRun[b]
		wet := st.wet(p)
		if t.airRun[b]++; !wet && p.heldMM <= st.mix.airMM {
			t.airRun[b] = 0
		}
		e := &t.exposure[b][t.year]
		e.AirPoorH = max(e.AirPoorH, t.airRun[b])
		if !wet {
			t.keepWet(b)
			run.Hours = 0
			continue
		}
		if run.Hours == 0 {
			*run = Spell{FromHour: hour, Gap: t.gap}
		}
		run.Hours++
		if growing {
			run.GrowingHours++
		}
		run.Gap = run.Gap || gap
		depth := st.depthMM(p)
		run.DeepestMM = max(run.DeepestMM, depth)
		e.WetHours++
		e.DeepestMM = max(e.DeepestMM, depth)
	}
	t.followLevels(growing, st)
}

func (t *tracker) followLevels(growing bool, st *state) {
	weight := DormantShare
	if growing {
		weight = 1
	}
	pond := st.hasPond()
	for k, level := range t.levels {
		if !pond || st.levelMM <= level {
			if t.levelRun[k] == 0 {
				break // runs of higher levels are never longer
			}
			t.levelRun[k] = 0
			continue
		}
		t.levelRun[k] += weight
		if most := &t.above[k][t.year]; t.levelRun[k] > *most {
			*most = t.levelRun[k]
		}
	}
}

// keepAllWet keeps what wet spells have reached in this year.
func (t *tracker) keepAllWet() {
	for b := range t.wetRun {
		t.keepWet(b)
	}
}

// keepWet keeps the wet spell of a band, if there is one and it touches this year.
func (t *tracker) keepWet(b int) {
	if run := &t.wetRun[b]; run.Hours > 0 && run.FromHour+run.Hours > 24*t.years[t.year].FromDay {
		t.exposure[b][t.year].keepWet(run)
	}
}

// keepWet keeps a spell, if it is the longest so far.
func (e *YearExposure) keepWet(s *Spell) {
	if s.Hours > e.Wet.Hours {
		e.Wet = *s
	}
	if s.GrowingHours > e.WetGrowing.GrowingHours || s.GrowingHours > 0 && s.FromHour == e.WetGrowing.FromHour {
		e.WetGrowing = *s
	}
	if s.EquivalentHours() > e.WetWorst.EquivalentHours() {
		e.WetWorst = *s
	}
}

// endDay counts the day as dry in every band whose depletion passes RAW. A day
// outside the growing season never is, and ends a spell as a gap does: plants at
// rest use next to no water, and frozen ground has none to give.
func (t *tracker) endDay(day int, st *state) {
	et0, p := st.day(t.rec.Days[day])
	t.demand[day], t.shares[day] = st.Kc*et0, p
	none := t.weather.gapDay[day] || !t.weather.growing[day]
	before, now := t.lost(day-1), t.lost(day) || t.lost(day+1)
	for b := range st.places {
		held := st.places[b].heldMM
		t.offered[b][day] += t.excess[b]
		t.excess[b] = max(0, held-st.mix.fieldMM)
		run := &t.dryRun[b]
		if none || st.mix.fieldMM-held <= p*st.mix.tawMM {
			run.Hours = 0
			continue
		}
		if run.Hours == 0 {
			*run = Spell{FromHour: 24 * day, Gap: before}
		}
		run.Hours += 24
		run.Gap = run.Gap || now
		e := &t.exposure[b][t.year]
		e.DryDays++
		if run.Hours > e.Dry.Hours {
			e.Dry = *run
		}
	}
}

// closeYear books the volumes of a year at its last hour.
func (t *tracker) closeYear(st *state) {
	t.keepAllWet()
	v := st.volumes()
	t.byYear[t.year] = v.minus(t.done)
	t.done = v
	if t.year+1 < len(t.years) {
		t.year++
	}
}

func (t *tracker) result(end *state) *Result {
	t.keepAllWet()
	return &Result{
		Bands: end.bands, Years: t.years, Balance: end.volumes(), ByYear: t.byYear, Exposure: t.exposure,
		LevelsMM: t.levels, Above: t.above, OfferedMM: t.offered, DemandMM: t.demand, gapDay: t.weather.gapDay, growing: t.weather.growing, pTab: end.PTab, shares: t.shares,
	}
}
