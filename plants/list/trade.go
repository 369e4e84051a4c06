package list

import "slices"

// trade moves money between zones: up to three plants of one item go, and what
// they cost buys plants that stand elsewhere.
func (s *search) trade() bool {
	better := false
	for i := range s.m.items {
		for n := 1; n <= 3; n++ {
			for b := range s.p.sets {
				if b != s.m.items[i].zone && s.p.count[i]-n >= s.m.items[i].least && s.tradeOne(i, n, b) {
					better = true
				}
			}
		}
	}
	return better
}

func (s *search) tradeOne(i, n, b int) bool {
	a := s.m.items[i].zone
	money := s.moneyFor(b) + float64(float64(n)*s.m.items[i].price)
	other := &s.try
	other.set, other.count = append(other.set[:0], s.p.sets[b]...), other.count[:0]
	other.stands, other.cost, other.gain = s.p.stands[b], s.p.cost[b], s.p.gain[b]
	for _, j := range other.set {
		other.count = append(other.count, s.p.count[j])
	}
	s.k.tried++
	for j, item := range other.set {
		if s.k.worth[item] > 0 {
			s.k.more(b, other, j, money)
		}
	}
	net := float64(float64(n) * (s.m.items[i].gain - float64(s.k.price*s.m.items[i].price)))
	if s.k.net(other) <= s.zoneNet(b)+net+improvement {
		return false
	}
	lean := s.p.packing(a)
	if !s.k.less(lean, slices.Index(lean.set, i), n) || !lean.stands.covered() {
		return false
	}
	s.p.set(a, lean)
	s.p.set(b, other)
	return true
}
