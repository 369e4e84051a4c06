package plants

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// struggling says of some plants that they were seen to be too wet.
func struggling(rows ...placement.Planted) []season.Diagnosis {
	var out []season.Diagnosis
	for _, r := range rows {
		out = append(out, season.Diagnosis{Case: season.Case{Plant: r.Stake, Species: r.ID}, Top: season.TooWet, TopP: 1})
	}
	return out
}

// learnedToo says that one plant of a garden bears only a share of a limit of
// its catalogue.
func learnedToo(stake, id string, limit fit.Limit, factor float64) *season.Learned {
	b := season.Bearing{}
	for l, name := range season.Limits() {
		if b[l].SD = 0.2; name == limit {
			b[l].Mean = math.Log(factor)
		}
	}
	return &season.Learned{Plants: []season.PlantBearing{{Garden: "g", Plant: stake, Species: id, After: b}}}
}

// What was learned of one plant moves that plant, and the cause is passed on.
func TestLearnedMoves(t *testing.T) {
	e := expose(t, map[string]string{"wishes": "{yearly_risk_max: 60 %, smallest_group: 1, share_cap: 100 %, hour_worth: 0}"}, someYears(10))
	j := NewJudge(e)
	// bears what the bottom has, with little to spare
	wet := with(hardy("wet"), func(p *catalogue.Plant) { p.WetH, p.DryD = 2*e.Bands[0].WetOneInTenH, 200 })
	c := tableOf(wet)
	var rows []placement.Planted
	for k, at := range [][2]float64{{1.5, 1.5}, {2.5, 1.5}} {
		rows = append(rows, placement.Planted{Stake: fmt.Sprintf("WET%d", k+1), ID: "wet", X: at[0], Y: at[1], Planted: "2020-04-01"})
	}
	in := MoveInput{Judge: j, Catalogue: c, Standing: rows, Garden: "g"}
	in.Learned = &season.Learned{}
	assert.Empty(t, mustRelocate(t, in).Moves, "nothing was learned")
	in.Learned = learnedToo("WET2", "wet", fit.TooWet, 0.2)
	in.Diagnoses = struggling(rows[1])
	r := mustRelocate(t, in)
	sound(t, in, r)
	require.Len(t, r.Moves, 1)
	m := r.Moves[0]
	assert.Equal(t, "WET2", m.Stake)
	assert.Equal(t, ActMove, m.Action)
	assert.True(t, m.To.Free)
	assert.Greater(t, m.To.HeightMM, m.From.HeightMM, "too wet: up")
	assert.Less(t, m.After.YearlyRisk, m.Before.YearlyRisk)
	assert.Equal(t, season.TooWet, m.Cause.Top)
	require.Len(t, r.Stays, 1)
	assert.Equal(t, season.Cause(""), r.Stays[0].Cause.Top)

	// the dead one's place is free; nothing is planned for it
	in.Dead = []string{"wet1"}
	r = mustRelocate(t, in)
	require.Len(t, slices.Concat(r.Moves, r.Stays), 1)

	// and so is that of one that was seen dead, unless it has come up again since
	in.Dead = nil
	notes := []season.Note{{Date: autumn().AddDate(0, -4, 0), Vigour: 0, Seen: []season.Sign{season.Dead}}, {Date: autumn().AddDate(0, -3, 0), Vigour: 2}}
	for _, c := range []struct{ notes, stand int }{{1, 1}, {2, 2}} {
		in.Diagnoses[0].Case.Notes = notes[:c.notes]
		r = mustRelocate(t, in)
		require.Len(t, slices.Concat(r.Moves, r.Stays), c.stand, "%d notes", c.notes)
	}
}
