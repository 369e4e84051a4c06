package search

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/plants/catalogue"
)

// Quantity is a number in a reason, in the unit of the plant table.
type Quantity struct {
	Value      float64
	Unit       string // mm, cm, h, d, c; "" for a price
	Difference bool   // how far apart two numbers are, not a place on the scale
}

// String writes q for people: at most four digits that count.
func (q Quantity) String() string {
	unit := q.Unit
	if unit == "c" {
		unit = "°C"
	}
	return strings.TrimSpace(round(q.Value) + " " + unit)
}

func round(x float64) string {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// wording is a text with its numbers kept as numbers, so that they can be
// written in any unit.
type wording []piece

// piece is text, a quantity, or a range of quantities.
type piece struct {
	text     string
	from, to *Quantity
}

func words(s string) wording { return wording{{text: s}} }

// figure is one quantity between two texts.
func figure(before string, x float64, unit, after string) wording {
	return wording{{text: before}, {from: &Quantity{Value: x, Unit: unit}}, {text: after}}
}

// span is a range of quantities between two texts.
func span(before string, low, high float64, unit, after string) wording {
	return wording{{text: before}, {from: &Quantity{Value: low, Unit: unit}, to: &Quantity{Value: high, Unit: unit}}, {text: after}}
}

func (w wording) say(write func(Quantity) string) string {
	var b strings.Builder
	for _, p := range w {
		b.WriteString(p.text)
		if p.from == nil {
			continue
		}
		low := write(*p.from)
		if p.to == nil {
			b.WriteString(low)
			continue
		}
		high := write(*p.to)
		number, unit, _ := strings.Cut(low, " ")
		if _, other, _ := strings.Cut(high, " "); unit == other && !strings.Contains(unit, " ") {
			low = number // "20 to 60 cm", not "20 cm to 60 cm"
		}
		b.WriteString(low + " to " + high)
	}
	return b.String()
}

// asks words what a condition asks for.
func (c Condition) asks(f Field) wording {
	s := words(strings.Join(c.Values, " or "))
	switch {
	case f.numeric():
		s = c.Range.asks(f)
	case slices.Equal(c.Values, []string{"yes"}):
		s = words(f.Name)
	}
	if c.Not {
		return append(words("not "), s...)
	}
	return s
}

func (r Range) asks(f Field) wording {
	low, high := !math.IsInf(r.Min, -1), !math.IsInf(r.Max, 1)
	switch {
	case low && high && r.Min == r.Max:
		return figure("", r.Min, f.Unit, "")
	case low && high:
		return span("", r.Min, r.Max, f.Unit, "")
	case low && r.MinOpen:
		return figure("over ", r.Min, f.Unit, "")
	case low && f.bears > 0:
		return figure("", r.Min, f.Unit, "")
	case low:
		return figure("at least ", r.Min, f.Unit, "")
	case r.MaxOpen:
		return figure("under ", r.Max, f.Unit, "")
	case f.bears < 0:
		return figure("", r.Max, f.Unit, "")
	}
	return figure("at most ", r.Max, f.Unit, "")
}

// saysOf words what the table says of a plant.
func saysOf(f Field, p *catalogue.Plant) wording {
	switch f.kind {
	case number:
		return says(f, measure(f.Name)(p))
	case hours:
		return sunSays(p)
	}
	return words(labelSays(f.Name, p))
}

func says(f Field, x float64) wording {
	if math.IsNaN(x) {
		return words("its " + f.Name + " is not stated")
	}
	switch f.Name {
	case "wet":
		return figure("bears ", x, f.Unit, " wet")
	case "pond":
		return figure("bears water ", x, f.Unit, " deep")
	case "dry":
		return figure("bears ", x, f.Unit, " without water")
	case "cold":
		return figure("survives ", x, f.Unit, "")
	case "height":
		return figure("", x, f.Unit, " high")
	case "spread":
		return figure("", x, f.Unit, " across")
	}
	return figure("costs ", x, f.Unit, "")
}

func sunSays(p *catalogue.Plant) wording {
	switch low, high := p.SunMinH, p.SunMaxH; {
	case math.IsNaN(low) && math.IsNaN(high):
		return words("its sun is not stated")
	case math.IsNaN(high):
		return figure("takes ", low, "h", " of sun or more, the most not stated")
	case math.IsNaN(low):
		return figure("takes up to ", high, "h", " of sun, the least not stated")
	default:
		return span("takes ", low, high, "h", " of sun")
	}
}

func labelSays(field string, p *catalogue.Plant) string {
	have := labels(field, p)
	if len(have) == 0 {
		return "its " + field + " is not stated"
	}
	switch field {
	case "zone":
		return "growers plant it at the " + list(have)
	case "bloom":
		if len(have) == 1 {
			return "flowers in " + have[0]
		}
		return "flowers from " + have[0] + " to " + have[len(have)-1]
	case "colour":
		return "flowers " + list(have)
	case "native":
		return "native to " + list(have)
	case "evergreen":
		switch have[0] {
		case "yes":
			return "evergreen"
		case "no":
			return "not evergreen"
		case "semi":
			return "semi-evergreen"
		}
	case "toxic":
		if have[0] == "none" {
			return "known to harm nobody"
		}
		return "harms " + list(slices.DeleteFunc(slices.Clone(have), func(s string) bool { return s == "yes" }))
	case "spreads":
		if have[0] == "no" {
			return "stays where it is"
		}
		return "spreads: " + have[len(have)-1]
	}
	return field + ": " + list(have)
}
