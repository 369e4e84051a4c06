package plants

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// lossInput is the demo with every fourth plant dead.
func lossInput(t *testing.T) MoveInput {
	j, c, rows := demo(t)
	in := MoveInput{Judge: j, Catalogue: c, Standing: rows}
	for i := range rows {
		rows[i].Planted = "2021-10-10"
		if i%4 == 0 {
			in.Dead = append(in.Dead, rows[i].Stake)
		}
	}
	return in
}

// A dead plant's place gets another kind, of known risk, and what is written
// down is that.
func TestLossesAreReplaced(t *testing.T) {
	in := lossInput(t)
	in.Failed = []placement.Planted{{Stake: "OLD1", ID: in.Standing[2].ID, X: in.Standing[0].X, Y: in.Standing[0].Y}}
	r := mustRelocate(t, in)
	require.Len(t, r.Lost, len(in.Dead))
	var steps []int
	for _, l := range r.Lost {
		require.False(t, l.Taken)
		if l.New < 0 {
			assert.Less(t, l.Place.Room, 15.0, "%s: there is room", l.Stake)
			continue
		}
		n := r.New[l.New]
		assert.Equal(t, l.Place, n.Place)
		for _, row := range append(in.Failed, in.Standing...) {
			if slices.Contains(append(in.Dead, "OLD1"), row.Stake) && row.ID == n.Plant.ID {
				assert.GreaterOrEqual(t, math.Hypot(row.X-n.Place.X, row.Y-n.Place.Y), n.Plant.SpreadCM/200, "%s where %s died", n.Plant.ID, row.Stake)
			}
		}
		if l.Step >= 0 {
			assert.LessOrEqual(t, n.Outlook.YearlyRisk, in.Judge.Exposure.Lot.Garden.Wishes.YearlyRiskMax)
			steps = append(steps, l.Step)
		}
	}
	require.NotEmpty(t, steps)
	assert.Equal(t, len(r.Groups)+len(steps), r.Steps())
	for k, step := range steps {
		require.Equal(t, len(r.Groups)+k, step)
	}
	first := r.Lost[slices.IndexFunc(r.Lost, func(l Lost) bool { return l.Step == steps[0] })]
	after := r.Rows(in.Standing, "2024-09-01", steps[0])
	require.Len(t, after, len(in.Standing))
	at := slices.IndexFunc(in.Standing, func(p placement.Planted) bool { return p.Stake == first.Stake })
	assert.Equal(t, r.New[first.New].Plant.ID, after[at].ID)
	assert.Equal(t, "2024-09-01", after[at].Planted)
	after[at] = in.Standing[at]
	assert.Equal(t, in.Standing, after)
	entries := r.History(in.Standing, &season.Notes{}, autumn(), steps[0])
	require.Len(t, entries, 3)
	assert.Equal(t, []season.EntryKind{season.Planted, season.Removed, season.Planted}, []season.EntryKind{entries[0].Kind, entries[1].Kind, entries[2].Kind})
	assert.Equal(t, []string{first.Stake, r.New[first.New].Stake}, []string{entries[1].Stake, entries[2].Stake})
}

// A plant is divided that was seen to do well, is old enough and of a form that
// is divided (common practice, no source), and each once.
func TestPiecesBeforeBuying(t *testing.T) {
	in := lossInput(t)
	causes, seen := season.Causes(), autumn().AddDate(0, -11, 0)
	fine := slices.Index(causes[:], season.Fine)
	noted := func(vigour int) (out []season.Diagnosis) {
		for _, row := range in.Standing {
			d := season.Diagnosis{Case: season.Case{Plant: row.Stake, Species: row.ID, To: seen}, Top: season.Fine, TopP: 1, Vigour: vigour}
			d.Chance[fine] = 1
			out = append(out, d)
		}
		return out
	}
	pieces := func() (out []NewPlant) {
		for _, n := range mustRelocate(t, in).New {
			if n.Mother != "" {
				out = append(out, n)
			}
		}
		return out
	}
	in.Diagnoses = noted(5)
	all := pieces()
	require.NotEmpty(t, all)
	var mothers []string
	for _, n := range all {
		mothers = append(mothers, n.Mother)
		row, ok := season.Grows(in.Standing, n.Mother)
		require.True(t, ok && row.ID == n.Plant.ID)
		assert.NotContains(t, in.Dead, n.Mother)
		assert.Contains(t, []string{"forb", "grass-like", "fern-like", "groundcover"}, n.Plant.Form)
		assert.False(t, n.When.From.IsZero())
		assert.True(t, n.Else == nil || n.Else.Mother == "")
	}
	slices.Sort(mothers)
	assert.Len(t, slices.Compact(mothers), len(all))
	in.Diagnoses = noted(3)
	assert.Empty(t, pieces(), "none does well")
	seen = autumn().AddDate(-1, 0, -1)
	in.Diagnoses = noted(5)
	assert.Empty(t, pieces(), "that was long ago")
	seen = autumn()
	in.Diagnoses = noted(5)
	for i := range in.Standing {
		in.Standing[i].Planted = "2023-10-10"
	}
	assert.Empty(t, pieces(), "all are young")
}
