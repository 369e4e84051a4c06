package season

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// leastSeverity is what tells something of a limit: less harms no plant of the catalogue.
const leastSeverity = 0.15

// seen is one case as one limit sees it: (a + b e) / (c + d e), e = exp(-bearing / w).
type seen struct {
	like  [CauseCount]float64 // of the notes, by cause
	odds  [CauseCount]float64 // of the causes without those of limits
	dose  [LimitCount]float64 // severity
	byWet [LimitCount]float64 // dose.ByWet
	off   [2]float64          // hours of sun too few, too many

	pair [2]int  // the causes of two troubles at once,
	both float64 // and the chance of the notes under both; 0 where the signs are not of two
}

type plant struct {
	garden, species string
	name            string
	cases           []seen
	before, after   Bearing
	own             Bearing
	knows           [LimitCount]bool
}

// pair is one species in one garden.
type pair struct {
	species, garden int
	plants          []int
	knows           [LimitCount]bool
	log             [LimitCount]grid // of the chance of its plants' notes, by theta - gamma
	chance          [LimitCount]grid // the same, with the sum 1
	toSpecies       [LimitCount]grid // logs, by theta
	toGarden        [LimitCount]grid // logs, by gamma
}

type network struct {
	Model
	plants      []plant
	pairs       []pair
	species     []string
	gardens     []string
	ground      []float64          // by garden: Case.GroundSD
	assumed     [][LimitCount]bool // by species
	pairsOf     [][]int            // of a species
	pairsIn     [][]int            // of a garden
	theta       [][LimitCount]grid // logs, by species
	gamma       [][2]grid          // logs, by garden: wet, dry
	sun         [][2]Belief        // by species: less than stated it does with, more it stands
	edge        grid               // exp(-bearing / w)
	etaKernel   grid
	gammaNarrow grid // deep and cold: no gamma
}

// gammaOf is which gamma a limit goes by: 0 wet, 1 dry, -1 none.
func gammaOf(limit int) int { return [LimitCount]int{0, -1, 1, -1}[limit] }

func newNetwork(m Model, t *Table, cases []Case) *network {
	n := &network{Model: m, etaKernel: normal(etaHalf, m.Eta), edge: newGrid(plantHalf)}
	for k := range n.edge {
		n.edge[k] = math.Exp(-n.edge.at(k) / m.Steep)
	}
	n.gammaNarrow = normal(gammaHalf, 0)
	var sorted []*Case
	for i := range cases {
		if !cases[i].Ordinary {
			sorted = append(sorted, &cases[i])
		}
	}
	slices.SortStableFunc(sorted, func(a, b *Case) int {
		return cmp.Or(cmp.Compare(a.Species, b.Species), cmp.Compare(a.Garden, b.Garden), cmp.Compare(a.Plant, b.Plant),
			a.From.Compare(b.From), a.To.Compare(b.To))
	})
	gardenAt, l := map[string]int{}, t.chances()
	for _, c := range sorted {
		gardenAt[c.Garden] = 0
	}
	n.gardens = slices.Sorted(maps.Keys(gardenAt))
	for i, g := range n.gardens {
		gardenAt[g] = i
	}
	n.ground = make([]float64, len(n.gardens))
	for i, c := range sorted {
		if i == 0 || c.Species != sorted[i-1].Species {
			n.species = append(n.species, c.Species)
			n.assumed = append(n.assumed, c.Assumed)
		}
		s, g := len(n.species)-1, gardenAt[c.Garden]
		n.ground[g] = c.GroundSD
		if k := len(n.pairs) - 1; k < 0 || n.pairs[k].species != s || n.pairs[k].garden != g {
			n.pairs = append(n.pairs, pair{species: s, garden: g})
		}
		k := len(n.plants) - 1
		if k < 0 || n.plants[k].species != c.Species || n.plants[k].garden != c.Garden || n.plants[k].name != c.Plant {
			n.plants = append(n.plants, plant{garden: c.Garden, species: c.Species, name: c.Plant, before: m.Unlearned(*c)})
			k++
			p := &n.pairs[len(n.pairs)-1]
			p.plants = append(p.plants, k)
		}
		n.plants[k].add(m, t, l, c)
	}
	n.lay()
	return n
}

