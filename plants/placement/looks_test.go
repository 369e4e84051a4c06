package placement

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

func TestDriftCountsGroups(t *testing.T) {
	// Four in a row one apart, one alone, two together: worked by hand.
	xs := []float64{0, 1, 2, 3, 10, 20, 20.5}
	ys := make([]float64, len(xs))
	groups, alone := drift(xs, ys, 1.5)
	assert.Equal(t, 3, groups)
	assert.InDelta(t, 2*0.5+2*0.25+1+2*0.5, alone, 1e-12)
	var manyX, manyY []float64
	for i := range 200 {
		manyX, manyY = append(manyX, float64(i)), append(manyY, 0)
	}
	groups, _ = drift(manyX, manyY, 1)
	assert.Equal(t, 1, groups)
	groups, _ = drift(manyX, manyY, 0.9)
	assert.Equal(t, 200, groups)
}

func TestHidden(t *testing.T) {
	b := flat(t, basin.Outline{Kind: "rectangle", LengthM: 6, WidthM: 6})
	p := Problem{Bed: b, View: View{Kind: "side", X: 0, Y: 2}}
	l := newLooks(newGround(&p))
	tall, low := &plant{r: 0.5, h: 1.5}, &plant{r: 0.3, h: 0.5}
	front, back, aside := l.spot(3, 2), l.spot(3, 3), l.spot(3.4, 3)
	assert.InDelta(t, 0.5, l.hidden(tall, low, &front, &back), 1e-12, "wholly taller, half of the sight away, in line")
	assert.InDelta(t, 0.5*(1-0.8), l.hidden(tall, low, &front, &aside), 1e-12, "four fifths of its radius aside")
	assert.Zero(t, l.hidden(low, tall, &front, &back), "a low plant hides nothing")
	assert.Zero(t, l.hidden(tall, low, &back, &front), "nor does one behind")
	p.View = View{Kind: "point", X: 3, Y: 9}
	front, back = l.spot(3, 2), l.spot(3, 3)
	assert.Zero(t, l.hidden(tall, low, &front, &back), "seen from the other side")
	assert.InDelta(t, 0.5, l.hidden(tall, low, &back, &front), 1e-12)
	p.View = View{}
	edge, middle := l.spot(3, 0.5), l.spot(3, 1.5)
	assert.InDelta(t, 0.5, l.hidden(tall, low, &edge, &middle), 1e-12, "from all round the edge is in front")
}

// Lines stand in fewer groups than chance makes, tall plants hide less, lovers of
// low ground stand lower than lovers of high ground in the same zone.
func TestLooksAndHeights(t *testing.T) {
	b := bed(t, outlines()["oval"])
	p := Problem{Bed: b, Seed: 2, View: View{Kind: "side", X: 1}}
	for i, height := range []float64{150, 30, 60, 90} {
		p.Lines = append(p.Lines, Line{ID: string(rune('a' + i)), Name: "Plant", Zone: "slope", Count: 12, SpreadCM: 35, HeightCM: height})
	}
	p.Risk = func(line int, x, y float64) float64 {
		h, _ := b.HeightMM(x, y)
		if line < 2 {
			return 0.02 + 0.4*(h+150)/150 // loves low ground
		}
		return 0.02 - 0.4*h/150
	}
	r, err := Solve(p)
	require.NoError(t, err)
	s := newSolver(&p)
	c := s.randomAttempt(0, s.run().c)
	byChance := s.result(c)
	mean, n := make([]float64, 4), make([]float64, 4)
	for _, a := range r.Plants {
		mean[a.Line] += a.HeightMM
		n[a.Line]++
	}
	assert.Less(t, math.Max(mean[0]/n[0], mean[1]/n[1])+30, math.Min(mean[2]/n[2], mean[3]/n[3]))
	assert.Less(t, r.LossM2, 0.75*r.RandomMeanM2)
	for line := range p.Lines {
		assert.Less(t, r.Drifts[line], byChance.Drifts[line], "line %d", line)
	}
	t.Logf("groups %v, by chance %v; hidden %.1f, by chance %.1f; loss %.3f, by chance %.3f, bound %.3f",
		r.Drifts, byChance.Drifts, r.Hidden, byChance.Hidden, r.LossM2, r.RandomMeanM2, r.BoundM2)
	assert.Less(t, r.Hidden, byChance.Hidden)
}

// Each wish of looks does something by itself, where all places are alike.
func TestEachLookCounts(t *testing.T) {
	p := Problem{Bed: flat(t, basin.Outline{Kind: "rectangle", LengthM: 4, WidthM: 2}), View: View{Kind: "side", Y: 1},
		Risk: func(int, float64, float64) float64 { return 0.1 }, GroupWorth: -1, HideWorth: -1}
	for i, height := range []float64{150, 30, 100, 20} {
		p.Lines = append(p.Lines, Line{ID: string(rune('a' + i)), Name: "Plant", Zone: "bottom", Count: 10, SpreadCM: 34, HeightCM: height})
	}
	solve := func(group, hide float64) *Result {
		p.GroupWorth, p.HideWorth = group, hide
		r, err := Solve(p)
		require.NoError(t, err)
		require.Empty(t, r.Left)
		return r
	}
	groups := func(r *Result) (n int) {
		for _, d := range r.Drifts {
			n += d
		}
		return n
	}
	neither, grouped, open := solve(-1, -1), solve(0.03, -1), solve(-1, 0.03)
	t.Logf("groups %d, without the wish %d; hidden %.1f, without %.1f", groups(grouped), groups(neither), open.Hidden, neither.Hidden)
	assert.Less(t, groups(grouped), groups(neither)/2)
	assert.Less(t, open.Hidden, neither.Hidden/2)
}

// However much good looks are said to be worth, chance does not lose less: here
// the tall plants live in front and the low ones behind, against all looks, in a
// bed that is one plant wide.
func TestLooksNeverCostMoreThanChance(t *testing.T) {
	p := Problem{Bed: flat(t, basin.Outline{Kind: "rectangle", LengthM: 0.4, WidthM: 4}), View: View{Kind: "side", Y: 1, SightM: 9}, HideWorth: 100, GroupWorth: -1}
	for i, height := range []float64{150, 20} {
		p.Lines = append(p.Lines, Line{ID: string(rune('a' + i)), Name: "Plant", Zone: "bottom", Count: 5, SpreadCM: 34, HeightCM: height})
	}
	p.Risk = func(line int, x, y float64) float64 {
		if line == 0 {
			return 0.02 + 0.4*y/4
		}
		return 0.42 - 0.4*y/4
	}
	r, err := Solve(p)
	require.NoError(t, err)
	assert.LessOrEqual(t, r.LossM2, r.RandomMeanM2)
	assert.Empty(t, r.Left)
	assert.Empty(t, broken(p, r))
}
