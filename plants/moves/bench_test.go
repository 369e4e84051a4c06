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

// BenchmarkSolve plans for beds of plants of which about a third stand badly, with
// a free place for every tenth, and finds the second choices of those that move.
func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{50, 200, 1000} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			p := bed(n, n/10, uint64(n))
			b.ReportAllocs()
			moved := 0
			for b.Loop() {
				plan, err := Solve(p)
				if err != nil {
					b.Fatal(err)
				}
				moved = 0
				for _, g := range plan.Groups {
					moved += len(g.Plants)
					for _, i := range g.Plants {
						plan.Second(i)
					}
				}
			}
			b.ReportMetric(float64(moved), "moved")
		})
	}
}

// bed is a made-up bed of n plants along a slope from wet to dry: each plant
// loses by how far it stands from the height it likes.
func bed(n, free int, seed uint64) Problem {
	rng := rand.New(rand.NewPCG(seed, 5))
	p := Problem{Caution: 1}
	for range n + free {
		p.Places = append(p.Places, Place{RoomCM: []float64{30, 45, 60, 90}[rng.IntN(4)], Refill: 0.2 + 0.2*rng.Float64()})
	}
	height := make([]float64, n+free)
	for q := range height {
		height[q] = rng.Float64()
	}
	for i, q := range rng.Perm(n + free)[:n] {
		likes := height[q] + 0.1*rng.NormFloat64()
		if i%3 == 0 {
			likes = rng.Float64()
		}
		spread := []float64{30, 45, 60}[rng.IntN(3)]
		p.Plants = append(p.Plants, Plant{
			At: q, SpreadCM: spread, Weight: 0.5 + rng.Float64(), Disturb: 0.05 + 0.1*rng.Float64(), GiveUp: 0.2,
		})
		for _, h := range height {
			far := h - likes
			p.Loss = append(p.Loss, 1-1/(1+20*far*far))
			p.Doubt = append(p.Doubt, 0.1*rng.Float64())
		}
	}
	return p
}
