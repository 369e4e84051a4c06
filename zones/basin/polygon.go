package basin

import (
	"fmt"
	"math"

	"hollowbed/zones/table"
)

// polygon holds the edges of a simple polygon, turning left. They are measured
// from its first point (x, y), which keeps the digits of a far-off place.
type polygon struct {
	x, y  float64
	edges []edge
	area  float64
}

// edge runs from (x, y) along the unit vector (ex, ey) for n metres; the inside
// lies to its left.
type edge struct{ x, y, ex, ey, n float64 }

func newPolygon(points [][2]float64) *polygon {
	area := signedArea(points)
	p := &polygon{x: points[0][0], y: points[0][1], area: math.Abs(area)}
	n := len(points)
	for i := range points {
		a, b := points[i], points[(i+1)%n]
		if area < 0 {
			a, b = points[n-1-i], points[(2*n-2-i)%n]
		}
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		p.edges = append(p.edges, edge{a[0] - p.x, a[1] - p.y, (b[0] - a[0]) / l, (b[1] - a[1]) / l, l})
	}
	return p
}

// signedArea is the shoelace sum about the first point: above 0 for a left turn.
func signedArea(p [][2]float64) float64 {
	sum := 0.0
	for i := 1; i+1 < len(p); i++ {
		sum += (p[i][0]-p[0][0])*(p[i+1][1]-p[0][1]) - (p[i+1][0]-p[0][0])*(p[i][1]-p[0][1])
	}
	return sum / 2
}

func (p *polygon) areaM2() float64 { return p.area }

func (p *polygon) distanceM(x, y float64) float64 {
	x, y = x-p.x, y-p.y
	near, inside := math.Inf(1), false
	for i, e := range p.edges {
		near = math.Min(near, e.distance2(x, y))
		f := p.edges[(i+1)%len(p.edges)]
		if (e.y > y) != (f.y > y) && x < e.x+(f.x-e.x)*(y-e.y)/(f.y-e.y) {
			inside = !inside
		}
	}
	if !inside {
		return -math.Sqrt(near)
	}
	return math.Sqrt(near)
}

// distance2 is the square of the distance from (x, y) to the edge.
func (e edge) distance2(x, y float64) float64 {
	dx, dy := x-e.x, y-e.y
	t := math.Min(math.Max(dx*e.ex+dy*e.ey, 0), e.n)
	dx, dy = dx-t*e.ex, dy-t*e.ey
	return dx*dx + dy*dy
}

// checkPolygon reports every fault of a polygon; points are counted from 1.
func checkPolygon(p [][2]float64) error {
	if len(p) < 3 {
		return table.Faults{{Want: fmt.Sprintf("outline: %d points: want at least 3", len(p))}}
	}
	var f table.Faults
	for i, a := range p {
		if !(math.Abs(a[0]) < 1e6 && math.Abs(a[1]) < 1e6) {
			f = append(f, table.Fault{Want: fmt.Sprintf("outline: point %d: (%g, %g): want metres within 1,000,000", i+1, a[0], a[1])})
		}
	}
	if len(f) > 0 {
		return f
	}
	for i := range p {
		for j := i + 1; j < len(p); j++ {
			if p[i] == p[j] {
				f = append(f, table.Fault{Want: fmt.Sprintf("outline: points %d and %d are the same place: leave one out", i+1, j+1)})
			}
		}
	}
	if len(f) > 0 {
		return f
	}
	n := len(p)
	for i := range p {
		for j := i + 1; j < n; j++ {
			if meet(p, i, j) {
				f = append(f, table.Fault{Want: fmt.Sprintf("outline: the edge from point %d to %d meets the edge from point %d to %d: want edges that do not cross or touch",
					i+1, (i+1)%n+1, j+1, (j+1)%n+1)})
			}
		}
	}
	if len(f) > 0 {
		return f
	}
	minX, minY, maxX, maxY := Outline{Kind: "polygon", Points: p}.Bounds()
	if size := math.Max(maxX-minX, maxY-minY); !(math.Abs(signedArea(p)) > 1e-9*size*size) {
		return table.Faults{{Want: "outline: the points lie on one line: want an outline with an area"}}
	}
	return nil
}

// meet reports whether edges i < j of the closed polygon p share a point other
// than the corner that joins neighbours.
func meet(p [][2]float64, i, j int) bool {
	n := len(p)
	a, b, c, d := p[i], p[(i+1)%n], p[j], p[(j+1)%n]
	switch {
	case j == i+1: // neighbours, joined at b = c
		return turn(a, b, d) == 0 && dot(b, a, d) > 0
	case i == 0 && j == n-1: // joined at a = d
		return turn(c, a, b) == 0 && dot(a, c, b) > 0
	}
	t1, t2 := turn(a, b, c), turn(a, b, d)
	t3, t4 := turn(c, d, a), turn(c, d, b)
	if t1*t2 < 0 && t3*t4 < 0 {
		return true
	}
	return t1 == 0 && within(a, b, c) || t2 == 0 && within(a, b, d) ||
		t3 == 0 && within(c, d, a) || t4 == 0 && within(c, d, b)
}

// turn is the sign of the turn a, b, c: 1 left, -1 right, 0 none to rounding.
func turn(a, b, c [2]float64) float64 {
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], c[0]-a[0], c[1]-a[1]
	v := ux*vy - uy*vx
	if math.Abs(v) <= 1e-12*math.Hypot(ux, uy)*math.Hypot(vx, vy) {
		return 0
	}
	return math.Copysign(1, v)
}

// dot is (a - o).(b - o).
func dot(o, a, b [2]float64) float64 {
	return (a[0]-o[0])*(b[0]-o[0]) + (a[1]-o[1])*(b[1]-o[1])
}

// within reports whether c, on the line through a and b, lies between them.
func within(a, b, c [2]float64) bool { return dot(c, a, b) <= 0 }
