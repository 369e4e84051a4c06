package fit

import (
	"maps"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

func nan() float64 { return math.NaN() }

// handBed is a bed of two slope bands and a rim with exposures set by hand, by
// year: equivalent hours wet, lowest temperature. Without water on offer or in
// demand nothing is ever dry.
func handBed(wetH [][]float64, minC []float64) *Bed {
	run := &water.Result{
		Bands: []basin.Band{
			{Zone: basin.Slope, FootMM: -100, TopMM: -50, AreaM2: 3},
			{Zone: basin.Slope, FootMM: -50, TopMM: 0, AreaM2: 1},
			{Zone: basin.Rim, FootMM: 0, TopMM: 50, AreaM2: 2},
			{Zone: basin.Bottom, FootMM: -100, TopMM: -100, AreaM2: 0},
		},
		LevelsMM: []float64{-100, -75, -50, -25}, DemandMM: make([]float64, 365),
	}
	b := &Bed{Run: run, Start: time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC), MinC: minC, Ground: water.Ground{MixFC: 0.25, MixWP: 0.12, MixDepthMM: 400, NativeFC: 0.25, NativeWP: 0.12}, Predict: DefaultPredictor()}
	for y := range minC {
		run.Years = append(run.Years, site.Year{Name: 2001 + y, FromDay: 365 * y, ToDay: 365 * (y + 1), Whole: true})
		b.Use = append(b.Use, y)
	}
	run.DemandMM = make([]float64, 365*len(minC))
	for band := range run.Bands {
		run.OfferedMM = append(run.OfferedMM, make([]float64, 365*len(minC)))
		var years []water.YearExposure
		for y := range minC {
			h := int(wetH[band][y])
			years = append(years, water.YearExposure{WetWorst: water.Spell{FromHour: 24 * (365*y + 200), Hours: h, GrowingHours: h}})
		}
		run.Exposure = append(run.Exposure, years)
	}
	for range run.LevelsMM {
		run.Above = append(run.Above, make([]float64, len(minC)))
	}
	return b
}

func fourYears() *Bed {
	return handBed([][]float64{{48, 20, 20, 60}, {10, 10, 10, 30}, {0, 0, 0, 0}, {0, 0, 0, 0}}, []float64{-20, -12, -31, -15})
}

func plant() catalogue.Plant {
	return catalogue.Plant{ID: "tester", SunMinH: 4, SunMaxH: 10, WetH: 40, PondMM: 80, DryD: 20, LowestC: -30, RootCM: 40}
}

