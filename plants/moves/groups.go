package moves

import (
	"cmp"
	"slices"
)

// Group is plants that have to be moved or given up together, and what that
// gains by itself.
type Group struct {
	// Plants in the order of doing: each finds its place empty when its turn
	// comes. Those of a cycle are all lifted first.
	Plants []int
	Cycle  bool // they take each other's places
	// Gain = Loss - Disturb - Doubt - Refill - Discard, weighted: losses before
	// less losses after, what moving brings with it, Caution times the doubts, what
	// more it costs to refill places, and what plants given up cost (their loss
	// before counts in Loss).
	Gain, Loss, Disturb, Doubt, Refill, Discard float64
}

// groups takes the matching apart into cycles and chains of plants that do not
// stay, largest gain first.
func (s *solution) groups() []Group {
	holder := make([]int, s.m) // who stands there now
	for q := range holder {
		holder[q] = free
	}
	for i, w := range s.p.Plants {
		holder[w.At] = i
	}
	// next is whose place plant i takes: that plant goes before it.
	next := func(i int) int {
		if j := s.column[i]; j >= 0 {
			return holder[j]
		}
		return free
	}
	seen := make([]bool, s.n)
	follow := func(i int) Group {
		var g Group
		for i != free && !seen[i] {
			seen[i] = true
			g.Plants = append(g.Plants, i)
			i = next(i)
		}
		g.Cycle = i != free
		return g
	}
	var out []Group
	for i, w := range s.p.Plants { // chains begin where nobody takes the place
		if s.column[i] != int32(w.At) && s.row[w.At] == free {
			g := follow(i)
			slices.Reverse(g.Plants)
			out = append(out, g)
		}
	}
	for i, w := range s.p.Plants {
		if s.column[i] != int32(w.At) && !seen[i] {
			out = append(out, follow(i))
		}
	}
	for k := range out {
		s.weigh(&out[k])
	}
	slices.SortStableFunc(out, func(a, b Group) int {
		return cmp.Or(cmp.Compare(b.Gain, a.Gain), cmp.Compare(a.Plants[0], b.Plants[0]))
	})
	return out
}

// weigh sums what a group gains and costs.
func (s *solution) weigh(g *Group) {
	p := s.p
	for _, i := range g.Plants {
		w := &p.Plants[i]
		j := int(s.column[i])
		g.Loss += float64(w.weight() * p.loss(i, w.At))
		g.Refill += p.Places[w.At].Refill
		if j < 0 {
			g.Discard += w.GiveUp
			g.Doubt += float64(p.Caution * w.GiveUpDoubt)
			continue
		}
		g.Loss -= float64(w.weight() * p.loss(i, j))
		g.Refill -= p.Places[j].Refill
		g.Disturb += float64(w.weight() * w.Disturb)
		if p.Doubt != nil && p.Caution > 0 {
			g.Doubt += float64(p.Caution * w.weight() * p.Doubt[i*s.m+j])
		}
	}
	g.Gain = g.Loss - g.Disturb - g.Doubt - g.Refill - g.Discard
}
