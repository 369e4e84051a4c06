package draw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/basin"
)

func area(loops [][]Point) float64 {
	sum := 0.0
	for _, l := range loops {
		for i, p := range l {
			q := l[(i+1)%len(l)]
			sum += (p.X*q.Y - q.X*p.Y) / 2
		}
	}
	return sum
}

// Contours enclose the area that package basin computes exactly by another
// way, and lie on their level.
func TestContoursEncloseTheArea(t *testing.T) {
	for _, o := range []basin.Outline{
		{Kind: "rectangle", LengthM: 6, WidthM: 4}, {Kind: "oval", LengthM: 6, WidthM: 4.2}, lShape(), kidney(),
	} {
		b := bedOf(t, o)
		for _, mm := range []float64{0, -50, -100, -148.5} {
			loops := newSurvey(b.Outline, b.Height, 0.03).contours(mm)
			require.NotEmpty(t, loops)
			assert.InEpsilon(t, o.InsetAreaM2(0.3-mm*3/1000), area(loops), 0.002, "%s at %g", o.Kind, mm)
			for _, l := range loops {
				for _, p := range l {
					h, in := b.Height(p.X, p.Y)
					assert.True(t, in)
					assert.InDelta(t, mm, h, 1e-3)
				}
				thinned := thin(l, 0.002)
				assert.Less(t, len(thinned), len(l))
				for _, p := range l {
					assert.LessOrEqual(t, edgeDistance(thinned, p), 0.002+1e-9)
				}
			}
		}
	}
}

// Two hollows give two lines, and a mound in a hollow a line around it that
// runs the other way.
func TestContoursOfSeveralPieces(t *testing.T) {
	outline := Rectangle(4, 2)
	two := func(x, y float64) (float64, bool) {
		return 100 * (math.Min(math.Hypot(x-1, y-1), math.Hypot(x-3, y-1)) - 0.5), true
	}
	assert.Len(t, newSurvey(outline, two, 0.05).contours(0), 2)
	assert.InEpsilon(t, 2*math.Pi/4, area(newSurvey(outline, two, 0.02).contours(0)), 0.003)
	ring := func(x, y float64) (float64, bool) {
		return 100 * (math.Abs(math.Hypot(x-2, y-1)-0.6) - 0.2), true
	}
	loops := newSurvey(outline, ring, 0.02).contours(0)
	assert.Len(t, loops, 2)
	assert.InEpsilon(t, math.Pi*(0.64-0.16), area(loops), 0.003)
}

// In a cell with wet corners across from each other, lines go around the lone
// corners of what does not fill the middle, and keep wet ground on their left.
func TestSaddles(t *testing.T) {
	touches := func(side, corner int) bool { return side == corner || (side+1)%4 == corner }
	for _, c := range [][4]bool{{true, false, true, false}, {false, true, false, true}} {
		for _, wet := range []bool{true, false} {
			lines := cellSegments(c, func() bool { return wet })
			require.Len(t, lines, 2)
			for _, l := range lines {
				for k := range 4 {
					if touches(l[0], k) && touches(l[1], k) {
						assert.Equal(t, !wet, c[k], "%v, middle %v: %v goes around corner %d", c, wet, l, k)
					}
				}
				assert.True(t, c[l[0]] && !c[(l[0]+1)%4], "begins where wet ends")
				assert.True(t, !c[l[1]] && c[(l[1]+1)%4], "ends where wet begins")
			}
		}
	}
}

// The cut of a rectangle and an oval is the long axis; of a bed set aslant, a
// line at its slant.
func TestCut(t *testing.T) {
	for _, o := range []basin.Outline{{Kind: "rectangle", LengthM: 6, WidthM: 4}, {Kind: "oval", LengthM: 6, WidthM: 4.2}} {
		b := bedOf(t, o)
		from, to, ok := cut(b.Outline, b.Height)
		require.True(t, ok)
		// A few mm off the axis, an oval's tip falls back by some micrometres.
		assert.InDelta(t, 0, from.X, 1e-4)
		assert.InDelta(t, 6, to.X, 1e-4)
		assert.InDelta(t, o.WidthM/2, from.Y, 0.01)
		assert.InDelta(t, from.Y, to.Y, 1e-9)
	}
	s, c := math.Sincos(math.Pi / 6)
	var points [][2]float64
	for _, p := range Rectangle(6, 3) {
		points = append(points, [2]float64{p.X*c - p.Y*s, p.X*s + p.Y*c})
	}
	b := bedOf(t, basin.Outline{Kind: "polygon", Points: points})
	from, to, ok := cut(b.Outline, b.Height)
	require.True(t, ok)
	assert.InDelta(t, 6, dist(from, to), 0.03)
	assert.InDelta(t, math.Pi/6, math.Atan2(to.Y-from.Y, to.X-from.X), 0.01)
	_, _, ok = cut(b.Outline, func(float64, float64) (float64, bool) { return 0, false })
	assert.False(t, ok)
}

