package list

import (
	"cmp"
	"math"
	"slices"
)

const (
	// exactNodes bounds the tree of one zone, which else keeps the fractional bound.
	exactNodes = 4000
	// exactSlack is the part of the fractional value below which the tree is
	// not searched; it is added to the bound again.
	exactSlack = 1e-4
)

// exact finds the greatest sum over the items of one zone of net gain times n
// plus fixed part times y in whole numbers, at given prices. It searches depth
// first over the numbers of each item, in falling order of the best value per
// m2, and cuts a branch when the fractional filling of the room by the items
// that remain cannot beat the best so far.
type exact struct {
	m     *model
	kept  *kept
	items []exactItem
	now   []int
	best  []int
	value float64
	slack float64
	nodes int
}

type exactItem struct {
	item         int
	layer        Layer
	net, fixed   float64
	area         float64
	least, most  int
	first, whole float64 // best value per m2, and the m2 that can be had at it
}

// zoneExact is zone in whole numbers; ok is false if the tree grew too large.
func (r *relaxation) zoneExact(z int, p *prices, fractional float64, res *relaxed) (value float64, ok bool) {
	e := &r.tree
	e.m, e.items, e.nodes = r.m, e.items[:0], 0
	for _, i := range r.m.inZone[z] {
		it := &r.m.items[i]
		net, fixed := r.hull(i, p)
		x := exactItem{item: i, layer: it.layer, net: net, fixed: fixed, area: it.area, least: it.least, most: it.most}
		x.most = min(x.most, wholeIn(r.m.zoneArea[z], it.area))
		n := x.least
		if fixed < 0 {
			n = x.most
		}
		x.first = (net + fixed/float64(n)) / it.area
		x.whole = float64(x.most) * it.area
		if !r.out[i] && x.first > 0 && it.layer != Bulb {
			e.items = append(e.items, x)
		}
	}
	slices.SortFunc(e.items, func(a, b exactItem) int {
		return cmp.Or(cmp.Compare(b.first, a.first), cmp.Compare(a.item, b.item))
	})
	e.now = append(e.now[:0], make([]int, len(e.items))...)
	e.best = append(e.best[:0], e.now...)
	e.value, e.slack = 0, exactSlack*math.Abs(fractional)
	e.kept = &r.m.kept[z]
	e.search(0, byLayer{}, 0)
	if e.nodes > exactNodes {
		return fractional, false
	}
	for _, i := range r.m.inZone[z] {
		res.n[i], res.y[i] = 0, 0
	}
	for j, n := range e.best {
		res.n[e.items[j].item] = float64(n)
		res.y[e.items[j].item] = one(n > 0)
	}
	return math.Min(fractional, e.value+e.slack+r.beneath(z, p, res)), true
}

// search tries the numbers of item j and those after it, beside what stands; got is
// the value so far.
func (e *exact) search(j int, stands byLayer, got float64) {
	if e.nodes++; e.nodes > exactNodes {
		return
	}
	if got > e.value {
		e.value = got
		copy(e.best, e.now)
	}
	if j == len(e.items) || got+e.reach(j, &stands) <= e.value+e.slack {
		return
	}
	x := &e.items[j]
	top := min(x.most, int(math.Floor(e.kept.left(x.layer, &stands)/x.area)))
	for n := top; n >= x.least; n-- {
		if e.m.items[x.item].pair(n) {
			continue
		}
		e.now[j] = n
		more := stands
		more[x.layer] += float64(float64(n) * x.area)
		e.search(j+1, more, got+x.fixed+float64(float64(n)*x.net))
	}
	e.now[j] = 0
	e.search(j+1, stands, got)
}

// reach is a bound on what items j and later can add in the room left.
func (e *exact) reach(j int, stands *byLayer) float64 {
	total, full := 0.0, *stands
	for ; j < len(e.items); j++ {
		x := &e.items[j]
		// Compared with the whole room: the items before it are not bound to be taken.
		if float64(x.least)*x.area > e.kept.left(x.layer, stands) {
			continue
		}
		left := e.kept.left(x.layer, &full)
		if left <= 0 {
			if !e.m.layers {
				break
			}
			continue
		}
		take := math.Min(left, x.whole)
		total += float64(take * x.first)
		full[x.layer] += take
	}
	return total
}
