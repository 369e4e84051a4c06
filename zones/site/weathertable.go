package site

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"unicode/utf8"

	"hollowbed/zones/table"
)

// MaxRecordBytes is the largest file that is read: a few thousand years of
// hours.
const MaxRecordBytes = 200 << 20

// errTooLarge says why a file is refused before it fills the memory.
var errTooLarge = errors.New("too large")

// readAll reads a file that is not too large, and refuses one that is, early
// if the reader knows its own size.
func readAll(r io.Reader) ([]byte, error) {
	size := int64(0)
	switch known := r.(type) {
	case interface{ Len() int }:
		size = int64(known.Len())
	case interface{ Stat() (fs.FileInfo, error) }:
		if info, err := known.Stat(); err == nil {
			size = info.Size()
		}
	}
	if size > MaxRecordBytes {
		return nil, errTooLarge
	}
	var b bytes.Buffer
	b.Grow(int(size) + bytes.MinRead)
	if _, err := b.ReadFrom(io.LimitReader(r, MaxRecordBytes+1)); err != nil {
		return nil, err
	}
	if b.Len() > MaxRecordBytes {
		return nil, errTooLarge
	}
	return b.Bytes(), nil
}

// walk goes over the rows of a separated text with encoding/csv, LazyQuotes off.
// A splitter of our own was tried, and the whole reading was no faster for it.
type walk struct {
	text  []byte
	sep   byte
	csv   *csv.Reader
	line  int      // line of the row in cells, from 1
	cells []string // of the row; valid until the next call
}

func newWalk(text []byte, sep byte) *walk {
	t := &walk{text: text, sep: sep, csv: csv.NewReader(bytes.NewReader(text))}
	t.csv.Comma = rune(sep)
	t.csv.FieldsPerRecord = -1 // counted by the caller, who knows what to say
	t.csv.ReuseRecord = true
	return t
}

// body returns a new walk over the rows after the header.
func (t *walk) body() *walk {
	again := newWalk(t.text, t.sep)
	_, _ = again.row() // a bad header has been refused before
	return again
}

// badRow is a row that cannot be split.
type badRow struct {
	line, col int
	want      string
}

func (b *badRow) Error() string { return fmt.Sprintf("%d:%d: %s", b.line, b.col, b.want) }

// row moves to the next row that is not an empty line. It returns false at the
// end, and a *badRow error for a row that is not well formed; the walk can go
// on after it at the next line.
func (t *walk) row() (bool, error) {
	cells, err := t.csv.Read()
	if errors.Is(err, io.EOF) {
		return false, nil
	}
	if bad := (*csv.ParseError)(nil); errors.As(err, &bad) {
		want := "a quote inside a cell: put the cell in quotes and double it"
		if bad.Err == csv.ErrQuote {
			want = "a quote that is not closed, or not doubled inside a quoted cell"
		}
		return true, &badRow{bad.Line, bad.Column, want}
	}
	if err != nil {
		panic("site: reading from memory: " + err.Error())
	}
	t.cells = cells
	t.line, _ = t.csv.FieldPos(0)
	return true, nil
}

// col returns the byte column of a cell of the row, from 1.
func (t *walk) col(place int) int {
	_, col := t.csv.FieldPos(place)
	return col
}

// textFault returns what is wrong with a text as a whole, or nil: a byte order
// mark of another encoding, bytes that are not UTF-8, or nothing in it.
func textFault(name string, text []byte) table.Faults {
	fault := func(line, col int, want string) table.Faults {
		return table.Faults{{File: name, Line: line, Column: col, Want: want}}
	}
	if bytes.HasPrefix(text, []byte{0xff, 0xfe}) || bytes.HasPrefix(text, []byte{0xfe, 0xff}) {
		return fault(1, 1, "this is UTF-16 text: save it as CSV in UTF-8")
	}
	if !utf8.Valid(text) {
		line, col := 1, 1
		for rest := text; len(rest) > 0; {
			r, size := utf8.DecodeRune(rest)
			if r == utf8.RuneError && size == 1 {
				break
			}
			col++
			if r == '\n' {
				line, col = line+1, 1
			}
			rest = rest[size:]
		}
		return fault(line, col, "not UTF-8 text from here: save it as CSV in UTF-8")
	}
	if trimmed := bytes.TrimSpace(text); bytes.IndexByte(trimmed, '\r') >= 0 && bytes.IndexByte(text, '\n') < 0 {
		return fault(0, 0, "lines end in a carriage return (CR) only: save it with line feeds (LF or CRLF), as CSV does on most systems")
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return fault(0, 0, "the file is empty: want a header line and a row for each hour or day")
	}
	return nil
}

// findSeparator returns the separator of a header line: of comma, semicolon
// and tab outside quotes the most frequent, the first of equals.
func findSeparator(text []byte) byte {
	counts := [3]int{}
	quoted := false
	for _, c := range bytes.TrimLeft(text, "\r\n") {
		if c == '\n' && !quoted {
			break
		}
		if c == '"' {
			quoted = !quoted
		}
		if i := bytes.IndexByte([]byte(",;\t"), c); i >= 0 && !quoted {
			counts[i]++
		}
	}
	best := 0
	for i := range counts {
		if counts[i] > counts[best] {
			best = i
		}
	}
	return ",;\t"[best]
}
