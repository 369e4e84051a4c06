package placement

import "math"

// ring is a closed polygon made ready for distances.
type ring struct{ edges []edge }

type edge struct {
	x, y, ex, ey, n float64 // start, unit direction, length
}

func newRing(pts [][2]float64) ring {
	r := ring{}
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		n := math.Hypot(b[0]-a[0], b[1]-a[1])
		if n > 0 {
			r.edges = append(r.edges, edge{a[0], a[1], (b[0] - a[0]) / n, (b[1] - a[1]) / n, n})
		}
	}
	return r
}

// foot is the nearest point of an edge, and its distance squared.
func (e *edge) foot(x, y float64) (q, nx, ny float64) {
	dx, dy := x-e.x, y-e.y
	t := min(max(dx*e.ex+dy*e.ey, 0), e.n)
	px, py := dx-t*e.ex, dy-t*e.ey
	return px*px + py*py, e.x + t*e.ex, e.y + t*e.ey
}

// depthM is the distance from (x, y) to the ring, above 0 inside, with the
// nearest point of the ring.
func (r ring) depthM(x, y float64) (d, nx, ny float64) {
	near, inside := math.Inf(1), false
	for i := range r.edges {
		e := &r.edges[i]
		if q, a, b := e.foot(x, y); q < near {
			near, nx, ny = q, a, b
		}
		y2 := r.edges[0].y
		if i+1 < len(r.edges) {
			y2 = r.edges[i+1].y
		}
		if (e.y > y) != (y2 > y) && x-e.x < e.ex/e.ey*(y-e.y) {
			inside = !inside
		}
	}
	d = math.Sqrt(near)
	if !inside {
		d = -d
	}
	return d, nx, ny
}

// nearestOf is the distance to the nearest of some edges, without a sign.
func (r ring) nearestOf(edges []int32, x, y float64) (d, nx, ny float64) {
	near := math.Inf(1)
	for _, i := range edges {
		if q, a, b := r.edges[i].foot(x, y); q < near {
			near, nx, ny = q, a, b
		}
	}
	return math.Sqrt(near), nx, ny
}

// nearEdges lists for every square of the raster the edges that can be the
// nearest to a place in it: those no further from its middle than the nearest
// and twice the way from the middle to a corner.
func (r ring) nearEdges(g *ground) [][]int32 {
	if r.edges == nil {
		return nil
	}
	out := make([][]int32, len(g.d))
	var store []int32
	for cell := range out {
		x, y := g.middle(int32(cell))
		reach := math.Abs(g.d[cell]) + 2*g.half() + 1e-9
		from := len(store)
		for i := range r.edges {
			if q, _, _ := r.edges[i].foot(x, y); q <= reach*reach {
				store = append(store, int32(i))
			}
		}
		out[cell] = store[from:len(store):len(store)]
	}
	return out
}

// away is the distance to the keep-out, above 0 outside, and the direction
// that leads off it.
func (k *keepOut) away(x, y float64) (d, ux, uy float64) {
	if k.ring.edges == nil {
		dx, dy := x-k.x, y-k.y
		n := math.Hypot(dx, dy)
		if n == 0 {
			return -k.r, 1, 0
		}
		return n - k.r, dx / n, dy / n
	}
	d, nx, ny := k.ring.depthM(x, y)
	ux, uy = unit(x-nx, y-ny)
	if d > 0 { // inside: the nearest edge lies the other way
		ux, uy = -ux, -uy
	}
	return -d, ux, uy
}

type keepOut struct {
	ring    ring
	x, y, r float64
}

func newKeepOut(k KeepOut) keepOut {
	if len(k.Points) > 0 {
		return keepOut{ring: newRing(k.Points)}
	}
	return keepOut{x: k.X, y: k.Y, r: k.R}
}

func unit(dx, dy float64) (ux, uy float64) {
	n := math.Hypot(dx, dy)
	if n < 1e-12 {
		return 1, 0
	}
	return dx / n, dy / n
}

// Reach is the distance from a place to the keep-out, 0 or less inside it.
func (k KeepOut) Reach(x, y float64) float64 {
	if len(k.Points) == 0 {
		return math.Hypot(x-k.X, y-k.Y) - k.R
	}
	d, _, _ := newRing(k.Points).depthM(x, y)
	return -d
}
