// Package basin answers what shape a bed has: how high the ground lies at any
// spot, how much ground lies at or below a water level, how much water the bed
// holds to that level, and which published limits it keeps.
//
// Input is a Spec: the outline of the bed, the ponding depth, the slope of the
// sides, and a rim. Output is a Basin. Heights are in millimetres relative to
// the spill level: the spill level is 0, the bottom is minus the ponding depth.
//
// Left out: water in motion (package water), and where the soil dug out goes.
package basin

import (
	"fmt"
	"math"

	"hollowbed/zones/table"
)

// Outline is the outer edge of a bed, seen from above, in metres. A rectangle
// or an oval (an ellipse) fills the box from (0, 0) to (LengthM, WidthM). A
// polygon lies where its points put it, in either turning direction; its last
// point joins its first.
//
// The methods other than Check expect an outline that Check accepts.
type Outline struct {
	Kind    string // "rectangle", "oval" or "polygon"
	LengthM float64
	WidthM  float64
	Points  [][2]float64 // polygon only
}

// shape is one kind of outline, made ready for many questions.
type shape interface {
	areaM2() float64
	distanceM(x, y float64) float64
	insetAreaM2(d float64) float64 // d >= 0
	inradiusM() float64
}

// Check reports whether the outline encloses one piece of ground: sizes above
// zero, and for a polygon at least three points, none twice, no edges that
// cross or touch, and an area.
func (o Outline) Check() error {
	switch o.Kind {
	case "rectangle", "oval":
		var f table.Faults
		if !(o.LengthM > 0) || math.IsInf(o.LengthM, 0) {
			f = append(f, table.Fault{Want: fmt.Sprintf("length: %g m: want a length above 0", o.LengthM)})
		}
		if !(o.WidthM > 0) || math.IsInf(o.WidthM, 0) {
			f = append(f, table.Fault{Want: fmt.Sprintf("width: %g m: want a width above 0", o.WidthM)})
		}
		return f.Err()
	case "polygon":
		return checkPolygon(o.Points)
	}
	return table.Faults{{Want: fmt.Sprintf("outline: %q: want rectangle, oval or polygon", o.Kind)}}
}

func (o Outline) shape() shape {
	switch o.Kind {
	case "rectangle":
		return rectangle{o.LengthM, o.WidthM}
	case "oval":
		return NewOval(o.LengthM, o.WidthM)
	case "polygon":
		return newPolygon(o.Points)
	}
	panic(fmt.Sprintf("basin: outline of kind %q: call Check first", o.Kind))
}

// AreaM2 is the area inside the outline.
func (o Outline) AreaM2() float64 { return o.shape().areaM2() }

// Bounds is the smallest box, sides along the axes, that holds the outline.
func (o Outline) Bounds() (minX, minY, maxX, maxY float64) {
	if o.Kind != "polygon" {
		return 0, 0, o.LengthM, o.WidthM
	}
	minX, minY = math.Inf(1), math.Inf(1)
	maxX, maxY = math.Inf(-1), math.Inf(-1)
	for _, p := range o.Points {
		minX, maxX = math.Min(minX, p[0]), math.Max(maxX, p[0])
		minY, maxY = math.Min(minY, p[1]), math.Max(maxY, p[1])
	}
	return minX, minY, maxX, maxY
}

// DistanceM is the distance from (x, y) to the nearest point of the outline:
// positive inside, negative outside.
func (o Outline) DistanceM(x, y float64) float64 { return o.shape().distanceM(x, y) }

// InsetAreaM2 is the ground at least d metres inside the outline; below 0 d counts as 0.
func (o Outline) InsetAreaM2(d float64) float64 { return o.shape().insetAreaM2(math.Max(d, 0)) }

// Scaled is the outline with every length multiplied by f. The corner of its
// bounds with the smallest x and y stays where it is.
func (o Outline) Scaled(f float64) Outline {
	s := Outline{Kind: o.Kind, LengthM: o.LengthM * f, WidthM: o.WidthM * f}
	if o.Kind == "polygon" {
		x0, y0, _, _ := o.Bounds()
		for _, p := range o.Points {
			s.Points = append(s.Points, [2]float64{x0 + (p[0]-x0)*f, y0 + (p[1]-y0)*f})
		}
	}
	return s
}

// rectangle from (0, 0) to (l, w).
type rectangle struct{ l, w float64 }

func (r rectangle) areaM2() float64 { return r.l * r.w }

func (r rectangle) inradiusM() float64 { return math.Min(r.l, r.w) / 2 }

// insetAreaM2 is (l - 2d)(w - 2d): a rectangle's inset is a rectangle.
func (r rectangle) insetAreaM2(d float64) float64 {
	if d >= r.inradiusM() {
		return 0
	}
	return (r.l - 2*d) * (r.w - 2*d)
}

func (r rectangle) distanceM(x, y float64) float64 {
	dx := math.Abs(x-r.l/2) - r.l/2 // above 0: beyond the sides
	dy := math.Abs(y-r.w/2) - r.w/2
	if dx > 0 || dy > 0 {
		return -math.Hypot(math.Max(dx, 0), math.Max(dy, 0))
	}
	return -math.Max(dx, dy)
}
