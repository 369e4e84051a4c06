package table

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
)

// A Table is any table of text with a header line, whatever its columns mean.
// Every row has as many cells as the header. Cells that are equal share their
// text, so a table of classes takes little memory.
type Table struct {
	Name      string
	Header    []string
	Rows      [][]string
	Digest    string // SHA-256 of the bytes, in hexadecimal
	Separator byte
	Encoding  Encoding

	Skipped Faults // rows of another width than the header, where they are passed over

	Sheet       string   // of a workbook that the table is from
	OtherSheets []string // the others, which were not read

	passed  []string // columns of the file that were passed over, as nobody wants them
	first   []int32  // line that each row begins at, header first
	lines   []int32  // line of each cell, header first, row after row
	columns []int32  // character of its line that each cell begins at, from 1
	byCell  bool
	data    []byte // what was read, until it is parsed
}

// Limits bound what is read, so that a wrong file cannot fill the memory.
type Limits struct {
	FileBytes int64
	RowBytes  int
	Ragged    bool // pass over rows of another width than the header
	ByCell    bool // the column of a cell is its number in the row, not its character
}

// DefaultLimits are 256 MB for a file, which is 100,000 plants with a page of
// notes each, and 1 MB for a row.
func DefaultLimits() Limits { return Limits{FileBytes: 256 * megabyte, RowBytes: megabyte} }

// mostColumns bounds a header, each name of which may be told.
const mostColumns = 1000

const (
	kilobyte = 1000
	megabyte = 1000 * kilobyte
)

// InBytes words a number of bytes in the largest unit that has no fraction.
func InBytes[N int | int64](n N) string {
	switch {
	case n > 0 && n%megabyte == 0:
		return fmt.Sprintf("%d MB", n/megabyte)
	case n > 0 && n%kilobyte == 0:
		return fmt.Sprintf("%d kB", n/kilobyte)
	}
	return fmt.Sprintf("%d bytes", n)
}

// Read reads a table in the form of RFC 4180 with a header line. The
// separator (comma, semicolon, tab or bar) is found from the header, and so is
// the Encoding. Line ends inside quotes are kept as they are. Rows with nothing in
// any cell are passed over. The error is Faults, or what r reports.
func Read(name string, r io.Reader) (*Table, error) {
	return ReadWithin(name, r, DefaultLimits())
}

// ReadWithin is Read with other limits.
func ReadWithin(name string, r io.Reader, lim Limits) (*Table, error) {
	return ReadColumns(name, r, lim, nil)
}

