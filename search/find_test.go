package search

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/blevesearch/bleve/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
)

func find(t require.TestingT, x *Index, line string) *Result {
	q, err := Parse(line)
	require.NoError(t, err, line)
	r, err := x.Find(q)
	require.NoError(t, err, line)
	return r
}

func ids(hits []Hit) []string {
	out := []string{}
	for _, h := range hits {
		out = append(out, h.ID)
	}
	return out
}

func newIndex(t testing.TB, plants []catalogue.Plant, syn *Synonyms) *Index {
	x, err := New(plants, Options{Synonyms: syn})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, x.Close()) })
	return x
}

func named(names ...string) []catalogue.Plant {
	var out []catalogue.Plant
	for i, n := range names {
		p := unknownPlant()
		p.ID, p.VernacularName = fmt.Sprintf("p%d", i), n
		out = append(out, p)
	}
	return out
}

// Conditions against a filter written out by hand.
func TestConditionsAreExact(t *testing.T) {
	plants := synthetic(400, 3)
	x := newIndex(t, plants, nil)
	rapid.Check(t, func(t *rapid.T) {
		wet := float64(rapid.IntRange(0, 170).Draw(t, "wet"))
		high := float64(rapid.IntRange(10, 210).Draw(t, "height"))
		sun := float64(rapid.IntRange(0, 12).Draw(t, "sun"))
		colour := rapid.SampledFrom([]string{"blue", "pink", "white"}).Draw(t, "colour")
		var want []string
		for _, p := range plants {
			if p.WetH >= wet && p.HeightCM < high && p.SunMinH <= sun && sun <= p.SunMaxH && slices.Contains(p.FlowerColour, colour) && !slices.Equal(p.Toxic, []string{"none"}) && p.Toxic != nil {
				want = append(want, p.ID)
			}
		}
		q, err := Parse(fmt.Sprintf("wet>=%v height<%v sun:%v colour:%s toxic", wet, high, sun, colour))
		require.NoError(t, err)
		q.Limit = 1000
		r, err := x.Find(q)
		require.NoError(t, err)
		assert.Equal(t, len(want), r.Total)
		if len(want) > 0 {
			assert.ElementsMatch(t, want, ids(r.Hits), "all of them")
			assert.True(t, slices.IsSortedFunc(r.Hits, func(a, b Hit) int { return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(a.Row, b.Row)) }), "those that meet them best first, then in the order of the table")
		}
	})
	assert.Nil(t, x.words, "a query without words reads no words")
}

func TestUnknownIsCountedAndSaid(t *testing.T) {
	plants := named("a", "b", "c", "d")
	plants[0].WetH, plants[0].HeightCM = 72, 50
	plants[1].HeightCM = 50
	plants[2].HeightCM = 500 // fails anyway, so its wet_h is not missed
	plants[3].WetH = 1
	r := find(t, newIndex(t, plants, nil), "wet>=48 height<100")
	assert.Equal(t, []string{"p0"}, ids(r.Hits))
	require.Len(t, r.Unknown, 1)
	assert.Equal(t, "1 plant that might match has no stated wet_h", r.Unknown[0].String())
}

// With one word in one field the score is bleve's own: what bleve itself
// answers for that term in that field, times the weight of the field.
func TestScoreIsBlevesOwn(t *testing.T) {
	plants := demoPlants(t)
	x := newIndex(t, plants, nil)
	for _, word := range []string{"runoff", "thatch", "cloudburst", "fence"} {
		r := find(t, x, word)
		request := bleve.NewSearchRequest(bleve.NewMatchQuery(word))
		request.Query.(interface{ SetField(string) }).SetField("notes")
		request.SortBy([]string{"-_score", "_id"})
		answer, err := x.words.bleve.Search(request)
		require.NoError(t, err)
		require.NotEmpty(t, answer.Hits, word)
		require.Equal(t, int(answer.Total), r.Total, word)
		for i, h := range answer.Hits {
			assert.Equal(t, h.ID, docID(r.Hits[i].Row), word)
			assert.InDelta(t, h.Score*wordFields()[4].weight, r.Hits[i].Score, 1e-9, word)
		}
	}
}

// A word that stands in several fields counts where it is worth most.
func TestBestFieldCounts(t *testing.T) {
	plants := named("fence", "a", "b")
	plants[0].Notes = "By a fence in the long grass of a far field."
	x := newIndex(t, plants, nil)
	got := find(t, x, "fence").Hits[0].Score
	var each []float64
	for _, w := range x.lang.waysOf("fence", 1, false) {
		require.NoError(t, x.words.each(w, func(_ uint32, s float64) { each = append(each, s*w.weight) }))
	}
	require.Len(t, each, 2)
	require.NotEqual(t, each[0], each[1])
	assert.Equal(t, slices.Max(each), got)
}

