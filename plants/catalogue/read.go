package catalogue

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"

	"hollowbed/zones/table"

	"github.com/gocarina/gocsv"
)

// A Catalogue is a plant table that has been read and has no faults.
type Catalogue struct {
	Name     string
	Plants   []Plant
	Warnings []table.Fault
	Digest   string // SHA-256 of the bytes that were read, in hexadecimal
	State    string // of the lot, where the table is the built-in one: two letters; else ""

	byID map[string]int
}

// ByID finds a plant by its id.
func (c *Catalogue) ByID(id string) (Plant, bool) {
	if i, ok := c.byID[id]; ok && i < len(c.Plants) && c.Plants[i].ID == id {
		return c.Plants[i], true
	}
	for i := range c.Plants { // put together by hand, or changed since
		if c.Plants[i].ID == id {
			return c.Plants[i], true
		}
	}
	return Plant{}, false
}

// Named finds the plants that a name may mean (Bearers); of several the one that
// alone is native to the lot's state.
func (c *Catalogue) Named(name string) []*Plant {
	all := Bearers(c.Plants, name)
	if len(all) > 1 && c.State != "" {
		native := slices.DeleteFunc(slices.Clone(all), func(p *Plant) bool { return !slices.Contains(p.NativeTo, c.State) })
		if len(native) == 1 {
			return native
		}
	}
	return all
}

// Near finds the id that was most likely meant by one that is not there.
func (c *Catalogue) Near(id string) string {
	ids := make([]string, len(c.Plants))
	for i := range c.Plants {
		ids[i] = c.Plants[i].ID
	}
	return table.Nearest(id, ids)
}

// Read reads a plant table. name is what messages call the file. The error is Faults, all
// of them; nothing in a table with faults is given out, and they name its columns that
// are not ours. Else such columns are passed over and named in Warnings. Names of columns
// may be in any case, with blank space around; empty rows are passed over.
func Read(name string, r io.Reader) (*Catalogue, error) {
	return readWithin(name, r, table.DefaultLimits())
}

// readWithin is Read with other limits.
func readWithin(name string, r io.Reader, lim table.Limits) (*Catalogue, error) {
	return read(name, r, lim, nil)
}

// ReadKnown is Read, but first asks known for the table, by the digest of its
// very bytes and how many lines they have, and reads on if that gives nil.
func ReadKnown(name string, r io.Reader, known func(digest string, lines int) *Catalogue) (*Catalogue, error) {
	lim := table.DefaultLimits()
	file, ok := r.(io.ReadSeeker)
	if ok {
		_, err := file.Seek(0, io.SeekStart)
		ok = err == nil
	}
	if !ok {
		return read(name, r, lim, known)
	}
	c, err := ask(file, lim, known)
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", name, err)
	case c != nil:
		return c, nil
	}
	return read(name, r, lim, nil)
}

// ask asks for a file without keeping what is read of it, and goes back to its start.
func ask(file io.ReadSeeker, lim table.Limits, known func(digest string, lines int) *Catalogue) (*Catalogue, error) {
	var lines lineCounter
	sum, into := sha256.New(), io.Writer(&lines)
	summer, ok := file.(interface{ SHA256() string })
	if !ok {
		into = io.MultiWriter(&lines, sum)
	}
	n, err := io.Copy(into, io.LimitReader(file, lim.FileBytes+1))
	if err == nil && n <= lim.FileBytes {
		digest := hex.EncodeToString(sum.Sum(nil))
		if ok {
			digest = summer.SHA256()
		}
		if c := known(digest, int(lines)); c != nil {
			return c, nil
		}
	}
	if err == nil {
		_, err = file.Seek(0, io.SeekStart)
	}
	return nil, err
}

type lineCounter int

func (n *lineCounter) Write(p []byte) (int, error) {
	*n += lineCounter(bytes.Count(p, []byte{'\n'}))
	return len(p), nil
}

