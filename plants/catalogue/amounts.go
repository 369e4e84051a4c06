package catalogue

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strings"
)

// number reads a number, or a range of which take says what counts, with units in
// the cell or in the map: "10-30 cm", "3'-6'", "2 ft 6 in".
func (r *reader) number(s string) (text, want string) {
	if v, ok, _ := parseNumber(r.decimal(s)); ok {
		if r.f.Unit == "" {
			return formatNumber(v), ""
		}
		v, want = r.inOurs(v, r.f.Unit)
		return formatNumber(v), want
	}
	low, high, isRange := r.amounts.cut(s)
	if _, whole := r.feetAndInches(s); whole || !isRange {
		v, want := r.amount(s, "")
		return formatNumber(v), want
	}
	if r.f.Take == "" {
		return "", "a range: expected take: larger, smaller or mean in the map"
	}
	_, lowUnit := cutUnit(low)
	_, highUnit := cutUnit(high)
	to, want := r.amount(high, lowUnit)
	if want != "" {
		return "", want
	}
	from, want := r.amount(low, highUnit)
	if want != "" {
		return "", want
	}
	return formatNumber(r.f.take([]float64{from, to})), ""
}

// amounts are the ways in which ranges and lengths are written.
type amounts struct{ span, feet *regexp.Regexp }

func newAmounts() *amounts {
	return &amounts{
		span: regexp.MustCompile(`^(-?[0-9][^–—]*?)\s*(?:-|–|—|\bto\b)\s*(-?[0-9].*)$`),
		feet: regexp.MustCompile(`^([0-9.]+)\s*(?:'|′|’|ft|feet)\s*-?\s*([0-9.]+)\s*(?:"|″|”|in|inches)$`),
	}
}

// cut parts "10-30 cm", "10 to 30 cm" and the like, with any of the dashes.
func (a *amounts) cut(s string) (low, high string, ok bool) {
	m := a.span.FindStringSubmatch(s)
	if m == nil {
		return "", "", false
	}
	return m[1], m[2], true
}

// feetAndInches reads 2' 6", and 3'-6", which as a range would run downwards.
func (r *reader) feetAndInches(s string) (inches float64, ok bool) {
	m := r.amounts.feet.FindStringSubmatch(s)
	if m == nil || r.col.Unit == "" {
		return 0, false
	}
	a, okA, _ := parseNumber(m[1])
	b, okB, _ := parseNumber(m[2])
	return 12*a + b, okA && okB && b < 12*a
}

// amount is a number in our unit; without one it is in the unit given, or the map's.
func (r *reader) amount(s, unit string) (v float64, want string) {
	if inches, ok := r.feetAndInches(s); ok {
		return r.inOurs(inches, "in")
	}
	figure, own := cutUnit(s)
	v, ok, hint := parseNumber(r.decimal(figure))
	if !ok {
		if r.f.Unit != "" {
			return math.NaN(), wantNumber + " of " + r.f.Unit + hint
		}
		_, _, hint = parseNumber(r.decimal(s))
		return math.NaN(), r.col.wantNumber() + hint
	}
	if unit = cmp.Or(own, unit, r.f.Unit); unit == "" {
		return v, ""
	}
	return r.inOurs(v, unit)
}

// inOurs converts to the unit of the column, to a tenth.
func (r *reader) inOurs(v float64, unit string) (float64, string) {
	v, ok := convert(v, unit, r.col)
	if !ok {
		if r.col.Unit == "" {
			return math.NaN(), r.col.wantNumber() + ", the number alone without its unit"
		}
		return math.NaN(), fmt.Sprintf("%s, not of %s; expected one of the units %s", wantNumber+" of "+r.col.Unit, unit, strings.Join(unitsFor(r.col), ", "))
	}
	return math.Round(v*10) / 10, ""
}
