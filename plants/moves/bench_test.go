package moves

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// families are kinds of costs: those that methods of assignment are usually tried
// on, and those that people's beds come near to. All of it is made up.
var families = []string{"floats", "whole", "ties", "near", "product", "outer", "sum", "distance", "squares", "bed"}

// family draws n rows of costs; m columns, more than n for a bed with free places.
func family(kind string, n int) (cost []float64, m int) {
	rng := rand.New(rand.NewPCG(uint64(n), 3))
	if kind == "bed" {
		p := bed(n, n/10, uint64(n))
		for i := range p.Plants {
			for q := range p.Places {
				cost = append(cost, p.cost(i, q)-p.Places[q].Refill)
			}
		}
		return cost, len(p.Places)
	}
	at := make([][4]float64, n)
	for i := range at {
		at[i] = [4]float64{rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()}
	}
	for k := range n * n {
		i, j, noise := k/n, k%n, rng.Float64()
		x, y := at[i][0]-at[j][1], at[i][2]-at[j][3]
		c := noise // floats
		switch kind {
		case "whole":
			c = math.Floor(100 * noise)
		case "ties":
			c = math.Floor(10 * noise)
		case "near":
			c = 1 + noise/1000
		case "product": // hard for augmenting paths (Machol and Wien 1977; from memory)
			c = float64((i + 1) * (j + 1))
		case "outer":
			c = at[i][0]*at[j][1] + noise/1000
		case "sum":
			c = at[i][0] + at[j][1] + noise/1000
		case "distance":
			c = math.Hypot(x, y)
		case "squares":
			c = x*x + y*y
		}
		cost = append(cost, c)
	}
	return cost, n
}

// BenchmarkAssign solves matrices of each family and reports the processor time as
// a multiple of scipy's for the same matrix, taken in one process of its own. The
// matrices are kept, and neither side counts making them.
func BenchmarkAssign(b *testing.B) {
	for _, n := range []int{50, 200, 1000, 2000} {
		for _, kind := range families {
			b.Run(fmt.Sprintf("%d/%s", n, kind), func(b *testing.B) {
				cost, m := family(kind, n)
				line := scipy(b, pack(nil, cost, n, m), "1")
				theirs, err := strconv.ParseFloat(line[0], 64)
				require.NoError(b, err)
				b.ReportAllocs()
				begin := processor()
				for b.Loop() {
					if _, err := assign(cost, n, m); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(processor()-begin)/float64(b.N)/theirs, "times-scipy")
			})
		}
	}
}

// BenchmarkSolve plans for beds of plants of which about a third stand badly, with
// a free place for every tenth, and finds the second choices of those that move
// and, beside it, of all. It reports medians of processor time, ms.
func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{50, 200, 1000} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			p := bed(n, n/10, uint64(n))
			var plans, ofMoved, ofAll []float64
			timed := func(into *[]float64, do func()) {
				begin := processor()
				do()
				*into = append(*into, (processor()-begin).Seconds()*1e3)
			}
			var moved []int
			for b.Loop() {
				var plan *Plan
				timed(&plans, func() {
					var err error
					plan, err = Solve(p)
					require.NoError(b, err)
				})
				moved = nil
				for _, g := range plan.Groups {
					moved = append(moved, g.Plants...)
				}
				timed(&ofMoved, func() {
					for _, i := range moved {
						plan.Second(i)
					}
				})
				timed(&ofAll, func() {
					for i := range p.Plants {
						plan.Second(i)
					}
				})
			}
			for name, all := range map[string][]float64{"plan": plans, "seconds-of-moved": ofMoved, "seconds-of-all": ofAll} {
				slices.Sort(all)
				b.ReportMetric(all[len(all)/2], "ms-"+name)
			}
			b.ReportMetric(float64(len(moved)), "moved")
			b.ReportMetric(0, "ns/op")
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
