// Package draw makes the drawings of a garden: Plan, Seasons, Section, Route,
// ClimateChart and BloomChart. Each takes plain figures (metres over the ground, mm for
// heights and water, shares of 1) and gives one SVG picture.
//
// A picture is 180 mm wide, what an A4 or Letter page leaves between its margins; plan,
// section and route are to the scale they state at that width, and no text is smaller than
// 8 pt. One unit of its viewBox is a tenth of a millimetre on paper, so that no browser's
// least font size gets in the way.
//
// Nothing is told by colour alone: patterns, line styles and words say it too. Same input,
// same bytes. All text given is escaped; control characters in it turn to blanks. There are
// no style sheets, scripts, links or fonts inside.
//
// The package computes no hydrology and chooses no positions. It opens no files.
package draw

import "math"

// Point is a place in the bed's own coordinates: metres, x to the right and y
// up the page.
type Point struct{ X, Y float64 }

// Sheet is what every drawing has.
type Sheet struct {
	Prefix string // begins every id in the picture; "": the drawing's own name
	Title  string // heading and name for screen readers; "": the drawing's own
	Note   string // one line under the heading, may be empty
	Units  Units
}

// Units says how figures are shown. A nil function prints plain SI.
type Units struct {
	Metric bool                    // scales and axes in metres and mm; else feet and inches
	Length func(m float64) string  // distances over the ground
	Depth  func(mm float64) string // heights and depths of water
}

func (u Units) length(m float64) string {
	if u.Length == nil {
		return figure(m, 2) + " m"
	}
	return u.Length(m)
}

func (u Units) depth(mm float64) string {
	if u.Depth == nil {
		return figure(mm, 0) + " mm"
	}
	return u.Depth(mm)
}

// aboveSpill words a height relative to the spill level.
func (u Units) aboveSpill(mm float64) string {
	switch {
	case math.Abs(mm) < 0.5:
		return "spill level"
	case mm < 0:
		return u.depth(-mm) + " below spill"
	}
	return u.depth(mm) + " above spill"
}

// Height gives the finished ground at a place, mm above the spill level, and
// whether the place lies inside the bed.
type Height func(x, y float64) (mm float64, inside bool)

// Rectangle is an outline from (0, 0) to (lengthM, widthM).
func Rectangle(lengthM, widthM float64) []Point {
	return []Point{{0, 0}, {lengthM, 0}, {lengthM, widthM}, {0, widthM}}
}

// Oval is an ellipse that touches the sides of Rectangle, as a polygon of 180
// corners; it leaves the ellipse by less than a part in 6,000 of its width.
func Oval(lengthM, widthM float64) []Point {
	const n = 180
	p := make([]Point, n)
	for i := range p {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		p[i] = Point{lengthM / 2 * (1 + c), widthM / 2 * (1 + s)}
	}
	return p
}

// Plant is one plant as plan and section show it.
type Plant struct {
	Species int    // index into Species of the drawing
	Stake   string // what stands on its stake: "TAR3"
	Drift   string // letter of the drift that it stands in; "" for none
	At      Point
	Badge   Badge // on a plan
}

// Badge marks a plant by its risk.
type Badge int

const (
	Fine Badge = iota // no more risk than is accepted
	Past
	Unknown
)

func (b Badge) words() string {
	if b == Unknown {
		return "risk not known"
	}
	return "more risk than you accept"
}

// Species is one kind of plant.
type Species struct {
	Key     string // short, unique: "TAR" or "A"
	Name    string
	Form    string  // growth form of the catalogue: "forb", "shrub", ...; any other is drawn as "forb"
	SpreadM float64 // mature diameter; not above 0: a mark without size
	HeightM float64 // mature height; not above 0: not known
}

// known reports a figure that can be drawn.
func known(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
