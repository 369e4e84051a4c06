package site

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// MaxRecordBytes is the largest file that is read: a few thousand years of hours.
const MaxRecordBytes = 200_000_000

// rowLimits bound a row of a weather file.
func rowLimits() table.Limits { return table.Limits{RowBytes: 1_000_000} }

// mostHeadLines is how many lines may stand before the header.
const mostHeadLines = 100

// walk goes over the rows of a weather file from its header on.
type walk struct {
	*table.Rows
	name string
	text []byte // from the header on
	line int    // of the header
}

func newWalk(name string, text []byte, line int, sep byte) *walk {
	return &walk{Rows: table.Walk(name, text, line, sep, rowLimits()), name: name, text: text, line: line}
}

// body returns a new walk over the rows after the header.
func (t *walk) body() *walk {
	again := newWalk(t.name, t.text, t.line, t.Separator)
	_, _ = again.row() // a bad header has been refused before
	return again
}

// row moves to the next row with anything in it: false at the end, a fault for a bad row.
func (t *walk) row() (bool, *table.Fault) {
	err := t.Next()
	if err == nil {
		return true, nil
	}
	if f := (table.Fault{}); errors.As(err, &f) {
		return true, &f
	}
	if !errors.Is(err, io.EOF) {
		panic("site: reading from memory: " + err.Error())
	}
	return false, nil
}

// col returns the column of a cell of the row, in characters from 1.
func (t *walk) col(place int) int {
	_, col := t.Place(place)
	return col
}

// findHeader goes to the first line of the first hundred that names a time and rain, else
// the first not blank. A mark of comment before it does not count.
func (wr *weatherReader) findHeader(text []byte) *walk {
	var first *walk
	for line, rest := 1, text; len(rest) > 0 && line <= mostHeadLines; line++ {
		this, after, _ := bytes.Cut(rest, []byte{'\n'})
		if len(bytes.TrimSpace(this)) > 0 {
			for _, sep := range []byte{table.Separator(this), table.Blanks} {
				t := newWalk(wr.name, rest, line, sep)
				if _, bad := t.row(); bad != nil || !wr.isHeader(t.Cells) {
					continue
				}
				for i := range len(this) - len(bytes.TrimLeft(this, commentMarks)) {
					this[i] = ' '
				}
				if first != nil {
					wr.note("the header is on line %d; what stands before it is passed over", line)
				}
				return newWalk(wr.name, rest, line, sep)
			}
			if first == nil {
				first = newWalk(wr.name, rest, line, table.Separator(this))
			}
		}
		rest = after
	}
	return first
}

const commentMarks = "#% "

// isHeader reports whether cells name a time and rain, or are those of a long file.
func (wr *weatherReader) isHeader(cells []string) bool {
	cells = slices.Clone(cells)
	if len(cells) > 0 {
		cells[0] = strings.TrimLeft(cells[0], commentMarks)
	}
	known, found := RecordColumns(), map[string]bool{}
	year := hasYear(known, cells)
	for _, cell := range cells {
		name, _ := splitHeader(cell)
		found[columnFor(known, name, year)] = true
		for ours, declared := range wr.f.Columns {
			found[ours] = found[ours] || strings.EqualFold(strings.TrimSpace(cell), strings.TrimSpace(declared))
		}
	}
	dated := found["date"] || found["time"] || found["year"] && (found["yday"] || found["month"] && found["day"])
	return dated && found["rain"] || isLongHeader(cells)
}
