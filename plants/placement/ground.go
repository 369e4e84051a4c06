package placement

import (
	"math"
	"slices"

	"hollowbed/zones/basin"
)

// ground is the bed made ready for many questions. A raster of squares holds,
// for the middle of each, the distance inward from the outline and the distance
// from the nearest keep-out. Neither changes by more than the way between two
// places, so most questions are answered from the raster and the rest exactly.
type ground struct {
	p          *Problem
	outline    basin.Outline
	ring       ring // of a rectangle or polygon
	oval       basin.Oval
	keepOuts   []keepOut
	x0, y0, g  float64 // corner and step of the raster
	nx, ny     int
	d, k       []float64
	edges      [][]int32 // of the ring, those that may be the nearest to a place in the square
	rim, inner float64   // distances inward where the rim ends and the bottom begins
	zones      []*zone
	classes    []*class
	classOf    []int       // class of each line
	risk       [][]float64 // of each line, by the squares of its zone
}

// zone is the squares that have ground of a zone in them, each with a place in
// it that stands for the square.
type zone struct {
	name   string
	lo, hi float64
	index  []int32 // of the squares of the raster; -1: not in the zone
	cells  []int32
	place  [][2]float64
}

// class is the places where the centre of a plant of one radius may stand in
// one zone, without regard to other plants.
type class struct {
	zone   *zone
	r      float64
	lo, hi float64
	failed [][2]float64 // places that the plant must not cover
	place  [][2]float64 // one for each square that has such a place
	// touched is every square of the zone that may have one, for the bound: a
	// place may be so small that the trial places of its square miss it.
	touched []int32
}

// slackM keeps places off the very border of a zone, where rounding decides.
const slackM = 1e-6

func newGround(p *Problem) *ground {
	s := p.Bed.Spec()
	g := &ground{p: p, outline: s.Outline, rim: s.RimWidthM, g: p.RiskStepM}
	g.inner = s.RimWidthM + s.SideRun*s.PondingMM/1000
	if g.g == 0 {
		g.g = 0.05
	}
	switch o := s.Outline; o.Kind {
	case "polygon":
		g.ring = newRing(o.Points)
	case "oval":
		g.oval = basin.NewOval(o.LengthM, o.WidthM)
	case "rectangle":
		g.ring = newRing([][2]float64{{0, 0}, {o.LengthM, 0}, {o.LengthM, o.WidthM}, {0, o.WidthM}})
	}
	for _, k := range p.KeepOuts {
		g.keepOuts = append(g.keepOuts, newKeepOut(k))
	}
	x0, y0, x1, y1 := s.Outline.Bounds()
	g.x0, g.y0 = x0, y0
	// A large bed gets larger squares: at most 4 million of them.
	for (x1-x0)*(y1-y0) > 4e6*g.g*g.g {
		g.g *= 2
	}
	g.nx, g.ny = int((x1-x0)/g.g)+1, int((y1-y0)/g.g)+1
	g.d, g.k = make([]float64, g.nx*g.ny), make([]float64, g.nx*g.ny)
	for i := range g.d {
		x, y := g.middle(int32(i))
		g.d[i], g.k[i] = g.depthM(x, y), g.clearM(x, y)
	}
	g.edges = g.ring.nearEdges(g)
	for _, z := range []struct {
		name   string
		lo, hi float64
	}{{basin.Bottom, g.inner, math.Inf(1)}, {basin.Slope, g.rim, g.inner}, {basin.Rim, 0, g.rim}} {
		if z.hi > z.lo {
			g.zones = append(g.zones, g.newZone(z.name, z.lo+slackM, z.hi-slackM))
		}
	}
	g.classOf, g.risk = make([]int, len(p.Lines)), make([][]float64, len(p.Lines))
	both([]func(){
		func() {
			for i, l := range p.Lines {
				g.classOf[i] = g.classFor(l.Zone, l.SpreadCM/200, g.failed(l.ID))
			}
		},
		func() {
			for i := range p.Lines {
				g.risk[i] = g.risks(i)
			}
		},
	})
	return g
}

// zone is the zone of a name; nil if the bed has none.
func (g *ground) zone(name string) *zone {
	for _, z := range g.zones {
		if z.name == name {
			return z
		}
	}
	return nil
}

