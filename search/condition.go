package search

import (
	"slices"
	"strings"
	"unicode"

	"hollowbed/zones/table"
)

// ParseOption reads a condition whose field and value stand apart, as on a command line;
// without a comparison as after a colon. The error, if any, is Faults that name the field
// and no place.
func ParseOption(field, text string) (Condition, error) {
	text = strings.TrimSpace(strings.ToValidUTF8(text, "\uFFFD"))
	if text == "" || !isComparison([]rune(text)[0]) {
		text = ":" + text
	}
	p := parser{text: []rune(field + text), whole: true}
	if len(p.text) > longestQuery {
		return Condition{}, table.Faults{{Name: field, Value: string(p.text[:20]) + "...", Want: "want a shorter value"}}
	}
	p.pos = len([]rune(field))
	p.condition(field, 1, 0, false)
	if len(p.faults) > 0 {
		for i := range p.faults {
			p.faults[i].File, p.faults[i].Line, p.faults[i].Column = "", 0, 0
		}
		return Condition{}, p.faults
	}
	c := p.query.Conditions[0]
	c.Column = 0
	return c, nil
}

func isComparison(r rune) bool { return slices.Contains([]rune(":=<>"), r) }

// atComparison moves over spaces to a comparison; without one it stays.
func (p *parser) atComparison() bool {
	from := p.pos
	p.skipSpace()
	if p.pos < len(p.text) && isComparison(p.text[p.pos]) {
		return true
	}
	p.pos = from
	return false
}

// value is one of the values after a comparison, with where it stands.
type value struct {
	text   string
	column int
}

// condition reads the comparison and the values after a field name.
func (p *parser) condition(name string, column, start int, not bool) {
	op := string(p.text[p.pos])
	p.pos++
	if (op == "<" || op == ">") && p.peek(0) == '=' {
		op += "="
		p.pos++
	}
	f, ok := fieldNamed(name)
	values, closed := p.values(name, f)
	if !closed {
		return
	}
	if !ok {
		p.fault(column, "field", name, didYouMean("want a field: "+strings.Join(fieldNames(), ", ")+"; or put it in quotes", fold(name), fieldNames()))
		return
	}
	c := Condition{Field: f.Name, Not: not, Typed: p.typed(start, name+op, f, values), Column: column}
	before := len(p.faults)
	if f.numeric() {
		c.Range = p.span(f, op, values)
	} else {
		c.Values = p.choices(f, op, values)
	}
	if len(p.faults) == before {
		p.query.Conditions = append(p.query.Conditions, c)
	}
}

// typed writes a condition as it was typed, words with spaces in quotes.
func (p *parser) typed(start int, head string, f Field, values []value) string {
	s := string(p.text[start:p.pos])
	if f.numeric() {
		return strings.Join(strings.Fields(s), "")
	}
	if !p.whole {
		return s
	}
	var words []string
	for _, v := range values {
		word := v.text
		if strings.ContainsFunc(word, unicode.IsSpace) || strings.ContainsAny(word, `",`) {
			word = quote(word)
		}
		words = append(words, word)
	}
	return head + strings.Join(words, ",")
}

// values reads what stands after a comparison; false if a quote is not closed.
func (p *parser) values(name string, f Field) ([]value, bool) {
	from := p.pos
	p.skipSpace()
	if p.pos > from && p.atCondition() {
		p.pos = from
	}
	var values []value
	for {
		v, ok := p.oneValue(name)
		if !ok {
			return nil, false
		}
		if f.numeric() && !p.whole {
			p.join(&v, f)
		}
		values = append(values, v)
		if p.peek(0) != ',' {
			return values, true
		}
		p.pos++
	}
}

func (p *parser) oneValue(name string) (value, bool) {
	if p.whole {
		p.skipSpace()
	}
	v := value{column: p.pos + 1}
	if p.peek(0) == '"' {
		text, ok := p.quoted(name)
		if !ok {
			return v, false
		}
		v.text = text
	}
	v.text += p.upTo(func(r rune) bool { return r == ',' || unicode.IsSpace(r) && !p.whole })
	if p.whole {
		v.text = strings.TrimSpace(v.text)
	}
	return v, true
}

// upTo reads until end holds.
func (p *parser) upTo(end func(rune) bool) string {
	from := p.pos
	for p.pos < len(p.text) && !end(p.text[p.pos]) {
		p.pos++
	}
	return string(p.text[from:p.pos])
}

// atCondition reports whether a condition begins here, rather than a value.
func (p *parser) atCondition() bool {
	from := p.pos
	defer func() { p.pos = from }()
	not := p.peek(0) == '-'
	if not {
		p.pos++
	}
	f, ok := fieldNamed(p.upTo(func(r rune) bool { return !unicode.IsLetter(r) && r != '_' }))
	return ok && (isComparison(p.peek(0)) || not && f.Flag)
}

// join adds to a number what belongs to it after a space: its unit (3 wk) and
// the other end of its range (20 .. 60).
func (p *parser) join(v *value, f Field) {
	for {
		from := p.pos
		p.skipSpace()
		next := p.upTo(func(r rune) bool { return r == ',' || unicode.IsSpace(r) })
		unit, _, _ := strings.Cut(next, "..")
		_, isUnit := unitNamed(f.dim, unit)
		switch {
		case next == "" || p.pos == from || v.text == "":
		case strings.HasPrefix(next, ".."), strings.HasSuffix(v.text, ".."), isUnit && endsInDigit(v.text):
			v.text += next
			continue
		}
		p.pos = from
		return
	}
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }
