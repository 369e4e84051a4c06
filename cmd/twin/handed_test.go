package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/season"
	"hollowbed/testdata/testenv"
)

// What is told is what is true, nothing else is, and nothing of it is left once
// nothing is told.
func TestTold(t *testing.T) {
	w := smallWorld(t, 4)
	w.tell(handed{limits: [season.LimitCount]bool{2: true}, sun: true, ground: true, causes: true})
	for i, s := range w.species {
		told := w.told[i].stated
		assert.Equal(t, s.real.DryD, told.DryD)
		assert.Equal(t, s.real.SunMinH, told.SunMinH)
		assert.Equal(t, s.stated.WetH, told.WetH)
		assert.Equal(t, s.stated.LowestC, told.LowestC)
	}
	assert.Same(t, w.gardens[0].real, w.ground(&run{}, w.gardens[0]))
	require.NoError(t, w.live(byOurs, rivals{}))
	struggled := 0.0
	for _, c := range w.tallies(byOurs) {
		struggled += c.struggled
		assert.Equal(t, c.struggled, c.alike, "told why, it says why")
		assert.Equal(t, c.fine, c.fineAsFine)
	}
	assert.Greater(t, struggled, 50.0)
	w.tell(handed{})
	assert.Equal(t, w.species, w.told)
	assert.Same(t, w.gardens[0].believed, w.ground(&run{}, w.gardens[0]))
	assert.Same(t, w.table, w.signs())
}

// An ablation's first row is the method as it is, and its last the policy of the
// same name.
func TestAblate(t *testing.T) {
	testenv.Sweep(t)
	testenv.NotRaced(t) // TestSameBytes is
	truth, table := defaultTruth(), signTable(t)
	truth.Gardens = 12
	a, err := handOver(truth, table)
	require.NoError(t, err)
	r, err := liveAll(truth, table)
	require.NoError(t, err)
	of := map[string]interval{}
	for _, p := range r.Policies {
		of[p.Policy] = p.OfOracle
	}
	assert.Equal(t, of[byOurs], a.Rows[0].OfOracle)
	assert.Equal(t, of[byKindOracle], a.Rows[len(a.Rows)-1].OfOracle)
	var text bytes.Buffer
	require.NoError(t, a.text(&text))
	for _, row := range a.Rows {
		assert.Equal(t, 1, strings.Count(text.String(), row.What+"  "), "%s", row.What)
	}
}
