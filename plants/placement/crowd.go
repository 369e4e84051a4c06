package placement

import (
	"math"
	"math/rand/v2"

	"hollowbed/plants/list"
)

// plant is one plant that is to stand, or stands already.
type plant struct {
	line   int // -1: none
	class  int // -1: none
	kept   int // index of the kept plant it is; -1: new
	fixed  bool
	under  bool    // a bulb
	r      float64 // radius at mature spread, m
	h      float64 // height, m
	areaM2 float64
}

// crowd is plants at places. Those not in have no place.
type crowd struct {
	g      *ground
	plants []plant
	x, y   []float64
	in     []bool
	lines  [][]int // plants of each line
	rMax   float64 // the largest radius
	barred []bool  // plants that are not to be given a place; nil: none

	// Fixed plants alike on one spot are one stack: nth counts its plants from 0,
	// and the first stands for all of many. Any other plant is a stack by itself.
	nth    []int
	many   []float64
	stacks int
}

// newCrowd gathers the plants: those that stand already first, then new ones
// up to the count of each line. Nothing but the fixed has a place yet.
func newCrowd(g *ground) *crowd {
	c := &crowd{g: g, lines: make([][]int, len(g.p.Lines))}
	add := func(p plant, x, y float64, in bool) {
		if p.line >= 0 {
			c.lines[p.line] = append(c.lines[p.line], len(c.plants))
		}
		c.plants = append(c.plants, p)
		c.x, c.y, c.in = append(c.x, x), append(c.y, y), append(c.in, in)
	}
	for i, k := range g.p.Kept {
		p := plant{line: -1, class: -1, kept: i, fixed: true, under: k.Under, r: k.SpreadCM / 200, h: k.HeightCM / 100}
		zone := g.p.Bed.ZoneAt(k.X, k.Y)
		for j, l := range g.p.Lines {
			if l.ID == k.ID && l.Zone == zone {
				p.line, p.class = j, g.classOf[j]
			}
		}
		if like := g.p.lineOf(k.ID); like >= 0 {
			if p.line >= 0 {
				like = p.line
			}
			if p.r == 0 {
				p.r = g.p.Lines[like].SpreadCM / 200
			}
			if p.h == 0 {
				p.h = g.p.Lines[like].HeightCM / 100
			}
		}
		if p.line >= 0 && p.r != g.classes[p.class].r {
			p.class = -1 // grown to a spread of its own: it stays
		}
		p.fixed = !k.Movable || p.class < 0 || len(g.classes[p.class].place) == 0
		p.areaM2 = list.AreaPerPlantM2(200 * p.r)
		add(p, k.X, k.Y, p.fixed)
	}
	for j, l := range g.p.Lines {
		p := plant{line: j, class: g.classOf[j], kept: -1, under: l.Under, r: l.SpreadCM / 200, h: l.HeightCM / 100}
		p.areaM2 = list.AreaPerPlantM2(l.SpreadCM)
		for len(c.lines[j]) < l.Count {
			add(p, 0, 0, false)
		}
	}
	c.rMax = c.largest()
	c.stack()
	return c
}

func (c *crowd) stack() {
	type spot struct {
		line       int
		r, h, x, y float64
	}
	first := map[spot]int{}
	c.nth, c.many = make([]int, len(c.plants)), make([]float64, len(c.plants))
	for i, p := range c.plants {
		c.many[i] = 1
		if p.fixed {
			at := spot{p.line, p.r, p.h, c.x[i], c.y[i]}
			if j, ok := first[at]; ok {
				c.nth[i] = int(c.many[j])
				c.many[j]++
				continue
			}
			first[at] = i
		}
		c.stacks++
	}
}

func (c *crowd) clone() *crowd {
	d := *c
	d.x, d.y = append([]float64(nil), c.x...), append([]float64(nil), c.y...)
	d.in = append([]bool(nil), c.in...)
	return &d
}

func (c *crowd) copyFrom(d *crowd) {
	copy(c.x, d.x)
	copy(c.y, d.y)
	copy(c.in, d.in)
}

