package search

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hollowbed/plants/catalogue"
)

// Reason is why a plant matches, or what it misses by.
type Reason struct {
	Kind    string   `json:"kind" schema:"one of word|limit|risk|like"`
	Field   string   `json:"field"`                                  // where the word stands, or what the limit is on
	Asked   string   `json:"asked"`                                  // as written in the query
	Text    string   `json:"text"`                                   // the reason in words
	Assumed bool     `json:"assumed"`                                // rests on a value assumed from a class, not measured
	Found   *float64 `json:"found,omitempty"`                        // the plant's own number, in Unit
	Unit    string   `json:"unit,omitempty"`                         // of Found, as in the plant table
	By      *float64 `json:"by,omitempty"`                           // how far Found is from what was asked, in Unit
	Quote   string   `json:"quote,omitempty"`                        // text of the plant that holds the word
	Marks   [][2]int `json:"marks,omitempty" schema:"each len 2..2"` // the words in Quote: first and past last byte
	ReadAs  string   `json:"read_as,omitempty"`                      // the synonym or correction that matched

	said wording // Text with its numbers, if it holds any
}

// String is the reason in words, with matched words between the marks « and ».
func (r Reason) String() string { return r.Say(Quantity.String) }

// Say is String with every number as write has it.
func (r Reason) Say(write func(Quantity) string) string {
	s := r.Text
	if r.said != nil {
		s = r.said.say(write)
	}
	if r.Quote != "" {
		s += ": " + r.Marked("«", "»")
	}
	if r.Assumed {
		s += " (assumed)"
	}
	return s
}

// Marked returns Quote with each matched word between before and after.
func (r Reason) Marked(before, after string) string {
	var b strings.Builder
	at := 0
	for _, m := range r.Marks {
		b.WriteString(r.Quote[at:m[0]] + before + r.Quote[m[0]:m[1]] + after)
		at = m[1]
	}
	b.WriteString(r.Quote[at:])
	return b.String()
}

// hit tells why a match matches.
func (x *Index) hit(m match, f *finding) Hit {
	p := &x.plants[m.row]
	h := Hit{
		Row: int(m.row), ID: p.ID, VernacularName: p.VernacularName, Score: m.score, Why: make([]Reason, 0, len(f.asked)),
		HeightCM: stated(p.HeightCM), FlowerColour: append([]string{}, p.FlowerColour...), FlowerFrom: p.FlowerFrom, FlowerTo: p.FlowerTo, Zones: append([]string{}, p.Zones...),
		Guessed: p.Wild != nil && p.Wild.Guessed,
		Toxic:   slices.DeleteFunc(append([]string{}, labels("toxic", p)...), func(s string) bool { return s == "yes" }),
	}
	if m.fate != nil {
		h.Risk = stated(m.fate.risk)
		h.Why = append(h.Why, Reason{Kind: "risk", Field: "survives", Text: m.fate.reason})
	}
	for i := range f.asked {
		if c := &f.asked[i]; !c.quiet {
			h.Why = append(h.Why, c.reason(&c.f, p, false))
		}
	}
	if f.like != nil {
		_, in := alike(p, f.like)
		h.Why = append(h.Why, likeness(f.like, in))
	}
	if f.spoken != nil {
		t := newTexts(p)
		for _, w := range f.spoken.wants {
			if !w.not {
				h.Why = append(h.Why, x.lang.reasons(w, p, t)...)
			}
		}
	}
	return h
}

