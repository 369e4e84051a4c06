package list

import (
	"errors"
	"fmt"
	"math"
)

// defaultEffort is the effort when Problem.Effort is 0.
const defaultEffort = 200_000

// Reasons for Result.Stopped.
const (
	stoppedProved = "proved optimal"
	stoppedGap    = "gap under 0.1 %"
	stoppedEffort = "effort spent"
)

const (
	provedGap = 1e-9
	enoughGap = 1e-3
	// searchGap is the gap at which the search ends.
	searchGap = 5e-4
	// boundTrust is the relative error that rounding may leave in the bound.
	boundTrust = 1e-7
	// boundRounds is the number of steps of the bound before the search and after.
	boundRounds = 150
	// wholeRounds is the number of steps of the bound with zones in whole numbers.
	wholeRounds = 80
)

// Result is a list and what is known about it.
type Result struct {
	Lines     []Line  // by candidate index
	Objective float64 // see Problem
	Bound     float64 // no list of this problem is better
	Gap       float64 // (Bound - Objective) / Bound, 0 if Bound is 0
	Stopped   string  // why the search ended

	Filled      []float64 // by zone: planted share of its area
	WhyEmpty    []Why     // by zone: why no more is planted
	Wide        []int     // by zone: how many candidates are too wide for a smallest group within the share cap
	BloomMonths uint16    // months with a flower, wanted or not
	Cost        float64
	Notes       []string // where rules gave way, which wishes had no place
}

// ErrStopped is the error of a search that Problem.Stop ended.
var ErrStopped = errors.New("list: stopped")

// Solve returns a good list and a bound on the best one. The error may be a *Clash.
func Solve(p Problem) (Result, error) {
	if err := p.validate(); err != nil {
		return Result{}, err
	}
	m := newModel(p)
	start, err := placeWanted(p, m)
	if err != nil {
		return Result{}, err
	}
	effort := p.Effort
	if effort == 0 {
		effort = defaultEffort
		if m.layers { // their ground is filled with care, which takes more tries
			effort *= 3
		}
	}
	best, bound, stopped := m.solve(start, p.Seed, effort)
	if m.stopped() {
		return Result{}, ErrStopped
	}
	if bare := best.uncovered(); bare != nil {
		return Result{}, &Clash{ids(p, bare), "bulbs grow beneath other plants, of which too few would stand in their zone"}
	}
	return p.result(m, best, bound, stopped), nil
}

// solve bounds the best list, then alternates rounds of search in the core of the
// model with a price of money taken from the bound. Where a gap stays, zones in
// whole numbers may close it.
func (m *model) solve(start []int, seed uint64, effort int) (*plan, float64, string) {
	r := newRelaxation(m)
	d := newDual(m, r.out)
	ground, bound := d.lower()
	c, start := d.core(ground, start)
	s := newSearch(c, c.startPlan(start), seed)
	s.descend()
	best := s.p.clone()

	at := r.startPrices()
	tighten := func(rounds int) {
		var res *relaxed
		at, res = r.lower(at, best.value(), rounds)
		bound = math.Min(bound, res.value)
	}
	money := 0.0
	if c == m {
		tighten(boundRounds)
		money = at.money
	} else if d.used[d.money()] {
		money = ground[d.money()] / m.budget
	}
	for s.k.tried < effort && gap(best.value(), bound) > searchGap && !m.stopped() {
		if s.round(money, best); s.p.value() > best.value()+improvement {
			best = s.p.clone()
		}
	}
	if gap(best.value(), bound) > enoughGap {
		tighten(boundRounds)
	}
	if gap(best.value(), bound) > enoughGap {
		for z := range r.whole {
			r.whole[z] = true
		}
		tighten(wholeRounds)
	}
	best = m.over(best)
	if bound < best.value()-float64(boundTrust*math.Abs(best.value())) {
		panic(fmt.Sprintf("list: bound %v is below a list of value %v", bound, best.value()))
	}
	bound = math.Max(bound, best.value())
	switch g := gap(best.value(), bound); {
	case g <= provedGap:
		return best, bound, stoppedProved
	case g <= enoughGap:
		return best, bound, stoppedGap
	}
	return best, bound, stoppedEffort
}

