package plants

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
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
		m := plan.stay(g.Stake)
		require.NotNil(t, m, "%s stays by the plan", g.Stake)
		work := m.How.minutes() / 60 * 20
		assert.LessOrEqual(t, g.After.YearlyRisk, 0.15)
		assert.Less(t, g.After.YearlyRisk, g.Before.YearlyRisk)
		assert.InDelta(t, 3*atRisk(m.Plant)*(g.After.LossMoved(3)+m.Disturb/3+g.Before.Harm(g.After, 3))+work, g.Cost, 1e-6)
		assert.Less(t, g.Cost+0.5*work, g.Else)
		assert.LessOrEqual(t, g.Else, m.Answers.Leave+1e-6)
	}
	// Whom it would hurt keeps a plant out,
	// so does a limit of water that nobody knows.
	wishes := &other.Exposure.Lot.Garden.Wishes
	for what, spoil := range map[string]func(*catalogue.Plant){
		"harm": func(p *catalogue.Plant) { p.Toxic, wishes.NoToxicTo = []string{"pets"}, []string{"pets"} },
		"wet":  func(p *catalogue.Plant) { p.WetH, p.PondMM = math.NaN(), math.NaN() },
		"dry":  func(p *catalogue.Plant) { p.DryD = math.NaN() },
	} {
		table := *in.Catalogue
		table.Plants = slices.Clone(table.Plants)
		for i, p := range table.Plants {
			if slices.ContainsFunc(guests, func(g Guest) bool { return plan.stay(g.Stake).Plant.ID == p.ID }) {
				spoil(&table.Plants[i])
			}
		}
		spoilt := in
		spoilt.Catalogue = &table
		left, err := Relocate(spoilt)
		require.NoError(t, err)
		found, err := Into(spoilt, left, other, nil)
		require.NoError(t, err)
		assert.Zero(t, len(found), what)
		wishes.NoToxicTo = nil
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

// stay is what a plan says of a plant that it leaves; nil of another.
func (p *Relocation) stay(stake string) *PlantMove {
	for i := range p.Stays {
		if p.Stays[i].Stake == stake {
			return &p.Stays[i]
		}
	}
	return nil
}