func (p *plant) add(m Model, t *Table, l *chances, c *Case) {
	s := seen{like: m.logLikelihood(l, joined(c.Notes), -1)}
	for k, v := range s.like {
		s.like[k] = math.Exp(v)
	}
	// What tells too deep from too wet by signs is too fine a thread to learn by:
	// where the table is a little wrong, all of one goes to the other's limit. Which
	// of the two it was is left to what the plant met.
	s.like[atWet] = (s.like[atWet] + s.like[atDeep]) / 2
	s.like[atDeep] = s.like[atWet]
	if n := joined(c.Notes); m.Witness > 1 && !c.Rests && len(n.Seen) > 0 {
		causes, odds, l := Causes(), m.seenOdds(*c, n, m.prior(*c, m.Unlearned(*c))), l
		if w := m.witnessed(t, n); w != t {
			l = w.chances()
		}
		top := likeliest(m.posterior(l, n, odds, -1))
		also, by := m.also(l, n, odds, top)
		s.pair, s.both = [2]int{top, slices.Index(causes[:], also)}, by*s.like[top]
	}
	s.odds[atFine] = 1
	s.off = [2]float64{c.SunShortH, c.SunOverH}
	s.odds[atSlow] = m.slowOdds(c.Months)
	s.odds[atOther] = m.OtherOdds
	for l := range s.dose {
		s.dose[l], s.byWet[l] = c.Dose[l].Severity, c.Dose[l].ByWet
		p.knows[l] = p.knows[l] || s.dose[l] >= leastSeverity
	}
	p.cases = append(p.cases, s)
}

// lay makes the grids and says who shares what.
func (n *network) lay() {
	n.pairsOf, n.pairsIn = make([][]int, len(n.species)), make([][]int, len(n.gardens))
	n.theta, n.gamma = make([][LimitCount]grid, len(n.species)), make([][2]grid, len(n.gardens))
	n.sun = make([][2]Belief, len(n.species))
	for k := range n.pairs {
		p := &n.pairs[k]
		n.pairsOf[p.species] = append(n.pairsOf[p.species], k)
		n.pairsIn[p.garden] = append(n.pairsIn[p.garden], k)
		for l := range LimitCount {
			for _, i := range p.plants {
				p.knows[l] = p.knows[l] || n.plants[i].knows[l]
			}
			if p.knows[l] {
				p.log[l], p.chance[l] = newGrid(placeHalf), newGrid(placeHalf)
				p.toSpecies[l], p.toGarden[l] = newGrid(thetaHalf), newGrid(gammaHalf)
			}
		}
	}
	for s := range n.species {
		for l := range LimitCount {
			n.theta[s][l] = logNormal(thetaHalf, n.tau(n.assumed[s][l]))
		}
	}
	for g := range n.gardens {
		for k := range n.gamma[g] {
			n.gamma[g][k] = logNormal(gammaHalf, n.gammaSD(0, n.ground[g]))
		}
	}
}

func logNormal(half int, sd float64) grid {
	g := normal(half, sd)
	for k, p := range g {
		g[k] = math.Log(max(p, leastChance))
	}
	return g
}

// look has every pair of species and garden gather what notes say of a limit.
func (n *network) look(l int) {
	of, blurred := newGrid(plantHalf), newGrid(placeHalf)
	for k := range n.pairs {
		p := &n.pairs[k]
		if !p.knows[l] {
			continue
		}
		clear(p.log[l])
		for _, i := range p.plants {
			if !n.notes(&n.plants[i], l, of) {
				continue
			}
			blur(blurred, of, n.etaKernel)
			for j, v := range blurred {
				p.log[l][j] += math.Log(max(v, leastChance))
			}
		}
		p.chance[l].fromLog(p.log[l])
	}
}

