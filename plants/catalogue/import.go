package catalogue

import (
	"cmp"
	"io"
	"maps"
	"math"
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

// ReadTableFor reads a table for an import by m: it keeps the columns that m uses
// and passes over the others, which often are most of a table.
func ReadTableFor(name string, r io.Reader, m *Map) (*table.Table, error) {
	return table.ReadColumns(name, r, table.DefaultLimits(), m.uses)
}

// Import makes plants of any table. What the map does not speak of stays
// unknown. A value that comes from a class, and a number that is the same for
// all (but a price), is listed in Assumed; the marks of what it rests on are
// added to Source, their texts are in the Report. Ids are made of the text by IDFor. Converted
// numbers are rounded to a tenth. The error is Faults when the table and the
// map do not fit, or what comes out is no sound plant.
func Import(t *table.Table, m *Map) ([]Plant, Report, error) {
	r := Report{Read: len(t.Rows)}
	if faults := m.fits(t); len(faults) > 0 {
		return nil, r, faults.Sorted()
	}
	source, faults := m.pivot(t)
	if len(faults) > 0 {
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
	faults = append(append(faults, maker.faults...), more...)
	r.Columns, r.Bases = maker.reports, maker.bases
	check := p.checker()
	check.run(plants)
	faults = append(faults, check.faults...)
	if len(faults) > 0 {
		return nil, r, faults.Sorted()
	}
	r.Warnings = check.warnings.Sorted().Gathered()
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
	for _, w := range m.Where {
		have(w.Column, "where")
	}
	for _, name := range sortedKeys(m.Columns) {
		have(m.Columns[name].From, "columns", name, "from")
	}
	return faults
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
	for _, w := range m.Where {
		if w.Column == column {
			return true
		}
	}
	for _, f := range m.Columns {
		if f.From == column && column != "" {
			return true
		}
	}
	return false
}

// cell makes one cell. basis is not empty if its value is assumed; want is not
// empty if the source cell is wrong. decimal reads the commas of figures.
func (m *Map) cell(f from, col column, row []string, j int, decimal func(string) string) (cell, basis, want string) {
	if f.From == "" {
		return f.Value, f.valueBasis(col), ""
	}
	s := strings.TrimSpace(row[j])
	if m.missing(s) || slices.Contains(f.Missing, s) {
		return "", "", ""
	}
	if len(f.Classes) > 0 {
		c, ok := f.Classes[s]
		if !ok {
			return "", "", table.OrMeant("want one of the classes "+strings.Join(sortedKeys(f.Classes), ", "), s, sortedKeys(f.Classes))
		}
		return c.Is, cmp.Or(c.Basis, f.Basis), ""
	}
	if f.Separator != "" {
		s = strings.Join(table.Trimmed(strings.Split(s, f.Separator)), "|")
	}
	if len(f.Translate) > 0 {
		parts := strings.Split(s, "|")
		for i, p := range parts {
			word, ok := f.Translate[p]
			if !ok {
				return "", "", table.OrMeant("want one of "+strings.Join(sortedKeys(f.Translate), ", "), p, sortedKeys(f.Translate))
			}
			parts[i] = word
		}
		s = strings.Join(parts, "|")
	}
	switch {
	case col.Kind == numberColumn:
		v, ok, hint := parseNumber(decimal(s))
		if !ok {
			if f.Unit != "" {
				return "", "", wantNumber + " of " + f.Unit + hint
			}
			return "", "", col.wantNumber() + hint
		}
		if f.Unit != "" {
			v, _ = convert(v, f.Unit, col)
			v = math.Round(v*10) / 10
		}
		s = formatNumber(v)
	case col.Kind == identColumn:
		if s = IDFor(s); s == "" {
			return "", "", "want a letter a to z or a digit to make an id of"
		}
	case f.Case == "sentence":
		s = sentence(s)
	}
	if f.Assumed && s != "" {
		basis = f.Basis
	}
	return s, basis, ""
}

// sentence writes a name in capitals with its first letter large and the
// others small. A small x right before a capital is the sign of a hybrid:
// "ACER xFREEMANII" gives "Acer ×freemanii".
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
