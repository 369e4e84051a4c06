package list

import (
	"cmp"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// improvement is the least gain that counts as one.
const improvement = 1e-10

// search improves one plan by local moves. A move changes which species stand
// in a zone (or in the bed); the numbers follow from packer.pack.
type search struct {
	m    *model
	k    *packer
	p    *plan
	out  []bool // by item: not to be entered
	rand *rand.Rand
	try  packing
	best packing
	swap []packing // by zone, for moves of the whole bed
}

func newSearch(m *model, p *plan, seed uint64) *search {
	return &search{
		m: m, k: newPacker(m), p: p, out: make([]bool, len(m.items)),
		rand: rand.New(rand.NewPCG(seed, 0x6c697374)), swap: make([]packing, len(m.inZone)),
	}
}

// setPrice sets what money counts, and brings the plan into the new order of worth.
func (s *search) setPrice(price float64) {
	s.k.setPrice(price)
	for _, set := range s.p.sets {
		slices.SortFunc(set, func(a, b int) int { return s.k.rank[a] - s.k.rank[b] })
	}
}

// refill chooses all numbers anew at the price that holds now.
func (s *search) refill() {
	for z, set := range s.p.sets {
		s.k.change(&s.try, set, -1, -1)
		if s.k.pack(z, &s.try, s.moneyFor(z)) {
			s.p.set(z, &s.try)
		}
	}
}

// moneyFor returns what zone z may cost while the other zones stay.
func (s *search) moneyFor(z int) float64 {
	return ceiling(s.m.budget) - sum(s.p.cost) + s.p.cost[z]
}

// bonusChange returns the change of the bonus if a species leaves a zone and
// another enters it; -1 stands for none. ok is false if a rule forbids it.
func (s *search) bonusChange(leave, enter int, flowers uint16) (change float64, ok bool) {
	kinds, after := s.p.kinds, flowers
	if leave >= 0 && s.p.in[leave] == 1 {
		if s.m.wanted[leave] {
			return 0, false
		}
		kinds--
		for _, j := range s.m.months {
			if s.m.bloom[leave]&(1<<j) != 0 && s.p.month[j] == 1 {
				after &^= 1 << j
			}
		}
	}
	if enter >= 0 && s.p.in[enter] == 0 {
		if kinds++; kinds > s.m.mostKinds {
			return 0, false
		}
		after |= s.m.bloom[enter]
	}
	change = float64(s.m.kindValue * float64(min(kinds, s.m.target)-min(s.p.kinds, s.m.target)))
	change += float64(s.m.monthValue * float64(bits.OnesCount16(after)-bits.OnesCount16(flowers)))
	return change, true
}

func (p *plan) flowers() uint16 {
	var f uint16
	for _, j := range p.m.months {
		if p.month[j] > 0 {
			f |= 1 << j
		}
	}
	return f
}

// consider packs zone z without leave and with enter, and keeps the packing in
// s.best if it gains more than so far.
func (s *search) consider(z, leave, enter int, flowers uint16, money, now float64, gained *float64) {
	bonus, ok := s.bonusChange(s.speciesOf(leave), s.speciesOf(enter), flowers)
	if !ok {
		return
	}
	s.k.change(&s.try, s.p.sets[z], leave, enter)
	if !s.k.pack(z, &s.try, money) {
		return
	}
	if s.m.layers && !s.k.few[z] && s.k.net(&s.try)+bonus-now+s.k.mayGain(z, &s.try, money) > *gained {
		s.k.polish(z, &s.try, money) // the ground of a layer is soon too small for one plant more
	}
	if g := s.k.net(&s.try) + bonus - now; g > *gained {
		*gained = g
		s.best.copyFrom(&s.try)
	}
}

func (s *search) speciesOf(i int) int {
	if i < 0 {
		return -1
	}
	return s.m.items[i].species
}

func (s *search) zoneNet(z int) float64 { return s.p.gain[z] - float64(s.k.price*s.p.cost[z]) }

// zone makes the first improving entry of each item, or drop, until none is left.
func (s *search) zone(z int) bool {
	better := false
	for again := true; again; {
		again = false
		for _, i := range append([]int{-1}, s.m.inZone[z]...) {
			if i >= 0 && (s.out[i] || s.p.count[i] > 0) {
				continue
			}
			flowers, money, now := s.p.flowers(), s.moneyFor(z), s.zoneNet(z)
			gained := improvement
			s.consider(z, -1, i, flowers, money, now, &gained)
			for _, r := range s.p.sets[z] {
				s.consider(z, r, i, flowers, money, now, &gained)
			}
			if gained > improvement {
				s.p.set(z, &s.best)
				again, better = true, true
			}
		}
	}
	return better
}

const (
	exchangeTop   = 8  // species that exchange always tries
	exchangePairs = 20 // further pairs of species that exchange tries on average
)

// exchange replaces a species by another in the whole bed, if that is better.
// It tries the species that promise most, and a sample of the others.
func (s *search) exchange() bool {
	better := false
	promise := s.promise()
	share := float64(exchangePairs) / float64(1+s.p.kinds*len(promise))
	for leave := range s.p.in {
		if s.m.wanted[leave] {
			continue
		}
		for j, enter := range promise {
			if s.p.in[leave] == 0 {
				break
			}
			if s.p.in[enter] == 0 && (j < exchangeTop || s.rand.Float64() < share) && s.exchangeOne(leave, enter) {
				better = true
			}
		}
	}
	return better
}

// promise returns the species outside the bed, those that promise most first.
func (s *search) promise() []int {
	earns := make([]float64, len(s.m.ofSpecies))
	for z, set := range s.p.sets {
		floor := 0.0
		if len(set) > 0 && s.p.stands[z].cover() > 0.9*s.m.zoneArea[z] {
			floor = s.k.worth[set[len(set)-1]]
		}
		for _, i := range s.m.inZone[z] {
			it := &s.m.items[i]
			if over := s.k.worth[i] - floor; over > 0 && !s.out[i] {
				earns[it.species] += float64(over * it.area * float64(it.most))
			}
		}
	}
	var order []int
	for sp, items := range s.m.ofSpecies {
		if s.p.in[sp] == 0 && len(items) > 0 {
			order = append(order, sp)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(earns[b], earns[a]) })
	return order
}

func (s *search) exchangeOne(leave, enter int) bool {
	money := ceiling(s.m.budget)
	now, then := s.p.bonus(), 0.0
	enters := false
	for z := range s.p.sets {
		now += s.zoneNet(z)
		money -= s.p.cost[z]
	}
	first := s.rand.IntN(len(s.p.sets))
	for j := range s.p.sets {
		z := (first + j) % len(s.p.sets)
		out, in := s.itemAt(leave, z), s.itemAt(enter, z)
		if out >= 0 && s.p.count[out] == 0 {
			out = -1
		}
		if in >= 0 && s.out[in] {
			in = -1
		}
		if out < 0 && in < 0 {
			then += s.zoneNet(z)
			s.swap[z].set = append(s.swap[z].set[:0], -1) // keep
			continue
		}
		money += s.p.cost[z]
		s.k.change(&s.swap[z], s.p.sets[z], out, -1)
		if !s.k.pack(z, &s.swap[z], money) {
			return false
		}
		if in >= 0 {
			s.k.change(&s.try, s.p.sets[z], out, in)
			if s.k.pack(z, &s.try, money) && (s.k.net(&s.try) > s.k.net(&s.swap[z]) || !enters) {
				s.swap[z].copyFrom(&s.try)
				enters = true
			}
		}
		money -= s.swap[z].cost
		then += s.k.net(&s.swap[z])
	}
	if !enters {
		return false
	}
	change, ok := s.bedBonusChange(leave, enter)
	if !ok || then+s.p.bonus()+change <= now+improvement {
		return false
	}
	for z := range s.p.sets {
		if len(s.swap[z].set) == 0 || s.swap[z].set[0] >= 0 {
			s.p.set(z, &s.swap[z])
		}
	}
	return true
}

// bedBonusChange is bonusChange for a species that leaves all its zones.
func (s *search) bedBonusChange(leave, enter int) (float64, bool) {
	zones := s.p.in[leave]
	s.p.in[leave] = 1
	change, ok := s.bonusChange(leave, enter, s.p.flowers())
	s.p.in[leave] = zones
	return change, ok
}

func (s *search) itemAt(species, z int) int {
	for _, i := range s.m.ofSpecies[species] {
		if s.m.items[i].zone == z {
			return i
		}
	}
	return -1
}

// descend applies moves until none improves.
func (s *search) descend() {
	for again := true; again; {
		again = false
		for _, z := range s.rand.Perm(len(s.p.sets)) {
			if s.zone(z) {
				again = true
			}
		}
		if !again && s.rezone() {
			again = true
		}
		if !again && s.p.kinds == s.m.mostKinds && s.exchange() {
			again = true
		}
	}
	for z := range s.p.sets {
		if now := s.p.packing(z); s.k.polish(z, now, s.moneyFor(z)) {
			s.p.set(z, now)
		}
	}
	if !math.IsInf(s.m.budget, 1) {
		s.trade()
	}
}
