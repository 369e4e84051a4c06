package plants

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
)

// Each bar by a plant that bears all else. Bars of weather come before bars of
// wishes: what dies here is told so, whatever is wished.
func TestBars(t *testing.T) {
	nan := math.NaN()
	j := NewJudge(expose(t, map[string]string{
		"wishes": "{yearly_risk_max: 15 %, no_toxic_to: [people, pets], no_runners: yes, height_max: {bottom: 1 m, slope: 1 m, rim: 50 cm}, unwanted: [dull]}",
	}, someYears(6)))
	for name, c := range map[string]struct {
		plant  catalogue.Plant
		zone   string
		bar    Bar
		detail string
	}{
		"bears all":            {hardy("a"), "bottom", NoBar, ""},
		"wet not known":        {with(hardy("a"), func(p *catalogue.Plant) { p.WetH = nan }), "rim", BarUnknown, "does not state wet_h"},
		"dry not known":        {with(hardy("a"), func(p *catalogue.Plant) { p.DryD = nan }), "rim", BarUnknown, "does not state dry_d"},
		"sun not known":        {with(hardy("a"), func(p *catalogue.Plant) { p.SunMinH = nan }), "rim", BarUnknown, "does not state sun_min_h"},
		"width not known":      {with(hardy("a"), func(p *catalogue.Plant) { p.SpreadCM = nan }), "rim", BarSpread, "does not state spread_cm"},
		"pond not known":       {with(hardy("a"), func(p *catalogue.Plant) { p.PondMM = nan }), "bottom", BarUnknown, "does not state pond_mm"},
		"no pond on the rim":   {with(hardy("a"), func(p *catalogue.Plant) { p.PondMM = nan }), "rim", NoBar, ""},
		"cold not known":       {with(hardy("a"), func(p *catalogue.Plant) { p.LowestC = nan }), "rim", BarUnknown, "does not state lowest_c"},
		"poison only assumed":  {with(hardy("a"), func(p *catalogue.Plant) { p.Toxic, p.Assumed = []string{"none"}, []string{"toxic"} }), "rim", BarHarm, "not known whether"},
		"too wet":              {with(hardy("a"), func(p *catalogue.Plant) { p.WetH = 1 }), "bottom", BarRisk, "yearly risk"},
		"dry rim":              {with(hardy("a"), func(p *catalogue.Plant) { p.DryD = 2 }), "rim", BarRisk, "yearly risk"},
		"frost":                {with(hardy("a"), func(p *catalogue.Plant) { p.LowestC = 0 }), "slope", BarRisk, "yearly risk"},
		"an hour of sun short": {with(hardy("a"), func(p *catalogue.Plant) { p.SunMinH = 7 }), "bottom", NoBar, ""},
		"more than an hour":    {with(hardy("a"), func(p *catalogue.Plant) { p.SunMinH = 7.1 }), "bottom", BarSun, "sun outside its range"},
		"dim, no upper end":    {with(hardy("a"), func(p *catalogue.Plant) { p.SunMinH, p.SunMaxH = 11, nan }), "bottom", BarSun, "sun outside its range"},
		"too sunny":            {with(hardy("a"), func(p *catalogue.Plant) { p.SunMaxH = 4 }), "bottom", BarSun, "sun outside its range"},
		"poisonous":            {with(hardy("a"), func(p *catalogue.Plant) { p.Toxic = []string{"skin", "pets"} }), "rim", BarToxic, "poisonous to pets"},
		"skin only":            {with(hardy("a"), func(p *catalogue.Plant) { p.Toxic = []string{"skin"} }), "rim", NoBar, ""},
		"poison not known":     {with(hardy("a"), func(p *catalogue.Plant) { p.Toxic = nil }), "rim", BarHarm, "not known whether"},
		"runs":                 {with(hardy("a"), func(p *catalogue.Plant) { p.Spreads = "runs" }), "rim", BarRuns, "runners"},
		"may run":              {with(hardy("a"), func(p *catalogue.Plant) { p.Spreads = "" }), "rim", BarSpreads, "not known"},
		"seeds":                {with(hardy("a"), func(p *catalogue.Plant) { p.Spreads = "seeds" }), "rim", NoBar, ""},
		"tall for the rim":     {with(hardy("a"), func(p *catalogue.Plant) { p.HeightCM = 60 }), "rim", BarHeight, "60 cm tall, at most 50 cm"},
		"not for the slope":    {with(hardy("a"), func(p *catalogue.Plant) { p.HeightCM = 60 }), "slope", NoBar, ""},
		"height not known":     {with(hardy("a"), func(p *catalogue.Plant) { p.HeightCM = nan }), "slope", BarHeights, "does not state height_cm"},
		"unwanted":             {hardy("dull"), "rim", BarUnwanted, "unwanted"},
		"dies and is unwanted": {with(hardy("dull"), func(p *catalogue.Plant) { p.DryD = 1 }), "rim", BarRisk, "yearly risk"},
	} {
		v, ok := j.Zone(c.plant, c.zone)
		require.True(t, ok)
		assert.Equal(t, c.bar, v.Bar, name)
		assert.Contains(t, v.Detail, c.detail, name)
		if c.bar == NoBar {
			assert.Empty(t, v.Detail, name)
		}
	}
	_, ok := j.Zone(hardy("a"), "hedge")
	assert.False(t, ok)
}

