package season

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Fall is a pond that fell by so many mm, or not to be seen, in so many hours. AtLeast says that it was gone
// by the end, so that it may have fallen sooner.
type Fall struct {
	MM, Hours float64
	AtLeast   bool
}

// How far a fall may be off. Assumptions, no source.
const (
	stickMM    = 6    // standard deviation of one reading of the depth: a quarter of an inch
	pondSpread = 0.25 // of the rate from ponding to ponding, as a share: warmth of the water, how wet the ground was
)

// RateOfFalls weighs what is believed of the rate of the ground, mm/h, ln normal about
// beliefMMH with the standard deviation sd, by ponds that no rain fed: they fall at the
// rate of the ground, or of the mix if that is slower (what the balance does,
// zones/water). Each weighs by how well it could be read; one that was gone by an hour
// only bounds the rate from below. What evaporates is counted as soaking away, up to 0.3
// mm/h. It returns the quantiles 5, 50 and 95 % of the rate and the standard deviation of
// the ln of that at which the bed drains, at most the mix's, from a grid.
func RateOfFalls(beliefMMH, sd, mixMMH float64, falls []Fall) (low, middle, high, spread float64) {
	const points, widths = 801, 5
	before := distuv.Normal{Mu: math.Log(beliefMMH), Sigma: sd}
	from, to := before.Mu-widths*sd, before.Mu+widths*sd
	for _, f := range falls { // what was seen may lie outside
		seen := math.Log(max(f.MM, stickMM) / f.Hours)
		from, to = min(from, seen-1), max(to, seen+1)
	}
	logs, weights := make([]float64, points), make([]float64, points)
	for i := range logs {
		x := from + (to-from)*float64(i)/(points-1)
		log := before.LogProb(x)
		falling := min(math.Exp(x), mixMMH)
		for _, f := range falls {
			would := distuv.Normal{Mu: falling * f.Hours, Sigma: math.Hypot(pondSpread*falling*f.Hours, math.Sqrt2*stickMM)}
			if f.AtLeast {
				log += math.Log(max(1e-300, would.Survival(f.MM)))
			} else {
				log += would.LogProb(f.MM)
			}
		}
		logs[i], weights[i] = x, log
	}
	most, sum, mean, square := slices.Max(weights), 0.0, 0.0, 0.0
	for i, w := range weights {
		weights[i] = math.Exp(w - most)
		sum += weights[i]
		mean += weights[i] * min(logs[i], math.Log(mixMMH))
	}
	mean /= sum
	for i, w := range weights {
		off := min(logs[i], math.Log(mixMMH)) - mean
		square += w * off * off / sum
	}
	at := func(p float64) float64 {
		so := 0.0
		for i, w := range weights {
			if so += w; so >= p*sum {
				return math.Exp(logs[i])
			}
		}
		return math.Exp(logs[points-1])
	}
	return at(0.05), at(0.5), at(0.95), math.Sqrt(square)
}
