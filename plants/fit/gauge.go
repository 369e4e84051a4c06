package fit

import (
	"math"

	"hollowbed/plants/catalogue"
)

// gauge judges plants in one zone of a bed, one after another. It keeps what all
// plants share there and what those share that bear the same wet hours.
type gauge struct {
	b     *Bed
	bands []int
	wet   [][]float64 // equivalent hours, by band and year that counts
	wetH  float64
	deep  [][]float64 // mm, for plants that bear wetH

	cold       []float64 // severity by year, of the plant at hand
	hard, most []severities
}

func (b *Bed) newGauge(zone string) *gauge {
	years := len(b.Use)
	g := &gauge{b: b, bands: b.bandsOf(zone), wetH: math.NaN(), cold: make([]float64, years), hard: make([]severities, years), most: make([]severities, years)}
	for _, band := range g.bands {
		wet := make([]float64, years)
		for i, y := range b.Use {
			wet[i] = b.Run.Exposure[band][y].WetWorst.EquivalentHours()
		}
		g.wet = append(g.wet, wet)
		g.deep = append(g.deep, make([]float64, years))
	}
	return g
}

// bears works out how deep water stands for plants that bear wetH.
func (g *gauge) bears(wetH float64) {
	g.wetH = wetH
	for k, band := range g.bands {
		for i, y := range g.b.Use {
			g.deep[k][i], _ = g.b.depthMM(band, y, wetH)
		}
	}
}

// judge returns the hardest band for a plant, and how it fares in the zone.
func (g *gauge) judge(p *catalogue.Plant, sunH float64) (int, Fit) {
	hardest, risk := g.risk(p)
	return hardest, g.b.judged(p, hardest, sunH, g.most, risk)
}

// risk returns the hardest band for a plant, whose severities are then in most,
// and its yearly risk in the zone.
func (g *gauge) risk(p *catalogue.Plant) (hardest int, mean float64) {
	if p.WetH != g.wetH { // and always where it is not known
		g.bears(p.WetH)
	}
	for i, y := range g.b.Use {
		g.cold[i] = coldOf(p.LowestC, g.b.MinC[y])
	}
	g.b.readyFor(g.b.rootCM(p), g.bands)
	area, risk := 0.0, 0.0
	hardest, highest, severest := -1, 0.0, 0.0
	vague := vagueness(p)
	for k, band := range g.bands {
		g.fill(p, k)
		r, m2 := g.b.Predict.risk(g.hard, vague), g.b.Run.Bands[band].AreaM2
		area += m2
		risk += r * m2
		_, s := hardestYear(g.hard)
		if hardest < 0 || r > highest || r == highest && s > severest {
			hardest, highest, severest = band, r, s
			g.hard, g.most = g.most, g.hard
		}
	}
	return hardest, risk / area
}

// fill sets hard to what the k-th band does to a plant.
func (g *gauge) fill(p *catalogue.Plant, k int) {
	dry := g.b.dryDays(g.bands[k], g.b.rootCM(p))
	for i, y := range g.b.Use {
		g.hard[i] = severities{
			share(g.wet[k][i], p.WetH, leastWetH), share(g.deep[k][i], p.PondMM, leastPondMM),
			share(g.b.unwatered(dry.days[y]), p.DryD, leastDryD), g.cold[i],
		}
	}
}
