package moves

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
)

// Each group by itself, all others left as they stand, gains what it says, that
// is more than 0: its improvement is larger than its disturbance and its doubts.
// Any of them may be left out.
func TestEachGroupPaysForItself(t *testing.T) {
	groups, cycles := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := beds().Draw(t, "bed")
		plan := mustSolve(t, p)
		stay := make([]int, len(p.Plants))
		for i, w := range p.Plants {
			stay[i] = w.At
		}
		nothing := cost(t, &p, stay)
		require.InDelta(t, nothing, plan.Nothing, 1e-9)
		sum, inGroup := 0.0, map[int]bool{}
		for k, g := range plan.Groups {
			to := slices.Clone(stay)
			var loss, disturb, doubt float64
			for _, i := range g.Plants {
				require.False(t, inGroup[i])
				inGroup[i] = true
				m := plan.Moves[i]
				require.Equal(t, k, m.Group)
				to[i] = m.To
				loss += p.Plants[i].weight() * m.LossBefore
				if m.To != GivenUp {
					loss -= p.Plants[i].weight() * m.LossAfter
					disturb += p.Plants[i].weight() * p.Plants[i].Disturb
					doubt += p.Caution * p.Plants[i].weight() * p.Doubt[i*len(p.Places)+m.To]
				}
			}
			require.InDelta(t, nothing-g.Gain, cost(t, &p, to), 1e-9, "by itself")
			require.InDelta(t, loss, g.Loss, 1e-9)
			require.InDelta(t, disturb, g.Disturb, 1e-9)
			require.InDelta(t, doubt, g.Doubt, 1e-9)
			require.Greater(t, g.Gain, 0.0)
			require.Greater(t, g.Loss-g.Refill-g.Discard, g.Disturb+g.Doubt)
			sum += g.Gain
			groups++
			if g.Cycle {
				cycles++
			}
		}
		require.InDelta(t, sum, plan.Gain, 1e-9)
		for i, m := range plan.Moves {
			require.Equal(t, m.Action != Stay, inGroup[i])
		}
	})
	if testenv.Heavy() { // fewer are drawn otherwise
		assert.Greater(t, groups, 100)
		assert.Greater(t, cycles, 10)
	}
}

// In the order of a chain every plant finds its new place empty; the plants of a
// cycle take each other's places and no other.
func TestGroupsCanBeDone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := beds().Draw(t, "bed")
		plan := mustSolve(t, p)
		stands := map[int]int{}
		for i, w := range p.Plants {
			stands[w.At] = i
		}
		for _, g := range plan.Groups {
			if g.Cycle {
				for _, i := range g.Plants {
					require.Equal(t, Swap, plan.Moves[i].Action)
					delete(stands, p.Plants[i].At)
				}
			}
			for _, i := range g.Plants {
				m := plan.Moves[i]
				if !g.Cycle {
					delete(stands, p.Plants[i].At)
				}
				if m.To == GivenUp {
					require.Equal(t, Replace, m.Action)
					continue
				}
				_, full := stands[m.To]
				require.False(t, full, "place %d is not empty", m.To)
				stands[m.To] = i
			}
		}
		var open []int
		for q := range p.Places {
			if _, full := stands[q]; !full {
				open = append(open, q)
			}
		}
		require.Equal(t, open, plan.Open)
	})
}

// Of plants alike, each group is as small as can be: twelve of one kind in the
// places of twelve of another trade in pairs, and of three alike in a chain only
// one is moved.
func TestSmallGroups(t *testing.T) {
	var p Problem
	const n = 12
	for i := range 2 * n {
		p.Places = append(p.Places, Place{})
		p.Plants = append(p.Plants, Plant{At: (i*7 + 5) % (2 * n), Disturb: 0.05, GiveUp: math.Inf(1)})
	}
	for i := range p.Plants { // even plants like even places; i*7+5 changes the parity
		for q := range p.Places {
			p.Loss = append(p.Loss, 0.1+0.5*float64((i+q)%2))
		}
	}
	plan := mustSolve(t, p)
	require.Len(t, plan.Groups, n)
	for _, g := range plan.Groups {
		assert.True(t, g.Cycle)
		assert.Len(t, g.Plants, 2)
		assert.InDelta(t, 0.9, g.Gain, 1e-9)
	}

	row := Problem{Places: make([]Place, 4)} // the last place is free, and good for all
	for i := range 3 {
		row.Plants = append(row.Plants, Plant{At: i, GiveUp: math.Inf(1)})
		row.Loss = append(row.Loss, 0.5, 0.5, 0.5, 0.1)
	}
	plan = mustSolve(t, row)
	require.Len(t, plan.Groups, 1)
	assert.Len(t, plan.Groups[0].Plants, 1)
	assert.InDelta(t, 0.4, plan.Gain, 1e-9)
}

// After small groups are made of them, no two plants of a group can trade aims at
// no cost.
func TestGroupsCannotBeSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(6, 3).Draw(t, "problem")
		plan := mustSolve(t, p)
		s := newSolution(&p)
		for _, g := range plan.Groups {
			for a, i := range g.Plants {
				for _, k := range g.Plants[:a] {
					ti, tk := plan.Moves[i].To, plan.Moves[k].To
					if ti != GivenUp && tk != GivenUp {
						change := s.at(i, tk) + s.at(k, ti) - s.at(i, ti) - s.at(k, tk)
						require.Greater(t, change, 1e-12)
					}
				}
			}
		}
	})
}
