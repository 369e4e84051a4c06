package search

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/blevesearch/bleve/v2/analysis"
	bleve "github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/searcher"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
)

// What is remembered comes to the same words at the same places as bleve's own
// analyzers make of the whole text.
func TestRememberingCutsAlike(t *testing.T) {
	m, err := newMapping()
	require.NoError(t, err)
	plain := newLanguage(m)
	ready := plain.remembering()
	alike := func(t interface {
		Errorf(string, ...any)
		FailNow()
	}, text string) {
		for range 2 { // the second time from memory
			for _, a := range [][2]analysis.Analyzer{{plain.english, ready.english}, {plain.latin, ready.latin}} {
				require.Equal(t, written(a[0].Analyze([]byte(text))), written(a[1].Analyze([]byte(text))), "%q", text)
			}
		}
	}
	for _, p := range synthetic(200, 3) {
		alike(t, p.Notes)
	}
	for _, text := range []string{"", " ", "its leaf's tips, the 3.5-inch ones: don't", "a\tb\vc\fd\r\ne", "U.S. e.g. x/y (z) \x00 \x7f", "Röhricht und blue e\u0301t\u00e9", "the - of"} {
		alike(t, text)
	}
	pieces := rapid.OneOf(rapid.StringMatching(`[ -~\t\n\r\v\f]{0,40}`), rapid.String(), rapid.SampledFrom([]string{"the", "leaf's", "grasses", " ", "'", "-", ".", "_", "1,5"}))
	rapid.Check(t, func(t *rapid.T) {
		alike(t, strings.Join(rapid.SliceOfN(pieces, 0, 8).Draw(t, "text"), ""))
	})
}

func written(tokens analysis.TokenStream) string {
	var b strings.Builder
	for _, t := range tokens {
		fmt.Fprintf(&b, "%q %d-%d at %d; ", t.Term, t.Start, t.End, t.Position)
	}
	return b.String()
}

// Phrases are found in the same plants, with the same scores, as by bleve's own
// phrase searcher in an index that keeps the places of the words, which is made
// of the plants by bleve's own mapping.
func TestPhrasesAsBleveTells(t *testing.T) {
	plants := synthetic(400, 12)
	plants[7].Notes = "Röhricht at the edge of damp meadow; its leaf's colour, blue."
	plants[8].NativeTo = []string{"damp", "meadow"}
	inner, err := bareBuild(t, plants).Advanced()
	require.NoError(t, err)
	reader, err := inner.Reader()
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(2, 3))
	phrases := []string{"damp meadow", "edge of damp meadow", "Röhricht at the edge", "leaf's colour", "blue blue", "low coast"}
	for range 60 {
		words := strings.Fields(plants[r.IntN(len(plants))].Notes)
		at := r.IntN(len(words) - 3)
		phrases = append(phrases, strings.Join(words[at:at+2+r.IntN(2)], " "))
	}
	for _, onDiskToo := range []bool{false, true} {
		o := Options{}
		if onDiskToo {
			o = onDisk(t.TempDir())
		}
		x := open(t, plants, o)
		find(t, x, "blue")
		found := 0
		for _, phrase := range phrases {
			for _, way := range x.lang.waysOf(phrase, 1, false) {
				if len(way.slots) < 2 {
					continue
				}
				got := map[uint32]string{}
				require.NoError(t, x.words.each(way, func(row uint32, score float64) { got[row] = fmt.Sprintf("%.12g", score) }))
				s, err := searcher.NewMultiPhraseSearcher(context.Background(), reader, way.slots, 0, false, way.field.name, 1, bleve.SearcherOptions{})
				require.NoError(t, err)
				want := map[uint32]string{}
				sc := &bleve.SearchContext{DocumentMatchPool: bleve.NewDocumentMatchPool(s.DocumentMatchPoolSize()+2, 0), IndexReader: reader}
				for {
					m, err := s.Next(sc)
					require.NoError(t, err)
					if m == nil {
						break
					}
					id, err := reader.ExternalID(m.IndexInternalID)
					require.NoError(t, err)
					row, err := strconv.Atoi(id)
					require.NoError(t, err)
					want[uint32(row)] = fmt.Sprintf("%.12g", m.Score)
					sc.DocumentMatchPool.Put(m)
				}
				require.Equal(t, want, got, "%q in %s", phrase, way.field.name)
				found += len(want)
			}
		}
		assert.Greater(t, found, 60)
	}
	assert.True(t, slices.ContainsFunc(plants, func(p catalogue.Plant) bool { return strings.Contains(p.Notes, "damp meadow") }))
}
