package draw

import (
	"fmt"
	"math"
	"strings"
)

// Bed is the shape of the bed.
type Bed struct {
	Outline  []Point // outer edge of the rim, closed by itself
	Height   Height
	BottomMM float64 // finished ground at the bottom, below 0
	RimMM    float64 // finished ground at the outline, 0 or more
}

// check panics on what a checked garden can't hold.
func (b Bed) check(species []Species, plants []Plant) {
	if len(b.Outline) < 3 || b.Height == nil || !known(b.BottomMM) || !known(b.RimMM) {
		panic("draw: a bed needs an outline of three points, a height and its levels")
	}
	for _, p := range b.Outline {
		if !known(p.X) || !known(p.Y) {
			panic("draw: outline with a point that is no number")
		}
	}
	for _, p := range plants {
		if p.Species < 0 || p.Species >= len(species) || !known(p.At.X) || !known(p.At.Y) {
			panic(fmt.Sprintf("draw: plant %q of species %d at %v", p.Stake, p.Species, p.At))
		}
	}
}

// contourLevels are the spill level, the foot of the slope and one or two heights between,
// from above. The foot is taken a hundredth of the depth above the flat bottom.
func (b Bed) contourLevels(u Units) []level {
	d := -b.BottomMM
	if !(d > 0) {
		return nil
	}
	out := []level{{0, "spill level"}}
	if d > 120 {
		words := u.depth(d/3) + " and " + u.depth(d*2/3) + " below spill"
		out = append(out, level{-d / 3, words}, level{-d * 2 / 3, ""})
	} else {
		out = append(out, level{-d / 2, u.aboveSpill(-d / 2)})
	}
	return append(out, level{-d * 0.99, "foot of the slope, " + u.aboveSpill(-d)})
}

// level is a height with its words for the legend; "": told by the one before.
type level struct {
	mm    float64
	words string
}

// view is how ground comes to paper.
type view struct {
	sc     scale
	x0, y0 float64 // where the origin of the ground lies, mm
}

func (v view) at(p Point) (x, y float64) { return v.x0 + v.sc.mm(p.X), v.y0 - v.sc.mm(p.Y) }

// box is where a box of the ground, m, comes to lie.
func (v view) box(b box) box {
	x0, y0 := v.at(Point{b.x0, b.y1})
	x1, y1 := v.at(Point{b.x1, b.y0})
	return box{x0, y0, x1, y1}
}

func (v view) pt(p Point) [2]float64 {
	x, y := v.at(p)
	return [2]float64{x, y}
}

// outline writes points as the d of a path.
func (v view) outline(points []Point, closed bool) string {
	var b strings.Builder
	for i, p := range points {
		x, y := v.at(p)
		c := "L"
		if i == 0 {
			c = "M"
		}
		b.WriteString(c + num(x) + " " + num(y))
	}
	if closed {
		b.WriteString("Z")
	}
	return b.String()
}

// loops writes several closed lines as one path.
func (v view) loops(lines [][]Point) string {
	var b strings.Builder
	for _, l := range lines {
		b.WriteString(v.outline(l, true))
	}
	return b.String()
}

// edgeDistance is from p to the nearest edge of a closed line.
func edgeDistance(poly []Point, p Point) float64 {
	d := math.Inf(1)
	for i, a := range poly {
		d = math.Min(d, segmentDistance(p, a, poly[(i+1)%len(poly)]))
	}
	return d
}