// The formula by hand: four years alike in nothing but this are a soft edge of
// width 0.4 / 2.
func TestYearlyRiskByHand(t *testing.T) {
	edge := func(s, w float64) float64 { return 1 / (1 + math.Exp(-math.Log(s)/w)) }
	p := DefaultPredictor()
	assert.InDelta(t, 0.5, p.YearlyRisk(yearsOf([]float64{1}), nil), 1e-12, "one year, just at the limit")
	s := []float64{0.5, 0.9, 1.2, 2}
	want := (edge(0.5, 0.2) + edge(0.9, 0.2) + edge(1.2, 0.2) + edge(2, 0.2)) / 4
	assert.InDelta(t, want, p.YearlyRisk(yearsOf(s), nil), 1e-12)
	// Far from the edge it is the plain count: 2 of 20 years.
	var far []float64
	for i := range 20 {
		far = append(far, []float64{0.2, 5}[btoi(i%10 == 0)])
	}
	assert.InDelta(t, 0.1, p.YearlyRisk(yearsOf(far), nil), 1e-6)
	assert.Equal(t, 0.5, p.YearlyRisk(yearsOf([]float64{0, math.Inf(1)}), nil), "nothing found, and something where nothing is borne")
	assert.True(t, math.IsNaN(p.YearlyRisk(nil, nil)))
	assert.InDelta(t, 0.5, p.YearlyRisk([]Year{{Wet: nan(), Deep: nan(), Dry: nan(), Cold: nan()}, {Wet: 1, Deep: nan(), Dry: nan(), Cold: nan()}}, nil), 1e-12, "a year without a known limit does not count")
	short, long := yearsOf([]float64{0.6, 0.6}), yearsOf(slices.Repeat([]float64{0.6}, 30))
	assert.Greater(t, p.YearlyRisk(short, nil), p.YearlyRisk(long, nil)+0.1, "two years claim less than thirty")
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Limits are joined year by year: two bad years of different causes are two
// years, one year with both is one.
func TestLimitsAreJoinedByYear(t *testing.T) {
	f := fourYears().InBand(plant(), 0, 6) // wet past in 2001 and 2004, cold in 2003
	assert.Equal(t, 3, f.PastYears)
	assert.Equal(t, 4, f.Years)
	assert.Equal(t, Reason{Limit: TooWet, Found: 60, Allowed: 40, Year: 2004, When: time.Date(2004, 7, 19, 0, 0, 0, 0, time.UTC)}, f.Reason)
	both := handBed([][]float64{{48, 20, 60, 20}, {0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}, []float64{-20, -12, -31, -15})
	assert.Equal(t, 2, both.InBand(plant(), 0, 6).PastYears)
	cold := plant()
	cold.WetH = 200
	f = fourYears().InBand(cold, 0, 6)
	assert.Equal(t, Reason{Limit: TooCold, Found: -31, Allowed: -30, Year: 2003}, f.Reason)
	assert.Equal(t, 1, f.PastYears)
}

// A zone is the mean of its bands by area, told by the band of highest risk.
func TestZoneIsMeanByArea(t *testing.T) {
	b := fourYears()
	low, high := b.InBand(plant(), 0, 6), b.InBand(plant(), 1, 6)
	require.Greater(t, low.YearlyRisk, high.YearlyRisk)
	f, ok := b.InZone(plant(), basin.Slope, 6)
	require.True(t, ok)
	assert.InDelta(t, (3*low.YearlyRisk+1*high.YearlyRisk)/4, f.YearlyRisk, 1e-12)
	assert.Equal(t, low.Reason, f.Reason)
	assert.Equal(t, low.PastYears, f.PastYears)
	// The hardest single year is not the hardest band: three years over the
	// limit outweigh one far over it.
	b = handBed([][]float64{{44, 44, 44, 30}, {10, 10, 10, 90}, {0, 0, 0, 0}, {0, 0, 0, 0}}, []float64{-5, -5, -5, -5})
	f, _ = b.InZone(plant(), basin.Slope, 6)
	assert.Equal(t, 3, f.PastYears)
	assert.Equal(t, 0, f.Reason.Band)
	_, ok = b.InZone(plant(), basin.Bottom, 6)
	assert.False(t, ok, "a zone without ground is no zone")
	_, ok = b.InZone(plant(), "hedge", 6)
	assert.False(t, ok)
}

// What is not known is told and never counted as fine.
func TestUnknownIsNeverFine(t *testing.T) {
	for column, forget := range map[string]func(*catalogue.Plant){
		"sun_min_h": func(p *catalogue.Plant) { p.SunMinH = nan() }, "sun_max_h": func(p *catalogue.Plant) { p.SunMaxH = nan() },
		"wet_h": func(p *catalogue.Plant) { p.WetH = nan() }, "pond_mm": func(p *catalogue.Plant) { p.PondMM = nan() },
		"dry_d": func(p *catalogue.Plant) { p.DryD = nan() }, "lowest_c": func(p *catalogue.Plant) { p.LowestC = nan() },
	} {
		p := plant()
		forget(&p)
		assert.Equal(t, []string{column}, fourYears().InBand(p, 0, 6).Unknown)
	}
	p := plant()
	p.WetH, p.PondMM, p.DryD, p.LowestC = nan(), nan(), nan(), nan()
	f := fourYears().InBand(p, 0, 6)
	assert.True(t, math.IsNaN(f.YearlyRisk), "no limit known: no risk known")
	assert.True(t, math.IsNaN(f.Survival()))
	assert.Equal(t, Limit(""), f.Reason.Limit)
	assert.Equal(t, 0, f.PastYears)
	assert.True(t, math.IsNaN(fourYears().years(catalogue.Plant{WetH: nan(), PondMM: 50, DryD: nan(), LowestC: nan(), RootCM: 40}, 0)[0].Deep),
		"how deep for how long can not be said without the hours")

	f = fourYears().InBand(plant(), 0, nan())
	assert.Equal(t, []string{"sun of the place"}, f.Unknown)
	assert.Equal(t, 0.0, f.SunLoss)
	noCold := handBed([][]float64{{0}, {0}, {0}, {0}}, []float64{nan()})
	assert.Equal(t, []string{"cold of the place"}, noCold.InBand(plant(), 0, 6).Unknown)
	someCold := handBed([][]float64{{0, 0}, {0, 0}, {0, 0}, {0, 0}}, []float64{nan(), -40})
	assert.Equal(t, 1, someCold.InBand(plant(), 0, 6).PastYears)
}

func TestSun(t *testing.T) {
	dry := handBed([][]float64{{1}, {1}, {1}, {1}}, []float64{0})
	f := dry.InBand(plant(), 0, 2.5)
	assert.InDelta(t, 0.15, f.SunLoss, 1e-12)
	assert.Equal(t, Reason{Limit: TooDim, Found: 2.5, Allowed: 4}, f.Reason)
	assert.InDelta(t, (1-f.YearlyRisk)*0.85, f.Survival(), 1e-12)
	p := plant()
	p.Assumed = []string{"sun_max_h", "height_cm"}
	f = dry.InBand(p, 0, 12)
	assert.Equal(t, Reason{Limit: TooSun, Found: 12, Allowed: 10, Assumed: true}, f.Reason)
	assert.Equal(t, []string{"sun_max_h"}, f.Assumed)
	for _, within := range []float64{4, 10} {
		assert.Equal(t, 0.0, dry.InBand(plant(), 0, within).SunLoss)
	}
	assert.Equal(t, TooWet, fourYears().InBand(plant(), 0, 2).Reason.Limit, "a limit that was passed comes before the sun")
	assert.Equal(t, 1.0, SunLoss(24))
}

// An assumed column widens the risk, and is named, whether or not its limit is
// the nearest; the reason says so only where it is.
func TestAssumedColumns(t *testing.T) {
	calm := handBed([][]float64{{20, 24, 28}, {0, 0, 0}, {0, 0, 0}, {0, 0, 0}}, []float64{-27, -28, -28})
	sure := calm.InBand(plant(), 0, 6)
	require.Equal(t, TooWet, sure.Reason.Limit)
	for column, nearest := range map[string]bool{"wet_h": true, "lowest_c": false} {
		p := plant()
		p.Assumed = []string{column}
		f := calm.InBand(p, 0, 6)
		assert.Greater(t, f.YearlyRisk, sure.YearlyRisk+0.02, column)
		assert.Equal(t, []string{column}, f.Assumed)
		assert.Equal(t, nearest, f.Reason.Assumed, column)
		assert.Equal(t, sure.PastYears, f.PastYears)
	}
}

// Dormant hours count a third (water.DormantShare).
func TestDormantHours(t *testing.T) {
	b := fourYears()
	b.Run.Exposure[0][0].WetWorst = water.Spell{FromHour: 24, Hours: 90, GrowingHours: 12}
	y := b.years(plant(), 0)[0]
	assert.InDelta(t, 12+78.0/3, y.WetH, 1e-9)
	assert.InDelta(t, 38.0/40, y.Wet, 1e-9)
	assert.Equal(t, 78.0, reason(&catalogue.Plant{WetH: 40}, y, 0).RestH)
}

func TestWatered(t *testing.T) {
	b := dryBed(t, soil{0.11, 0.05, 0.40}, 40, []int{40})
	assert.Greater(t, b.years(dryPlant(10), 11)[0].DryD, 30.0)
	b.Watered = true
	assert.Equal(t, 7.0, b.years(dryPlant(10), 11)[0].DryD)
	assert.Equal(t, 0, b.InBand(dryPlant(10), 11, 6).PastYears)
}

// Limits of none at all are held at the least that the balance tells apart.
func TestLimitsOfNothing(t *testing.T) {
	p := plant()
	p.WetH, p.PondMM, p.DryD = 0, 0, 0
	f := fourYears().InBand(p, 0, 6)
	assert.InDelta(t, 1, f.YearlyRisk, 1e-6)
	assert.Equal(t, 0.0, share(0, 0, leastWetH))
	assert.Equal(t, 3.0, share(3, 0, leastWetH))
	assert.Equal(t, 0.5, share(5, 0, leastPondMM), "a film is no pond")
	f = fourYears().InBand(p, 2, 6)
	assert.False(t, math.IsNaN(f.YearlyRisk))
	assert.Equal(t, 1, f.PastYears, "the rim is never wet; one winter was too cold")
}

func TestColumnsOfLimits(t *testing.T) {
	want := map[Limit]string{TooWet: "wet_h", TooDeep: "pond_mm", TooDry: "dry_d", TooCold: "lowest_c", TooDim: "sun_min_h", TooSun: "sun_max_h"}
	have := map[Limit]string{}
	for _, l := range Limits() {
		have[l] = l.Column()
	}
	assert.Equal(t, want, have)
}

// A plant that bears more is never at more risk, and a place that gives more
// of anything hard to bear never at less: in hand-drawn years, and through a
// real run of the balance.
func TestBearingMoreNeverRisksMore(t *testing.T) {
	b := monotoneBed(t)
	rapid.Check(t, func(rt *rapid.T) {
		band := rapid.IntRange(0, len(b.Run.Bands)-1).Draw(rt, "band")
		p := drawPlant(rt)
		more := p
		more.WetH += rapid.Float64Range(0, 100).Draw(rt, "wetter")
		more.PondMM += rapid.Float64Range(0, 100).Draw(rt, "deeper")
		more.DryD += rapid.Float64Range(0, 30).Draw(rt, "drier")
		more.LowestC -= rapid.Float64Range(0, 10).Draw(rt, "colder")
		f, g := b.InBand(p, band, 6), b.InBand(more, band, 6)
		if g.YearlyRisk > f.YearlyRisk+1e-12 || g.PastYears > f.PastYears {
			rt.Fatalf("%+v: risk %g, %d years\n%+v: risk %g, %d years", p, f.YearlyRisk, f.PastYears, more, g.YearlyRisk, g.PastYears)
		}
		fz, _ := b.InZone(p, basin.Slope, 6)
		gz, _ := b.InZone(more, basin.Slope, 6)
		if gz.YearlyRisk > fz.YearlyRisk+1e-12 {
			rt.Fatalf("zone: %g, then %g", fz.YearlyRisk, gz.YearlyRisk)
		}
	})
}

func TestHarderPlacesNeverRiskLess(t *testing.T) {
	b := monotoneBed(t)
	rapid.Check(t, func(rt *rapid.T) {
		band := rapid.IntRange(0, len(b.Run.Bands)-1).Draw(rt, "band")
		p := drawPlant(rt)
		hard := *b
		run := *b.Run
		hard.Run, hard.dry = &run, nil
		hard.MinC = slices.Clone(b.MinC)
		run.Exposure = slices.Clone(run.Exposure)
		run.Exposure[band] = slices.Clone(run.Exposure[band])
		run.Above = slices.Clone(run.Above)
		run.OfferedMM = slices.Clone(run.OfferedMM)
		run.OfferedMM[band] = slices.Clone(run.OfferedMM[band])
		year := rapid.IntRange(0, len(run.Years)-1).Draw(rt, "year")
		longer := rapid.IntRange(0, 100).Draw(rt, "longer wet, h")
		run.Exposure[band][year].WetWorst.Hours += longer
		run.Exposure[band][year].WetWorst.GrowingHours += longer
		for k := range run.Above {
			run.Above[k] = slices.Clone(run.Above[k])
			run.Above[k][year] += float64(longer)
		}
		hard.MinC[year] -= rapid.Float64Range(0, 10).Draw(rt, "colder")
		from := rapid.IntRange(0, len(run.DemandMM)-60).Draw(rt, "no water from")
		clear(run.OfferedMM[band][from : from+rapid.IntRange(0, 60).Draw(rt, "for days")])
		f, g := b.InBand(p, band, 6), hard.InBand(p, band, 6)
		if g.YearlyRisk < f.YearlyRisk-1e-12 || g.PastYears < f.PastYears {
			rt.Fatalf("%+v: risk %g, %d years; harder: %g, %d", p, f.YearlyRisk, f.PastYears, g.YearlyRisk, g.PastYears)
		}
	})
}

// monotoneBed is a tight bed in eight temperate years.
func monotoneBed(t *testing.T) *Bed {
	t.Helper()
	c := climates()[0]
	return plots()[2].bed(t, c.invent(t, 8, 41), c.lat)
}

// drawPlant draws limits that the bed passes in some years.
func drawPlant(rt *rapid.T) catalogue.Plant {
	all := []string{"wet_h", "pond_mm", "dry_d", "lowest_c"}
	assumed := rapid.MapOfN(rapid.SampledFrom(all), rapid.Just(true), 0, 2).Draw(rt, "assumed")
	return catalogue.Plant{
		WetH: rapid.Float64Range(0, 600).Draw(rt, "wet_h"), PondMM: rapid.Float64Range(0, 200).Draw(rt, "pond_mm"),
		DryD: rapid.Float64Range(0, 60).Draw(rt, "dry_d"), LowestC: rapid.Float64Range(-30, -5).Draw(rt, "lowest_c"),
		RootCM: rapid.SampledFrom([]float64{15, 30, 60, 120, nan()}).Draw(rt, "root_cm"), Assumed: slices.Sorted(maps.Keys(assumed)),
	}
}
