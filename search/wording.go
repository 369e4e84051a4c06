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
	var room [32]byte
	b := appendRound(room[:0], q.Value)
	switch q.Unit {
	case "":
	case "c":
		b = append(b, " °C"...)
	default:
		b = append(append(b, ' '), q.Unit...)
	}
	return string(b)
}

func appendRound(b []byte, x float64) []byte {
	if n := int64(x); float64(n) == x && n != 0 && -10_000 < n && n < 10_000 {
		return strconv.AppendInt(b, n, 10)
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return strconv.AppendFloat(b, x, 'f', -1, 64)
}

// wording is a text with its numbers kept as numbers, for any unit.
type wording []piece

// piece is a text, or none, one or two numbers between two texts.
type piece struct {
	before, after string
	numbers       int
	low, high     float64
	unit          string
	difference    bool
}

func (w wording) words(s string) wording { return append(w, piece{before: s}) }

// figure adds one quantity between two texts.
func (w wording) figure(before string, x float64, unit, after string) wording {
	return append(w, piece{before: before, numbers: 1, low: x, unit: unit, after: after})
}

// span adds a range of quantities between two texts.
func (w wording) span(before string, low, high float64, unit, after string) wording {
	return append(w, piece{before: before, numbers: 2, low: low, high: high, unit: unit, after: after})
}

func (w wording) say(write func(Quantity) string) string {
	var room [128]byte
	b := room[:0]
	for i := range w {
		p := &w[i]
		b = append(b, p.before...)
		if p.numbers > 0 {
			low := write(Quantity{p.low, p.unit, p.difference})
			if p.numbers == 2 {
				high := write(Quantity{p.high, p.unit, p.difference})
				number, unit, _ := strings.Cut(low, " ")
				if _, other, _ := strings.Cut(high, " "); unit == other && !strings.Contains(unit, " ") {
					low = number // "20 to 60 cm", not "20 cm to 60 cm"
				}
				b = append(append(b, low...), " to "...)
				low = high
			}
			b = append(b, low...)
		}
		b = append(b, p.after...)
	}
	return string(b)
}

// asks adds what a condition asks for.
func (w wording) asks(c *Condition, f *Field) wording {
	if c.Not {
		w = w.words("not ")
	}
	switch {
	case f.numeric():
		return w.limits(c.Range, f)
	case c.begins:
		return w.words(c.Typed)
	case slices.Equal(c.Values, []string{"yes"}):
		return w.words(f.Name)
	}
	return w.words(strings.Join(c.Values, " or "))
}

func (w wording) limits(r Range, f *Field) wording {
	low, high := !math.IsInf(r.Min, -1), !math.IsInf(r.Max, 1)
	switch {
	case low && high && r.Min == r.Max:
		return w.figure("", r.Min, f.Unit, "")
	case low && high:
		return w.span("", r.Min, r.Max, f.Unit, "")
	case low && r.MinOpen:
		return w.figure("over ", r.Min, f.Unit, "")
	case low && f.bears > 0:
		return w.figure("", r.Min, f.Unit, "")
	case low:
		return w.figure("at least ", r.Min, f.Unit, "")
	case r.MaxOpen:
		return w.figure("under ", r.Max, f.Unit, "")
	case f.bears < 0:
		return w.figure("", r.Max, f.Unit, "")
	}
	return w.figure("at most ", r.Max, f.Unit, "")
}

// says adds what the table says of a plant.
func (w wording) says(f *Field, p *catalogue.Plant) wording {
	switch f.kind {
	case number:
		return w.number(f, f.column.of(p))
	case hours:
		return w.sun(p.SunMinH, p.SunMaxH)
	}
	return w.words(labelSays(f.Name, p))
}

func (w wording) number(f *Field, x float64) wording {
	if math.IsNaN(x) {
		return w.words("its " + f.Name + " is not stated")
	}
	before, after := "costs ", ""
	switch f.column {
	case wet:
		before, after = "tolerates ", " wet"
	case pond:
		before, after = "tolerates water ", " deep"
	case dry:
		before, after = "tolerates ", " without water"
	case cold:
		before = "survives "
	case height:
		before, after = "", " high"
	case spread:
		before, after = "", " across"
	}
	return w.figure(before, x, f.Unit, after)
}

func (w wording) sun(low, high float64) wording {
	switch {
	case math.IsNaN(low) && math.IsNaN(high):
		return w.words("its sun is not stated")
	case math.IsNaN(high):
		return w.figure("takes ", low, "h", " of sun or more, the most not stated")
	case math.IsNaN(low):
		return w.figure("takes up to ", high, "h", " of sun, the least not stated")
	}
	return w.span("takes ", low, high, "h", " of sun")
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
