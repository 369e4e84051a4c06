package placement

import (
	"math"
	"math/rand/v2"
	"slices"
)

// sites gives every plant that can have a place one to begin with: a triangular
// lattice laid over its zone, evened out so that each place has the same ground,
// with room left round the plants that stay. Which plant gets which place of its
// zone is left to the arrangement.
func (c *crowd) sites(rng *rand.Rand) {
	for _, z := range c.g.zones {
		var mine []int
		for i := range c.plants {
			if p := &c.plants[i]; !p.fixed && c.possible(i) && c.g.classes[p.class].zone == z {
				mine = append(mine, i)
			}
		}
		if len(mine) == 0 {
			continue
		}
		fixed := c.fixedIn(z)
		places := c.open(c.middling(mine), fixed)
		at := lattice(places, len(mine), c.g.g, rng)
		share := make([]float64, len(mine))
		for n := range share {
			share[n] = 1 / float64(len(mine))
		}
		for _, i := range fixed {
			at = append(at, [2]float64{c.x[i], c.y[i]})
		}
		even(places, at, share, c.g.g, 4)
		for n, i := range mine {
			k := c.g.classes[c.plants[i].class]
			c.x[i], c.y[i] = c.g.settle(k, at[n][0], at[n][1])
			c.in[i] = true
		}
	}
}

func (c *crowd) fixedIn(z *zone) []int {
	var out []int
	for i := range c.plants {
		if c.plants[i].fixed && c.g.p.Bed.ZoneAt(c.x[i], c.y[i]) == z.name {
			out = append(out, i)
		}
	}
	return out
}

// middling is the class of the middle radius among plants of one zone.
func (c *crowd) middling(mine []int) *class {
	var rs []float64
	for _, i := range mine {
		rs = append(rs, c.plants[i].r)
	}
	slices.Sort(rs)
	for _, i := range mine {
		if c.plants[i].r == rs[len(rs)/2] {
			return c.g.classes[c.plants[i].class]
		}
	}
	panic("placement: no plant has the middle radius")
}

// open is the places of a class that no fixed plant covers; all, if none is left.
func (c *crowd) open(k *class, fixed []int) [][2]float64 {
	var out [][2]float64
	for _, at := range k.place {
		if !slices.ContainsFunc(fixed, func(i int) bool {
			return math.Hypot(c.x[i]-at[0], c.y[i]-at[1]) < c.plants[i].r
		}) {
			out = append(out, at)
		}
	}
	if len(out) == 0 {
		return k.place
	}
	return out
}

// lattice is n places of a triangular lattice of the widest spacing found, at
// an offset and a turn by chance, on the ground that the places stand for. Where
// the lattice meets the ground more often, some are left out by chance.
func lattice(places [][2]float64, n int, step float64, rng *rand.Rand) [][2]float64 {
	type square struct{ i, j int }
	here := make(map[square]bool, len(places))
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	key := func(x, y float64) square { return square{int(math.Floor(x / step)), int(math.Floor(y / step))} }
	for _, p := range places {
		here[key(p[0], p[1])] = true
		x0, y0, x1, y1 = math.Min(x0, p[0]), math.Min(y0, p[1]), math.Max(x1, p[0]), math.Max(y1, p[1])
	}
	cx, cy, reach := (x0+x1)/2, (y0+y1)/2, math.Hypot(x1-x0, y1-y0)/2+step
	sin, cos := math.Sincos(rng.Float64() * math.Pi / 3)
	u, v := rng.Float64(), rng.Float64()
	at := func(s float64) [][2]float64 {
		var out [][2]float64
		rows := int(reach/(s*math.Sqrt(3)/2)) + 2
		cols := int(reach/s) + 2
		for j := -rows; j <= rows; j++ {
			for i := -cols; i <= cols; i++ {
				a := (float64(i) + u + float64(j&1)/2) * s
				b := (float64(j) + v) * s * math.Sqrt(3) / 2
				x, y := cx+a*cos-b*sin, cy+a*sin+b*cos
				if here[key(x, y)] {
					out = append(out, [2]float64{x, y})
				}
			}
		}
		return out
	}
	s := math.Sqrt(float64(len(places)) * step * step / float64(n) * 2 / math.Sqrt(3))
	out := at(s)
	for tries := 0; len(out) < n && tries < 30; tries++ {
		s *= 0.97
		out = at(s)
	}
	for len(out) < n {
		out = append(out, places[rng.IntN(len(places))])
	}
	rng.Shuffle(len(out), func(a, b int) { out[a], out[b] = out[b], out[a] })
	return out[:n]
}

// spreadOut moves the plants of every zone to the middle of ground of their
// own, some times over, with ground in proportion to what they take at mature
// spread, so that large and small ones stand about equally close. It is Lloyd's
// method on a power diagram whose weights are fitted on the way.
func (c *crowd) spreadOut(rounds int) {
	for _, z := range c.g.zones {
		mine := c.moving(z)
		if len(mine) == 0 {
			continue
		}
		fixed := c.fixedIn(z)
		places := c.open(c.middling(mine), fixed)
		at, share := make([][2]float64, 0, len(mine)+len(fixed)), make([]float64, 0, len(mine))
		area := 0.0
		for _, i := range mine {
			at = append(at, [2]float64{c.x[i], c.y[i]})
			share = append(share, c.plants[i].areaM2)
			area += c.plants[i].areaM2
		}
		for n := range share {
			share[n] /= area
		}
		for _, i := range fixed {
			at = append(at, [2]float64{c.x[i], c.y[i]})
		}
		even(places, at, share, c.g.g, rounds)
		for n, i := range mine {
			c.x[i], c.y[i] = c.g.settle(c.g.classes[c.plants[i].class], at[n][0], at[n][1])
		}
	}
}

