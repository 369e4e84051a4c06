package zones

import (
	"math"
	"math/rand/v2"
)

// latinHypercube returns n points in the unit cube, such that in every dimension each of
// n equal strata holds one point at random; the same seed, the same points. Source:
// McKay, Beckman and Conover 1979 [S31].
func latinHypercube(n, dimensions int, seed uint64) [][]float64 {
	r := rand.New(rand.NewPCG(seed, 0))
	points := make([][]float64, n)
	for i := range points {
		points[i] = make([]float64, dimensions)
	}
	for d := range dimensions {
		for i, stratum := range r.Perm(n) {
			points[i][d] = (float64(stratum) + r.Float64()) / float64(n)
		}
	}
	return points
}

// balancedBootstrap draws n times as many of the numbers below many as there are, each
// exactly n times in all; the same seed, the same draws. Source: Davison, Hinkley and
// Schechtman 1986 [S32].
func balancedBootstrap(n, many int, seed uint64) [][]int {
	r := rand.New(rand.NewPCG(seed, 1))
	all := make([]int, n*many)
	for i := range all {
		all[i] = i % many
	}
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	draws := make([][]int, n)
	for i := range draws {
		draws[i] = all[i*many : (i+1)*many]
	}
	return draws
}

// normalQuantile returns the value that a standard normal variable stays below
// with chance p: sqrt(2) erfinv(2p - 1). Source: definition (textbook).
func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// inNineOfTen is the normal quantile that with its negative bounds nine of ten values.
func inNineOfTen() float64 { return normalQuantile(0.95) }