func TestStemsAccentsAndScientificNames(t *testing.T) {
	plants := named("Alder sedges", "Röhricht", "Plain", "Fenny")
	plants[2].ScientificName = "Fenwortia grassus"
	plants[3].Notes = "Its leaf is hairy."
	x := newIndex(t, plants, nil)
	assert.Equal(t, []string{"p0"}, ids(find(t, x, "sedge").Hits))
	assert.Equal(t, []string{"p1"}, ids(find(t, x, "rohricht").Hits))
	assert.Equal(t, []string{"p1"}, ids(find(t, x, "RÖHRICHT").Hits))
	assert.Equal(t, []string{"p2"}, ids(find(t, x, "grassus").Hits))
	r := find(t, x, "grasus")
	assert.Contains(t, r.Notes[0], `read as "grassus"`, "the scientific name has no stem")
	assert.Equal(t, []string{"p3"}, ids(find(t, x, "hairy leaf").Hits))
	assert.Equal(t, []string{"p2"}, ids(find(t, x, "p2").Hits), "an id is a word")
}

func TestAllWordsThenSome(t *testing.T) {
	plants := named("blue cup", "blue bell", "red bell")
	x := newIndex(t, plants, nil)
	r := find(t, x, "blue bell")
	assert.Equal(t, AllWords, r.Words)
	assert.Equal(t, 1, r.Total)
	assert.Equal(t, []string{"p1"}, ids(r.Hits))
	assert.Equal(t, []string{"p0", "p2"}, ids(r.Also))
	r = find(t, x, "red cup")
	assert.Equal(t, SomeWords, r.Words)
	assert.Equal(t, 2, r.Total)
	assert.Equal(t, []string{"p0"}, ids(find(t, x, "blue -bell").Hits))
	assert.Equal(t, []string{"p0"}, ids(find(t, x, "-bell").Hits))
	r = find(t, x, "the")
	assert.Equal(t, 0, r.Total)
	assert.Equal(t, []string{"no word to search for in the"}, r.Notes)
	assert.Equal(t, 3, find(t, x, "").Total)
}

func TestPhraseMustBeThere(t *testing.T) {
	plants := named("a", "b", "c", "d")
	plants[0].Notes = "Bears wet feet all year."
	plants[1].Notes = "Wet leaves, cold feet."
	plants[2].Notes = "feet wet"
	plants[3].Notes = "Feet in the water."
	x := newIndex(t, plants, nil)
	assert.Equal(t, []string{"p0"}, ids(find(t, x, `"wet feet"`).Hits))
	assert.Equal(t, []string{"p3"}, ids(find(t, x, `"feet in the water"`).Hits))
	assert.Equal(t, 0, find(t, x, `"feet water"`).Total, "a small word leaves a gap")
	assert.ElementsMatch(t, []string{"p1", "p2", "p3"}, ids(find(t, x, `feet -"wet feet"`).Hits))
	assert.ElementsMatch(t, []string{"p0", "p1", "p2"}, ids(find(t, x, "wet feet").Hits), "unquoted words may stand apart")
}

func TestSynonymsAndWishes(t *testing.T) {
	syn, err := ReadSynonyms("s.csv", strings.NewReader("words,means,basis\nwet feet|boggy,swamp wet>=72,common practice\n"))
	require.NoError(t, err)
	plants := named("a", "b", "c", "d", "e")
	plants[0].Notes = "A boggy place."
	plants[1].WetH = 100
	plants[2].Notes = "From the swamps."
	plants[3].WetH = 10
	plants[4].WetH = 72
	x := newIndex(t, plants, syn)
	for _, line := range []string{"boggy", "wet feet", `"wet feet"`} {
		r := find(t, x, line)
		assert.ElementsMatch(t, []string{"p0", "p1", "p2", "p4"}, ids(r.Hits), line)
		assert.Less(t, slices.Index(ids(r.Hits), "p1"), slices.Index(ids(r.Hits), "p4"), "bears it with more ease")
	}
	r := find(t, x, "boggy")
	texts := map[string]string{}
	for _, h := range r.Hits {
		require.Len(t, h.Why, 1)
		texts[h.ID] = h.Why[0].String()
	}
	assert.Equal(t, map[string]string{
		"p0": `"boggy" in notes: A «boggy» place.`,
		"p1": `"boggy" reads wet>=72: tolerates 100 h wet`,
		"p2": `"boggy" reads "swamp" in notes: From the «swamps».`,
		"p4": `"boggy" reads wet>=72: tolerates 72 h wet`,
	}, texts)
	assert.Equal(t, 4, find(t, x, "-boggy").Total, "ruling out a word rules out that word alone")
}

