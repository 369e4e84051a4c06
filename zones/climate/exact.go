package climate

import (
	"math"
	"math/rand/v2"
)

// The functions of this file give the same bits on every processor: math.Exp
// and math.Log are written by processor, and a compiler may fuse a product
// into a sum unless the product is converted.

// poly returns c[0] + c[1] x + c[2] x^2 + ...
func poly(x float64, c ...float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = float64(sum*x) + c[i]
	}
	return sum
}

// exp returns e^x within 4e-16 of it, for x from -700 to 700: 2^k times a Taylor series.
func exp(x float64) float64 {
	const ln2Hi, ln2Lo = 6.93147180369123816490e-01, 1.90821492927058770002e-10
	k := math.Floor(float64(x/math.Ln2) + 0.5)
	r := x - float64(k*ln2Hi) - float64(k*ln2Lo)
	series := poly(r, 1, 1, 1.0/2, 1.0/6, 1.0/24, 1.0/120, 1.0/720, 1.0/5040, 1.0/40320,
		1.0/362880, 1.0/3628800, 1.0/39916800, 1.0/479001600, 1.0/6227020800)
	return math.Ldexp(series, int(k))
}

// ln returns the natural logarithm of x > 0, within 4e-16 of it or of 1:
// x = m 2^k, ln m = 2 (s + s^3/3 + s^5/5 + ...), s = (m - 1) / (m + 1).
func ln(x float64) float64 {
	m, k := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m, k = 2*m, k-1
	}
	s := (m - 1) / (m + 1)
	q := float64(s * s)
	series := poly(q, 1, 1.0/3, 1.0/5, 1.0/7, 1.0/9, 1.0/11, 1.0/13, 1.0/15, 1.0/17, 1.0/19, 1.0/21)
	return float64(float64(2*s)*series) + float64(float64(k)*math.Ln2)
}

// draw is a source of chance.
type draw struct {
	*rand.Rand
	spare float64 // a normal deviate that is left over
	has   bool
}

func newDraw(seed uint64) *draw { return &draw{Rand: rand.New(rand.NewPCG(seed, 15))} }

// normal returns a normal deviate, by the polar method (Marsaglia and Bray 1964).
func (d *draw) normal() float64 {
	if d.has {
		d.has = false
		return d.spare
	}
	for {
		u, v := float64(2*d.Float64())-1, float64(2*d.Float64())-1
		s := float64(u*u) + float64(v*v)
		if s >= 1 || s == 0 {
			continue
		}
		scale := math.Sqrt(float64(-2*ln(s)) / s)
		d.spare, d.has = float64(v*scale), true
		return float64(u * scale)
	}
}