// possible reports whether the zone has any place for the plant; bulbs wait (beneath).
func (c *crowd) possible(i int) bool {
	p := &c.plants[i]
	if c.barred != nil && c.barred[i] || p.under && !p.fixed {
		return false
	}
	return p.fixed || p.class >= 0 && len(c.g.classes[p.class].place) > 0
}

// apartM is how far two centres have to stand apart at an overlap.
func (c *crowd) apartM(i, j int, overlap float64) float64 {
	if c.plants[i].under != c.plants[j].under {
		return crownM
	}
	return (1 - overlap) * (c.plants[i].r + c.plants[j].r)
}

// fits reports whether plant i may stand at a place among the others, those in
// but a and b apart.
func (c *crowd) fits(i int, x, y, overlap float64, a, b int, h *hash) bool {
	p := &c.plants[i]
	if !c.g.allowed(c.g.classes[p.class], x, y) {
		return false
	}
	return h.none(x, y, max(crownM, (1-overlap)*(p.r+c.rMax)), func(j int32) bool {
		if int(j) == i || int(j) == a || int(j) == b {
			return false
		}
		dx, dy := c.x[j]-x, c.y[j]-y
		want := c.apartM(i, int(j), overlap) - 1e-9
		return dx*dx+dy*dy < want*want
	})
}

// clashing reports whether two stand too near, other than such that did before.
func (c *crowd) clashing(overlap float64) bool {
	for _, q := range c.pairs(overlap, 0) {
		if dx, dy := c.x[q.i]-c.x[q.j], c.y[q.i]-c.y[q.j]; dx*dx+dy*dy < (q.want-1e-9)*(q.want-1e-9) {
			return true
		}
	}
	return false
}

// hash finds plants near a place: lists of plants by square.
type hash struct {
	x0, y0, s float64
	nx, ny    int
	in        [][]int32
}

func newHash(c *crowd) *hash { return c.hashOf(func(int) bool { return true }) }

// hashOf makes squares that hold about one plant each, with those plants in them
// that are wanted, of a stack the first.
func (c *crowd) hashOf(wanted func(i int) bool) *hash {
	x0, y0, x1, y1 := c.g.outline.Bounds()
	s := math.Sqrt((x1 - x0) * (y1 - y0) / float64(c.stacks+1))
	h := &hash{x0: x0, y0: y0, s: s, nx: int((x1-x0)/s) + 1, ny: int((y1-y0)/s) + 1}
	h.in = make([][]int32, h.nx*h.ny)
	for i := range c.plants {
		if c.in[i] && c.nth[i] == 0 && wanted(i) {
			h.add(i, c.x[i], c.y[i])
		}
	}
	return h
}

// column and row clamp: what stands outside is found from the border squares.
func (h *hash) column(x float64) int { return int(min(max((x-h.x0)/h.s, 0), float64(h.nx-1))) }
func (h *hash) row(y float64) int    { return int(min(max((y-h.y0)/h.s, 0), float64(h.ny-1))) }

func (h *hash) add(k int, x, y float64) {
	at := h.row(y)*h.nx + h.column(x)
	h.in[at] = append(h.in[at], int32(k))
}

func (h *hash) remove(k int, x, y float64) {
	at := h.row(y)*h.nx + h.column(x)
	s := h.in[at]
	for n, v := range s {
		if int(v) == k {
			s[n] = s[len(s)-1]
			h.in[at] = s[:len(s)-1]
			return
		}
	}
	panic("placement: a plant is not where it was")
}

// none reports whether is holds for none of the plants in the squares that a
// square of half side reach round a place meets.
func (h *hash) none(x, y, reach float64, is func(k int32) bool) bool {
	i0, i1 := h.column(x-reach), h.column(x+reach)
	for j, j1 := h.row(y-reach), h.row(y+reach); j <= j1; j++ {
		for _, in := range h.in[j*h.nx+i0 : j*h.nx+i1+1] {
			for _, k := range in {
				if is(k) {
					return false
				}
			}
		}
	}
	return true
}

// largest is the largest radius.
func (c *crowd) largest() float64 {
	r := 0.0
	for i := range c.plants {
		r = math.Max(r, c.plants[i].r)
	}
	return r
}

func chance(seed uint64, stream uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, stream)) }
