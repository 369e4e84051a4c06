package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"

	"hollowbed/cmd/hollowbed/doc"
)

// JSON writes a document with two spaces of indent and a newline at the end.
// See encoded for its numbers and characters.
func JSON(w io.Writer, d any) error {
	text, err := encoded(d, "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// JSONLine writes a document on one line, with a newline at its end.
func JSONLine(d any) ([]byte, error) { return encoded(d, "") }

// encoded makes JSON that is the same on every machine and harmless on every
// terminal. Numbers are rounded (see steady). Characters that could disturb a
// terminal, which JSON lets stand as they are, are written by their numbers; a
// reader gets them back.
func encoded(d any, indent string) ([]byte, error) {
	var plain, safe bytes.Buffer
	enc := json.NewEncoder(&plain)
	enc.SetIndent("", indent)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(d); err != nil {
		return nil, err
	}
	text := plain.Bytes()
	inString := false
	for i := 0; i < len(text); {
		c := text[i]
		switch {
		case inString && c == '\\':
			safe.Write(text[i : i+2])
			i += 2
		case !inString && (c == '-' || c >= '0' && c <= '9'):
			n := bytes.IndexFunc(text[i:], func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != '-' && r != '+' && r != 'e' })
			safe.Write(steady(text[i : i+n]))
			i += n
		case c < 0x80:
			inString = inString != (c == '"')
			if c != '\n' && doc.Disturbs(rune(c)) {
				fmt.Fprintf(&safe, "\\u%04x", c)
			} else {
				safe.WriteByte(c)
			}
			i++
		default:
			r, n := utf8.DecodeRune(text[i:])
			if !doc.Disturbs(r) {
				safe.Write(text[i : i+n])
			} else {
				for _, half := range utf16.Encode([]rune{r}) {
					fmt.Fprintf(&safe, "\\u%04x", half)
				}
			}
			i += n
		}
	}
	return safe.Bytes(), nil
}

// steady rounds a number of JSON to 12 significant digits, and to none finer
// than a millionth of a millionth. All further ones are noise: they differ
// between processors that fuse a product and a sum into one step and those that
// do not. Whole numbers stay.
func steady(number []byte) []byte {
	if !bytes.ContainsAny(number, ".e") {
		return number
	}
	v, err := strconv.ParseFloat(string(number), 64)
	if err != nil {
		panic(err) // encoding/json wrote it
	}
	if math.Abs(v) < 1 {
		v = math.Round(v*1e12)/1e12 + 0 // and no -0
	} else if v, err = strconv.ParseFloat(strconv.FormatFloat(v, 'e', 11, 64), 64); err != nil {
		panic(err)
	}
	out, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return out
}
