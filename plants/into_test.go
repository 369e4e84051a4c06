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
	guests, err := Into(in, plan, other, Grown{})
	require.NoError(t, err)
	require.NotEmpty(t, guests)
	for _, g := range guests {
		m := plan.stay(g.From.Stake)
		require.NotNil(t, m, "%s stays by the plan", g.From.Stake)
		spot, inside := other.SpotAt(g.To.X, g.To.Y)
		require.True(t, inside)
		assert.Equal(t, spot.Zone, g.To.Zone)
		work := m.How.minutes() / 60 * 20
		assert.LessOrEqual(t, g.After.YearlyRisk, 0.15)
		assert.Less(t, g.After.YearlyRisk, g.Before.YearlyRisk)
		assert.InDelta(t, 3*atRisk(m.Plant)*(g.After.LossMoved(3)+m.Disturb/3+g.Before.Harm(g.After, 3))+work, g.Cost, 1e-6)
		assert.Less(t, g.Cost+0.5*work, g.Else)
		assert.LessOrEqual(t, g.Else, m.Answers.Leave+1e-6)
	}
	far := in
	far.Seasons = 12
	many, err := Into(far, plan, other, Grown{})
	require.NoError(t, err)
	require.Greater(t, len(many), 2)
	for i, a := range many { // each has the room of its full spread, and a stake of its own
		for _, b := range many[:i] {
			assert.NotEqual(t, a.To.Stake, b.To.Stake)
			apart := (1 - other.Exposure.Lot.Garden.Layout.Overlap) * (plan.stay(a.From.Stake).Plant.SpreadCM + plan.stay(b.From.Stake).Plant.SpreadCM) / 200
			assert.GreaterOrEqual(t, math.Hypot(a.To.X-b.To.X, a.To.Y-b.To.Y), apart-0.02)
		}
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
			if slices.ContainsFunc(guests, func(g Guest) bool { return plan.stay(g.From.Stake).Plant.ID == p.ID }) {
				spoil(&table.Plants[i])
			}
		}
		spoilt := in
		spoilt.Catalogue = &table
		left, err := Relocate(spoilt)
		require.NoError(t, err)
		found, err := Into(spoilt, left, other, Grown{})
		require.NoError(t, err)
		assert.Zero(t, len(found), what)
		wishes.NoToxicTo = nil
	}
	full := Grown{Kept: []placement.Kept{{Stake: "A1", ID: "a", X: guests[0].To.X, Y: guests[0].To.Y, SpreadCM: 5000}}}
	none, err := Into(in, plan, other, full)
	require.NoError(t, err)
	assert.Empty(t, none, "no room beside a tree over it all")
	g := guests[0]
	again, err := Into(in, plan, other, Grown{Taken: []string{g.To.Stake}, Failed: []placement.Kept{{ID: g.From.ID, X: g.To.X, Y: g.To.Y}}})
	require.NoError(t, err)
	for _, a := range again {
		assert.NotEqual(t, g.To.Stake, a.To.Stake, "a stake is given once")
		assert.False(t, a.From.ID == g.From.ID && a.To.X == g.To.X && a.To.Y == g.To.Y, "not where its kind died")
	}
	in.Judge.Exposure.Lot.Garden.Wishes.HourWorth = 900
	plan, err = Relocate(in)
	require.NoError(t, err)
	none, err = Into(in, plan, other, Grown{})
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
