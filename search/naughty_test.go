package search

import (
	"encoding/json"
	"os"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/testdata/testenv"
	"hollowbed/zones/table"
)

// Source: the Big List of Naughty Strings, testdata/naughty-strings, with its
// licence.
func naughty(t *testing.T) []string {
	raw, err := os.ReadFile("../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var out []string
	require.NoError(t, json.Unmarshal(raw, &out))
	require.Greater(t, len(out), 400)
	return append(out, "\xff\xfe", "\x00", "a\x00b", "\xed\xa0\x80")
}

func checkResult(t *testing.T, r *Result, of string) {
	raw, err := json.Marshal(r)
	require.NoError(t, err, "%q", of)
	require.True(t, utf8.Valid(raw))
	for _, h := range append(r.Hits, r.Also...) {
		for _, w := range h.Why {
			last := 0
			for _, m := range w.Marks {
				require.True(t, last <= m[0] && m[0] < m[1] && m[1] <= len(w.Quote), "%q: %v in %q", of, w.Marks, w.Quote)
				last = m[1]
			}
			_ = w.String()
		}
	}
}

func TestNaughtyQueries(t *testing.T) {
	x := newIndex(t, demoPlants(t), demoSynonyms(t))
	answered := 0
	for i, s := range naughty(t) {
		for j, line := range []string{s, quote(s), "colour:" + quote(s), "blue -" + s} {
			if (i+j)%testenv.Of(12, 1) > 0 {
				continue
			}
			checkRoundTrip(t, line)
			q, err := Parse(line)
			if err != nil {
				var faults table.Faults
				require.ErrorAs(t, err, &faults)
				continue
			}
			q.Facets = facetNames()
			r, err := x.Find(q)
			require.NoError(t, err, "%q", line)
			checkResult(t, r, line)
			answered++
		}
	}
	assert.Greater(t, answered, testenv.Of(125, 1500), "most are words like any other")
}

func TestNaughtyPlants(t *testing.T) {
	strings := naughty(t)
	plants := make([]catalogue.Plant, len(strings))
	for i, s := range strings {
		plants[i] = samplePlant()
		plants[i].ID, plants[i].VernacularName, plants[i].ScientificName = s, s, s
		plants[i].Notes = "Some " + s + " text, blüte " + s
		plants[i].NativeTo, plants[i].FlowerColour, plants[i].Form = []string{s}, []string{s}, s
	}
	for _, o := range []Options{{}, onDisk(t.TempDir())} {
		x := open(t, plants, o)
		r := find(t, x, "text blute")
		assert.Equal(t, len(plants), r.Total)
		found := 0
		for i, s := range strings {
			q := Query{Words: []Word{{Text: s, Phrase: true}}, Limit: len(plants), Facets: facetNames()}
			r, err := x.Find(q)
			require.NoError(t, err, "%q", s)
			checkResult(t, r, s)
			for _, h := range r.Hits {
				if h.Row == i {
					found++
				}
			}
		}
		assert.Greater(t, found, 400, "most are found by themselves")
	}
}
