package plants

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// A real plant is held against the lot before any water is looked at, and each
// reason has its bar; what is wanted by name passes. Of a plant whose harm is not
// known nothing is offered until the garden file allows it.
func TestRealPlantsAndTheLot(t *testing.T) {
	t.Parallel()
	j, _ := demoJudge(t, 4)
	g := j.Exposure.Lot.Garden
	g.Wishes.NativeTo, g.Wishes.NoToxicTo, g.Wishes.HarmUnknown, g.Soil.PH = nil, nil, "", 6.5
	rain := j.Exposure.Record.Figures.MeanYearMM
	require.Greater(t, rain, 100.0)
	nan := math.NaN()
	plant := func(change func(*catalogue.Plant)) *catalogue.Plant {
		p := &catalogue.Plant{ID: "real", Zones: []string{"rim"}, NativeTo: []string{"WI"}, SpreadCM: 30, HeightCM: 50, Toxic: []string{"livestock"}, Spreads: "no", Price: 1,
			Wild: &catalogue.Wild{State: "WI", Sold: "routinely", RainMinMM: rain - 10, RainMaxMM: rain + 10, FrostFreeD: 30, Soils: "cmf", PHMin: 5, PHMax: 7}}
		if change != nil {
			change(p)
		}
		return p
	}
	for bar, change := range map[Bar]func(*catalogue.Plant){
		NoBar:     nil,
		BarNative: func(p *catalogue.Plant) { p.NativeTo = []string{"CA"} },
		BarWeed:   func(p *catalogue.Plant) { p.Wild.Weed = "stings" },
		BarAnnual: func(p *catalogue.Plant) { p.Wild.Annual = true },
		BarWater:  func(p *catalogue.Plant) { p.Wild.Water = "a plant of open water" },
		BarClimbs: func(p *catalogue.Plant) { p.Form = "climber" },
		BarTree:   func(p *catalogue.Plant) { p.Wild.Tree = true },
		BarSold:   func(p *catalogue.Plant) { p.Wild.Sold = "seldom" },
		BarRain:   func(p *catalogue.Plant) { p.Wild.RainMinMM, p.Wild.RainMaxMM = 2*rain, 3*rain },
		BarSeason: func(p *catalogue.Plant) { p.Wild.FrostFreeD = 365 },
		BarSoil:   func(p *catalogue.Plant) { p.Wild.PHMin, p.Wild.PHMax = 3, 5 },
		BarWide:   func(p *catalogue.Plant) { p.SpreadCM = 3000 },
	} {
		p := plant(change)
		found, _ := j.placeBar(p)
		assert.Equal(t, bar, found)
		g.Wishes.Wanted = []string{"real"}
		found, _ = j.placeBar(p)
		assert.Equal(t, NoBar, found, "wanted by name: %s", bar)
		g.Wishes.Wanted = nil
	}
	days := frostFreeDays(j.Exposure.Lot.Record)
	high := plant(func(p *catalogue.Plant) { p.Wild.Mountains = "a plant of alpine meadows" })
	cold := plant(func(p *catalogue.Plant) { p.Wild.ColdWinters = true })
	for _, c := range []struct {
		p    *catalogue.Plant
		days float64
		bar  Bar
	}{{high, 151, BarMild}, {high, 149, NoBar}, {cold, 241, BarMild}, {cold, 239, NoBar}} {
		j.ground.frostFreeD = c.days
		found, _ := j.placeBar(c.p)
		assert.Equal(t, c.bar, found)
	}
	j.ground.frostFreeD = 300
	cold.Wild.Near = 1
	found, _ := j.placeBar(cold)
	assert.Equal(t, NoBar, found, "a list near by names it")
	j.ground.frostFreeD = days
	// In dry country the roof's water counts as rain for plants of arid country alone:
	// here the bed has several times the rain.
	require.Greater(t, j.ground.bedMM, 2*rain)
	bedMM := j.ground.bedMM
	j.ground.rainMM, j.ground.bedMM = 100, 220
	for leastMM, bar := range map[float64]Bar{110: NoBar, 200: NoBar, 240: NoBar, 249: BarRain, 260: BarRain, 400: BarRain} {
		found, _ := j.placeBar(plant(func(p *catalogue.Plant) { p.Wild.RainMinMM, p.Wild.RainMaxMM = leastMM, 500 }))
		assert.Equal(t, bar, found, "%g mm", leastMM)
	}
	j.ground.rainMM, j.ground.bedMM = rain, bedMM
	wet := plant(func(p *catalogue.Plant) {
		p.Wild.Wet, p.Wild.RainMinMM, p.Wild.RainMaxMM = true, nan, nan
	})
	for _, c := range []struct {
		rainMM   float64
		near     int
		watering string
		bar      Bar
	}{{351, 0, "", NoBar}, {349, 0, "", BarWet}, {349, 1, "", NoBar}, {349, 0, zones.WaterWeekly, NoBar}} {
		j.ground.rainMM, wet.Wild.Near, g.Wishes.Watering = c.rainMM, c.near, c.watering
		found, _ := j.placeBar(wet)
		assert.Equal(t, c.bar, found, "%+v", c)
	}
	j.ground.rainMM, g.Wishes.Watering = rain, ""
	unknown := plant(func(p *catalogue.Plant) {
		p.Wild.RainMinMM, p.Wild.RainMaxMM, p.Wild.FrostFreeD, p.Wild.PHMin, p.Wild.PHMax = nan, nan, nan, nan, nan
	})
	found, _ = j.placeBar(unknown)
	assert.Equal(t, NoBar, found, "what is not known bars nothing")

	harmless := plant(func(p *catalogue.Plant) { p.Toxic = nil })
	found, _ = j.wishBar(harmless, "rim")
	assert.Equal(t, BarHarm, found)
	g.Wishes.HarmUnknown = "allow"
	found, _ = j.wishBar(harmless, "rim")
	assert.NotEqual(t, BarHarm, found)
	g.Wishes.NoToxicTo = []string{"livestock"}
	found, _ = j.wishBar(plant(nil), "rim")
	assert.Equal(t, BarToxic, found, "what is known to harm stays out")
	found, _ = j.wishBar(plant(nil), "bottom")
	assert.Equal(t, BarToxic, found)
	g.Wishes.NoToxicTo = nil
	found, _ = j.wishBar(plant(nil), "bottom")
	assert.Equal(t, BarZone, found)
}

