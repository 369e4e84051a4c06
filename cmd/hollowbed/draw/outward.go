package draw

import "math"

// Outward is the unit direction that leads out of a bed from a place at its edge: across
// the nearest side, or between two alike. (1, 0) for an outline without area.
func Outward(outline []Point, at Point) Point {
	least, area := math.Inf(1), 0.0
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		least = math.Min(least, segmentDistance(at, a, b))
		area += a.X*b.Y - b.X*a.Y
	}
	const alikeM = 1e-3
	var x, y float64
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if n := dist(a, b); n > 0 && segmentDistance(at, a, b) <= least+alikeM {
			x, y = x+(b.Y-a.Y)/n, y-(b.X-a.X)/n
		}
	}
	if area < 0 {
		x, y = -x, -y
	}
	ux, uy := unit(x, y, 1, 0)
	return Point{ux, uy}
}