func TestMisspeltWords(t *testing.T) {
	plants := named("Amber fenwort", "Blue drizzlecap")
	plants[0].Notes = "Thrives in gravelly ground."
	x := newIndex(t, plants, nil)
	for typed, meant := range map[string]string{"fenwrot": "fenwort", "drizlecap": "drizzlecap", "gravely": "gravelly", "bleu": "blue", "fenworts": ""} {
		r := find(t, x, typed)
		assert.Equal(t, 1, r.Total, typed)
		if meant == "" {
			assert.Empty(t, r.Notes)
			continue
		}
		assert.Equal(t, []string{fmt.Sprintf("no plant has the word %q; read as %q", typed, meant)}, r.Notes)
		assert.NotEmpty(t, r.Hits[0].Why[0].ReadAs)
	}
	r := find(t, x, "xyzzyxyzzy")
	assert.Equal(t, 0, r.Total)
	assert.Equal(t, []string{`no plant has the word "xyzzyxyzzy"`}, r.Notes)
	r = find(t, x, "blue xyzzyxyzzy")
	assert.Equal(t, 1, r.Total, "a word that no plant has is left out")
}

func TestUnknownValuesAreNamed(t *testing.T) {
	plants := named("a", "b")
	plants[0].FlowerColour, plants[0].NativeTo = []string{"blue"}, []string{"Salt Fen"}
	x := newIndex(t, plants, nil)
	assert.Contains(t, find(t, x, "colour:bleu").Notes, `colour: no plant has "bleu"; did you mean blue?`)
	assert.Contains(t, find(t, x, "native:coast").Notes, `native: no plant has "coast"; there is Salt Fen`)
	assert.Equal(t, 1, find(t, x, "native:salt-fen").Total)
	assert.Equal(t, 1, find(t, x, `native:"salt fen"`).Total)
}

// Traits without a column of their own are found as words, and turned round too.
func TestTagsAreWords(t *testing.T) {
	plants := named("Low Brindlewisp", "Tall Tollow")
	plants[0].Tags = []string{"salt tolerance high"}
	x := newIndex(t, plants, nil)
	assert.Equal(t, []string{"p0"}, ids(find(t, x, "high salt tolerance").Hits))
	assert.Equal(t, []string{"p1"}, ids(find(t, x, "-salt").Hits))
}

func TestEqualsKeepTheOrderOfTheTable(t *testing.T) {
	var names []string
	for range 50 {
		names = append(names, "twin name")
	}
	x := newIndex(t, named(names...), nil)
	first := ids(find(t, x, "twin").Hits)
	assert.Equal(t, []string{"p0", "p1", "p2", "p3", "p4", "p5", "p6", "p7", "p8", "p9"}, first)
	again := newIndex(t, named(names...), nil)
	assert.Equal(t, first, ids(find(t, again, "twin").Hits))
}

// Pages of a ranking put together are the ranking.
func TestPages(t *testing.T) {
	x := newIndex(t, synthetic(300, 5), nil)
	all, err := x.Find(Query{Words: []Word{{Text: "blue"}}, Limit: 1000})
	require.NoError(t, err)
	require.Greater(t, all.Total, 30)
	assert.True(t, slices.IsSortedFunc(all.Hits, func(a, b Hit) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(a.Row, b.Row))
	}))
	var pages []string
	for at := 0; at < all.Total; at += 7 {
		r, err := x.Find(Query{Words: []Word{{Text: "blue"}}, Limit: 7, Offset: at})
		require.NoError(t, err)
		assert.Equal(t, all.Total, r.Total)
		pages = append(pages, ids(r.Hits)...)
	}
	assert.Equal(t, ids(all.Hits), pages)
	r, err := x.Find(Query{Offset: 5000})
	require.NoError(t, err)
	assert.Empty(t, r.Hits)
}

