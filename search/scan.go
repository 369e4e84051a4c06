package search

import (
	"cmp"
	"math"
	"slices"

	"hollowbed/plants/catalogue"
)

// band is a condition on a number, or an end of one on hours of sun.
type band struct {
	low, high float64
	values    []float64 // by row
	likely    int       // how many of a few rows it keeps
}

// said is a condition on words, with the answers of each kind of plant.
type said struct {
	*asked
	*kinds
	answers []answer
}

// scan puts all conditions to all plants. A plant that fails none matches, or,
// if one of them cannot be told of it, counts under each that cannot. It sieves the
// rows column by column, the numbers first, and of these the most telling.
func (x *Index) scan(conditions []asked) ([]match, []Unknown) {
	bands, words, rest := x.part(conditions)
	buffer, _ := x.columns.rows.Get().(*[]int32)
	if buffer == nil {
		buffer = new([]int32)
	}
	defer x.columns.rows.Put(buffer)
	*buffer = slices.Grow((*buffer)[:0], len(x.plants))
	rows := x.sieve((*buffer)[:len(x.plants)], bands)
	for i := range words {
		rows = words[i].sieve(rows, x)
	}
	for i := range rest {
		rows = slices.DeleteFunc(rows, func(row int32) bool { return rest[i].ask(&x.plants[row]) == no })
	}
	out := make([]match, 0, len(rows))
	missing := make([]lack, 0, 8)
	for _, row := range rows {
		told := true
		if len(rest) > 0 || untold(row, bands, words) {
			for i := range conditions {
				if c := &conditions[i]; c.ask(&x.plants[row]) == unknown {
					missing, told = count(missing, c.untold(&x.plants[row]), row), false
				}
			}
		}
		if told {
			out = append(out, match{row: row})
		}
	}
	return out, unknowns(conditions, missing)
}

// lack counts the plants that a condition cannot be told of, the last of them in row.
type lack struct {
	Unknown
	row int32
}

// count counts a plant that lacks u, once for all conditions.
func count(missing []lack, u Unknown, row int32) []lack {
	for i := range missing {
		if m := &missing[i]; m.Field == u.Field && m.Column == u.Column {
			if m.row != row {
				m.Plants, m.row = m.Plants+1, row
			}
			return missing
		}
	}
	u.Plants = 1
	return append(missing, lack{u, row})
}

// part parts conditions into bands, those on words, and the rest.
func (x *Index) part(conditions []asked) (bands []band, words []said, rest []*asked) {
	bands = make([]band, 0, len(conditions)+1)
	add := func(of column, low, high float64) {
		b := band{low: low, high: high, values: x.numbers(of)}
		for row := 0; row < len(b.values); row += 1 + len(b.values)/16 {
			b.likely += b.keeps(b.values[row])
		}
		bands = append(bands, b)
	}
	for i := range conditions {
		c := &conditions[i]
		low, high := c.Range.closed()
		switch {
		case !c.f.numeric():
			k := x.kinds(c.f.Name)
			words = append(words, said{c, k, make([]answer, len(k.first))})
		case c.Not:
			rest = append(rest, c)
		case c.f.kind == number:
			add(c.f.column, low, high)
		default:
			if !math.IsInf(c.Range.Max, 1) { // else its least sun does not count, known or not
				add(sunMin, math.Inf(-1), high)
			}
			if !math.IsInf(c.Range.Min, -1) {
				add(sunMax, low, math.Inf(1))
			}
		}
	}
	return bands, words, rest
}

// sieve gives the rows whose numbers lie in all bands or are not known.
func (x *Index) sieve(rows []int32, bands []band) []int32 {
	if len(bands) == 0 {
		for row := range rows {
			rows[row] = int32(row)
		}
		return rows
	}
	slices.SortStableFunc(bands, func(a, b band) int { return cmp.Compare(a.likely, b.likely) })
	kept, b := 0, &bands[0]
	for row, v := range b.values {
		rows[kept] = int32(row)
		kept += b.keeps(v)
	}
	rows = rows[:kept]
	for i := range bands[1:] {
		b, kept = &bands[1+i], 0
		for _, row := range rows {
			rows[kept] = row
			kept += b.keeps(b.values[row])
		}
		rows = rows[:kept]
	}
	return rows
}

// keeps is 1 for a number in the band or not known, without a branch.
func (b *band) keeps(v float64) int {
	under, over := 0, 0
	if v < b.low {
		under = 1
	}
	if v > b.high {
		over = 1
	}
	return 1 - (under | over)
}

// sieve gives the rows that do not fail the condition.
func (s *said) sieve(rows []int32, x *Index) []int32 {
	kept := 0
	for _, row := range rows {
		kind := s.of[row]
		a := s.answers[kind]
		if a == notAsked {
			a = s.ask(&x.plants[s.first[kind]])
			s.answers[kind] = a
		}
		if rows[kept] = row; a != no {
			kept++
		}
	}
	return rows[:kept]
}

// untold says whether a condition cannot be told of a row.
func untold(row int32, bands []band, words []said) bool {
	for i := range bands {
		if math.IsNaN(bands[i].values[row]) {
			return true
		}
	}
	for i := range words {
		if s := &words[i]; s.answers[s.of[row]] == unknown {
			return true
		}
	}
	return false
}

// untold is the field and column for want of which a condition cannot be told of a plant.
func (c *asked) untold(p *catalogue.Plant) Unknown {
	u := Unknown{Field: c.f.Name, Column: c.f.Columns[0]}
	if c.f.kind == hours && (math.IsInf(c.Range.Max, 1) || !math.IsNaN(p.SunMinH)) {
		u.Column = c.f.Columns[1]
	}
	return u
}

// unknowns lists what is missing in the order of the conditions, each column once.
func unknowns(conditions []asked, missing []lack) []Unknown {
	if len(missing) == 0 {
		return nil
	}
	out := make([]Unknown, 0, len(missing))
	for i := 0; i < len(conditions) && len(out) < len(missing); i++ {
		for _, column := range conditions[i].f.Columns {
			for j := range missing {
				if m := &missing[j]; m.Column == column && m.Field == conditions[i].f.Name && m.row >= 0 {
					out, m.row = append(out, m.Unknown), -1
				}
			}
		}
	}
	return out
}
