package basin

import (
	"math"
	"slices"
)

// span is a stretch of a boundary piece, by metres along an edge or by radians
// round a corner.
type span struct{ from, to float64 }

// insetAreaM2 is the area at least d inside the polygon, by Green's theorem:
//
//	area = 1/2 integral of (x dy - y dx) round the boundary of that area.
//
// The boundary is made of the parallels of the edges at distance d and, round
// every corner that points inward, an arc of radius d, less every stretch that
// lies nearer than d to another edge. The places nearer than d to an edge form
// a capsule, which is convex, so an edge's parallel loses one stretch to each
// other edge, in closed form. A tie (a place at exactly d from two edges) is a
// point or is run through both ways, and adds nothing.
//
// Limits: exact to rounding, about 1e-13 of the square of the polygon's size.
func (p *polygon) insetAreaM2(d float64) float64 {
	if !(d > 0) {
		return p.area
	}
	twice := 0.0
	var cut []span
	for i, e := range p.edges {
		x, y := e.x-d*e.ey, e.y+d*e.ex
		cut = p.edgeCuts(i, d, cut[:0])
		leftOver(cut, e.n, func(s span) { twice += (x*e.ey - y*e.ex) * (s.to - s.from) })
		start, width := p.reflex(i)
		if width <= 0 {
			continue
		}
		cut = p.arcCuts(i, d, start, width, cut[:0])
		leftOver(cut, width, func(s span) { // the arc is run clockwise
			s0, c0 := math.Sincos(start - s.from)
			s1, c1 := math.Sincos(start - s.to)
			twice += d*(e.x*(s1-s0)-e.y*(c1-c0)) - d*d*(s.to-s.from)
		})
	}
	return math.Max(0, twice/2)
}

