package plants

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/placement"
)

// Into a bed like the demo's, but empty, go struggling plants that the plan leaves, each
// to a place that is safe there, for less than the best answer here: by hand from its
// outlooks, as TestAnswersOfTheDemo reckons moves. Where there is no room, or where an hour
// is dear, none goes.
func TestInto(t *testing.T) {
	in := demoSeason(t)
	plan, err := Relocate(in)
	require.NoError(t, err)
	other, _, _ := demo(t)
	guests, err := Into(in, plan, other, nil)
	require.NoError(t, err)
	require.NotEmpty(t, guests)
	for _, g := range guests {
		k := -1
		for i, m := range plan.Stays {
			if m.Stake == g.Stake {
				k = i
			}
		}
		require.GreaterOrEqual(t, k, 0, "%s stays by the plan", g.Stake)
		m := plan.Stays[k]
		work := m.How.minutes() / 60 * 20
		assert.LessOrEqual(t, g.After.YearlyRisk, 0.15)
		assert.Less(t, g.After.YearlyRisk, g.Before.YearlyRisk)
		assert.InDelta(t, 3*atRisk(m.Plant)*(g.After.LossMoved(3)+m.Disturb/3+g.Before.Harm(g.After, 3))+work, g.Cost, 1e-6)
		assert.Less(t, g.Cost+0.5*work, g.Else)
		assert.LessOrEqual(t, g.Else, m.Answers.Leave+1e-6)
	}
	var full []placement.Planted // the bed, twice over
	for _, row := range in.Standing {
		full = append(full, row, row)
	}
	none, err := Into(in, plan, other, full)
	require.NoError(t, err)
	assert.Empty(t, none, "no room")
	in.Judge.Exposure.Lot.Garden.Wishes.HourWorth = 900
	plan, err = Relocate(in)
	require.NoError(t, err)
	none, err = Into(in, plan, other, nil)
	require.NoError(t, err)
	assert.Empty(t, none, "not worth the work")
}
