package plants

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
	"hollowbed/zones"
)

// Form and height decide the layer. Common practice, no source.
func TestLayer(t *testing.T) {
	for _, c := range []struct {
		form string
		cm   float64
		want list.Layer
	}{
		{"bulb", 150, list.Bulb}, {"grass-like", 40, list.Matrix}, {"grass-like", 95, list.Seasonal}, {"grass-like", 150, list.Structure},
		{"groundcover", 20, list.Matrix}, {"forb", 25, list.Matrix}, {"forb", 60, list.Seasonal}, {"forb", 140, list.Structure},
		{"shrub", 50, list.Matrix}, {"shrub", 90, list.Structure}, {"climber", 200, list.Structure}, {"small tree", 400, list.Structure},
		{"grass-like", math.NaN(), list.Matrix}, {"forb", math.NaN(), list.Seasonal}, {"shrub", math.NaN(), list.Structure},
	} {
		assert.Equal(t, c.want, layer(&catalogue.Plant{Form: c.form, HeightCM: c.cm}), "%s, %v cm", c.form, c.cm)
	}
}

// What is left out keeps its usual share as far as the shares given leave ground.
func TestShares(t *testing.T) {
	no := math.NaN()
	for _, c := range []struct{ given, want zones.Layers }{
		{zones.Layers{Matrix: no, Structure: no, Seasonal: no}, zones.Layers{Matrix: 0.5, Structure: 0.1, Seasonal: 0.25}},
		{zones.Layers{Matrix: 0, Structure: 0, Seasonal: 0}, zones.Layers{}},
		{zones.Layers{Matrix: 0.3, Structure: no, Seasonal: no}, zones.Layers{Matrix: 0.3, Structure: 0.1, Seasonal: 0.25}},
		{zones.Layers{Matrix: 0.93, Structure: no, Seasonal: no}, zones.Layers{Matrix: 0.93, Structure: 0.02, Seasonal: 0.05}},
		{zones.Layers{Matrix: 1, Structure: no, Seasonal: no}, zones.Layers{Matrix: 1}},
	} {
		got := shares(c.given)
		assert.InDelta(t, c.want.Matrix, got[list.Matrix], 1e-9)
		assert.InDelta(t, c.want.Structure, got[list.Structure], 1e-9)
		assert.InDelta(t, c.want.Seasonal, got[list.Seasonal], 1e-9)
	}
}

// layered are plants of every layer that live anywhere, tall forbs the cheapest to win by.
func layered() *catalogue.Catalogue {
	as := func(id, form string, cm float64) catalogue.Plant {
		return with(hardy(id), func(p *catalogue.Plant) { p.Form, p.HeightCM = form, cm })
	}
	early := as("early", "bulb", 20)
	early.FlowerFrom, early.FlowerTo, early.SpreadCM = 3, 3, 10
	return tableOf(as("sedge", "grass-like", 40), as("mat", "groundcover", 15), as("aster", "forb", 60), as("lily", "forb", 70), as("bush", "shrub", 100), early)
}

// Each layer has its share, structure stands alone or in threes, and bulbs cover
// nothing, are few, and stand in no other's crown.
func TestLayersOfAList(t *testing.T) {
	e := expose(t, map[string]string{"wishes": "{yearly_risk_max: 15 %, smallest_group: 3, share_cap: 60 %, wanted: [early], bloom: {from: March, to: August}}"}, someYears(6))
	j := NewJudge(e)
	p, err := Choose(j, layered())
	require.NoError(t, err)
	for _, z := range p.Zones {
		of := map[string]float64{}
		for _, l := range p.Lines {
			if l.Zone != z.Zone {
				continue
			}
			of[l.Layer] += l.AreaM2
			if l.Layer == "structure" {
				assert.NotEqual(t, 2, l.Count)
			}
			if l.Layer == "bulbs" {
				assert.Equal(t, 5, l.Count)
				assert.Zero(t, l.AreaM2)
			}
		}
		plant := list.AreaPerPlantM2(40) // may be what is missing
		assert.GreaterOrEqual(t, of["matrix"], 0.5*z.AreaM2-plant, z.Zone)
		assert.GreaterOrEqual(t, of["structure"], 0.1*z.AreaM2-plant, z.Zone)
		assert.GreaterOrEqual(t, of["seasonal"], 0.25*z.AreaM2-plant, z.Zone)
	}
	assert.Contains(t, p.BloomMonths, 3, "by the bulb alone")
	require.NoError(t, p.WeighLayers())
	assert.True(t, p.LayersCost >= 0 && p.LayersCost < 0.2, "%v", p.LayersCost)
	assert.Contains(t, strings.Join(p.Asides, "\n"), "of the list's value")

	placed, err := Place(j, p, layered(), Grown{})
	require.NoError(t, err)
	bulbs := 0
	for _, s := range placed.Result.Plants {
		if s.ID != "early" {
			continue
		}
		bulbs++
		for _, o := range placed.Result.Plants {
			if d := math.Hypot(s.X-o.X, s.Y-o.Y); o.Stake != s.Stake {
				assert.Greater(t, d, 0.08, "%s and %s", s.Stake, o.Stake)
				if o.ID == "early" && o.Zone == s.Zone {
					assert.Less(t, d, 0.8, "bulbs of a zone lie together")
				}
			}
		}
	}
	assert.GreaterOrEqual(t, bulbs, 5)
}

// Where nothing suits a layer, its ground is for others, and one line says so; where
// wanted plants leave a layer no room, the list is made without shares.
func TestLayersGiveWay(t *testing.T) {
	c := tableOf(with(hardy("aster"), func(p *catalogue.Plant) { p.Form, p.HeightCM = "forb", 60 }), with(hardy("lily"), func(p *catalogue.Plant) { p.Form, p.HeightCM = "forb", 60 }))
	p, err := Choose(NewJudge(expose(t, nil, someYears(6))), c)
	require.NoError(t, err)
	for _, z := range p.Zones {
		assert.Greater(t, z.PlantedM2, 0.8*z.AreaM2, z.Zone)
	}
	assert.Contains(t, strings.Join(p.Asides, "\n"), "nothing for matrix in the bottom, nothing for structure in the bottom")

	p, err = Choose(NewJudge(expose(t, map[string]string{"wishes": "{wanted: [wide], share_cap: 100 %, layers: {matrix: 100 %}}"}, someYears(6))),
		tableOf(with(hardy("wide"), func(p *catalogue.Plant) { p.Form, p.HeightCM, p.SpreadCM = "forb", 60, 100 }), with(hardy("mat"), func(p *catalogue.Plant) { p.Form, p.HeightCM = "groundcover", 10 })))
	require.NoError(t, err)
	assert.Contains(t, strings.Join(p.Notes, "\n"), "made without them")
}
