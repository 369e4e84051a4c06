package catalogue

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// A Table is any table of text with a header line, whatever its columns mean.
// Every row has as many cells as the header.
type Table struct {
	Name   string
	Header []string
	Rows   [][]string
	Digest string // SHA-256 of the bytes, in hexadecimal

	lines []int32 // line of each cell, header first, row after row
	bytes []int32 // byte of its line that each cell begins at, from 1
	data  []byte  // what was parsed
	start []int   // where each line of data starts; built when first needed
}

// Limits bound what is read, so that a wrong file cannot fill the memory.
type Limits struct {
	FileBytes int64
	RowBytes  int
}

// DefaultLimits are 64 MB for a file and 1 MB for a row.
func DefaultLimits() Limits { return Limits{FileBytes: 64 << 20, RowBytes: 1 << 20} }

// ReadTable reads a table in the form of RFC 4180 with a header line. The
// separator (comma, semicolon, tab or bar) is found from the header. A byte
// order mark is dropped; line ends inside quotes are kept as they are. Empty
// lines are passed over. The error is Faults, or what r reports.
func ReadTable(name string, r io.Reader) (*Table, error) {
	return ReadTableWithin(name, r, DefaultLimits())
}

// ReadTableWithin is ReadTable with other limits.
func ReadTableWithin(name string, r io.Reader, lim Limits) (*Table, error) {
	t, faults, err := readTable(name, r, lim)
	if err != nil {
		return nil, err
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return t, nil
}

// Position tells the line and the character at which a cell begins. Row 0 is
// the first row below the header; row -1 is the header.
func (t *Table) Position(row, col int) (line, column int) {
	i := (row+1)*len(t.Header) + col
	if i < 0 || i >= len(t.lines) {
		return 0, 0
	}
	return int(t.lines[i]), t.character(int(t.lines[i]), int(t.bytes[i]))
}

// Column finds a column by its name; -1 if there is none.
func (t *Table) Column(name string) int {
	for i, h := range t.Header {
		if h == name {
			return i
		}
	}
	return -1
}

func (t *Table) fault(row, col int, want string) Fault {
	line, column := t.Position(row, col)
	f := Fault{File: t.Name, Line: line, Column: column, Name: t.Header[col], Want: want}
	if row >= 0 {
		f.Value = t.Rows[row][col]
	}
	return f
}

// character turns a byte position in a line into a character position.
func (t *Table) character(line, bytePos int) int {
	if t.start == nil {
		t.start = append(t.start, 0)
		for i, b := range t.data {
			if b == '\n' {
				t.start = append(t.start, i+1)
			}
		}
	}
	if line < 1 || line > len(t.start) {
		return bytePos
	}
	from := t.start[line-1]
	to := min(from+bytePos-1, len(t.data))
	return utf8.RuneCount(t.data[from:max(from, to)]) + 1
}

// readTable also returns the rows that are sound when others are not, so that
// all faults of a file can be told at once.
func readTable(name string, r io.Reader, lim Limits) (*Table, Faults, error) {
	data, err := io.ReadAll(io.LimitReader(r, lim.FileBytes+1))
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	t := &Table{Name: name}
	if int64(len(data)) > lim.FileBytes {
		return t, Faults{{File: name, Want: fmt.Sprintf("want a file of at most %d bytes", lim.FileBytes)}}, nil
	}
	sum := sha256.Sum256(data)
	t.Digest = hex.EncodeToString(sum[:])
	data, want, line, column := plainText(data)
	if want != "" {
		return t, Faults{{File: name, Line: line, Column: column, Want: want}}, nil
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return t, Faults{{File: name, Line: 1, Column: 1, Want: "the file is empty: want a header line with the names of the columns"}}, nil
	}
	sep := separator(data)
	sound, quote := scanQuotes(data, sep)
	var faults Faults
	if quote != nil {
		line, column := placeOf(data[:quote.at])
		faults = Faults{{File: name, Line: line, Column: column, Want: quote.want}}
		sound, _ = scanQuotes(data[:quote.row], sep) // the rows before it
	}
	t.data = sound
	return t, append(t.parse(sep, lim), faults...), nil
}

// parse reads rows whose quotes scanQuotes has found sound.
func (t *Table) parse(sep byte, lim Limits) Faults {
	var faults Faults
	cr := csv.NewReader(bytes.NewReader(t.data))
	cr.Comma = rune(sep)
	cr.LazyQuotes = true
	cr.FieldsPerRecord = -1
	for before := int64(0); ; before = cr.InputOffset() {
		rec, err := cr.Read()
		if errors.Is(err, io.EOF) {
			return faults
		}
		if err != nil {
			return append(faults, Fault{File: t.Name, Want: err.Error()})
		}
		line, col := cr.FieldPos(0)
		f := Fault{File: t.Name, Line: line, Column: t.character(line, col)}
		switch {
		case cr.InputOffset()-before > int64(lim.RowBytes):
			f.Want = fmt.Sprintf("want a row of at most %d bytes", lim.RowBytes)
			faults = append(faults, f)
			continue
		case t.Header == nil:
			t.Header = trimmed(rec)
			t.keep(cr, len(rec))
			faults = append(faults, t.headerTwice()...)
			continue
		case len(rec) != len(t.Header):
			f.Want = fmt.Sprintf("want %d cells as in the header, not %d", len(t.Header), len(rec))
			faults = append(faults, f)
			continue
		}
		t.Rows = append(t.Rows, rec)
		t.keep(cr, len(rec))
	}
}

// keep notes where the cells of the last record stand.
func (t *Table) keep(cr *csv.Reader, n int) {
	for i := range n {
		line, col := cr.FieldPos(i)
		t.lines = append(t.lines, int32(line))
		t.bytes = append(t.bytes, int32(col))
	}
}

func (t *Table) headerTwice() Faults {
	var faults Faults
	for i, h := range t.Header {
		for _, earlier := range t.Header[:i] {
			if h != "" && h == earlier {
				faults = append(faults, t.fault(-1, i, "this column stands twice in the header: want it once"))
				break
			}
		}
	}
	return faults
}

func trimmed(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = strings.TrimSpace(c)
	}
	return out
}
