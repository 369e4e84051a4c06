package list

import (
	"cmp"
	"math/bits"
	"slices"
)

// item is a candidate that can stand, with all that the search needs beside each other.
type item struct {
	cand, species, zone int
	layer               Layer
	area, price         float64
	gain                float64 // objective for one plant
	least, most         int
}

// pair says that so many are two of a plant that stands alone or in threes.
func (it *item) pair(n int) bool { return n == 2 && it.layer == Structure }

// model is a Problem made ready: candidates that cannot stand are gone, and the
// rest lie in an order that does not depend on the order of the candidates.
type model struct {
	items      []item
	inZone     [][]int // items by zone
	ofSpecies  [][]int // items by species
	zoneArea   []float64
	kept       []kept   // by zone
	layers     bool     // some ground is kept
	bloom      []uint16 // by species, wanted months only
	wanted     []bool   // by species: must stand
	months     []int    // wanted months in which some item flowers, from 0
	monthValue float64  // objective for one wanted month in flower
	kindValue  float64  // objective for one more species, up to target
	target     int
	mostKinds  int
	budget     float64
	stop       func() bool // nil: never
}

func (m *model) stopped() bool { return m.stop != nil && m.stop() }

func newModel(p Problem) *model {
	m := &model{
		inZone:    make([][]int, len(p.Zones)),
		ofSpecies: make([][]int, len(p.Species)),
		zoneArea:  make([]float64, len(p.Zones)),
		bloom:     make([]uint16, len(p.Species)),
		wanted:    make([]bool, len(p.Species)),
		target:    p.varietyTarget(),
		mostKinds: len(p.Species),
		budget:    p.Budget,
		stop:      p.Stop,
	}
	if p.MostSpecies > 0 {
		m.mostKinds = min(m.mostKinds, p.MostSpecies)
	}
	for z := range p.Zones {
		m.zoneArea[z] = p.Zones[z].AreaM2
	}
	for s := range p.Species {
		m.bloom[s] = p.Species[s].Bloom & p.BloomMonths
	}
	if p.BloomMonths != 0 {
		m.monthValue = p.BloomWeight / float64(bits.OnesCount16(p.BloomMonths))
	}
	if m.target > 0 {
		m.kindValue = p.VarietyWeight / float64(m.target)
	}
	limits := p.limits()
	m.kept = p.kept(limits)
	for _, k := range m.kept {
		m.layers = m.layers || k.of.cover() > 0
	}
	m.addItems(p, limits)
	flowers := uint16(0)
	for i := range m.items {
		flowers |= m.bloom[m.items[i].species]
	}
	for ; flowers != 0; flowers &= flowers - 1 {
		m.months = append(m.months, bits.TrailingZeros16(flowers))
	}
	return m
}

func (m *model) addItems(p Problem, limits []limit) {
	total := p.totalAreaM2()
	var items []item
	for k, lim := range limits {
		c := p.Candidates[k]
		s := p.Species[c.Species]
		m.wanted[c.Species] = s.Wanted
		if lim.most == 0 {
			continue
		}
		items = append(items, item{
			cand: k, species: c.Species, zone: c.Zone, layer: s.Layer,
			area: s.AreaM2, price: s.Price, gain: s.AreaM2 / total * p.worth(c),
			least: lim.least, most: lim.most,
		})
	}
	slices.SortFunc(items, func(a, b item) int {
		return cmp.Or(cmp.Compare(a.zone, b.zone),
			cmp.Compare(b.gain/b.area, a.gain/a.area), cmp.Compare(a.species, b.species))
	})
	for _, it := range items {
		m.add(it)
	}
}

func (m *model) add(it item) {
	m.inZone[it.zone] = append(m.inZone[it.zone], len(m.items))
	m.ofSpecies[it.species] = append(m.ofSpecies[it.species], len(m.items))
	m.items = append(m.items, it)
}

// lines turns counts by item into lines in the order of the candidates.
func (m *model) lines(count []int) []Line {
	var out []Line
	for i, n := range count {
		if n > 0 {
			out = append(out, Line{m.items[i].cand, n})
		}
	}
	slices.SortFunc(out, func(a, b Line) int { return cmp.Compare(a.Candidate, b.Candidate) })
	return out
}
