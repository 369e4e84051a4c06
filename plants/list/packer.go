package list

import (
	"cmp"
	"slices"
)

// packing is a choice of numbers for a set of items in one zone.
type packing struct {
	set, count []int
	stands     byLayer
	cost, gain float64
}

func (k *packing) copyFrom(o *packing) {
	k.set = append(k.set[:0], o.set...)
	k.count = append(k.count[:0], o.count...)
	k.stands, k.cost, k.gain = o.stands, o.cost, o.gain
}

// add counts n plants more of an item into the sums.
func (k *packing) add(it *item, n int) {
	k.stands[it.layer] += float64(float64(n) * it.area)
	k.cost += float64(float64(n) * it.price)
	k.gain += float64(float64(n) * it.gain)
}

// ceiling returns the area or money up to which a sum may rise, rounding included.
func ceiling(v float64) float64 { return float64(v * (1 + areaSlack/2)) }

// packer fills zones at a given price of money.
type packer struct {
	m     *model
	tried int       // packings tried: the measure of effort
	price float64   // what a unit of money counts in the objective
	worth []float64 // by item: net gain per m2
	rank  []int     // by item: place in the order of worth
	few   []bool    // by zone: room for few plants, so that every one counts
	spare packing
}

func newPacker(m *model) *packer {
	k := &packer{m: m, worth: make([]float64, len(m.items)), rank: make([]int, len(m.items))}
	for z := range m.inZone {
		k.few = append(k.few, m.typicalPlants(z) <= fewPlants)
	}
	k.setPrice(0)
	return k
}

// fewPlants is the number of plants up to which a zone is filled with more care.
const fewPlants = 12

// typicalPlants returns how many middling plants fit in the zone and the budget.
func (m *model) typicalPlants(z int) float64 {
	var fit []float64
	for _, i := range m.inZone[z] {
		n := m.zoneArea[z] / m.items[i].area
		if m.items[i].price > 0 {
			n = min(n, m.budget/m.items[i].price)
		}
		fit = append(fit, n)
	}
	if len(fit) == 0 {
		return 0
	}
	slices.Sort(fit)
	return fit[len(fit)/2]
}

// pack fills the zone with the items of out.set, with care if few plants fit.
func (k *packer) pack(z int, out *packing, money float64) bool {
	if !k.fill(z, out, money) {
		return false
	}
	if k.few[z] {
		k.polish(z, out, money)
	}
	return true
}

// mayGain is about the most that polish can add with the ground or money left.
func (k *packer) mayGain(z int, pk *packing, money float64) float64 {
	if len(pk.set) == 0 {
		return 0
	}
	gain, perMoney := (k.m.zoneArea[z]-pk.stands.cover())*k.worth[pk.set[0]], 0.0
	for _, i := range pk.set {
		it := &k.m.items[i]
		perMoney = max(perMoney, it.gain/it.price)
	}
	return min(gain, (money-pk.cost)*perMoney)
}

func (k *packer) setPrice(price float64) {
	k.price = price
	for i := range k.m.items {
		it := &k.m.items[i]
		k.worth[i] = (it.gain - float64(price*it.price)) / it.area
	}
	order := make([]int, len(k.m.items))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(k.worth[b], k.worth[a]), cmp.Compare(a, b))
	})
	for r, i := range order {
		k.rank[i] = r
	}
}

// change sets out.set to set without the item leave and with the item enter, in
// order of worth; -1 stands for no item.
func (k *packer) change(out *packing, set []int, leave, enter int) {
	out.set = out.set[:0]
	for _, i := range set {
		if i == leave {
			continue
		}
		if enter >= 0 && k.rank[enter] < k.rank[i] {
			out.set = append(out.set, enter)
			enter = -1
		}
		out.set = append(out.set, i)
	}
	if enter >= 0 {
		out.set = append(out.set, enter)
	}
}

// fill gives every item of out.set its smallest group, then more plants in
// the order of the set while room and money last. It reports whether the groups fit.
func (k *packer) fill(z int, out *packing, money float64) bool {
	k.tried++
	out.stands, out.cost, out.gain = byLayer{}, 0, 0
	out.count = out.count[:0]
	for _, i := range out.set {
		it := &k.m.items[i]
		out.count = append(out.count, it.least)
		out.add(it, it.least)
	}
	if k.m.kept[z].overlaps(&out.stands) || out.cost > money {
		return false
	}
	for j, i := range out.set {
		if k.worth[i] <= 0 {
			break
		}
		k.more(z, out, j, money)
	}
	return out.stands.covered()
}

// more adds as many plants of the j-th item as fit.
func (k *packer) more(z int, out *packing, j int, money float64) {
	it := &k.m.items[out.set[j]]
	room := k.m.kept[z].left(it.layer, &out.stands)
	if it.area > room || out.cost+it.price > money {
		return
	}
	whole := min(it.most-out.count[j], int(room/it.area))
	if it.price > 0 && float64(whole)*it.price > money-out.cost {
		whole = int((money - out.cost) / it.price)
	}
	if it.pair(out.count[j] + whole) {
		whole--
	}
	out.count[j] += whole
	out.add(it, whole)
}

func (k *packer) net(p *packing) float64 { return p.gain - float64(k.price*p.cost) }

// polish improves numbers within a packing: takes up to four plants of one
// item out, or one of each of two, and refills with the others first.
func (k *packer) polish(z int, pk *packing, money float64) bool {
	better := false
	try := &k.spare
	for again := true; again; {
		again = false
		for a := 0; a < len(pk.set); a++ {
			for b := -1; b < len(pk.set); b++ {
				for n := 1; n <= 4; n++ {
					if b >= 0 && n > 2 || a == b {
						break
					}
					k.tried++
					try.copyFrom(pk)
					if !k.less(try, a, n) || b >= 0 && !k.less(try, b, 1) {
						break
					}
					for j := range try.set {
						if j != a && j != b && k.worth[try.set[j]] > 0 {
							k.more(z, try, j, money)
						}
					}
					for j := range try.set {
						if k.worth[try.set[j]] > 0 {
							k.more(z, try, j, money)
						}
					}
					if k.net(try) > k.net(pk)+1e-12 && try.stands.covered() {
						pk.copyFrom(try)
						again, better = true, true
					}
				}
			}
		}
	}
	return better
}

func (k *packer) less(pk *packing, j, n int) bool {
	it := &k.m.items[pk.set[j]]
	if pk.count[j]-n < it.least || it.pair(pk.count[j]-n) {
		return false
	}
	pk.count[j] -= n
	pk.add(it, -n)
	return true
}

func (k *packing) countOf(item int) int {
	for j, i := range k.set {
		if i == item {
			return k.count[j]
		}
	}
	return 0
}
