package draw

import "math"

// ringCells is how many cells Rings lays across the longer side of a bed: a
// cell is then below what shows on a screen.
const ringCells = 120

// Rings gives the closed lines round the ground that lies below each level, mm
// from the spill level, for pictures that are drawn elsewhere. Levels at or
// above the outer edge give the outline itself.
func Rings(b Bed, levelsMM []float64) [][][]Point {
	b.check(nil, nil)
	box := bounds(b.Outline)
	step := math.Max(box.x1-box.x0, box.y1-box.y0) / ringCells
	type place struct{ x, y float64 }
	type ground struct {
		mm float64
		in bool
	}
	known := map[place]ground{} // the same cells are asked for every level
	height := func(x, y float64) (float64, bool) {
		g, ok := known[place{x, y}]
		if !ok {
			g.mm, g.in = b.Height(x, y)
			known[place{x, y}] = g
		}
		return g.mm, g.in
	}
	out := make([][][]Point, len(levelsMM))
	for i, mm := range levelsMM {
		if mm >= b.RimMM {
			out[i] = [][]Point{b.Outline}
			continue
		}
		out[i] = contours(b.Outline, height, mm, step)
	}
	return out
}
