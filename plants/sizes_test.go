package plants

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// What the plant table says of size and price comes first; then the garden file's size
// and its price. Woody plants are no plugs, bulbs are bulbs, whatever is wished for.
func TestSized(t *testing.T) {
	e := expose(t, map[string]string{"wishes": "{size: plug, prices: {plug: 2.50, gallon_pot: 14}}"}, someYears(2))
	w := e.Lot.Garden.Wishes
	for _, c := range []struct {
		form, sold string
		price      float64
		wantSold   string
		wantPrice  float64
	}{
		{"forb", "", math.NaN(), "plug", 2.5},
		{"forb", "", 3, "plug", 3},
		{"forb", "gallon pot", math.NaN(), "gallon pot", 14},
		{"shrub", "", math.NaN(), "gallon pot", 14},
		{"bulb", "", math.NaN(), "bulb", math.NaN()},
	} {
		got := sized(w, catalogue.Plant{Form: c.form, SoldAs: c.sold, Price: c.price})
		assert.Equal(t, c.wantSold, got.SoldAs, c)
		assert.InDelta(t, c.wantPrice, got.Price, 0, c)
	}
	assert.Empty(t, sized(zones.Wishes{}, catalogue.Plant{Form: "forb"}).SoldAs)
	var all []string
	for _, s := range catalogue.Sizes() {
		all = append(all, s.Name)
	}
	assert.Equal(t, all, zones.Sizes(), "the plant table and the garden file name the same sizes")
}

// A garden with a budget takes plants without a price of their own at that of their size.
func TestPriceBySize(t *testing.T) {
	free := with(hardy("a"), func(p *catalogue.Plant) { p.Price = math.NaN() })
	p, err := Choose(NewJudge(expose(t, map[string]string{"wishes": "{budget: 500, share_cap: 100 %, size: plug, prices: {plug: 2.50}}"}, someYears(2))), tableOf(free))
	require.NoError(t, err)
	require.NotEmpty(t, p.Lines)
	count := 0
	for _, l := range p.Lines {
		count += l.Count
		assert.Equal(t, "plug", l.Plant.SoldAs)
	}
	assert.InDelta(t, 2.5*float64(count), p.Cost, 1e-9)
}

// The worked example of the Rain garden handbook for western Washington (Washington
// State University Extension 2013, page 34, read): 392 sq ft and 18 in of soil come to
// 588 cu ft, 21.78 cubic yards. Plugs 60 cm apart stand 18 in apart at first: (60 /
// 45.72)^2 = 1.722 as many (geometry).
func TestOrderAsInTheHandbook(t *testing.T) {
	e := expose(t, map[string]string{"bed": "{shape: rectangle, length: 28 ft, width: 14 ft, ponding_depth: 6 in}", "mix": "{texture: sandy loam, depth: 18 in}", "wishes": "{size: plug, share_cap: 100 %}"}, someYears(2))
	p, err := Choose(NewJudge(e), tableOf(with(hardy("wide"), func(p *catalogue.Plant) { p.SpreadCM = 60 })))
	require.NoError(t, err)
	o := p.Order()
	const ft3 = 0.3048 * 0.3048 * 0.3048
	assert.InEpsilon(t, 588*ft3, o.MixM3, 0.002)
	assert.InEpsilon(t, 588*ft3/4, o.CompostM3, 0.002)
	assert.InEpsilon(t, 392*0.25*ft3, o.MulchM3, 0.002)
	count := 0
	for _, l := range p.Lines {
		count += l.Count
	}
	require.Positive(t, count)
	assert.InDelta(t, 0.722*float64(count), float64(o.MorePlugs), 0.6)
}
