package basin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Upright sides make boxes: worked by hand.
func TestExcavationOfABox(t *testing.T) {
	b := mustNew(t, Spec{Outline{Kind: "rectangle", LengthM: 4, WidthM: 3}, 150, 0, .5, 100})
	// Bottom 3 by 2 = 6 m2; rim 6 m2 falling from 100 mm at the edge to 0.
	// Ground at 100 mm, no mix: 6 x 0.250 m, plus over the rim the space above
	// the sloping ground, by Newton's prismatoid formula between 6 and 12 m2 with
	// (4-.5)(3-.5) = 8.75 m2 in the middle, less the 6 x 0.1 counted already.
	rim := .1/6*(6+4*8.75+12) - 6*.1
	assert.InDelta(t, 6*.25+rim, b.ExcavationM3(0, 100), 1e-9)
	// 300 mm of mix everywhere: another 12 x 0.3.
	assert.InDelta(t, 6*.25+rim+12*.3, b.ExcavationM3(300, 100), 1e-9)
	// Ground at the spill level, no mix: only the pond, and the rim is berm:
	// 12 x 0.1 less the space above it.
	assert.InDelta(t, 6*.15, b.ExcavationM3(0, 0), 1e-9)
	assert.InDelta(t, 12*.1-6*.1-rim, b.BermM3(0), 1e-9)
	assert.Zero(t, b.BermM3(100))
}

// Digging and berm against sums over a fine grid of heights.
func TestExcavationAgainstHeights(t *testing.T) {
	b := mustNew(t, Spec{kidneyOutline(40), 150, 3, .3, 60})
	x0, y0, x1, y1 := b.Spec().Outline.Bounds()
	const n = 400
	cell := (x1 - x0) / n * (y1 - y0) / n
	for _, c := range []struct{ mix, ground float64 }{{300, 0}, {0, 30}, {450, 60}, {0, -50}, {40, 0}} {
		dug, berm := 0.0, 0.0
		for i := range n {
			for j := range n {
				if h, inside := b.HeightMM(x0+(float64(i)+.5)/n*(x1-x0), y0+(float64(j)+.5)/n*(y1-y0)); inside {
					dug += math.Max(0, c.ground-h+c.mix) / 1000 * cell
					berm += math.Max(0, h-c.ground) / 1000 * cell
				}
			}
		}
		assert.InDelta(t, dug, b.ExcavationM3(c.mix, c.ground), 1e-3*(1+dug), "%+v", c)
		assert.InDelta(t, berm, b.BermM3(c.ground), 2e-3, "%+v", c)
	}
}

// What is dug down to the finished ground less what stands above the old ground
// does not depend on the shape of either: it is the old ground's height times
// the bed, less the mean height of the bed.
func TestCutLessFill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBasin(t)
		s, bed := b.Spec(), b.Spec().Outline.AreaM2()
		net := func(ground float64) float64 { return b.ExcavationM3(0, ground) - b.BermM3(ground) }
		lo := rapid.Float64Range(-s.PondingMM, s.FreeboardMM).Draw(t, "lo")
		hi := rapid.Float64Range(-s.PondingMM, s.FreeboardMM+100).Draw(t, "hi")
		assert.InDelta(t, bed*(hi-lo)/1000, net(hi)-net(lo), 1e-8*bed)
		assert.InDelta(t, b.SpillVolumeM3(), b.ExcavationM3(0, 0), 1e-8*bed)
	})
}
