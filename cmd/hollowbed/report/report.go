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
	"unicode"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"hollowbed/zones"
)

// Garden says which garden a document is about.
type Garden struct {
	Name   string      `json:"name"`
	File   string      `json:"file"`
	Demo   bool        `json:"demo"`
	Units  zones.Units `json:"-"`
	Assume []string    `json:"assumed,omitempty"`
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

func (g Garden) title(w io.Writer, what string) {
	name := g.Name
	if g.Demo {
		name += " (the invented demo garden; --garden DIR for yours)"
	}
	inOneLine(w, what)
	inOneLine(w, name)
}

// Paper is a writer that knows how wide it is, in characters.
type Paper struct {
	io.Writer
	Columns int
}

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

// Plain makes text from a file safe for a terminal: control characters, which
// could move the cursor or hide words, become a mark that shows.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\u2028' || r == '\u2029':
			return ' '
		case disturbs(r):
			return '\ufffd'
		}
		return r
	}, s)
}

// disturbs tells the characters that control a terminal or the direction of
// text; the joiners that some scripts need do not.
func disturbs(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && r != '\u200d' && r != '\u200c'
}

// grid is a table without lines; columns named in right are set to the right.
func grid(w io.Writer, head table.Row, right []string, rows []table.Row) {
	t := table.NewWriter()
	t.SetOutputMirror(w)
	style := table.StyleDefault
	style.Options = table.OptionsNoBordersAndSeparators
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	var columns []table.ColumnConfig
	for _, h := range head {
		name := fmt.Sprint(h)
		if slices.Contains(right, name) {
			columns = append(columns, table.ColumnConfig{Name: name, Align: text.AlignRight, AlignHeader: text.AlignRight})
		}
	}
	t.SetColumnConfigs(columns)
	t.AppendHeader(head)
	for _, row := range rows {
		for i, cell := range row {
			if s, ok := cell.(string); ok {
				row[i] = Plain(s)
			}
		}
		t.AppendRow(row)
	}
	t.SuppressTrailingSpaces()
	t.Render()
}

// pairs prints names with what they stand for, wrapped beside them.
func pairs(w io.Writer, rows [][2]string) {
	widest := 0
	for _, r := range rows {
		widest = max(widest, cells(r[0]))
	}
	for _, r := range rows {
		wrap(w, text.Pad(r[0], widest, ' ')+"  ", strings.Repeat(" ", widest+2), r[1])
	}
}

// bar draws a share of a whole in cells of eight steps.
func bar(share float64, cells int) string {
	if !(share > 0) {
		return ""
	}
	steps := []rune("▏▎▍▌▋▊▉█")
	eighths := max(1, int(math.Round(min(share, 1)*float64(cells)*8)))
	out := strings.Repeat("█", eighths/8)
	if rest := eighths % 8; rest > 0 {
		out += string(steps[rest-1])
	}
	return out
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

// fewestColumns is the narrowest paper that is taken for one.
const fewestColumns = 20

// narrow says whether a table of so many columns has no room: on a phone it is
// printed as lines, which wrap.
func narrow(w io.Writer, columns int) bool {
	p, ok := w.(Paper)
	return ok && p.Columns >= fewestColumns && p.Columns < columns
}

// inOneLine prints words in one line, and breaks it only where the paper is too
// narrow for it.
func inOneLine(w io.Writer, words string) {
	if words = Plain(words); narrow(w, cells(words)) {
		wrap(w, "", "  ", words)
	} else {
		fmt.Fprintln(w, words)
	}
}

// wrap breaks a line of words at width, with an indent for the lines after the
// first.
func wrap(w io.Writer, first, indent, words string) {
	width := 92
	if p, ok := w.(Paper); ok && p.Columns >= fewestColumns {
		width = min(p.Columns, 100)
	}
	line := first
	empty := true
	for word := range strings.FieldsSeq(Plain(words)) {
		if !empty && cells(line)+1+cells(word) > width {
			fmt.Fprintln(w, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	fmt.Fprintln(w, line)
}

// cells is how wide a text stands on a terminal: some letters take two cells.
func cells(s string) int { return text.StringWidthWithoutEscSequences(s) }

func bullets(w io.Writer, items []string) {
	for _, s := range items {
		wrap(w, "  - ", "    ", Plain(s))
	}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, one)
	}
	return fmt.Sprintf("%d %s", n, many)
}
