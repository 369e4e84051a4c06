package list

import (
	"cmp"
	"math"
	"slices"
)

// prices are the Lagrange multipliers: what the relaxed problem pays for each
// rule that ties candidates together. All are 0 or more.
type prices struct {
	money  float64   // budget: sum price n <= budget
	bed    []float64 // by item: y_i <= x_s, only if the number of species is limited
	stands []float64 // by species: x_s <= sum of y_i
	month  []float64 // by wanted month: b_m <= sum of x_s in flower
}

// relaxed is an optimum of the relaxed problem at given prices.
type relaxed struct {
	value   float64
	n, y    []float64 // by item
	x       []bool    // by species
	b       []bool    // by wanted month
	density []float64 // by zone: what one more m2 would earn
}

// relaxation computes
//
//	L(prices) = money * budget
//	          + sum over zones of the greatest sum over items of
//	              (gain - money*price) n + (stands - bed) y
//	          + the greatest sum over species of
//	              (sum of bed - stands + sum of month) x + kindValue * min(sum x, target)
//	          + sum over months of max(0, monthValue - month)
//
// which no list can pass, whatever the prices (weak duality; all ties are
// rules of the form "<=" and prices are not negative). The zone term is itself
// relaxed to a fractional knapsack over the concave hull of each item:
// n from 0 to most, with the fixed part spread over the first plants. Ground that is
// kept for layers leaves the ground that sets of items may take submodular, so that
// to fill it in falling order of density is still best (Edmonds 1970, polymatroids).
// Source: Lagrangian relaxation as in any textbook of integer programming.
type relaxation struct {
	m      *model
	out    []bool // by item: even its smallest group is over the budget
	pieces []piece
	order  []ranked
	likely []float64 // by zone: the density found last
	whole  []bool    // by zone: solve it in whole numbers
	tree   exact
}

// piece is a straight part of an item's hull.
type piece struct {
	density, area float64
	item          int
	n0, n1        float64
	y0, y1        float64
}

type ranked struct {
	worth   float64
	species int
}

func newRelaxation(m *model) *relaxation {
	zones := len(m.inZone)
	r := &relaxation{m: m, out: make([]bool, len(m.items)), likely: make([]float64, zones), whole: make([]bool, zones)}
	for i := range m.items {
		r.out[i] = m.groupCost(i) > ceiling(m.budget)
	}
	return r
}

func (m *model) newPrices() *prices {
	return &prices{
		bed:    make([]float64, len(m.items)),
		stands: make([]float64, len(m.ofSpecies)),
		month:  make([]float64, len(m.months)),
	}
}

func (m *model) newRelaxed() *relaxed {
	return &relaxed{
		n: make([]float64, len(m.items)), y: make([]float64, len(m.items)),
		x: make([]bool, len(m.ofSpecies)), b: make([]bool, len(m.months)),
		density: make([]float64, len(m.inZone)),
	}
}

// at fills res with the optimum at prices p.
func (r *relaxation) at(p *prices, res *relaxed) {
	m := r.m
	res.value = 0
	if p.money > 0 {
		res.value = p.money * m.budget
	}
	for z := range m.inZone {
		value := r.zone(z, p, res)
		if r.whole[z] {
			value, r.whole[z] = r.zoneExact(z, p, value, res)
		}
		res.value += value
	}
	res.value += r.bed(p, res)
	for j := range m.months {
		left := m.monthValue - p.month[j]
		res.b[j] = left > 0
		res.value += math.Max(0, left)
	}
}

// hull returns net gain per plant and fixed part of an item at prices p.
func (r *relaxation) hull(i int, p *prices) (perPlant, fixed float64) {
	it := &r.m.items[i]
	return it.gain - float64(p.money*it.price), p.stands[it.species] - p.bed[i]
}

