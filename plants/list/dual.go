package list

import (
	"cmp"
	"math"
	"slices"
)

// dual is the relaxation in which only the rules that join species have a price:
// the ground of each zone, the money, and each wanted month. What one species may
// do by itself stays whole.
//
//	L(prices) = sum over zones of free * ground + money
//	          + sum over kept ground of kept * layer + free * max(0, layer - ground)
//	          + sum over months of max(0, monthValue - month)
//	          + the greatest sum, over sets of at most mostKinds species with the
//	            wanted ones among them, of worth, and kindValue * min(their number, target)
//
//	worth of a species = sum of month over its months + the greatest sum over its items
//	          of (gain - ground * share of the zone - money * share of the budget) n
//
// where kept and free are shares of a zone, and a plant whose layer has ground kept
// pays that layer's price for its ground; bulbs pay none. Rows: the ground of layer l
// is at most kept plus what it takes of the free, and all that is taken of the free
// is at most free. With n none or least to most, and not all none. Prices are 0 or more, in
// objective for a whole zone or budget. No list passes L, whatever they are (weak
// duality). They are as few as there are zones and months, however many species
// there are, so that the least L can be found. Source: Lagrangian relaxation as in
// any textbook of integer programming.
type dual struct {
	m     *model
	items []priced
	from  []int  // by species: its first item here; one more for the end
	used  []bool // by row: zones, money, months
	worth []float64
	order []int
	floor float64 // what a species must be worth to enter at the prices seen last
}

// priced is an item with its area and price as shares of its zone and the budget.
type priced struct {
	item, row         int
	gain, area, price float64
	least, most       float64
}

func newDual(m *model, out []bool) *dual {
	rows := len(m.inZone) + 1 + len(m.months)
	if m.layers {
		rows += len(m.inZone) * grounds
	}
	d := &dual{m: m, worth: make([]float64, len(m.ofSpecies)), used: make([]bool, rows)}
	limited := !math.IsInf(m.budget, 1) && m.budget > 0
	for _, items := range m.ofSpecies {
		d.from = append(d.from, len(d.items))
		for _, i := range items {
			if out[i] {
				continue
			}
			it := &m.items[i]
			x := priced{item: i, row: it.zone, gain: it.gain, area: it.area / m.zoneArea[it.zone], least: float64(it.least), most: float64(it.most)}
			if limited {
				x.price = it.price / m.budget
			}
			switch {
			case it.layer == Bulb:
				x.area = 0
			case m.kept[it.zone].of[it.layer] > 0:
				x.row = d.layer(it.zone, it.layer)
				d.used[x.row] = true
			}
			d.items = append(d.items, x)
			d.used[it.zone] = true
		}
	}
	d.from = append(d.from, len(d.items))
	d.used[d.money()] = limited
	for j := range m.months {
		d.used[d.money()+1+j] = true
	}
	return d
}

// money is the row of the budget, after the zones' and before the months'.
func (d *dual) money() int { return len(d.m.inZone) }

// grounds is how many layers a zone may keep ground for.
const grounds = int(Bulb - Matrix)

// layer is the row of the ground kept in a zone for a layer; they come after the months.
func (d *dual) layer(zone int, l Layer) int {
	return d.money() + 1 + len(d.m.months) + zone*grounds + int(l-Matrix)
}

// ground adds what a zone's ground counts in L to its slope, and returns it.
func (d *dual) ground(z int, p, slope []float64) float64 {
	if !d.m.layers {
		slope[z] = 1
		return p[z]
	}
	free := max(0, 1-d.m.kept[z].of.cover()/d.m.zoneArea[z])
	slope[z] = free
	value := float64(free * p[z])
	for l := Matrix; l < Bulb; l++ {
		row, kept := d.layer(z, l), d.m.kept[z].of[l]/d.m.zoneArea[z]
		if kept == 0 {
			continue
		}
		slope[row] = kept
		value += float64(kept * p[row])
		if over := p[row] - p[z]; over > 0 {
			slope[row] += free
			slope[z] -= free
			value += float64(free * over)
		}
	}
	return value
}

// at returns L at prices p, and sets slope to a subgradient.
func (d *dual) at(p, slope []float64) float64 {
	m, value := d.m, 0.0
	clear(slope)
	for z := range d.money() {
		if d.used[z] {
			value += d.ground(z, p, slope)
		}
	}
	if d.used[d.money()] {
		slope[d.money()] = 1
		value += p[d.money()]
	}
	for j := range m.months {
		row := d.money() + 1 + j
		if left := m.monthValue - p[row]; left > 0 {
			slope[row] = -1
			value += left
		}
	}
	return value + d.kinds(p, slope)
}

