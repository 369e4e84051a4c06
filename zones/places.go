package zones

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/zones/basin"
)

// Places are where water comes and goes on this lot, m in the coordinates of
// the outline.
type Places struct {
	Inlet, Overflow         [2]float64
	InletGiven, OutletGiven bool // by the garden file
}

// Places takes the inlet and the overflow from the garden file; where it has
// none they stand in the middle of the left and of the right side.
func (l *Lot) Places() Places {
	layout := l.Garden.Layout
	left, right := across(l.Bed.Spec().Outline)
	p := Places{Inlet: left, Overflow: right}
	if !math.IsNaN(layout.InletM[0]) {
		p.Inlet, p.InletGiven = layout.InletM, true
	}
	if !math.IsNaN(layout.OverflowM[0]) {
		p.Overflow, p.OutletGiven = layout.OverflowM, true
	}
	return p
}

const (
	filmMM  = 10  // water less deep than this is no pond
	besideM = 0.3 // a place so near to the edge counts as at the bed
)

// placesCheck says whether water comes in and leaves at the edge of the bed, as far as
// the file says where; ok is false if it does not.
func (l *Lot) placesCheck() (c basin.Check, ok bool) {
	p, u, outline := l.Places(), l.Garden.Units, l.Bed.Spec().Outline
	c = basin.Check{Name: "place of inlet and spill", Known: true, Found: "at the edge", Wanted: "a spill on the rim, an inlet at the bed", Source: "layout.inlet, layout.overflow; common practice, no source"}
	var wrong []string
	beside := func(name string, at [2]float64) {
		if away := -outline.DistanceM(at[0], at[1]); away > besideM {
			wrong = append(wrong, fmt.Sprintf("%s %s outside the bed", name, u.Length(away)))
		}
	}
	if p.InletGiven {
		beside("inlet", p.Inlet)
	}
	if p.OutletGiven {
		beside("spill", p.Overflow)
		if height, inside := l.Bed.HeightMM(p.Overflow[0], p.Overflow[1]); inside && height < -filmMM {
			wrong = append(wrong, fmt.Sprintf("spill inside the pond, on ground %s below the spill level", u.Depth(-height)))
		}
	}
	if c.OK = len(wrong) == 0; !c.OK {
		c.Found = strings.Join(wrong, "; ")
	}
	return c, p.InletGiven || p.OutletGiven
}

// across gives the outermost points of an outline on the line half way up.
func across(o basin.Outline) (left, right [2]float64) {
	x0, y0, x1, y1 := o.Bounds()
	y := (y0 + y1) / 2
	left, right = [2]float64{x0, y}, [2]float64{x1, y}
	if o.Kind != "polygon" {
		return left, right
	}
	first, last := math.Inf(1), math.Inf(-1)
	for i, a := range o.Points {
		b := o.Points[(i+1)%len(o.Points)]
		if (a[1] > y) == (b[1] > y) {
			continue
		}
		x := a[0] + (y-a[1])/(b[1]-a[1])*(b[0]-a[0])
		first, last = min(first, x), max(last, x)
	}
	return [2]float64{first, y}, [2]float64{last, y}
}

// FixedPoints gives the two points to measure from: those of the file, else pegs at the
// front corners of the bed's rectangle.
func (l *Lot) FixedPoints() (points [2][2]float64, names [2]string) {
	layout := l.Garden.Layout
	if layout.FixedNames[0] != "" {
		return layout.FixedM, layout.FixedNames
	}
	x0, y0, x1, _ := l.Bed.Spec().Outline.Bounds()
	return [2][2]float64{{x0, y0}, {x1, y0}}, [2]string{"peg A", "peg B"}
}
