package search

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// Facet counts the matching plants by the values of one field, under each that they have.
type Facet struct {
	Field   string       `json:"field"`
	Values  []FacetValue `json:"values"`
	Unknown int          `json:"unknown"` // plants with no value stated
}

// FacetValue is one value, written as a query would have it, and its plants.
type FacetValue struct {
	Value string `json:"value"`
	Count int    `json:"count" schema:"1.."`
}

func facetNames() []string {
	var names []string
	for _, f := range Fields() {
		if f.Facet {
			names = append(names, f.Name)
		}
	}
	return names
}

func list(names []string) string { return strings.Join(names, ", ") }

// facet counts one field over all matches: a closed list in its order, others by count
// and name.
func (x *Index) facet(name string, matches []match) Facet {
	f, ok := fieldNamed(name)
	if !ok {
		panic("search: facet on no field: " + name)
	}
	out := Facet{Field: f.Name, Values: []FacetValue{}}
	counts := map[string]int{}
	for _, m := range matches {
		have := labels(f.Name, &x.plants[m.row])
		if len(have) == 0 {
			out.Unknown++
		}
		for i, v := range have {
			if (v != "yes" || f.Name == "evergreen") && !slices.Contains(have[:i], v) {
				counts[v]++
			}
		}
	}
	for v, n := range counts {
		out.Values = append(out.Values, FacetValue{v, n})
	}
	place := func(v string) int {
		if i := slices.Index(f.Values, v); i >= 0 {
			return i
		}
		return len(f.Values)
	}
	slices.SortFunc(out.Values, func(a, b FacetValue) int {
		return cmp.Or(cmp.Compare(place(a.Value), place(b.Value)), cmp.Compare(b.Count, a.Count), cmp.Compare(a.Value, b.Value))
	})
	return out
}

// strangers names values that no plant has at all, with the nearest that one has.
func (x *Index) strangers(conditions []asked) []string {
	var notes []string
	for _, c := range conditions {
		f := c.f
		if f.kind != tag {
			continue
		}
		known := x.valuesOf(f.Name)
		for _, v := range c.Values {
			if slices.ContainsFunc(known, func(k string) bool { return sameLabel(k, v) }) {
				continue
			}
			note := fmt.Sprintf("%s: no plant has %q", f.Name, v)
			if near := table.Nearest(v, known); near != "" {
				note += fmt.Sprintf("; did you mean %s?", near)
			} else if len(known) > 0 && len(known) <= 20 {
				note += "; there is " + list(known)
			}
			notes = append(notes, note)
		}
	}
	return notes
}

// valuesOf lists every value of a field in the table, in order.
func (x *Index) valuesOf(field string) []string {
	seen := map[string]bool{}
	for i := range x.plants {
		for _, v := range labels(field, &x.plants[i]) {
			seen[v] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}
