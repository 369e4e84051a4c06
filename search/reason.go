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
	Kind    string   `json:"kind"`              // "word", "limit" or "risk"
	Field   string   `json:"field"`             // where the word stands, or what the limit is on
	Asked   string   `json:"asked"`             // as written in the query
	Text    string   `json:"text"`              // the reason in words
	Assumed bool     `json:"assumed"`           // rests on a value assumed from a class, not measured
	Found   *float64 `json:"found,omitempty"`   // the plant's own number, in Unit
	Unit    string   `json:"unit,omitempty"`    // of Found, as in the plant table
	By      *float64 `json:"by,omitempty"`      // how far Found is from what was asked, in Unit
	Quote   string   `json:"quote,omitempty"`   // text of the plant that holds the word
	Marks   [][2]int `json:"marks,omitempty"`   // the words in Quote: first and past last byte
	ReadAs  string   `json:"read_as,omitempty"` // the synonym or correction that matched
}

// String is the reason in words, with matched words between the marks « and ».
func (r Reason) String() string {
	s := r.Text
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
func (x *Index) hit(m match, f finding) Hit {
	p := &x.plants[m.row]
	h := Hit{Row: int(m.row), ID: p.ID, VernacularName: p.VernacularName, Score: m.score, Why: []Reason{}}
	if m.fate != nil {
		h.Risk = stated(m.fate.risk)
		h.Why = append(h.Why, Reason{Kind: "risk", Field: "survives", Text: m.fate.reason})
	}
	for _, c := range f.asked {
		h.Why = append(h.Why, c.reason(c.f, p, false))
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
func (c Condition) reason(f Field, p *catalogue.Plant, missed bool) Reason {
	r := Reason{Kind: "limit", Field: f.Name, Asked: c.written()}
	for _, column := range f.Columns {
		r.Assumed = r.Assumed || slices.Contains(p.Assumed, column)
	}
	switch f.kind {
	case number:
		x := measure(f.Name)(p)
		r.Text = says(f.Name, x) + ", you asked " + c.asks(f)
		if r.Found = stated(x); r.Found != nil {
			r.Unit = f.Unit
			if by := c.gap(x); missed && by > 0 {
				r.By = stated(by)
				r.Text += ": " + unitsAfter(by, f) + " off"
			}
		}
	case hours:
		r.Text = sunSays(p) + ", you asked " + c.asks(f)
		if by := c.sunGap(p); missed && by > 0 {
			r.By, r.Unit = stated(by), f.Unit
			r.Text += ": " + unitsAfter(by, f) + " off"
		}
	default:
		r.Text = labelSays(f.Name, p) + ", you asked " + c.asks(f)
	}
	return r
}

func (c Condition) written() string {
	if c.Typed == "" {
		return c.String()
	}
	if c.Not {
		return "-" + c.Typed
	}
	return c.Typed
}

// round writes a number for people: at most four digits that count.
func round(x float64) string {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return strconv.FormatFloat(x, 'f', -1, 64)
}

func unitsAfter(x float64, f Field) string {
	unit := f.Unit
	if f.dim == degreesC {
		unit = "°C"
	}
	return strings.TrimSpace(round(x) + " " + unit)
}

// asks writes what a condition asks for.
func (c Condition) asks(f Field) string {
	s := strings.Join(c.Values, " or ")
	if s == "yes" {
		s = f.Name
	}
	if f.kind == number || f.kind == hours {
		s = c.Range.asks(f)
	}
	if c.Not {
		return "not " + s
	}
	return s
}

func (r Range) asks(f Field) string {
	low, high := !math.IsInf(r.Min, -1), !math.IsInf(r.Max, 1)
	switch {
	case low && high && r.Min == r.Max:
		return unitsAfter(r.Min, f)
	case low && high:
		return round(r.Min) + " to " + unitsAfter(r.Max, f)
	case low && r.MinOpen:
		return "over " + unitsAfter(r.Min, f)
	case low && f.bears > 0:
		return unitsAfter(r.Min, f)
	case low:
		return "at least " + unitsAfter(r.Min, f)
	case r.MaxOpen:
		return "under " + unitsAfter(r.Max, f)
	case f.bears < 0:
		return unitsAfter(r.Max, f)
	}
	return "at most " + unitsAfter(r.Max, f)
}

// says writes what a number of the table says of the plant.
func says(field string, x float64) string {
	if math.IsNaN(x) {
		return "its " + field + " is not stated"
	}
	n := round(x)
	switch field {
	case "wet":
		return "bears " + n + " h wet"
	case "pond":
		return "bears water " + n + " mm deep"
	case "dry":
		return "bears " + n + " d without water"
	case "cold":
		return "survives " + n + " °C"
	case "height":
		return n + " cm high"
	case "spread":
		return n + " cm across"
	}
	return "costs " + n
}

func sunSays(p *catalogue.Plant) string {
	switch low, high := p.SunMinH, p.SunMaxH; {
	case math.IsNaN(low) && math.IsNaN(high):
		return "its sun is not stated"
	case math.IsNaN(high):
		return "takes " + round(low) + " h of sun or more, the most not stated"
	case math.IsNaN(low):
		return "takes up to " + round(high) + " h of sun, the least not stated"
	default:
		return "takes " + round(low) + " to " + round(high) + " h of sun"
	}
}

func labelSays(field string, p *catalogue.Plant) string {
	have := labels(field, p)
	if len(have) == 0 {
		return "its " + field + " is not stated"
	}
	switch field {
	case "zone":
		return "growers plant it at the " + list(have)
	case "bloom":
		if len(have) == 1 {
			return "flowers in " + have[0]
		}
		return "flowers from " + have[0] + " to " + have[len(have)-1]
	case "colour":
		return "flowers " + list(have)
	case "native":
		return "native to " + list(have)
	case "toxic":
		if have[0] == "none" {
			return "known to harm nobody"
		}
		return "harms " + list(slices.DeleteFunc(slices.Clone(have), func(s string) bool { return s == "yes" }))
	case "spreads":
		return "spreads: " + have[len(have)-1]
	}
	return field + ": " + list(have)
}

// reasons shows where a plant has what was wanted, the word itself before what
// stands for it; fields in the order of wordFields.
func (l language) reasons(w want, p *catalogue.Plant, t *texts) []Reason {
	var direct, via []Reason
	for _, way := range w.ways {
		if way.wish != nil {
			if way.wish.ask(p) == yes {
				r := way.wish.reason(way.wish.f, p, false)
				r.Kind, r.Asked, r.ReadAs = "word", w.asked, way.said
				r.Text = fmt.Sprintf("%q reads %s: %s", w.asked, way.said, strings.Split(r.Text, ", you asked")[0])
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
	for _, h := range have {
		if h.Field == r.Field && h.Quote == r.Quote && slices.Equal(h.Marks, r.Marks) {
			return true
		}
	}
	return false
}

func fieldLabel(name string) string {
	switch name {
	case "name":
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
