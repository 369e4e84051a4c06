package many

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"unicode/utf8"

	"hollowbed/zones"
)

// jsonRows reads one JSON object a line. An object within it is a section of
// the garden file: {"roof": {"area": "90 m2"}} is {"roof.area": "90 m2"}.
type jsonRows struct {
	name string
	in   *bufio.Reader
	line int
}

func (j *jsonRows) next() (Row, error) {
	for {
		text, long, err := j.readLine()
		if err != nil {
			return Row{}, err
		}
		row := Row{File: j.name, Line: j.line}
		switch {
		case long:
			row.fault(j.line, 0, "", "", "a row of over 1 MB: want one garden a line")
			return row, nil
		case len(bytes.TrimSpace(text)) == 0:
			continue
		case !utf8.Valid(text):
			row.fault(j.line, 0, "", "", "want text in UTF-8; save the file again with that encoding")
			return row, nil
		}
		o := &jsonLine{row: &row, text: text, dec: json.NewDecoder(bytes.NewReader(text))}
		o.read()
		return row, nil
	}
}

// readLine reads a line; of one that is too long only its length matters.
func (j *jsonRows) readLine() (text []byte, long bool, err error) {
	j.line++
	for {
		part, err := j.in.ReadSlice('\n')
		if !long {
			text = append(text, part...)
		}
		if len(text) > maxRowBytes {
			text, long = nil, true
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
		case errors.Is(err, io.EOF) && (len(text) > 0 || long):
			return text, long, nil
		default:
			return text, long, err
		}
	}
}

// jsonLine takes one line apart.
type jsonLine struct {
	row  *Row
	text []byte
	dec  *json.Decoder
	seen []string
}

// col is the column, in characters, of a byte of the line.
func (o *jsonLine) col(offset int) int { return utf8.RuneCount(o.text[:min(offset, len(o.text))]) + 1 }

func (o *jsonLine) read() {
	if t, err := o.dec.Token(); err != nil || t != json.Delim('{') {
		o.row.fault(o.row.Line, 1, "", "", `want one JSON object a line, such as {"id": "lot-1", "roof.area": "90 m2"}`)
		return
	}
	if !o.object("", 1) {
		return
	}
	if rest := bytes.TrimSpace(o.text[o.dec.InputOffset():]); len(rest) > 0 {
		o.row.fault(o.row.Line, o.col(int(o.dec.InputOffset())), "", "", "want one JSON object a line, and nothing after it")
	}
}

// broken notes that the text is no JSON.
func (o *jsonLine) broken() bool {
	o.row.fault(o.row.Line, o.col(int(o.dec.InputOffset())+1), "", "", "this line is no JSON from here on")
	return false
}

// maxSections is how deep objects may stand in one another, as sections of a
// garden file do.
const maxSections = 6

// object reads the keys of an object, of which the brace has been read.
func (o *jsonLine) object(path string, depth int) bool {
	for o.dec.More() {
		token, err := o.dec.Token()
		if err != nil {
			return o.broken()
		}
		key := path + token.(string) // an object's key
		start := int(o.dec.InputOffset())
		for start < len(o.text) && bytes.IndexByte([]byte(" \t\r:"), o.text[start]) >= 0 {
			start++
		}
		col := o.col(start)
		if slices.Contains(o.seen, key) {
			o.row.fault(o.row.Line, col, key, "", "given twice: keep one of them")
		}
		if want := otherCase(key); want != "" {
			o.row.fault(o.row.Line, col, key, "", want)
		}
		if len(o.seen) == maxKeys {
			o.row.fault(o.row.Line, col, key, "", fmt.Sprintf("over %d keys: want those of a garden file", maxKeys))
			return false
		}
		o.seen = append(o.seen, key)
		if start < len(o.text) && o.text[start] == '{' {
			if depth == maxSections {
				o.row.fault(o.row.Line, col, key, "", "nested too deeply for a garden file")
				return false
			}
			if _, err := o.dec.Token(); err != nil {
				return o.broken()
			}
			if !o.object(key+".", depth+1) {
				return false
			}
			continue
		}
		var raw json.RawMessage
		if err := o.dec.Decode(&raw); err != nil {
			return o.broken()
		}
		o.row.take(zones.Cell{File: o.row.File, Line: o.row.Line, Col: col, Key: key, Text: plainText(raw)})
	}
	if _, err := o.dec.Token(); err != nil { // the closing brace
		return o.broken()
	}
	return true
}

// plainText writes a value as a garden file would have it.
func plainText(raw json.RawMessage) string {
	var text string
	switch {
	case bytes.Equal(raw, []byte("null")):
		return "~"
	case json.Unmarshal(raw, &text) == nil:
		return text
	}
	return string(raw) // numbers, yes and no, lists
}