// stated is x, or nil if x is not known: JSON has no NaN.
func stated(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// reason compares what a plant has with what a condition asks.
func (c *Condition) reason(f *Field, p *catalogue.Plant, missed bool) Reason {
	r := Reason{Kind: "limit", Field: f.Name, Asked: c.written()}
	for _, column := range f.Columns {
		r.Assumed = r.Assumed || slices.Contains(p.Assumed, column)
	}
	by := math.NaN()
	switch f.kind {
	case number:
		x := f.column.of(p)
		if r.Found = stated(x); r.Found != nil {
			r.Unit = f.Unit
			by = c.gap(x)
		}
	case hours:
		by = c.sunGap(p)
	}
	r.said = make(wording, 0, 3).says(f, p)
	if missed || !c.plain(f, p) {
		r.said = r.said.words(", you asked ").asks(c, f)
	}
	if missed && by > 0 {
		r.By, r.Unit = stated(by), f.Unit
		r.said = append(r.said, piece{before: ": ", numbers: 1, low: by, unit: f.Unit, difference: true, after: " off"})
	}
	r.Text = r.said.say(Quantity.String)
	return r
}

// plain reports whether what a plant has, put in words, says that it is what was asked.
func (c *Condition) plain(f *Field, p *catalogue.Plant) bool {
	if f.numeric() {
		return false
	}
	if f.Flag && slices.Equal(c.Values, []string{"yes"}) {
		return true
	}
	if c.Not || len(c.Values) != 1 {
		return false
	}
	have := labels(f.Name, p)
	return len(have) == 1 && sameLabel(have[0], c.Values[0])
}

func (c *Condition) written() string {
	if c.Typed == "" {
		return c.String()
	}
	if c.Not {
		return "-" + c.Typed
	}
	return c.Typed
}

// reasons shows where a plant has what was wanted, the word itself before what
// stands for it; fields in the order of wordFields.
func (l language) reasons(w want, p *catalogue.Plant, t *texts) []Reason {
	var direct, via []Reason
	for _, way := range w.ways {
		if way.wish != nil {
			if way.wish.ask(p) == yes {
				r := way.wish.reason(&way.wish.f, p, false)
				r.Kind, r.Asked, r.ReadAs = "word", w.asked, way.said
				r.said = wording{}.words(fmt.Sprintf("%q reads %s: ", w.asked, way.said)).says(&way.wish.f, p)
				r.Text = r.said.say(Quantity.String)
				via = append(via, r)
			}
			continue
		}
		for _, text := range t.in(way.field.name) {
			spots := l.spots(way, text)
			if len(spots) == 0 {
				continue
			}
			r := Reason{Kind: "word", Field: fieldLabel(way.field.name), Asked: w.asked}
			r.Quote, r.Marks = excerpt(text.as, spots)
			if quoted(direct, r) || quoted(via, r) {
				continue
			}
			if !way.via {
				r.Text = strconv.Quote(w.asked) + " in " + r.Field
				direct = append(direct, r)
				continue
			}
			r.ReadAs = way.said
			r.Text = strconv.Quote(w.asked) + " reads " + strconv.Quote(way.said) + " in " + r.Field
			via = append(via, r)
		}
	}
	return append(direct, via...)
}

// quoted reports whether a reason of the same field with the same words marked
// is there already.
func quoted(have []Reason, r Reason) bool {
	return slices.ContainsFunc(have, func(h Reason) bool {
		return h.Field == r.Field && h.Quote == r.Quote && slices.Equal(h.Marks, r.Marks)
	})
}

func fieldLabel(name string) string {
	switch name {
	case "name", "whole":
		return "vernacularName"
	case "sci":
		return "scientificName"
	}
	return name
}

const excerptSide = 60 // bytes kept each side of a mark, about ten words

// excerpt cuts text down to the neighbourhood of the first mark, at spaces,
// and moves the marks along.
func excerpt(text string, spots [][2]int) (string, [][2]int) {
	from, to := 0, len(text)
	if at := spots[0][0] - excerptSide; at > 0 {
		from = at + max(strings.IndexByte(text[at:spots[0][0]], ' '), 0)
	}
	if at := spots[0][1] + excerptSide; at < len(text) {
		to = at
		if i := strings.LastIndexByte(text[spots[0][1]:at], ' '); i >= 0 {
			to = spots[0][1] + i
		}
	}
	for from < spots[0][0] && (text[from] == ' ' || !utf8.RuneStart(text[from])) {
		from++
	}
	for to < len(text) && !utf8.RuneStart(text[to]) {
		to++
	}
	var marks [][2]int
	last := 0
	for _, s := range spots {
		if s[0]-from >= last && s[1] <= to {
			marks = append(marks, [2]int{s[0] - from, s[1] - from})
			last = s[1] - from
		}
	}
	return text[from:to], marks
}
