package report

import (
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/plants/catalogue"
)

// Import is the document of the command catalogue import.
type Import struct {
	Out    string     `json:"out"`
	Plants int        `json:"plants"`
	Tables []Imported `json:"tables"`
}

// Imported says what became of one table.
type Imported struct {
	File      string           `json:"file"`
	Map       string           `json:"map"`
	Rows      int              `json:"rows"`
	Passed    int              `json:"passed"`
	Columns   []ImportedColumn `json:"columns"`
	Unused    []string         `json:"unused_columns"`
	Matched   *int             `json:"matched,omitempty"`
	Ambiguous []string         `json:"ambiguous,omitempty"`
	Warnings  []string         `json:"warnings"`
}

// ImportedColumn says how one of our columns was filled.
type ImportedColumn struct {
	Name    string `json:"name"`
	From    string `json:"from"`
	Filled  int    `json:"filled"`
	Empty   int    `json:"empty"`
	Assumed int    `json:"assumed"`
}

// NewImported makes the part of one table.
func NewImported(file, mapName string, r catalogue.Report) Imported {
	out := Imported{
		File: file, Map: mapName, Rows: r.Read, Passed: r.Passed,
		Columns: importedColumns(r.Columns), Unused: orEmpty(r.Unused), Warnings: []string{},
	}
	for _, w := range r.Warnings {
		out.Warnings = append(out.Warnings, w.String())
	}
	return out
}

func importedColumns(columns []catalogue.ColumnReport) []ImportedColumn {
	out := []ImportedColumn{}
	for _, c := range columns {
		out = append(out, ImportedColumn(c))
	}
	return out
}

// Join adds what the table filled in the plants of the first.
func (i *Imported) Join(j catalogue.Joining) {
	i.Matched, i.Ambiguous, i.Columns = &j.Matched, j.Ambiguous, importedColumns(j.Filled)
}

// Text prints what was filled, what was assumed and what stays unknown.
func (d Import) Text(w io.Writer) {
	where := ""
	if d.Out != "" {
		where = " to " + d.Out
	}
	fmt.Fprintf(w, "Wrote %s%s.\n", plural(d.Plants, "plant", "plants"), where)
	for _, t := range d.Tables {
		fmt.Fprintf(w, "\n%s by %s: %s, %d passed", t.File, t.Map, plural(t.Rows, "row", "rows"), t.Passed)
		if t.Matched != nil {
			fmt.Fprintf(w, ", %d matched with the first table", *t.Matched)
		}
		fmt.Fprintln(w)
		var rows []table.Row
		for _, c := range t.Columns {
			rows = append(rows, table.Row{c.Name, Plain(c.From), c.Filled, c.Empty, c.Assumed})
		}
		grid(w, table.Row{"column", "from", "filled", "unknown", "assumed"}, []string{"filled", "unknown", "assumed"}, rows)
		if len(t.Ambiguous) > 0 {
			wrap(w, "", "  ", Plain(fmt.Sprintf("Not matched, since they stand there more than once: %s.", strings.Join(t.Ambiguous, ", "))))
		}
		bullets(w, t.Warnings)
	}
	fmt.Fprintln(w, "\nAn assumed limit is a guess from a class. Plants with one are shown with \"about\" and a wider risk.")
}
