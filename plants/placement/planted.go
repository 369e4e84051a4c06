package placement

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

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
//
// Other columns are the gardener's own: they are not read, and kept.
type Planted struct {
	Stake, ID string
	X, Y      float64
	Planted   string
	Zone      string
	Line      int // line of the file it was read from; not written
}

func plantedColumns() []string { return []string{"stake", "id", "x_m", "y_m", "planted", "zone"} }

// needColumns is how many of the columns, the first ones, have to be there.
const needColumns = 4

// MaxBytes bounds what is read of a planted.csv, so that a wrong file cannot
// fill the memory.
const MaxBytes = 16 << 20

const byteOrderMark = "\ufeff"

// mostColumns bounds a header, each name of which may be told.
const mostColumns = 1000

// ReadPlanted reads a planted.csv; name is what messages call it. The error is
// table.Faults, all of them. Columns that are not ours are passed over and named
// in the warnings; rows with nothing in any cell are passed over.
func ReadPlanted(name string, r io.Reader) (plants []Planted, warnings []table.Fault, err error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	t, err := readPlantedTable(name, data)
	if err != nil {
		return nil, nil, err
	}
	return t.plants, t.warnings, nil
}

func readPlantedTable(name string, data []byte) (*plantedTable, error) {
	t := &plantedTable{name: name, cells: map[string][]string{}}
	if want := t.take(data); want != "" {
		return nil, table.Faults{{File: name, Line: 1, Column: 1, Want: want}}
	}
	t.rows()
	if len(t.faults) > 0 {
		return nil, t.faults.Sorted()
	}
	return t, nil
}

type plantedTable struct {
	name     string
	lines    [][]byte // of the text, to turn bytes into characters
	text     []byte
	comma    rune
	head     []string
	column   []int               // of ours, in the file; -1: not there
	cells    map[string][]string // of a row, by its stake in capitals
	plants   []Planted
	seen     map[string]int
	faults   table.Faults
	warnings []table.Fault
}

// take looks at the bytes as text and returns what is wrong with all of them.
func (t *plantedTable) take(data []byte) string {
	switch {
	case len(data) > MaxBytes:
		return fmt.Sprintf("want a file of at most %d bytes", MaxBytes)
	case bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")):
		return "the file is UTF-16: want UTF-8, in a spreadsheet saved as CSV UTF-8"
	}
	t.text = bytes.TrimPrefix(data, []byte(byteOrderMark))
	t.lines = bytes.SplitAfter(t.text, []byte("\n"))
	if len(bytes.TrimSpace(t.text)) == 0 {
		return "the file is empty: want a header line with the names of the columns"
	}
	return ""
}

func (t *plantedTable) fault(line, column int, name, value, want string) {
	t.faults = append(t.faults, table.Fault{File: t.name, Line: line, Column: column, Name: name, Value: value, Want: want})
}

// character turns a byte position in a line into a character position.
func (t *plantedTable) character(line, at int) int {
	if line < 1 || line > len(t.lines) {
		return at
	}
	return utf8.RuneCount(t.lines[line-1][:min(max(at-1, 0), len(t.lines[line-1]))]) + 1
}

func (t *plantedTable) rows() {
	for n, l := range t.lines {
		if !utf8.Valid(l) {
			t.fault(n+1, 1, "", "", "a byte in this line is not UTF-8: want UTF-8, in a spreadsheet saved as CSV UTF-8")
			return
		}
	}
	head, _, _ := strings.Cut(strings.TrimLeft(string(t.text), "\r\n"), "\n")
	r := csv.NewReader(bytes.NewReader(t.text))
	r.FieldsPerRecord = -1
	for _, sep := range ",;\t" { // the one that the header has most of
		if strings.Count(head, string(sep)) > strings.Count(head, string(r.Comma)) {
			r.Comma = sep
		}
	}
	t.comma, t.seen = r.Comma, map[string]int{}
	for {
		row, err := r.Read()
		var wrong *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return
		case errors.As(err, &wrong):
			t.fault(wrong.Line, t.character(wrong.Line, wrong.Column), "", "",
				"quotes go wrong here: want quotes round a whole cell, and quotes inside it doubled")
			return
		case err != nil:
			t.fault(0, 0, "", "", err.Error())
			return
		}
		at := func(i int) (line, column int) {
			line, column = r.FieldPos(i)
			return line, t.character(line, column)
		}
		if t.column == nil {
			t.header(row, at)
			if slices.Contains(t.column[:needColumns], -1) {
				return // nothing can be said of the rows
			}
			continue
		}
		t.row(row, at)
	}
}

