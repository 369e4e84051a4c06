package search

import (
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
)

// kind is how a field's values are written and compared.
type kind int

const (
	choice kind = iota // one of a closed list
	tag                // any text the table uses
	month
	number
	hours // an interval of sun hours
)

// dimension is what a field's numbers measure; it decides the units.
type dimension int

const (
	plain dimension = iota
	lengthMM
	lengthCM
	timeH
	timeD
	degreesC
)

// Field is something a condition can be put on.
type Field struct {
	Name    string   // as written in a query
	Columns []string // of the plant table; the first is the field's own
	Unit    string   // of a bare number: the unit of the table
	Values  []string // of a closed list
	Flag    bool     // the bare name is a condition: "toxic" reads toxic:yes
	Facet   bool     // can be counted
	Help    string

	kind   kind
	column column // of a number
	dim    dimension
	bears  int // what a colon means on a number: +1 at least, -1 at most, 0 exactly
}

// numeric reports whether the field's values are numbers.
func (f Field) numeric() bool { return f.kind == number || f.kind == hours }

// Fields lists what conditions can be put on, in the order they are shown.
func Fields() []Field {
	var out []Field
	for _, name := range fieldNames() {
		f, _ := fieldNamed(name)
		out = append(out, f)
	}
	return out
}

func fieldNames() []string {
	return strings.Fields("zone form sun wet pond dry cold height spread bloom colour native evergreen toxic spreads price")
}

// fieldNamed returns the field of that name, column, or other word that people use.
func fieldNamed(word string) (f Field, ok bool) {
	switch fold(word) {
	case "zone", "zones":
		f = Field{Name: "zone", Columns: []string{"zones"}, kind: choice, Values: []string{"bottom", "slope", "rim"}, Facet: true, Help: "where growers plant it"}
	case "form":
		f = Field{Name: "form", Columns: []string{"form"}, kind: tag, Facet: true, Help: "form of growth"}
	case "sun", "sun_min_h", "sun_max_h":
		f = Field{Name: "sun", Columns: []string{"sun_min_h", "sun_max_h"}, Unit: "h", kind: hours, dim: timeH, Help: "hours of direct sun a day the place has"}
	case "wet", "wet_h":
		f = Field{Name: "wet", Columns: []string{"wet_h"}, Unit: "h", kind: number, column: wet, dim: timeH, bears: 1, Help: "hours of standing water or saturated soil it tolerates"}
	case "pond", "pond_mm":
		f = Field{Name: "pond", Columns: []string{"pond_mm"}, Unit: "mm", kind: number, column: pond, dim: lengthMM, bears: 1, Help: "depth of standing water it tolerates"}
	case "dry", "dry_d":
		f = Field{Name: "dry", Columns: []string{"dry_d"}, Unit: "d", kind: number, column: dry, dim: timeD, bears: 1, Help: "days without water it tolerates"}
	case "cold", "lowest_c":
		f = Field{Name: "cold", Columns: []string{"lowest_c"}, Unit: "c", kind: number, column: cold, dim: degreesC, bears: -1, Help: "lowest air temperature survived"}
	case "height", "height_cm":
		f = Field{Name: "height", Columns: []string{"height_cm"}, Unit: "cm", kind: number, column: height, dim: lengthCM, Help: "height"}
	case "spread", "spread_cm":
		f = Field{Name: "spread", Columns: []string{"spread_cm"}, Unit: "cm", kind: number, column: spread, dim: lengthCM, Help: "mature spread"}
	case "bloom", "flower_from", "flower_to", "month", "flowers":
		f = Field{Name: "bloom", Columns: []string{"flower_from", "flower_to"}, kind: month, Values: monthNames(), Facet: true, Help: "month of flowers"}
	case "colour", "flower_colour", "color":
		f = Field{Name: "colour", Columns: []string{"flower_colour"}, kind: tag, Facet: true, Help: "colour of flowers"}
	case "native", "native_to":
		f = Field{Name: "native", Columns: []string{"native_to"}, kind: tag, Facet: true, Help: "region it is native to"}
	case "evergreen":
		f = Field{Name: "evergreen", Columns: []string{"evergreen"}, kind: choice, Values: []string{"yes", "no", "semi"}, Flag: true, Facet: true, Help: "keeps its leaves in winter"}
	case "toxic":
		f = Field{Name: "toxic", Columns: []string{"toxic"}, kind: choice, Values: []string{"yes", "none", "people", "pets", "livestock", "skin"}, Flag: true, Facet: true, Help: "whom it harms"}
	case "spreads":
		f = Field{Name: "spreads", Columns: []string{"spreads"}, kind: choice, Values: []string{"yes", "no", "slowly", "runs", "seeds"}, Flag: true, Facet: true, Help: "how it spreads by itself"}
	case "price":
		f = Field{Name: "price", Columns: []string{"price"}, kind: number, column: price, Help: "price of one plant"}
	}
	return f, f.Name != ""
}

func monthNames() []string {
	return []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}
}

// column is a column of numbers.
type column int

const (
	sunMin column = iota
	sunMax
	wet
	pond
	dry
	cold
	height
	spread
	price
)

// of reads the number of a plant; NaN is unknown.
func (c column) of(p *catalogue.Plant) float64 {
	return [...]float64{p.SunMinH, p.SunMaxH, p.WetH, p.PondMM, p.DryD, p.LowestC, p.HeightCM, p.SpreadCM, p.Price}[c]
}

// labels returns the words a field holds for a plant, none if unknown; "yes" too where
// toxic, evergreen or spreads amount to it.
func labels(field string, p *catalogue.Plant) []string {
	switch field {
	case "zone":
		return p.Zones
	case "form":
		return one(p.Form)
	case "colour":
		return p.FlowerColour
	case "native":
		return p.NativeTo
	case "evergreen":
		return one(p.Evergreen)
	case "toxic":
		switch {
		case !slices.Contains(p.Toxic, "none") && len(p.Toxic) > 0:
			return append([]string{"yes"}, p.Toxic...)
		case slices.Contains(p.Assumed, "toxic"):
			return nil
		}
		return p.Toxic
	case "spreads":
		if p.Spreads == "" || p.Spreads == "no" {
			return one(p.Spreads)
		}
		return []string{"yes", p.Spreads}
	case "bloom":
		return bloomMonths(p)
	}
	panic("search: no labels in field " + field)
}

func one(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

// bloomMonths names the months a plant flowers in, over the turn of the year if need be.
func bloomMonths(p *catalogue.Plant) []string {
	from, to := p.FlowerFrom, p.FlowerTo
	if from < 1 || from > 12 {
		return nil
	}
	if to < 1 || to > 12 {
		to = from
	}
	return monthsBetween(from, to)
}

func monthsBetween(from, to int) []string {
	names := monthNames()
	var out []string
	for m := from; ; m = m%12 + 1 {
		out = append(out, names[m-1])
		if m == to {
			return out
		}
	}
}
