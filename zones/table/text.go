package table

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// PlainText strips the byte order mark and tells what is wrong with the bytes
// as text, and where.
func PlainText(data []byte) (text []byte, want string, line, column int) {
	for _, mark := range []string{"\xff\xfe", "\xfe\xff"} {
		if bytes.HasPrefix(data, []byte(mark)) {
			return data, "the file is UTF-16: want UTF-8, in a spreadsheet saved as CSV UTF-8", 1, 1
		}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) {
		i := firstInvalid(data)
		before := data[:i]
		line, column = placeOf(before)
		return data, "a byte here is not UTF-8: want UTF-8, in a spreadsheet saved as CSV UTF-8", line, column
	}
	if bytes.IndexByte(data, '\n') < 0 && bytes.IndexByte(bytes.TrimRight(data, "\r"), '\r') >= 0 {
		return data, "the lines end in a carriage return alone: want a line feed, or both", 1, 1
	}
	return data, "", 0, 0
}

// placeOf tells the line and character that follow a text.
func placeOf(before []byte) (line, column int) {
	from := bytes.LastIndexByte(before, '\n') + 1
	return 1 + bytes.Count(before, []byte{'\n'}), 1 + utf8.RuneCount(before[from:])
}

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// A quoteFault is where quotes go wrong: the byte it shows at, the byte the
// row of it begins at, and what would be right.
type quoteFault struct {
	at, row int
	want    string
}

// scanQuotes goes over a table before encoding/csv does, since that is either
// too strict for quotes (a quote inside a cell without quotes is common and
// harmless: 6' 2" tall) or, when lazy, so lenient that a quote left open
// swallows the rest of the file in silence. It reports the first place where
// quotes go wrong. It also doubles the carriage return of a CR LF inside
// quotes, since encoding/csv drops one from every line and a cell should come
// out as it went in; no position moves by that. What it returns is data itself
// where there is no such thing, and a copy otherwise.
func scanQuotes(data []byte, sep byte) ([]byte, *quoteFault) {
	const (
		start  = iota // of a cell
		blank         // only blank space in it so far
		open          // in a cell without quotes
		quoted        // in a cell with quotes
		closed        // behind a quote in such a cell
	)
	var out []byte // nil as long as it is the same as data
	upTo := func(i int) []byte {
		if out == nil {
			return data[:i:i]
		}
		return out
	}
	state, row, opening := start, 0, 0
	for i, b := range data {
		lineEnd := b == '\r' && i+1 < len(data) && data[i+1] == '\n'
		switch {
		case state == quoted:
			if b == '"' {
				state = closed
			} else if lineEnd {
				out = append(upTo(i), '\r')
			}
		case state == closed && b == '"':
			state = quoted
		case b == sep:
			state = start
		case b == '\n':
			state, row = start, i+1
		case lineEnd || b == '\r' && i+1 == len(data):
		case state == closed:
			return upTo(i), &quoteFault{i, row, "text behind a closing quote: want quotes inside a cell doubled"}
		case b == '"' && state == start:
			state, opening = quoted, i
		case b == '"' && state == blank:
			return upTo(i), &quoteFault{i, row, "a quote behind blank space: want the quote first in its cell"}
		case (b == ' ' || b == '\t') && state != open:
			state = blank
		default:
			state = open
		}
		if out != nil {
			out = append(out, b)
		}
	}
	out = upTo(len(data))
	if state == quoted {
		return out, &quoteFault{opening, row, "this quote is never closed: want a closing quote, and quotes inside the cell doubled"}
	}
	return out, nil
}

// Separator finds what stands between the cells of the first line: the one of
// comma, semicolon, tab and bar that is there most often outside quotes; the
// comma where none is.
func Separator(data []byte) byte {
	const candidates = ",;\t|"
	var count [len(candidates)]int
	quoted := false
	for _, b := range bytes.TrimLeft(data, "\r\n") {
		if b == '"' {
			quoted = !quoted
		}
		if quoted {
			continue
		}
		if b == '\n' {
			break
		}
		if i := strings.IndexByte(candidates, b); i >= 0 {
			count[i]++
		}
	}
	best := 0
	for i, n := range count {
		if n > count[best] {
			best = i
		}
	}
	return candidates[best]
}

// WrongText tells what is wrong with free text, or "". Tabs and line ends are
// text; other control characters have no meaning in a table, can steer a
// terminal, and cannot be shown, so they are refused. So are the controls of
// direction (property Bidi_Control of Unicode Standard Annex 9), which can make
// a name read as another. All other characters are kept as they are, whatever
// their direction or width.
func WrongText(s string) string {
	if !utf8.ValidString(s) {
		return "want UTF-8 text"
	}
	if strings.ContainsFunc(s, func(r rune) bool {
		return unicode.IsControl(r) && r != '\t' && r != '\n' && r != '\r' || unicode.Is(unicode.Bidi_Control, r)
	}) {
		return "want text without control characters"
	}
	return ""
}

// Spreadsheets take a cell that begins with one of these as a formula. Such
// free text is written behind an apostrophe; reading takes one apostrophe away
// again. A text that already begins with apostrophes before such a character
// gets one more, so that every text comes back as it was.
func looksLikeFormula(s string) bool {
	rest := strings.TrimLeft(s, "'")
	return rest != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", FirstRune(rest))
}

// FirstRune is the first character of a text.
func FirstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

// Guard writes an apostrophe before a text that a spreadsheet would take
// for a formula, and leaves every other text as it is.
func Guard(s string) string {
	if looksLikeFormula(s) {
		return "'" + s
	}
	return s
}

// Unguard takes the apostrophe away again that Guard writes.
func Unguard(s string) string {
	if strings.HasPrefix(s, "'") && looksLikeFormula(s) {
		return s[1:]
	}
	return s
}