// kinds chooses the species: the wanted ones, then the best by worth, as long as
// worth and variety pay. What variety earns is concave in their number, so no other
// choice is better.
func (d *dual) kinds(p, slope []float64) float64 {
	m, value, kinds := d.m, 0.0, 0
	d.order = d.order[:0]
	for s := range m.ofSpecies {
		if d.from[s] == d.from[s+1] {
			continue
		}
		if d.worth[s], _ = d.best(s, p); m.wanted[s] {
			kinds++
			value += d.worth[s]
			d.take(s, p, slope)
		} else if d.worth[s]+m.kindValue > 0 {
			d.order = append(d.order, s)
		}
	}
	value += float64(m.kindValue * float64(min(kinds, m.target)))
	slices.SortFunc(d.order, func(a, b int) int {
		return cmp.Or(cmp.Compare(d.worth[b], d.worth[a]), cmp.Compare(a, b))
	})
	d.floor = 0
	for _, s := range d.order {
		worth := d.worth[s]
		if kinds < m.target {
			worth += m.kindValue
		}
		if kinds >= m.mostKinds || worth <= 0 {
			break
		}
		kinds++
		value += worth
		d.floor = d.worth[s]
		d.take(s, p, slope)
	}
	switch {
	case kinds < m.target:
		d.floor = -m.kindValue
	case kinds < m.mostKinds:
		d.floor = 0
	}
	return value
}

func (d *dual) net(it *priced, p []float64) float64 {
	return it.gain - float64(it.area*p[it.row]) - float64(it.price*p[d.money()])
}

// best returns the worth of a species that stands, and the one item that does if
// none earns its prices; otherwise -1, and all stand that do.
func (d *dual) best(s int, p []float64) (worth float64, only int) {
	loss, only := math.Inf(-1), -1
	earns := false
	for k := d.from[s]; k < d.from[s+1]; k++ {
		it := &d.items[k]
		if net := d.net(it, p); net > 0 {
			earns = true
			worth += float64(net * it.most)
		} else if net*it.least > loss {
			loss, only = net*it.least, k
		}
	}
	if earns {
		only = -1
	} else {
		worth = loss
	}
	for j, month := range d.m.months {
		if d.m.bloom[s]&(1<<month) != 0 {
			worth += p[d.money()+1+j]
		}
	}
	return worth, only
}

// take counts a species with its best plants into the slope.
func (d *dual) take(s int, p, slope []float64) {
	_, only := d.best(s, p)
	for k := d.from[s]; k < d.from[s+1]; k++ {
		it := &d.items[k]
		n := 0.0
		if k == only {
			n = it.least
		} else if only < 0 && d.net(it, p) > 0 {
			n = it.most
		}
		slope[it.row] -= float64(n * it.area)
		slope[d.money()] -= float64(n * it.price)
	}
	for j, month := range d.m.months {
		if d.m.bloom[s]&(1<<month) != 0 {
			slope[d.money()+1+j]++
		}
	}
}

// perRow is how often L is looked at for each of its rows. On the generated family
// half as often comes within 0.01 % of the least.
const perRow = 20

// lower returns the best prices found and L there.
func (d *dual) lower() (best []float64, value float64) {
	n, total := len(d.used), sum(d.m.zoneArea)
	start, p := make([]float64, n), make([]float64, n)
	for row := range start {
		switch {
		case !d.used[row] || row == d.money():
		case row < d.money():
			start[row] = d.m.zoneArea[row] / total
		case row > d.money()+len(d.m.months):
			start[row] = d.m.zoneArea[(row-d.layer(0, Matrix))/grounds] / total
		default:
			start[row] = d.m.monthValue / 2
		}
	}
	best, value = make([]float64, n), math.Inf(1)
	minimise(start, 0.1, perRow*n, d.m.stopped, func(x, slope []float64) {
		for i := range x {
			p[i] = max(0, x[i])
		}
		if v := d.at(p, slope); v < value {
			value = v
			copy(best, p)
		}
		for i := range x {
			if x[i] < 0 { // lead back to where prices may be
				slope[i] = -1 - math.Abs(slope[i])
			}
		}
	})
	return best, value
}

// coreOfZone is how many items of a zone, on average, the search is let choose from.
const coreOfZone = 130

// core returns the part of the model that a good list is made of, and where in it
// the items of start are: those that lose least against the prices p, if each is
// made to stand. It is the whole model where that is small. Source: the core of
// knapsack problems (Balas and Zemel 1980).
func (d *dual) core(p []float64, start []int) (*model, []int) {
	m := d.m
	size := coreOfZone * len(m.inZone)
	if len(m.items) <= size {
		return m, start
	}
	loss := d.losses(p)
	for _, i := range start {
		loss[i] = -1
	}
	order := make([]int, len(m.items))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(loss[a], loss[b]), cmp.Compare(a, b)) })
	keep := order[:max(size, len(start))]
	slices.Sort(keep)
	c := *m
	c.items = nil
	c.inZone, c.ofSpecies = make([][]int, len(m.inZone)), make([][]int, len(m.ofSpecies))
	for _, i := range keep {
		c.add(m.items[i])
	}
	at := make([]int, len(start))
	for j, i := range start {
		at[j], _ = slices.BinarySearch(keep, i)
	}
	return &c, at
}

// losses returns, by item, by how much L falls at prices p if it must stand.
func (d *dual) losses(p []float64) []float64 {
	loss := slices.Repeat([]float64{math.Inf(1)}, len(d.m.items))
	d.at(p, make([]float64, len(d.used)))
	for s := range d.m.ofSpecies {
		if d.from[s] == d.from[s+1] {
			continue
		}
		worth, only := d.best(s, p)
		if only >= 0 {
			worth -= float64(d.net(&d.items[only], p) * d.items[only].least)
		}
		for k := d.from[s]; k < d.from[s+1]; k++ {
			it := &d.items[k]
			loss[it.item] = max(0, d.floor-worth-min(0, float64(d.net(it, p)*it.least)))
		}
	}
	return loss
}
