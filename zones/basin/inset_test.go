package basin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
)

func polygonOf(p ...[2]float64) Outline { return Outline{Kind: "polygon", Points: p} }

// Every expected area here is worked by hand from elementary geometry.
func TestInsetAreaClosedForms(t *testing.T) {
	regular := func(n int, r float64) Outline { // inradius r
		var o [][2]float64
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			o = append(o, [2]float64{7 + r/math.Cos(math.Pi/float64(n))*c, -3 + r/math.Cos(math.Pi/float64(n))*s})
		}
		return polygonOf(o...)
	}
	// An L: a 4 by 4 square less the 2 by 2 at its upper right. Its inset at
	// d < 1 is the L made of 4-2d and 2-2d limbs, less the piece that the arc
	// round the inner corner (2, 2) leaves out of the small square there.
	l := polygonOf([2]float64{0, 0}, [2]float64{4, 0}, [2]float64{4, 2}, [2]float64{2, 2}, [2]float64{2, 4}, [2]float64{0, 4})
	lInset := func(d float64) float64 {
		square, notch := (4-2*d)*(4-2*d), 2.0*2.0 // the notch moves inward by d and outward by d: stays 2 by 2
		return square - notch + d*d*(1-math.Pi/4) // round, not square, at the inner corner
	}
	// A U: 6 by 4 outside, slot 2 wide and 3 deep from the top; limbs 2 wide,
	// floor 1 thick. Before d = 0.5 all three still join.
	u := polygonOf([2]float64{0, 0}, [2]float64{6, 0}, [2]float64{6, 4}, [2]float64{4, 4}, [2]float64{4, 1},
		[2]float64{2, 1}, [2]float64{2, 4}, [2]float64{0, 4})
	uInset := func(d float64) float64 { // outer less slot, with two round inner corners
		return (6-2*d)*(4-2*d) - (2+2*d)*3 + 2*d*d*(1-math.Pi/4)
	}
	// After the floor is gone (d from 0.5 to 1) two limbs are left, each a
	// rectangle 2-2d wide from y = d up to 4-d. Below y = 1 there is no slot wall
	// beside it, only the disc round the corner (2, 1) (or (4, 1)), so each limb
	// gains the ground between x = 2-d and that disc, h = 1-d high:
	// d h - 1/2 (h sqrt(d^2-h^2) + d^2 asin(h/d)).
	uLimbs := func(d float64) float64 {
		h := 1 - d
		return 2*(2-2*d)*(4-2*d) + 2*(d*h-(h*math.Sqrt(d*d-h*h)+d*d*math.Asin(h/d))/2)
	}
	for _, c := range []struct {
		name string
		o    Outline
		d    float64
		want float64
	}{
		{"rectangle", Outline{Kind: "rectangle", LengthM: 6, WidthM: 3}, .75, 4.5 * 1.5},
		{"rectangle past its middle", Outline{Kind: "rectangle", LengthM: 6, WidthM: 3}, 1.6, 0},
		{"rectangle as polygon", polygonOf([2]float64{1, 1}, [2]float64{1, 4}, [2]float64{7, 4}, [2]float64{7, 1}), .75, 4.5 * 1.5},
		{"disc", Outline{Kind: "oval", LengthM: 4, WidthM: 4}, .7, math.Pi * 1.3 * 1.3},
		{"triangle 3 4 5, inradius 1", polygonOf([2]float64{0, 0}, [2]float64{4, 0}, [2]float64{0, 3}), .25, 6 * .75 * .75},
		{"hexagon", regular(6, 2), .5, 6 * math.Tan(math.Pi/6) * 1.5 * 1.5},
		{"polygon of 200 sides", regular(200, 2), 1.2, 200 * math.Tan(math.Pi/200) * .8 * .8},
		{"L, small", l, .1, lInset(.1)},
		{"L", l, .8, lInset(.8)},
		{"U, joined", u, .3, uInset(.3)},
		{"U, two limbs", u, .7, uLimbs(.7)},
		{"U, gone", u, 1.1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.NoError(t, c.o.Check())
			assert.InDelta(t, c.want, c.o.InsetAreaM2(c.d), 1e-12*c.o.AreaM2())
		})
	}
}

