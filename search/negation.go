package search

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// People write "not toxic", "safe for dogs" and "no poison" where the grammar
// has -toxic and toxic:none. This file reads them so. Of a plant that harms, or
// that runs wild, the opposite answer could hurt somebody: where the line can be
// read two ways it is refused, with both ways of writing it.

// token is a word or condition of the line in its order.
type token struct {
	sense sense
	word  Word
	cond  *Condition
	plain string // the word in small letters, without marks at its ends
	ends  bool   // a mark after it ends what "not" governs
}

// plainWord writes a word as the table of senses has it.
func plainWord(s string) string {
	return strings.Trim(strings.ReplaceAll(fold(s), "\u2019", "'"), ".,;:?()'\u2026"+minuses)
}

// sentence goes over the tokens and gathers what the line comes to.
type sentence struct {
	tokens  []token
	at      int
	out     Query
	turned  *token // the first word that turns something round
	harmful *token // the first harm that nothing turns round
	asks    string // why the line can't be read for certain,
	doubt   *token // and where
}

// read makes conditions of what the line says about harm, and leaves all else. Other
// words that are turned round are left to wants, which knows the phrases of the trade.
func (p *parser) read() {
	r := sentence{tokens: tokensOf(p.query)}
	for r.at < len(r.tokens) && r.asks == "" {
		r.next()
	}
	if r.asks == "" && r.harmful != nil {
		if r.turned != nil {
			r.ask(r.turned, fmt.Sprintf("%q and %q can be read two ways", r.turned.plain, r.harmful.plain))
		} else if slip := r.slip(); slip != nil {
			r.ask(slip, slip.plain+" is near a word that turns the line round")
		}
	}
	if r.asks != "" {
		p.fault(r.doubt.word.Column, "query", strings.TrimSpace(string(p.text)), r.asks+"; expected -toxic for plants that harm nobody, toxic for those that harm, "+
			"-spreads:runs,seeds for those that stay put, and a minus before each other word to leave out")
		return
	}
	r.out.Like = p.query.Like
	r.out.Words = telling(r.out)
	p.query = r.out
}

// tokensOf lists words and conditions in the order of the line. Words tied by a
// hyphen come apart where that shows what they say: non-toxic, dog-safe.
func tokensOf(q Query) []token {
	var out []token
	for _, w := range q.Words {
		parts := []string{w.Text}
		if cut := parted(w); cut != nil {
			parts = cut
			w.Phrase = false
		}
		for _, text := range parts {
			word := w
			word.Text = text
			t := token{word: word, plain: plainWord(text), ends: strings.HasSuffix(text, ",") || strings.HasSuffix(text, ";") || strings.HasSuffix(text, ".")}
			if !w.Phrase {
				t.sense = senseIn(t.plain)
			}
			out = append(out, t)
		}
	}
	for i := range q.Conditions {
		c := &q.Conditions[i]
		t := token{cond: c, plain: c.Typed, word: Word{Column: c.Column}}
		if f, ok := fieldNamed(c.Typed); ok && f.Name == "toxic" {
			t.sense = harms
		}
		out = append(out, t)
	}
	slices.SortStableFunc(out, func(a, b token) int { return cmp.Compare(a.word.Column, b.word.Column) })
	return out
}

// parted cuts a word at its hyphens, and a phrase in quotes at its spaces, where
// the first part turns the others round or they speak of safety.
func parted(w Word) []string {
	text, phrase := w.Text, w.Phrase
	parts := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("_/"+minuses, r) || phrase && r == ' ' })
	if len(parts) < 2 || plainWord(text) == "w/o" {
		return nil
	}
	speaks := func(part string, of ...sense) bool { return slices.Contains(of, senseIn(plainWord(part))) }
	turned := slices.ContainsFunc(parts, func(s string) bool { return speaks(s, turns, softly, safe) })
	harm := slices.ContainsFunc(parts, func(s string) bool { return speaks(s, harms, hurts, runs) })
	last := parts[len(parts)-1]
	switch {
	case (turned || w.Not) && harm, !phrase && speaks(parts[0], turns), speaks(last, safe), speaks(last, friendly) && speaks(parts[0], being),
		phrase && slices.ContainsFunc(parts, func(s string) bool { return speaks(s, safe) }):
		return parts
	}
	return nil
}

// next reads one token, or as many as belong together.
func (r *sentence) next() {
	t := &r.tokens[r.at]
	switch {
	case t.sense == turns && !r.inName(), (t.sense == softly || t.plain == "" && t.cond == nil) && r.governsHarm(r.at+1) && !r.leftOut(r.fillers(r.at+1)), r.allBut():
		r.governed()
	case r.safeAt(r.at) > 0:
		n := r.safeAt(r.at)
		r.add(t.word.Column, r.said(r.at, r.at+n), "toxic", []string{"none"}, t.word.Not)
		r.at = r.beings(r.at + n)
	case t.plain == "unsafe" && !t.word.Not:
		r.add(t.word.Column, t.plain, "toxic", []string{"none"}, true)
		r.at = r.beings(r.at + 1)
	case t.word.Not && (t.sense == harms || t.sense == runs):
		r.strictly(t.sense, r.at, r.at+1)
		r.at = r.beings(r.at + 1)
	case r.strict(r.at) == harms && !r.leftOut(r.at) && r.beings(r.at+1) > r.at+1:
		r.harmful = cmp.Or(r.harmful, t)
		end := r.beings(r.at + 1)
		r.add(t.word.Column, r.said(r.at, end), "toxic", r.harmed(r.at+1, end), false)
		r.at = end
	default:
		if t.sense == harms && (t.cond == nil || !t.cond.Not) || t.sense == runs {
			r.harmful = cmp.Or(r.harmful, t)
		}
		if t.sense == turns && !r.inName() || t.sense == softly {
			r.turned = cmp.Or(r.turned, t)
		}
		r.keep()
	}
}

// inName reports whether a word belongs to a name: forget-me-not.
func (r *sentence) inName() bool {
	if r.at < 2 || r.tokens[r.at-1].plain != "me" {
		return false
	}
	before := r.tokens[r.at-2].plain
	return before == "forget" || before == "touch"
}

// allBut reports whether "anything but" or "other than" stands here, and moves
// to its last word.
func (r *sentence) allBut() bool {
	if r.at+1 >= len(r.tokens) {
		return false
	}
	switch r.tokens[r.at].plain + " " + r.tokens[r.at+1].plain {
	case "anything but", "everything but", "all but", "other than", "rather than", "instead of", "apart from", "aside from":
		r.at++
		return true
	}
	return false
}

// governsHarm reports whether harm is named from token i on, after fillers.
func (r *sentence) governsHarm(i int) bool {
	i = r.fillers(i)
	return i < len(r.tokens) && r.strict(i) != other
}

// leftOut reports whether token i has a minus of its own.
func (r *sentence) leftOut(i int) bool {
	t := r.tokens[i]
	return t.word.Not || t.cond != nil && t.cond.Not
}

// strict is the sense of token i as far as its opposite could hurt somebody.
func (r *sentence) strict(i int) sense {
	switch t := r.tokens[i]; {
	case r.safeAt(i) > 0:
		return safe
	case t.sense == harms, t.sense == runs:
		return t.sense
	case t.sense == hurts && r.beings(i+1) > i+1:
		return harms
	case r.creeps(i) > 0:
		return runs
	}
	return other
}

// fillers passes over marks and words that only lead to what is governed.
func (r *sentence) fillers(i int) int {
	for i < len(r.tokens) && r.tokens[i].cond == nil && (r.tokens[i].sense == filler || r.tokens[i].plain == "" && !r.tokens[i].word.Not) {
		i++
	}
	return i
}

// safeAt counts the tokens from i on that say "safe": "harmless", "dog and cat
// safe", "pet friendly". "Safe from deer" is another matter.
func (r *sentence) safeAt(i int) int {
	from := i
	for i+1 < len(r.tokens) && r.tokens[i].sense == being {
		i++
		if r.tokens[i].sense == joins && i+1 < len(r.tokens) && r.tokens[i+1].sense == being {
			i++
		}
	}
	switch t := r.tokens[i]; {
	case t.sense == safe && (i+1 == len(r.tokens) || r.tokens[i+1].plain != "from"), t.sense == friendly && i > from:
		return i + 1 - from
	case t.sense == harms && !r.leftOut(i) && i+1 < len(r.tokens) && r.tokens[i+1].plain == "free":
		return i + 2 - from
	}
	return 0
}

// beings passes over those who are harmed or safe: "to dogs, cats and children".
func (r *sentence) beings(i int) int {
	end := i
	for ; i < len(r.tokens); i++ {
		switch r.tokens[i].sense {
		case being:
			end = i + 1
		case leads, joins, filler:
		default:
			return end
		}
	}
	return end
}