// notes gives the chance of a plant's notes by what it bears; false if they say nothing.
func (n *network) notes(p *plant, limit int, out grid) bool {
	if !p.knows[limit] {
		return false
	}
	for k := range out {
		out[k] = 1
	}
	for i := range p.cases {
		s := &p.cases[i]
		if !(s.dose[limit] >= leastSeverity) {
			continue
		}
		a, c := 0.0, 0.0
		odds := s.odds
		for l := range LimitCount {
			if l == limit {
				odds[causeOf(l)] += n.FloorOdds
			} else {
				odds[causeOf(l)] += n.odds(s.dose[l], against(l, p.before, s.byWet[l]))
			}
		}
		for k, w := range odds {
			a += w * s.like[k]
			c += w
		}
		dose := math.Log(s.dose[limit]) - s.byWet[limit]*p.before[atWetLimit].Mean
		d := math.Exp(min(dose/n.Steep, mostLogOdds))
		like := s.like[causeOf(limit)]
		if k := slices.Index(s.pair[:], causeOf(limit)); s.both > 0 && k >= 0 { // alone, or with the other
			o := odds[s.pair[1-k]]
			like, d = (like+o*s.both)/(1+o), d*(1+o)
		}
		b := d * like
		top := 0.0
		for k, e := range n.edge {
			out[k] *= (a + b*e) / (c + d*e)
			top = max(top, out[k])
		}
		if top < tooSmall { // only the shape counts
			for k := range out {
				out[k] /= top
			}
		}
	}
	return true
}

// tooSmall is a chance at which chances are made larger, before many seasons of
// one plant make them nothing. leastChance is the least that one counts.
const tooSmall, leastChance = 1e-100, 1e-300

// without returns the chances of logs less those of one message.
func without(dst, logs, message grid) {
	for k := range dst {
		dst[k] = logs[k] - message[k]
	}
	dst.fromLog(dst)
}

// tellSpecies passes what each pair says of a limit on to its species.
func (n *network) tellSpecies(l int) {
	from, blurred := newGrid(gammaHalf), newGrid(thetaHalf)
	for s := range n.species {
		for _, k := range n.pairsOf[s] {
			p := &n.pairs[k]
			if !p.knows[l] {
				continue
			}
			kernel := n.gammaNarrow
			if g := gammaOf(l); g >= 0 {
				without(from, n.gamma[p.garden][g], p.toGarden[l])
				kernel = from
			}
			slices.Reverse(kernel)
			blur(blurred, p.chance[l], kernel)
			replace(n.theta[s][l], p.toSpecies[l], blurred)
		}
	}
}

// tellGardens passes what each pair says of a limit on to its garden.
func (n *network) tellGardens(l int) {
	if gammaOf(l) < 0 {
		return
	}
	from, back := newGrid(thetaHalf), newGrid(placeHalf)
	blurred := newGrid(gammaHalf)
	for g := range n.gardens {
		for _, k := range n.pairsIn[g] {
			p := &n.pairs[k]
			if !p.knows[l] {
				continue
			}
			without(from, n.theta[p.species][l], p.toSpecies[l])
			// by gamma: the sum over theta of P(theta) chance(theta - gamma)
			copy(back, p.chance[l])
			slices.Reverse(back)
			slices.Reverse(from)
			blur(blurred, back, from)
			replace(n.gamma[g][gammaOf(l)], p.toGarden[l], blurred)
		}
	}
}

func reversed(g grid) grid {
	r := slices.Clone(g)
	slices.Reverse(r)
	return r
}

// replace takes the old message out of a figure's logs and puts in the new one,
// given as chances.
func replace(logs, message, chance grid) {
	for k, v := range chance {
		now := math.Log(max(v, leastChance))
		logs[k] += now - message[k]
		message[k] = now
	}
}
