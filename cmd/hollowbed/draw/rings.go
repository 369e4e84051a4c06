package draw

import "math"

// ringCells is how many cells Rings lays across the longer side of a bed.
const ringCells = 120

// Rings gives the closed lines round the ground below each level, mm from the spill
// level. Levels at or above the outer edge give the outline itself.
func Rings(b Bed, levelsMM []float64) [][][]Point {
	b.check(nil, nil)
	box := bounds(b.Outline)
	step := math.Max(box.x1-box.x0, box.y1-box.y0) / ringCells
	ground := newSurvey(b.Outline, b.Height, step)
	out := make([][][]Point, len(levelsMM))
	for i, mm := range levelsMM {
		if mm >= b.RimMM {
			out[i] = [][]Point{b.Outline}
			continue
		}
		out[i] = ground.contours(mm)
	}
	return out
}
