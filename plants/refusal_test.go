package plants

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
)

func changeOf(r *Refusal, kind string) (Change, bool) {
	i := slices.IndexFunc(r.Changes, func(c Change) bool { return c.Kind == kind })
	if i < 0 {
		return Change{}, false
	}
	return r.Changes[i], true
}

func zoneFill(t *testing.T, p *Planting, zone string) ZoneFill {
	t.Helper()
	i := slices.IndexFunc(p.Zones, func(z ZoneFill) bool { return z.Zone == zone })
	require.GreaterOrEqual(t, i, 0)
	return p.Zones[i]
}

// Where nothing lives the list is empty, and says how many plants each limit
// rules out, and which plant came nearest.
func TestNoSurvivors(t *testing.T) {
	e := expose(t, nil, someYears(6))
	thirsty := many(3, with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD = 2 }))
	nearly := with(hardy("nearly"), func(p *catalogue.Plant) { p.DryD = 6 })
	tender := many(2, with(hardy("tender"), func(p *catalogue.Plant) { p.LowestC = 5 }))
	p, err := Choose(NewJudge(e), tableOf(slices.Concat(thirsty, tender, []catalogue.Plant{nearly})...))
	require.NoError(t, err)
	assert.Empty(t, p.Lines)
	assert.Equal(t, "nothing to choose from", p.Stopped)
	for _, zone := range []string{"slope", "rim"} {
		r := zoneFill(t, p, zone).Refusal
		require.NotNil(t, r)
		assert.Equal(t, []RuledOut{{BarRisk, fit.TooDry, 4}, {BarRisk, fit.TooCold, 2}}, r.Ruled)
		require.NotNil(t, r.Nearest)
		assert.Equal(t, "nearly", r.Nearest.Plant.ID)
		assert.Empty(t, r.Changes, "not tried until asked for")
	}
}

// A plant that only a wish keeps out is no near miss.
func TestRefusedByWishesAlone(t *testing.T) {
	e := expose(t, map[string]string{"wishes": "{no_runners: yes, unwanted: [b]}"}, someYears(3))
	p, err := Choose(NewJudge(e), tableOf(with(hardy("a"), func(p *catalogue.Plant) { p.Spreads = "runs" }), hardy("b")))
	require.NoError(t, err)
	r := zoneFill(t, p, "rim").Refusal
	require.NotNil(t, r)
	assert.Nil(t, r.Nearest)
	assert.ElementsMatch(t, []RuledOut{{Bar: BarRuns, Count: 1}, {Bar: BarUnwanted, Count: 1}}, r.Ruled)
}

// Changes that are known to help are found, and one that cannot is told as
// tried in vain.
func TestChangesThatHelp(t *testing.T) {
	t.Run("watering", func(t *testing.T) {
		p := tryChanges(t, nil, with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD = 11 }), "rim")
		water, ok := changeOf(p, ChangeWater)
		require.True(t, ok)
		assert.Equal(t, 1, water.Offered)
		sun, ok := changeOf(p, ChangeSun)
		require.True(t, ok)
		assert.Equal(t, Change{Kind: ChangeSun, SunH: 4}, sun, "no sun waters a plant: the most was tried")
		assert.Equal(t, ChangeWater, p.Changes[0].Kind, "what helps most stands first")
	})
	t.Run("sun", func(t *testing.T) {
		p := tryChanges(t, map[string]string{"sun": "{bottom: 2 h, slope: 2 h, rim: 2 h}"}, with(hardy("bright"), func(p *catalogue.Plant) { p.SunMinH = 5 }), "rim")
		sun, _ := changeOf(p, ChangeSun)
		assert.Equal(t, Change{Kind: ChangeSun, SunH: 2, Offered: 1}, sun, "2 h more is an hour short, which is borne")
		water, _ := changeOf(p, ChangeWater)
		assert.Equal(t, 0, water.Offered)
	})
	t.Run("clay", func(t *testing.T) {
		blocks := map[string]string{"soil": "{texture: clay, rate: 1 mm/h, safety_factor: 1}", "mix": "{texture: sandy loam, depth: 300 mm}"}
		p := tryChanges(t, blocks, with(hardy("dainty"), func(p *catalogue.Plant) { p.WetH, p.PondMM = 60, 100 }), "bottom")
		assert.Equal(t, []RuledOut{{BarRisk, fit.TooWet, 1}}, p.Ruled)
		for _, c := range p.Changes {
			assert.Contains(t, ChangeKinds(), c.Kind)
			if c.Kind == ChangePond {
				assert.Contains(t, []float64{115, 75, 50}, c.PondMM)
			}
			if c.Kind == ChangeWater || c.Kind == ChangeSun {
				assert.Equal(t, 0, c.Offered, "%s does not drain clay", c.Kind)
			}
		}
		assert.Len(t, p.Changes, len(ChangeKinds()))
	})
}

