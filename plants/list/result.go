package list

import "slices"

// Why says why no more is planted in a zone.
type Why int

const (
	WhyFull       Why = iota // planted up to 95 % or more
	WhyNone                  // no candidate can stand here
	WhyShare                 // every candidate stands up to the share cap
	WhyCapped                // of those at the share cap more would fit, of the others not
	WhySearch                // one more plant would do: the search ended before
	WhyBudget                // room is left for a plant, money is not
	WhyMost                  // room and money are left for another species only, and the bed may hold no more
	WhyGroup                 // room is left, but less than a smallest group of another species
	WhySmallPlant            // what is left is smaller than a plant of any species that stands here
	WhyLayer                 // what would fit is of layers that have their share, and the rest is kept for others
)

func (w Why) String() string {
	switch w {
	case WhyFull:
		return "full"
	case WhyNone:
		return "no species can stand here"
	case WhyShare:
		return "every species that fits is at the limit for one species"
	case WhyCapped:
		return "every species of which more would fit is at the limit for one species"
	case WhySearch:
		return "more would fit, but the search ended before it was found"
	case WhyBudget:
		return "what is left of the budget buys nothing more that may stand here"
	case WhyMost:
		return "the bed may hold no more species"
	case WhyGroup:
		return "what is left is less than a smallest group"
	case WhySmallPlant:
		return "what is left is less than a plant"
	case WhyLayer:
		return "what is left is kept for a layer of which no more fits"
	}
	panic("list: unknown Why")
}

func (p Problem) result(m *model, best *plan, bound float64, stopped string) Result {
	out := Result{
		Lines: m.lines(best.count), Stopped: stopped,
		Cost: sum(best.cost), Notes: p.notes(),
	}
	out.Objective = p.objective(out.Lines)
	out.Bound = max(bound, out.Objective)
	out.Gap = gap(out.Objective, out.Bound)
	for s, zones := range best.in {
		if zones > 0 {
			out.BloomMonths |= p.Species[s].Bloom
		}
	}
	out.Wide = make([]int, len(p.Zones))
	for k, lim := range p.limits() {
		if lim.most == 0 {
			out.Wide[p.Candidates[k].Zone]++
		}
	}
	for z := range best.stands {
		share := 1.0
		if m.zoneArea[z] > 0 {
			share = best.stands[z].cover() / m.zoneArea[z]
		}
		out.Filled = append(out.Filled, share)
		out.WhyEmpty = append(out.WhyEmpty, m.why(best, z, share))
	}
	return out
}

// why looks at what one more plant, or one more group, would break.
func (m *model) why(best *plan, z int, share float64) Why {
	if share >= 0.95 {
		return WhyFull
	}
	if !slices.ContainsFunc(m.inZone[z], func(i int) bool { return m.items[i].layer != Bulb }) {
		return WhyNone
	}
	room := ceiling(m.zoneArea[z]) - best.stands[z].cover()
	money := ceiling(m.budget) - sum(best.cost)
	budget, kinds, group, plant, capped, layer, open := false, false, false, false, false, false, false
	for _, i := range m.inZone[z] {
		it := &m.items[i]
		n := it.least
		if best.count[i] > 0 {
			n = 1
		}
		if it.pair(best.count[i] + n) {
			n = 2
		}
		fits := float64(n)*it.area <= room
		switch {
		case it.layer == Bulb:
		case !fits && n == 1:
			plant = true
		case !fits:
			group = true
		case best.count[i] == it.most:
			capped = true
		case float64(n)*it.area > m.kept[z].left(it.layer, &best.stands[z]):
			layer = true
		case best.in[it.species] == 0 && best.kinds >= m.mostKinds:
			kinds = true
		case float64(n)*it.price > money:
			budget = true
		default:
			open = true
		}
	}
	switch {
	case open:
		return WhySearch
	case budget:
		return WhyBudget
	case kinds:
		return WhyMost
	case layer:
		return WhyLayer
	case capped && (group || plant):
		return WhyCapped
	case group:
		return WhyGroup
	case plant:
		return WhySmallPlant
	}
	return WhyShare
}
