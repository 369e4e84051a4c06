package catalogue

import (
	"cmp"
	"path"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// A maker makes rows of the plant table of the rows of another that where lets
// pass, one after the other, each cell at the place of the cell it comes from.
type maker struct {
	*plantTable
	m                  *Map
	from               []from // for each of our columns
	has                []bool // whether the map speaks of it
	reports            []ColumnReport
	report             []int // for each of our columns its place in reports
	bases              []Basis
	marks              map[[2]string]int // column and basis: index of bases
	faults             table.Faults
	unknown, otherwise tally // classes that the map leaves out
	amounts            *amounts
	tags               *tagger
}

func newMaker(m *Map, t *table.Table) *maker {
	cols := tableColumns()
	k := &maker{
		plantTable: &plantTable{Table: t, columns: cols, wrong: map[int]bool{}},
		m:          m, bases: m.bases(), marks: map[[2]string]int{}, amounts: newAmounts(), tags: newTagger(m, t),
		from: make([]from, len(cols)), has: make([]bool, len(cols)), report: make([]int, len(cols)),
	}
	for i, col := range cols {
		k.from[i], k.has[i] = m.Columns[col.Name]
		k.source = append(k.source, -1)
		if col.Name == "tags" && len(m.Tags) > 0 {
			k.has[i] = true
		}
		if k.has[i] {
			if k.from[i].From != "" {
				k.source[i] = t.Column(k.from[i].From)
			}
			k.report[i] = len(k.reports)
			k.reports = append(k.reports, ColumnReport{Name: col.Name, From: k.from[i].From})
		}
	}
	for i, b := range k.bases {
		k.marks[[2]string{b.Column, b.Text}] = i
	}
	for i, row := range t.Rows {
		if m.Group != "" || m.passes(t, row) { // group asked it of every row
			k.rows = append(k.rows, i)
		}
	}
	k.plantTable.make = k.row
	return k
}

// row makes row i.
func (k *maker) row(i int) []string {
	row := k.Rows[k.rows[i]]
	cells := make([]string, len(k.columns))
	var assumed, marks []string
	for c, col := range k.columns {
		if !k.has[c] {
			continue
		}
		cell, basis, want := "", k.from[c].valueBasis(col), ""
		if k.from[c].From == "" {
			cell = k.from[c].Value
		} else {
			r := reader{m: k.m, f: k.from[c], col: col, decimal: k.Decimal, amounts: k.amounts}
			cell, basis, want = r.cell(row[k.source[c]])
			for _, o := range r.others {
				k.otherwise.add(k.fault(i, c, o, "not in the map, and taken as "+cmp.Or(*k.from[c].Otherwise, "not known")))
			}
			if want != "" && r.wrong != "" {
				k.unknown.add(k.fault(i, c, r.wrong, want))
				k.wrong[i*len(k.columns)+c] = true
				want = ""
			}
		}
		if want != "" {
			k.faults = append(k.faults, k.fault(i, c, "", want))
			k.wrong[i*len(k.columns)+c] = true
		}
		if col.Name == "tags" {
			cell = k.tags.of(cell, row)
		}
		cells[c] = cell
		r := &k.reports[k.report[c]]
		if cell == "" {
			r.Empty++
			continue
		}
		r.Filled++
		if basis != "" {
			r.Assumed++
			mark, ok := k.marks[[2]string{col.Name, basis}]
			if !ok {
				panic("catalogue: Bases has left out " + basis)
			}
			b := &k.bases[mark]
			b.Plants++
			assumed, marks = append(assumed, col.Name), append(marks, strconv.Itoa(b.Mark))
		}
	}
	k.finish(cells, assumed, marks)
	return cells
}

// fault places a fault at the source of a cell.
func (k *maker) fault(i, c int, value, want string) table.Fault {
	f := k.Table.Fault(k.rows[i], k.source[c], want)
	f.Name, f.Value = k.columns[c].Name, cmp.Or(value, strings.ReplaceAll(f.Value, betweenRows, " | "))
	return f
}

// finish writes where the row comes from and what in it is assumed.
func (k *maker) finish(cells, assumed, marks []string) {
	for c, col := range k.columns {
		switch col.Name {
		case "source":
			var parts []string
			for _, s := range []string{cells[c], k.m.Source} {
				if s != "" {
					parts = append(parts, s)
				}
			}
			if len(marks) > 0 {
				parts = append(parts, "assumed by "+path.Base(k.m.Name)+" ["+strings.Join(marks, " ")+"]")
			}
			cells[c] = table.Guard(strings.Join(parts, "; "))
		case "assumed":
			cells[c] = strings.Join(assumed, "|")
		}
	}
}
