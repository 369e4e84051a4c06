package catalogue

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hollowbed/zones/table"
)

// A Report tells what became of a table that was imported.
type Report struct {
	Read     int // rows of the table
	Pivoted  int // rows after the pivot; as Read without one
	Passed   int // rows that where let pass: the plants
	Columns  []ColumnReport
	Bases    []Basis  // what the assumed values rest on, by the marks in the source of the plants
	Unused   []string // columns of the table that the map does not use
	Warnings table.Faults
}

// A ColumnReport tells how one of our columns was filled.
type ColumnReport struct {
	Name    string
	From    string // column of the table; "" if it has the same value throughout
	Filled  int
	Empty   int
	Assumed int
}

// ReadTableFor reads a table for an import by m, without the columns that m does not use.
func ReadTableFor(name string, r io.Reader, m *Map) (*table.Table, error) {
	lim := table.DefaultLimits()
	lim.Ragged = m.Ragged == "skip"
	return readTable(name, r, m.Sheet, lim, m.uses)
}

// Import makes plants of any table. What the map does not speak of stays unknown. A value
// that comes from a class, and a number (but a price) that is the same for all, is listed
// in Assumed, and the marks of what it rests on in Source. Converted numbers are rounded
// to a tenth. The error is Faults: table and map do not fit, or what comes out is no
// sound plant.
func Import(t *table.Table, m *Map) ([]Plant, Report, error) {
	r := Report{Read: len(t.Rows)}
	if faults := m.fits(t); len(faults) > 0 {
		return nil, r, faults.Sorted()
	}
	source, faults := m.pivot(t)
	if len(faults) > 0 {
		return nil, r, faults.Sorted()
	}
	if source, faults = m.group(source); len(faults) > 0 {
		return nil, r, faults.Sorted()
	}
	r.Pivoted = len(source.Rows)
	maker := newMaker(m, source)
	p := maker.plantTable
	r.Passed = len(p.rows)
	if r.Passed == 0 {
		faults = append(faults, m.fault("no row of "+t.Name+" passes: want conditions that some rows meet", "", "where"))
	}
	plants, more := p.decode()
	faults = append(append(faults, maker.unknown.told()...), append(maker.faults, more...)...)
	r.Columns, r.Bases = maker.reports, maker.bases
	check := p.checker()
	check.run(plants)
	faults = append(faults, check.faults...)
	if len(faults) > 0 {
		return nil, r, faults.Sorted()
	}
	r.Warnings = slices.Concat(skipped(t), maker.otherwise.told(), check.warnings.Sorted().Gathered())
	r.Unused = m.unused(t)
	return plants, r, nil
}

// fits tells whether the table has what the map speaks of.
func (m *Map) fits(t *table.Table) table.Faults {
	var faults table.Faults
	if len(t.Rows) == 0 {
		faults = append(faults, table.Fault{File: t.Name, Line: 2, Column: 1, Want: "want at least one row below the header"})
	}
	header := t.AllColumns()
	have := func(column string, keys ...string) {
		if column != "" && !slices.Contains(header, column) {
			faults = append(faults, m.fault(table.OrMeant("want a column of "+t.Name, column, header), column, keys...))
		}
	}
	if p := m.Pivot; p != nil {
		have(p.Row, "pivot", "row")
		have(p.Across, "pivot", "across")
		have(p.Value, "pivot", "value")
		if len(faults) > 0 {
			return faults
		}
		header = pivotHeader(t, p)
	}
	have(m.Group, "group")
	for _, w := range m.Where {
		have(w.Column, "where")
	}
	for _, t := range m.Tags {
		have(t, "tags")
	}
	for _, name := range sortedKeys(m.Columns) {
		have(m.Columns[name].From, "columns", name, "from")
	}
	return faults
}

// skipped tells of sheets that were not read, and how many rows were passed over.
func skipped(t *table.Table) (out table.Faults) {
	if len(t.OtherSheets) > 0 {
		out = append(out, table.Fault{File: t.Name, Want: fmt.Sprintf("only the sheet %s was read; to read another, write sheet: NAME in the map, for one of %s", t.Sheet, strings.Join(t.OtherSheets, ", "))})
	}
	if len(t.Skipped) == 0 {
		return out
	}
	f := t.Skipped[0]
	f.Want = "passed over, as ragged: skip says: " + f.Want
	if more := len(t.Skipped) - 1; more > 0 {
		f.Want += fmt.Sprintf("; and %d more rows of another width than the header", more)
	}
	return append(out, f)
}

// missing tells whether a cell says that nothing is known.
func (m *Map) missing(s string) bool {
	s = strings.TrimSpace(s)
	return s == "" || slices.Contains(m.Missing, s)
}

// passes tells whether where lets a row pass.
func (m *Map) passes(t *table.Table, row []string) bool {
	for _, w := range m.Where {
		v := strings.TrimSpace(row[t.Column(w.Column)])
		if m.missing(v) {
			v = ""
		}
		if len(w.In) > 0 && !slices.Contains(w.In, v) || slices.Contains(w.NotIn, v) {
			return false
		}
	}
	return true
}

// uses tells whether an import looks at a column of the table.
func (m *Map) uses(column string) bool {
	if p := m.Pivot; p != nil && (column == p.Row || column == p.Across || column == p.Value) {
		return true
	}
	if slices.Contains(m.Tags, column) {
		return true
	}
	if column != "" && m.Group == column || slices.ContainsFunc(m.Where, func(w condition) bool { return w.Column == column }) {
		return true
	}
	for _, f := range m.Columns {
		if f.From == column && column != "" {
			return true
		}
	}
	return false
}

// sentence writes a name with its first letter large and the others small. A small x
// before a capital is the sign of a hybrid: "ACER xFREEMANII" gives "Acer ×freemanii".
func sentence(s string) string {
	words := strings.Fields(s)
	for i, w := range words {
		sign := ""
		if rest, ok := strings.CutPrefix(w, "x"); ok && rest != "" && unicode.IsUpper(table.FirstRune(rest)) {
			sign, w = "×", rest
		}
		w = strings.ToLower(w)
		if i == 0 {
			r, n := utf8.DecodeRuneInString(w)
			w = string(unicode.ToUpper(r)) + w[n:]
		}
		words[i] = sign + w
	}
	return strings.Join(words, " ")
}

func (m *Map) unused(t *table.Table) []string {
	var unused []string
	for _, h := range t.AllColumns() {
		if !m.uses(h) {
			unused = append(unused, h)
		}
	}
	return unused
}

func sortedKeys[V any](m map[string]V) []string {
	return slices.Sorted(maps.Keys(m))
}
