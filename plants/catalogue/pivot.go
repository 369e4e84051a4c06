package catalogue

import (
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// pivotHeader is the header of a table after its pivot: its columns less the
// two that are turned, then one for each value of Across, sorted.
func pivotHeader(t *table.Table, p *pivot) []string {
	across := t.Column(p.Across)
	seen := map[string]bool{}
	var turned []string
	for _, row := range t.Rows {
		if v := strings.TrimSpace(row[across]); v != "" && !seen[v] {
			seen[v] = true
			turned = append(turned, v)
		}
	}
	slices.Sort(turned)
	var header []string
	for _, h := range t.Header {
		if h != p.Across && h != p.Value {
			header = append(header, h)
		}
	}
	return append(header, turned...)
}

// pivot returns the table with one row for each plant, or t itself if the map
// asks for no pivot.
func (m *Map) pivot(t *table.Table) (*table.Table, table.Faults) {
	p := m.Pivot
	if p == nil {
		return t, nil
	}
	var faults table.Faults
	out := t.Derived(pivotHeader(t, p))
	key, across, value := t.Column(p.Row), t.Column(p.Across), t.Column(p.Value)
	column := make(map[string]int, len(out.Header))
	var first []int // for each column of out the column of t that fills it from the first line
	for k, h := range out.Header {
		column[h] = k
		first = append(first, t.Column(h))
	}
	if twice := firstDouble(out.Header); twice != "" {
		return nil, table.Faults{m.fault("want a pivot whose new columns have other names than the old ones", twice, "pivot", "across")}
	}
	out.PlaceRow(t, -1, first)
	rows := map[string]int{}
	for i, row := range t.Rows {
		name := strings.TrimSpace(row[key])
		if name == "" {
			faults = append(faults, t.Fault(i, key, "the cell is empty: want what the rows of one plant have in common"))
			continue
		}
		n, ok := rows[name]
		if !ok {
			n = len(out.Rows)
			rows[name] = n
			cells := make([]string, len(out.Header))
			for k, j := range first {
				if j >= 0 {
					cells[k] = row[j]
				}
			}
			out.Rows = append(out.Rows, cells)
			out.PlaceRow(t, i, first)
		}
		k, ok := column[strings.TrimSpace(row[across])]
		if !ok {
			faults = append(faults, t.Fault(i, across, "the cell is empty: want the column that the value belongs to"))
			continue
		}
		if old := out.Rows[n][k]; old != "" && old != row[value] {
			faults = append(faults, t.Fault(i, value, "want "+old+", as in an earlier row for the same plant and "+p.Across))
			continue
		}
		out.Rows[n][k] = row[value]
		out.PlaceCell(n, k, t, i, value)
	}
	return out, faults
}

func firstDouble(names []string) string {
	seen := map[string]bool{}
	for _, n := range names {
		if seen[n] {
			return n
		}
		seen[n] = true
	}
	return ""
}