func (t *plantedTable) header(row []string, at func(int) (int, int)) {
	ours := plantedColumns()
	t.column, t.head = slices.Repeat([]int{-1}, len(ours)), row
	if len(row) > mostColumns {
		t.fault(0, 0, "", "", fmt.Sprintf("want a table of at most %d columns, not %d", mostColumns, len(row)))
		return
	}
	for i, cell := range row {
		name := strings.ToLower(strings.TrimSpace(cell))
		line, col := at(i)
		k := slices.Index(ours, name)
		switch {
		case k < 0 && name != "":
			t.warnings = append(t.warnings, table.Fault{File: t.name, Line: line, Column: col, Value: cell, Want: "not a column of ours: passed over"})
		case k >= 0 && t.column[k] >= 0:
			t.fault(line, col, name, "", "this column stands twice in the header: want it once")
		case k >= 0:
			t.column[k] = i
		}
	}
	for k, name := range ours[:needColumns] {
		if t.column[k] < 0 {
			line, col := at(0)
			t.fault(line, col, name, "", "the header lacks this column: want "+strings.Join(ours, ","))
			for _, w := range t.warnings {
				t.fault(w.Line, w.Column, "", w.Value, "not a column of ours")
			}
			t.warnings = nil
		}
	}
}

func (t *plantedTable) row(row []string, at func(int) (int, int)) {
	if !slices.ContainsFunc(row, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return
	}
	line, col := at(0)
	if len(row) != len(t.head) {
		t.fault(line, col, "", "", fmt.Sprintf("want %d cells as in the header, not %d", len(t.head), len(row)))
		return
	}
	p := Planted{Line: line}
	for k, name := range plantedColumns() {
		i := t.column[k]
		if i < 0 {
			continue
		}
		if want := p.set(name, row[i]); want != "" {
			line, col := at(i)
			t.fault(line, col, name, row[i], want)
		}
	}
	key := strings.ToUpper(p.Stake)
	if first, twice := t.seen[key]; twice && key != "" {
		line, col := at(t.column[0])
		t.fault(line, col, "stake", p.Stake, fmt.Sprintf("stands in line %d already: want each stake once", first))
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
		p.ID = unguard(s)
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
	}
	panic("placement: no column " + name)
}

func wrongID(s string) string {
	if s == "" || strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }) {
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

// Spreadsheets take a cell that begins with one of these for a formula.
func formula(s string) bool {
	s = strings.TrimLeft(s, "'")
	r, _ := utf8.DecodeRuneInString(s)
	return s != "" && strings.ContainsRune("=+-@＝＋－＠", r)
}

func guard(s string) string {
	if formula(s) {
		return "'" + s
	}
	return s
}

func unguard(s string) string {
	if strings.HasPrefix(s, "'") && formula(s) {
		return s[1:]
	}
	return s
}

// Rows lists the plants of a result as they go to planted.csv, with the date on
// which the new ones are planted; those that stood already keep their own.
func (r *Result) Rows(date string, before []Planted) []Planted {
	had := map[string]string{}
	for _, p := range before {
		had[strings.ToUpper(p.Stake)] = p.Planted
	}
	var out []Planted
	for _, s := range r.Plants {
		p := Planted{Stake: s.Stake, ID: s.ID, X: s.X, Y: s.Y, Planted: date, Zone: s.Zone}
		if d, ok := had[strings.ToUpper(s.Stake)]; ok {
			p.Planted = d
		}
		out = append(out, p)
	}
	return out
}
