package moves

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// beds draws made-up beds of 10 to 60 plants.
func beds() *rapid.Generator[Problem] {
	return rapid.Custom(func(t *rapid.T) Problem {
		p := bed(rapid.IntRange(10, 60).Draw(t, "plants"), rapid.IntRange(0, 12).Draw(t, "free"), rapid.Uint64().Draw(t, "seed"))
		p.Caution = rapid.SampledFrom([]float64{0, 0.5, 1, 2}).Draw(t, "caution")
		return p
	})
}

func mustSolve(t require.TestingT, p Problem) *Plan {
	plan, err := Solve(p)
	require.NoError(t, err)
	require.NoError(t, p.Prove(plan))
	return plan
}

// cost sums what a plan costs from the problem alone.
func cost(t require.TestingT, p *Problem, to []int) float64 {
	sum, taken := 0.0, map[int]bool{}
	for i, q := range to {
		if q == GivenUp {
			sum += p.giveUpCost(i)
			continue
		}
		require.False(t, taken[q])
		taken[q] = true
		sum += p.cost(i, q)
	}
	for q, r := range p.Places {
		if !taken[q] {
			sum += r.Refill
		}
	}
	return sum
}

func moved(plan *Plan) int {
	n := 0
	for _, m := range plan.Moves {
		if m.To != m.From && m.To != GivenUp {
			n++
		}
	}
	return n
}

// What is true of dearer moves, by exchanging two plans: dearer by the same for
// all (weights 1), never more plants are moved; dearer for one plant, that one is
// not moved if it was not before. (Dearer for one plant can mean more moves in
// all: others go round it.) More caution, never more doubt taken on. The least
// cost never falls with any of them.
func TestDearerMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := beds().Draw(t, "bed")
		for i := range p.Plants {
			p.Plants[i].Weight = 1
		}
		before := mustSolve(t, p)
		more := rapid.Float64Range(0.001, 0.3).Draw(t, "more")

		all := p
		all.Plants = slices.Clone(p.Plants)
		for i := range all.Plants {
			all.Plants[i].Disturb += more
		}
		after := mustSolve(t, all)
		require.LessOrEqual(t, moved(after), moved(before))
		require.GreaterOrEqual(t, after.Objective, before.Objective-1e-9)

		one := p
		one.Plants = slices.Clone(p.Plants)
		i := rapid.IntRange(0, len(p.Plants)-1).Draw(t, "plant")
		one.Plants[i].Disturb += more
		after = mustSolve(t, one)
		require.GreaterOrEqual(t, after.Objective, before.Objective-1e-9)
		if m := before.Moves[i]; m.Action == Stay || m.Action == Replace {
			require.Contains(t, []Action{Stay, Replace}, after.Moves[i].Action)
		}

		careful := p
		careful.Caution += more
		after = mustSolve(t, careful)
		require.LessOrEqual(t, doubts(&p, after), doubts(&p, before)+1e-9)
		require.GreaterOrEqual(t, after.Objective, before.Objective-1e-9)

		refill := p
		refill.Places = slices.Clone(p.Places)
		q := rapid.IntRange(0, len(p.Places)-1).Draw(t, "place")
		refill.Places[q].Refill += more
		after = mustSolve(t, refill)
		require.GreaterOrEqual(t, after.Objective, before.Objective-1e-9)
		if !slices.Contains(before.Open, q) {
			require.NotContains(t, after.Open, q, "a place that is dearer to refill is not left now")
		}
	})
}

func doubts(p *Problem, plan *Plan) float64 {
	sum := 0.0
	for i, m := range plan.Moves {
		if m.To != m.From && m.To != GivenUp {
			sum += p.Plants[i].weight() * p.Doubt[i*len(p.Places)+m.To]
		}
	}
	return sum
}

// Without doubt in the way plants go where they lose least; with caution beyond
// measure none is moved.
func TestCaution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := beds().Draw(t, "bed")
		for k := range p.Doubt {
			p.Doubt[k] += 0.01
		}
		p.Caution = 1e3
		require.Zero(t, moved(mustSolve(t, p)))
		p.Caution = 0
		bold := mustSolve(t, p)
		p.Doubt = nil
		p.Caution = 3
		require.InDelta(t, bold.Objective, mustSolve(t, p).Objective, 1e-9)
	})
	p := bed(40, 4, 1)
	p.Caution = 0
	assert.Greater(t, moved(mustSolve(t, p)), 5)
}

// The least cost does not depend on the order of plants or of places, and one
// more free place never makes the plan gain less.
func TestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := beds().Draw(t, "bed")
		n, m := len(p.Plants), len(p.Places)
		rows, columns := rapid.Permutation(indices(n)).Draw(t, "rows"), rapid.Permutation(indices(m)).Draw(t, "columns")
		at := make([]int, m)
		for k, q := range columns {
			at[q] = k
		}
		var o Problem
		o.Caution = p.Caution
		for _, q := range columns {
			o.Places = append(o.Places, p.Places[q])
		}
		for _, i := range rows {
			w := p.Plants[i]
			w.At = at[w.At]
			o.Plants = append(o.Plants, w)
			for _, q := range columns {
				o.Loss, o.Doubt = append(o.Loss, p.Loss[i*m+q]), append(o.Doubt, p.Doubt[i*m+q])
			}
		}
		before, after := mustSolve(t, p), mustSolve(t, o)
		require.InDelta(t, before.Objective, after.Objective, 1e-9)
		require.InDelta(t, before.Gain, after.Gain, 1e-9)

		var wide Problem
		wide.Caution, wide.Plants = p.Caution, p.Plants
		wide.Places = append(slices.Clone(p.Places), Place{Refill: 0.3})
		for i := range n {
			wide.Loss = append(append(wide.Loss, p.Loss[i*m:(i+1)*m]...), 0.1)
			wide.Doubt = append(append(wide.Doubt, p.Doubt[i*m:(i+1)*m]...), 0.1)
		}
		require.GreaterOrEqual(t, mustSolve(t, wide).Gain, before.Gain-1e-9)
	})
}

