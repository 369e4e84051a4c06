package catalogue

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"hollowbed/zones/table"
)

// takes are what may be taken of several values in a cell of a column.
func takes(col column) []string {
	switch col.Kind {
	case numberColumn:
		return []string{"larger", "smaller", "mean"}
	case textColumn, choiceColumn, identColumn:
		return []string{"first"}
	}
	return nil
}

// reader makes one cell of ours of one of another table.
type reader struct {
	m       *Map
	f       from
	col     column
	decimal func(string) string // reads the commas of figures
	amounts *amounts

	others []string // what otherwise stood in for
	wrong  string   // the class that the map leaves out
}

// cell reads a cell, of several rows of one plant perhaps. basis is not empty if
// its value is assumed; want is not empty if the source cell is wrong.
func (r *reader) cell(s string) (cell, basis, want string) {
	f := &r.f
	var values []string
	open := false // something stands there of which nothing is known
	for row := range strings.SplitSeq(s, betweenRows) {
		for _, text := range f.Strip {
			row = strings.ReplaceAll(row, text, "")
		}
		if row = strings.TrimSpace(row); r.m.missing(row) || slices.Contains(f.Missing, row) {
			continue
		}
		parts := []string{row}
		if f.Separator != "" {
			parts = table.Trimmed(strings.Split(row, f.Separator))
		} else if len(f.Translate) > 0 {
			parts = strings.Split(row, "|")
		}
		for _, part := range parts {
			value, on, want := r.value(part)
			if want != "" {
				return "", "", want
			}
			open = open || value == ""
			if basis = cmp.Or(basis, on); value != "" && !slices.Contains(values, value) {
				values = append(values, value)
			}
		}
	}
	if cell, want = r.together(values); cell == "" || cell == harmless && open && r.col.Name == "toxic" {
		return "", "", want
	}
	return cell, basis, want
}

// value reads one value.
func (r *reader) value(s string) (value, basis, want string) {
	f := &r.f
	if f.Assumed {
		basis = f.Basis
	}
	switch {
	case len(f.Classes) > 0:
		c, ok := f.Classes[s]
		if !ok {
			value, want = r.leftOut(s, "want one of the classes ", sortedKeys(f.Classes))
			return value, f.Basis, want
		}
		return c.Is, cmp.Or(c.Basis, f.Basis), ""
	case len(f.Translate) > 0:
		word, ok := f.Translate[s]
		if !ok {
			if value, want = r.leftOut(s, "want one of ", sortedKeys(f.Translate)); value == "" {
				return "", "", want
			}
			return value, basis, ""
		}
		s = word
	}
	switch {
	case r.col.Kind == numberColumn:
		s, want = r.number(s)
	case r.col.Kind == monthColumn:
		s, want = month(s, r.col.Name == "flower_to")
	case r.col.Kind == identColumn:
		if s = IDFor(s); s == "" {
			want = "want a letter a to z or a digit to make an id of"
		}
	case f.Case == "sentence":
		s = sentence(s)
	}
	return s, basis, want
}

// leftOut is what a word that the map does not speak of is taken as.
func (r *reader) leftOut(s, want string, have []string) (value, wrong string) {
	if r.f.Otherwise != nil {
		r.others = append(r.others, s)
		return *r.f.Otherwise, ""
	}
	r.wrong = s
	return "", table.OrMeant(want+strings.Join(have, ", "), s, have)
}

// together makes one cell of several values.
func (r *reader) together(values []string) (cell, want string) {
	if len(values) == 0 {
		return "", ""
	}
	switch r.col.Kind {
	case manyColumn, tagsColumn:
		var all []string
		for _, v := range values {
			for part := range strings.SplitSeq(v, "|") {
				if !slices.Contains(all, part) {
					all = append(all, part)
				}
			}
		}
		return strings.Join(all, "|"), ""
	}
	if len(values) == 1 {
		return values[0], ""
	}
	switch {
	case r.col.Kind == monthColumn:
		return r.month(values)
	case r.f.Take == "":
		return "", "several values, " + strings.Join(values, " and ") + ": expected one, or take: " + strings.Join(takes(r.col), ", ") + " in the map"
	case r.col.Kind != numberColumn:
		return values[0], ""
	}
	var all []float64
	for _, v := range values {
		n, ok, _ := parseNumber(v)
		if !ok {
			return "", r.col.wantNumber()
		}
		all = append(all, n)
	}
	return formatNumber(r.f.take(all)), ""
}