// risks asks for the risk of a line in every square of its zone.
func (g *ground) risks(line int) []float64 {
	z := g.zone(g.p.Lines[line].Zone)
	if z == nil {
		return nil
	}
	out := make([]float64, len(z.place))
	for i, at := range z.place {
		out[i] = g.p.Risk(line, at[0], at[1])
		if !(out[i] >= 0 && out[i] <= 1) {
			panic("placement: a risk is not between 0 and 1")
		}
	}
	return out
}

func (g *ground) middle(cell int32) (x, y float64) {
	return g.x0 + (float64(int(cell)%g.nx)+0.5)*g.g, g.y0 + (float64(int(cell)/g.nx)+0.5)*g.g
}

// square is the raster square of a place; -1 outside the raster.
func (g *ground) square(x, y float64) int32 {
	i, j := math.Floor((x-g.x0)/g.g), math.Floor((y-g.y0)/g.g)
	if !(i >= 0 && j >= 0 && i < float64(g.nx) && j < float64(g.ny)) {
		return -1
	}
	return int32(int(j)*g.nx + int(i))
}

func (g *ground) depthM(x, y float64) float64 {
	d, _, _ := g.inward(x, y)
	return d
}

// inward is depthM with the direction in which it grows.
func (g *ground) inward(x, y float64) (d, ux, uy float64) {
	if g.ring.edges == nil {
		return g.oval.InwardM(x, y)
	}
	var nx, ny float64
	if cell := g.square(x, y); cell >= 0 && g.edges != nil && math.Abs(g.d[cell]) > g.half() {
		d, nx, ny = g.ring.nearestOf(g.edges[cell], x, y) // all of the square on one side
		d = math.Copysign(d, g.d[cell])
	} else {
		d, nx, ny = g.ring.depthM(x, y)
	}
	ux, uy = unit(x-nx, y-ny)
	if d < 0 {
		ux, uy = -ux, -uy
	}
	return d, ux, uy
}

// half is how far a place in a square may be from its middle.
func (g *ground) half() float64 { return g.g / math.Sqrt2 }

// clearM is the distance to the nearest keep-out.
func (g *ground) clearM(x, y float64) float64 {
	near := math.Inf(1)
	for i := range g.keepOuts {
		d, _, _ := g.keepOuts[i].away(x, y)
		near = math.Min(near, d)
	}
	return near
}

// mm rounds to whole millimetres, so that places read back as they are written.
func mm(v float64) float64 { return math.Round(v*1000) / 1000 }

// placesIn lists places to try for a square: the middle, then a grid of 25.
func (g *ground) placesIn(cell int32, visit func(x, y float64) bool) {
	x, y := g.middle(cell)
	if visit(mm(x), mm(y)) {
		return
	}
	for i := range 25 {
		dx, dy := (float64(i%5)-2)/5*0.98*g.g, (float64(i/5)-2)/5*0.98*g.g
		px, py := mm(x+dx), mm(y+dy)
		if g.square(px, py) == cell && visit(px, py) {
			return
		}
	}
}

func (g *ground) newZone(name string, lo, hi float64) *zone {
	z := &zone{name: name, lo: lo, hi: hi, index: make([]int32, len(g.d))}
	half := g.half()
	for i := range g.d {
		z.index[i] = -1
		if g.d[i]+half < lo || g.d[i]-half > hi {
			continue
		}
		g.placesIn(int32(i), func(x, y float64) bool {
			d := g.depthM(x, y)
			if d < lo || d > hi {
				return false
			}
			z.index[i] = int32(len(z.cells))
			z.cells = append(z.cells, int32(i))
			z.place = append(z.place, [2]float64{x, y})
			return true
		})
	}
	return z
}

// failed lists where plants of a species died.
func (g *ground) failed(id string) (out [][2]float64) {
	for _, k := range g.p.Failed {
		if k.ID == id {
			out = append(out, [2]float64{k.X, k.Y})
		}
	}
	return out
}

