package zones

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// Shapes that are asked for by lengths and stand in the file as polygons.
const (
	shapeL      = "L"
	shapeKidney = "kidney"
)

// ShapesByLengths are these shapes.
func ShapesByLengths() []string { return []string{shapeL, shapeKidney} }

// leastArmM is the least that may be left of a bed beside its cut or bay.
const leastArmM = 0.5

// ShapeQuestions are what to ask besides for a shape, after length and width.
func ShapeQuestions(u Units, shape string) []Question {
	in := u.pick
	switch shape {
	case shapeL:
		return []Question{
			{Key: "cut-length", Prompt: "Corner left out of the L: how much of the length?", Default: in("10 ft", "3 m"), Example: in("10 ft", "3 m")},
			{Key: "cut-width", Prompt: "And how much of the width?", Default: in("7 ft", "2.1 m"), Example: in("7 ft", "2.1 m")},
		}
	case shapeKidney:
		return []Question{{Key: "bay", Prompt: "How far does the bay reach in from the long side?", Default: in("3 ft", "90 cm"), Example: in("3 ft", "90 cm")}}
	}
	return nil
}

// allQuestions are those of every shape.
func allQuestions(u Units) []Question {
	return slices.Concat(Questions(u), ShapeQuestions(u, shapeL), ShapeQuestions(u, shapeKidney))
}

// byLengths is the shape as it is kept, where it is asked for by lengths.
func byLengths(shape string) (string, bool) {
	switch strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.ToLower(strings.ReplaceAll(shape, "-", " ")), "shaped"), "shape")) {
	case "l":
		return shapeL, true
	case "kidney", "bean":
		return shapeKidney, true
	}
	return shape, false
}

// shapeAsked is what goes behind the shapes that can be asked for.
func shapeAsked(text string) string {
	if meant := shapeMeant(text); strings.Contains(meant, "did you mean") {
		return meant
	}
	return cmp.Or(table.OrMeant("", text, []string{"rectangle", "oval", shapeKidney}), "; for another shape take oval now, and draw a polygon in the file later")
}

// checkCut checks how far a cut or a bay reaches in; "" if it does not fit.
func (a *Answers) checkCut(key, text string) (want string) {
	side := a.Width
	if key == "cut-length" {
		side = a.Length
	}
	whole, err := ParseLengthM(side)
	if err != nil {
		return "" // told of the side itself
	}
	most := whole - leastArmM
	if key == "bay" {
		most = whole / 2
	}
	v, want := lengthM().parse(text)
	if want == "" && !(v > 0 && v <= most) {
		want = fmt.Sprintf("expected more than 0 and at most %s, of %s", Units(a.Units).Length(most), side)
	}
	return want
}

// outline is the bed as corners, m; nil for a shape that has a name in the file.
func (a *Answers) outline() [][2]float64 {
	size := func(text string) float64 {
		v, _ := lengthM().parse(text) // NaN if it is no length
		return v
	}
	switch l, w := size(a.Length), size(a.Width); a.Shape {
	case shapeL:
		x, y := l-size(a.CutLength), w-size(a.CutWidth)
		return [][2]float64{{0, 0}, {l, 0}, {l, y}, {x, y}, {x, w}, {0, w}}
	case shapeKidney:
		return kidney(l, w, size(a.Bay))
	}
	return nil
}

// kidney is a bed with a bay in its long side at 0 across: half an ellipse behind,
// quarters at the ends in front, and between them a wave as deep as the bay.
func kidney(length, width, bay float64) [][2]float64 {
	var out [][2]float64
	at := func(t, y float64) { // t from -1 at the left end to 1 at the right
		out = append(out, [2]float64{length / 2 * (1 + t), y})
	}
	front := func(t float64) float64 {
		if s := 2*math.Abs(t) - 1; s > 0 {
			return width / 2 * (1 - math.Sqrt(1-s*s))
		}
		return bay * (1 + math.Cos(2*math.Pi*t)) / 2
	}
	for i := -6; i <= 6; i++ {
		t := float64(i) / 8 // the bay, by eighths of half the length
		if i < -4 || i > 4 {
			t = math.Copysign(0.5+0.5*math.Sin(float64(max(i, -i)-4)*math.Pi/6), t)
		}
		at(t, front(t))
	}
	for i := range 13 {
		angle := float64(i) * math.Pi / 12
		at(math.Cos(angle), width/2*(1+math.Sin(angle)))
	}
	return out
}

// corners are an outline as lines of a garden file.
func corners(u Units, outline [][2]float64) string {
	show := func(m float64) string { // to the centimetre or inch, however far
		switch in := m / mPerIn; {
		case u == UnitsMetric:
			return plain(math.Round(m*100)/100) + " m"
		case in < 23.75:
			return inches(in)
		default:
			return feetInches(in)
		}
	}
	lines := "  points:                    # along and across from one corner of the ground it lies in\n"
	for _, p := range outline {
		lines += fmt.Sprintf("    - [%s, %s]\n", show(p[0]), show(p[1]))
	}
	return lines
}
