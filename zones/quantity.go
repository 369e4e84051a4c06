package zones

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// unit is one way to write a unit. Value in SI = number * factor + offset.
type unit struct {
	names  []string // lower case; the first is the one shown, unless shown is set
	shown  string
	factor float64
	offset float64
}

// quantity is a kind of figure that carries its unit.
type quantity struct {
	want   string   // "a length with its unit, such as 12 ft or 3.5 m"
	units  []unit   // accepted, in the order shown
	chain  []string // units that may follow one another, large to small
	signed bool     // may be below zero
	show   func(u Units, si float64) string
	meant  func(text string) string // asks back for what was said in other words; nil for nothing
}

// Exact factors: the international inch is 25.4 mm and the foot 12 in.
// Source: SOURCES.md [S12].
const (
	mPerIn   = 0.0254
	mPerFt   = 12 * mPerIn
	mmPerIn  = 25.4
	m2PerFt2 = mPerFt * mPerFt
)

func lengthIn(mm, cm, m, in, ft float64) quantity {
	return quantity{
		want: "a length with its unit, such as 12 ft or 3.5 m",
		units: []unit{
			{names: []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}, factor: mm},
			{names: []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}, factor: cm},
			{names: []string{"m", "metre", "metres", "meter", "meters"}, factor: m},
			{names: []string{"in", "inch", "inches", `"`, "″", "”"}, factor: in},
			{names: []string{"ft", "foot", "feet", "'", "′", "’"}, factor: ft},
		},
		chain: []string{"ft", "in"},
		show:  Units.Length,
	}
}

func lengthM() quantity { return lengthIn(0.001, 0.01, 1, mPerIn, mPerFt) }

// depthMM is a length kept in millimetres.
func depthMM() quantity {
	q := lengthIn(1, 10, 1000, mmPerIn, 12*mmPerIn)
	q.want = "a depth with its unit, such as 6 in or 150 mm"
	q.show = Units.Depth
	return q
}

// heightCM is a length kept in centimetres, as the plant table has it.
func heightCM() quantity {
	q := lengthIn(0.1, 1, 100, 2.54, 12*2.54)
	q.want = "a height with its unit, such as 3 ft or 90 cm"
	q.show = func(u Units, cm float64) string { return u.Length(cm / 100) }
	return q
}

func areaM2() quantity {
	return quantity{
		want: "an area with its unit, such as 620 sq ft or 58 m2",
		units: []unit{
			{names: []string{"m2", "m²", "m^2", "sq m", "square metres", "square meters"}, factor: 1},
			{names: []string{"sq ft", "ft2", "ft²", "ft^2", "square feet", "sqft"}, factor: m2PerFt2},
		},
		show: Units.Area,
	}
}

func rateMMH() quantity {
	return quantity{
		want: "a rate with its unit, such as 0.5 in/h or 12 mm/h",
		units: []unit{
			{names: []string{"mm/h", "mm/hr", "mm/hour", "mm per hour"}, factor: 1},
			{names: []string{"cm/h", "cm/hr", "cm/hour", "cm per hour"}, factor: 10},
			{names: []string{"in/h", "in/hr", "in/hour", "in per hour", "inches per hour"}, factor: mmPerIn},
		},
		show: Units.Rate,
	}
}

func fraction() quantity {
	return quantity{
		want:  "a share in percent, such as 5 %",
		units: []unit{{names: []string{"%", "percent"}, factor: 0.01}},
		show:  Units.Percent,
		meant: shareMeant,
	}
}

// timeIn is a time kept in a unit of which the arguments are one min, h and d.
func timeIn(minute, h, d float64) quantity {
	return quantity{
		want: "a time with its unit, such as 24 h or 10 min",
		units: []unit{
			{names: []string{"min", "minute", "minutes"}, factor: minute},
			{names: []string{"h", "hr", "hour", "hours"}, factor: h},
			{names: []string{"d", "day", "days"}, factor: d},
		},
		chain: []string{"d", "h", "min"},
		show:  Units.Duration,
	}
}

func timeH() quantity { return timeIn(1.0/60, 1, 24) }

// sunH is a time of direct sun a day.
func sunH() quantity {
	q := timeH()
	q.meant = sunMeant
	return q
}

// timeMin is a time kept in minutes.
func timeMin() quantity {
	q := timeIn(1, 60, 24*60)
	q.show = func(u Units, minutes float64) string { return u.Duration(minutes / 60) }
	return q
}

// dailyMM is a depth of water in a day.
func dailyMM() quantity {
	return quantity{
		want: "a depth in a day with its unit, such as 4.2 mm/d or 0.17 in/d",
		units: []unit{
			{names: []string{"mm/d", "mm/day", "mm per day"}, factor: 1},
			{names: []string{"in/d", "in/day", "in per day"}, factor: mmPerIn},
		},
		show: func(u Units, mm float64) string { return u.Depth(mm) + "/d" },
	}
}

// wanted is what a message asks for: the kind, an example, the units.
func (q quantity) wanted() string {
	names := make([]string, len(q.units))
	for i, u := range q.units {
		names[i] = cmp.Or(u.shown, u.names[0])
	}
	return "want " + q.want + " (accepted: " + strings.Join(names, ", ") + ")"
}

