package catalogue

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
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

	others []string // what otherwise stood in for
	wrong  string   // the class that the map leaves out
}

// cell reads a cell, of several rows of one plant perhaps. basis is not empty if
// its value is assumed; want is not empty if the source cell is wrong.
func (r *reader) cell(s string) (cell, basis, want string) {
	f := &r.f
	var values []string
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
			if basis = cmp.Or(basis, on); value != "" && !slices.Contains(values, value) {
				values = append(values, value)
			}
		}
	}
	if cell, want = r.together(values); cell == "" {
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

// number reads a number, or a range of which take says what counts, with units in
// the cell or in the map: "10-30 cm", "3'-6'", "2 ft 6 in".
func (r *reader) number(s string) (text, want string) {
	if v, ok, _ := parseNumber(r.decimal(s)); ok {
		if r.f.Unit == "" {
			return formatNumber(v), ""
		}
		v, want = r.inOurs(v, r.f.Unit)
		return formatNumber(v), want
	}
	low, high, isRange := cutRange(s)
	if !isRange {
		v, want := r.amount(s, "")
		return formatNumber(v), want
	}
	if r.f.Take == "" {
		return "", "a range: expected take: larger, smaller or mean in the map"
	}
	to, want := r.amount(high, "")
	if want != "" {
		return "", want
	}
	_, unit := cutUnit(high)
	from, want := r.amount(low, unit)
	if want != "" {
		return "", want
	}
	return formatNumber(r.f.take([]float64{from, to})), ""
}

// cutRange parts "10-30 cm", "10 to 30 cm" and the like, with any of the dashes.
func cutRange(s string) (low, high string, ok bool) {
	m := regexp.MustCompile(`^(-?[0-9][^–—]*?)\s*(?:-|–|—|\bto\b)\s*(-?[0-9].*)$`).FindStringSubmatch(s)
	if m == nil {
		return "", "", false
	}
	return m[1], m[2], true
}

// amount is a number with its unit, in ours; without one it is in the unit given,
// else in that of the map.
func (r *reader) amount(s, unit string) (v float64, want string) {
	if feet := regexp.MustCompile(`^([0-9.]+)\s*(?:'|′|ft|feet)\s*([0-9.]+)\s*(?:"|″|in|inches)$`).FindStringSubmatch(s); feet != nil && r.col.Unit != "" {
		a, okA, _ := parseNumber(feet[1])
		b, okB, _ := parseNumber(feet[2])
		if okA && okB {
			return r.inOurs(12*a+b, "in")
		}
	}
	figure, own := cutUnit(s)
	v, ok, hint := parseNumber(r.decimal(figure))
	if !ok {
		if r.f.Unit != "" {
			return math.NaN(), wantNumber + " of " + r.f.Unit + hint
		}
		_, _, hint = parseNumber(r.decimal(s))
		return math.NaN(), r.col.wantNumber() + hint
	}
	if unit = cmp.Or(own, unit, r.f.Unit); unit == "" {
		return v, ""
	}
	return r.inOurs(v, unit)
}

// inOurs converts to the unit of the column, to a tenth.
func (r *reader) inOurs(v float64, unit string) (float64, string) {
	v, ok := convert(v, unit, r.col)
	if !ok {
		if r.col.Unit == "" {
			return math.NaN(), r.col.wantNumber() + ", the number alone without its unit"
		}
		return math.NaN(), fmt.Sprintf("%s, not of %s; expected one of the units %s", wantNumber+" of "+r.col.Unit, unit, strings.Join(unitsFor(r.col), ", "))
	}
	return math.Round(v*10) / 10, ""
}

// cutUnit parts a number and its unit, by the name that maps use; a unit that
// nobody knows stays as it is.
func cutUnit(s string) (figure, unit string) {
	m := regexp.MustCompile(`^(.*[0-9])\s*([^0-9]*)$`).FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return s, ""
	}
	unit = strings.TrimSuffix(strings.ToLower(strings.TrimSpace(m[2])), ".")
	for name, others := range map[string][]string{
		"ft": {"'", "′", "’", "feet", "foot"}, "in": {`"`, "″", "”", "inch", "inches"}, "cm": {"centimetre", "centimetres", "centimeter", "centimeters"},
		"mm": {"millimetre", "millimetres", "millimeter", "millimeters"}, "m": {"metre", "metres", "meter", "meters"},
		"h": {"hr", "hrs", "hour", "hours"}, "d": {"day", "days"}, "weeks": {"week", "wk", "wks"}, "min": {"minute", "minutes"},
		"F": {"f", "°f", "deg f", "degrees f"}, "C": {"c", "°c", "deg c", "degrees c"}, "K": {"k"},
	} {
		if slices.Contains(others, unit) {
			return m[1], name
		}
	}
	return m[1], unit
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

// monthNamed is the month of an English name or its first three or four letters; 0
// if it is none.
func monthNamed(word string) int {
	for i, name := range []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"} {
		if len(word) >= 3 && strings.HasPrefix(name, word) {
			return i + 1
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
