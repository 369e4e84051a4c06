package search

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// choices reads the values of a field that holds words.
func (p *parser) choices(f Field, op string, values []value) []string {
	if op != ":" && op != "=" {
		p.fault(values[0].column, f.Name, op+values[0].text, "want a word, not a comparison; "+f.Name+" holds no number")
		return nil
	}
	var out []string
	for _, v := range values {
		for _, g := range p.choiceOf(f, v) {
			if !slices.Contains(out, g) {
				out = append(out, g)
			}
		}
	}
	return out
}

func (p *parser) choiceOf(f Field, v value) []string {
	text := fold(strings.TrimSpace(v.text))
	if text == "" {
		p.fault(v.column, f.Name, v.text, wanted(f))
		return nil
	}
	switch f.kind {
	case tag:
		return []string{text}
	case month:
		return p.months(f, v, text)
	}
	if f.Name == "toxic" && text == "no" {
		text = "none"
	}
	if !slices.Contains(f.Values, text) {
		p.fault(v.column, f.Name, v.text, didYouMean(wanted(f), text, f.Values))
		return nil
	}
	return []string{text}
}

func wanted(f Field) string {
	switch f.kind {
	case month:
		return "want a month, such as july, jul, 7 or may..july"
	case tag:
		return "want a word"
	case choice:
		return "want " + strings.Join(f.Values, ", ")
	}
	if f.dim == plain {
		return "want a number"
	}
	return fmt.Sprintf("want a number of %s, or one of %s", f.Unit, strings.Join(unitsOf(f.dim), ", "))
}

// months reads july, jul, 7 or may..july.
func (p *parser) months(f Field, v value, text string) []string {
	from, to, isRange := strings.Cut(text, "..")
	first, ok := monthNumber(from)
	last := first
	if ok && isRange {
		last, ok = monthNumber(to)
	}
	if !ok {
		p.fault(v.column, f.Name, v.text, didYouMean(wanted(f), text, monthNames()))
		return nil
	}
	return monthsBetween(first, last)
}

func monthNumber(s string) (int, bool) {
	if n, err := strconv.Atoi(s); err == nil {
		return n, n >= 1 && n <= 12
	}
	for i, name := range monthNames() {
		if len(s) >= 3 && strings.HasPrefix(name, s) {
			return i + 1, true
		}
	}
	return 0, false
}

// span reads the number or range of a field that holds numbers.
func (p *parser) span(f Field, op string, values []value) Range {
	r := anything()
	v := values[0]
	if len(values) > 1 {
		p.fault(v.column, f.Name, v.text+","+values[1].text, "want one number, or a range a..b; a comma is for words")
		return r
	}
	low, high, isRange := strings.Cut(v.text, "..")
	a, b, want := ends(f, low, high, isRange)
	switch {
	case want != "":
		p.fault(v.column, f.Name, v.text, want)
	case isRange && op != ":" && op != "=":
		p.fault(v.column, f.Name, op+v.text, fmt.Sprintf("want a range alone, %s, or one number after %s", v.text, op))
	case isRange && a > b:
		p.fault(v.column, f.Name, v.text, "want the lower number first, "+high+".."+low)
	case isRange:
		r.Min, r.Max = a, b
	case op == ">" || op == ">=":
		r.Min, r.MinOpen = a, op == ">"
	case op == "<" || op == "<=":
		r.Max, r.MaxOpen = a, op == "<"
	case op == ":" && f.bears > 0:
		r.Min = a
	case op == ":" && f.bears < 0:
		r.Max = a
	default:
		r.Min, r.Max = a, a
	}
	return r
}

// ends reads the two ends of a range, or one number as both. The unit of the
// upper end holds for a lower end without one; the other way about it could
// mean either, and is refused. want is what would be right, "" if all is.
func ends(f Field, low, high string, isRange bool) (a, b float64, want string) {
	first, ok := amountOf(low)
	last := first
	if ok && isRange {
		if last, ok = amountOf(high); ok && first.unit == "" {
			first.unit = last.unit
		} else if ok && last.unit == "" {
			unit := first.unit
			return 0, 0, fmt.Sprintf("want a unit on the upper number: %s..%s%s", strings.TrimSpace(low), strings.TrimSpace(high), unit)
		}
	}
	if !ok {
		return 0, 0, wanted(f)
	}
	a, okA := first.in(f)
	b, okB := last.in(f)
	switch {
	case !okA || !okB:
		return 0, 0, wanted(f)
	case f.kind == hours && max(a, b) > 24:
		return 0, 0, "want 0 to 24 hours of sun a day"
	}
	return a, b, ""
}

// amount is a number with its unit as typed, "" if it has none.
type amount struct {
	x    float64
	unit string
}

func amountOf(text string) (amount, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	end := 0
	for end < len(text) && strings.IndexByte("+-.0123456789", text[end]) >= 0 {
		end++
	}
	x, err := strconv.ParseFloat(text[:end], 64)
	return amount{x, strings.TrimSpace(text[end:])}, err == nil && !math.IsInf(x, 0)
}

// in returns the number in the unit of the table.
func (a amount) in(f Field) (float64, bool) {
	if a.x < 0 && f.dim != degreesC {
		return 0, false
	}
	if a.unit == "" || a.unit == f.Unit {
		return a.x + 0, true // + 0 turns -0 into 0
	}
	unit, ok := unitNamed(f.dim, a.unit)
	if !ok {
		return 0, false
	}
	x := twelve(convert(f.dim, a.x, unit))
	return x, !math.IsInf(x, 0)
}

// twelve rounds x to twelve digits that count, so that 3 ft is 91.44 cm.
func twelve(x float64) float64 {
	x, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err != nil {
		panic(err)
	}
	return x
}

// unitsOf lists the units a number of that dimension may carry.
func unitsOf(d dimension) []string {
	switch d {
	case lengthMM, lengthCM:
		return []string{"mm", "cm", "m", "in", "ft"}
	case timeH, timeD:
		return []string{"h", "d", "wk"}
	case degreesC:
		return []string{"c", "f"}
	}
	return nil
}

// unitNamed returns the unit of a dimension that a word stands for.
func unitNamed(d dimension, word string) (string, bool) {
	word = strings.ToLower(word)
	word = cmp.Or(map[string]string{
		"w": "wk", "wks": "wk", "week": "wk", "weeks": "wk", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d",
		"inch": "in", "inches": "in", "foot": "ft", "feet": "ft", "metre": "m", "metres": "m", "meter": "m", "meters": "m", "°c": "c", "°f": "f",
	}[word], word)
	return word, slices.Contains(unitsOf(d), word)
}

// convert returns x of the unit in that of the table. 1 in = 25.4 mm, C = (F - 32) / 1.8
// (NIST Special Publication 811, 2008, Appendix B).
func convert(d dimension, x float64, unit string) float64 {
	switch d {
	case lengthMM, lengthCM:
		mm := x * map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}[unit]
		if d == lengthCM {
			return mm / 10
		}
		return mm
	case timeH, timeD:
		h := x * map[string]float64{"h": 1, "d": 24, "wk": 168}[unit]
		if d == timeD {
			return h / 24
		}
		return h
	}
	if unit == "f" {
		return (x - 32) / 1.8
	}
	return x
}
