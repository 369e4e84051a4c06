package basin

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// gauss holds a Gauss-Legendre rule on [-1, 1].
type gauss struct{ x, w []float64 }

func newGauss(n int) gauss {
	g := gauss{make([]float64, n), make([]float64, n)}
	quad.Legendre{}.FixedLocations(g.x, g.w, -1, 1)
	return g
}

func (g gauss) over(f func(float64) float64, a, b float64) float64 {
	mid, half := (a+b)/2, (b-a)/2
	sum := 0.0
	for i, x := range g.x {
		sum += g.w[i] * f(mid+half*x)
	}
	return sum * half
}

// integrate returns the integral of f from a to b by Gauss-Legendre panels
// that are halved until a panel and its two halves agree.
//
//	n    points per panel
//	tol  allowed disagreement in all, in the unit of the result
//
// Limits: panels are halved at most 40 times, so a step in f is passed over
// within (b - a) 2^-40. Source: adaptive Gauss quadrature, a textbook method.
func integrate(f func(float64) float64, a, b float64, n int, tol float64) float64 {
	g := newGauss(n)
	return g.halve(f, a, b, g.over(f, a, b), tol, 40)
}

func (g gauss) halve(f func(float64) float64, a, b, whole, tol float64, left int) float64 {
	m := (a + b) / 2
	lo, hi := g.over(f, a, m), g.over(f, m, b)
	sum := lo + hi
	if math.Abs(sum-whole) <= math.Max(tol, 4e-15*math.Abs(sum)) || left == 0 {
		return sum
	}
	return g.halve(f, a, m, lo, tol/2, left-1) + g.halve(f, m, b, hi, tol/2, left-1)
}
