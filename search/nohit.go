package search

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
)

// NoHit says why nothing matches.
type NoHit struct {
	Excluded []Excluded `json:"excluded"`
	Nearest  *Near      `json:"nearest,omitempty"`
}

// Excluded is one thing asked for and how many plants it shuts out.
type Excluded struct {
	Asked   string `json:"asked"`
	Misses  int    `json:"misses"`  // plants that fail it, by itself
	Unknown int    `json:"unknown"` // plants for which it cannot be told
	Without int    `json:"without"` // plants that match when it alone is dropped

	words int // how many words were asked for, where Asked is these; else 0
}

const theWords = "the words "

func (e Excluded) String() string {
	switch e.words {
	case 0:
	case 1:
		return fmt.Sprintf("%d lack the word %s; without it: %d", e.Misses, strings.TrimPrefix(e.Asked, theWords), e.Without)
	default:
		return fmt.Sprintf("%d have none of the words %s; without these: %d", e.Misses, strings.TrimPrefix(e.Asked, theWords), e.Without)
	}
	s := fmt.Sprintf("%s shuts out %d", e.Asked, e.Misses)
	if e.Misses == 0 && e.Unknown > 0 {
		s = fmt.Sprintf("%s: not known of %d", e.Asked, e.Unknown)
	} else if e.Unknown > 0 {
		s += fmt.Sprintf(" and %d of which it is not known", e.Unknown)
	}
	return s + fmt.Sprintf("; without it: %d", e.Without)
}

// Near is the plant that misses by least, and what it misses.
type Near struct {
	Row            int      `json:"-"`
	ID             string   `json:"id"`
	VernacularName string   `json:"vernacularName"`
	Missed         []Reason `json:"missed"`
}

// noHit goes through the table once more and counts what failed. passed is how
// many plants met all but survival, doomed who they are.
func (x *Index) noHit(f finding, passed int, doomed []match) *NoHit {
	out := &NoHit{}
	if f.Survives != nil && passed > 0 {
		untold := 0
		for _, m := range doomed {
			if math.IsNaN(m.fate.risk) {
				untold++
			}
		}
		out.Excluded = []Excluded{{Asked: "survives there", Misses: passed - untold, Unknown: untold, Without: passed}}
		out.Nearest = x.leastDoomed(doomed)
		return out
	}
	s := f.spoken
	speaks := s != nil && s.wanted()
	for _, c := range f.asked {
		out.Excluded = append(out.Excluded, Excluded{Asked: c.written()})
	}
	if speaks {
		out.Excluded = append(out.Excluded, Excluded{Asked: theWords + textOf(f.Words), words: len(f.Words)})
	}
	least, best := math.Inf(1), -1
	for row := range x.plants {
		p := &x.plants[row]
		failed, last, miss := 0, 0, 0.0
		for i, c := range f.asked {
			switch c.ask(p) {
			case no:
				out.Excluded[i].Misses++
			case unknown:
				out.Excluded[i].Unknown++
			default:
				continue
			}
			failed, last = failed+1, i
			miss += c.distance(c.f, p)
		}
		if s != nil && s.out[row] {
			miss = math.Inf(1)
		}
		if speaks && !s.has(row) {
			failed, last, miss = failed+1, len(f.asked), miss+1
			out.Excluded[last].Misses++
		}
		if failed == 1 {
			out.Excluded[last].Without++
		}
		if failed > 0 && miss < least {
			least, best = miss, row
		}
	}
	if best >= 0 && len(f.asked) > 0 {
		out.Nearest = x.near(best, f)
	}
	return out
}

// has reports whether a plant has some of the words and none it must not have.
func (s *spoken) has(row int) bool { return !s.out[row] && s.hits[row] > 0 }

func textOf(words []Word) string { return Query{Words: words}.String() }

func (x *Index) near(row int, f finding) *Near {
	p := &x.plants[row]
	n := &Near{Row: row, ID: p.ID, VernacularName: p.VernacularName}
	for _, c := range f.asked {
		if c.ask(p) != yes {
			n.Missed = append(n.Missed, c.reason(&c.f, p, true))
		}
	}
	if f.spoken != nil && f.spoken.wanted() && !f.spoken.has(row) {
		n.Missed = append(n.Missed, Reason{Kind: "word", Asked: textOf(f.Words), Text: "has none of the words " + textOf(f.Words)})
	}
	return n
}

// leastDoomed is the plant with the lowest risk among those that do not survive.
func (x *Index) leastDoomed(doomed []match) *Near {
	if len(doomed) == 0 {
		return nil
	}
	m := slices.MinFunc(doomed, func(a, b match) int {
		return cmp.Or(cmp.Compare(percent(a.fate.risk), percent(b.fate.risk)), cmp.Compare(a.fate.risk, b.fate.risk), cmp.Compare(a.row, b.row))
	})
	p := &x.plants[m.row]
	return &Near{Row: int(m.row), ID: p.ID, VernacularName: p.VernacularName,
		Missed: []Reason{{Kind: "risk", Field: "survives", Text: m.fate.reason, Found: stated(m.fate.risk)}}}
}

// distance says how far a plant is from meeting a condition it does not meet:
// for numbers the gap as a share of the number asked, at most 1; for months
// the months between as a share of half a year; 1 for all else and for
// unknown values.
func (c Condition) distance(f Field, p *catalogue.Plant) float64 {
	gap := math.NaN()
	switch {
	case c.Not:
		return 1
	case f.kind == number:
		gap = c.gap(f.column.of(p)) / c.Range.scale(f)
	case f.kind == hours:
		gap = c.sunGap(p) / c.Range.scale(f)
	case f.kind == month:
		gap = monthsApart(c.Values, bloomMonths(p)) / 6
	}
	if math.IsNaN(gap) {
		return 1
	}
	return min(gap, 1)
}

// scale is the number asked, or for temperatures, without a natural zero, 10 deg C.
func (r Range) scale(f Field) float64 {
	if f.dim == degreesC {
		return 10
	}
	asked := r.Min
	if math.IsInf(asked, -1) {
		asked = r.Max
	}
	return max(math.Abs(asked), 1)
}

// gap is how far x lies outside the range; NaN if x is unknown.
func (c Condition) gap(x float64) float64 {
	return max(c.Range.Min-x, x-c.Range.Max, 0)
}

// sunGap is how far the hours a plant takes are from those asked.
func (c Condition) sunGap(p *catalogue.Plant) float64 {
	gap := 0.0
	if !math.IsInf(c.Range.Min, -1) {
		gap = max(gap, c.Range.Min-p.SunMaxH)
	}
	if !math.IsInf(c.Range.Max, 1) {
		gap = max(gap, p.SunMinH-c.Range.Max)
	}
	return gap
}

// monthsApart is the least number of months between two sets, round the year.
func monthsApart(a, b []string) float64 {
	least := math.NaN()
	for _, x := range a {
		for _, y := range b {
			m, _ := monthNumber(x)
			n, _ := monthNumber(y)
			d := math.Abs(float64(m - n))
			d = min(d, 12-d)
			if !(d >= least) {
				least = d
			}
		}
	}
	return least
}