// classFor finds or makes the class of a radius in a zone, for species that died
// in the same places. A zone that the bed does not have gives a class without places.
func (g *ground) classFor(zoneName string, r float64, failed [][2]float64) int {
	for i, c := range g.classes {
		if c.r == r && c.zone != nil && c.zone.name == zoneName && slices.Equal(c.failed, failed) {
			return i
		}
	}
	c := &class{r: r, zone: g.zone(zoneName), failed: failed}
	g.classes = append(g.classes, c)
	if c.zone == nil {
		return len(g.classes) - 1
	}
	c.lo, c.hi = math.Max(c.zone.lo, g.p.MarginM+(1-g.p.Overhang)*r+slackM), c.zone.hi
	for i, cell := range c.zone.cells {
		if g.sure(c, cell) < 0 {
			continue
		}
		c.touched = append(c.touched, int32(i))
		g.placesIn(cell, func(x, y float64) bool {
			if !g.allowed(c, x, y) {
				return false
			}
			c.place = append(c.place, [2]float64{x, y})
			return true
		})
	}
	return len(g.classes) - 1
}

// sure answers from the raster whether the places of a square are allowed:
// 1 all, -1 none, 0 some may be.
func (g *ground) sure(c *class, cell int32) int {
	d, k, half := g.d[cell], g.k[cell], g.half()
	if len(c.failed) > 0 {
		k = min(k, c.awayM(g.middle(cell)))
	}
	switch {
	case d+half < c.lo || d-half > c.hi || k+half < c.r:
		return -1
	case d-half >= c.lo && d+half <= c.hi && k-half >= c.r:
		return 1
	}
	return 0
}

// allowed reports whether a plant of the class may stand at a place, others apart.
func (g *ground) allowed(c *class, x, y float64) bool {
	cell := g.square(x, y)
	if cell < 0 || c.zone == nil || c.zone.index[cell] < 0 {
		return false
	}
	if s := g.sure(c, cell); s != 0 {
		return s > 0
	}
	d := g.depthM(x, y)
	return d >= c.lo && d <= c.hi && min(g.clearM(x, y), c.awayM(x, y)) >= c.r
}

// awayM is the distance to the nearest place that the plants must not cover.
func (c *class) awayM(x, y float64) float64 {
	near := math.Inf(1)
	for _, f := range c.failed {
		near = min(near, math.Hypot(x-f[0], y-f[1]))
	}
	return near
}

// riskAt is the yearly risk of a line in the square of a place.
func (g *ground) riskAt(line int, x, y float64) float64 {
	return g.risk[line][g.classes[g.classOf[line]].zone.index[g.square(x, y)]]
}

// settle moves a place to one near it that is allowed: along the way inward or
// outward and off the keep-outs, or else to the nearest that the class lists.
func (g *ground) settle(c *class, x, y float64) (float64, float64) {
	const inside = 0.001 // so that rounding to a millimetre stays inside
	for range 4 {
		cell := g.square(x, y)
		if cell >= 0 && c.zone.index[cell] >= 0 && g.sure(c, cell) > 0 {
			return x, y
		}
		d, ux, uy := g.inward(x, y)
		if cell >= 0 && c.zone.index[cell] >= 0 && d >= c.lo && d <= c.hi && min(g.clearM(x, y), c.awayM(x, y)) >= c.r {
			return x, y
		}
		switch {
		case d < c.lo+inside:
			x, y = x+(c.lo+inside-d)*ux, y+(c.lo+inside-d)*uy
		case d > c.hi-inside:
			x, y = x-(d-c.hi+inside)*ux, y-(d-c.hi+inside)*uy
		}
		for i := range g.keepOuts {
			if a, vx, vy := g.keepOuts[i].away(x, y); a < c.r+inside {
				x, y = x+(c.r+inside-a)*vx, y+(c.r+inside-a)*vy
			}
		}
	}
	if g.allowed(c, x, y) {
		return x, y
	}
	return c.nearest(x, y)
}

func (c *class) nearest(x, y float64) (float64, float64) {
	best, at := math.Inf(1), [2]float64{x, y}
	for _, p := range c.place {
		dx, dy := p[0]-x, p[1]-y
		if q := dx*dx + dy*dy; q < best {
			best, at = q, p
		}
	}
	return at[0], at[1]
}