func (r *relaxation) zone(z int, p *prices, res *relaxed) float64 {
	m := r.m
	r.pieces = r.pieces[:0]
	for _, i := range r.m.inZone[z] {
		res.n[i], res.y[i] = 0, 0
		if r.out[i] {
			continue
		}
		it := &r.m.items[i]
		if it.layer == Bulb {
			continue
		}
		net, fixed := r.hull(i, p)
		least, most := float64(it.least), float64(it.most)
		if fixed < 0 {
			if d := net + fixed/most; d > 0 {
				r.pieces = append(r.pieces, piece{d / it.area, most * it.area, i, 0, most, 0, 1})
			}
			continue
		}
		if d := net + fixed/least; d > 0 {
			r.pieces = append(r.pieces, piece{d / it.area, least * it.area, i, 0, least, 0, 1})
		}
		if net > 0 && most > least {
			r.pieces = append(r.pieces, piece{net / it.area, (most - least) * it.area, i, least, most, 1, 1})
		}
	}
	value, stands := r.beneath(z, p, res), byLayer{}
	res.density[z] = 0
	ordered := r.sortTop(0, 0.97*r.likely[z])
	for j := range r.pieces {
		if j == ordered {
			ordered = r.sortTop(j, 0)
		}
		c := &r.pieces[j]
		layer := m.items[c.item].layer
		part := max(0, min(1, m.kept[z].left(layer, &stands)/c.area))
		value += float64(part * c.area * c.density)
		res.n[c.item] = c.n0 + float64(part*(c.n1-c.n0))
		res.y[c.item] = c.y0 + float64(part*(c.y1-c.y0))
		stands[layer] += float64(part * c.area)
		if part < 1 {
			res.density[z] = c.density
			if !m.layers || stands.cover() >= m.zoneArea[z] {
				break
			}
		}
	}
	r.likely[z] = res.density[z]
	return value
}

// sortTop brings the pieces of at least the given density, from index from on, to the
// front in falling order, and returns where they end: most pieces are never needed.
func (r *relaxation) sortTop(from int, density float64) int {
	end := from
	for j := from; j < len(r.pieces); j++ {
		if r.pieces[j].density >= density {
			r.pieces[end], r.pieces[j] = r.pieces[j], r.pieces[end]
			end++
		}
	}
	slices.SortFunc(r.pieces[from:end], func(a, b piece) int {
		switch {
		case a.density > b.density:
			return -1
		case a.density < b.density:
			return 1
		}
		return cmp.Or(cmp.Compare(a.item, b.item), cmp.Compare(a.n0, b.n0))
	})
	return end
}

// bed chooses the species: the wanted ones, then the best by worth as long as worth and
// variety pay. The bonus is concave in their number, so no other choice is better.
func (r *relaxation) bed(p *prices, res *relaxed) float64 {
	m := r.m
	value, kinds := 0.0, 0
	r.order = r.order[:0]
	for s, items := range m.ofSpecies {
		res.x[s] = false
		if len(items) == 0 {
			continue
		}
		worth := -p.stands[s]
		for _, i := range items {
			worth += p.bed[i]
		}
		for j, month := range m.months {
			if m.bloom[s]&(1<<month) != 0 {
				worth += p.month[j]
			}
		}
		if m.wanted[s] {
			res.x[s] = true
			value += worth
			kinds++
			continue
		}
		r.order = append(r.order, ranked{worth, s})
	}
	value += float64(m.kindValue * float64(min(kinds, m.target)))
	slices.SortFunc(r.order, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(b.worth, a.worth), cmp.Compare(a.species, b.species))
	})
	for _, c := range r.order {
		if kinds < m.target {
			c.worth += m.kindValue
		}
		if kinds >= m.mostKinds || c.worth <= 0 {
			break
		}
		res.x[c.species] = true
		value += c.worth
		kinds++
	}
	return value
}

// lower moves the prices by a subgradient step with memory, and returns the
// best prices, their relaxed optimum and its value. reached is a value known
// to be attainable; it sets the length of the steps (Polyak).
func (r *relaxation) lower(start *prices, reached float64, rounds int) (*prices, *relaxed) {
	m := r.m
	cur, best := start.clone(), start.clone()
	res, bestRes := m.newRelaxed(), m.newRelaxed()
	slope, dir := m.newPrices(), m.newPrices()
	bestRes.value = math.Inf(1)
	const patience = 8 // rounds without progress before the step is halved
	scale, stale := 1.0, 0
	for round := 0; round < rounds && scale > 1e-4 && (round == 0 || !m.stopped()); round++ {
		r.at(cur, res)
		if res.value < bestRes.value-float64(1e-7*math.Abs(res.value)) {
			stale = 0
		} else if stale++; stale >= patience {
			stale, scale = 0, scale/2
			cur.copyFrom(best)
			res.copyFrom(bestRes)
			dir = m.newPrices()
		}
		if res.value < bestRes.value {
			best.copyFrom(cur)
			bestRes.copyFrom(res)
		}
		m.slope(res, slope)
		m.step(cur, dir, slope, scale*(res.value-reached))
	}
	return best, bestRes
}

