package season

import (
	"math"
	"slices"
)

// lookSun learns the two ends of every species' range of sun, hours a day, from all its
// plants in all gardens, the other causes as they are believed now. A plant goes by what
// the others of its kind have shown.
func (n *network) lookSun() {
	for s := range n.species {
		var plants []*plant
		for _, k := range n.pairsOf[s] {
			for _, i := range n.pairs[k].plants {
				plants = append(plants, &n.plants[i])
			}
		}
		said := make([]grid, len(plants)) // logs; nil where the notes say nothing
		for end := range n.sun[s] {
			all, others := logNormal(thetaHalf, n.SunSpread), newGrid(thetaHalf)
			for k, p := range plants {
				said[k] = n.sunNotes(p, end)
				for x, v := range said[k] {
					all[x] += v
				}
			}
			for k, p := range plants {
				if said[k] == nil {
					continue
				}
				without(others, all, said[k])
				p.before[LimitCount+end] = others.atLeast(n.Unsettled).belief()
			}
			all.fromLog(slices.Clone(all))
			n.sun[s][end] = all.atLeast(n.Unsettled).belief()
			for k, p := range plants {
				p.after[LimitCount+end] = n.sun[s][end]
				if said[k] == nil {
					p.before[LimitCount+end] = n.sun[s][end]
				}
			}
		}
		for _, p := range plants {
			for i := range p.cases {
				c := &p.cases[i]
				c.odds[atShaded], c.odds[atExposed] = n.sunOdds(c.off[0], p.before[atLeastSun]), n.sunOdds(c.off[1], p.before[atMostSun])
			}
		}
	}
}

// sunNotes gives the log of the chance of a plant's notes by one end of its range: less
// sun that it does with, or more that it stands. nil if its places are far within.
func (n *network) sunNotes(p *plant, end int) grid {
	var out grid
	cause, other := atShaded, atExposed
	if end == 1 {
		cause, other = other, cause
	}
	for i := range p.cases {
		s := &p.cases[i]
		if !(s.off[end] > -thetaHalf*step) {
			continue
		}
		if out == nil {
			out = newGrid(thetaHalf)
		}
		odds := s.odds
		odds[cause], odds[other] = 0, n.sunOdds(s.off[1-end], p.before[LimitCount+1-end])
		for l := range LimitCount {
			odds[causeOf(l)] += n.odds(s.dose[l], against(l, p.before, s.byWet[l]))
		}
		a, c := 0.0, 0.0
		for k, w := range odds {
			a += w * s.like[k]
			c += w
		}
		for k := range out {
			sun := n.sunOdds(s.off[end], Belief{Mean: out.at(k)})
			out[k] += math.Log(max((a+sun*s.like[cause])/(c+sun), leastChance))
		}
	}
	return out
}
