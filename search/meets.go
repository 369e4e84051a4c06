package search

import (
	"math"
	"strings"

	"hollowbed/plants/catalogue"
)

// answer is what is known about a plant and a condition.
type answer int

const (
	no answer = iota
	yes
	unknown
)

// test is a condition made ready to be put to many plants.
type test func(p *catalogue.Plant) answer

// asked is a condition made ready, with its field.
type asked struct {
	Condition
	f   Field
	ask test
}

func prepare(conditions []Condition) []asked {
	out := make([]asked, len(conditions))
	for i, c := range conditions {
		out[i] = asked{Condition: c, f: c.field(), ask: c.ready()}
	}
	return out
}

// ready turns a condition into a test. An unknown value answers unknown,
// turned round or not.
func (c Condition) ready() test {
	t := c.upright()
	if !c.Not {
		return t
	}
	return func(p *catalogue.Plant) answer {
		switch t(p) {
		case yes:
			return no
		case no:
			return yes
		}
		return unknown
	}
}

// field is what the condition is on.
func (c Condition) field() Field {
	f, ok := fieldNamed(c.Field)
	if !ok {
		panic("search: condition on no field: " + c.Field)
	}
	return f
}

func (c Condition) upright() test {
	f := c.field()
	switch f.kind {
	case hours:
		return sunTest(c.Range)
	case number:
		return numberTest(f.Name, c.Range)
	case month:
		return monthTest(c.Values)
	}
	return labelTest(f.Name, c.Values)
}

func numberTest(field string, r Range) test {
	return func(p *catalogue.Plant) answer {
		x := measure(field, p)
		switch {
		case math.IsNaN(x):
			return unknown
		case r.holds(x):
			return yes
		}
		return no
	}
}

// sunTest asks whether some number of hours in r is one the plant takes: the
// intervals r and sun_min_h..sun_max_h overlap. For a single number x that is
// sun_min_h <= x <= sun_max_h. An end the answer hangs on and that is not
// stated makes it unknown.
func sunTest(r Range) test {
	return func(p *catalogue.Plant) answer {
		lowOK := math.IsInf(r.Max, 1) || p.SunMinH < r.Max || p.SunMinH == r.Max && !r.MaxOpen
		highOK := math.IsInf(r.Min, -1) || p.SunMaxH > r.Min || p.SunMaxH == r.Min && !r.MinOpen
		switch {
		case lowOK && highOK:
			return yes
		case !lowOK && !math.IsNaN(p.SunMinH), !highOK && !math.IsNaN(p.SunMaxH):
			return no
		}
		return unknown
	}
}

func monthTest(names []string) test {
	var asked [13]bool
	for _, n := range names {
		if m, ok := monthNumber(n); ok {
			asked[m] = true
		}
	}
	return func(p *catalogue.Plant) answer {
		from, to := p.FlowerFrom, p.FlowerTo
		if from < 1 || from > 12 {
			return unknown
		}
		if to < 1 || to > 12 {
			to = from
		}
		for m := from; ; m = m%12 + 1 {
			if asked[m] {
				return yes
			}
			if m == to {
				return no
			}
		}
	}
}

func labelTest(field string, values []string) test {
	any := func(have []string) answer {
		if len(have) == 0 {
			return unknown
		}
		for _, h := range have {
			for _, v := range values {
				if sameLabel(h, v) {
					return yes
				}
			}
		}
		return no
	}
	switch field {
	case "zone":
		return func(p *catalogue.Plant) answer { return any(p.Zones) }
	case "colour":
		return func(p *catalogue.Plant) answer { return any(p.FlowerColour) }
	case "native":
		return func(p *catalogue.Plant) answer { return any(p.NativeTo) }
	case "form":
		return func(p *catalogue.Plant) answer { return oneOf(p.Form, values) }
	case "evergreen":
		return func(p *catalogue.Plant) answer { return oneOf(p.Evergreen, values) }
	}
	return func(p *catalogue.Plant) answer { return any(labels(field, p)) }
}

func oneOf(have string, values []string) answer {
	if have == "" {
		return unknown
	}
	for _, v := range values {
		if sameLabel(have, v) {
			return yes
		}
	}
	return no
}

// sameLabel reports whether a value of the table is the folded value asked. A
// hyphen will do for a space, so that "Salt Fen" can be asked for as salt-fen.
func sameLabel(have, folded string) bool {
	if have == folded {
		return true
	}
	if len(have) == len(folded) && isASCII(have) {
		for i := 0; i < len(have); i++ {
			if plainByte(have[i]) != plainByte(folded[i]) {
				return false
			}
		}
		return true
	}
	return !isASCII(have) && strings.ReplaceAll(fold(have), "-", " ") == strings.ReplaceAll(folded, "-", " ")
}

func plainByte(b byte) byte {
	switch {
	case b >= 'A' && b <= 'Z':
		return b + 'a' - 'A'
	case b == '-':
		return ' '
	}
	return b
}
