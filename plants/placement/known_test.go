package placement

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/basin"
)

// flat is a bed that is all bottom.
func flat(t *testing.T, o basin.Outline) *basin.Basin {
	b, err := basin.New(basin.Spec{Outline: o, PondingMM: 100})
	require.NoError(t, err)
	return b
}

// No more discs are placed than a square can hold, and nearly as large ones as
// it can. Largest radius of n equal discs in a square of side 1: closed forms for
// n = 1, 2, 4, 5, 9 (elementary; 9 proved by Schaer 1965, from memory); n = 7 and
// 10 as in the tables of disc packings (proved optimal), from memory.
func TestDiscsInASquare(t *testing.T) {
	testenv.NotRaced(t) // TestRulesAreKept is
	for n, r := range map[int]float64{
		1: 0.5, 2: 1 / (2 + math.Sqrt2), 4: 0.25, 5: (math.Sqrt2 - 1) / 2, 7: 0.174458, 9: 1.0 / 6, 10: 0.148204,
	} {
		p := Problem{Bed: flat(t, basin.Outline{Kind: "rectangle", LengthM: 1, WidthM: 1}),
			Lines: []Line{{ID: "a", Name: "Disc", Zone: "bottom", Count: n, SpreadCM: 200 * r * 0.96}},
			Risk:  func(int, float64, float64) float64 { return 0 }}
		res, err := Solve(p)
		require.NoError(t, err)
		assert.Empty(t, res.Left, "%d discs at 96 %% of the largest radius", n)
		assert.Empty(t, broken(p, res))
		p.Lines[0].SpreadCM = 200 * r * 1.002
		res, err = Solve(p)
		require.NoError(t, err)
		require.NotEmpty(t, res.Left, "%d discs larger than can be", n)
		if n > 1 {
			// By a square's likeness: the needed overlap o turns r to (1-o) r and the
			// room for centres stays, so (1-o) 2r = m, the least distance of n points
			// in a square of side 1-2r.
			m := 2 * r / (1 - 2*r) * (1 - 2*r*1.002)
			least := 1 - m/(2*r*1.002)
			assert.Greater(t, res.NeededOverlap, least-1e-6, "%d discs", n)
			assert.Less(t, res.NeededOverlap, least+0.04, "%d discs", n)
		}
	}
}

// Small beds of a few squares: no placement on their places loses less than the
// bound, and ours with looks set aside is about as good as the best of them.
func TestAgainstBruteForce(t *testing.T) {
	testenv.NotRaced(t) // TestRulesAreKept is
	for seed := range uint64(12) {
		p := invented(flat(t, basin.Outline{Kind: "rectangle", LengthM: 1.2, WidthM: 0.9}), seed, 0, 3, func(n int) float64 { return 30 + 5*float64(n) })
		risk := func(line int, x, y float64) float64 { // steep, so that places matter
			a := float64(seed) + 2*float64(line)
			return 0.5 + 0.45*math.Sin(a+4*x*math.Cos(a)+4*y*math.Sin(a))
		}
		p.Risk, p.RiskStepM, p.GroupWorth, p.HideWorth, p.Effort = risk, 0.15, -1, -1, 20
		for i := range p.Lines {
			p.Lines[i].Count = 1 + i%2
		}
		g := newGround(&p)
		c := newCrowd(g)
		best := math.Inf(1)
		c.every(0, func() { best = math.Min(best, c.loss()) })
		r, err := Solve(p)
		require.NoError(t, err)
		require.False(t, math.IsInf(best, 1))
		name := fmt.Sprintf("seed %d: bound %.4f, brute force %.4f, ours %.4f, by chance %.4f", seed, r.BoundM2, best, r.LossM2, r.RandomMeanM2)
		t.Log(name)
		assert.LessOrEqual(t, r.BoundM2, best+1e-12, name)
		assert.LessOrEqual(t, r.BoundM2, r.LossM2+1e-12, name)
		assert.LessOrEqual(t, r.LossM2, 1.05*best, name)
	}
}

// every tries all places of the classes for the plants from i on.
func (c *crowd) every(i int, visit func()) {
	if i == len(c.plants) {
		visit()
		return
	}
	for _, at := range c.g.classes[c.plants[i].class].place {
		free := true
		for j := range i {
			free = free && math.Hypot(c.x[j]-at[0], c.y[j]-at[1]) >= c.apartM(i, j, 0)-1e-9
		}
		if free {
			c.x[i], c.y[i], c.in[i] = at[0], at[1], true
			c.every(i+1, visit)
			c.in[i] = false
		}
	}
}
