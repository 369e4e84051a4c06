package search

import (
	"math"
	"slices"
)

// band is a condition on a number, or an end of one on hours of sun.
type band struct {
	of        column
	low, high float64
}

// scan puts all conditions to all plants. A plant that fails none matches, or,
// if one of them cannot be told of it, counts under each that cannot. Numbers
// come first, without a call for each.
func (x *Index) scan(conditions []asked) ([]match, []Unknown) {
	bands, rest := bands(conditions)
	out := make([]match, 0, len(x.plants)/16+8)
	missing := make([]int, len(conditions))
rows:
	for row := range x.plants {
		p, untold := &x.plants[row], false
		for i := range bands {
			b := &bands[i]
			v := b.of.of(p)
			if v < b.low || v > b.high {
				continue rows
			}
			untold = untold || v != v
		}
		for _, i := range rest {
			switch conditions[i].ask(p) {
			case no:
				continue rows
			case unknown:
				untold = true
			}
		}
		if !untold {
			out = append(out, match{row: int32(row)})
			continue
		}
		for i := range conditions {
			if conditions[i].ask(p) == unknown {
				missing[i]++
			}
		}
	}
	return out, unknowns(conditions, missing)
}

// bands parts conditions into bands and the places of the rest.
func bands(conditions []asked) (bands []band, rest []int) {
	bands = make([]band, 0, len(conditions)+1)
	for i := range conditions {
		c := &conditions[i]
		low, high := c.Range.closed()
		switch {
		case c.Not || !c.f.numeric():
			rest = append(rest, i)
		case c.f.kind == number:
			bands = append(bands, band{c.f.column, low, high})
		default:
			if !math.IsInf(c.Range.Max, 1) { // else its least sun does not count, known or not
				bands = append(bands, band{sunMin, math.Inf(-1), high})
			}
			if !math.IsInf(c.Range.Min, -1) {
				bands = append(bands, band{sunMax, low, math.Inf(1)})
			}
		}
	}
	return bands, rest
}

func unknowns(conditions []asked, missing []int) []Unknown {
	var out []Unknown
	for i, n := range missing {
		f := &conditions[i].f
		u := Unknown{Field: f.Name, Column: f.Columns[0], Plants: n}
		if n > 0 && !slices.Contains(out, u) {
			out = append(out, u)
		}
	}
	return out
}
