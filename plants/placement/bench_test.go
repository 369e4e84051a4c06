package placement

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

// sized is a bed of five by three whose list, full to a share of every zone,
// holds about so many plants.
func sized(b testing.TB, plants int, fill float64) Problem {
	side := 1.0
	for range 40 {
		o := basin.Outline{Kind: "rectangle", LengthM: 5 * side, WidthM: 3 * side}
		made, err := basin.New(basin.Spec{Outline: o, PondingMM: 150, SideRun: 3, RimWidthM: 0.45, FreeboardMM: 50})
		require.NoError(b, err)
		p := invented(made, 1, fill, 1+min(4, plants/40), someSpreads)
		if n := total(p); n >= plants {
			return p
		} else {
			side *= math.Max(1.01, math.Sqrt(float64(plants)/float64(n+1)))
		}
	}
	require.FailNow(b, "no such bed")
	return Problem{}
}

func total(p Problem) int {
	n := 0
	for _, l := range p.Lines {
		n += l.Count
	}
	return n
}

func BenchmarkSolve(b *testing.B) {
	for _, fill := range []float64{0.8, 1} {
		for _, n := range []int{20, 200, 500, 2000} {
			p := sized(b, n, fill)
			b.Run(fmt.Sprintf("fill %g/plants %d", fill, n), func(b *testing.B) {
				var r *Result
				for b.Loop() {
					r, _ = Solve(p)
				}
				b.ReportMetric(float64(total(p)), "plants")
				b.ReportMetric(float64(total(p)-len(r.Plants)), "left")
				b.ReportMetric(100*r.NeededOverlap, "needed%")
				b.ReportMetric(100*r.LossM2/r.RandomMeanM2, "of-random%")
				b.ReportMetric(100*r.BoundM2/r.RandomMeanM2, "bound-of-random%")
				g := 0
				for _, d := range r.Drifts {
					g += d
				}
				b.ReportMetric(float64(g)/float64(len(r.Drifts)), "drifts/line")
				b.ReportMetric(r.Hidden, "hidden")
			})
		}
	}
}