// What is said to help is so: a lot that has the change offers the plant.
func TestChangeIsTrue(t *testing.T) {
	rec := someYears(6)
	wet := with(hardy("dainty"), func(p *catalogue.Plant) { p.WetH = 40 })
	dry := with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD, p.RootCM = 32, 60 })
	for _, c := range []struct {
		soil, texture, zone string
		plant               catalogue.Plant
		helps               []string
	}{
		{"{texture: loam, rate: 4 mm/h, safety_factor: 1}", "loam", "bottom", wet, []string{ChangePond}},
		{"{texture: sand, rate: 15 mm/h, safety_factor: 1}", "silt loam", "rim", dry, []string{ChangeDeep}},
	} {
		blocks := func(mix string, depthMM float64) map[string]string {
			return map[string]string{"soil": c.soil, "mix": "{texture: " + mix + ", depth: " + plainNumber(depthMM) + " mm}"}
		}
		r := tryChanges(t, blocks(c.texture, 250), c.plant, c.zone)
		for _, kind := range c.helps {
			change, _ := changeOf(r, kind)
			require.Equal(t, 1, change.Offered, "the test needs a change that helps: %+v, %+v", r.Changes, r.Nearest.Fit.Reason)
		}
		for _, change := range r.Changes {
			again := blocks(c.texture, 250)
			switch change.Kind {
			case ChangePond:
				again["bed"] = "{shape: rectangle, length: 4 m, width: 3 m, side_slope: 3:1, rim_width: 0.3 m, ponding_depth: " + plainNumber(change.PondMM) + " mm}"
			case ChangeMix:
				again = blocks(change.Texture, 250)
			case ChangeDeep:
				again = blocks(c.texture, change.MixMM)
			default:
				continue
			}
			v, _ := NewJudge(expose(t, again, rec)).Zone(c.plant, c.zone)
			assert.Equal(t, change.Offered == 1, v.Bar == NoBar, "%+v", change)
		}
	}
}

// A bed too small for any change still gets its answer.
func TestTinyBed(t *testing.T) {
	bed := "{shape: rectangle, length: 0.7 m, width: 0.7 m, ponding_depth: 50 mm, side_slope: 3:1, rim_width: 0.1 m, freeboard: 20 mm}"
	p, err := Choose(NewJudge(expose(t, map[string]string{"bed": bed}, someYears(3))), tableOf(hardy("a")))
	require.NoError(t, err)
	for _, z := range p.Zones {
		assert.True(t, z.PlantedM2 > 0 || z.Refusal != nil || z.Bare != "", "%s: neither planted, nor refused, nor bare for a reason", z.Zone)
	}
	require.NoError(t, p.TryChanges(tableOf(hardy("a"))))
	r := tryChanges(t, map[string]string{"bed": bed}, with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD = 3 }), "rim")
	assert.Len(t, r.Changes, len(ChangeKinds()))
}

// Trying changes leaves the lot as it was.
func TestTryingChangesNothing(t *testing.T) {
	e := expose(t, nil, someYears(3))
	garden, notes, plants := *e.Lot.Garden, len(e.Lot.Record.Notes), tableOf(with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD = 2 }))
	p, err := Choose(NewJudge(e), plants)
	require.NoError(t, err)
	require.NoError(t, p.TryChanges(plants))
	after := *e.Lot.Garden
	assert.Equal(t, garden.Bed, after.Bed)
	assert.Equal(t, garden.Sun, after.Sun)
	assert.Equal(t, garden.Mix.Texture, after.Mix.Texture)
	assert.Equal(t, garden.Mix.DepthMM, after.Mix.DepthMM)
	assert.Len(t, e.Lot.Record.Notes, notes)
}

// tryChanges chooses from one plant that fails in a zone, and tries changes.
func tryChanges(t *testing.T, blocks map[string]string, plant catalogue.Plant, zone string) *Refusal {
	t.Helper()
	c := tableOf(plant)
	p, err := Choose(NewJudge(expose(t, blocks, someYears(6))), c)
	require.NoError(t, err)
	require.NoError(t, p.TryChanges(c))
	r := zoneFill(t, p, zone).Refusal
	require.NotNil(t, r, "the test needs a plant that fails: %+v", p.Lines)
	return r
}
