package moves

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// everyPlan costs every way to give each plant a place of its own or none, and
// calls visit with each.
func everyPlan(p *Problem, visit func(to []int, cost float64)) {
	to, taken := make([]int, len(p.Plants)), make([]bool, len(p.Places))
	var place func(i int, cost float64)
	place = func(i int, cost float64) {
		if math.IsInf(cost, 1) {
			return
		}
		if i == len(to) {
			for q, r := range p.Places {
				if !taken[q] {
					cost += r.Refill
				}
			}
			visit(to, cost)
			return
		}
		to[i] = GivenUp
		place(i+1, cost+p.Plants[i].GiveUp+p.Caution*p.Plants[i].GiveUpDoubt)
		for q, r := range p.Places {
			w := p.Plants[i]
			if taken[q] || q != w.At && r.RoomCM > 0 && w.SpreadCM > r.RoomCM {
				continue
			}
			to[i], taken[q] = q, true
			c := p.Loss[i*len(p.Places)+q]
			if q != w.At {
				c += w.Disturb
				if p.Doubt != nil {
					c += p.Caution * p.Doubt[i*len(p.Places)+q]
				}
			}
			place(i+1, cost+w.weight()*c)
			taken[q] = false
		}
	}
	place(0, 0)
}

// problems draws problems; coarse ones have many ties.
func problems(maxPlants, maxFree int) *rapid.Generator[Problem] {
	return rapid.Custom(func(t *rapid.T) Problem {
		n := rapid.IntRange(1, maxPlants).Draw(t, "plants")
		m := n + rapid.IntRange(0, maxFree).Draw(t, "free")
		coarse := rapid.Bool().Draw(t, "coarse")
		value := func(name string, most float64) float64 {
			if coarse {
				return most * float64(rapid.IntRange(0, 4).Draw(t, name)) / 4
			}
			return rapid.Float64Range(0, most).Draw(t, name)
		}
		p := Problem{Caution: value("caution", 2)}
		order := rapid.Permutation(indices(m)).Draw(t, "at")
		for range m {
			p.Places = append(p.Places, Place{RoomCM: rapid.SampledFrom([]float64{0, 30, 60}).Draw(t, "room"), Refill: value("refill", 0.6)})
		}
		for i := range n {
			w := Plant{
				At: order[i], SpreadCM: rapid.SampledFrom([]float64{20, 40, 80}).Draw(t, "spread"),
				Weight: value("weight", 2), Disturb: value("disturb", 0.2), GiveUp: value("give up", 1),
				GiveUpDoubt: value("give up doubt", 0.1),
			}
			if rapid.IntRange(0, 3).Draw(t, "precious") == 0 {
				w.GiveUp = math.Inf(1)
			}
			p.Plants = append(p.Plants, w)
		}
		for range n * m {
			p.Loss = append(p.Loss, value("loss", 1))
			p.Doubt = append(p.Doubt, value("doubt", 0.2))
		}
		for i, w := range p.Plants {
			for q := range m {
				if q != w.At && rapid.IntRange(0, 7).Draw(t, "barred") == 0 {
					p.Loss[i*m+q] = math.Inf(1)
				}
			}
		}
		return p
	})
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// Every plan of small problems is tried: none costs less; the second choice of
// each plant is the best of those that do something else with it; each option of
// Ranked costs what the best plan with it costs.
func TestSolveAgainstEveryPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(5, 2).Draw(t, "problem")
		plan, err := Solve(p)
		require.NoError(t, err)
		require.NoError(t, p.Prove(plan))
		n := len(p.Plants)
		best := math.Inf(1)
		with := make([]map[int]float64, n)
		for i := range with {
			with[i] = map[int]float64{}
		}
		everyPlan(&p, func(to []int, cost float64) {
			best = math.Min(best, cost)
			for i, q := range to {
				if c, ok := with[i][q]; !ok || cost < c {
					with[i][q] = cost
				}
			}
		})
		require.InDelta(t, best, plan.Objective, 1e-9)
		for i, m := range plan.Moves {
			found, second := plan.Second(i), math.Inf(1)
			for q, c := range with[i] {
				if q != m.To {
					second = math.Min(second, c)
				}
			}
			if math.IsInf(second, 1) {
				require.True(t, math.IsInf(found.Extra, 1))
			} else {
				require.InDelta(t, second, plan.Objective+found.Extra, 1e-9, "second choice of plant %d", i)
				require.InDelta(t, second, with[i][found.To], 1e-9, "second choice of plant %d", i)
				require.NotEqual(t, m.To, found.To)
			}
			options, err := Ranked(p, i)
			require.NoError(t, err)
			require.Len(t, options, len(with[i]))
			for _, o := range options {
				require.InDelta(t, with[i][o.To], plan.Objective+o.Extra, 1e-9, "plant %d at %d", i, o.To)
			}
			require.True(t, slices.IsSortedFunc(options, func(a, b Option) int { return cmp.Compare(a.Extra, b.Extra) }))
		}
	})
}

// The plain example: two plants that stand in each other's right place, and a
// third that nothing suits.
func TestSolveByHand(t *testing.T) {
	p := Problem{
		Plants: []Plant{{Stake: "A1", At: 0, Disturb: 0.05, GiveUp: 0.3}, {Stake: "A2", At: 1, Disturb: 0.05, GiveUp: 0.3}, {Stake: "A3", At: 2, Disturb: 0.05, GiveUp: 0.3}},
		Places: []Place{{Refill: 0.2}, {Refill: 0.2}, {Refill: 0.2}},
		Loss: []float64{
			0.5, 0.1, 0.9,
			0.1, 0.4, 0.9,
			0.8, 0.8, 0.8,
		},
	}
	plan, err := Solve(p)
	require.NoError(t, err)
	require.NoError(t, p.Prove(plan))
	// nothing: 0.5 + 0.4 + 0.8; plan: (0.1 + 0.05) * 2 + give up 0.3 + refill 0.2
	assert.InDelta(t, 1.7, plan.Nothing, 1e-12)
	assert.InDelta(t, 0.8, plan.Objective, 1e-12)
	assert.Equal(t, []Action{Swap, Swap, Replace}, []Action{plan.Moves[0].Action, plan.Moves[1].Action, plan.Moves[2].Action})
	require.Len(t, plan.Groups, 2)
	assert.InDelta(t, 0.6, plan.Groups[0].Gain, 1e-12)
	assert.InDelta(t, 0.3, plan.Groups[1].Gain, 1e-12)
	assert.Equal(t, []int{2}, plan.Open)
	// A3's second choice: stay, 0.8 for 0.5.
	assert.Equal(t, 2, plan.Second(2).To)
	assert.InDelta(t, 0.3, plan.Second(2).Extra, 1e-12)
}
