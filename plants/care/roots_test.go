package care

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/water"
)

// Plugs root from 12.5 cm, gallon pots from 15: a plug's ball holds less, so that it is
// watered as soon or sooner, for less water each time.
func TestSmallerPotsAreWateredSooner(t *testing.T) {
	b, _ := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	stand := func(sizes ...string) Stand {
		s := Stand{Zone: "rim", AreaM2: 10}
		for _, size := range sizes {
			p := plant(40, 1e9)
			p.SoldAs = size
			s.Groups = append(s.Groups, Group{Plant: p, Count: 10})
		}
		return s
	}
	var depths []float64
	for _, k := range b.course(stand("gallon pot", "plug", ""), 0, ByDepletion, 1).kinds {
		depths = append(depths, k.potCM)
	}
	assert.Equal(t, []float64{15, 12.5}, depths, "each its own; not said: the setting's, as a gallon pot")
	plug, err := planOf(b, stand("plug"))
	require.NoError(t, err)
	pot, err := planOf(b, stand("gallon pot"))
	require.NoError(t, err)
	for i := range plug.Years {
		first, other := plug.Years[i].Waterings[0], pot.Years[i].Waterings[0]
		assert.LessOrEqual(t, first.Day, other.Day)
		assert.Less(t, first.Litres, other.Litres)
		assert.Less(t, plug.Years[i].Litres, pot.Years[i].Litres, "narrower balls wet less ground")
	}
}

// How long a plant goes without water just planted, against published intervals while
// plants establish: plugs twice a week (University of Wisconsin Extension, SOURCES.md
// [S40]) where once a week is the rule, so half as long; a small pot between the two; a
// plant of unknown size as a gallon pot (Default). Dry days are walked on the ground of the
// rim with a June without rain; wet limits keep their half, and all sizes bear the same
// once rooted.
func TestYoungBySizeInThePublishedOrder(t *testing.T) {
	b, f := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	june := MonthDay{Month: time.June, Day: 1}
	lasts := map[string]float64{} // of the demand of a June day, until the limit of drought is met
	risk := map[string]float64{}
	for _, size := range []string{"plug", "small pot", "gallon pot", "bare root", ""} {
		p := plant(40, 96)
		p.SoldAs, p.PondMM = size, 300
		pot, _ := b.Setting.Pot(p)
		lasts[size] = daysDry(b, pot, Young(p, 0).DryD)
		risk[size], _ = b.youngRisk(way{open: f, planted: june}, p, "rim")
		assert.InDelta(t, 48, Young(p, 0).WetH, 1e-12, size)
		assert.Equal(t, p, Young(p, 1), size)
	}
	t.Log("days", lasts, "risk of the first year alone", risk)
	assert.InDelta(t, 0.5, lasts["plug"]/lasts["gallon pot"], 0.1)
	assert.Greater(t, lasts["small pot"], lasts["plug"])
	assert.Less(t, lasts["small pot"], lasts["gallon pot"])
	assert.Equal(t, lasts["gallon pot"], lasts["bare root"])
	assert.Equal(t, lasts["gallon pot"], lasts[""], "not said: as before")
	assert.Greater(t, risk["plug"], risk["small pot"])
	assert.Greater(t, risk["small pot"], risk["gallon pot"])
	assert.Equal(t, risk["gallon pot"], risk[""])
	for size, want := range map[string]float64{"plug": 100, "small pot": 150, "gallon pot": 150, "": 150} {
		assert.InDelta(t, want, Young(catalogue.Plant{SoldAs: size, PondMM: 300}, 0).PondMM, 1e-12, size)
	}
	assert.InDelta(t, 20, Young(catalogue.Plant{SoldAs: "plug", PondMM: 40}, 0).PondMM, 1e-12, "no deeper than half")
}

// daysDry is how long a root ball goes without rain on days of 5 mm until its drought, as
// days on the reference ground, passes what the plant bears.
func daysDry(b *Bed, potCM, dryD float64) float64 {
	const demand = 5.0
	taw, depletion := b.Ground.TAWMM(potCM), 0.0
	var run water.Drought
	reference := fit.NewReference(40)
	for d := 0; d < 200; d++ {
		depletion = refill(depletion, 0, b.Setting.demandMM(demand, 0), taw, pTab)
		follow(&run, d, water.Stress(depletion, taw, water.DepletionFraction(pTab, demand)))
		if reference.Days(run) > dryD {
			return float64(d)
		}
	}
	return math.Inf(1)
}