// inradiusM halves the distance between one that leaves some boundary and one
// that leaves none. What is left only shrinks as d grows, so this finds the one
// place where it ends. Limits: 1e-12 of the polygon's size.
func (p *polygon) inradiusM() float64 {
	lo, hi := 0.0, math.Sqrt(p.area/math.Pi)*(1+1e-12) // the circle inside is no larger
	least := 1e-12 * hi
	for range 60 {
		m := (lo + hi) / 2
		if p.leaves(m, least) {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// leaves reports whether more than least metres of one boundary piece are left
// at distance d.
func (p *polygon) leaves(d, least float64) bool {
	var cut []span
	for i, e := range p.edges {
		cut = p.edgeCuts(i, d, cut[:0])
		if leftOver(cut, e.n, func(span) {}) > least {
			return true
		}
		if start, width := p.reflex(i); width > 0 {
			cut = p.arcCuts(i, d, start, width, cut[:0])
			if d*leftOver(cut, width, func(span) {}) > least {
				return true
			}
		}
	}
	return false
}

// leftOver calls visit for every stretch of [0, n] outside the cuts and returns
// the longest. It sorts cuts.
func leftOver(cuts []span, n float64, visit func(span)) float64 {
	slices.SortFunc(cuts, func(a, b span) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		}
		return 0
	})
	at, longest := 0.0, 0.0
	for _, c := range cuts {
		if c.from >= n {
			break
		}
		if c.from > at {
			visit(span{at, c.from})
			longest = math.Max(longest, c.from-at)
		}
		at = math.Max(at, c.to)
	}
	if at < n {
		visit(span{at, n})
		longest = math.Max(longest, n-at)
	}
	return longest
}

// edgeCuts appends the stretches of edge i's parallel at distance d that lie
// nearer than d to another edge. It stops early once nothing is left.
func (p *polygon) edgeCuts(i int, d float64, cuts []span) []span {
	e, n := p.edges[i], len(p.edges)
	before, after := (i+n-1)%n, (i+1)%n
	mx, my := e.x-d*e.ey+e.ex*e.n/2, e.y+d*e.ex+e.ey*e.n/2
	lo, hi := 0.0, e.n
	add := func(s span, ok bool) {
		if !ok || s.to <= lo || s.from >= hi {
			return
		}
		switch {
		case s.from <= lo:
			lo = s.to
		case s.to >= hi:
			hi = s.from
		default:
			cuts = append(cuts, s)
		}
	}
	// Past a corner that points outward the parallel is lost from its end on, for
	// d tan(turn/2), or to wherever the edge there, if shorter, stops counting.
	if half := p.halfTurn(i); half > 0 {
		s := span{0, d * half}
		if s.to > p.edges[before].n {
			s, _ = p.nearer(i, before, d, true, false)
		}
		lo = math.Max(lo, s.to)
	}
	if half := p.halfTurn(after); half > 0 {
		s := span{e.n - d*half, e.n}
		if d*half > p.edges[after].n {
			s, _ = p.nearer(i, after, d, false, true)
		}
		hi = math.Min(hi, s.from)
	}
	for j := range p.edges {
		if lo >= hi {
			break
		}
		if j == i || j == before || j == after {
			continue
		}
		f := &p.edges[j]
		dx, dy := f.x+f.ex*f.n/2-mx, f.y+f.ey*f.n/2-my
		if r := (e.n+f.n)/2 + d; dx*dx+dy*dy < r*r {
			add(p.nearer(i, j, d, true, true))
		}
	}
	if lo >= hi {
		return append(cuts[:0], span{0, e.n})
	}
	return append(cuts, span{math.Inf(-1), lo}, span{hi, math.Inf(1)})
}

// halfTurn is tan(turn/2) at the corner where edge i begins, above 0 where the
// corner points outward. The parallels of the edges beside such a corner meet
// d tan(turn/2) from their ends.
func (p *polygon) halfTurn(i int) float64 {
	e, f := p.edges[(i+len(p.edges)-1)%len(p.edges)], p.edges[i]
	return math.Tan(math.Atan2(e.ex*f.ey-e.ey*f.ex, e.ex*f.ex+e.ey*f.ey) / 2)
}

// nearer is the stretch of edge i's parallel at distance d (by metres from its
// start) that lies nearer than d to edge j. With first or last false, the first
// or last point of j is one of i's own ends, which is never nearer than d.
func (p *polygon) nearer(i, j int, d float64, first, last bool) (span, bool) {
	e, f := &p.edges[i], &p.edges[j]
	s := span{math.Inf(1), math.Inf(-1)}
	qx, qy := e.x-d*e.ey-f.x, e.y+d*e.ex-f.y
	// In j's frame the parallel is (x + cx t, y + cy t).
	x, y := qx*f.ex+qy*f.ey, qy*f.ex-qx*f.ey
	cx, cy := e.ex*f.ex+e.ey*f.ey, e.ey*f.ex-e.ex*f.ey
	a, ok := p.beside(i, j, d, y, cy)
	if !ok {
		return s, false
	}
	if b, ok := between(x, cx, f.n); ok {
		if from, to := math.Max(a.from, b.from), math.Min(a.to, b.to); from < to {
			s.from, s.to = from, to
		}
	}
	disc := func(x, y float64) {
		t := -(x*cx + y*cy)
		h := y*cx - x*cy
		if r := d*d - h*h; r > 0 {
			r = math.Sqrt(r)
			s.from, s.to = math.Min(s.from, t-r), math.Max(s.to, t+r)
		}
	}
	if first {
		disc(x, y)
	}
	if last {
		disc(x-f.n, y)
	}
	// The discs lie between the two parallels of j: no rounding past those.
	s.from, s.to = math.Max(s.from, a.from), math.Min(s.to, a.to)
	return s, s.from < s.to
}

// between is where 0 < x + c t < n.
func between(x, c, n float64) (span, bool) {
	if math.Abs(c) < 1e-15 {
		return span{math.Inf(-1), math.Inf(1)}, 0 < x && x < n
	}
	a, b := -x/c, (n-x)/c
	return span{math.Min(a, b), math.Max(a, b)}, true
}

// beside is the stretch of edge i's parallel at distance d that lies nearer
// than d to the line through edge j; y is where the parallel starts, seen from
// that line, and cy is how it rises.
//
// Where two edges face each other at nearly 2d, the same ground is bounded by
// both parallels, and rounding must not drop one and keep the other. So the
// crossing of the parallels is worked out once for the pair, from the edge that
// comes first, and read off along each.
func (p *polygon) beside(i, j int, d, y, cy float64) (span, bool) {
	a, b := &p.edges[min(i, j)], &p.edges[max(i, j)]
	ax, ay := a.x-d*a.ey, a.y+d*a.ex
	bx, by := b.x-d*b.ey, b.y+d*b.ex
	cross := a.ex*b.ey - a.ey*b.ex
	if math.Abs(cross) < 1e-15 {
		if a.ex*b.ex+a.ey*b.ey < 0 {
			y = (ay-b.y)*b.ex - (ax-b.x)*b.ey
		}
		return span{math.Inf(-1), math.Inf(1)}, math.Abs(y) < d
	}
	t := ((bx-ax)*b.ey - (by-ay)*b.ex) / cross
	if j < i {
		t = (ax+t*a.ex-bx)*b.ex + (ay+t*a.ey-by)*b.ey
	}
	if cy > 0 {
		return span{t - 2*d/cy, t}, true
	}
	return span{t, t - 2*d/cy}, true
}

// reflex is the arc round the corner where edge i begins: the direction it
// starts in and its width, both in radians; a width of 0 or less means that the
// corner points outward and has no arc.
func (p *polygon) reflex(i int) (start, width float64) {
	e, f := p.edges[(i+len(p.edges)-1)%len(p.edges)], p.edges[i]
	width = -math.Atan2(e.ex*f.ey-e.ey*f.ex, e.ex*f.ex+e.ey*f.ey)
	return math.Atan2(e.ex, -e.ey), width
}

// arcCuts appends the stretches of the arc of radius d round the corner where
// edge i begins that lie nearer than d to an edge. The arc can enter and leave
// a capsule only where it crosses the circles round the edge's ends or the two
// parallels, so those crossings are found and what lies between is tested. The
// two edges at the corner touch the arc and never come nearer.
func (p *polygon) arcCuts(i int, d, start, width float64, cuts []span) []span {
	c, n := p.edges[i], len(p.edges)
	for j, f := range p.edges {
		if j == i || (j+1)%n == i || f.distance2(c.x, c.y) >= 4*d*d {
			continue
		}
		stops := append(make([]float64, 0, 10), 0, width)
		stop := func(angle float64) {
			s := math.Mod(start-angle, 2*math.Pi)
			if s < 0 {
				s += 2 * math.Pi
			}
			if s > 0 && s < width {
				stops = append(stops, s)
			}
		}
		for _, end := range [2]float64{0, f.n} {
			dx, dy := f.x+end*f.ex-c.x, f.y+end*f.ey-c.y
			if h := math.Hypot(dx, dy) / (2 * d); h < 1 {
				a, b := math.Atan2(dy, dx), math.Acos(h)
				stop(a - b)
				stop(a + b)
			}
		}
		tilt := math.Atan2(f.ey, f.ex)
		y := (c.y-f.y)*f.ex - (c.x-f.x)*f.ey
		for _, side := range [2]float64{-d, d} {
			if s := (side - y) / d; s > -1 && s < 1 {
				stop(tilt + math.Asin(s))
				stop(tilt + math.Pi - math.Asin(s))
			}
		}
		slices.Sort(stops)
		for k := 1; k < len(stops); k++ {
			sin, cos := math.Sincos(start - (stops[k-1]+stops[k])/2)
			if f.distance2(c.x+d*cos, c.y+d*sin) < d*d*(1-1e-12) {
				cuts = append(cuts, span{stops[k-1], stops[k]})
			}
		}
	}
	return cuts
}
