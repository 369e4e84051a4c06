package many

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"hollowbed/zones"
	"hollowbed/zones/table"
)

// csvRows reads rows of CSV below a header of keys.
type csvRows struct {
	name  string
	csv   *csv.Reader
	seen  *window
	keys  []string
	ended bool // nothing can be read after this
}

// window remembers the bytes of the row that is being read, so that columns
// can be counted in characters, and ends a row that never ends.
type window struct {
	in    io.Reader
	bytes []byte
	from  int64 // offset of bytes[0]
	lines int   // before it
}

var errLongRow = errors.New("row too long")

func (w *window) Read(p []byte) (int, error) {
	if len(w.bytes) > maxRowBytes+1<<16 {
		return 0, errLongRow
	}
	n, err := w.in.Read(p)
	w.bytes = append(w.bytes, p[:n]...)
	return n, err
}

// row takes the bytes up to an offset out of the window.
func (w *window) row(to int64) []byte {
	n := int(to - w.from)
	row := bytes.Clone(w.bytes[:n])
	w.bytes = w.bytes[:copy(w.bytes, w.bytes[n:])]
	w.from = to
	w.lines += bytes.Count(row, []byte("\n"))
	return row
}

func newCSVRows(name string, in interface {
	io.Reader
	Peek(int) ([]byte, error)
}, unknown func([]zones.Cell) table.Faults) (*csvRows, error) {
	c := &csvRows{name: name, seen: &window{in: in}}
	start, _ := in.Peek(1 << 12)
	c.csv = csv.NewReader(c.seen)
	c.csv.Comma = separator(start)
	c.csv.FieldsPerRecord = -1
	header, err := c.csv.Read()
	if err != nil {
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			return nil, table.Faults{{File: name, Line: wrong.Line, Want: "the header is no CSV: " + wrong.Err.Error()}}
		}
		if errors.Is(err, errLongRow) {
			return nil, table.Faults{{File: name, Line: 1, Want: fmt.Sprintf("the header is too long: want a table whose rows have at most %d MB", maxRowBytes>>20)}}
		}
		return nil, err
	}
	if len(header) > maxKeys {
		return nil, table.Faults{{File: name, Line: 1, Want: fmt.Sprintf("%d columns: want at most %d, keys of a garden file", len(header), maxKeys)}}
	}
	var cells []zones.Cell
	var faults table.Faults
	at := c.places(len(header))
	for i, h := range header {
		key := strings.TrimSpace(h)
		cell := zones.Cell{File: name, Line: at[i][0], Col: at[i][1], Key: key}
		if slices.Contains(c.keys, key) {
			faults = append(faults, table.Fault{File: name, Line: cell.Line, Column: cell.Col, Name: key, Want: "this column is there twice: keep one of them"})
		}
		if want := otherCase(key); want != "" {
			faults = append(faults, table.Fault{File: name, Line: cell.Line, Column: cell.Col, Name: key, Want: want})
		} else if key != columnID && key != columnRecord {
			cells = append(cells, cell)
		}
		c.keys = append(c.keys, key)
	}
	if faults = append(faults, unknown(cells)...); len(faults) > 0 {
		return nil, faults
	}
	return c, nil
}

// separator is the one of comma, semicolon and tab that the header has most.
func separator(start []byte) rune {
	line, _, _ := bytes.Cut(bytes.TrimLeft(start, "\r\n"), []byte("\n"))
	best, most := ',', 0
	for _, s := range []rune{',', ';', '\t'} {
		if n := bytes.Count(line, []byte(string(s))); n > most {
			best, most = s, n
		}
	}
	return best
}

// places gives line and column, in characters, of the fields just read.
func (c *csvRows) places(fields int) [][2]int {
	raw := c.seen.row(c.csv.InputOffset())
	lines := bytes.SplitAfter(bytes.TrimLeft(raw, "\r\n"), []byte("\n"))
	out := make([][2]int, fields)
	first := 0
	for i := range out {
		line, col := c.csv.FieldPos(i)
		if i == 0 {
			first = line
		}
		out[i] = [2]int{line, col}
		if k := line - first; k < len(lines) && col-1 <= len(lines[k]) {
			out[i][1] = utf8.RuneCount(lines[k][:col-1]) + 1
		}
	}
	return out
}

func (c *csvRows) next() (Row, error) {
	for !c.ended {
		fields, err := c.csv.Read()
		if err != nil {
			return c.broken(err)
		}
		at := c.places(len(fields))
		row := Row{File: c.name, Line: at[0][0]}
		if blank(fields) {
			continue
		}
		if len(fields) != len(c.keys) {
			row.fault(row.Line, 0, "", "", fmt.Sprintf("want %d cells, as in the header; this row has %d (put quotes round a cell that holds a %q)", len(c.keys), len(fields), c.csv.Comma))
		}
		for i, text := range fields[:min(len(fields), len(c.keys))] {
			if !utf8.ValidString(text) {
				row.fault(at[i][0], at[i][1], c.keys[i], "", "want text in UTF-8; save the file again with that encoding")
				continue
			}
			row.take(zones.Cell{File: c.name, Line: at[i][0], Col: at[i][1], Key: c.keys[i], Text: text})
		}
		return row, nil
	}
	return Row{}, io.EOF
}

// broken makes a faulty row of text that is no CSV; reading goes on after it
// if it can.
func (c *csvRows) broken(err error) (Row, error) {
	var wrong *csv.ParseError
	switch {
	case errors.Is(err, errLongRow):
		c.ended = true
		line := c.seen.lines + 1
		row := Row{File: c.name, Line: line}
		row.fault(line, 0, "", "", "a row of over 1 MB: want a quote that closes; nothing after this line was read")
		return row, nil
	case errors.As(err, &wrong):
		row := Row{File: c.name, Line: wrong.StartLine}
		want := "want quotes round the whole cell, and a quote within it written twice"
		if c.csv.InputOffset()-c.seen.from >= int64(len(c.seen.bytes)) {
			want = "this row is no CSV, perhaps a quote that is never closed: rows after this line may not have been read"
		}
		c.seen.row(c.csv.InputOffset())
		row.fault(wrong.StartLine, 0, "", "", want)
		return row, nil
	}
	return Row{}, err
}

func blank(fields []string) bool {
	return !slices.ContainsFunc(fields, func(f string) bool { return strings.TrimSpace(f) != "" })
}
