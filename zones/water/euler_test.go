package water

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

// euler is a second solver: the same physical statements in explicit steps of
// one minute, for a rectangle of l x w inside its rim. Nothing but the areas
// of the bands and the day's course of ET0 comes from the package under test:
// volume by level is the closed form of a frustum with sides run:1.
type euler struct {
	Setup
	bands       []basin.Band
	l, w        float64 // of the opening at the spill level, m
	run, deepMM float64
	held        []float64 // mm
	pond        float64   // m3
	lossMM      float64
	sum         Balance
	longest     []int // wet hours by band
	wet         []int
}

func newEuler(s Setup) *euler {
	spec := s.Bed.Spec()
	e := &euler{
		Setup: s, bands: s.Bed.Bands(), run: spec.SideRun, deepMM: spec.PondingMM, lossMM: s.Catches[0].LossMM,
		l: spec.Outline.LengthM - 2*spec.RimWidthM, w: spec.Outline.WidthM - 2*spec.RimWidthM,
	}
	n := len(e.bands)
	e.held, e.longest, e.wet = make([]float64, n), make([]int, n), make([]int, n)
	for i := range e.held {
		e.held[i] = s.MixFC * s.MixDepthMM
	}
	return e
}

// volume at z m below the spill: with a = l - 2 run z and b = w - 2 run z the
// sides of the water, the integral of a b from the bottom up.
func (e *euler) volume(levelMM float64) float64 {
	primitive := func(z float64) float64 {
		return e.l*e.w*z - e.run*(e.l+e.w)*z*z + 4*e.run*e.run*z*z*z/3
	}
	return primitive(e.deepMM/1000) - primitive(-levelMM/1000)
}

