package search

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// Sorts lists what hits can be sorted by instead of the best first.
func Sorts() []string {
	return strings.Fields("name height spread bloom sun wet pond dry cold price")
}

func checkSort(by string) error {
	name := strings.TrimPrefix(by, "-")
	if by == "" || slices.Contains(Sorts(), name) {
		return nil
	}
	return table.Faults{{File: "query", Line: 1, Column: 1, Name: "sort", Value: by, Want: didYouMean("expected one of "+list(Sorts()), fold(name), Sorts())}}
}

// compareKnown puts the smaller first, and what is not known last.
func compareKnown(a, b float64) int {
	if math.IsNaN(a) != math.IsNaN(b) {
		return cmp.Compare(b, a) // which puts NaN first
	}
	return cmp.Compare(a, b)
}

// grade scores matches that no words score, and makes ready what they are sorted by.
func (x *Index) grade(matches []match, f *finding) {
	if name, down := strings.CutPrefix(f.Sort, "-"); f.Sort != "" {
		of := x.sortKey(name)
		f.key = func(row int32) float64 {
			if down {
				return -of(row)
			}
			return of(row)
		}
	}
	switch {
	case f.like != nil:
		for i := range matches {
			matches[i].score, _ = alike(&x.plants[matches[i].row], f.like)
		}
	case f.spoken != nil && f.spoken.wanted():
	default:
		for i := range f.asked {
			if room := x.room(&f.asked[i]); room != nil {
				for k := range matches {
					matches[k].score += room(matches[k].row)
				}
			}
		}
	}
}

// sortKey is the number that a plant is sorted by; NaN where it is not known.
func (x *Index) sortKey(name string) func(row int32) float64 {
	switch f, _ := fieldNamed(name); {
	case name == "name":
		order := make([]int32, len(x.plants))
		for i := range order {
			order[i] = int32(i)
		}
		slices.SortStableFunc(order, func(a, b int32) int {
			return cmp.Compare(fold(x.plants[a].VernacularName), fold(x.plants[b].VernacularName))
		})
		place := make([]float64, len(order))
		for i, row := range order {
			place[row] = float64(i)
		}
		return func(row int32) float64 { return place[row] }
	case f.kind == month:
		return func(row int32) float64 {
			if from := x.plants[row].FlowerFrom; from >= 1 && from <= 12 {
				return float64(from)
			}
			return math.NaN()
		}
	default:
		values := x.numbers(f.column) // of sun: the least
		return func(row int32) float64 { return values[row] }
	}
}

// mostRoomC and mostRoomH are how far inside its range of cold and of sun a plant
// may be for more to be no better. Assumptions, no source.
const (
	mostRoomC = 20.0
	mostRoomH = 2.0
)

// room says how well plants that meet a condition do so, 0 to 1; nil where all do alike:
// how far a limit lies beyond what was asked, or inside the range; how many of the
// months; how few other colours.
func (x *Index) room(c *asked) func(row int32) float64 {
	low, high := c.Range.Min, c.Range.Max
	upTo := func(part float64) float64 {
		if !(part > 0) {
			return 0
		}
		return min(part, 1)
	}
	switch {
	case c.Not || c.quiet:
		return nil
	case c.f.kind == number && c.f.bears > 0 && low > 0 && math.IsInf(high, 1):
		values := x.numbers(c.f.column)
		return func(row int32) float64 { return upTo(values[row]/low - 1) }
	case c.f.kind == number && c.f.bears < 0 && !math.IsInf(high, 1) && math.IsInf(low, -1):
		values := x.numbers(c.f.column)
		return func(row int32) float64 { return upTo((high - values[row]) / mostRoomC) }
	case c.f.kind == hours && low == high:
		least, most := x.numbers(sunMin), x.numbers(sunMax)
		return func(row int32) float64 { return upTo(min(low-least[row], most[row]-low) / mostRoomH) }
	case c.f.kind == month && !c.begins, c.f.Name == "colour":
		k := x.kinds(c.f.Name)
		memo := make([]float64, len(k.first))
		for kind, row := range k.first {
			memo[kind] = met(labels(c.f.Name, &x.plants[row]), c.Values, c.f.kind == month)
		}
		return func(row int32) float64 { return memo[k.of[row]] }
	}
	return nil
}

// met is how many of the values asked a plant has, as a part of them or of all it has.
func met(have, asked []string, ofAsked bool) float64 {
	n := 0
	for _, h := range have {
		if oneOf(h, asked) == yes {
			n++
		}
	}
	of := len(have)
	if ofAsked {
		of = len(asked)
	}
	if of == 0 {
		return 0
	}
	return float64(n) / float64(of)
}