// Steiner: while no part of the parallel curve is cut (d at most b^2/a) the
// inset of an ellipse is A - P d + pi d^2, with P the perimeter. Perimeter by
// Ramanujan's second formula, within 4e-10 for these shapes (h < 0.05).
func TestOvalInsetSteiner(t *testing.T) {
	for _, c := range [][2]float64{{5, 4}, {4, 3.2}, {3, 3.5}} {
		o := Outline{Kind: "oval", LengthM: c[0], WidthM: c[1]}
		a, b := math.Max(c[0], c[1])/2, math.Min(c[0], c[1])/2
		h := (a - b) * (a - b) / ((a + b) * (a + b))
		perimeter := math.Pi * (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h)))
		for _, share := range []float64{0.1, 0.5, 1} {
			d := share * b * b / a
			assert.InDelta(t, math.Pi*a*b-perimeter*d+math.Pi*d*d, o.InsetAreaM2(d), 1e-8)
		}
	}
}

// The share of a fine grid that lies at least d inside, counted with a distance
// that is measured here in another way: to 1,000 points along the outline.
func TestInsetAreaAgainstGridCount(t *testing.T) {
	testenv.Sweep(t)
	kidney := kidneyOutline(120)
	for _, o := range []Outline{ // no side along the grid, which would count in steps
		{Kind: "oval", LengthM: 6, WidthM: 2}, {Kind: "oval", LengthM: 2, WidthM: 5}, kidney,
		polygonOf([2]float64{0, 0}, [2]float64{5, .3}, [2]float64{5.4, 3}, [2]float64{3.2, 1.1}, [2]float64{2.2, 2.8}, [2]float64{1.5, .9}, [2]float64{-.4, 3}),
	} {
		x0, y0, x1, y1 := o.Bounds()
		edge := samples(o, 1000)
		for _, share := range []float64{0.2, 0.55, 0.85} {
			d := share * o.inradiusM()
			const n = 200
			var count int
			cell := (x1 - x0) / n * (y1 - y0) / n
			for i := range n {
				for j := range n {
					x, y := x0+(float64(i)+.5)/n*(x1-x0), y0+(float64(j)+.5)/n*(y1-y0)
					if o.DistanceM(x, y) <= 0 { // sign only
						continue
					}
					near := math.Inf(1)
					for _, p := range edge {
						near = math.Min(near, (p[0]-x)*(p[0]-x)+(p[1]-y)*(p[1]-y))
						if near < d*d {
							break
						}
					}
					if near >= d*d {
						count++
					}
				}
			}
			assert.InDelta(t, float64(count)*cell, o.InsetAreaM2(d), 4e-3*o.AreaM2(), "%s d=%g", o.Kind, d)
		}
	}
}

// samples are n points along an outline.
func samples(o Outline, n int) [][2]float64 {
	var s [][2]float64
	if o.Kind == "oval" {
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			s = append(s, [2]float64{o.LengthM / 2 * (1 + cos), o.WidthM / 2 * (1 + sin)})
		}
		return s
	}
	per := n / len(o.Points)
	for i, a := range o.Points {
		b := o.Points[(i+1)%len(o.Points)]
		for k := range per {
			f := float64(k) / float64(per)
			s = append(s, [2]float64{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
		}
	}
	return s
}

// kidneyOutline is a bean of n corners, with a hollow side.
func kidneyOutline(n int) Outline {
	var p [][2]float64
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := 2 + 0.35*math.Cos(2*a) - 0.75*math.Exp(-4*(1-math.Cos(a-math.Pi/2)))
		p = append(p, [2]float64{1.4 * r * math.Cos(a), r * math.Sin(a)})
	}
	return polygonOf(p...)
}

func TestOvalDistanceAgainstSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Outline{Kind: "oval", LengthM: rapid.Float64Range(.5, 9).Draw(t, "length"), WidthM: rapid.Float64Range(.5, 9).Draw(t, "width")}
		x := rapid.Float64Range(-1, 10).Draw(t, "x")
		y := rapid.OneOf(rapid.Float64Range(-1, 10), rapid.Just(o.WidthM/2)).Draw(t, "y")
		near := math.Inf(1)
		for _, p := range samples(o, 4000) {
			near = math.Min(near, math.Hypot(p[0]-x, p[1]-y))
		}
		u, v := 2*x/o.LengthM-1, 2*y/o.WidthM-1
		got := o.DistanceM(x, y)
		if math.Abs(u*u+v*v-1) > 1e-9 {
			assert.Equal(t, u*u+v*v < 1, got > 0)
		}
		assert.LessOrEqual(t, math.Abs(got), near+1e-12) // no sample is nearer than the answer
		assert.InDelta(t, near, math.Abs(got), 4e-3)     // half of the widest step between samples is 3.5 mm
		// Back along the way inward by that distance lies the ellipse.
		d, ux, uy := NewOval(o.LengthM, o.WidthM).InwardM(x, y)
		assert.InDelta(t, 1, math.Hypot(ux, uy), 1e-12)
		u, v = 2*(x-d*ux)/o.LengthM-1, 2*(y-d*uy)/o.WidthM-1
		assert.InDelta(t, 1, u*u+v*v, 1e-9)
	})
}

func TestInsetOnlyShrinks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOutline(t)
		r := o.inradiusM()
		d := rapid.Float64Range(0, 1.2*r).Draw(t, "d")
		step := rapid.Float64Range(0, .3*r).Draw(t, "step")
		a, b := o.InsetAreaM2(d), o.InsetAreaM2(d+step)
		assert.LessOrEqual(t, b, a+1e-10*o.AreaM2())
		if d > r {
			assert.LessOrEqual(t, a, 1e-10*o.AreaM2())
		} else if d < .999*r {
			assert.Positive(t, a)
		}
	})
}

// drawOutline makes rectangles, ovals, stars, kidneys, and L and U shapes,
// turned and moved at random and in either direction.
func drawOutline(t *rapid.T) Outline {
	switch kind := rapid.SampledFrom([]string{"rectangle", "oval", "star", "kidney", "L", "U"}).Draw(t, "kind"); kind {
	case "rectangle", "oval":
		return Outline{Kind: kind, LengthM: rapid.Float64Range(.5, 12).Draw(t, "length"), WidthM: rapid.Float64Range(.5, 12).Draw(t, "width")}
	default:
		return drawPolygon(t, kind)
	}
}

func drawPolygon(t *rapid.T, kind string) Outline {
	var p [][2]float64
	size := func(name string) float64 { return rapid.Float64Range(.3, 3).Draw(t, name) }
	switch kind {
	case "star":
		n := rapid.IntRange(3, 24).Draw(t, "n")
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := rapid.Float64Range(.4, 4).Draw(t, "r")
			p = append(p, [2]float64{r * c, r * s})
		}
	case "kidney":
		p = kidneyOutline(rapid.IntRange(8, 80).Draw(t, "n")).Points
	case "L":
		a, b, c, d := size("a"), size("b"), size("c"), size("d")
		p = [][2]float64{{0, 0}, {a + b, 0}, {a + b, c}, {a, c}, {a, c + d}, {0, c + d}}
	case "U":
		a, b, c, floor, left, right := size("a"), size("b"), size("c"), size("floor"), size("left"), size("right")
		p = [][2]float64{{0, 0}, {a + b + c, 0}, {a + b + c, floor + right}, {a + b, floor + right}, {a + b, floor}, {a, floor}, {a, floor + left}, {0, floor + left}}
	}
	s, c := math.Sincos(rapid.SampledFrom([]float64{0, math.Pi / 2, .3, 1, 2.2, 4}).Draw(t, "turn"))
	x, y := rapid.Float64Range(-50, 50).Draw(t, "x0"), rapid.Float64Range(-50, 50).Draw(t, "y0")
	o := Outline{Kind: "polygon"}
	for _, q := range p {
		o.Points = append(o.Points, [2]float64{x + c*q[0] - s*q[1], y + s*q[0] + c*q[1]})
	}
	if rapid.Bool().Draw(t, "backwards") {
		for i, j := 0, len(o.Points)-1; i < j; i, j = i+1, j-1 {
			o.Points[i], o.Points[j] = o.Points[j], o.Points[i]
		}
	}
	if err := o.Check(); err != nil {
		t.Fatalf("a polygon made to be simple: %v", err)
	}
	return o
}
