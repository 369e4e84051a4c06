// Package report turns results into what people and programs read: a document
// per command, printed as text in the garden's units or as JSON in SI units.
// It rounds and words; it computes nothing.
package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
)

// Garden says which garden a document is about.
type Garden struct {
	Name   string      `json:"name"`
	File   string      `json:"file"`
	Demo   bool        `json:"demo"`
	Units  zones.Units `json:"-"`
	Assume []string    `json:"assumed,omitempty"`
	Taught []string    `json:"-"` // by its notes, with --by-notes; among Assume too
	// Inputs are the files that the document rests on, in the order in which
	// they were read.
	Inputs []FileDigest `json:"inputs" about:"the files that this rests on, in the order of reading"`
}

// FileDigest names a file that was read and the SHA-256 of what stood in it.
type FileDigest struct {
	Name   string `json:"file"`
	SHA256 string `json:"sha256" schema:"sha256"`
}

// NewGarden fills in the head of a document.
func NewGarden(g *zones.Garden, demo bool) Garden {
	return Garden{Name: g.Name, File: g.Source, Demo: demo, Units: g.Units, Assume: g.Assumed, Inputs: []FileDigest{}}
}

// opening is what a document begins with: its title, the garden and, unless
// there is none, the record.
func opening(g Garden, title string, r *Record) []doc.Block {
	name := g.Name
	if g.Demo {
		name += " (the invented demo garden; --garden DIR for yours)"
	}
	out := []doc.Block{doc.Heading(title), doc.Line(name)}
	if r != nil {
		out = append(out, doc.Line(r.words()))
	}
	for _, t := range g.Taught {
		out = append(out, doc.Text{Words: "By the notes: " + t + "."})
	}
	return out
}

// checkedOpening asks too whether the record sounds right.
func checkedOpening(g Garden, title string, r Record) []doc.Block {
	out := opening(g, title, &r)
	if s := r.sounds(g.Units); s != "" {
		out = append(out, doc.Line(s))
	}
	for _, s := range r.Doubts {
		out = append(out, doc.Line("Note: "+s+"."))
	}
	return out
}

func (g Garden) title(w io.Writer, what string) { doc.Terminal(w, opening(g, what, nil)) }

// Paper is doc.Paper, until all of cmd names that.
type Paper = doc.Paper

// Number is a float64 whose NaN and infinities are null in JSON.
type Number float64

// MarshalJSON writes null where there is no finite number.
func (n Number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

func numbers(v []float64) []Number {
	out := make([]Number, len(v))
	for i, x := range v {
		out[i] = Number(x)
	}
	return out
}

// Plain is doc.Plain. This and what follows go when the last result is blocks.
func Plain(s string) string { return doc.Plain(s) }

// grid is a table without lines; columns named in right, and those of numbers,
// are set to the right.
func grid(w io.Writer, head table.Row, right []string, rows []table.Row) {
	var t doc.Table
	for _, h := range head {
		name := fmt.Sprint(h)
		t.Columns = append(t.Columns, doc.Column{Head: name, Right: slices.Contains(right, name)})
	}
	for _, row := range rows {
		var cells []string
		for i, c := range row {
			if _, words := c.(string); !words {
				t.Columns[i].Right = true
			}
			cells = append(cells, fmt.Sprint(c))
		}
		t.Rows = append(t.Rows, doc.Cells(cells...))
	}
	doc.Terminal(w, []doc.Block{t})
}

// Months names months shortly, runs over the turn of the year too: "Apr to Jun,
// Sep", "Nov to Feb". They begin with a month whose forerunner is not among
// them, the first of them in the order given.
func Months(months []int) string {
	if len(months) == 0 {
		return "none"
	}
	first := max(0, slices.IndexFunc(months, func(m int) bool { return !slices.Contains(months, (m+10)%12+1) }))
	var parts []string
	for i := 0; i < len(months); {
		from := months[(first+i)%len(months)]
		to := from
		for i++; i < len(months) && months[(first+i)%len(months)] == to%12+1; i++ {
			to = to%12 + 1
		}
		part := monthName(from)
		if to != from {
			part += " to " + monthName(to)
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, ", ")
}

func monthName(m int) string { return time.Month(m).String()[:3] }

// date prints a day in the order of ISO 8601, which no country misreads.
func date(t time.Time) string { return t.Format("2006-01-02") }

func narrow(w io.Writer, columns int) bool { return doc.Narrow(w, columns) }

func inOneLine(w io.Writer, words string) { doc.Terminal(w, []doc.Block{doc.Line(words)}) }

func wrap(w io.Writer, first, indent, words string) { doc.Wrap(w, first, indent, words) }

func bullets(w io.Writer, items []string) { doc.Terminal(w, []doc.Block{doc.List{Items: items}}) }

func plural(n int, one, many string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, one)
	}
	return fmt.Sprintf("%d %s", n, many)
}
