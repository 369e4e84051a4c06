package site

import (
	"fmt"
	"math"
	"slices"
)

// QuantileWeibull returns the value that a share p of years stays at or below,
// by straight lines between the plotting positions i / (n + 1) of the sorted
// values: with h = (n + 1) p, x[floor h] + (h - floor h)(x[floor h + 1] -
// x[floor h]). Below 1 / (n + 1) it is the smallest value and above n / (n + 1)
// the largest: nothing is extrapolated. NaN for no values; it panics on a NaN
// among the values and on p outside 0 to 1.
// Source: Hyndman and Fan 1996, definition 6.
func QuantileWeibull(values []float64, p float64) float64 {
	if !(p >= 0 && p <= 1) {
		panic(fmt.Sprintf("site: quantile of share %v", p))
	}
	return quantile(values, float64(len(values)+1)*p)
}

// OneYearInTen returns the value passed in one year of ten: the upper 0.9
// quantile by QuantileWeibull. With nine years or fewer that is the largest
// value seen, whatever its true rarity, so callers must say how many years it
// rests on. NaN for no values.
func OneYearInTen(values []float64) float64 { return QuantileWeibull(values, 0.9) }

// quantile returns the value at place h, counted from 1, of the sorted values,
// by a straight line between neighbours, the ends held.
func quantile(values []float64, h float64) float64 {
	n := len(values)
	if n == 0 {
		return math.NaN()
	}
	sorted := slices.Clone(values)
	slices.Sort(sorted) // NaN sorts first
	if math.IsNaN(sorted[0]) {
		panic("site: quantile of values with NaN among them")
	}
	// Products such as (9 + 1) x 0.9 must land on a whole place.
	if near := math.Round(h); math.Abs(h-near) < 1e-9*float64(n+1) {
		h = near
	}
	if h <= 1 {
		return sorted[0]
	}
	if h >= float64(n) {
		return sorted[n-1]
	}
	low := int(h)
	part := h - float64(low)
	if part == 0 || sorted[low-1] == sorted[low] {
		return sorted[low-1] // also keeps Inf - Inf out
	}
	return sorted[low-1] + part*(sorted[low]-sorted[low-1])
}
