package many

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"hollowbed/zones"
	"hollowbed/zones/table"
)

// Row is one garden of a table: what differs from the base.
type Row struct {
	Number int // counts the rows of the table from 1, faulty ones too
	File   string
	Line   int // where it begins
	ID     string
	Record zones.Cell   // another weather file; no Text if none
	Cells  []zones.Cell // keys of the garden file
	Faults table.Faults // with any, the rest of the row is not to be used
}

func (r *Row) fault(line, col int, name, value, want string) {
	r.Faults = append(r.Faults, table.Fault{File: r.File, Line: line, Column: col, Name: name, Value: value, Want: want})
}

// take puts a cell where it belongs. An empty one says nothing.
func (r *Row) take(c zones.Cell) {
	c.Text = strings.TrimSpace(c.Text)
	switch {
	case c.Text == "", c.Text == "~" && (c.Key == columnID || c.Key == columnRecord):
	case c.Key == columnID:
		r.ID = c.Text
	case c.Key == columnRecord:
		r.Record = c
	default:
		r.Cells = append(r.Cells, c)
	}
}

// The columns that are no keys of the garden file.
const (
	columnID     = "id"
	columnRecord = "record"
)

// otherCase is the fault of a name that is one of ours but for its case; "" for
// none. Keys of the garden file are seen to where they are read.
func otherCase(key string) string {
	for _, ours := range []string{columnID, columnRecord} {
		if key != ours && strings.EqualFold(key, ours) {
			return fmt.Sprintf("not a key of a garden file; did you mean %s?", ours)
		}
	}
	return ""
}

// maxRowBytes is the most that one row may take: past it a quote was not closed,
// or the file is no table.
const maxRowBytes = 1_000_000

// maxKeys is the most keys that one row may state: far more than a garden file
// has. Each costs a look at the whole file.
const maxKeys = 1000

// Table gives the rows of a table one after another, and holds one at a time.
type Table struct {
	rows   interface{ next() (Row, error) }
	number int
}

// OpenTable begins to read a table: CSV with a header of keys (comma,
// semicolon, tab or bar; see table.Rows), or one JSON object a line, told apart by the first
// character. name is the file's name for messages. A faulty header is an error
// of the type table.Faults; unknown reports the keys that no garden can have.
func OpenTable(name string, r io.Reader, unknown func([]zones.Cell) table.Faults) (*Table, error) {
	in := bufio.NewReaderSize(r, 1<<16)
	start, err := in.Peek(1 << 12)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	start = bytes.TrimSpace(bytes.TrimPrefix(start, []byte("\ufeff")))
	switch {
	case bytes.HasPrefix(start, []byte("{")):
		if mark, _ := in.Peek(3); string(mark) == "\ufeff" {
			_, _ = in.Discard(3)
		}
		return &Table{rows: &jsonRows{name: name, in: in}}, nil
	case bytes.HasPrefix(start, []byte("[")):
		return nil, table.Faults{{File: name, Line: 1, Want: `want one JSON object a line, without a list round them, such as {"id": "lot-1", "roof.area": "90 m2"}`}}
	}
	rows, err := newCSVRows(name, in, unknown)
	if err != nil {
		return nil, err
	}
	return &Table{rows: rows}, nil
}

// Next gives the next row; io.EOF after the last. Any other error means that
// the table could not be read on.
func (t *Table) Next() (Row, error) {
	row, err := t.rows.next()
	if err != nil {
		return row, err
	}
	t.number++
	row.Number = t.number
	return row, nil
}
