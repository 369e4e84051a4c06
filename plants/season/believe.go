package season

import (
	"math"
)

// believe works out what is held of every plant and a limit: without its own
// notes, and in the last sweep with them.
func (n *network) believe(l int, last bool) {
	w := &work{
		theta: newGrid(thetaHalf), gamma: newGrid(gammaHalf), place: newGrid(placeHalf), logs: newGrid(placeHalf),
		of: newGrid(plantHalf), blurred: newGrid(placeHalf), bearing: newGrid(plantHalf), own: newGrid(etaHalf),
	}
	for k := range n.pairs {
		p := &n.pairs[k]
		w.meet(n, p, l)
		for _, i := range p.plants {
			n.plants[i].believe(n, w, p, l, last)
		}
	}
}

// work is the scratch of believe.
type work struct {
	theta, gamma, place, logs, of, blurred, bearing, own grid
}

// meet finds what is held of theta - gamma by all but the plants of a pair.
func (w *work) meet(n *network, p *pair, l int) {
	gamma := n.gammaNarrow
	if !p.knows[l] {
		w.theta.fromLog(n.theta[p.species][l])
		if g := gammaOf(l); g >= 0 {
			w.gamma.fromLog(n.gamma[p.garden][g])
			gamma = w.gamma
		}
	} else {
		without(w.theta, n.theta[p.species][l], p.toSpecies[l])
		if g := gammaOf(l); g >= 0 {
			without(w.gamma, n.gamma[p.garden][g], p.toGarden[l])
			gamma = w.gamma
		}
	}
	spread(w.place, w.theta, reversed(gamma))
	w.place.normalise()
	for k, v := range w.place {
		w.logs[k] = math.Log(max(v, leastChance))
	}
	if p.knows[l] {
		for k, v := range p.log[l] {
			w.logs[k] += v
		}
	}
}

func (q *plant) believe(n *network, w *work, p *pair, l int, last bool) {
	speaks := n.notes(q, l, w.of)
	copy(w.place, w.logs)
	if speaks {
		blur(w.blurred, w.of, n.etaKernel)
		for k, v := range w.blurred {
			w.place[k] -= math.Log(max(v, leastChance))
		}
	}
	w.place.fromLog(w.place)
	spread(w.bearing, w.place, n.etaKernel)
	w.bearing.normalise()
	before := w.bearing.belief()
	if last {
		q.after[l], q.own[l] = before, Belief{SD: n.Eta}
		if speaks {
			for k, e := range n.etaKernel {
				sum := 0.0
				for j, v := range w.place {
					sum += v * w.of[j+k]
				}
				w.own[k] = e * sum
			}
			w.own.normalise()
			q.own[l] = w.own.belief()
			for k, v := range w.of {
				w.bearing[k] *= v
			}
			w.bearing.normalise()
			q.after[l] = w.bearing.belief()
		}
	}
	q.before[l] = before
}

// learned reads the answer off the grids.
func (n *network) learned() *Learned {
	out := &Learned{}
	for s, id := range n.species {
		out.Sun = append(out.Sun, speciesSun{id, n.sun[s]})
	}
	g := newGrid(thetaHalf)
	for s, id := range n.species {
		for l, limit := range Limits() {
			x := SpeciesLimit{ID: id, Limit: limit}
			for _, k := range n.pairsOf[s] {
				count := n.countOf(&n.pairs[k], l)
				x.Plants += count
				if count > 0 {
					x.Gardens++
				}
			}
			if x.Plants == 0 {
				continue
			}
			g.fromLog(n.theta[s][l])
			sure := g.atLeast(n.Unsettled)
			x.Belief = sure.belief()
			x.Factor, x.Low, x.High = middle(sure)
			out.Species = append(out.Species, x)
		}
	}
	g = newGrid(gammaHalf)
	for i, name := range n.gardens {
		x := gardenFactor{Garden: name}
		for _, k := range n.pairsIn[i] {
			p := &n.pairs[k]
			x.WetPlants += n.countOf(p, 0)
			x.DryPlants += n.countOf(p, 2)
		}
		g.fromLog(n.gamma[i][0])
		x.WetBelief = g.belief()
		x.Wet, x.WetLow, x.WetHigh = middle(g)
		g.fromLog(n.gamma[i][1])
		x.DryBelief = g.belief()
		x.Dry, x.DryLow, x.DryHigh = middle(g)
		out.Gardens = append(out.Gardens, x)
	}
	for i := range n.plants {
		p := &n.plants[i]
		out.Plants = append(out.Plants, PlantBearing{Garden: p.garden, Plant: p.name, Species: p.species, Before: p.before, After: p.after, Own: p.own})
	}
	sortPlants(out.Plants)
	return out
}

func (n *network) countOf(p *pair, limit int) int {
	count := 0
	for _, i := range p.plants {
		if n.plants[i].knows[limit] {
			count++
		}
	}
	return count
}

// middle is the median and the 90 % interval, as multiples.
func middle(g grid) (median, low, high float64) {
	return math.Exp(g.quantile(0.5)), math.Exp(g.quantile(0.05)), math.Exp(g.quantile(0.95))
}
