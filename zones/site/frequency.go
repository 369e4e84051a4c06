package site

import (
	"fmt"
	"math"
	"slices"
)

// QuantileWeibull returns the value that a share p of years stays at or below, by
// straight lines between the plotting positions i / (n + 1) of the sorted values, the
// ends held: nothing is extrapolated. NaN for no values; it panics on NaN and on p
// outside 0 to 1. Source: Hyndman and Fan 1996, definition 6.
func QuantileWeibull(values []float64, p float64) float64 {
	if !(p >= 0 && p <= 1) {
		panic(fmt.Sprintf("site: quantile of share %v", p))
	}
	return quantile(values, float64(len(values)+1)*p)
}

// OneYearInTen returns the value passed in one year of ten, the 0.9 quantile. With nine
// years or fewer that is the largest, so callers must say how many years there are. NaN
// for none.
func OneYearInTen(values []float64) float64 { return QuantileWeibull(values, 0.9) }

// quantile returns the value at place h, from 1, of the sorted values, the ends held.
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
