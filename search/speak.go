package search

import (
	"fmt"
	"slices"
)

// spoken is what the words of a query came to.
type spoken struct {
	*tally
	wants []want
	need  int // wants that a plant should have, all of them if it can
	notes []string
}

// speak makes out the words, puts right those that no plant has, and adds up.
func (x *Index) speak(words []Word) (*spoken, error) {
	words, err := x.grown(words)
	if err != nil {
		return nil, err
	}
	wants, ignored := x.lang.wants(words, x.table)
	s := &spoken{wants: wants, notes: slices.Clone(x.notes)}
	if len(wants) == 0 {
		s.notes = append(s.notes, fmt.Sprintf("no word to search for in %s", list(ignored)))
	}
	if n := len(wants); n > 0 && !wants[n-1].not && !wants[n-1].required { // perhaps not yet typed out
		wants[n-1].ways = append(wants[n-1].ways, beginnings(wants[n-1].asked)...)
	}
	if s.tally, err = x.words.tallyOf(wants, x.plants); err != nil {
		return nil, err
	}
	again := false
	for i := range s.wants {
		w := &s.wants[i]
		if w.not && s.found[i] == 0 {
			s.notes = append(s.notes, fmt.Sprintf("no plant has the word %q, so none is left out for it", w.asked))
		}
		if s.found[i] > 0 || w.not || w.required {
			continue
		}
		if begun := beginnings(w.asked); len(begun) > 0 && i < len(s.wants)-1 {
			w.ways = append(w.ways, begun...)
			t, err := x.words.tallyOf(s.wants[i:i+1], x.plants)
			if err != nil {
				return nil, err
			}
			if again = again || t.found[0] > 0; t.found[0] > 0 {
				continue
			}
		}
		near, ok, err := x.words.correct(w.asked, x.lang, x.opts.Synonyms, x.plants)
		if err != nil {
			return nil, err
		}
		if !ok {
			s.notes = append(s.notes, fmt.Sprintf("no plant has the word %q", w.asked))
			continue
		}
		s.notes = append(s.notes, fmt.Sprintf("no plant has the word %q; read as %q", w.asked, near))
		fixed, _ := x.lang.wants([]Word{{Text: near}}, x.table)
		for k := range fixed {
			for j := range fixed[k].ways {
				fixed[k].ways[j].via = true
			}
			w.ways = fixed[k].ways
			again = true
		}
	}
	if again {
		if s.tally, err = x.words.tallyOf(s.wants, x.plants); err != nil {
			return nil, err
		}
	}
	for i, w := range s.wants {
		if !w.not && (s.found[i] > 0 || w.required) {
			s.need++
		}
	}
	return s, nil
}

// grown writes two words as one where a name does: "blue stem", "gloam hood".
func (x *Index) grown(words []Word) ([]Word, error) {
	out := slices.Clone(words)
	for i := 0; i+1 < len(out); i++ {
		a, b := out[i], out[i+1]
		if a.Phrase || b.Phrase || b.Not || len(a.Text) < 3 || len(b.Text) < 3 {
			continue
		}
		found := 0
		for _, way := range x.lang.waysOf(a.Text+b.Text, 1, false) {
			if way.field.name != "name" && way.field.name != "sci" {
				continue
			}
			if err := x.words.each(way, func(uint32, float64) { found++ }); err != nil {
				return nil, err
			}
		}
		if found > 0 {
			out[i].Text += b.Text
			out = slices.Delete(out, i+1, i+2)
		}
	}
	return out, nil
}

// wanted reports whether any word asks for something, rather than rules it out.
func (s *spoken) wanted() bool {
	return slices.ContainsFunc(s.wants, func(w want) bool { return !w.not })
}
