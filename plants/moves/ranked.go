package moves

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Option is one place for one plant.
type Option struct {
	To        int     // place, or GivenUp
	Displaces int     // the plant that stands there now; -1 if none, or if it is the plant's own place
	Loss      float64 // expected there, not weighted; NaN for GivenUp
	Cost      float64 // with disturbance and doubt; of GivenUp what giving up costs
	// Extra is how much more than the best plan the best plan with the plant
	// there costs, all others free to change: 0 for the best.
	Extra float64
}

// Ranked returns every place that plant i may have, and being given up if it may
// be, best first: the least Extra, then the least Cost, then the order of places.
// O(n m) after the plan itself.
func Ranked(p Problem, i int) ([]Option, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if i < 0 || i >= len(p.Plants) {
		return nil, fmt.Errorf("moves: plant %d: want one of %d", i, len(p.Plants))
	}
	s := newSolution(&p)
	if !s.solve() {
		panic("moves: staying is always a way")
	}
	s.simplify()
	holder := map[int]int{}
	for k, w := range p.Plants {
		if k != i {
			holder[w.At] = k
		}
	}
	back := s.wayBack(i)
	u := s.price(i)
	var out []Option
	for q := range p.Places {
		o := Option{To: q, Displaces: -1, Loss: p.loss(i, q), Cost: p.cost(i, q)}
		if math.IsInf(o.Cost, 1) {
			continue
		}
		if k, ok := holder[q]; ok {
			o.Displaces = k
		}
		if s.column[i] != int32(q) {
			o.Extra = math.Max(0, s.at(i, q)-s.v[q]-u) + back[s.owner(int32(q))]
		}
		out = append(out, o)
	}
	if alone := s.alone(i); !math.IsInf(alone, 1) {
		o := Option{To: GivenUp, Displaces: -1, Loss: math.NaN(), Cost: alone}
		if s.column[i] != without {
			o.Extra = math.Max(0, alone-u) + back[s.n]
		}
		out = append(out, o)
	}
	out = slices.DeleteFunc(out, func(o Option) bool { return math.IsInf(o.Extra, 1) }) // the others have no way
	slices.SortStableFunc(out, func(a, b Option) int {
		return cmp.Or(cmp.Compare(a.Extra, b.Extra), cmp.Compare(a.Cost, b.Cost))
	})
	return out, nil
}

// owner is the row that has a column; n, which stands for nobody, if it is free.
func (a *match) owner(column int32) int {
	if i := a.row[column]; i >= 0 {
		return int(i)
	}
	return a.n
}

// wayBack returns for each row, and for nobody (index n), the least that it
// costs, prices counted, if it has to hand over what it has and in the end
// somebody takes what row i has: shortest paths, followed from their end. See
// detour.
func (a *match) wayBack(i int) []float64 {
	n, target := a.n, a.column[i]
	u := a.rowPrices()
	way, settled := make([]float64, n+1), make([]bool, n+1)
	for k := range way {
		way[k] = math.Inf(1)
	}
	take := func(k int, w, base float64) { way[k] = math.Min(way[k], math.Max(w, base)) }
	into := func(j int, base float64) { // whoever takes column j goes on from base
		for k := range n {
			if k != i {
				take(k, base+a.at(k, j)-a.v[j]-u[k], base)
			}
		}
		take(n, base-a.v[j], base)
	}
	settled[i] = true
	if target == without {
		take(n, 0, 0)
	} else {
		into(int(target), 0)
	}
	for {
		k := -1
		for r, w := range way {
			if !settled[r] && !math.IsInf(w, 1) && (k < 0 || w < way[k]) {
				k = r
			}
		}
		if k < 0 {
			return way
		}
		settled[k] = true
		switch {
		case k < n && a.column[k] >= 0:
			into(int(a.column[k]), way[k])
		case k < n: // given up so far: it is kept for one that is not
			take(n, way[k], way[k])
		default:
			for j, r := range a.row {
				if r == free {
					into(j, way[n])
				}
			}
			for r := range n {
				if r != i {
					take(r, way[n]+a.alone(r)-u[r], way[n])
				}
			}
		}
	}
}