// The second choice of each plant in beds of 10 to 60 is what solving anew finds
// when the plant is barred from what it got.
func TestSecondChoiceAgainstSolvingAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := beds().Draw(t, "bed")
		if rapid.Bool().Draw(t, "none given up") {
			for i := range p.Plants {
				p.Plants[i].GiveUp = math.Inf(1)
			}
		}
		plan := mustSolve(t, p)
		for i, m := range plan.Moves {
			second := plan.Second(i)
			s := newSolution(&p)
			if m.To == GivenUp {
				s.out[i] = math.Inf(1)
			} else {
				s.cost[i*s.m+m.To] = math.Inf(1)
			}
			if !s.solve() {
				require.True(t, math.IsInf(second.Extra, 1))
				continue
			}
			anew := s.base
			for k, q := range s.column {
				if q == without {
					anew += s.out[k]
				} else {
					anew += s.at(k, int(q))
				}
			}
			require.InDelta(t, anew, plan.Objective+second.Extra, 1e-9, "plant %d", i)
		}
	})
}

// A plan that is not the best, or says something else than it does, is not
// proved by its prices.
func TestProveRefuses(t *testing.T) {
	p := bed(30, 3, 9)
	good := mustSolve(t, p)
	require.NotEmpty(t, good.Groups)
	for name, spoil := range map[string]func(*Plan){
		"a group left out": func(l *Plan) {
			for _, i := range l.Groups[0].Plants {
				l.Moves[i].To = l.Moves[i].From
			}
			l.Objective += l.Groups[0].Gain
		},
		"two at one place":  func(l *Plan) { l.Moves[0].To = l.Moves[1].To },
		"another objective": func(l *Plan) { l.Objective -= 0.001 },
		"a plant's price":   func(l *Plan) { l.PlantPrice[3] -= 0.001 },
		"a place's price":   func(l *Plan) { l.PlacePrice[l.Moves[2].To] += 0.001 },
		"an open place's":   func(l *Plan) { l.PlacePrice[l.Open[0]] -= 0.001 },
		"a plant that would pay less elsewhere": func(l *Plan) {
			k := slices.IndexFunc(l.Moves, func(m Move) bool { return m.Action == Stay })
			p.Plants[k].GiveUp = 1e6 // so that only other places are cheaper
			l.PlantPrice[k] += 10
			l.PlacePrice[l.Moves[k].To] -= 10
		},
		"one plant too few":  func(l *Plan) { l.Moves = l.Moves[1:] },
		"one price too few":  func(l *Plan) { l.PlacePrice = l.PlacePrice[1:] },
		"a price of nothing": func(l *Plan) { l.PlantPrice[0] = math.NaN() },
	} {
		bad := *good
		bad.Moves, bad.PlantPrice, bad.PlacePrice = slices.Clone(good.Moves), slices.Clone(good.PlantPrice), slices.Clone(good.PlacePrice)
		spoil(&bad)
		assert.Error(t, p.Prove(&bad), name)
	}
}

func TestCheck(t *testing.T) {
	for want, spoil := range map[string]func(*Problem){
		"losses: want":          func(p *Problem) { p.Loss = p.Loss[1:] },
		"doubts: want":          func(p *Problem) { p.Doubt = p.Doubt[1:] },
		"caution":               func(p *Problem) { p.Caution = math.NaN() },
		"cost of refilling":     func(p *Problem) { p.Places[1].Refill = math.Inf(1) },
		"room":                  func(p *Problem) { p.Places[1].RoomCM = math.NaN() },
		"place 99: want":        func(p *Problem) { p.Plants[2].At = 99 },
		"at the same place":     func(p *Problem) { p.Plants[2].At = p.Plants[1].At },
		"a spread and a weight": func(p *Problem) { p.Plants[0].Weight = -1 },
		"disturbance":           func(p *Problem) { p.Plants[0].Disturb = -0.1 },
		"giving up NaN":         func(p *Problem) { p.Plants[0].GiveUp = math.NaN() },
		"loss of plant 1 at":    func(p *Problem) { p.Loss[len(p.Places)+2] = math.NaN() },
		"doubt of plant 1 at":   func(p *Problem) { p.Doubt[len(p.Places)+2] = -1 },
		"is not finite":         func(p *Problem) { p.Loss[p.Plants[0].At] = math.Inf(1) },
	} {
		p := bed(5, 2, 3)
		require.NoError(t, p.check())
		spoil(&p)
		_, err := Solve(p)
		assert.ErrorContains(t, err, want)
		_, err = Ranked(p, 0)
		assert.ErrorContains(t, err, want)
	}
	_, err := Ranked(bed(5, 2, 3), 5)
	assert.Error(t, err)
	plan := mustSolve(t, Problem{Places: []Place{{Refill: 0.25}}})
	assert.Equal(t, 0.25, plan.Objective)
	assert.Equal(t, []int{0}, plan.Open)
}