// moneyScale makes the budget weigh about as much as the many rules of single
// species in the length of a step. Chosen by trial on the generated family.
const moneyScale = 10

// startPrices returns the price of money that is best when all else is free.
func (r *relaxation) startPrices() *prices {
	m := r.m
	p, res, s := m.newPrices(), m.newRelaxed(), m.newPrices()
	for i := range p.stands {
		p.stands[i] = m.kindValue
	}
	if math.IsInf(m.budget, 1) {
		return p
	}
	low, high := 0.0, 0.0
	for i := range m.items {
		if it := &m.items[i]; it.price > 0 {
			high = math.Max(high, (it.gain+m.kindValue)/it.price)
		}
	}
	for range 30 {
		p.money = (low + high) / 2
		r.at(p, res)
		if m.slope(res, s); s.money > 0 {
			low = p.money
		} else {
			high = p.money
		}
	}
	return p
}

// slope sets s to minus the subgradient of L: how far each tied rule is broken.
// The budget counts in budgets, not in money, so that all are of like size.
func (m *model) slope(res *relaxed, s *prices) {
	cost := 0.0
	for i := range m.items {
		it := &m.items[i]
		cost += float64(res.n[i] * it.price)
		s.bed[i] = 0
		if m.mostKinds < len(m.ofSpecies) {
			s.bed[i] = res.y[i] - one(res.x[it.species])
		}
	}
	s.money = 0
	if !math.IsInf(m.budget, 1) && m.budget > 0 {
		s.money = moneyScale * (cost/m.budget - 1)
	}
	for sp, items := range m.ofSpecies {
		s.stands[sp] = one(res.x[sp])
		for _, i := range items {
			s.stands[sp] -= res.y[i]
		}
	}
	for j, month := range m.months {
		s.month[j] = one(res.b[j])
		for sp, in := range res.x {
			if in && m.bloom[sp]&(1<<month) != 0 {
				s.month[j]--
			}
		}
	}
}

// step turns the memory dir towards slope and moves p along it, not below 0.
func (m *model) step(p, dir, slope *prices, length float64) {
	const memory = 0.7
	norm := 0.0
	turn := func(p float64, d *float64, s float64) {
		*d = float64(memory**d) + float64((1-memory)*s)
		if p <= 0 && *d < 0 {
			*d = 0
		}
		norm += max(float64(*d**d), float64(s*s))
	}
	turn(p.money, &dir.money, slope.money)
	for i := range p.bed {
		turn(p.bed[i], &dir.bed[i], slope.bed[i])
	}
	for i := range p.stands {
		turn(p.stands[i], &dir.stands[i], slope.stands[i])
	}
	for i := range p.month {
		turn(p.month[i], &dir.month[i], slope.month[i])
	}
	if norm < 1e-18 {
		return
	}
	t := length / norm
	if dir.money != 0 {
		p.money = max(0, p.money+float64(t*dir.money*moneyScale/m.budget))
	}
	for i := range p.bed {
		p.bed[i] = max(0, p.bed[i]+float64(t*dir.bed[i]))
	}
	for i := range p.stands {
		p.stands[i] = max(0, p.stands[i]+float64(t*dir.stands[i]))
	}
	for i := range p.month {
		p.month[i] = max(0, p.month[i]+float64(t*dir.month[i]))
	}
}

func (p *prices) clone() *prices {
	return &prices{p.money, slices.Clone(p.bed), slices.Clone(p.stands), slices.Clone(p.month)}
}

func (p *prices) copyFrom(q *prices) {
	p.money = q.money
	copy(p.bed, q.bed)
	copy(p.stands, q.stands)
	copy(p.month, q.month)
}

func (r *relaxed) copyFrom(q *relaxed) {
	r.value = q.value
	copy(r.n, q.n)
	copy(r.y, q.y)
	copy(r.x, q.x)
	copy(r.b, q.b)
	copy(r.density, q.density)
}
