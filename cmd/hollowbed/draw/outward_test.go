package draw

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/zones/basin"
)

// From every place at the edge of a bed the way outward leads out of it, and back into
// it, also in the notch of an L and whichever way round the outline goes. The bed's own
// heights say what is inside.
func TestOutward(t *testing.T) {
	for name, o := range map[string]basin.Outline{
		"L": lShape(), "kidney": kidney(), "oval": {Kind: "oval", LengthM: 6, WidthM: 4}, "rectangle": {Kind: "rectangle", LengthM: 5, WidthM: 3},
	} {
		bed := bedOf(t, o)
		inside := func(p, way Point, by float64) bool {
			_, in := bed.Height(p.X+by*way.X, p.Y+by*way.Y)
			return in
		}
		n := len(bed.Outline)
		for i, a := range bed.Outline {
			b := bed.Outline[(i+1)%n]
			for _, at := range []Point{a, {(a.X + b.X) / 2, (a.Y + b.Y) / 2}, {0.9*a.X + 0.1*b.X, 0.9*a.Y + 0.1*b.Y}} {
				way := Outward(bed.Outline, at)
				assert.InDelta(t, 1, math.Hypot(way.X, way.Y), 1e-9)
				assert.False(t, inside(at, way, 0.05), "%s: out at %v by %v", name, at, way)
				assert.True(t, inside(at, way, -0.05), "%s: in at %v by %v", name, at, way)
				back := make([]Point, n)
				for k, p := range bed.Outline {
					back[n-1-k] = p
				}
				other := Outward(back, at)
				assert.InDelta(t, 0, math.Hypot(way.X-other.X, way.Y-other.Y), 1e-9)
			}
		}
	}
}

// A plan whose north is not known shows none.
func TestNoNorthUnlessKnown(t *testing.T) {
	in := plans(t)["plan-oval-40"]
	assert.Contains(t, string(Plan(in).SVG()), "<title>north</title>")
	in.NorthDeg = math.NaN()
	svg := string(Plan(in).SVG())
	assert.NotContains(t, svg, "<title>north</title>")
	assert.Zero(t, strings.Count(svg, ">N</text>"))
}

// The profile is the ground of the bed along the line of the section, an L's too: what
// it says at a step is what the bed has there.
func TestProfile(t *testing.T) {
	for name, o := range map[string]basin.Outline{"L": lShape(), "kidney": kidney(), "oval": {Kind: "oval", LengthM: 6, WidthM: 4}} {
		bed := bedOf(t, o)
		p, ok := ProfileOf(bed, 50)
		assert.True(t, ok)
		assert.Len(t, p.GroundMM, 51)
		low := math.Inf(1)
		for i, mm := range p.GroundMM {
			f := float64(i) / 50
			h, in := bed.Height(p.From.X+f*(p.To.X-p.From.X), p.From.Y+f*(p.To.Y-p.From.Y))
			assert.Equal(t, in, p.Inside[i])
			if in {
				assert.InDelta(t, h, mm, 1e-9, "%s: step %d", name, i)
			} else {
				assert.Equal(t, bed.RimMM, mm)
			}
			low = math.Min(low, mm)
		}
		assert.InDelta(t, bed.BottomMM, low, 1, name)
		assert.InDelta(t, 0, edgeDistance(bed.Outline, p.From), 1e-3, name)
		assert.InDelta(t, 0, edgeDistance(bed.Outline, p.To), 1e-3, name)
	}
}

// A peg in the corner of a bed, and the arrow of a spill inside it, lie over the plants.
func TestPegsOverPlants(t *testing.T) {
	in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 16, WidthM: 8}, us(), 3, 10, 0.25)
	in.A.At, in.Overflow.At = Point{0, 0}, Point{8, 4}
	in.Species, in.Plants = []Species{{Key: "AAA", Name: "Low", SpreadM: 0.5}}, []Plant{{At: Point{0.1, 0.1}}, {At: Point{8.1, 4}}}
	svg := string(Plan(in).SVG())
	plants := strings.LastIndex(svg, "<title>plants at mature spread</title>")
	assert.Positive(t, plants)
	for _, over := range []string{">A</text>", ">OUT</text>"} {
		assert.Greater(t, strings.Index(svg, over), plants, over)
	}
}
