package list

import (
	"slices"
)

// plan is a list under search: the numbers in each zone, and sums kept up to date.
type plan struct {
	m      *model
	count  []int   // by item
	sets   [][]int // by zone: items that stand, in the packer's order of worth
	cost   []float64
	gain   []float64 // by zone: objective of the plants alone
	stands []byLayer
	in     []int // by species: zones it stands in
	month  []int // by month from 0: species in flower
	kinds  int
}

func newPlan(m *model) *plan {
	return &plan{
		m: m, count: make([]int, len(m.items)), sets: make([][]int, len(m.inZone)),
		cost: make([]float64, len(m.inZone)), gain: make([]float64, len(m.inZone)),
		stands: make([]byLayer, len(m.inZone)),
		in:     make([]int, len(m.ofSpecies)), month: make([]int, 12),
	}
}

func (p *plan) clone() *plan {
	q := *p
	q.count, q.cost, q.gain, q.stands = slices.Clone(p.count), slices.Clone(p.cost), slices.Clone(p.gain), slices.Clone(p.stands)
	q.in, q.month = slices.Clone(p.in), slices.Clone(p.month)
	q.sets = make([][]int, len(p.sets))
	for z := range p.sets {
		q.sets[z] = slices.Clone(p.sets[z])
	}
	return &q
}

func sum(v []float64) float64 {
	t := 0.0
	for _, x := range v {
		t += x
	}
	return t
}

// bonus is the objective of bloom and variety.
func (p *plan) bonus() float64 {
	b := p.m.kindValue * float64(min(p.kinds, p.m.target))
	for _, j := range p.m.months {
		if p.month[j] > 0 {
			b += p.m.monthValue
		}
	}
	return b
}

func (p *plan) value() float64 { return sum(p.gain) + p.bonus() }

// enter counts a species into the bed (by = 1) or out of it (by = -1) in one zone.
func (p *plan) enter(s, by int) {
	was := p.in[s] > 0
	p.in[s] += by
	if is := p.in[s] > 0; is != was {
		p.kinds += by
		for _, j := range p.m.months {
			if p.m.bloom[s]&(1<<j) != 0 {
				p.month[j] += by
			}
		}
	}
}

// set replaces what stands in zone z.
func (p *plan) set(z int, pk *packing) {
	for _, i := range p.sets[z] {
		p.count[i] = 0
		p.enter(p.m.items[i].species, -1)
	}
	p.sets[z] = append(p.sets[z][:0], pk.set...)
	for j, i := range pk.set {
		p.count[i] = pk.count[j]
		p.enter(p.m.items[i].species, 1)
	}
	p.cost[z], p.gain[z], p.stands[z] = pk.cost, pk.gain, pk.stands
}

// allowed tells whether the bed as a whole obeys its rules on species.
func (p *plan) allowed() bool {
	if p.kinds > p.m.mostKinds {
		return false
	}
	for s, w := range p.m.wanted {
		if w && p.in[s] == 0 {
			return false
		}
	}
	return true
}

// uncovered lists the bulbs of zones where they do not all lie beneath others.
func (p *plan) uncovered() []int {
	var bare []int
	for z := range p.sets {
		for _, i := range p.sets[z] {
			if p.m.items[i].layer == Bulb && !p.stands[z].covered() {
				bare = append(bare, p.m.items[i].species)
			}
		}
	}
	return bare
}

// packing returns a copy of what stands in zone z.
func (p *plan) packing(z int) *packing {
	k := &packing{cost: p.cost[z], gain: p.gain[z], stands: p.stands[z]}
	for _, i := range p.sets[z] {
		k.set = append(k.set, i)
		k.count = append(k.count, p.count[i])
	}
	return k
}

// over returns a plan of a core as a plan of the whole model.
func (m *model) over(p *plan) *plan {
	if p.m == m {
		return p
	}
	at := make(map[int]int, len(m.items)) // items by candidate
	for i := range m.items {
		at[m.items[i].cand] = i
	}
	q := newPlan(m)
	for z := range p.sets {
		pk := p.packing(z)
		for j, i := range pk.set {
			pk.set[j] = at[p.m.items[i].cand]
		}
		q.set(z, pk)
	}
	return q
}
