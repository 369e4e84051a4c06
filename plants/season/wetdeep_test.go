package season

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Signs do not tell too wet from too deep when limits are learned: with their
// columns of the table exchanged, the same is learned.
func TestWetFromDeepByDoseAlone(t *testing.T) {
	w := newWorld(t, 77)
	cases := w.cases(5, 4, 6, 2)
	other := *w.table
	other.Rows = nil
	for _, r := range w.table.Rows {
		r.Chance[atWet], r.Chance[atDeep] = r.Chance[atDeep], r.Chance[atWet]
		other.Rows = append(other.Rows, r)
	}
	for v := range other.Vigour {
		other.Vigour[v][atWet], other.Vigour[v][atDeep] = other.Vigour[v][atDeep], other.Vigour[v][atWet]
	}
	is, was := w.m.Learn(&other, cases), w.m.Learn(w.table, cases)
	assert.NotEmpty(t, is.Species)
	for i, s := range was.Species {
		assert.InDelta(t, s.Belief.Mean, is.Species[i].Belief.Mean, 1e-9, "%s %s", s.ID, s.Limit)
		assert.InDelta(t, s.Belief.SD, is.Species[i].Belief.SD, 1e-9)
	}
}
