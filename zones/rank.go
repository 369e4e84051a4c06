package zones

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// rankCorrelation is Spearman's coefficient, ties sharing the mean of their ranks; NaN
// where all are alike. Source: textbook.
func rankCorrelation(a, b []float64) float64 { return stat.Correlation(ranks(a), ranks(b), nil) }

func ranks(values []float64) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(values[i], values[j]) })
	out := make([]float64, len(values))
	for from := 0; from < len(order); {
		to := from
		for to+1 < len(order) && values[order[to+1]] == values[order[from]] {
			to++
		}
		for k := from; k <= to; k++ {
			out[order[k]] = float64(from+to)/2 + 1
		}
		from = to + 1
	}
	return out
}
