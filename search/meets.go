package search

import (
	"math"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
)

// answer is what is known about a plant and a condition.
type answer int

const (
	notAsked answer = iota
	no
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
		f := c.field()
		out[i] = asked{Condition: c, f: f, ask: c.ready(f)}
	}
	return out
}

// ready turns a condition into a test. An unknown value answers unknown,
// turned round or not.
func (c Condition) ready(f Field) test {
	t := c.upright(f)
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

func (c Condition) upright(f Field) test {
	switch f.kind {
	case hours:
		return sunTest(c.Range)
	case number:
		return numberTest(f.column, c.Range)
	case month:
		return monthTest(c.Values, c.begins)
	}
	return labelTest(f.Name, c.Values)
}

func numberTest(of column, r Range) test {
	low, high := r.closed()
	return func(p *catalogue.Plant) answer {
		x := of.of(p)
		switch {
		case x >= low && x <= high:
			return yes
		case math.IsNaN(x):
			return unknown
		}
		return no
	}
}

// closed returns the least and the greatest number in r.
func (r Range) closed() (low, high float64) {
	low, high = r.Min, r.Max
	if r.MinOpen {
		low = math.Nextafter(low, math.Inf(1))
	}
	if r.MaxOpen {
		high = math.Nextafter(high, math.Inf(-1))
	}
	return low, high
}

// sunTest asks whether r and sun_min_h..sun_max_h overlap. An end the answer hangs on and
// that is not stated makes it unknown.
func sunTest(r Range) test {
	low, high := r.closed()
	anyHigh, anyLow := math.IsInf(r.Min, -1), math.IsInf(r.Max, 1)
	return func(p *catalogue.Plant) answer {
		lowOK := anyLow || p.SunMinH <= high
		highOK := anyHigh || p.SunMaxH >= low
		switch {
		case lowOK && highOK:
			return yes
		case !lowOK && !math.IsNaN(p.SunMinH), !highOK && !math.IsNaN(p.SunMaxH):
			return no
		}
		return unknown
	}
}

// monthTest asks whether a plant flowers in one of the months, or begins to.
func monthTest(names []string, begins bool) test {
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
		if to < 1 || to > 12 || begins {
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
	switch field {
	case "form":
		return func(p *catalogue.Plant) answer { return oneOf(p.Form, values) }
	case "evergreen":
		return func(p *catalogue.Plant) answer { return oneOf(p.Evergreen, values) }
	}
	open := field == "toxic" && !slices.Equal(values, []string{"none"})
	return func(p *catalogue.Plant) answer {
		a := anyOf(labels(field, p), values)
		if open && a == no && slices.Contains(p.Assumed, "toxic") { // its source speaks of those alone whom it harms
			return unknown
		}
		return a
	}
}

func anyOf(have, values []string) answer {
	switch {
	case len(have) == 0:
		return unknown
	case slices.ContainsFunc(have, func(h string) bool { return oneOf(h, values) == yes }):
		return yes
	}
	return no
}

func oneOf(have string, values []string) answer {
	switch {
	case have == "":
		return unknown
	case slices.ContainsFunc(values, func(v string) bool { return sameLabel(have, v) }):
		return yes
	}
	return no
}

// sameLabel reports whether a value of the table is the folded value asked. A
// hyphen will do for a space, so that "Salt Fen" can be asked for as salt-fen.
func sameLabel(have, folded string) bool {
	if have == folded {
		return true
	}
	if have != "" && folded != "" && have[0] < 0x80 && plainByte(have[0]) != plainByte(folded[0]) {
		return false
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
