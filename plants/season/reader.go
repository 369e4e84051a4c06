package season

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// reader takes the cells of a table and gathers what is wrong with them.
type reader struct {
	raw    *table.Table
	at     map[string]int
	faults table.Faults
}

// columns finds the columns that are needed and those that may be left out.
// It returns the places of the columns that are neither.
func (in *reader) columns(need, may []string) (strange []int) {
	in.at = map[string]int{}
	for i, h := range in.raw.Header {
		name := columnName(h)
		switch {
		case slices.Contains(need, name) || slices.Contains(may, name):
			if _, twice := in.at[name]; twice {
				in.faultAt(-1, i, table.Fault{Name: name, Want: "this column stands twice in the header: want it once"})
			}
			in.at[name] = i
		case h != "":
			strange = append(strange, i)
		}
	}
	for _, name := range need {
		if _, ok := in.at[name]; !ok {
			in.faultAt(-1, -1, table.Fault{Name: name, Want: "the header lacks this column: want " + strings.Join(need, ",")})
		}
	}
	return strange
}

// faultAt is a fault at a place of the table, see table.Position.
func (in *reader) faultAt(row, column int, f table.Fault) {
	f.File = in.raw.Name
	f.Line, f.Column = in.raw.Position(row, column)
	in.faults = append(in.faults, f)
}

// columnName is a column as ours are named: in small letters, vigor as vigour.
func columnName(header string) string {
	name := strings.ToLower(strings.TrimSpace(header))
	if name == "vigor" {
		return "vigour"
	}
	return name
}

func (in *reader) text(row int, column string) string {
	i, ok := in.at[column]
	if !ok {
		return ""
	}
	return strings.TrimSpace(in.raw.Rows[row][i])
}

// figure is text, with a decimal point in the columns of litres and metres.
func (in *reader) figure(row int, column string) string {
	switch column {
	case "water_l", "x_m", "y_m":
		return in.raw.Decimal(in.text(row, column))
	}
	return in.text(row, column)
}

func (in *reader) fault(row int, column, want string) {
	i, ok := in.at[column]
	if !ok {
		i = -1
	}
	in.faultAt(row, i, table.Fault{Name: column, Value: in.text(row, column), Want: want})
}

// lacks is a fault of the whole file.
func (in *reader) lacks(want string) {
	in.faults = append(in.faults, table.Fault{File: in.raw.Name, Want: want})
}

// number reads a plain decimal number; NaN for an empty cell.
func (in *reader) number(row int, column, want string, least, most float64) float64 {
	v, ok := parseFigure(in.raw.Decimal(in.text(row, column)), least, most)
	if !ok {
		in.fault(row, column, want)
	}
	return v
}

// parseFigure reads a decimal number as people write it; NaN for "" and what is none.
func parseFigure(s string, least, most float64) (v float64, ok bool) {
	if s == "" {
		return math.NaN(), true
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.Trim(s, "0123456789.-") != "" || !(v >= least && v <= most) {
		return math.NaN(), false
	}
	return v + 0, true // no negative zero
}

// chance reads a probability that is neither 0 nor 1: nothing is ever ruled out.
func (in *reader) chance(row int, column string) float64 {
	v := in.number(row, column, "want a chance from 0.001 to 0.999", 0.001, 0.999)
	if in.text(row, column) == "" {
		in.fault(row, column, "want a chance from 0.001 to 0.999")
	}
	return v
}

func (in *reader) done() error { return in.faults.Sorted().Err() }
