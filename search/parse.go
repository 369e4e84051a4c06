package search

import (
	"fmt"
	"strings"
	"unicode"

	"hollowbed/zones/table"
)

const (
	longestQuery = 10_000 // characters
	mostParts    = 200

	minuses = "-\u2010\u2011\u2012\u2013\u2212!" // as keyboards and word processors write it
)

// Parse reads a query line; the package comment gives the grammar by example.
// The error, if any, is Faults and names every fault with its column.
func Parse(line string) (Query, error) {
	return parseWith(line, true)
}

// parseWith is Parse, with or without an eye for a plant to compare with.
func parseWith(line string, like bool) (Query, error) {
	p := parser{text: []rune(strings.ToValidUTF8(line, "\uFFFD")), file: "query", line: 1}
	if like && len(p.text) <= longestQuery {
		p.readLike()
	}
	q, err := p.parse()
	if q.Like != nil {
		q.Like.readAsWords(p.tail, q)
	}
	return q, err
}

// parseAt is Parse for a line that stands in a file.
func parseAt(file string, at int, line string) (Query, error) {
	p := parser{text: []rune(strings.ToValidUTF8(line, "\uFFFD")), file: file, line: at}
	return p.parse()
}

// parse reads the words and conditions of the text.
func (p *parser) parse() (Query, error) {
	if len(p.text) > longestQuery {
		p.fault(1, "query", string(p.text[:20])+"...", fmt.Sprintf("want at most %d characters", longestQuery))
		return Query{}, p.faults
	}
	for p.skipSpace(); p.pos < len(p.text); p.skipSpace() {
		if len(p.query.Words)+len(p.query.Conditions) == mostParts {
			p.fault(p.pos+1, "query", p.rest(), fmt.Sprintf("want at most %d words and conditions", mostParts))
			break
		}
		p.item()
	}
	if len(p.faults) == 0 {
		p.readQuantities()
		p.read()
	}
	if len(p.faults) > 0 {
		return Query{}, p.faults
	}
	return p.query, nil
}

type parser struct {
	text   []rune
	whole  bool // the text is one condition, and spaces do not end its values
	pos    int
	file   string
	line   int
	query  Query
	tail   string // what follows a plant to compare with
	faults table.Faults
}

func (p *parser) fault(column int, name, value, want string) {
	p.faults = append(p.faults, table.Fault{File: p.file, Line: p.line, Column: column, Name: name, Value: value, Want: want})
}

func (p *parser) skipSpace() {
	for p.pos < len(p.text) && unicode.IsSpace(p.text[p.pos]) {
		p.pos++
	}
}

func (p *parser) rest() string {
	return string(p.text[p.pos:min(p.pos+20, len(p.text))])
}

// peek returns the character n places ahead; 0 at the end.
func (p *parser) peek(n int) rune {
	if p.pos+n < len(p.text) {
		return p.text[p.pos+n]
	}
	return 0
}

// item reads one word, phrase or condition.
func (p *parser) item() {
	column := p.pos + 1
	not := strings.ContainsRune(minuses, p.peek(0)) && p.pos+1 < len(p.text) && !unicode.IsSpace(p.peek(1)) && !unicode.IsDigit(p.peek(1))
	if not {
		p.pos++
	}
	if p.peek(0) == '"' {
		if phrase, ok := p.quoted("phrase"); ok {
			p.query.Words = append(p.query.Words, Word{Text: phrase, Phrase: true, Not: not, Column: column})
		}
		return
	}
	start := p.pos
	for unicode.IsLetter(p.peek(0)) || p.peek(0) == '_' {
		p.pos++
	}
	name := string(p.text[start:p.pos])
	if name != "" && p.atComparison() {
		p.condition(name, column, start, not)
		return
	}
	for p.pos < len(p.text) && !unicode.IsSpace(p.text[p.pos]) {
		p.pos++
	}
	word := string(p.text[start:p.pos])
	if isComparison(p.text[start]) {
		p.fault(column, "query", word, "want a field before it, such as height<3ft; or put it in quotes")
		return
	}
	if f, ok := fieldNamed(word); ok && f.Flag {
		c := Condition{Field: f.Name, Not: not, Values: []string{"yes"}, Typed: word, Column: column}
		p.query.Conditions = append(p.query.Conditions, c)
		return
	}
	p.query.Words = append(p.query.Words, Word{Text: word, Not: not, Column: column})
}

// quoted reads text in double quotes, in which \" is a quote and \\ a
// backslash.
func (p *parser) quoted(name string) (string, bool) {
	start := p.pos
	var b strings.Builder
	for p.pos++; p.pos < len(p.text); p.pos++ {
		switch r := p.text[p.pos]; {
		case r == '"':
			p.pos++
			return b.String(), true
		case r == '\\' && (p.peek(1) == '"' || p.peek(1) == '\\'):
			p.pos++
			b.WriteRune(p.text[p.pos])
		default:
			b.WriteRune(r)
		}
	}
	p.fault(start+1, name, string(p.text[start:min(start+20, len(p.text))]), "want a closing quotation mark")
	return "", false
}

// didYouMean puts the nearest candidate before what is wanted.
func didYouMean(want, word string, candidates []string) string {
	if near := table.Nearest(word, candidates); near != "" {
		return fmt.Sprintf("did you mean %s? %s", near, want)
	}
	return want
}
