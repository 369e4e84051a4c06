package list

import (
	"cmp"
	"math"
	"slices"
)

// Alternative is a candidate that could replace a line.
type Alternative struct {
	Candidate int
	Count     int     // as many as the freed and the empty room, the share cap and the money allow
	Change    float64 // of the objective; mostly negative
}

// Alternatives returns what could stand in place of one line of the result,
// best first: candidates of the same zone that do not stand there yet, with all
// other lines left as they are. Lists that would break a rule are left out, so
// the answer is empty if the line holds the last place of a wanted species.
// line is an index into res.Lines; it panics if there is no such line or if res
// is not a list for p.
func Alternatives(p Problem, res Result, line int) []Alternative {
	m := newModel(p)
	old := p.Candidates[res.Lines[line].Candidate]
	rest := slices.Delete(slices.Clone(res.Lines), line, line+1)
	room, money := ceiling(p.Zones[old.Zone].AreaM2), ceiling(p.Budget)
	inBed := make([]int, len(p.Species))
	stands := make([]bool, len(p.Candidates))
	stands[res.Lines[line].Candidate] = true
	for _, l := range rest {
		c := p.Candidates[l.Candidate]
		if c.Zone == old.Zone {
			room -= float64(float64(l.Count) * p.Species[c.Species].AreaM2)
		}
		money -= float64(float64(l.Count) * p.Species[c.Species].Price)
		inBed[c.Species]++
		stands[l.Candidate] = true
	}
	if p.Species[old.Species].Wanted && inBed[old.Species] == 0 {
		return nil
	}
	kinds := 0
	for _, n := range inBed {
		if n > 0 {
			kinds++
		}
	}
	before := p.Objective(res.Lines)
	var out []Alternative
	for _, i := range m.inZone[old.Zone] {
		it := &m.items[i]
		if stands[it.cand] || inBed[it.species] == 0 && kinds >= m.mostKinds {
			continue
		}
		n := math.Min(float64(it.most), math.Floor(room/it.area))
		if it.price > 0 {
			n = math.Min(n, math.Floor(money/it.price))
		}
		if n < float64(it.least) {
			continue
		}
		after := p.Objective(append(slices.Clone(rest), Line{it.cand, int(n)}))
		out = append(out, Alternative{it.cand, int(n), after - before})
	}
	slices.SortFunc(out, func(a, b Alternative) int {
		return cmp.Or(cmp.Compare(b.Change, a.Change), cmp.Compare(a.Candidate, b.Candidate))
	})
	return out
}
