package list

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
	other.area, other.cost, other.gain = s.p.area[b], s.p.cost[b], s.p.gain[b]
	for _, j := range other.set {
		other.count = append(other.count, s.p.count[j])
	}
	room := ceiling(s.m.zoneArea[b])
	s.k.tried++
	for j, item := range other.set {
		if s.k.worth[item] > 0 {
			s.k.more(other, j, room, money)
		}
	}
	net := float64(float64(n) * (s.m.items[i].gain - float64(s.k.price*s.m.items[i].price)))
	if s.k.net(other) <= s.zoneNet(b)+net+improvement {
		return false
	}
	lean := s.p.packing(a)
	for j, item := range lean.set {
		if item == i {
			s.k.less(lean, j, n)
		}
	}
	s.p.set(a, lean)
	s.p.set(b, other)
	return true
}
