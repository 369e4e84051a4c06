package list

import (
	"errors"
	"fmt"
)

// check returns every rule that lines break, joined, or nil. It works from the
// Problem alone, so that it can judge a list from anywhere.
func (p Problem) check(lines []Line) error {
	if err := p.validate(); err != nil {
		return err
	}
	var broken []error
	breaks := func(format string, args ...any) { broken = append(broken, fmt.Errorf(format, args...)) }

	limits := p.limits()
	seen := make([]bool, len(p.Candidates))
	inBed := make([]bool, len(p.Species))
	stands := make([]byLayer, len(p.Zones))
	cost := 0.0
	for i, l := range lines {
		if l.Candidate < 0 || l.Candidate >= len(p.Candidates) {
			breaks("line %d: candidate %d: want 0 to %d", i, l.Candidate, len(p.Candidates)-1)
			continue
		}
		c := p.Candidates[l.Candidate]
		s, lim := p.Species[c.Species], limits[l.Candidate]
		if seen[l.Candidate] {
			breaks("line %d: %q in %q: listed twice", i, s.ID, p.Zones[c.Zone].Name)
		}
		seen[l.Candidate] = true
		if s.Layer == Structure && l.Count == 2 {
			breaks("line %d: %q in %q: two stand, and they stand singly or in threes", i, s.ID, p.Zones[c.Zone].Name)
		}
		if l.Count < max(lim.least, 1) || l.Count > lim.most {
			breaks("line %d: %q in %q: count %d: want %d to %d", i, s.ID, p.Zones[c.Zone].Name, l.Count, lim.least, lim.most)
		}
		inBed[c.Species] = true
		stands[c.Zone][s.Layer] += float64(float64(l.Count) * s.AreaM2)
		cost += float64(float64(l.Count) * s.Price)
	}
	for z, k := range p.kept(limits) {
		has, others, area, free := stands[z], 0.0, p.Zones[z].AreaM2, p.Zones[z].AreaM2
		for l := NoLayer; l < Bulb; l++ {
			others += has[l]
			free -= k.of[l]
		}
		if others > area*(1+areaSlack) {
			breaks("zone %q: %.6g m2 planted: want at most %.6g", p.Zones[z].Name, others, area)
		}
		for some := range 1 << Bulb { // whatever layers stand for, the others keep theirs
			on, most := 0.0, free
			for l := NoLayer; l < Bulb; l++ {
				if some&(1<<l) != 0 {
					on += has[l]
					most += k.of[l]
				}
			}
			if on > most+area*areaSlack {
				breaks("zone %q: %.6g m2 of layers %b: the others leave %.6g", p.Zones[z].Name, on, some, most)
			}
		}
		if has[Bulb] > others+area*areaSlack {
			breaks("zone %q: bulbs lie under %.6g m2, the others cover %.6g", p.Zones[z].Name, has[Bulb], others)
		}
	}
	if cost > p.Budget*(1+areaSlack) {
		breaks("cost %.6g: want at most the budget of %.6g", cost, p.Budget)
	}
	kinds := 0
	hasCandidate := make([]bool, len(p.Species))
	for _, c := range p.Candidates {
		hasCandidate[c.Species] = true
	}
	for s, in := range inBed {
		if in {
			kinds++
		} else if p.Species[s].Wanted && hasCandidate[s] {
			breaks("wanted species %q: stands nowhere", p.Species[s].ID)
		}
	}
	if p.MostSpecies > 0 && kinds > p.MostSpecies {
		breaks("%d species: want at most %d", kinds, p.MostSpecies)
	}
	return errors.Join(broken...)
}
