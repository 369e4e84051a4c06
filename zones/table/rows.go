package table

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

const (
	peeked   = 1 << 12 // bytes of a file that are looked at before it is read
	buffered = 1 << 16
)

// Blanks stands for runs of blanks and tabs between cells.
const Blanks = ' '

// Rows goes over the rows of a table of text, one at a time, from memory or
// from a stream. It finds where a row ends, tells of bytes and quotes that are
// wrong, and hands each sound row that has quotes to encoding/csv. Rows with nothing in any cell
// are passed over.
type Rows struct {
	Line      int      // where the row begins, from 1
	Cells     []string // of the row; valid until the next call
	Separator byte

	name     string
	most     int // bytes of a row
	in       *bufio.Reader
	encoding *Encoding
	wrong    *Fault // of the file as a whole
	whole    bool   // a file without rows is a fault
	next     int    // line that is read next
	line     []byte // longer than the buffer
	row      []byte // as read, with its line ends
	csv      *csv.Reader
	feed     bytes.Reader
	quoted   bool     // row went through csv
	at       []int    // bytes of row before each cell, if not
	cells    []string // memory of Cells, if not
	last     place
}

// place is where a cell of a row begins, as far as it was counted.
type place struct{ line, start, byte, char int }

// Stream begins to go over the rows of a file in any Encoding. The separator is
// found from the first line; name is the file's for messages.
func Stream(name string, r io.Reader, lim Limits) *Rows {
	text, e := decoder(r)
	in := bufio.NewReaderSize(text, buffered)
	start, _ := in.Peek(peeked)
	w := &Rows{name: name, most: lim.RowBytes, in: in, encoding: e, next: 1, whole: true, Separator: Separator(start)}
	if len(start) < peeked || len(bytes.TrimSpace(start)) > 0 {
		w.wrong = WrongStart(name, start)
	}
	w.newCSV()
	return w
}

// Walk goes over the rows of decoded text, of which the first line is the
// line-th of its file, with cells divided by sep.
func Walk(name string, text []byte, line int, sep byte, lim Limits) *Rows {
	w := &Rows{name: name, most: lim.RowBytes, in: bufio.NewReaderSize(bytes.NewReader(text), buffered), encoding: new(Encoding), next: line, Separator: sep}
	w.newCSV()
	return w
}

func (w *Rows) newCSV() {
	w.csv = csv.NewReader(&w.feed)
	w.csv.Comma = rune(w.Separator)
	w.csv.LazyQuotes = true
	w.csv.FieldsPerRecord = -1
	w.csv.ReuseRecord = true
}

// WrongStart tells what is wrong with a file by the beginning of its text; nil
// if nothing is.
func WrongStart(name string, start []byte) *Fault {
	line, _, ends := bytes.Cut(start, []byte{'\n'})
	switch {
	case len(bytes.TrimSpace(start)) == 0:
		return &Fault{File: name, Line: 1, Column: 1, Want: "the file is empty: want a header line with the names of the columns"}
	case !ends && bytes.IndexByte(bytes.TrimRight(start, "\r"), '\r') >= 0:
		return &Fault{File: name, Line: 1, Column: 1, Want: "the lines end in a carriage return alone: want a line feed, or both"}
	case bytes.IndexByte(line, 0) >= 0:
		return &Fault{File: name, Line: 1, Column: 1, Want: "the file holds zero bytes: want UTF-8 text, in a spreadsheet saved as CSV UTF-8"}
	}
	return nil
}

// Encoding is that of the file, as far as it was read.
func (w *Rows) Encoding() Encoding { return *w.encoding }

// Next moves to the next row. The error is io.EOF behind the last, a Fault
// where a row is wrong, behind which the walk goes on, or what the reader
// reports.
func (w *Rows) Next() error {
	if w.wrong != nil {
		f := *w.wrong
		w.wrong, w.in, w.whole = nil, bufio.NewReader(&bytes.Reader{}), false
		return f
	}
	for {
		if err := w.read(); err != nil {
			return err
		}
		if err := w.split(); err != nil {
			return err
		}
		if !allBlank(w.Cells) {
			w.whole = false
			return nil
		}
	}
}