func TestFacetsCountAllMatches(t *testing.T) {
	plants := synthetic(500, 9)
	x := newIndex(t, plants, nil)
	q, err := Parse("blue wet>=24")
	require.NoError(t, err)
	q.Facets, q.Limit = []string{"zone", "bloom", "colour", "toxic", "spreads", "evergreen", "native", "form"}, 1000
	r, err := x.Find(q)
	require.NoError(t, err)
	require.Len(t, r.Facets, 8)
	for _, f := range r.Facets {
		unknown := 0
		counts := map[string]int{}
		for _, h := range r.Hits {
			p := &plants[h.Row]
			have := map[string][]string{"zone": p.Zones, "bloom": bloomMonths(p), "colour": p.FlowerColour, "toxic": p.Toxic, "spreads": one(p.Spreads), "evergreen": one(p.Evergreen), "native": p.NativeTo, "form": one(p.Form)}[f.Field]
			if len(have) == 0 {
				unknown++
			}
			for _, v := range have {
				counts[v]++
			}
		}
		got := map[string]int{}
		for _, v := range f.Values {
			got[v.Value] = v.Count
			narrowed := find(t, x, fmt.Sprintf("blue wet>=24 %s:%q", f.Field, v.Value))
			assert.Equal(t, v.Count, narrowed.Total, "asking for %s:%s", f.Field, v.Value)
		}
		assert.Equal(t, counts, got, f.Field)
		assert.Equal(t, unknown, f.Unknown, f.Field)
	}
	bloom := r.Facets[1].Values
	assert.Equal(t, "january", bloom[0].Value, "months in the order of the year")
	colour := r.Facets[2].Values
	assert.GreaterOrEqual(t, colour[0].Count, colour[1].Count, "open lists by count")
	_, err = x.Find(Query{Facets: []string{"colur"}})
	assert.ErrorContains(t, err, `"colur": did you mean colour?`)
}

func TestSurvivesFiltersAndRanks(t *testing.T) {
	plants := named("blue a", "blue blue b", "blue c", "red d", "blue e")
	x := newIndex(t, plants, nil)
	risks := []float64{0.204, 0.051, 0.049, 0, 0.9}
	q := Query{Words: []Word{{Text: "blue"}}, Survives: func(i int) (float64, string, bool) {
		return risks[i], fmt.Sprintf("risk %v", risks[i]), risks[i] < 0.5
	}}
	r, err := x.Find(q)
	require.NoError(t, err)
	assert.Equal(t, []string{"p1", "p2", "p0"}, ids(r.Hits), "0.051 and 0.049 both show as 5 %, so words decide")
	assert.Equal(t, 0.051, *r.Hits[0].Risk)
	assert.Equal(t, "risk 0.051", r.Hits[0].Why[0].Text)
	q.Survives = func(i int) (float64, string, bool) { return risks[i], "too wet", false }
	r, err = x.Find(q)
	require.NoError(t, err)
	assert.Equal(t, []Excluded{{Asked: "survives there", Misses: 4, Without: 4}}, r.NoHit.Excluded)
	assert.Equal(t, "p2", r.NoHit.Nearest.ID)
	q.Survives = func(i int) (float64, string, bool) {
		return []float64{math.NaN(), 0.9, 0.8, 0, math.NaN()}[i], fmt.Sprint("why ", i), false
	}
	r, err = x.Find(q)
	require.NoError(t, err)
	assert.Equal(t, []Excluded{{Asked: "survives there", Misses: 2, Unknown: 2, Without: 4}}, r.NoHit.Excluded)
	assert.Equal(t, "p2", r.NoHit.Nearest.ID, "a risk that cannot be told is not near")
	q.Survives = func(i int) (float64, string, bool) { return math.NaN(), fmt.Sprint("why ", i), false }
	r, err = x.Find(q)
	require.NoError(t, err)
	assert.Equal(t, "survives there: not known of 4; without it: 4", r.NoHit.Excluded[0].String())
	assert.Equal(t, []Reason{{Kind: "risk", Field: "survives", Text: "why 0"}}, r.NoHit.Nearest.Missed)
	q.Survives = func(i int) (float64, string, bool) {
		return []float64{math.NaN(), 0.2, 0.3, 0, math.NaN()}[i], "", i < 3
	}
	r, err = x.Find(q)
	require.NoError(t, err)
	assert.Equal(t, []string{"p1", "p2", "p0"}, ids(r.Hits), "an unknown risk goes last")
	assert.Nil(t, r.Hits[2].Risk)
	_, err = json.Marshal(r)
	assert.NoError(t, err)
}

func TestManyAtOnce(t *testing.T) {
	x := newIndex(t, synthetic(300, 5), nil)
	want := newIndex(t, synthetic(300, 5), nil)
	var group sync.WaitGroup
	for i := range 8 {
		group.Go(func() {
			for _, line := range lines() {
				assert.Equal(t, ids(find(t, want, line).Hits), ids(find(t, x, line).Hits), line)
			}
			if i == 3 {
				assert.NoError(t, x.Close(), "a later search builds the index anew")
			}
		})
	}
	group.Wait()
}
