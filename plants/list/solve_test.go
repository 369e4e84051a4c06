package list

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"hollowbed/testdata/testenv"
	"pgregory.net/rapid"
)

// drawn draws an instance of the family with little effort.
func drawn(t *rapid.T) Problem {
	shapes := family()
	p := instance(shapes[rapid.IntRange(0, len(shapes)-1).Draw(t, "shape")], rapid.Uint64().Draw(t, "seed"))
	p.Effort = 5000
	return p
}

// solveOrSkip skips problems whose wanted species clash.
func solveOrSkip(t *rapid.T, p Problem) Result {
	res, err := Solve(p)
	var clash *Clash
	if err != nil {
		require.ErrorAs(t, err, &clash)
		t.Skip("wanted species clash")
	}
	return res
}

func TestEveryListObeysTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		res := solveOrSkip(t, p)
		require.NoError(t, p.check(res.Lines))
		require.InDelta(t, p.objective(res.Lines), res.Objective, 1e-12)
		require.GreaterOrEqual(t, res.Bound, res.Objective)
		cost, area := 0.0, make([]float64, len(p.Zones))
		bloom := uint16(0)
		for _, l := range res.Lines {
			c := p.Candidates[l.Candidate]
			s := p.Species[c.Species]
			cost += float64(l.Count) * s.Price
			if s.Layer != Bulb {
				area[c.Zone] += float64(l.Count) * s.AreaM2
			}
			bloom |= s.Bloom
		}
		require.InDelta(t, cost, res.Cost, 1e-6)
		require.Equal(t, bloom, res.BloomMonths)
		for z := range p.Zones {
			require.InDelta(t, area[z]/p.Zones[z].AreaM2, res.Filled[z], 1e-9)
			require.Equal(t, res.Filled[z] >= 0.95, res.WhyEmpty[z] == WhyFull)
		}
	})
}

func TestMoreMoneyIsNeverWorseThanTheGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		p.Budget = rapid.Float64Range(20, 400).Draw(t, "budget")
		few := solveOrSkip(t, p)
		p.Budget *= rapid.Float64Range(1, 3).Draw(t, "times")
		more := solveOrSkip(t, p)
		require.GreaterOrEqual(t, more.Bound, few.Objective*(1-1e-9))
		require.GreaterOrEqual(t, more.Objective, few.Objective*(1-more.Gap)-1e-9)
	})
}

func TestOrderOfCandidatesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		q := p
		q.Candidates = append([]Candidate(nil), p.Candidates...)
		rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0)).Shuffle(len(q.Candidates), func(i, j int) {
			q.Candidates[i], q.Candidates[j] = q.Candidates[j], q.Candidates[i]
		})
		a, b := solveOrSkip(t, p), solveOrSkip(t, q)
		require.Equal(t, planted(p, a.Lines), planted(q, b.Lines))
		require.InDelta(t, a.Objective, b.Objective, 1e-12)
		require.Equal(t, a.Bound, b.Bound)
	})
}

// planted maps species and zone to count.
func planted(p Problem, lines []Line) map[[2]int]int {
	out := map[[2]int]int{}
	for _, l := range lines {
		c := p.Candidates[l.Candidate]
		out[[2]int{c.Species, c.Zone}] = l.Count
	}
	return out
}

func TestSameSeedSameAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		require.Equal(t, solveOrSkip(t, p), solveOrSkip(t, p))
	})
}

// On one problem, more effort finds at least as good a list with these seeds,
// and the reasons for stopping agree with the gap.
func TestStoppedAgreesWithTheGap(t *testing.T) {
	seen := map[string]bool{}
	for i, sh := range family() {
		for seed := range testenv.Of(uint64(1), 4) {
			p := instance(sh, uint64(i)*100+seed)
			p.Effort = 20_000
			res, err := Solve(p)
			if err != nil {
				continue
			}
			seen[res.Stopped] = true
			switch res.Stopped {
			case stoppedProved:
				assert.LessOrEqual(t, res.Gap, 1e-9)
			case stoppedGap:
				assert.LessOrEqual(t, res.Gap, 1e-3)
			case stoppedEffort:
				assert.Greater(t, res.Gap, 1e-3)
			default:
				assert.Fail(t, "unknown reason", res.Stopped)
			}
		}
	}
	assert.True(t, seen[stoppedGap] && seen[stoppedEffort], "%v", seen)
}

func TestAlternativesAreFeasibleAndRightlyPriced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		res := solveOrSkip(t, p)
		if len(res.Lines) == 0 {
			t.Skip("nothing planted")
		}
		line := rapid.IntRange(0, len(res.Lines)-1).Draw(t, "line")
		last := math.Inf(1)
		offered := map[int]bool{}
		for _, a := range Alternatives(p, res)[line] {
			lines := append([]Line(nil), res.Lines...)
			lines[line] = Line{a.Candidate, a.Count}
			require.NoError(t, p.check(lines))
			require.InDelta(t, p.objective(lines)-res.Objective, a.Change, 1e-12)
			require.LessOrEqual(t, a.Change, last)
			last = a.Change
			offered[a.Candidate] = true
			// One more plant would break a rule, or it would have been offered.
			lines[line].Count++
			require.Error(t, p.check(lines))
		}
		// What is not offered cannot stand there, not even with its least number.
		old := p.Candidates[res.Lines[line].Candidate]
		for k, c := range p.Candidates {
			if c.Zone != old.Zone || offered[k] || planted(p, res.Lines)[[2]int{c.Species, c.Zone}] > 0 {
				continue
			}
			lines := append([]Line(nil), res.Lines...)
			lines[line] = Line{k, max(1, p.limits()[k].least)}
			require.Error(t, p.check(lines), "candidate %d was left out", k)
		}
	})
}

func TestAlternativesByHand(t *testing.T) {
	p := small()
	res := Result{Lines: []Line{{0, 6}, {4, 10}}}
	res.Objective = p.objective(res.Lines)
	got := Alternatives(p, res)[0]
	// 6 aa (3 m2, 0.9 + 0.1 native, months 1 and 2) go: -0.3 and month 1, -0.1.
	// 15 bb (3 m2, 0.8): +0.24, but only one species is left: -0.1.
	// 3 cc (3 m2, 0.7): +0.21 and month 4, +0.1.
	require.Len(t, got, 2)
	assert.Equal(t, Alternative{2, 3, got[0].Change}, got[0])
	assert.InDelta(t, -0.3-0.1+0.21+0.1, got[0].Change, 1e-12)
	assert.Equal(t, Alternative{1, 15, got[1].Change}, got[1])
	assert.InDelta(t, -0.3-0.1+0.24-0.1, got[1].Change, 1e-12)

	p.Species[0].Wanted = true
	assert.Empty(t, Alternatives(p, res)[0], "the last place of a wanted species stays")
}
