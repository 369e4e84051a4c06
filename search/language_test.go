package search

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func testLanguage(t testing.TB) language {
	m, err := newMapping()
	require.NoError(t, err)
	return newLanguage(m)
}

// Source: testdata/search/SOURCES.md, stems.csv.
func TestStemsArePorters(t *testing.T) {
	f, err := os.Open("../testdata/search/stems.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 40)
	l := testLanguage(t)
	for _, r := range rows[1:] {
		assert.Equal(t, r[1], l.stems(r[0]), r[0])
	}
}

func TestScientificNamesAreNotStemmed(t *testing.T) {
	sci := wordFields()[2]
	require.Equal(t, "sci", sci.name)
	tokens := testLanguage(t).in(sci, "Fenwortia ponies")
	require.Len(t, tokens, 2)
	assert.Equal(t, "fenwortia", string(tokens[0].Term))
	assert.Equal(t, "ponies", string(tokens[1].Term))
}

// Expected letters: Unicode Character Database, canonical decompositions, and
// for letters without one the usual Latin spelling.
func TestFold(t *testing.T) {
	for in, want := range map[string]string{
		"Röhricht":       "rohricht",
		"Ro\u0308hricht": "rohricht",
		"ÉLAN":           "elan",
		"smørbukk":       "smorbukk",
		"Straße":         "strasse",
		"łąka":           "laka",
		"луг":            "луг",
		"\xff":           "\uFFFD",
		"":               "",
	} {
		assert.Equal(t, want, fold(in), "%q", in)
	}
}

func TestUnaccentAtPointsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		plain, at := unaccentAt(s)
		require.Len(t, at, len(plain)+1)
		assert.Equal(t, len(s), at[len(plain)])
		for i := range plain {
			assert.LessOrEqual(t, at[i], at[i+1])
		}
		again, _ := unaccentAt(plain)
		assert.Equal(t, plain, again, "folding twice changes nothing more")
	})
}

func TestSpotsPointIntoTheTextAsItStands(t *testing.T) {
	l := testLanguage(t)
	text := "Grows by Röhricht, in röhrichts."
	var marked []string
	for _, w := range l.waysOf("rohricht", 1, false) {
		if w.field.name == "notes" {
			for _, s := range l.phraseSpots(w, text) {
				marked = append(marked, text[s[0]:s[1]])
			}
		}
	}
	assert.Equal(t, []string{"Röhricht", "röhrichts"}, marked)
}

// The quick way to find a word in ASCII text finds what cutting the whole text
// into words finds.
func TestWordSpotsAreAllSpots(t *testing.T) {
	l := testLanguage(t)
	plants := demoPlants(t)
	var all []string
	for i := range plants {
		all = append(all, plants[i].Notes, plants[i].VernacularName)
	}
	f, err := os.ReadFile("../testdata/search/stems.csv")
	require.NoError(t, err)
	all = append(all, strings.ReplaceAll(string(f), ",", " "), "sun's suns' a.b e.g. wet-foot, x_y 3.5 cm; (in)side")
	checked := 0
	for i, s := range all {
		if !isASCII(s) {
			continue
		}
		for _, word := range strings.FieldsFunc(all[(i*7)%len(all)]+" "+s, func(r rune) bool { return r == ' ' }) {
			for _, w := range l.waysOf(word, 1, false) {
				if len(w.slots) == 1 && w.field.name != "id" {
					want := l.phraseSpots(w, s)
					require.Equal(t, want, l.wordSpots(w, text{as: s, lower: strings.ToLower(s)}), "%q in %q", word, s)
					checked += len(want)
				}
			}
		}
	}
	assert.Greater(t, checked, 5000)
}