// stretch is how far a site goes on its way to the middle: beyond it, since
// ground has to travel a long way through a narrow zone. Found by trial.
const stretch = 1.6

// even moves the sites that have a share of the ground to the middle of the
// places that fall to them; the sites behind them stay.
func even(places, at [][2]float64, share []float64, step float64, rounds int) {
	stride := max(1, len(places)/(25*len(at)))
	ground := float64(len(places)) * step * step
	each := step * step * float64(stride)
	sum, weight := make([][3]float64, len(at)), make([]float64, len(at))
	for i, s := range share {
		weight[i] = s * ground / math.Pi
	}
	near := newNearest(places)
	for range rounds {
		clear(sum)
		near.lay(at, weight)
		for k := 0; k < len(places); k += stride {
			p := places[k]
			s := &sum[near.of(p[0], p[1])]
			s[0], s[1], s[2] = s[0]+p[0], s[1]+p[1], s[2]+1
		}
		for i := range share {
			if sum[i][2] > 0 {
				at[i][0] += stretch * (sum[i][0]/sum[i][2] - at[i][0])
				at[i][1] += stretch * (sum[i][1]/sum[i][2] - at[i][1])
			}
			weight[i] = math.Max(0, weight[i]+0.4*(share[i]*ground-sum[i][2]*each))
		}
	}
}

// nearest finds the site with the least distance squared less weight, by
// walking outward over squares.
type nearest struct {
	within    box // of the places that are asked about
	heaviest  float64
	x0, y0, s float64
	nx, ny    int
	sites     []weighted // by square, row after row
	from      []int32    // where the sites of a square begin; one more for the end
}

type weighted struct {
	x, y, weight float64
	site         int32
}

type box struct{ x0, y0, x1, y1 float64 }

func (b box) with(ps [][2]float64) box {
	for _, p := range ps {
		b.x0, b.y0, b.x1, b.y1 = min(b.x0, p[0]), min(b.y0, p[1]), max(b.x1, p[0]), max(b.y1, p[1])
	}
	return b
}

func newNearest(within [][2]float64) *nearest {
	return &nearest{within: box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}.with(within)}
}

// lay puts the sites into squares that hold about one each.
func (n *nearest) lay(at [][2]float64, weight []float64) {
	b := n.within.with(at)
	n.x0, n.y0, n.heaviest = b.x0, b.y0, slices.Max(weight)
	n.s = math.Max(1e-3, math.Sqrt((b.x1-b.x0)*(b.y1-b.y0)/float64(len(at))))
	n.nx, n.ny = int((b.x1-b.x0)/n.s)+1, int((b.y1-b.y0)/n.s)+1
	n.sites = slices.Grow(n.sites[:0], len(at))[:len(at)]
	squares := n.nx * n.ny
	n.from = slices.Grow(n.from[:0], squares+2)[:squares+2]
	clear(n.from)
	for _, p := range at {
		n.from[n.square(p[0], p[1])+2]++
	}
	for c := range squares {
		n.from[c+2] += n.from[c+1]
	}
	for k, p := range at { // from[c+1] goes from where square c begins to where it ends
		at := &n.from[n.square(p[0], p[1])+1]
		n.sites[*at] = weighted{p[0], p[1], weight[k], int32(k)}
		*at++
	}
}

func (n *nearest) square(x, y float64) int {
	return int((y-n.y0)/n.s)*n.nx + int((x-n.x0)/n.s)
}

func (n *nearest) of(x, y float64) int32 {
	i, j := int((x-n.x0)/n.s), int((y-n.y0)/n.s)
	best, near := int32(-1), math.Inf(1)
	look := func(b, a0, a1 int) { // in squares of a row
		a0, a1 = max(a0, 0), min(a1, n.nx-1)
		if a0 > a1 {
			return
		}
		for k := n.from[b*n.nx+a0]; k < n.from[b*n.nx+a1+1]; k++ {
			w := &n.sites[k]
			dx, dy := w.x-x, w.y-y
			if q := dx*dx + dy*dy - w.weight; q < near {
				best, near = w.site, q
			}
		}
	}
	for ring := 1; ring <= max(n.nx, n.ny); ring++ { // the first with the square in its middle
		if w := float64(ring-1) * n.s; best >= 0 && w*w-n.heaviest > near {
			break
		}
		for b := max(j-ring, 0); b <= min(j+ring, n.ny-1); b++ {
			if ring == 1 || b == j-ring || b == j+ring {
				look(b, i-ring, i+ring)
			} else {
				look(b, i-ring, i-ring)
				look(b, i+ring, i+ring)
			}
		}
	}
	return best
}
