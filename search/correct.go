package search

import (
	"fmt"
	"strings"

	index "github.com/blevesearch/bleve_index_api"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/table"
)

// correct finds the word nearest to one that no plant has, among names, tags and
// synonyms; of notes alone one edit and six letters, or ordinary words are taken for
// slips. Fewest edits win, then the word on more plants, then the alphabet.
func (w *wordIndex) correct(word string, l language, syn *Synonyms, plants []catalogue.Plant) (string, bool, error) {
	word = fold(word)
	if table.Slips(word) == 0 || ordinary(word) {
		return "", false, nil
	}
	best, least, most := "", table.Slips(word)+1, uint64(0)
	consider := func(candidate string, count uint64) {
		d := table.Edits(word, candidate)
		if d < least || d == least && (count > most || count == most && candidate < best) {
			if d <= table.Slips(word) {
				best, least, most = candidate, d, count
			}
		}
	}
	for _, s := range syn.Words() {
		if !strings.Contains(s, " ") {
			consider(s, 0)
		}
	}
	for _, f := range wordFields()[1:] {
		terms, err := w.near(f, l, word)
		if err != nil {
			return "", false, err
		}
		for _, t := range terms {
			spelt, err := w.spelt(f, l, t.Term, plants)
			if err != nil {
				return "", false, err
			}
			for _, s := range spelt {
				if f.name != "notes" || table.Edits(word, s) == 1 && len(word) >= 6 {
					consider(s, t.Count)
				}
			}
		}
	}
	return best, best != "", nil
}

// near lists the terms of a field that are near the word or its stem.
func (w *wordIndex) near(f wordField, l language, word string) ([]index.DictEntry, error) {
	fuzzy, ok := w.reader.(index.IndexReaderFuzzy)
	if !ok {
		panic("search: bleve index without a fuzzy dictionary")
	}
	var out []index.DictEntry
	seen := map[string]bool{}
	for _, start := range []string{word, l.stems(word)} {
		if start == "" || strings.Contains(start, " ") {
			continue
		}
		dict, err := fuzzy.FieldDictFuzzy(f.name, start, 2, "") // two neighbours swapped count as 2 here
		if err != nil {
			return nil, fmt.Errorf("search: %q: %w", word, err)
		}
		for e, err := dict.Next(); e != nil; e, err = dict.Next() {
			if err != nil {
				return nil, fmt.Errorf("search: %q: %w", word, err)
			}
			if !seen[e.Term] {
				seen[e.Term] = true
				out = append(out, *e)
			}
		}
		if err := dict.Close(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// spelt lists how a stem is spelt on the first plant that has it.
func (w *wordIndex) spelt(f wordField, l language, term string, plants []catalogue.Plant) ([]string, error) {
	first := uint32(len(plants))
	way := way{said: term, field: f, slots: [][]string{{term}}}
	if err := w.each(way, func(row uint32, _ float64) { first = min(first, row) }); err != nil {
		return nil, err
	}
	if int(first) >= len(plants) {
		return nil, nil
	}
	var out []string
	for _, t := range newTexts(&plants[first]).in(f.name) {
		for _, s := range l.spots(way, t) {
			out = append(out, strings.TrimSuffix(fold(t.as[s[0]:s[1]]), "'s"))
		}
	}
	return out, nil
}

// textsIn lists the texts of a plant that a field of the word index holds.
func textsIn(field string, p *catalogue.Plant) []string {
	switch field {
	case "id":
		return []string{p.ID}
	case "name", "whole":
		return []string{p.VernacularName}
	case "sci":
		return []string{p.ScientificName}
	case "notes":
		return []string{p.Notes}
	}
	return tagsOf(p)
}

// ordinary reports whether people write a word in such lines as it stands, so
// that it is no slip of another. Common practice, no source.
func ordinary(word string) bool {
	switch strings.TrimSuffix(word, "s") {
	case "survive", "pet", "wild", "fast", "acid", "acidic", "alkaline", "lime", "nice", "smelly", "filter", "roof", "parking", "east", "west",
		"north", "south", "facing", "morning", "noon", "evening", "afternoon", "windy", "seaside", "school", "herb", "shallow", "prairie",
		"forest", "modern", "pastel", "mid", "strong", "weak", "soft", "firm", "hot", "warm", "cool", "cold", "big", "huge", "tiny", "large",
		"medium", "fruit", "edible", "annual", "biennial", "hedge", "path", "patio", "street", "house", "wall", "fence", "lawn", "grower",
		"grow", "growing", "long", "lived", "quick", "root", "deep", "best", "good", "bad", "pond", "rain", "water", "new", "old", "young", "around", "full":
		return true
	}
	return false
}
