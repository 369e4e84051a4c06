package site

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"unicode/utf8"
)

// maxWeatherBytes is the largest file that is read: a few thousand years of
// hours.
const maxWeatherBytes = 200 << 20

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
	if size > maxWeatherBytes {
		return nil, errTooLarge
	}
	var b bytes.Buffer
	b.Grow(int(size) + bytes.MinRead)
	if _, err := b.ReadFrom(io.LimitReader(r, maxWeatherBytes+1)); err != nil {
		return nil, err
	}
	if b.Len() > maxWeatherBytes {
		return nil, errTooLarge
	}
	return b.Bytes(), nil
}

// table walks the rows of a separated text. It is our own splitter because
// encoding/csv takes longer over an hourly record than all the rest of the
// reading; TestTableAgreesWithEncodingCSV and FuzzTable hold it to the same
// rows, the same positions and the same refusals (LazyQuotes off).
type table struct {
	text  []byte
	sep   byte
	next  int      // where the next line begins
	line  int      // line of the row in cells, from 1
	lines int      // lines passed so far
	start int      // where the row begins in text
	cells [][]byte // of the row; valid until the next call
	cols  []int    // byte column of each cell, from 1
	buf   []byte   // unquoted cells of the row
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
func (t *table) row() (bool, error) {
	for t.next < len(t.text) {
		line := t.text[t.next:]
		if end := bytes.IndexByte(line, '\n'); end >= 0 {
			line = line[:end+1]
		}
		t.start = t.next
		t.next += len(line)
		t.lines++
		t.line = t.lines
		line = trimLineEnd(line)
		if len(line) == 0 {
			continue
		}
		if bytes.IndexByte(line, '"') >= 0 {
			return true, t.splitQuoted()
		}
		t.split(line)
		return true, nil
	}
	return false, nil
}

// trimLineEnd takes the line end off, "\n" or "\r\n", and a lone "\r" at the
// end of the file.
func trimLineEnd(line []byte) []byte {
	if n := len(line); n > 0 && line[n-1] == '\n' {
		line = line[:n-1]
	}
	if n := len(line); n > 0 && line[n-1] == '\r' {
		line = line[:n-1]
	}
	return line
}

// split cuts a line without quotes.
func (t *table) split(line []byte) {
	t.cells, t.cols = t.cells[:0], t.cols[:0]
	from := 0
	for i, c := range line {
		if c == t.sep {
			t.cells = append(t.cells, line[from:i])
			t.cols = append(t.cols, from+1)
			from = i + 1
		}
	}
	t.cells = append(t.cells, line[from:])
	t.cols = append(t.cols, from+1)
}

// splitQuoted cuts the row that begins at start by RFC 4180: a cell in quotes
// may hold separators, line ends and doubled quotes. It moves next past the
// row.
func (t *table) splitQuoted() error {
	t.cells, t.cols, t.buf = t.cells[:0], t.cols[:0], t.buf[:0]
	type span struct{ from, to int }
	var spans []span
	pos, lineStart := t.start, t.start
	for {
		t.cols = append(t.cols, pos-lineStart+1)
		from := len(t.buf)
		if pos < len(t.text) && t.text[pos] == '"' {
			end, newLineStart, err := t.unquote(pos, lineStart)
			if err != nil {
				return err
			}
			pos, lineStart = end, newLineStart
		} else {
			end := pos
			for end < len(t.text) && t.text[end] != t.sep && t.text[end] != '\n' {
				if t.text[end] == '"' {
					return &badRow{t.lines, end - lineStart + 1, "a quote inside a cell without quotes"}
				}
				end++
			}
			cell := t.text[pos:end]
			if end == len(t.text) || t.text[end] == '\n' {
				cell = trimLineEnd(cell)
			}
			t.buf = append(t.buf, cell...)
			pos = end
		}
		spans = append(spans, span{from, len(t.buf)})
		if pos < len(t.text) && t.text[pos] == t.sep {
			pos++
			continue
		}
		break
	}
	for _, s := range spans {
		t.cells = append(t.cells, t.buf[s.from:s.to])
	}
	return nil
}

// unquote appends the quoted cell at pos to buf and returns where it ends and
// where its last line begins.
func (t *table) unquote(pos, lineStart int) (end, lastLine int, err error) {
	opened := &badRow{t.lines, pos - lineStart + 1, "a quote that is never closed"}
	pos++
	for pos < len(t.text) {
		c := t.text[pos]
		switch {
		case c == '"' && pos+1 < len(t.text) && t.text[pos+1] == '"':
			t.buf = append(t.buf, '"')
			pos += 2
		case c == '"':
			pos++
			rest := t.text[pos:]
			if len(rest) > 0 && rest[0] != t.sep && rest[0] != '\n' && !bytes.HasPrefix(rest, []byte("\r\n")) && !bytes.Equal(rest, []byte("\r")) {
				return 0, 0, &badRow{t.lines, pos - lineStart, "a quote inside a quoted cell: double it"}
			}
			if len(rest) > 0 && rest[0] == '\r' {
				pos++
			}
			return pos, lineStart, nil
		case c == '\n':
			if t.text[pos-1] == '\r' {
				t.buf = t.buf[:len(t.buf)-1]
			}
			t.buf = append(t.buf, '\n')
			pos++
			t.lines++
			lineStart = pos
			t.next = lineStart
			if end := bytes.IndexByte(t.text[pos:], '\n'); end >= 0 {
				t.next = pos + end + 1
			} else {
				t.next = len(t.text)
			}
		default:
			t.buf = append(t.buf, c)
			pos++
		}
	}
	return 0, 0, opened
}

// textFault returns what is wrong with a text as a whole, or nil: a byte order
// mark of another encoding, bytes that are not UTF-8, or nothing in it.
func textFault(name string, text []byte) Faults {
	fault := func(line, col int, want string) Faults {
		return Faults{{File: name, Line: line, Col: col, Want: want}}
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
			col += size
			if r == '\n' {
				line, col = line+1, 1
			}
			rest = rest[size:]
		}
		return fault(line, col, "not UTF-8 text from here: save it as CSV in UTF-8")
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