// ReadColumns is ReadWithin that keeps the wanted columns alone; nil keeps all.
func ReadColumns(name string, r io.Reader, lim Limits, wanted func(column string) bool) (*Table, error) {
	t, faults, err := Load(name, r, lim)
	if err != nil {
		return nil, err
	}
	if len(faults) == 0 {
		faults = t.Parse(lim, wanted)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return t, nil
}

// Position tells the line and the character at which a cell begins. Row 0 is
// the first row below the header; row -1 is the header. Column -1 is the
// beginning of the row.
func (t *Table) Position(row, col int) (line, column int) {
	if col < 0 && row >= -1 && row+1 < len(t.first) {
		return int(t.first[row+1]), 1
	}
	i := (row+1)*len(t.Header) + col
	if i < 0 || i >= len(t.lines) {
		return 0, 0
	}
	return int(t.lines[i]), int(t.columns[i])
}

// Decimal is the Decimal of a figure in the table, whose commas part cells
// where they are its separator.
func (t *Table) Decimal(figure string) string {
	if t.Separator == ',' {
		return figure
	}
	return Decimal(figure)
}

// AllColumns are the columns of the file, those passed over last.
func (t *Table) AllColumns() []string { return slices.Concat(t.Header, t.passed) }

// LineCount is how many line ends were loaded.
func (t *Table) LineCount() int { return bytes.Count(t.data, []byte{'\n'}) }

// Column finds a column by its name; -1 if there is none.
func (t *Table) Column(name string) int {
	for i, h := range t.Header {
		if h == name {
			return i
		}
	}
	return -1
}

// Fault tells what is wrong with a cell.
func (t *Table) Fault(row, col int, want string) Fault {
	line, column := t.Position(row, col)
	f := Fault{File: t.Name, Line: line, Column: column, Name: t.Header[col], Want: want}
	if row >= 0 {
		f.Value = t.Rows[row][col]
	}
	return f
}

// ReadAll reads a file, and sets its bytes aside at once where r tells how many
// there are. Of one with more than most bytes, which is a fault, it reads no more
// than shows that, and nothing where r tells.
func ReadAll(name string, r io.Reader, most int64) ([]byte, error) {
	var all bytes.Buffer
	size := int64(0)
	switch f := r.(type) {
	case interface{ Len() int }:
		size = int64(f.Len())
	case interface{ Stat() (fs.FileInfo, error) }:
		if info, err := f.Stat(); err == nil {
			size = info.Size()
		}
	}
	tooMany := Faults{{File: name, Want: "want a file of at most " + InBytes(most)}}
	if size > most {
		return nil, tooMany
	}
	all.Grow(int(max(0, size)) + bytes.MinRead)
	if _, err := all.ReadFrom(io.LimitReader(r, most+1)); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if int64(all.Len()) > most {
		return nil, tooMany
	}
	return all.Bytes(), nil
}

// A summer is a reader that sums up what it hands out, so that it need not be
// done twice.
type summer interface{ SHA256() string }

// Load reads a file whole and sums it up, for Parse.
func Load(name string, r io.Reader, lim Limits) (*Table, Faults, error) {
	data, err := ReadAll(name, r, lim.FileBytes)
	if faults := (Faults)(nil); errors.As(err, &faults) {
		return &Table{Name: name}, faults, nil
	}
	if err != nil {
		return nil, nil, err
	}
	t := &Table{Name: name, data: data}
	if s, ok := r.(summer); ok {
		t.Digest = s.SHA256()
	} else {
		sum := sha256.Sum256(data)
		t.Digest = hex.EncodeToString(sum[:])
	}
	return t, nil, nil
}

// Parse makes a table of the bytes that were loaded. It also keeps the rows that
// are sound when others are not, so that all faults of a file can be told at
// once. wanted tells which columns to keep; nil keeps all.
func (t *Table) Parse(lim Limits, wanted func(column string) bool) Faults {
	var faults Faults
	var kept []int       // columns of the file
	var shared []*Sharer // one for each of them
	width := 0
	rows := Stream(t.Name, bytes.NewReader(t.data), lim)
	t.data, t.Separator, t.byCell = nil, rows.Separator, lim.ByCell
	for {
		err := rows.Next()
		var f Fault
		switch {
		case errors.Is(err, io.EOF):
			t.Encoding = rows.Encoding()
			return faults
		case errors.As(err, &f):
			if faults = append(faults, f); t.Header == nil {
				return faults // of what follows nobody can tell what it is
			}
			continue
		case err != nil:
			return append(faults, Fault{File: t.Name, Want: err.Error()})
		case t.Header == nil && len(rows.Cells) > mostColumns:
			return append(faults, Fault{File: t.Name, Line: rows.Line, Column: 1, Want: fmt.Sprintf("want a table of at most %d columns, not %d", mostColumns, len(rows.Cells))})
		case t.Header == nil:
			width = len(rows.Cells)
			faults = append(faults, t.takeHeader(rows)...)
			kept = t.narrow(rows, wanted)
			for range kept {
				shared = append(shared, NewSharer())
			}
			continue
		case len(rows.Cells) != width && lim.Ragged:
			t.Skipped = append(t.Skipped, rows.WrongWidth(width))
			continue
		case len(rows.Cells) != width:
			faults = append(faults, rows.WrongWidth(width))
			continue
		}
		row := make([]string, len(kept))
		for k, i := range kept {
			row[k] = shared[k].Text(rows.Cells[i])
		}
		t.Rows = append(t.Rows, row)
		t.keep(rows, kept)
	}
}

// takeHeader reads the whole header and tells which columns stand there twice,
// and which names cannot be shown.
func (t *Table) takeHeader(rows *Rows) Faults {
	all := make([]int, len(rows.Cells))
	for i := range all {
		all[i] = i
	}
	t.Header = Trimmed(rows.Cells)
	t.keep(rows, all)
	faults := t.headerTwice()
	for i, h := range t.Header {
		if want := WrongText(h); want != "" {
			f := t.Fault(-1, i, want)
			f.Name, f.Value = "", h
			faults = append(faults, f)
		}
	}
	return faults
}

// narrow keeps the wanted columns of the header, and tells where they are in
// the file.
func (t *Table) narrow(rows *Rows, wanted func(column string) bool) []int {
	var kept []int
	var header []string
	for i, h := range t.Header {
		if wanted == nil || wanted(h) {
			kept, header = append(kept, i), append(header, strings.Clone(h))
		} else {
			t.passed = append(t.passed, strings.Clone(h))
		}
	}
	t.Header, t.first, t.lines, t.columns = slices.Clip(header), nil, nil, nil
	t.keep(rows, kept)
	return kept
}

// keep notes where the kept cells of the last row stand.
func (t *Table) keep(rows *Rows, kept []int) {
	t.first = append(t.first, int32(rows.Line))
	for _, i := range kept {
		line, column := rows.Place(i)
		if t.byCell {
			column = i + 1
		}
		t.lines = append(t.lines, int32(line))
		t.columns = append(t.columns, int32(column))
	}
}

func (t *Table) headerTwice() Faults {
	var faults Faults
	for i, h := range t.Header {
		for _, earlier := range t.Header[:i] {
			if h != "" && h == earlier {
				faults = append(faults, t.Fault(-1, i, "this column stands twice in the header: want it once"))
				break
			}
		}
	}
	return faults
}

// Trimmed takes the blank space round cells away.
func Trimmed(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = strings.TrimSpace(c)
	}
	return out
}

// Derived begins a table with another header whose cells come from this one.
func (t *Table) Derived(header []string) *Table {
	return &Table{Name: t.Name, Skipped: t.Skipped, Digest: t.Digest, Separator: t.Separator, Encoding: t.Encoding, Header: header}
}

// PlaceRow notes where the cells of a row come from; a cell that comes from
// nowhere stands at the beginning of its row.
func (t *Table) PlaceRow(from *Table, row int, index []int) {
	begin := from.first[row+1]
	t.first = append(t.first, begin)
	for _, j := range index {
		line, char := begin, int32(1)
		if j >= 0 {
			i := (row+1)*len(from.Header) + j
			line, char = from.lines[i], from.columns[i]
		}
		t.lines, t.columns = append(t.lines, line), append(t.columns, char)
	}
}

// PlaceCell notes that a cell comes from one of another table.
func (t *Table) PlaceCell(row, col int, from *Table, fromRow, fromCol int) {
	i, j := (row+1)*len(t.Header)+col, (fromRow+1)*len(from.Header)+fromCol
	t.lines[i], t.columns[i] = from.lines[j], from.columns[j]
}
