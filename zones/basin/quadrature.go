package basin

import "math"

// lobatto returns the places in [0, 1] and the weights, which add up to 1, of
// the Gauss-Lobatto rule of five points, exact for polynomials to degree 7.
//
// Source: Abramowitz and Stegun 1964, Handbook of Mathematical Functions,
// Table 25.6, n = 5: 0, sqrt(3/7), 1 with weights 32/45, 49/90, 1/10.
func lobatto() (u, w [5]float64) {
	r := math.Sqrt(3.0/7) / 2
	return [5]float64{0, .5 - r, .5, .5 + r, 1},
		[5]float64{1.0 / 20, 49.0 / 180, 32.0 / 90, 49.0 / 180, 1.0 / 20}
}

// integrate returns the integral of f from a to b by Gauss-Lobatto panels that
// are halved until a panel and its two halves agree. The rule looks at the ends
// of a panel, so a bend near an end does not go unseen.
//
//	tol  allowed disagreement in all, in the unit of the result
//
// Limits: panels are halved at most 40 times, so a step in f is passed over
// within (b - a) 2^-40. Source: adaptive quadrature, a textbook method.
func integrate(f func(float64) float64, a, b, tol float64) float64 {
	if !(a < b) {
		return 0
	}
	u, w := lobatto()
	panel := func(a, b, fa, fb float64) float64 {
		return (b - a) * (w[0]*(fa+fb) + w[1]*(f(a+u[1]*(b-a))+f(a+u[3]*(b-a))) + w[2]*f((a+b)/2))
	}
	var halve func(a, b, fa, fb, whole, tol float64, left int) float64
	halve = func(a, b, fa, fb, whole, tol float64, left int) float64 {
		m := (a + b) / 2
		fm := f(m)
		lo, hi := panel(a, m, fa, fm), panel(m, b, fm, fb)
		sum := lo + hi
		if math.Abs(sum-whole) <= math.Max(tol, 4e-15*math.Abs(sum)) || left == 0 {
			return sum
		}
		return halve(a, m, fa, fm, lo, tol/2, left-1) + halve(m, b, fm, fb, hi, tol/2, left-1)
	}
	const parts = 8 // so that a bend has few places to hide from the first look
	sum, from, ff := 0.0, a, f(a)
	for i := 1; i <= parts; i++ {
		to := a + (b-a)*float64(i)/parts
		ft := f(to)
		sum += halve(from, to, ff, ft, panel(from, to, ff, ft), tol/parts, 40)
		from, ff = to, ft
	}
	return sum
}
