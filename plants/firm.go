package plants

import (
	"cmp"
	"fmt"
	"slices"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
)

func doubtful(v *Verdict) bool {
	return v.Plant.Wild != nil && v.Plant.Wild.Grade == catalogue.Doubtful
}

// firm sees to it that no zone rests on doubtful plants alone where a surer one
// would live: the swap that costs least is made, and noted with its cost.
func (p *Planting) firm(problem *list.Problem, offered []*Verdict, r *list.Result) {
	for z, zone := range p.Exposure.Zones {
		here := func(l list.Line) bool { return problem.Candidates[l.Candidate].Zone == z }
		surer := func(l list.Line) bool { return here(l) && !doubtful(offered[l.Candidate]) }
		if !slices.ContainsFunc(r.Lines, here) || slices.ContainsFunc(r.Lines, surer) {
			continue
		}
		line, by := leastCostly(*problem, *r, here, func(a list.Alternative) bool { return !doubtful(offered[a.Candidate]) })
		switch {
		case line >= 0:
			p.Notes = append(p.Notes, fmt.Sprintf("the %s rested on doubtful plants alone: %s is planted there instead of %s, at %.2g %% of the list's value",
				zone.Zone, offered[by.Candidate].Plant.VernacularName, offered[r.Lines[line].Candidate].Plant.VernacularName, max(0, -100*by.Change/r.Objective)))
			swap(problem, r, line, by)
		case slices.ContainsFunc(offered, func(v *Verdict) bool { return v.Zone == zone.Zone && !doubtful(v) }):
			p.Notes = append(p.Notes, "the "+zone.Zone+" rests on doubtful plants alone: a surer one would live there, but does not fit in beside your wishes")
		default:
			p.Notes = append(p.Notes, "the "+zone.Zone+" rests on doubtful plants alone: no surer one would live there; ask a local grower")
		}
	}
}

// leastCostly finds the line and what could be planted instead of it at least
// loss; line is -1 if nothing could.
func leastCostly(problem list.Problem, r list.Result, of func(list.Line) bool, by func(list.Alternative) bool) (line int, best list.Alternative) {
	line = -1
	for i, alternatives := range list.Alternatives(problem, r) {
		if !of(r.Lines[i]) {
			continue
		}
		for _, a := range alternatives {
			if by(a) && (line < 0 || a.Change > best.Change) {
				line, best = i, a
			}
		}
	}
	return line, best
}

// swap plants by instead of a line.
func swap(problem *list.Problem, r *list.Result, line int, by list.Alternative) {
	cost := func(l list.Line) float64 {
		return float64(l.Count) * problem.Species[problem.Candidates[l.Candidate].Species].Price
	}
	before := cost(r.Lines[line])
	r.Lines[line] = list.Line{Candidate: by.Candidate, Count: by.Count}
	r.Cost += cost(r.Lines[line]) - before
	r.Objective += by.Change
	r.Bound = max(r.Bound, r.Objective)
	if r.Bound > 0 {
		r.Gap = (r.Bound - r.Objective) / r.Bound
	}
	r.BloomMonths = 0
	for _, l := range r.Lines {
		r.BloomMonths |= problem.Species[problem.Candidates[l.Candidate].Species].Bloom
	}
	slices.SortFunc(r.Lines, func(a, b list.Line) int { return cmp.Compare(a.Candidate, b.Candidate) })
}
