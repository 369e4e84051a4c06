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

// Alternatives returns what could stand in place of each line, best first: candidates of
// the same zone that do not stand there yet, all other lines left as they are. Lists that
// would break a rule are left out. It panics if res is not a list for p.
func Alternatives(p Problem, res Result) [][]Alternative {
	m, now := newModel(p), p.objective(res.Lines)
	out := make([][]Alternative, len(res.Lines))
	for line := range res.Lines {
		out[line] = m.instead(&p, res.Lines, line, now)
	}
	return out
}

// instead returns what could stand in place of one line; now is the objective as it is.
func (m *model) instead(p *Problem, lines []Line, line int, now float64) []Alternative {
	old := p.Candidates[lines[line].Candidate]
	money, beside := ceiling(p.Budget), byLayer{}
	rest := p.newTally(m.target)
	stands := map[int]bool{lines[line].Candidate: true}
	for j, l := range lines {
		if j == line {
			continue
		}
		s := &p.Species[p.Candidates[l.Candidate].Species]
		if p.Candidates[l.Candidate].Zone == old.Zone {
			beside[s.Layer] += float64(float64(l.Count) * s.AreaM2)
		}
		money -= float64(float64(l.Count) * s.Price)
		rest.add(l)
		stands[l.Candidate] = true
	}
	if p.Species[old.Species].Wanted && !rest.in[old.Species] {
		return nil
	}
	var out []Alternative
	for _, i := range m.inZone[old.Zone] {
		it := &m.items[i]
		if stands[it.cand] || !rest.in[it.species] && rest.kinds >= m.mostKinds {
			continue
		}
		n := float64(it.most)
		if it.layer != Bulb {
			n = math.Min(n, math.Floor(m.kept[old.Zone].left(it.layer, &beside)/it.area))
		}
		if it.price > 0 {
			n = math.Min(n, math.Floor(money/it.price))
		}
		if it.pair(int(n)) {
			n = 1
		}
		after := beside
		after[it.layer] += float64(n * it.area)
		if n < float64(it.least) || !after.covered() {
			continue
		}
		value := rest.valueOf(rest.next(Line{it.cand, int(n)}))
		out = append(out, Alternative{it.cand, int(n), value - now})
	}
	slices.SortFunc(out, func(a, b Alternative) int {
		return cmp.Or(cmp.Compare(b.Change, a.Change), cmp.Compare(a.Candidate, b.Candidate))
	})
	return out
}
