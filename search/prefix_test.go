package search

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Three to five letters of any word of a name find it, as people type.
func TestBegunNames(t *testing.T) {
	plants := demoPlants(t)
	x, err := New(plants, Options{Synonyms: demoSynonyms(t)})
	require.NoError(t, err)
	asked, missed := 0, []string{}
	for i := range plants {
		for _, word := range strings.Fields(plants[i].VernacularName + " " + plants[i].ScientificName) {
			for n := 3; n <= 5 && n <= len(word); n++ {
				start := word[:n]
				if s := senseIn(plainWord(start)); s != other {
					continue // "non", "pet": words of their own
				}
				asked++
				has := false
				for _, id := range found(t, x, start) {
					has = has || id == plants[i].ID
				}
				if !has {
					missed = append(missed, start+" for "+plants[i].ID)
				}
			}
		}
	}
	assert.Greater(t, asked, 2000)
	assert.Empty(t, missed)
	r, err := x.Find(Query{Words: []Word{{Text: "oxyg"}}})
	require.NoError(t, err)
	assert.Zero(t, r.Total)
}

// A word that begins a name is not corrected into another, in any place.
func TestBegunBeforeCorrected(t *testing.T) {
	x, err := New(demoPlants(t), Options{Synonyms: demoSynonyms(t)})
	require.NoError(t, err)
	for _, line := range []string{"otterv", "otterv blue", "blue otterv"} {
		q, err := Parse(line)
		require.NoError(t, err)
		r, err := x.Find(q)
		require.NoError(t, err)
		assert.NotContains(t, strings.Join(r.Notes, " "), "read as", line)
		require.NotEmpty(t, r.Hits, line)
	}
}

// Ordinary words are not taken for slips of plants or of each other; slips are.
func TestOrdinaryWordsStay(t *testing.T) {
	x, err := New(demoPlants(t), Options{Synonyms: demoSynonyms(t)})
	require.NoError(t, err)
	notes := func(line string) string {
		q, err := Parse(line)
		require.NoError(t, err)
		r, err := x.Find(q)
		require.NoError(t, err)
		return strings.Join(r.Notes, " ")
	}
	for word := range strings.FieldsSeq("survives pet wild fast acid east west nice smelly filter roof parking morning windy seaside school herb shallow prairie forest modern pastel mid strong weak") {
		assert.NotContains(t, notes(word), "read as")
	}
	assert.Contains(t, notes("oterveil"), `read as "otterveil"`)
	assert.Contains(t, notes("shurb"), `read as "shrub"`)
}