// harmed are the values of toxic for those whom tokens from to to name.
func (r *sentence) harmed(from, to int) []string {
	var out []string
	for _, t := range r.tokens[from:to] {
		if t.sense == being {
			out = append(out, kindOf(t.plain)...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// governed reads a word that turns round and what it governs.
func (r *sentence) governed() {
	from := r.at
	r.turned = cmp.Or(r.turned, &r.tokens[from])
	kept := false
	for i := from + 1; ; {
		i = r.fillers(i)
		if i >= len(r.tokens) {
			r.at = i
			return
		}
		t := &r.tokens[i]
		switch s := r.strict(i); {
		case t.sense == turns, r.leftOut(i), t.plain == "only", t.plain == "just", t.plain == "but":
			r.ask(&r.tokens[from], fmt.Sprintf("%q can be read two ways", r.said(from, i+1)))
			return
		case s == safe:
			n := r.safeAt(i)
			r.add(t.word.Column, r.said(from, i+n), "toxic", []string{"none"}, true)
			i = r.beings(i + n)
		case s != other:
			n := max(1, r.creeps(i))
			r.strictly(s, from, i+n)
			i = r.beings(i + n)
		case t.cond != nil:
			c := *t.cond
			c.Not, c.Typed, c.Column = true, r.said(from, i+1), r.tokens[from].word.Column
			r.out.Conditions = append(r.out.Conditions, c)
			i++
		default:
			if near := table.Nearest(t.plain, harmWords()); near != "" && senseOf(t.plain) == other {
				r.ask(t, "did you mean "+near+"?")
				return
			}
			turning := Word{Text: "not", Column: t.word.Column}
			if kept {
				turning.Text = "or"
			}
			before := r.out.Words
			r.out.Words = append(before, turning)
			if next := r.keepTerm(i); next > i {
				i, kept = next, true
			} else {
				r.out.Words = before
			}
		}
		if !r.goesOn(i, kept) {
			if !kept && i+1 < len(r.tokens) && r.tokens[i].sense == joins && r.tokens[i+1].sense == turns {
				i++ // "and not" begins anew
			}
			r.at = i
			return
		}
		i++
	}
}

// keepTerm keeps the words up to where a governed list may go on or end.
func (r *sentence) keepTerm(i int) int {
	for ; i < len(r.tokens); i++ {
		t := &r.tokens[i]
		if t.cond != nil || t.sense == turns || t.sense == joins || r.strict(i) != other {
			return i
		}
		r.out.Words = append(r.out.Words, t.word)
		if t.ends {
			return i + 1
		}
	}
	return i
}

// goesOn reports whether token i carries on the governed list: "or", "nor", and
// "and" before another harm.
func (r *sentence) goesOn(i int, kept bool) bool {
	if i >= len(r.tokens) || r.tokens[i].sense != joins {
		return i < len(r.tokens) && r.tokens[i].plain == "nor"
	}
	return r.tokens[i].plain != "and" && r.tokens[i].plain != "&" || !kept && r.governsHarm(i+1)
}

// strictly adds the condition that a plant is known not to harm, or not to run.
func (r *sentence) strictly(s sense, from, to int) {
	column, typed := r.tokens[from].word.Column, r.said(from, to)
	if s == runs {
		r.add(column, typed, "spreads", []string{"runs", "seeds"}, true)
		return
	}
	r.add(column, typed, "toxic", []string{"yes"}, true)
}

func (r *sentence) add(column int, typed, field string, values []string, not bool) {
	r.out.Conditions = append(r.out.Conditions, Condition{Field: field, Not: not, Values: values, Typed: typed, Column: column})
}

// keep leaves a token as it was.
func (r *sentence) keep() {
	t := r.tokens[r.at]
	if t.cond != nil {
		r.out.Conditions = append(r.out.Conditions, *t.cond)
	} else {
		r.out.Words = append(r.out.Words, t.word)
	}
	r.at++
}

// said is how tokens were written.
func (r *sentence) said(from, to int) string {
	var out []string
	for _, t := range r.tokens[from:min(to, len(r.tokens))] {
		if t.word.Not || t.cond != nil && t.cond.Not {
			t.plain = "-" + t.plain
		}
		out = append(out, t.plain)
	}
	return strings.Join(out, " ")
}

// ask notes why the line can't be read for certain, and where.
func (r *sentence) ask(at *token, why string) { r.asks, r.doubt = why, at }

// slip is a word beside harm, one slip from one that turns it round: "nto toxic".
func (r *sentence) slip() *token {
	for i, t := range r.tokens {
		for _, w := range []string{"not", "non", "never", "without", "except", "isn't"} {
			if t.cond == nil && t.sense == other && t.plain != "" && table.Edits(t.plain, w) == 1 {
				return &r.tokens[i]
			}
		}
	}
	return nil
}

// harmWords lists what a slip may have been meant as.
func harmWords() []string {
	return []string{"toxic", "poisonous", "poison", "harmful", "dangerous", "invasive"}
}