// allBlank reports whether no cell holds anything but blank space.
func allBlank(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// WrongWidth is the fault of a row that has more or fewer cells than the header.
func (w *Rows) WrongWidth(header int) Fault {
	return Fault{File: w.name, Line: w.Line, Column: 1, Want: fmt.Sprintf("want %d cells as in the header, not %d", header, len(w.Cells))}
}

// read takes the next row: a line, or several where line ends stand in quotes.
func (w *Rows) read() error {
	q := quotes{sep: w.Separator}
	w.row, w.Cells, w.Line = w.row[:0], nil, w.next
	var open Fault
	for long := false; ; {
		line, cut, err := w.readLine()
		if err != nil {
			return err
		}
		if cut {
			return w.tooLong()
		}
		if len(line) == 0 && w.whole && len(w.row) == 0 {
			w.whole = false
			return *WrongStart(w.name, nil)
		}
		if w.Separator != Blanks {
			if at, want := q.scan(line); want != "" {
				return w.fault(line, at, want)
			}
		}
		if q.opening >= 0 && q.state == quoted {
			open = w.fault(line, q.opening, "this quote is never closed: want a closing quote, and quotes inside the cell doubled")
		}
		if long = long || len(w.row)+len(line) > w.most; !long {
			w.row = append(w.row, line...)
		}
		switch {
		case len(line) == 0 && q.state == quoted:
			return open
		case len(line) == 0 && len(w.row) == 0 && !long:
			return io.EOF
		case q.state == quoted:
			w.keepReturn()
		case long:
			return w.tooLong()
		default:
			return nil
		}
	}
}

func (w *Rows) tooLong() Fault {
	return Fault{File: w.name, Line: w.Line, Column: 1, Want: "want a row of at most " + InBytes(w.most)}
}

// readLine reads a line with its end, the last perhaps without; nothing at the
// end of the file. Of a line that is longer than a row may be the rest is passed
// over.
func (w *Rows) readLine() (line []byte, cut bool, err error) {
	w.line = w.line[:0]
	for {
		part, err := w.in.ReadSlice('\n')
		if errors.Is(err, bufio.ErrBufferFull) {
			if cut = cut || len(w.line) > w.most; !cut {
				w.line = append(w.line, part...)
			}
			continue
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, false, fmt.Errorf("%s: %w", w.name, err)
		}
		if len(part) > 0 || len(w.line) > 0 {
			w.next++
		}
		if len(w.line) > 0 {
			w.line = append(w.line, part...)
			part = w.line
		}
		return part, cut, nil
	}
}

// fault is at a byte of the line that was read last.
func (w *Rows) fault(line []byte, at int, want string) Fault {
	return Fault{File: w.name, Line: w.next - 1, Column: utf8.RuneCount(line[:at]) + 1, Want: want}
}

// keepReturn doubles the carriage return of a line end in quotes, since
// encoding/csv drops one from every line and a cell should come out as it went
// in. No position moves by that.
func (w *Rows) keepReturn() {
	if n := len(w.row); bytes.HasSuffix(w.row, []byte("\r\n")) {
		w.row = append(w.row[:n-1], '\r', '\n')
	}
}

// split makes cells of the row.
func (w *Rows) split() error {
	w.last = place{line: w.Line, char: 1}
	if f := NotUTF8(w.name, w.row, w.Line); f != nil {
		return *f
	}
	if w.quoted = w.Separator != Blanks && bytes.IndexByte(w.row, '"') >= 0; !w.quoted {
		w.splitPlain()
		return nil
	}
	w.feed.Reset(w.row)
	var err error
	if w.Cells, err = w.csv.Read(); err != nil {
		return Fault{File: w.name, Line: w.Line, Column: 1, Want: err.Error()}
	}
	return nil
}

// splitPlain splits a row without quotes. Cells part one string.
func (w *Rows) splitPlain() {
	text := strings.TrimSuffix(strings.TrimSuffix(string(w.row), "\n"), "\r")
	w.Cells, w.at = w.cells[:0], w.at[:0]
	add := func(from, to int) { w.Cells, w.at = append(w.Cells, text[from:to]), append(w.at, from) }
	for from := 0; from <= len(text); {
		n := strings.IndexByte(text[from:], w.Separator)
		if w.Separator == Blanks {
			n = strings.IndexAny(text[from:], " \t\r")
		}
		if n < 0 {
			n = len(text) - from
		}
		if n > 0 || w.Separator != Blanks {
			add(from, from+n)
		}
		from += n + 1
	}
	w.cells = w.Cells
}

// Place tells the line and the character at which a cell of the row begins;
// fastest for one cell after another.
func (w *Rows) Place(cell int) (line, column int) {
	before := 0
	if w.quoted {
		first, _ := w.csv.FieldPos(0)
		line, before = w.csv.FieldPos(cell)
		line, before = line-first+w.Line, before-1
	} else {
		line, before = w.Line, w.at[cell]
	}
	if line < w.last.line || line == w.last.line && before < w.last.byte {
		w.last = place{line: w.Line, char: 1}
	}
	for ; w.last.line < line; w.last.line++ {
		w.last.start += bytes.IndexByte(w.row[w.last.start:], '\n') + 1
		w.last.byte, w.last.char = 0, 1
	}
	w.last.char += utf8.RuneCount(w.row[w.last.start+w.last.byte : w.last.start+before])
	w.last.byte = before
	return line, w.last.char
}
