package search

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Query is what is looked for. The zero Query matches every plant.
type Query struct {
	Words      []Word
	Conditions []Condition
	Like       *Like    // a plant to compare with; nil for none
	Sort       string   // one of Sorts, with a minus before it from the largest down; "" for the best first
	Facets     []string // names of fields to count, see Fields
	Limit      int      // most hits returned; 0 reads 10, below 0 none
	Offset     int      // hits passed over

	// Survives, if set, is asked for each plant (its place in the table) that meets all
	// else: its yearly risk there (NaN if unknown), why, and whether it survives at all.
	// Hits then rank by risk in whole percent, then by words.
	Survives func(plant int) (risk float64, reason string, ok bool)
}

// Word is a free word or, in quotes, a phrase.
type Word struct {
	Text   string
	Phrase bool
	Not    bool // plants with it are left out
	Column int  // where it stands in the query, from 1; 0 if not from text
}

// Condition is an exact test on one field, which decides between Values and Range.
type Condition struct {
	Field  string
	Not    bool     // turned round
	Values []string // any of these
	Range  Range
	Typed  string // as written, for messages
	Column int

	begins bool // of the first month of bloom alone
	quiet  bool // follows from another plant, and no reason of a hit names it
}

// Range is an interval in the unit of the plant table; infinite ends are open.
type Range struct {
	Min, Max         float64
	MinOpen, MaxOpen bool // the end itself is left out
}

func anything() Range { return Range{Min: math.Inf(-1), Max: math.Inf(1)} }

// String writes q as one line that Parse reads back as the same words and conditions.
func (q Query) String() string {
	type part struct {
		column int
		text   string
	}
	var parts []part
	for _, w := range q.Words {
		parts = append(parts, part{w.Column, w.String()})
	}
	for _, c := range q.Conditions {
		parts = append(parts, part{c.Column, c.String()})
	}
	line := func() string {
		var texts []string
		if q.Like != nil {
			texts = append(texts, q.Like.String())
		}
		for _, p := range parts {
			texts = append(texts, p.text)
		}
		return strings.Join(texts, " ")
	}
	if !q.isReadFrom(line()) { // a word turns round what follows it: leave all in its order
		slices.SortStableFunc(parts, func(a, b part) int { return cmp.Compare(uint(a.column-1), uint(b.column-1)) })
	}
	return line()
}

// isReadFrom reports whether the words and conditions of a line are q's.
func (q Query) isReadFrom(line string) bool {
	again, err := Parse(line)
	return err == nil && (again.Like == nil) == (q.Like == nil) &&
		slices.EqualFunc(again.Words, q.Words, func(a, b Word) bool { return a.String() == b.String() }) &&
		slices.EqualFunc(again.Conditions, q.Conditions, func(a, b Condition) bool { return a.String() == b.String() })
}

func (w Word) String() string {
	s := w.Text
	if w.Phrase {
		s = quote(s)
	}
	if w.Not {
		s = "-" + s
	}
	return s
}

func (c Condition) String() string {
	s := c.Field
	if c.Not {
		s = "-" + s
	}
	if f, ok := fieldNamed(c.Field); ok && f.Flag && slices.Equal(c.Values, []string{"yes"}) {
		return s
	}
	if len(c.Values) == 0 {
		return s + c.Range.String()
	}
	var values []string
	for _, v := range c.Values {
		if strings.ContainsFunc(v, unicode.IsSpace) || strings.ContainsAny(v, `",\`) || strings.Contains(v, "..") {
			v = quote(v)
		}
		values = append(values, v)
	}
	return s + ":" + strings.Join(values, ",")
}

// String writes r with its comparison: ">=48", "<91.44", "=6", ":20..60".
func (r Range) String() string {
	low, high := !math.IsInf(r.Min, -1), !math.IsInf(r.Max, 1)
	switch {
	case low && high && r.Min == r.Max:
		return "=" + short(r.Min)
	case low && high:
		return ":" + short(r.Min) + ".." + short(r.Max)
	case low && r.MinOpen:
		return ">" + short(r.Min)
	case low:
		return ">=" + short(r.Min)
	case r.MaxOpen:
		return "<" + short(r.Max)
	}
	return "<=" + short(r.Max)
}

// short writes x with as few digits as read back the same.
func short(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}
