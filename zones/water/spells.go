package water

import "hollowbed/zones/site"

// wetSaturation is the share of full pores at which a place counts as wet
// though no water stands on it. Assumption of the method, no source: about 5 %
// of the pore space left for air.
const wetSaturation = 0.95

// DormantShare is what an hour of wetness counts in the dormant season against
// one in the growing season, for a plant. Assumption, no source beyond the
// statement that flooding harms less in dormancy (Michigan State University
// Extension, see SOURCES.md).
const DormantShare = 1.0 / 3

// Spell is an unbroken run of wet hours or of dry days.
type Spell struct {
	FromHour     int // of the record
	Hours        int
	GrowingHours int     // of them in the growing season
	DeepestMM    float64 // wet spells: deepest water over the foot of the band
	Gap          bool    // the spell touches hours without a rain value
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
	Dry        Spell // longest; Hours is 24 times its days
	DryGrowing Spell // longest by days of the growing season
	DryDays    int   // days with depletion over RAW
}

// levelCount is how many pond levels are followed for depth and duration.
const levelCount = 24

// tracker follows the spells of a run hour by hour.
type tracker struct {
	rec     *site.Record
	growing []bool
	years   []site.Year
	year    int // index in years of the current day

	exposure [][]YearExposure
	wetRun   []Spell
	dryRun   []Spell
	gap      bool // the hour before had no rain value

	levels   []float64
	levelRun []float64
	above    [][]float64

	offered [][]float64
	excess  []float64 // mm over field capacity at the end of the day before, by band
	demand  []float64
	byYear  []Balance
	done    Balance // volumes at the end of the year before
}

