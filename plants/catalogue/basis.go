package catalogue

import (
	"cmp"
	"fmt"
	"strings"
)

// A Basis is what assumed values of one column rest on. Its Mark, a number,
// stands in the source of the plants: "assumed by nursery.yaml [1 3]".
type Basis struct {
	Mark   int
	Column string
	From   string       // column of the source; "" if the value is the same for all
	Values []classValue // the classes that rest on it; none if the value is not taken from classes
	Text   string
	Plants int // how many plants have such a value
}

// classValue is a class of the source and what the map takes it for.
type classValue struct{ Class, Is string }

// String is `[2] wet_h from flooding (High 720, Low 6): a handbook`.
func (b Basis) String() string {
	from := " from " + b.From
	if b.From == "" {
		from = ", the same for all"
	}
	var classes []string
	for _, v := range b.Values {
		classes = append(classes, v.Class+" "+v.Is)
	}
	if len(classes) > 0 {
		from += " (" + strings.Join(classes, ", ") + ")"
	}
	return fmt.Sprintf("[%d] %s%s: %s", b.Mark, b.Column, from, b.Text)
}

// sameForAll is the basis of a number that a map gives to every plant, unless
// the map tells another.
const sameForAll = "one value for every plant, from the map"

// valueBasis tells what a value rests on that is the same for all plants; "" if
// it is not assumed. A limit or a size that is the same for all is a guess,
// whatever the map calls it; a price can well be the same.
func (f from) valueBasis(col column) string {
	if f.Assumed || col.Kind == numberColumn && col.Name != "price" {
		return cmp.Or(f.Basis, sameForAll)
	}
	return ""
}

// bases lists what the values that a map assumes rest on, by column, each with its mark.
func (m *Map) bases() []Basis {
	var all []Basis
	for _, col := range tableColumns() {
		f, ok := m.Columns[col.Name]
		if !ok {
			continue
		}
		for _, b := range f.bases(col) {
			b.Mark, b.Column, b.From = len(all)+1, col.Name, f.From
			all = append(all, b)
		}
	}
	return all
}

func (f from) bases(col column) []Basis {
	var all []Basis
	at := map[string]int{}
	for _, class := range sortedKeys(f.Classes) {
		c := f.Classes[class]
		if c.Is == "" {
			continue
		}
		text := cmp.Or(c.Basis, f.Basis)
		if _, ok := at[text]; !ok {
			at[text] = len(all)
			all = append(all, Basis{Text: text})
		}
		b := &all[at[text]]
		b.Values = append(b.Values, classValue{class, c.Is})
	}
	if f.Otherwise != nil && *f.Otherwise != "" && len(f.Classes) > 0 {
		if _, ok := at[f.Basis]; !ok {
			at[f.Basis] = len(all)
			all = append(all, Basis{Text: f.Basis})
		}
		b := &all[at[f.Basis]]
		b.Values = append(b.Values, classValue{"otherwise", *f.Otherwise})
	}
	if text := f.valueBasis(col); f.From == "" && text != "" {
		return []Basis{{Text: text}}
	}
	if len(f.Classes) == 0 && f.From != "" && f.Assumed {
		return []Basis{{Text: f.Basis}}
	}
	return all
}
