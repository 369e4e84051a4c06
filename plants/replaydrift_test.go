package plants

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// Notes by drift teach the same limits as the same notes one by one: 3 of 11 as three
// that struggle and eight that do not, 3 as three and nothing of the others, all of
// them as each; and only what was said of all is said of any single plant.
func TestDriftTeachesAsItsPlants(t *testing.T) {
	e, signs := expose(t, nil, someYears(4)), shippedSigns(t)
	var rows []placement.Planted
	for i := range 11 {
		rows = append(rows, placement.Planted{Stake: fmt.Sprintf("TEN%d", i+1), ID: "tender", X: 1.8 + 0.04*float64(i), Y: 1.5, Planted: "1990-05-01", Drift: "C"})
	}
	drift := func(year, some, of int) season.Entry {
		x := note(year, 9, 1, "C", 1)
		x.Signs, x.Some, x.Of = []season.Sign{"soil soggy"}, some, of
		for _, r := range rows {
			x.Among = append(x.Among, r.Stake)
		}
		return x
	}
	single := func(year, from, to int, wet bool) (out []season.Entry) {
		for _, r := range rows[from:to] {
			x := note(year, 9, 1, r.Stake, 1)
			if x.Signs = []season.Sign{"soil soggy"}; !wet {
				x.Vigour, x.Signs, x.Absent = season.Unstated, nil, x.Signs
			}
			out = append(out, x)
		}
		return out
	}
	learn := func(entries ...season.Entry) (*season.Learned, MoveInput) {
		r, err := Replay("g", e, nil, tableOf(tender()), rows, noted(t, entries...))
		require.NoError(t, err)
		unnamed := slices.ContainsFunc(entries, func(x season.Entry) bool { return x.OfDrift() && x.Some < 11 })
		assert.Equal(t, unnamed, len(r.Notes) == 1 && strings.Contains(r.Notes[0], "some of drift C do not say which"), r.Notes)
		in := r.MoveInput(NewJudge(e), signs, tableOf(tender()), rows, nil, time.Date(2004, 12, 1, 0, 0, 0, 0, time.UTC))
		require.NotNil(t, in.Learned)
		return in.Learned, in
	}
	same := func(a, b *season.Learned, words string) {
		require.Len(t, b.Species, len(a.Species))
		for i, s := range a.Species {
			assert.InDelta(t, s.Factor, b.Species[i].Factor, 1e-9, words)
			assert.InDelta(t, s.Low, b.Species[i].Low, 1e-9, words)
			assert.Equal(t, s.Plants, b.Species[i].Plants, words)
		}
	}
	some, in := learn(drift(2003, 3, 11), drift(2004, 2, 11))
	assert.Empty(t, in.Diagnoses, "nobody said which")
	each, _ := learn(slices.Concat(single(2003, 0, 3, true), single(2003, 3, 11, false), single(2004, 0, 2, true), single(2004, 2, 11, false))...)
	same(each, some, "3 of 11")
	three, _ := learn(drift(2003, 3, 0))
	alone, _ := learn(single(2003, 0, 3, true)...)
	same(alone, three, "3, the others not said")
	all, in := learn(drift(2003, 11, 11))
	assert.Len(t, in.Diagnoses, 11, "said of each")
	eleven, _ := learn(single(2003, 0, 11, true)...)
	same(eleven, all, "all")
	wet := func(l *season.Learned) float64 { return l.Species[0].Factor }
	assert.Less(t, wet(eleven), wet(three)-0.01, "11 say more than 3")
	assert.Less(t, wet(three), wet(some)-0.001, "and the 8 that do not show it speak for them")
	only, in := learn(append(single(2003, 4, 5, true), drift(2003, 3, 0))...)
	same(alone, only, "the plant that was noted by itself is one of the three")
	require.Len(t, in.Diagnoses, 1)
	assert.Equal(t, "TEN5", in.Diagnoses[0].Case.Plant)
}