// Plants that may stand in the lot are judged among others as alone; of those that
// may not, each is barred as it is alone or for its water, and once the wishes let
// one in it is judged like any other.
func TestWhatIsShutOutIsNotJudged(t *testing.T) {
	t.Parallel()
	j, c := demoJudge(t, 4)
	g := j.Exposure.Lot.Garden
	table := &catalogue.Catalogue{Name: "real", Plants: slices.Clone(c.Plants[:40])}
	for i := range table.Plants {
		if i%4 > 0 {
			state := []string{"WI", "CA"}[i%2]
			table.Plants[i].NativeTo = []string{state}
			table.Plants[i].Wild = &catalogue.Wild{State: "WI", Sold: []string{"routinely", "seldom"}[i%3/2], RainMaxMM: 1e4, Soils: "cmf", PHMax: 14}
		}
	}
	g.Wishes.NativeTo, g.Soil.PH = nil, 7
	check := func() (shut int) {
		alone := NewJudge(j.Exposure)
		all := j.All(table)
		require.Len(t, all, len(j.Exposure.Zones)*len(table.Plants))
		for k, v := range all {
			want, ok := alone.Zone(v.Plant, v.Zone)
			require.True(t, ok)
			want.Fit.ByYear = nil
			if want.Unfit == NoBar {
				require.Equal(t, want, v)
				continue
			}
			shut++
			require.Equal(t, []any{want.Unfit, want.Unfit, want.Tagged}, []any{v.Unfit, v.Bar, v.Tagged})
			require.True(t, math.IsNaN(v.Fit.YearlyRisk))
			require.Nil(t, j.found[v.Zone].fits[k%len(table.Plants)])
		}
		return shut
	}
	some := check()
	require.Greater(t, some, 20)
	first := j.found["rim"].fits[0]
	require.NotNil(t, first)
	j = j.Over(j.Exposure)
	g.Wishes.Sold = "any"
	require.Less(t, check(), some)
	require.Same(t, first, j.found["rim"].fits[0], "what was judged is not judged again")
}
