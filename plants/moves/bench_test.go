package moves

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkAssign solves matrices of random costs and reports the time as a
// multiple of scipy's for the same matrix, taken in one process of its own. The
// matrices are kept, and neither side counts making them.
func BenchmarkAssign(b *testing.B) {
	for _, n := range []int{50, 200, 1000} {
		for _, kind := range []string{"floats", "whole", "product"} {
			b.Run(fmt.Sprintf("%d/%s", n, kind), func(b *testing.B) {
				rng := rand.New(rand.NewPCG(uint64(n), 3))
				cost := make([]float64, n*n)
				for k := range cost {
					switch kind {
					case "floats":
						cost[k] = rng.Float64()
					case "whole":
						cost[k] = float64(rng.IntN(100))
					case "product": // hard for augmenting paths (Machol and Wien 1977; from memory)
						cost[k] = float64((k/n + 1) * (k%n + 1))
					}
				}
				line := scipy(b, pack(nil, cost, n, n), "1")
				theirs, err := strconv.ParseFloat(line[0], 64)
				require.NoError(b, err)
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Assign(cost, n, n); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/theirs, "times-scipy")
			})
		}
	}
}
