package list

// rezone moves a species that stands in one zone only into another zone, if
// that is better. One item may leave the new zone for it, or change places with
// it. If the species is wanted, or one of the zones holds few plants, the old
// zone may also take another item at once.
func (s *search) rezone() bool {
	better := false
	for i := range s.m.items {
		sp := s.m.items[i].species
		if s.p.count[i] == 0 || s.p.in[sp] != 1 {
			continue
		}
		for _, to := range s.m.ofSpecies[sp] {
			if to != i && !s.out[to] && s.rezoneOne(i, to) {
				better = true
				break
			}
		}
	}
	return better
}

// total is what the search maximises: the objective less the price of money.
func (s *search) total() float64 { return s.p.value() - float64(s.k.price*sum(s.p.cost)) }

// rezoneOne changes the plan itself and puts it back if nothing is gained.
func (s *search) rezoneOne(from, to int) bool {
	a, b := s.m.items[from].zone, s.m.items[to].zone
	before := s.total()
	oldA, oldB := s.p.packing(a), s.p.packing(b)
	if s.shift(from, to, -1, -1, before) {
		return true
	}
	for _, leave := range oldB.set {
		if s.shift(from, to, -1, leave, before) {
			return true
		}
		back := s.itemAt(s.m.items[leave].species, a)
		if back >= 0 && !s.out[back] && oldA.countOf(back) == 0 && s.shift(from, to, back, leave, before) {
			return true
		}
	}
	if s.m.wanted[s.m.items[from].species] || s.k.few[a] || s.k.few[b] {
		for _, enter := range s.m.inZone[a] {
			if enter != from && !s.out[enter] && oldA.countOf(enter) == 0 && s.shift(from, to, enter, -1, before) {
				return true
			}
		}
	}
	return false
}

// shift takes from out of its zone and enter into it, leave out of the other
// zone and to into it. It undoes this and returns false if nothing is gained.
func (s *search) shift(from, to, enter, leave int, before float64) bool {
	a, b := s.m.items[from].zone, s.m.items[to].zone
	oldA, oldB := s.p.packing(a), s.p.packing(b)
	s.k.change(&s.try, oldA.set, from, enter)
	if s.k.pack(a, &s.try, s.moneyFor(a)-s.m.groupCost(to)) {
		s.p.set(a, &s.try)
		s.k.change(&s.try, oldB.set, leave, to)
		if s.k.pack(b, &s.try, s.moneyFor(b)) {
			s.p.set(b, &s.try)
			if s.p.allowed() && s.total() > before+improvement {
				return true
			}
			s.p.set(b, oldB)
		}
		s.p.set(a, oldA)
	}
	return false
}
