package placement

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"hollowbed/zones/basin"
	"hollowbed/zones/table"
)

// Planted is one row of planted.csv: a plant that stands, by its stake.
//
// planted.csv is a table in the form of RFC 4180 with a header line:
//
//	stake    letters and digits, each once, whatever their case
//	id       of the species in the plant table
//	x_m,y_m  place in metres, in the frame of the bed's outline
//	planted  date as 2026-04-30; may be empty or left out
//	zone     bottom, slope or rim; may be empty or left out
//	drift    letter of the drift it stands in; may be empty or left out
//
// Other columns are the gardener's own: they are not read, and kept.
type Planted struct {
	Stake, ID string
	X, Y      float64
	Planted   string
	Zone      string
	Drift     string // in capitals; "" for a plant that stands alone
	Line      int    // line of the file it was read from; not written
}

func plantedColumns() []string {
	return []string{"stake", "id", "x_m", "y_m", "planted", "zone", "drift"}
}

// needColumns is how many of the columns, the first ones, have to be there.
const needColumns = 4

// MaxBytes bounds what is read of a planted.csv, so that a wrong file cannot
// fill the memory.
const MaxBytes = 16 << 20

// limits of planted.csv.
func limits() table.Limits { return table.Limits{FileBytes: MaxBytes, RowBytes: 1_000_000} }

// ReadPlanted reads a planted.csv; name is what messages call it. The error is
// table.Faults, all of them. Columns that are not ours are passed over and named
// in the warnings; rows with nothing in any cell are passed over.
func ReadPlanted(name string, r io.Reader) (plants []Planted, warnings table.Faults, err error) {
	t, err := readPlantedTable(name, r)
	if err != nil {
		return nil, nil, err
	}
	return t.plants, t.warnings, nil
}

type plantedTable struct {
	*table.Table
	column   []int               // of ours, in the file; -1: not there
	cells    map[string][]string // of a row, by its stake in capitals
	plants   []Planted
	seen     map[string]int
	faults   table.Faults
	warnings table.Faults
}

func readPlantedTable(name string, r io.Reader) (*plantedTable, error) {
	raw, faults, err := table.Load(name, r, limits())
	if err != nil {
		return nil, err
	}
	if len(faults) == 0 {
		faults = raw.Parse(limits(), nil)
	}
	t := &plantedTable{Table: raw, faults: faults, cells: map[string][]string{}, seen: map[string]int{}}
	if raw.Header != nil && t.header() {
		for i := range t.Rows {
			t.row(i)
		}
	}
	return t, t.faults.Sorted().Err()
}

func (t *plantedTable) fault(row, col int, name, value, want string) {
	line, column := t.Position(row, col)
	t.faults = append(t.faults, table.Fault{File: t.Name, Line: line, Column: column, Name: name, Value: value, Want: want})
}

// header finds our columns, and says whether those are there that are needed.
func (t *plantedTable) header() bool {
	ours := plantedColumns()
	t.column = slices.Repeat([]int{-1}, len(ours))
	for i, h := range t.Header {
		k := slices.Index(ours, strings.ToLower(h))
		switch {
		case k < 0 && h != "" && table.WrongText(h) == "": // the latter is told already
			t.warnings = append(t.warnings, t.Fault(-1, i, "not a column of ours: passed over"))
			t.warnings[len(t.warnings)-1].Name, t.warnings[len(t.warnings)-1].Value = "", h
		case k >= 0 && t.column[k] < 0:
			t.column[k] = i
		case k >= 0 && h != t.Header[t.column[k]]: // so are equal ones
			t.fault(-1, i, ours[k], "", "this column stands twice in the header: want it once")
		}
	}
	lacks := false
	for k, name := range ours[:needColumns] {
		if t.column[k] >= 0 {
			continue
		}
		lacks = true
		t.fault(-1, 0, name, "", "the header lacks this column: want "+strings.Join(ours, ","))
		for _, w := range t.warnings {
			w.Want = "not a column of ours"
			t.faults = append(t.faults, w)
		}
		t.warnings = nil
	}
	return !lacks
}

