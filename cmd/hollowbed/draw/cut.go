package draw

import "math"

// cut finds where the section goes: through the deepest place of the bed (of wide deepest
// ground, the spot nearest to its middle), along its long axis (second moments of area;
// straight if within 4 degrees of the page's directions, along x if the bed is about as
// wide as long), from edge to edge. False: there is no ground inside.
func cut(outline []Point, height Height) (from, to Point, ok bool) {
	b := bounds(outline)
	size := math.Max(b.x1-b.x0, b.y1-b.y0)
	if !(size > 0) || !known(size) {
		return from, to, false
	}
	places, deepest := innerPlaces(outline, height, size/90)
	if len(places) == 0 {
		return from, to, false
	}
	dx, dy := longAxis(places)
	reach := 2 * size
	inside := func(t float64) bool {
		_, in := height(deepest.X+t*dx, deepest.Y+t*dy)
		return in
	}
	last := func(sign float64) float64 {
		const n = 2000
		for i := n; i > 0; i-- {
			in, out := reach*float64(i-1)/n, reach*float64(i)/n
			if !inside(sign * in) {
				continue
			}
			for range 40 {
				if m := (in + out) / 2; inside(sign * m) {
					in = m
				} else {
					out = m
				}
			}
			return sign * in
		}
		return 0
	}
	a, z := last(-1), last(1)
	return Point{deepest.X + a*dx, deepest.Y + a*dy}, Point{deepest.X + z*dx, deepest.Y + z*dy}, z > a
}

// innerPlaces lists places all over the bed and the one that counts as the deepest.
func innerPlaces(outline []Point, height Height, step float64) (places []Point, deepest Point) {
	g := newGrid(outline, step)
	var heights []float64
	low := math.Inf(1)
	for j := range g.ny {
		for i := range g.nx {
			p := g.at(i, j)
			if h, in := height(p.X, p.Y); in {
				places, heights = append(places, p), append(heights, h)
				low = math.Min(low, h)
			}
		}
	}
	var lowest []Point
	for i, p := range places {
		if heights[i] <= low+1 {
			lowest = append(lowest, p)
		}
	}
	middle := mean(lowest)
	best := math.Inf(1)
	for _, p := range lowest {
		if d := dist(p, middle); d < best-1e-9 {
			deepest, best = p, d
		}
	}
	if _, in := height(middle.X, middle.Y); in && best < step {
		deepest = middle
	}
	return places, deepest
}

func mean(places []Point) Point {
	var sum Point
	for _, p := range places {
		sum.X, sum.Y = sum.X+p.X, sum.Y+p.Y
	}
	n := float64(len(places))
	return Point{sum.X / n, sum.Y / n}
}

// longAxis is a unit vector to the right, or up if the axis is upright.
func longAxis(places []Point) (dx, dy float64) {
	m := mean(places)
	var xx, yy, xy float64
	for _, p := range places {
		xx += (p.X - m.X) * (p.X - m.X)
		yy += (p.Y - m.Y) * (p.Y - m.Y)
		xy += (p.X - m.X) * (p.Y - m.Y)
	}
	if spread := math.Hypot(xx-yy, 2*xy); spread < 0.06*(xx+yy) {
		return 1, 0
	}
	a := math.Atan2(2*xy, xx-yy) / 2 // -90 to 90 degrees
	straight := 4 * math.Pi / 180
	switch {
	case math.Abs(a) < straight:
		return 1, 0
	case math.Abs(a) > math.Pi/2-straight:
		return 0, 1
	}
	return math.Cos(a), math.Sin(a)
}