func (e *euler) level() float64 {
	low, high := -e.deepMM, 0.0
	for range 40 {
		mid := (low + high) / 2
		if e.volume(mid) < e.pond {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

func (e *euler) hour(rainMM, et0MM, p float64) {
	c := e.Catches[0]
	wetting := math.Min(e.lossMM, rainMM)
	inflow := (rainMM - wetting) * c.Coefficient * c.AreaM2 / 1000
	e.lossMM = math.Min(c.LossMM, e.lossMM-wetting+et0MM)
	e.sum.InflowM3 += inflow
	for range 60 {
		e.minute(rainMM/60, inflow/60, e.Kc*et0MM/60, p)
	}
	level := e.level()
	for i, b := range e.bands {
		ponded := e.pond > 1e-6*e.volume(0) && level > b.FootMM && level >= (b.FootMM+b.TopMM)/2
		if !ponded && e.held[i] < 0.95*e.MixSat*e.MixDepthMM {
			e.wet[i] = 0
			continue
		}
		e.wet[i]++
		e.longest[i] = max(e.longest[i], e.wet[i])
	}
}

func (e *euler) minute(rainMM, inflowM3, demandMM, p float64) {
	fc, sat := e.MixFC*e.MixDepthMM, e.MixSat*e.MixDepthMM
	taw := (e.MixFC - e.MixWP) * e.MixDepthMM
	level := e.level()
	free := e.pond + inflowM3
	var under, pondTakes, seeps, openTakes []float64
	wanted := 0.0
	for i, b := range e.bands {
		f := 0.0
		switch {
		case i == 0:
			if free > 0 || rainMM > e.MixKMMH/60 {
				f = 1
			}
		case level > b.FootMM:
			f = math.Min(1, (level-b.FootMM)/(b.TopMM-b.FootMM))
		}
		seep := 0.0
		if e.held[i] > fc {
			seep = math.Min(e.NativeKMMH, drainage(e.held[i]/e.MixDepthMM, e.MixFC, e.MixWP, e.MixSat, e.MixKMMH)) / 60
		}
		room := sat - e.held[i] + seep
		open := math.Min((1-f)*math.Min(rainMM, e.MixKMMH/60), room)
		pond := math.Min(f*e.MixKMMH/60, room-open)
		free += (rainMM - open) * b.AreaM2 / 1000
		wanted += pond * b.AreaM2 / 1000
		under, pondTakes, seeps, openTakes = append(under, f), append(pondTakes, pond), append(seeps, seep), append(openTakes, open)
	}
	share := 1.0
	if wanted > free {
		share = free / wanted
	}
	for i, b := range e.bands {
		m3 := b.AreaM2 / 1000
		in := share * pondTakes[i]
		free -= in * m3
		e.held[i] += openTakes[i] + in - seeps[i]
		e.sum.InfiltratedM3 += seeps[i] * m3
		lake := math.Min(under[i]*demandMM, math.Max(free, 0)/m3)
		free -= lake * m3
		depleted := fc - e.held[i]
		ks := 1.0
		if depleted > p*taw {
			ks = math.Max(0, (taw-depleted)/((1-p)*taw))
		}
		e.held[i] -= (demandMM - lake) * ks
		e.sum.EvaporatedM3 += (lake + (demandMM-lake)*ks) * m3
	}
	e.pond = math.Max(free, 0)
	if most := e.volume(0); e.pond > most {
		e.sum.OverflowM3 += e.pond - most
		e.pond = most
	}
}

// The balance against the naive solver over ten weeks of measured hourly rain,
// with the heaviest storm of that year in New York (7 June): volumes within
// 1 %, longest wet spells within an hour, in every band.
func TestAgainstMinuteSteps(t *testing.T) {
	whole := readReal(t, "newyork-hourly-2013.csv", "origin", "JFK", 40.6)
	from, to := 115, 185
	rec := &site.Record{
		Source: whole.Source, Start: whole.Start.AddDate(0, 0, from), Step: whole.Step,
		RainMM: whole.RainMM[24*from : 24*to], Missing: make([]bool, 24*(to-from)), Days: whole.Days[from:to],
	}
	gardens := gridGardens()
	single := caseGarden{"one band", box(3, 2), 200, 0, "sandy loam", 450, 6, 60, 0}
	for _, g := range append([]caseGarden{single}, gardens[0], gardens[1], gardens[2], gardens[4], gardens[6]) {
		s := g.setup(t, 40.6)
		if g.name == "one band" {
			spec := s.Bed.Spec()
			spec.RimWidthM = 0
			var err error
			s.Bed, err = basin.New(spec)
			require.NoError(t, err)
			require.Len(t, s.Bed.Bands(), 1)
		}
		r, err := Run(s, rec)
		require.NoError(t, err)
		e := newEuler(s)
		for range 2 { // the first time unseen, as Run does
			e.sum = Balance{}
			clear(e.longest)
			clear(e.wet)
			for d, day := range rec.Days {
				shares := site.DaylightFractions(40.6, rec.Start.AddDate(0, 0, d).YearDay())
				p := math.Min(math.Max(e.PTab+0.04*(5-e.Kc*day.ET0MM), 0.1), 0.8)
				for h, share := range shares {
					e.hour(rec.RainMM[24*d+h], day.ET0MM*share, p)
				}
			}
		}
		in := e.sum.InflowM3 + r.Balance.RainOnBedM3
		assert.InDelta(t, e.sum.InflowM3, r.Balance.InflowM3, 1e-9*in, g.name+": inflow")
		for name, pair := range map[string][2]float64{
			"infiltrated": {e.sum.InfiltratedM3, r.Balance.InfiltratedM3}, "evaporated": {e.sum.EvaporatedM3, r.Balance.EvaporatedM3},
		} {
			assert.InEpsilon(t, pair[0], pair[1], 0.01, g.name+": "+name)
		}
		assert.InDelta(t, e.sum.OverflowM3, r.Balance.OverflowM3, 0.01*e.sum.OverflowM3+1e-4*in, g.name+": overflow")
		for b := range r.Bands {
			longest := 0
			for y := range r.Years {
				longest = max(longest, r.Exposure[b][y].Wet.Hours)
			}
			assert.InDelta(t, e.longest[b], longest, 1, fmt.Sprintf("%s, band %d: longest wet spell", g.name, b))
		}
		t.Logf("%s: %v m3 by minutes, %v m3 by the balance; wet %v h", g.name, e.sum, r.Balance, e.longest)
	}
}
