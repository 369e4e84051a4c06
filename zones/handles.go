package zones

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Handle is a spot by which the shape of a bed, or what lies in it, is moved.
type Handle struct {
	Name string // "length", "width", "corner", "corner 2", "edge 2", "inlet", "spill", "kept 1"
	At   [2]float64
}

const (
	mostEdges   = 12  // corners of a polygon up to which its edges have handles too
	ovalCorners = 24  // of a polygon that begins as an oval
	leastBedM   = 0.5 // that bed.length and bed.width take
)

// Handles lists the handles of a lot, m in the coordinates of the outline.
func (l *Lot) Handles() []Handle {
	var out []Handle
	o, at := l.Bed.Spec().Outline, l.Places()
	if o.Kind != "polygon" {
		out = append(out, Handle{"length", [2]float64{o.LengthM, 0.2 * o.WidthM}}, Handle{"width", [2]float64{0.2 * o.LengthM, o.WidthM}}, Handle{"corner", [2]float64{o.LengthM, o.WidthM}})
	}
	for i, p := range o.Points {
		out = append(out, Handle{fmt.Sprint("corner ", i+1), p})
		if next := o.Points[(i+1)%len(o.Points)]; len(o.Points) <= mostEdges {
			out = append(out, Handle{fmt.Sprint("edge ", i+1), [2]float64{(p[0] + next[0]) / 2, (p[1] + next[1]) / 2}})
		}
	}
	out = append(out, Handle{"inlet", at.Inlet}, Handle{"spill", at.Overflow})
	for i, k := range l.Garden.Layout.KeepFree {
		out = append(out, Handle{fmt.Sprint("kept ", i+1), middleOf(k.PointsM)})
	}
	return out
}

func middleOf(points [][2]float64) (out [2]float64) {
	for _, p := range points {
		out[0] += p[0] / float64(len(points))
		out[1] += p[1] / float64(len(points))
	}
	return out
}

// Drag gives the keys of the garden file, with their values, that bring a handle to a
// place; false if there is no such handle.
func (l *Lot) Drag(name string, to [2]float64) (map[string]string, bool) {
	all := l.Handles()
	i := slices.IndexFunc(all, func(h Handle) bool { return h.Name == name })
	if i < 0 {
		return nil, false
	}
	u, o := l.Garden.Units, l.Bed.Spec().Outline
	by := [2]float64{to[0] - all[i].At[0], to[1] - all[i].At[1]}
	kind, number, _ := strings.Cut(name, " ")
	n, _ := strconv.Atoi(number)
	length, width := u.written(max(leastBedM, to[0])), u.written(max(leastBedM, to[1]))
	moved := func(points [][2]float64, which ...int) string {
		points = slices.Clone(points)
		for _, k := range which {
			points[k] = [2]float64{points[k][0] + by[0], points[k][1] + by[1]}
		}
		return u.places(points)
	}
	switch {
	case kind == "length":
		return map[string]string{"bed.length": length}, true
	case kind == "width":
		return map[string]string{"bed.width": width}, true
	case kind == "corner" && n == 0:
		return map[string]string{"bed.length": length, "bed.width": width}, true
	case kind == "corner":
		return map[string]string{"bed.points": moved(o.Points, n-1)}, true
	case kind == "edge":
		return map[string]string{"bed.points": moved(o.Points, n-1, n%len(o.Points))}, true
	case kind == "inlet":
		return map[string]string{"layout.inlet": u.places([][2]float64{to})}, true
	case kind == "spill":
		return map[string]string{"layout.overflow": u.places([][2]float64{to})}, true
	}
	k := l.Garden.Layout.KeepFree[n-1]
	var every []int
	for i := range k.PointsM {
		every = append(every, i)
	}
	return map[string]string{fmt.Sprintf("layout.keep_free[%d].%s", n, k.Kind): moved(k.PointsM, every...)}, true
}

// Reshaped gives the keys that make the bed another shape, which begins as the one there
// is: a polygon by its corners, the others by length and width.
func (l *Lot) Reshaped(shape string) map[string]string {
	o, u := l.Bed.Spec().Outline, l.Garden.Units
	switch {
	case shape == "polygon" && o.Kind == "rectangle":
		o.Points = [][2]float64{{0, 0}, {o.LengthM, 0}, {o.LengthM, o.WidthM}, {0, o.WidthM}}
	case shape == "polygon" && o.Kind == "oval":
		for i := range ovalCorners {
			s, c := math.Sincos(2 * math.Pi * float64(i) / ovalCorners)
			o.Points = append(o.Points, [2]float64{o.LengthM / 2 * (1 + c), o.WidthM / 2 * (1 + s)})
		}
	case shape != "polygon" && o.Kind == "polygon":
		x0, y0, x1, y1 := o.Bounds()
		return map[string]string{"bed.points": "", "bed.length": u.written(x1 - x0), "bed.width": u.written(y1 - y0)}
	default:
		return nil
	}
	return map[string]string{"bed.points": u.places(o.Points), "bed.length": "", "bed.width": ""}
}

// Misplaced says what lies on the wrong side of the edge: an inlet or a boulder outside
// the bed, a spill inside the pond.
func (l *Lot) Misplaced() []string {
	c, _ := l.placesCheck()
	var out []string
	if !c.OK {
		out = append(out, c.Found)
	}
	for _, k := range l.Garden.Layout.KeepFree {
		if away := -l.Bed.Spec().Outline.DistanceM(k.PointsM[0][0], k.PointsM[0][1]); k.RadiusM > 0 && away > 0 {
			out = append(out, fmt.Sprintf("%s %s outside the bed", k.Kind, l.Garden.Units.Length(away)))
		}
	}
	return out
}

// written is a length to the inch or the centimetre, as a garden file takes it.
func (u Units) written(m float64) string {
	if u == UnitsMetric {
		return strconv.FormatFloat(math.Round(m*100)/100, 'f', -1, 64) + " m"
	}
	in := math.Round(m / mPerIn)
	feet, rest := math.Trunc(in/12), math.Abs(math.Mod(in, 12))
	switch {
	case rest == 0:
		return fmt.Sprintf("%.0f ft", feet)
	case feet == 0:
		return fmt.Sprintf("%.0f in", in)
	}
	return fmt.Sprintf("%.0f ft %.0f in", feet, rest)
}

func (u Units) places(points [][2]float64) string {
	var out []string
	for _, p := range points {
		out = append(out, u.written(p[0])+", "+u.written(p[1]))
	}
	return strings.Join(out, "; ")
}
