package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"hollowbed/cmd/hollowbed/doc"

	"hollowbed/plants/catalogue"
)

// Import is the document of the command catalogue import.
type Import struct {
	Out    string     `json:"out"`
	Plants int        `json:"plants"`
	Spread int        `json:"with_spread"` // plants that a planting list can place
	Tables []Imported `json:"tables" schema:"some"`
	// Inputs are the tables and maps, in the order of reading.
	Inputs []FileDigest `json:"inputs" about:"the files that this rests on, in the order of reading"`
}

// Count notes how many plants came out, and how many have a spread.
func (d *Import) Count(plants []catalogue.Plant) {
	d.Plants, d.Spread = len(plants), 0
	for i := range plants {
		if !math.IsNaN(plants[i].SpreadCM) {
			d.Spread++
		}
	}
}

// Imported says what became of one table.
type Imported struct {
	File      string           `json:"file"`
	Map       string           `json:"map"`
	Rows      int              `json:"rows"`
	Passed    int              `json:"passed"`
	Columns   []importedColumn `json:"columns"`
	Assumed   []assumption     `json:"assumptions"`
	Unused    []string         `json:"unused_columns"`
	Matched   *int             `json:"matched,omitempty" schema:"0.."`
	Ambiguous []string         `json:"ambiguous,omitempty"`
	Warnings  []string         `json:"warnings"`
}

// importedColumn says how one of our columns was filled.
type importedColumn struct {
	Name    string `json:"name"`
	From    string `json:"from"`
	Filled  int    `json:"filled"`
	Empty   int    `json:"empty"`
	Assumed int    `json:"assumed"`
}

// assumption says what assumed values rest on. Its mark stands in the source of
// the plants.
type assumption struct {
	Mark   int               `json:"mark" schema:"1.."`
	Column string            `json:"column"`
	From   string            `json:"from"`
	Values map[string]string `json:"values,omitempty" schema:"some"` // what each class is taken for
	Basis  string            `json:"basis" schema:"some"`
	Plants int               `json:"plants"`
	text   string
}

func newAssumption(b catalogue.Basis) assumption {
	a := assumption{Mark: b.Mark, Column: b.Column, From: b.From, Basis: b.Text, Plants: b.Plants, text: b.String()}
	for _, v := range b.Values {
		if a.Values == nil {
			a.Values = map[string]string{}
		}
		a.Values[v.Class] = v.Is
	}
	return a
}

// NewImported makes the part of one table.
func NewImported(file, mapName string, r catalogue.Report) Imported {
	out := Imported{
		File: file, Map: mapName, Rows: r.Read, Passed: r.Passed,
		Columns: importedColumns(r.Columns), Unused: orEmpty(r.Unused), Assumed: []assumption{}, Warnings: []string{},
	}
	for _, b := range r.Bases {
		out.Assumed = append(out.Assumed, newAssumption(b))
	}
	for _, w := range r.Warnings {
		out.Warnings = append(out.Warnings, w.String())
	}
	return out
}

func importedColumns(columns []catalogue.ColumnReport) []importedColumn {
	out := []importedColumn{}
	for _, c := range columns {
		out = append(out, importedColumn(c))
	}
	return out
}

// Join adds what the table filled in the plants of the first.
func (i *Imported) Join(j catalogue.Joining) {
	i.Matched, i.Ambiguous, i.Columns = &j.Matched, j.Ambiguous, importedColumns(j.Filled)
	if 10*j.Matched < j.Of {
		i.Warnings = append(i.Warnings, fmt.Sprintf("warning: only %d of %s of the first table matched; expected the same names in both: look at the join column of each", j.Matched, plural(j.Of, "plant", "plants")))
	}
}

// Text prints what was filled, what was assumed and what stays unknown.
func (d Import) Text(w io.Writer) {
	where := ""
	if d.Out != "" {
		where = " to " + d.Out
	}
	out := []doc.Block{doc.Line(fmt.Sprintf("Wrote %s%s.", plural(d.Plants, "plant", "plants"), where))}
	for _, t := range d.Tables {
		head := fmt.Sprintf("%s by %s: %s, %d passed", t.File, t.Map, plural(t.Rows, "row", "rows"), t.Passed)
		if t.Matched != nil {
			head += fmt.Sprintf(", %d matched with the first table", *t.Matched)
		}
		columns := doc.Table{Columns: []doc.Column{{Head: "column"}, {Head: "from"}, {Head: "filled", Right: true}, {Head: "unknown", Right: true}, {Head: "assumed", Right: true}}}
		for _, c := range t.Columns {
			columns.Rows = append(columns.Rows, doc.Cells(c.Name, c.From, fmt.Sprint(c.Filled), fmt.Sprint(c.Empty), fmt.Sprint(c.Assumed)))
		}
		out = append(out, doc.Line(""), doc.Line(head), columns)
		if len(t.Ambiguous) > 0 {
			out = append(out, doc.Text{Words: fmt.Sprintf("Not matched, since they stand there more than once: %s.", strings.Join(t.Ambiguous, ", ")), Hang: 2})
		}
		out = append(out, doc.List{Items: t.Warnings})
		if len(t.Assumed) > 0 {
			out = append(out, doc.Line("What is assumed rests on this; the source of each plant has the marks:"))
		}
		for _, a := range t.Assumed {
			out = append(out, doc.Text{In: 2, Words: fmt.Sprintf("%s (%s)", a.text, plural(a.Plants, "plant", "plants")), Hang: 6})
		}
	}
	out = append(out, doc.Line(""), doc.Line("An assumed limit is a guess from a class. Plants with one are shown with \"about\" and a wider risk."))
	if s := d.spread(); s != "" {
		out = append(out, doc.Text{Words: s + " a planting list needs one. Fill spread_cm in the file, or set it in the map (spread_cm: {value: 45})."})
	}
	doc.Terminal(w, out)
}

// spread says so if at least half of the plants have no spread; else "".
func (d Import) spread() string {
	switch {
	case d.Plants == 0 || 2*d.Spread > d.Plants:
		return ""
	case d.Spread == 0:
		return "None has a spread:"
	case d.Spread == 1:
		return fmt.Sprintf("Only 1 of %d plants has a spread:", d.Plants)
	}
	return fmt.Sprintf("Only %d of %d plants have a spread:", d.Spread, d.Plants)
}