// parse returns the value in SI, or what would be right.
//
// It takes one number and one unit ("12 ft", "12ft", "2 1/2 in"), and where
// the quantity has a chain also several ("2 ft 6 in", `2' 6"`), each whole
// and each smaller than one of the unit before it, except that the last may
// have decimals. Commas are refused: 1,240 is two different numbers in two
// countries.
func (q quantity) parse(text string) (value float64, wrong string) {
	rest := strings.TrimSpace(text)
	if strings.ContainsRune(rest, ',') {
		return math.NaN(), q.wanted() + ", without commas: a point for decimals, nothing between thousands"
	}
	negative := false
	if after, ok := cutSign(rest); ok {
		negative, rest = true, after
	}
	parts, ok := q.split(rest)
	if !ok && q.meant != nil {
		return math.NaN(), q.wanted() + q.meant(text)
	} else if !ok {
		return math.NaN(), q.wanted()
	}
	if negative && !q.signed {
		return math.NaN(), q.wanted() + ", not below zero"
	}
	for _, p := range parts {
		if negative {
			p.number = -p.number
		}
		value += p.number*p.unit.factor + p.unit.offset
	}
	if math.IsInf(value, 0) || math.IsNaN(value) {
		return math.NaN(), q.wanted()
	}
	return value, ""
}

type part struct {
	number float64
	whole  bool
	unit   unit
}

// split cuts "2 ft 6 in" into its parts and checks that they may follow one another.
func (q quantity) split(rest string) ([]part, bool) {
	var parts []part
	for rest != "" {
		number, whole, after, ok := cutNumber(rest)
		if !ok {
			return nil, false
		}
		u, after, ok := q.cutUnit(strings.TrimLeft(after, " "))
		if !ok {
			return nil, false
		}
		parts = append(parts, part{number, whole, u})
		rest = strings.TrimLeft(after, " ")
	}
	for i := 1; i < len(parts); i++ {
		big, small := parts[i-1], parts[i]
		at, next := slices.Index(q.chain, big.unit.names[0]), slices.Index(q.chain, small.unit.names[0])
		if at < 0 || next <= at || !big.whole {
			return nil, false
		}
		if !(small.number*small.unit.factor < big.unit.factor*(1-1e-12)) {
			return nil, false
		}
	}
	return parts, len(parts) > 0
}

// cutUnit takes the longest unit name that rest begins with.
func (q quantity) cutUnit(rest string) (unit, string, bool) {
	lower := strings.ToLower(rest)
	if len(lower) != len(rest) { // a letter whose lower case has another length
		return unit{}, rest, false
	}
	var best unit
	longest := 0
	for _, u := range q.units {
		for _, name := range u.names {
			if len(name) > longest && strings.HasPrefix(lower, name) && ends(lower[len(name):]) {
				best, longest = u, len(name)
			}
		}
	}
	return best, rest[longest:], longest > 0
}

// ends reports that a unit name may stop before rest: in "ft6", not in "ft/h".
func ends(rest string) bool {
	return rest == "" || rest[0] == ' ' || rest[0] >= '0' && rest[0] <= '9' || rest[0] == '.'
}

// cutSign takes a leading minus, plain or typographic.
func cutSign(s string) (string, bool) {
	for _, minus := range []string{"-", "−", "–"} {
		if after, ok := strings.CutPrefix(s, minus); ok {
			return strings.TrimLeft(after, " "), true
		}
	}
	return s, false
}

// parseWith turns what would be right into an error for people.
func parseWith(q quantity, text string) (float64, error) {
	v, wrong := q.parse(text)
	if wrong != "" {
		return math.NaN(), table.Faults{{Value: cmp.Or(text, " "), Want: wrong}}
	}
	return v, nil
}

// ParseLengthM reads a length, in metres: mm, cm, m, in, ft, "2 ft 6 in".
func ParseLengthM(text string) (float64, error) { return parseWith(lengthM(), text) }

// ParsePercent reads a share such as "5 %", as a fraction: 0.05.
func ParsePercent(text string) (float64, error) { return parseWith(fraction(), text) }

// parseSlope reads the slope of a side, run to rise, as run per rise: "3:1" is 3.
func parseSlope(text string) (float64, string) {
	const want = "want the slope of the sides, run to rise, such as 3:1"
	run, rise, ok := strings.Cut(strings.TrimSpace(text), ":")
	if !ok {
		return math.NaN(), want
	}
	a, okA := plainNumber(strings.TrimSpace(run))
	b, okB := plainNumber(strings.TrimSpace(rise))
	if !okA || !okB || !(a >= 0) || !(b > 0) {
		return math.NaN(), want
	}
	return a / b, ""
}

// plainNumber reads a decimal number: no unit, exponent, hex, comma or name.
func plainNumber(text string) (float64, bool) {
	rest, negative := cutSign(strings.TrimPrefix(text, "+"))
	v, _, after, ok := cutNumber(rest)
	if !ok || after != "" || strings.Contains(rest, "/") || strings.HasPrefix(text, "+") && negative {
		return math.NaN(), false
	}
	if negative {
		v = -v
	}
	return v, true
}