// The bar is the wish of the garden file.
func TestRiskBarIsTheWish(t *testing.T) {
	p := with(hardy("a"), func(p *catalogue.Plant) { p.LowestC = -16 })
	rec := someYears(12)
	v, _ := NewJudge(expose(t, nil, rec)).Zone(p, "rim")
	require.Greater(t, v.Fit.YearlyRisk, 0.16, "the test needs a plant past the usual bar")
	require.Less(t, v.Fit.YearlyRisk, 0.9)
	assert.Equal(t, BarRisk, v.Bar)
	v, _ = NewJudge(expose(t, map[string]string{"wishes": "{yearly_risk_max: 95 %}"}, rec)).Zone(p, "rim")
	assert.Equal(t, NoBar, v.Bar)
}

// The grower's word against the computation.
func TestDisagreements(t *testing.T) {
	j := NewJudge(expose(t, nil, someYears(6)))
	wet := with(hardy("marsh"), func(p *catalogue.Plant) { p.Zones, p.DryD = []string{"bottom", "rim"}, 2 })
	tagged := func(zones ...string) func(*catalogue.Plant) { return func(p *catalogue.Plant) { p.Zones = zones } }
	for name, c := range map[string]struct {
		plant    catalogue.Plant
		zone     string
		lives    bool
		tagged   bool
		disagree bool
	}{
		"lives where it is sold for":    {with(hardy("a"), tagged("rim")), "rim", true, true, false},
		"lives where nobody said":       {with(hardy("a"), tagged("rim")), "slope", true, false, true},
		"dies where it is sold for":     {wet, "rim", false, true, true},
		"dies where nobody would plant": {with(wet, tagged("bottom")), "rim", false, false, false},
		"not known is no disagreement":  {with(hardy("a"), func(p *catalogue.Plant) { p.WetH = math.NaN() }), "rim", false, true, false},
		"a wish is no disagreement":     {with(hardy("a"), func(p *catalogue.Plant) { p.Spreads = "runs" }), "rim", true, true, false},
		"too dark where it is sold for": {with(hardy("a"), func(p *catalogue.Plant) { p.SunMinH = 12 }), "rim", false, true, true},
	} {
		v, ok := j.Zone(c.plant, c.zone)
		require.True(t, ok)
		assert.Equal(t, c.lives, v.Lives(), name)
		assert.Equal(t, c.tagged, v.Tagged, name)
		assert.Equal(t, c.disagree, v.Disagrees(), name)
	}
}

// all goes zone by zone from the bottom up in the order of the catalogue, and
// says the same as each plant by itself.
func TestAllInOrder(t *testing.T) {
	j := NewJudge(expose(t, nil, someYears(3)))
	c := tableOf(hardy("b"), with(hardy("a"), func(p *catalogue.Plant) { p.DryD = 3 }))
	all := j.All(c)
	require.Len(t, all, 6)
	for i, zone := range []string{"bottom", "bottom", "slope", "slope", "rim", "rim"} {
		assert.Equal(t, zone, all[i].Zone)
		assert.Equal(t, []string{"b", "a"}[i%2], all[i].Plant.ID)
		alone, _ := j.Zone(all[i].Plant, zone)
		assert.Equal(t, alone.Fit.YearlyRisk, all[i].Fit.YearlyRisk)
	}
	for i, v := range j.Everywhere(c.Plants[1]) {
		assert.Equal(t, all[2*i+1].Fit.YearlyRisk, v.Fit.YearlyRisk)
		assert.Equal(t, all[2*i+1].Zone, v.Zone)
	}
}

// A bed without a rim has no rim to judge.
func TestZoneThatIsNotThere(t *testing.T) {
	j := NewJudge(expose(t, map[string]string{"bed": "{shape: rectangle, length: 4 m, width: 3 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0 m, freeboard: 0 mm}"}, someYears(2)))
	_, ok := j.Zone(hardy("a"), "rim")
	assert.False(t, ok)
	assert.Len(t, j.Everywhere(hardy("a")), 2)
}

// A place without a figure for sun is told as unknown, not as suitable.
func TestSunOfThePlaceNotKnown(t *testing.T) {
	v, _ := NewJudge(expose(t, map[string]string{"sun": ""}, someYears(2))).Zone(hardy("a"), "rim")
	assert.Contains(t, v.Fit.Unknown, "sun of the place")
	assert.Equal(t, fit.Limit(""), fitSun(v.Fit.Reason.Limit))
}

// fitSun returns a limit if it is one of sun.
func fitSun(l fit.Limit) fit.Limit {
	if l == fit.TooDim || l == fit.TooSun {
		return l
	}
	return ""
}