func gap(value, bound float64) float64 {
	if bound <= 0 {
		return 0
	}
	return math.Min(1, math.Max(0, (bound-value)/bound))
}

// startPlan plants one smallest group of each item given.
func (m *model) startPlan(items []int) *plan {
	p := newPlan(m)
	sets := make([][]int, len(m.inZone))
	for _, i := range items {
		sets[m.items[i].zone] = append(sets[m.items[i].zone], i)
	}
	for z, set := range sets {
		pk := &packing{set: set}
		for _, i := range set {
			it := &m.items[i]
			pk.count = append(pk.count, it.least)
			pk.add(it, it.least)
		}
		p.set(z, pk)
	}
	return p
}

// round shakes the best plan and improves it again.
func (s *search) round(money float64, best *plan) {
	s.k.tried++ // so that a round without any packing also ends
	s.p = best.clone()
	price := money * (0.8 + float64(0.4*s.rand.Float64()))
	s.setPrice(price)
	if price > 0 {
		s.refill()
	}
	shut := s.shake()
	s.descend()
	for _, i := range shut {
		s.out[i] = false
	}
	if len(shut) > 0 {
		s.descend()
	}
	if price > 0 {
		s.setPrice(0)
		s.descend()
	}
}

// shake takes species out, or brings one in, and returns the items that are
// shut out for the first descent.
func (s *search) shake() []int {
	var shut []int
	switch s.rand.IntN(4) {
	case 0: // some species leave the bed
		for range 1 + s.rand.IntN(3) {
			if sp := s.someSpecies(); sp >= 0 {
				for _, i := range s.m.ofSpecies[sp] {
					if s.p.count[i] > 0 {
						shut = append(shut, s.dropItem(i)...)
					}
				}
			}
		}
	case 1: // a zone loses part of what stands in it
		z := s.rand.IntN(len(s.p.sets))
		for _, i := range append([]int(nil), s.p.sets[z]...) {
			if s.rand.IntN(2) == 0 {
				shut = append(shut, s.dropItem(i)...)
			}
		}
	case 2: // an item enters, whatever must leave for it
		if len(s.m.items) > 0 {
			s.force(s.rand.IntN(len(s.m.items)))
		}
	case 3: // all numbers go down to the smallest group, to free room and money
		for z := range s.p.sets {
			lean := s.p.packing(z)
			for j := range lean.set {
				s.k.less(lean, j, lean.count[j]-s.m.items[lean.set[j]].least)
			}
			if lean.stands.covered() {
				s.p.set(z, lean)
			}
		}
	}
	for _, i := range shut {
		s.out[i] = true
	}
	return shut
}

// someSpecies returns a species of the bed that may leave it, or -1.
func (s *search) someSpecies() int {
	var in []int
	for sp, zones := range s.p.in {
		if zones > 0 && !s.m.wanted[sp] {
			in = append(in, sp)
		}
	}
	if len(in) == 0 {
		return -1
	}
	return in[s.rand.IntN(len(in))]
}

// dropItem takes an item out unless it is the last place of a wanted species.
func (s *search) dropItem(i int) []int {
	it := &s.m.items[i]
	if s.m.wanted[it.species] && s.p.in[it.species] == 1 {
		return nil
	}
	s.k.change(&s.try, s.p.sets[it.zone], i, -1)
	if !s.k.pack(it.zone, &s.try, s.moneyFor(it.zone)) { // bulbs that it covered
		return nil
	}
	s.p.set(it.zone, &s.try)
	return []int{i}
}

// force brings item i into its zone; others leave, at random, until it fits.
func (s *search) force(i int) {
	it := &s.m.items[i]
	if s.p.count[i] > 0 || s.p.in[it.species] == 0 && s.p.kinds >= s.m.mostKinds {
		return
	}
	for {
		s.k.change(&s.try, s.p.sets[it.zone], -1, i)
		if s.k.pack(it.zone, &s.try, s.moneyFor(it.zone)) {
			s.p.set(it.zone, &s.try)
			return
		}
		set := s.p.sets[it.zone]
		if len(set) == 0 || s.dropItem(set[s.rand.IntN(len(set))]) == nil {
			return
		}
	}
}
