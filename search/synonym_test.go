package search

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

func TestReadSynonymsFaults(t *testing.T) {
	_, err := ReadSynonyms("s.csv", strings.NewReader("words,means,basis\nboggy,wet>=x,b\nboggy|,swamp,b\nx,y\n"))
	require.Error(t, err)
	assert.Equal(t, []string{
		`s.csv:2:12: wet: "x": want a number of h, or one of h, d, wk`,
		`s.csv:3:1: words: "boggy|": want words that are not empty and stand in one row only`,
		`s.csv:3:1: words: "boggy|": want words that are not empty and stand in one row only`,
		`s.csv:4:1: want 3 cells as in the header, not 2`,
	}, strings.Split(err.Error(), "\n"))
	_, err = ReadSynonyms("s.csv", strings.NewReader("word,means\n"))
	assert.ErrorContains(t, err, "s.csv:1:1: header")
	_, err = ReadSynonyms("s.csv", strings.NewReader(""))
	assert.ErrorContains(t, err, "s.csv:1:1: the file is empty")
	_, err = ReadSynonyms("s.csv", strings.NewReader("words;means;basis\ngrößer;wet>=x;b\n"))
	assert.ErrorContains(t, err, "s.csv:2:13: wet", "semicolons, and columns in characters")
}

func TestDemoSynonymsAreUsable(t *testing.T) {
	s := demoSynonyms(t)
	require.Greater(t, len(s.Words()), 100)
	x := newIndex(t, demoPlants(t), s)
	for _, w := range []string{"wet feet", "boggy", "drought", "full sun", "shade"} {
		r := find(t, x, w)
		assert.Positive(t, r.Total, w)
	}
}

// A real plant is found by its other names too, old scientific ones among them.
func TestOtherNames(t *testing.T) {
	x, err := New([]catalogue.Plant{
		{ID: "iris-versicolor", VernacularName: "Harlequin blueflag", Wild: &catalogue.Wild{Also: []string{"blue flag iris"}}},
		{ID: "bouteloua-gracilis", VernacularName: "Blue grama", Wild: &catalogue.Wild{}},
	}, Options{})
	require.NoError(t, err)
	r, err := x.Find(Query{Words: []Word{{Text: "blue"}, {Text: "flag"}}, Limit: 5})
	require.NoError(t, err)
	require.Len(t, r.Hits, 1)
	assert.Equal(t, "iris-versicolor", r.Hits[0].ID)
}