func read(name string, r io.Reader, lim table.Limits, known func(digest string, lines int) *Catalogue) (*Catalogue, error) {
	t, faults, err := table.Load(name, r, lim)
	if err != nil {
		return nil, err
	}
	if len(faults) == 0 {
		if known != nil {
			if c := known(t.Digest, t.LineCount()); c != nil {
				return c, nil
			}
		}
		faults = t.Parse(lim, nil)
	}
	if t.Header == nil {
		return nil, faults
	}
	p := &plantTable{Table: t, columns: tableColumns(), wrong: map[int]bool{}}
	faults = append(faults, p.matchHeader()...)
	p.dropBlankRows()
	if len(p.rows) == 0 && len(faults) == 0 {
		faults = append(faults, table.Fault{File: name, Line: 2, Column: 1, Want: "want at least one plant below the header"})
	}
	plants, more := p.decode()
	faults = append(faults, more...)
	check := p.checker()
	check.run(plants)
	faults = append(faults, check.faults...)
	if len(faults) > 0 { // with a column that is not ours: often the cause
		return nil, append(faults, p.warnings...).Sorted()
	}
	c := &Catalogue{
		Name: name, Plants: plants, Digest: t.Digest,
		Warnings: append(p.warnings, check.warnings...).Sorted().Gathered(),
		byID:     make(map[string]int, len(plants)),
	}
	for i := range plants {
		c.byID[plants[i].ID] = i
	}
	return c, nil
}

// share lets a plant share what it holds with others.
func share(h *table.Sharer, p *Plant) {
	p.Source = h.Text(p.Source)
	for _, list := range []*[]string{&p.Zones, &p.FlowerColour, &p.NativeTo, &p.Toxic, &p.Tags, &p.Assumed} {
		*list = h.List(*list)
	}
}

// A plantTable is a table whose header has been matched with our columns.
type plantTable struct {
	*table.Table
	columns  []column
	source   []int        // for each of our columns the column of the table, or -1
	rows     []int        // the rows of the table that are not blank
	wrong    map[int]bool // cells with a fault: row of rows x columns + column
	warnings table.Faults
	make     func(i int) []string // makes the cells of row i of rows in an import; nil where they stand in the table
}

// matchHeader finds our columns in the header.
func (p *plantTable) matchHeader() table.Faults {
	var faults table.Faults
	names := columnNames(p.columns)
	p.source = make([]int, len(names))
	used := make([]bool, len(p.Header))
	for k, name := range names {
		p.source[k] = -1
		for j, h := range p.Header {
			switch {
			case !strings.EqualFold(h, name):
			case p.source[k] < 0:
				p.source[k], used[j] = j, true
			default:
				used[j] = true
				if h != p.Header[p.source[k]] { // readTable tells of equal ones
					faults = append(faults, p.Table.Fault(-1, j, "this column stands twice in the header: want it once"))
				}
			}
		}
	}
	var unknown []string
	for j, h := range p.Header {
		if used[j] || table.WrongText(h) != "" { // the latter is told already
			continue
		}
		unknown = append(unknown, h)
		want := "this column is not known and was passed over"
		if h == "" {
			want = "a column without a name was passed over"
		}
		p.warnings = append(p.warnings, p.Table.Fault(-1, j, table.OrMeant(want, h, names)))
	}
	for k, col := range p.columns {
		if col.Required && p.source[k] < 0 {
			want := "this column is missing: want " + col.Meaning
			for _, u := range unknown {
				if table.Nearest(u, names) == col.Name {
					want += fmt.Sprintf("; is it meant by %q?", u)
					break
				}
			}
			line, column := p.Position(-1, -1)
			faults = append(faults, table.Fault{File: p.Name, Line: line, Column: column, Name: col.Name, Want: want})
		}
	}
	return faults
}

func (p *plantTable) dropBlankRows() {
	for i, row := range p.Rows {
		if slices.ContainsFunc(row, func(s string) bool { return strings.TrimSpace(s) != "" }) {
			p.rows = append(p.rows, i)
		}
	}
}