// Groups are what single links up to 1.6 spreads join: checked by walking the
// graph another way; their lines are one fewer than their members.
func TestDriftsAreConnected(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sp := []Species{{SpreadM: 0.4}, {SpreadM: 0.7}}
		var plants []Plant
		for range rapid.IntRange(0, 25).Draw(t, "plants") {
			at := Point{rapid.Float64Range(0, 4).Draw(t, "x"), rapid.Float64Range(0, 4).Draw(t, "y")}
			if rapid.Bool().Draw(t, "spot") { // where others may stand too
				at = Point{math.Round(at.X), math.Round(at.Y)}
			}
			plants = append(plants, Plant{Species: rapid.IntRange(0, 1).Draw(t, "species"), At: at})
		}
		group := make([]int, len(plants))
		total := 0
		for n, g := range Drifts(sp, plants) {
			total += len(g.Members)
			assert.Len(t, g.Links, len(g.Members)-1)
			for _, m := range g.Members {
				group[m] = n
				assert.Equal(t, g.Species, plants[m].Species)
			}
		}
		assert.Equal(t, len(plants), total)
		reach := make([]int, len(plants)) // least number that can be walked to
		for i := range reach {
			reach[i] = i
		}
		for range plants {
			for a := range plants {
				for b := range plants {
					if plants[a].Species == plants[b].Species && dist(plants[a].At, plants[b].At) <= 1.6*sp[plants[a].Species].SpreadM {
						reach[a] = min(reach[a], reach[b])
					}
				}
			}
		}
		for a := range plants {
			for b := range plants {
				assert.Equal(t, reach[a] == reach[b], group[a] == group[b])
			}
		}
	})
}

// Labels placed one after another never touch, nor do lines run through them.
func TestPlacedLabelsKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := newPlacer(box{0, 0, 100, 80}, nil)
		for range rapid.IntRange(1, 40).Draw(t, "discs") {
			p.discs.add(disc{rapid.Float64Range(0, 100).Draw(t, "x"), rapid.Float64Range(0, 80).Draw(t, "y"), rapid.Float64Range(0.5, 6).Draw(t, "r"), 0})
		}
		for range rapid.IntRange(1, 60).Draw(t, "labels") {
			a := [2]float64{rapid.Float64Range(-5, 105).Draw(t, "ax"), rapid.Float64Range(-5, 85).Draw(t, "ay")}
			at, ok := p.place(rapid.Float64Range(1, 30).Draw(t, "w"), 3, [][2]float64{a}, 1, 2)
			if ok {
				assert.True(t, p.area.holds(at.b))
				assert.True(t, at.led || boxDistance(at.b, a[0], a[1]) <= 2)
			}
		}
		for i, a := range p.labels {
			for _, b := range p.labels[:i] {
				assert.False(t, a.meets(b))
			}
			for _, l := range p.leaders {
				assert.False(t, crosses(l, a))
			}
		}
	})
}

// spread keeps things apart and in order, and moves nothing that has room.
func TestSpread(t *testing.T) {
	assert.Equal(t, []float64{10, 20, 30}, spread([]float64{10, 20, 30}, []float64{4, 4, 4}, 0, 50))
	assert.Equal(t, []float64{10, 14, 18}, spread([]float64{10, 10, 10}, []float64{4, 4, 4}, 0, 50))
	assert.Equal(t, []float64{40, 44, 48}, spread([]float64{49, 49, 50}, []float64{4, 4, 4}, 0, 50))
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		ys, highs := make([]float64, n), make([]float64, n)
		y := 0.0
		for i := range ys {
			y += rapid.Float64Range(0, 9).Draw(t, "step")
			ys[i], highs[i] = y, rapid.Float64Range(1, 8).Draw(t, "high")
		}
		out := spread(ys, highs, 0, 60)
		for i := 1; i < n; i++ {
			assert.GreaterOrEqual(t, out[i]-out[i-1], (highs[i]+highs[i-1])/2-1e-9)
		}
	})
}

// Corners of straight sides are whole: the spill line of a rectangle is four
// points.
func TestContourCorners(t *testing.T) {
	b := bedOf(t, basin.Outline{Kind: "rectangle", LengthM: 6, WidthM: 4})
	loops := newSurvey(b.Outline, b.Height, 0.05).contours(0)
	require.Len(t, loops, 1)
	at := map[Point]bool{}
	for _, p := range loops[0] {
		at[Point{math.Round(p.X*1e5) / 1e5, math.Round(p.Y*1e5) / 1e5}] = true
	}
	for _, p := range []Point{{0.3, 0.3}, {5.7, 0.3}, {5.7, 3.7}, {0.3, 3.7}} {
		assert.True(t, at[p], "%v", p)
	}
}
