package basin

import "math"

// Oval is an ellipse with half axes a >= b, centred on (cx, cy). If the length
// is shorter than the width, x and y change places (turned).
type Oval struct {
	a, b, cx, cy float64
	turned       bool
}

// NewOval makes the oval that fills the box from (0, 0) ready for many questions.
func NewOval(lengthM, widthM float64) Oval {
	e := Oval{a: lengthM / 2, b: widthM / 2, cx: lengthM / 2, cy: widthM / 2}
	if e.a < e.b {
		e.a, e.b, e.turned = e.b, e.a, true
	}
	return e
}

func (e Oval) areaM2() float64 { return math.Pi * e.a * e.b }

func (e Oval) inradiusM() float64 { return e.b }

func (e Oval) distanceM(x, y float64) float64 {
	d, _, _ := e.InwardM(x, y)
	return d
}

// InwardM is the distance from (x, y) to the ellipse, above 0 inside, with the
// unit vector along which it grows: the normal of the ellipse at the nearest
// point, inward. That point (X, Y) has the form X = a^2 x/(t + a^2),
// Y = b^2 y/(t + b^2) with t > -b^2 the largest root of
// (a x/(t + a^2))^2 + (b y/(t + b^2))^2 = 1. On the long axis near the centre
// (y = 0) the root falls on t = -b^2 and Y follows from the ellipse; there are
// then two such points, and one is taken.
// Source: Lagrange's condition for the nearest point.
func (e Oval) InwardM(x, y float64) (d, ux, uy float64) {
	px, py := x-e.cx, y-e.cy
	if e.turned {
		px, py = py, px
	}
	d, u, v := e.nearest(math.Abs(px), math.Abs(py))
	if (px/e.a)*(px/e.a)+(py/e.b)*(py/e.b) > 1 {
		d = -d
	}
	// The normal at (a u, b v) is along (u/a, v/b).
	n := math.Hypot(e.b*u, e.a*v)
	ux, uy = -math.Copysign(e.b*u/n, px), -math.Copysign(e.a*v/n, py)
	if e.turned {
		ux, uy = uy, ux
	}
	return d, ux, uy
}

// nearest is the distance, without a sign, from a place in the first quarter to
// the ellipse, and the nearest point (a u, b v).
func (e Oval) nearest(px, py float64) (d, u, v float64) {
	a, b := e.a, e.b
	if py == 0 {
		if c := a*a - b*b; a*px < c { // inside the centre of curvature of the tip
			u := a * px / c
			v := math.Sqrt(math.Max(0, 1-u*u))
			return math.Hypot(px-a*u, b*v), u, v
		}
		return math.Abs(px - a), 1, 0
	}
	// In units of b, with w = t/b^2 + 1 above 0 and r = (a/b)^2, the condition
	// is (k/(w + r - 1))^2 + (zy/w)^2 = 1. Its left side falls and bends upward,
	// so Newton's steps from a w that is too small climb to the root and never
	// pass it.
	r, zx, zy := (a/b)*(a/b), px/b, py/b
	k := a / b * zx
	w := math.Max(zy, k-(r-1))
	for range 2000 {
		u, v := k/(w+r-1), zy/w
		next := w + (u*u+v*v-1)/(2*(u*u/(w+r-1)+v*v/w))
		if !(next > w*(1+1e-16)) {
			break
		}
		w = next
	}
	nx, ny := r*zx/(w+r-1), zy/w
	return b * math.Hypot(nx-zx, ny-zy), nx * b / a, ny
}

// insetAreaM2 is the area at least d inside the ellipse. The boundary of that
// area is the parallel curve
//
//	x = a cos t - d b cos t/s,  y = b sin t - d a sin t/s,
//	s = sqrt(b^2 cos^2 t + a^2 sin^2 t)
//
// kept where y >= 0 in the first quarter, that is s >= d a/b: past the centre
// of curvature of the tips the curve crosses the long axis, and the nearest
// point of the ellipse is then on the other side. With
// -dx/dt = a sin t (1 - d a b/s^3) the area is
//
//	4 integral of a sin^2 t (b - d a/s)(1 - d a b/s^3) dt, t from t0 to pi/2,
//
// with t0 = 0, or sin^2 t0 = ((d a/b)^2 - b^2)/(a^2 - b^2) where the curve is
// cut. Computed to 1e-12 of the bed's area. Source: parallel curve of an
// ellipse; checked against Steiner's formula where nothing is cut.
func (e Oval) insetAreaM2(d float64) float64 {
	a, b := e.a, e.b
	if d >= b {
		return 0
	}
	t0 := 0.0
	if s0 := d * a / b; s0 > b {
		t0 = math.Asin(math.Min(1, math.Sqrt((s0*s0-b*b)/(a*a-b*b))))
	}
	f := func(t float64) float64 {
		sin, cos := math.Sincos(t)
		s := math.Sqrt(b*b*cos*cos + a*a*sin*sin)
		return a * sin * sin * (b - d*a/s) * (1 - d*a*b/(s*s*s))
	}
	return math.Max(0, 4*integrate(f, t0, math.Pi/2, 1e-12*e.areaM2()))
}