// decode has gocsv bind the rows, some at a time so that little is held twice.
func (p *plantTable) decode() ([]Plant, table.Faults) {
	const atATime = 512
	var faults table.Faults
	plants := make([]Plant, 0, len(p.rows))
	shared := table.NewSharer()
	for from := 0; from < len(p.rows); from += atATime {
		part := p.rows[from:min(from+atATime, len(p.rows))]
		var rows []row
		given := &ourRows{p: p, from: from, rows: part}
		if err := gocsv.UnmarshalCSV(given, &rows); err != nil {
			panic("catalogue: gocsv: " + err.Error()) // our cells return no errors
		}
		for k := range rows {
			for col, wrong := range rows[k].wrong() {
				if wrong != "" {
					faults = append(faults, p.cellFault(from+k, col, given.cells[k][col], wrong))
				}
			}
			plant := rows[k].plant()
			plant.Line, _ = p.Position(part[k], -1)
			share(shared, &plant)
			plants = append(plants, plant)
		}
		if p.make == nil { // nobody else has this table, and its rows are done with
			for _, row := range part {
				p.Rows[row] = nil
			}
		}
	}
	return plants, faults
}

// cellFault tells what is wrong with the writing of a cell, and marks the cell.
func (p *plantTable) cellFault(i, col int, value, wrong string) table.Fault {
	p.wrong[i*len(p.columns)+col] = true
	if hint, ok := strings.CutPrefix(wrong, wantNumber); ok {
		wrong = p.columns[col].wantNumber() + hint
	}
	f := table.Fault{File: p.Name, Name: p.columns[col].Name, Value: value, Want: wrong}
	f.Line, f.Column = p.Position(p.rows[i], p.source[col])
	return f
}

// checker is one that knows where the cells of the table stand.
func (p *plantTable) checker() *checker {
	index := make(map[string]int, len(p.columns))
	for k, c := range p.columns {
		index[c.Name] = k
	}
	return &checker{
		columns: p.columns,
		place: func(i int, column, value string) table.Fault {
			f := table.Fault{File: p.Name, Name: column, Value: value}
			f.Line, f.Column = p.Position(p.rows[i], p.source[index[column]])
			return f
		},
		skip: func(i int, column string) bool {
			k := index[column]
			return p.wrong[i*len(p.columns)+k] || p.make == nil && p.source[k] < 0 && p.columns[k].Required
		},
	}
}

// ourRows is the CSVReader for gocsv. It always has exactly our columns in our order:
// gocsv would pass over headers that are missing, unknown or twice, and ragged rows.
type ourRows struct {
	p     *plantTable
	from  int // where rows begins in the rows of p
	rows  []int
	cells [][]string // what was given out, without the header
	next  int        // 0 is the header
}

// Read gives the header first, then the rows.
func (o *ourRows) Read() ([]string, error) {
	if o.next > len(o.rows) {
		return nil, io.EOF
	}
	o.next++
	if o.next == 1 {
		return columnNames(o.p.columns), nil
	}
	var out []string
	if k := o.next - 2; o.p.make != nil {
		out = o.p.make(o.from + k)
	} else {
		out = o.p.given(o.rows[k])
	}
	o.cells = append(o.cells, out)
	return out, nil
}

// given returns the cells of our columns as they stand in a row of the table.
func (p *plantTable) given(row int) []string {
	out := make([]string, len(p.columns))
	for k, j := range p.source {
		if j < 0 {
			continue
		}
		if out[k] = p.Rows[row][j]; p.columns[k].Kind == numberColumn {
			out[k] = p.Decimal(out[k])
		}
	}
	return out
}

// ReadAll gives all that Read would.
func (o *ourRows) ReadAll() ([][]string, error) {
	all := make([][]string, 0, len(o.rows)+1)
	for {
		rec, err := o.Read()
		if err != nil {
			return all, nil
		}
		all = append(all, rec)
	}
}
