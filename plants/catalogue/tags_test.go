package catalogue

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/table"
)

// Columns that are none of ours become words that a search finds; no and what says
// nothing become none, and whom a plant harms never does.
func TestTags(t *testing.T) {
	raw, err := table.Read("t.csv", strings.NewReader("name,Salt_Tolerance,deer,hedges,Fragrance\nOne Madeup,High,Yes,None,50% (strong) | sweet\nTwo Madeup,*,no,-,\n"))
	require.NoError(t, err)
	const rest = "columns:\n  id: {from: name}\n  vernacularName: {from: name}\n"
	m, err := ReadMap("m.yaml", strings.NewReader("source: s\nmissing: ['*']\ntags: [Salt_Tolerance, deer, hedges, Fragrance]\n"+rest+"  tags: {value: made up}\n"))
	require.NoError(t, err)
	plants, report, err := Import(raw, m)
	require.NoError(t, err)
	assert.Equal(t, []string{"made up", "salt tolerance high", "deer", "fragrance 50 strong", "fragrance sweet"}, plants[0].Tags)
	assert.Equal(t, []string{"made up"}, plants[1].Tags)
	assert.Equal(t, ColumnReport{Name: "tags", Filled: 2}, report.Columns[len(report.Columns)-1])
	assert.Empty(t, report.Unused)

	joined, _ := Join(plants[1:], []Plant{{ID: "two-madeup", Tags: []string{"made up", "shade"}, Source: "b", SunMinH: math.NaN()}}, "id")
	assert.Equal(t, []string{"made up", "shade"}, joined[0].Tags)
	assert.Contains(t, joined[0].Source, "tags: b")

	for _, column := range []string{"Toxicity", "poison (pets)", "Pet safe", "who"} {
		_, err = ReadMap("m.yaml", strings.NewReader("source: s\ntags: ['"+column+"']\n"+rest+"  toxic: {from: who}\n"))
		assert.ErrorContains(t, err, "m.yaml:2:1: tags", column)
	}
	m.Tags = []string{"Salt"}
	_, _, err = Import(raw, m)
	assert.ErrorContains(t, err, "t.csv")
}

// Whatever stands in a table, a tag made of it can stand in ours.
func TestTagOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if tag := tagOf(rapid.String().Draw(t, "column"), rapid.String().Draw(t, "value")); tag != "" {
			assert.True(t, isTag(tag), "%q", tag)
		}
	})
}
