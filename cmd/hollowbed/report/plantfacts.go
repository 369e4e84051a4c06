package report

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// plantFacts are the columns of a plant in words; "not known" where the table
// leaves one empty.
func plantFacts(p catalogue.Plant, u zones.Units) doc.Facts {
	given := func(v float64, print func(float64) string) string {
		if math.IsNaN(v) {
			return "not known"
		}
		return print(v)
	}
	text := func(s string) string {
		if s == "" {
			return "not known"
		}
		return Plain(s)
	}
	cm := func(v float64) string { return u.Length(v / 100) }
	sun := given(p.SunMinH, func(h float64) string { return fmt.Sprintf("from %.3g h", h) }) + given(p.SunMaxH, func(h float64) string { return fmt.Sprintf(" to %.3g h", h) })
	if math.IsNaN(p.SunMaxH) {
		sun = given(p.SunMinH, func(h float64) string { return fmt.Sprintf("at least %.3g h", h) })
	}
	flower := "not known"
	if p.FlowerFrom > 0 {
		flower = Months(monthsOf(p.FlowerFrom, p.FlowerTo))
		if len(p.FlowerColour) > 0 {
			flower += ", " + Plain(strings.Join(p.FlowerColour, ", "))
		}
	}
	facts := doc.Facts{
		fact("Latin name", text(p.ScientificName)),
		fact("form", text(p.Form)), fact("height", given(p.HeightCM, cm)), fact("spread", given(p.SpreadCM, cm)),
		fact("in flower", flower), fact("sun a day", sun),
		fact("tolerates wet ground", given(p.WetH, u.Duration)), fact("tolerates standing water", given(p.PondMM, u.Depth)),
		fact("tolerates days without rain", given(p.DryD, trimDays)), fact("tolerates cold", given(p.LowestC, u.Temp)),
		fact("sold for", text(strings.Join(p.Zones, ", "))), fact("native to", text(strings.Join(p.NativeTo, ", "))),
		fact("spreads", text(p.Spreads)), fact("keeps its leaves", text(p.Evergreen)), fact("harms", text(harmed(p))),
		fact("price", given(p.Price, func(v float64) string { return fmt.Sprintf("%.2f", v) })),
	}
	if len(p.Tags) > 0 {
		facts = append(facts, fact("other traits", Plain(strings.Join(p.Tags, ", "))))
	}
	return facts
}

// harmed lists whom a plant is known to harm, and of whom that is not known; "" if
// nothing is.
func harmed(p catalogue.Plant) string {
	who, open := hurts(p)
	switch {
	case len(who) == 0 && len(open) > 0:
		return ""
	case len(who) == 0:
		return "none"
	case len(open) > 0:
		return strings.Join(who, ", ") + "; " + strings.Join(open, ", ") + ": not known"
	}
	return strings.Join(who, ", ")
}

// monthsOf lists the months from one to another, over the turn of the year
// where need be; without a last one the first alone.
func monthsOf(from, to int) []int {
	if to < 1 || to > 12 {
		to = from
	}
	months := []int{from}
	for m := from; m != to; {
		m = m%12 + 1
		months = append(months, m)
	}
	return months
}

func fact(label, value string) doc.Fact { return doc.Fact{Label: label, Value: value} }
