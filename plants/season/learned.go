package season

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/table"
)

// LearnedLimit is one row of learned.csv: a limit of a species as the catalogue
// has it and as the notes have it, in the catalogue's unit.
type LearnedLimit struct {
	ID              string
	Limit           fit.Limit
	Catalogue       float64
	Learned         float64 // median
	Low, High       float64 // 90 % interval
	Plants, Gardens int     // it rests on
}

// Limits puts what was learned of species into the units of a catalogue, in its
// order and to four digits. Nothing is learned where it states nothing.
func (l *Learned) Limits(c *catalogue.Catalogue) []LearnedLimit {
	var out []LearnedLimit
	for _, p := range c.Plants {
		for _, s := range l.Species {
			value := limitIn(&p, s.Limit)
			if s.ID != p.ID || math.IsNaN(*value) || s.Limit == fit.TooDeep {
				continue
			}
			out = append(out, LearnedLimit{
				ID: p.ID, Limit: s.Limit, Catalogue: *value, Plants: s.Plants, Gardens: s.Gardens,
				Learned: fourDigits(s.Limit.Scaled(*value, s.Factor)),
				Low:     fourDigits(s.Limit.Scaled(*value, s.Low)), High: fourDigits(s.Limit.Scaled(*value, s.High)),
			})
		}
	}
	return out
}

// fourDigits rounds to four significant digits, which is more than notes tell.
func fourDigits(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		panic(err) // a number that was just written
	}
	return r
}

// limitIn is where a plant keeps a limit.
func limitIn(p *catalogue.Plant, l fit.Limit) *float64 {
	switch l {
	case fit.TooWet:
		return &p.WetH
	case fit.TooDeep:
		return &p.PondMM
	case fit.TooDry:
		return &p.DryD
	case fit.TooCold:
		return &p.LowestC
	}
	panic("season: no such limit: " + string(l))
}

// Applied is a limit that Apply has put in place.
type Applied struct {
	LearnedLimit
	Was float64 // the catalogue's now; other than Catalogue if its table has changed since
}

// Apply returns the catalogue with the learned limits in place of its own, and which;
// none where it states nothing. A limit moved since is moved on by the same measure. One
// that was assumed and is now as well known as a stated one is no longer marked.
func Apply(c *catalogue.Catalogue, limits []LearnedLimit) (*catalogue.Catalogue, []Applied) {
	out := *c
	out.Plants = slices.Clone(c.Plants)
	var applied []Applied
	for _, l := range limits {
		i := slices.IndexFunc(out.Plants, func(p catalogue.Plant) bool { return p.ID == l.ID })
		if i < 0 {
			continue
		}
		value := limitIn(&out.Plants[i], l.Limit)
		if math.IsNaN(*value) {
			continue
		}
		applied = append(applied, Applied{l, *value})
		*value = l.Limit.Scaled(*value, math.Exp(logFactor(l.Limit, l.Catalogue, l.Learned)))
		if l.sure() {
			p := &out.Plants[i]
			p.Assumed = slices.DeleteFunc(slices.Clone(p.Assumed), func(c string) bool { return c == l.Limit.Column() })
		}
	}
	return &out, applied
}

func learnedColumns() []string {
	return []string{"id", "limit", "catalogue", "learned", "low", "high", "plants", "gardens"}
}

// WriteLearned writes learned.csv, in the units of the column that `limit` names.
func WriteLearned(w io.Writer, limits []LearnedLimit) error {
	rows := [][]string{learnedColumns()}
	for _, l := range limits {
		rows = append(rows, []string{
			table.Guard(l.ID), l.Limit.Column(), figure(l.Catalogue), figure(l.Learned), figure(l.Low), figure(l.High),
			strconv.Itoa(l.Plants), strconv.Itoa(l.Gardens),
		})
	}
	if err := csv.NewWriter(w).WriteAll(rows); err != nil {
		return fmt.Errorf("write learned.csv: %w", err)
	}
	return nil
}

// ReadLearned reads what WriteLearned wrote. The error is table.Faults, all of them.
func ReadLearned(name string, r io.Reader) ([]LearnedLimit, error) {
	raw, err := table.Read(name, r)
	if err != nil {
		return nil, err
	}
	in := reader{raw: raw}
	in.columns(learnedColumns(), nil)
	if len(in.faults) > 0 {
		return nil, in.done()
	}
	var out []LearnedLimit
	type key struct{ id, limit string }
	seen := map[key]bool{}
	for i := range raw.Rows {
		l := LearnedLimit{ID: table.Unguard(in.text(i, "id"))}
		if l.ID == "" {
			in.fault(i, "id", "want the id of a plant in the plant table")
		}
		column := in.text(i, "limit")
		limits := Limits()
		at := slices.IndexFunc(limits[:], func(l fit.Limit) bool { return l.Column() == column })
		if at < 0 {
			in.fault(i, "limit", "want wet_h, pond_mm, dry_d or lowest_c")
			continue
		}
		l.Limit = limits[at]
		if k := (key{l.ID, column}); seen[k] {
			in.fault(i, "id", "want each limit of a plant once")
		} else {
			seen[k] = true
		}
		least := 1e-9
		if l.Limit == fit.TooCold {
			least = -273.15
		}
		for _, f := range []struct {
			column string
			value  *float64
		}{{"catalogue", &l.Catalogue}, {"learned", &l.Learned}, {"low", &l.Low}, {"high", &l.High}} {
			want := "want a number in the unit of " + column
			*f.value = in.number(i, f.column, want, least, 1e9)
			if in.text(i, f.column) == "" {
				in.fault(i, f.column, want)
			}
		}
		l.Plants, l.Gardens = in.whole(i, "plants"), in.whole(i, "gardens")
		if between := l.Low <= l.Learned && l.Learned <= l.High; !between && (l.Limit != fit.TooCold || !(l.High <= l.Learned && l.Learned <= l.Low)) {
			in.fault(i, "learned", "want a number between low and high")
		}
		out = append(out, l)
	}
	return out, in.done()
}

func (in *reader) whole(row int, column string) int {
	n, err := strconv.Atoi(in.text(row, column))
	if err != nil || n < 1 {
		in.fault(row, column, "want a whole number from 1")
	}
	return n
}

// ByChange sorts learned limits by how far they moved, farthest first.
func ByChange(limits []LearnedLimit) []LearnedLimit {
	out := slices.Clone(limits)
	slices.SortStableFunc(out, func(a, b LearnedLimit) int { return cmp.Compare(b.change(), a.change()) })
	return out
}

// change is how far a limit moved, in log units.
func (l LearnedLimit) change() float64 { return math.Abs(logFactor(l.Limit, l.Catalogue, l.Learned)) }

// sure says whether a learned limit is as well known as one that a catalogue
// states: half of its 90 % interval is at most 1.645 of its standard deviations.
func (l LearnedLimit) sure() bool {
	return math.Abs(logFactor(l.Limit, l.Low, l.High))/2 <= 1.645*Default().TauStated
}

// logFactor is the logarithm of the factor of a limit: fit.Limit.Scaled turned round.
func logFactor(l fit.Limit, from, to float64) float64 {
	if l == fit.TooCold {
		return (to - from) / l.Scaled(0, math.E)
	}
	return math.Log(to / from)
}

// Moved says whether a limit moved by a tenth, or as much on the scale of cold.
func (l LearnedLimit) Moved() bool { return l.change() > 0.1 }