// month is the first or the last of several.
func (r *reader) month(values []string) (cell, want string) {
	var all []int
	for _, v := range values {
		n, err := strconv.Atoi(v)
		if err != nil {
			return "", "want a month from 1 to 12"
		}
		all = append(all, n)
	}
	if r.col.Name == "flower_to" {
		return strconv.Itoa(slices.Max(all)), ""
	}
	return strconv.Itoa(slices.Min(all)), ""
}

// take is one number of several; a mean to a tenth.
func (f from) take(all []float64) float64 {
	switch f.Take {
	case "larger":
		return slices.Max(all)
	case "smaller":
		return slices.Min(all)
	}
	sum := 0.0
	for _, v := range all {
		sum += v
	}
	return math.Round(sum/float64(len(all))*10) / 10
}

// month reads "5", "May", "May-June", "late May to early July", "5-7": the first
// month of those named, or the last.
func month(s string, last bool) (text, want string) {
	const expected = "want a month from 1 to 12, or months such as May-June"
	var all []int
	for _, word := range strings.FieldsFunc(strings.ToLower(s), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) }) {
		n, err := strconv.Atoi(word)
		switch {
		case slices.Contains([]string{"early", "mid", "middle", "late", "to", "through", "thru", "until", "and", "or"}, word):
			continue
		case err != nil:
			n = monthNamed(word)
		}
		if n < 1 || n > 12 {
			return "", expected
		}
		all = append(all, n)
	}
	switch {
	case len(all) == 0:
		return "", expected
	case last:
		return strconv.Itoa(all[len(all)-1]), ""
	}
	return strconv.Itoa(all[0]), ""
}

// monthNamed is the month of an English name or its first 3 or 4 letters; 0 for none.
func monthNamed(word string) int {
	for m := time.January; len(word) >= 3 && m <= time.December; m++ {
		if strings.HasPrefix(strings.ToLower(m.String()), word) {
			return int(m)
		}
	}
	return 0
}

// betweenRows parts the cells of several rows of one plant.
const betweenRows = "\x1e"

// group makes one row of all that speak of the same plant, if the map asks for it:
// cells that differ stand together. Only rows that where lets pass count.
func (m *Map) group(t *table.Table) (*table.Table, table.Faults) {
	if m.Group == "" {
		return t, nil
	}
	var faults table.Faults
	out, key := t.Derived(t.Header), t.Column(m.Group)
	all := make([]int, len(t.Header))
	for i := range all {
		all[i] = i
	}
	out.PlaceRow(t, -1, all)
	at := map[string]int{}
	for i, row := range t.Rows {
		if !m.passes(t, row) {
			continue
		}
		name := strings.TrimSpace(row[key])
		if name == "" {
			faults = append(faults, t.Fault(i, key, "the cell is empty: want what the rows of one plant have in common"))
			continue
		}
		n, ok := at[name]
		if !ok {
			at[name] = len(out.Rows)
			out.Rows = append(out.Rows, slices.Clone(row))
			out.PlaceRow(t, i, all)
			continue
		}
		for k, cell := range row {
			if cell = strings.TrimSpace(cell); cell != "" && !slices.Contains(table.Trimmed(strings.Split(out.Rows[n][k], betweenRows)), cell) {
				out.Rows[n][k] += betweenRows + cell
			}
		}
	}
	return out, faults
}

// tally counts faults of one value in one column.
type tally struct {
	all   table.Faults
	count map[[2]string]int
}

func (t *tally) add(f table.Fault) {
	if t.count == nil {
		t.count = map[[2]string]int{}
	}
	key := [2]string{f.Name, f.Value}
	if t.count[key]++; t.count[key] == 1 {
		t.all = append(t.all, f)
	}
}

// told are the faults, one for each value, with how many rows have it.
func (t *tally) told() table.Faults {
	for i, f := range t.all {
		if more := t.count[[2]string{f.Name, f.Value}] - 1; more > 0 {
			t.all[i].Want += fmt.Sprintf("; the same in %d more rows", more)
		}
	}
	return t.all
}
