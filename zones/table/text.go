package table

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// NotUTF8 tells where text of which the first line is the line-th is not UTF-8;
// nil if it is.
func NotUTF8(name string, text []byte, line int) *Fault {
	if utf8.Valid(text) {
		return nil
	}
	i := 0
	for r, n := utf8.DecodeRune(text); r != utf8.RuneError || n > 1; r, n = utf8.DecodeRune(text[i:]) {
		i += n
	}
	from := bytes.LastIndexByte(text[:i], '\n') + 1
	return &Fault{File: name, Line: line + bytes.Count(text[:i], []byte{'\n'}), Column: 1 + utf8.RuneCount(text[from:i]),
		Want: "a byte here is not UTF-8: want UTF-8, in a spreadsheet saved as CSV UTF-8"}
}

// States of a walk over quotes.
const (
	start  = iota // of a cell
	blank         // only blank space in it so far
	open          // in a cell without quotes
	quoted        // in a cell with quotes
	closed        // behind a quote in such a cell
)

// quotes follows the quotes of a row, since encoding/csv is either too strict
// for them (a quote inside a cell without quotes is common and harmless: 6' 2"
// tall) or, when lazy, so lenient that a quote left open swallows the rest of
// the file in silence.
type quotes struct {
	sep     byte
	state   int
	opening int // byte of the line at which the quote was opened; -1 in an earlier one
}

// scan goes over a line, and tells at which byte of it quotes go wrong.
func (q *quotes) scan(line []byte) (at int, want string) {
	q.opening = -1
	if q.state != quoted && bytes.IndexByte(line, '"') < 0 {
		return 0, ""
	}
	text := bytes.TrimRight(line, "\r\n")
	for i, b := range text {
		switch {
		case q.state == quoted:
			if b == '"' {
				q.state = closed
			}
		case q.state == closed && b == '"':
			q.state = quoted
		case b == q.sep:
			q.state = start
		case q.state == closed:
			return i, "text behind a closing quote: want quotes inside a cell doubled"
		case b == '"' && q.state == start:
			q.state, q.opening = quoted, i
		case b == '"' && q.state == blank:
			return i, "a quote behind blank space: want the quote first in its cell"
		case (b == ' ' || b == '\t') && q.state != open:
			q.state = blank
		default:
			q.state = open
		}
	}
	return 0, ""
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

// Decimal writes a figure that has a decimal comma, as in 1,5, with a point.
// What is not clearly one stays as it is: 1,500 may be a thousand and a half.
func Decimal(figure string) string {
	whole, part, comma := strings.Cut(strings.TrimSpace(figure), ",")
	digits := strings.TrimLeft(whole, "+-")
	sure := len(part) != 3 || len(digits) > 3 || strings.HasPrefix(digits, "0")
	if !comma || digits == "" || part == "" || len(whole)-len(digits) > 1 || strings.Trim(digits+part, "0123456789") != "" || !sure {
		return figure
	}
	return whole + "." + part
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
