package plants

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/season"
)

// "Wait" is an answer: plants that stand in the wrong places and struggle are put
// right once it is clear why, and neither moved for their own sake nor thrown away
// before. One that is asked about gets its places all the same.
func TestWaitingPlantsStay(t *testing.T) {
	j, c, rows := demo(t, unlayered)
	j.Exposure.Lot.Garden.Wishes.HourWorth, j.Exposure.Lot.Garden.Wishes.YearlyRiskMax = 0, 1
	in := MoveInput{Judge: j, Catalogue: c, Standing: muddled(c, rows, 10), Model: season.Default(), On: autumn()}
	var waiting []string
	for i, r := range rows {
		if in.Standing[i] != r {
			in.Diagnoses, waiting = append(in.Diagnoses, struggling(r)...), append(waiting, r.Stake)
		}
	}
	require.NotEmpty(t, mustRelocate(t, in).Moves, "it is clear")
	for k := range in.Diagnoses {
		in.Diagnoses[k].Wait = true
	}
	r := mustRelocate(t, in)
	sound(t, in, r)
	assert.Empty(t, r.Moves)
	elsewhere := 0
	for _, stake := range waiting {
		assert.NotContains(t, r.Look, stake, "it is looked at already")
		options, err := RankPlaces(in, stake)
		require.NoError(t, err)
		if !season.SameStake(options[0].To.Stake, stake) {
			elsewhere++
		}
	}
	assert.Positive(t, elsewhere)
}
