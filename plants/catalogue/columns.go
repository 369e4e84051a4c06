package catalogue

import (
	"math"
	"strings"
)

// columnKind is how a column is written.
type columnKind int

// The kinds of column.
const (
	textColumn   columnKind = iota // free text
	identColumn                    // lower case letters, digits and single hyphens
	numberColumn                   // a plain decimal number with a point; empty is unknown
	monthColumn                    // 1 to 12; empty is none or unknown
	choiceColumn                   // one of Choices; empty is unknown
	manyColumn                     // several of Choices, with | between them
	tagsColumn                     // several words of one's own, with | between them
)

// A Value is one of the values that a column may hold.
type Value struct{ Name, Meaning string }

// A column is what the plant table knows about one of its columns. The reader,
// the checks, the writer and the published schema all go by this one table.
type column struct {
	Name     string
	Meaning  string
	Kind     columnKind
	Unit     string // in words; empty for money
	Required bool   // the column has to be there
	Filled   bool   // and no cell of it may be empty
	Low      float64
	High     float64
	Above    bool // Low itself is not possible
	Choices  []Value
}

// tableColumns returns the columns in their order. The bounds are of what can be at all:
// no air under -90 degC has been measured, no plant stands 120 m high, no year has more
// than 8,784 hours.
func tableColumns() []column {
	none := math.NaN()
	num := func(name, unit string, low, high float64, meaning string) column {
		return column{Name: name, Meaning: meaning, Kind: numberColumn, Unit: unit, Low: low, High: high}
	}
	other := func(name string, kind columnKind, meaning string, choices ...Value) column {
		return column{Name: name, Meaning: meaning, Kind: kind, Low: none, High: none, Choices: choices}
	}
	cols := []column{
		other("id", identColumn, "short name of the plant that no other row has"),
		other("scientificName", textColumn, "scientific name, as in Darwin Core"),
		other("vernacularName", textColumn, "common name, as in Darwin Core"),
		other("form", choiceColumn, "growth form", forms()...),
		other("zones", manyColumn, "the grower's word on where it grows", Zones()...),
		num("sun_min_h", "hours", 0, 24, "least direct sun a day in the growing season"),
		num("sun_max_h", "hours", 0, 24, "most direct sun a day in the growing season"),
		num("wet_h", "hours", 0, 8784, "standing water or saturated soil it tolerates in one go in the growing season"),
		num("pond_mm", "millimetres", 0, 5000, "deepest standing water borne for that long"),
		num("dry_d", "days", 0, 366, "days without rain or watering borne in midsummer on garden loam, once established"),
		num("lowest_c", "degrees Celsius", -90, 30, "lowest air temperature survived"),
		num("root_cm", "centimetres", 0, 7000, "depth that the roots draw water from"),
		num("height_cm", "centimetres", 0, 12000, "mature height"),
		num("spread_cm", "centimetres", 0, 6000, "mature spread, from side to side"),
		other("flower_from", monthColumn, "first month of bloom"),
		other("flower_to", monthColumn, "last month of bloom; may be before the first, over the turn of the year"),
		other("flower_colour", tagsColumn, "colours of the bloom"),
		other("evergreen", choiceColumn, "whether it keeps its leaves", evergreens()...),
		other("native_to", tagsColumn, "regions it is native to"),
		other("spreads", choiceColumn, "whether it runs away", spreadWays()...),
		other("toxic", manyColumn, "whom it harms", toxicities()...),
		num("price", "", 0, 1e6, "price of one plant, in the currency of the table"),
		other("sold_as", choiceColumn, "the size that the price is for", Sizes()...),
		other("tags", tagsColumn, "other traits, as words that a search finds"),
		other("notes", textColumn, "what else there is to say"),
		other("source", textColumn, "where the row comes from"),
		other("assumed", manyColumn, "columns whose value is assumed from a class or a status, not measured"),
	}
	for i := range cols {
		switch cols[i].Name {
		case "id", "vernacularName":
			cols[i].Required, cols[i].Filled = true, true
		case "zones", "sun_min_h", "wet_h", "dry_d":
			cols[i].Required = true
		case "spread_cm":
			cols[i].Required, cols[i].Above = true, true
		case "root_cm", "height_cm":
			cols[i].Above = true
		}
	}
	return cols
}

// forms are the growth forms.
func forms() []Value {
	return []Value{
		{"forb", "soft-stemmed flowering plant"},
		{"grass-like", "narrow leaves in tufts or turf"},
		{"fern-like", "fronds, no flowers"},
		{"bulb", "dies back to a bulb, corm or tuber"},
		{"groundcover", "low and spreading"},
		{"climber", "climbs or scrambles"},
		{"shrub", "woody, several stems"},
		{"small tree", "woody, one stem, up to about 8 m"},
		{"tree", "woody, one stem, taller than that"},
	}
}

// Zones are the parts of a basin.
func Zones() []Value {
	return []Value{
		{"bottom", "the flat floor, under water after rain"},
		{"slope", "the sides, wet at their foot"},
		{"rim", "the edge above the spill level"},
	}
}

// evergreens are the ways of keeping leaves.
func evergreens() []Value {
	return []Value{
		{"yes", "keeps its leaves all year"},
		{"no", "bare or gone in the cold or dry season"},
		{"semi", "keeps part of them, or all in mild years"},
	}
}

// spreadWays are the ways of spreading by itself.
func spreadWays() []Value {
	return []Value{
		{"no", "stays where it is put"},
		{"slowly", "widens its clump year by year"},
		{"runs", "sends out runners that need holding back"},
		{"seeds", "seeds itself about"},
	}
}

// Sizes are the sizes in which nurseries sell plants.
func Sizes() []Value {
	return []Value{
		{"plug", "a deep cell of a tray"},
		{"small pot", "up to a quart"},
		{"gallon pot", "about 15 cm wide and deep"},
		{"bare root", "lifted while dormant, without soil"},
		{"bulb", "a dry bulb, corm or tuber"},
	}
}

// harmless stands alone in the column toxic.
const harmless = "none"

// toxicities are those whom a plant can harm.
func toxicities() []Value {
	return []Value{
		{harmless, "known to be harmless; stands alone"},
		{"people", "harms people who eat it"},
		{"pets", "harms dogs, cats or other pets"},
		{"livestock", "harms grazing animals"},
		{"skin", "sap or hairs hurt the skin"},
	}
}

func valueNames(values []Value) []string {
	names := make([]string, len(values))
	for i, v := range values {
		names[i] = v.Name
	}
	return names
}

func columnNames(cols []column) []string {
	names := make([]string, len(cols))
	for i, c := range cols {
		names[i] = c.Name
	}
	return names
}

// wantNumber says what a cell of a number column should hold.
func (c column) wantNumber() string {
	if c.Unit == "" {
		return "want an amount of money"
	}
	return wantNumber + " of " + c.Unit
}

// wantBounds says what its numbers are between.
func (c column) wantBounds() string {
	want := "want " + formatNumber(c.Low) + " to " + formatNumber(c.High)
	if c.Above {
		want = "want more than " + formatNumber(c.Low) + " and at most " + formatNumber(c.High)
	}
	return strings.TrimSpace(want + " " + c.Unit)
}