func newTracker(s Setup, rec *site.Record) *tracker {
	bands := s.Bed.Bands()
	years := rec.Years(s.LatitudeDeg)
	t := &tracker{
		rec: rec, growing: rec.Growing(), years: years,
		exposure: make([][]YearExposure, len(bands)),
		wetRun:   make([]Spell, len(bands)), dryRun: make([]Spell, len(bands)),
		levels: make([]float64, levelCount), levelRun: make([]float64, levelCount), above: make([][]float64, levelCount),
		offered: make([][]float64, len(bands)), excess: make([]float64, len(bands)), demand: make([]float64, len(rec.Days)),
		byYear: make([]Balance, len(years)),
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

// depthMM returns the depth of water over the foot of a band.
func (s *state) depthMM(band int) float64 {
	if s.pond <= 0 {
		return 0
	}
	return max(0, s.level-s.bands[band].FootMM)
}

// wet says whether a band is ponded over half its height, or its mix is at
// least 95 % full.
func (s *state) wet(band int) bool {
	if s.held[band] >= wetSaturation*s.mix.satMM {
		return true
	}
	b := s.bands[band]
	return s.pond > 0 && s.level > b.FootMM && s.level >= (b.FootMM+b.TopMM)/2
}

func (t *tracker) hour(hour int, st *state) {
	day := hour / 24
	if t.year+1 < len(t.years) && day >= t.years[t.year].ToDay {
		t.closeYear(st)
		t.year++
	}
	if t.rec.Missing[hour] {
		t.breakSpells()
	} else {
		t.wetHour(hour, t.growing[day], st)
	}
	for b := range st.bands {
		t.offered[b][day] += st.intake[b]
	}
	if hour%24 == 23 {
		t.endDay(day, st)
	}
}

// breakSpells ends all spells at a gap: what went on in it is not known.
func (t *tracker) breakSpells() {
	t.gap = true
	for b := range t.wetRun {
		t.wetRun[b].Gap = true
		t.endWet(b)
	}
	clear(t.levelRun)
}

func (t *tracker) wetHour(hour int, growing bool, st *state) {
	for b := range st.bands {
		run := &t.wetRun[b]
		if !st.wet(b) {
			if run.Hours > 0 {
				t.endWet(b)
			}
			continue
		}
		if run.Hours == 0 {
			*run = Spell{FromHour: hour, Gap: t.gap}
		}
		run.Hours++
		if growing {
			run.GrowingHours++
		}
		run.DeepestMM = max(run.DeepestMM, st.depthMM(b))
		e := &t.exposure[b][t.year]
		e.WetHours++
		e.DeepestMM = max(e.DeepestMM, run.DeepestMM)
		e.keepWet(*run)
	}
	t.gap = false
	weight := DormantShare
	if growing {
		weight = 1
	}
	for k, level := range t.levels {
		if st.pond <= 0 || st.level <= level {
			if t.levelRun[k] == 0 {
				break // runs of higher levels are never longer
			}
			t.levelRun[k] = 0
			continue
		}
		t.levelRun[k] += weight
		t.above[k][t.year] = max(t.above[k][t.year], t.levelRun[k])
	}
}

// endWet closes the wet spell of a band. The record of the year has it
// already, up to its last hour, but for a mark that it touches a gap.
func (t *tracker) endWet(b int) {
	if run := t.wetRun[b]; run.Hours > 0 && run.Gap {
		t.exposure[b][t.year].keepWet(run)
	}
	t.wetRun[b] = Spell{}
}

func (e *YearExposure) keepWet(s Spell) {
	if s.Hours > e.Wet.Hours || s.FromHour == e.Wet.FromHour {
		e.Wet = s
	}
	if s.GrowingHours > e.WetGrowing.GrowingHours || s.FromHour == e.WetGrowing.FromHour && s.GrowingHours > 0 {
		e.WetGrowing = s
	}
	if s.EquivalentHours() > e.WetWorst.EquivalentHours() || s.FromHour == e.WetWorst.FromHour {
		e.WetWorst = s
	}
}

func (e *YearExposure) keepDry(s Spell) {
	if s.Hours > e.Dry.Hours || s.FromHour == e.Dry.FromHour {
		e.Dry = s
	}
	if s.GrowingHours > e.DryGrowing.GrowingHours || s.FromHour == e.DryGrowing.FromHour && s.GrowingHours > 0 {
		e.DryGrowing = s
	}
}

// endDay counts the day as dry in every band whose depletion passes RAW.
func (t *tracker) endDay(day int, st *state) {
	et0, p := st.day(t.rec.Days[day])
	t.demand[day] = st.Kc * et0
	gap := false
	for _, m := range t.rec.Missing[24*day : 24*day+24] {
		gap = gap || m
	}
	for b := range st.bands {
		t.offered[b][day] += t.excess[b]
		t.excess[b] = max(0, st.held[b]-st.mix.fieldMM)
		e := &t.exposure[b][t.year]
		dry := st.mix.fieldMM-st.held[b] > p*st.mix.tawMM
		run := &t.dryRun[b]
		if gap || !dry {
			if gap && run.Hours > 0 {
				run.Gap = true
				e.keepDry(*run)
			}
			*run = Spell{Gap: gap}
			continue
		}
		if run.Hours == 0 {
			*run = Spell{FromHour: 24 * day, Gap: run.Gap}
		}
		run.Hours += 24
		if t.growing[day] {
			run.GrowingHours += 24
		}
		e.DryDays++
		e.keepDry(*run)
	}
}

func (t *tracker) closeYear(st *state) {
	v := st.volume
	t.byYear[t.year] = v.minus(t.done)
	t.done = v
}

func (b Balance) minus(o Balance) Balance {
	return Balance{
		RainOnBedM3: b.RainOnBedM3 - o.RainOnBedM3, RunoffM3: b.RunoffM3 - o.RunoffM3,
		BypassM3: b.BypassM3 - o.BypassM3, InflowM3: b.InflowM3 - o.InflowM3,
		InfiltratedM3: b.InfiltratedM3 - o.InfiltratedM3, EvaporatedM3: b.EvaporatedM3 - o.EvaporatedM3,
		OverflowM3: b.OverflowM3 - o.OverflowM3,
	}
}

func (t *tracker) result(end *state) *Result {
	t.closeYear(end)
	return &Result{
		Bands: end.bands, Years: t.years, Balance: end.volume, ByYear: t.byYear, Exposure: t.exposure,
		LevelsMM: t.levels, Above: t.above, OfferedMM: t.offered, DemandMM: t.demand,
	}
}