func (t *plantedTable) row(i int) {
	row := t.Rows[i]
	if !slices.ContainsFunc(row, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return
	}
	line, _ := t.Position(i, -1)
	p := Planted{Line: line}
	for k, name := range plantedColumns() {
		col := t.column[k]
		if col < 0 {
			continue
		}
		cell := row[col]
		if strings.HasSuffix(name, "_m") {
			cell = t.Decimal(cell)
		}
		if want := p.set(name, cell); want != "" {
			t.fault(i, col, name, row[col], want)
		}
	}
	key := strings.ToUpper(p.Stake)
	if first, twice := t.seen[key]; twice && key != "" {
		t.fault(i, t.column[0], "stake", p.Stake, fmt.Sprintf("stands in line %d already: want each stake once", first))
	} else {
		t.seen[key], t.cells[key] = line, row
	}
	t.plants = append(t.plants, p)
}

// set reads one cell and returns what would be right if it is wrong.
func (p *Planted) set(name, cell string) string {
	s := strings.TrimSpace(cell)
	switch name {
	case "stake":
		p.Stake = s
		return WrongStake(s)
	case "id":
		p.ID = table.Unguard(s)
		return wrongID(p.ID)
	case "x_m":
		return number(s, &p.X)
	case "y_m":
		return number(s, &p.Y)
	case "planted":
		p.Planted = s
		return wrongDate(s)
	case "zone":
		p.Zone = s
		return wrongZone(s)
	case "drift":
		p.Drift = strings.ToUpper(s)
		return WrongDrift(p.Drift)
	}
	panic("placement: no column " + name)
}

func wrongID(s string) string {
	if s == "" || strings.ContainsAny(s, "\t\r\n") || table.WrongText(s) != "" {
		return "want the id of a plant in the plant table"
	}
	return ""
}

func wrongDate(s string) string {
	if _, err := time.Parse(time.DateOnly, s); s != "" && err != nil {
		return "want a date such as 2026-04-30, or nothing"
	}
	return ""
}

func wrongZone(s string) string {
	switch s {
	case "", basin.Bottom, basin.Slope, basin.Rim:
		return ""
	}
	return "want bottom, slope or rim"
}

// number reads a plain decimal: digits with at most one point between digits,
// a hyphen first if it is below zero.
func number(s string, v *float64) string {
	const want = "want a number of metres"
	whole, part, point := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	digits := func(s string) bool {
		return s != "" && !strings.ContainsFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	}
	switch {
	case strings.Count(s, ",") == 1 && !point && digits(strings.Replace(strings.TrimPrefix(s, "-"), ",", "", 1)):
		return want + " with a point: " + strings.Replace(s, ",", ".", 1)
	case !digits(whole) || point && !digits(part):
		return want
	}
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || f > 1e6 || f < -1e6 {
		return want + " within 1,000,000"
	}
	*v = f + 0 // no negative zero
	return ""
}

// Rows lists the plants of a result as they go to planted.csv, with the date on
// which the new ones are planted; those that stood already keep their own,
// and rows of those that are gone stay behind the others.
func (r *Result) Rows(date string, before []Planted) []Planted {
	had := map[string]string{}
	for _, p := range before {
		had[strings.ToUpper(p.Stake)] = p.Planted
	}
	var out []Planted
	for _, s := range r.Plants {
		p := Planted{Stake: s.Stake, ID: s.ID, X: s.X, Y: s.Y, Planted: date, Zone: s.Zone, Drift: s.Drift}
		if d, ok := had[strings.ToUpper(s.Stake)]; ok {
			p.Planted = d
		}
		out = append(out, p)
	}
	for _, p := range before {
		if !slices.ContainsFunc(r.Plants, func(s Standing) bool { return strings.EqualFold(s.Stake, p.Stake) }) {
			out = append(out, p)
		}
	}
	return out
}
