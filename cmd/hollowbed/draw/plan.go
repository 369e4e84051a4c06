package draw

import (
	"cmp"
	"fmt"
	"math"
)

// PlanIn is what the plan shows.
type PlanIn struct {
	Sheet
	Bed       Bed
	Zones     []Zone // rim, slope and bottom, for the legend
	Species   []Species
	Plants    []Plant
	Inlet     *Inlet
	Overflow  *Overflow
	KeepOuts  []Area     // a bench, a boulder
	Obstacles []Obstacle // house, fence, tree crown; cut off at the frame
	NorthDeg  float64    // where north lies, degrees clockwise from up the page; NaN: not known, and not shown
	Moves     []Move     // what is to stand elsewhere
	A, B      *Mark      // fixed points to set out from
	Cut       bool       // show where the section runs
	Block     TitleBlock
}

// TitleBlock says which plan this is; what is empty is left to be written in.
type TitleBlock struct{ Garden, Date, Revision string }

// Zone is a part of the bed by height.
type Zone struct {
	Name          string // "rim", "slope" or "bottom"
	TopMM, FootMM float64
}

// Mark is a fixed point that can be found again: a corner of the house.
type Mark struct {
	At   Point
	Name string
}

// Inlet is where water comes in.
type Inlet struct {
	At      Point
	Flow    Point   // direction of flow, of any length; zero: across the nearest edge, into the bed
	SplashM float64 // radius of the stones around At; not above 0: none
	Name    string  // "buried pipe"
}

// Overflow is where water leaves.
type Overflow struct {
	At   Point
	Flow Point // direction of flow, of any length; zero: across the nearest edge, out of the bed
	Name string
}

// Area is a polygon or, if RadiusM is above 0, a disc around At.
type Area struct {
	Name    string
	Corners []Point
	At      Point
	RadiusM float64
}

// Obstacle is what stands near the bed.
type Obstacle struct {
	Kind string // "wall" and "house": hatched; "fence": a line of posts; "crown": a tree from above
	Area
}

// planDraw is a plan at work.
type planDraw struct {
	*svg
	in     PlanIn
	v      view
	frame  box
	bedBox box // of the outline, mm on paper
	places *placer
	rows   []entry
	names  []tag
	inTail [2]float64 // ends of the arrows outside the bed
	outTip [2]float64
	led    int // groups that found no room for a label
	tints  []string
	drifts []Drift
}

// Plan draws the bed from above.
func Plan(in PlanIn) Drawing {
	in.Bed.check(in.Species, in.Plants)
	d := &planDraw{in: in, tints: Tints(in.Species, in.Plants), drifts: Drifts(in.Species, in.Plants)}
	d.layOut()
	s, title := newSVG(in.Sheet, "plan", "Planting plan", "Seen from above. Scale "+d.v.sc.words+" when printed 180 mm wide.")
	d.svg = s
	d.northArrow(pageW-margin-7, 8.6)
	d.lower(d.plantTable(bodyStart+3.4) + 2.5 - bodyStart)
	d.places = newPlacer(d.frame.grown(-0.6), nil)
	d.open(d.clip("frame", rectPath(d.frame)), "")
	d.ground()
	d.grid()
	d.surroundings()
	d.keepOuts()
	d.end()
	order := d.plants() // under arrows, pegs and words: beds and their pegs overlap
	d.water()
	d.dimensions()
	d.marks()
	d.cutLine()
	d.waterNames()
	d.plantWords(order)
	d.moves()
	for _, n := range d.names {
		d.label(d.places, n.words, lettering{size: small}, -2, 60, n.at)
	}
	d.rect(d.frame, stroke(faint, 0.25))
	y := d.foot(d.frame.y1 + 2.5)
	return d.picture(y+3, title, d.describe())
}

// layOut chooses the scale and where the bed lies on the page.
func (d *planDraw) layOut() {
	const left, right, top, bottom = 15, 11, 12, 12
	b := bounds(d.in.Bed.Outline)
	w := pageW - 2*margin - left - right
	most := math.Max(95, 252-headRule-d.legendGuess())
	most = math.Min(most, 170) - top - bottom
	bed := chooseScale(d.in.Units.Metric, b.x1-b.x0, b.y1-b.y0, w, most)
	world := d.withMarks(b)
	sc := chooseScale(d.in.Units.Metric, world.x1-world.x0, world.y1-world.y0, w, most)
	if sc.ratio > 1.7*bed.ratio { // the fixed points lie too far off to be shown in place
		world, sc = b, bed
	}
	d.v.sc = sc
	world = d.withObstacles(world, w*sc.ratio/1000, most*sc.ratio/1000)
	wide, high := sc.mm(world.x1-world.x0), sc.mm(world.y1-world.y0)
	d.v.x0 = margin + left + (w-wide)/2 - sc.mm(world.x0)
	d.v.y0 = bodyStart + top + sc.mm(world.y1)
	d.frame = box{margin, bodyStart, pageW - margin, bodyStart + top + high + bottom}
	d.bedBox = d.v.box(b)
}

// lower makes room for the legend of plants above the ground, mm.
func (d *planDraw) lower(by float64) {
	d.v.y0 += by
	for _, b := range []*box{&d.frame, &d.bedBox} {
		b.y0, b.y1 = b.y0+by, b.y1+by
	}
}

// withMarks is the ground that has to be shown: the bed and the fixed points.
func (d *planDraw) withMarks(world box) box {
	for _, m := range []*Mark{d.in.A, d.in.B} {
		if m != nil && known(m.At.X) && known(m.At.Y) {
			world = world.with(m.At.X, m.At.Y)
		}
	}
	return world
}

// withObstacles widens the ground shown by what stands near, as far as there is room.
func (d *planDraw) withObstacles(world box, roomX, roomY float64) box {
	b := bounds(d.in.Bed.Outline)
	reach := b.grown(math.Max(b.x1-b.x0, b.y1-b.y0) / 6)
	for _, o := range d.in.Obstacles {
		ob := o.bounds()
		if !ob.meets(reach) {
			continue
		}
		if x := math.Min(world.x0, math.Max(ob.x0, reach.x0)); world.x1-x <= roomX {
			world.x0 = x
		}
		if x := math.Max(world.x1, math.Min(ob.x1, reach.x1)); x-world.x0 <= roomX {
			world.x1 = x
		}
		if y := math.Min(world.y0, math.Max(ob.y0, reach.y0)); world.y1-y <= roomY {
			world.y0 = y
		}
		if y := math.Max(world.y1, math.Min(ob.y1, reach.y1)); y-world.y0 <= roomY {
			world.y1 = y
		}
	}
	return world
}

// legendGuess is about how high the legends will be, mm.
func (d *planDraw) legendGuess() float64 { return 55 + 5*float64((d.kinds()+1)/2) }

// kinds is how many species there are plants of.
func (d *planDraw) kinds() int {
	shown := map[int]bool{}
	for _, p := range d.in.Plants {
		shown[p.Species] = true
	}
	return len(shown)
}

// counts is the number of plants of each species.
func (d *planDraw) counts() []int {
	n := make([]int, len(d.in.Species))
	for _, p := range d.in.Plants {
		n[p.Species]++
	}
	return n
}

func (a Area) bounds() box {
	if a.RadiusM > 0 {
		return box{a.At.X - a.RadiusM, a.At.Y - a.RadiusM, a.At.X + a.RadiusM, a.At.Y + a.RadiusM}
	}
	return bounds(a.Corners)
}

// middle is where a name may stand: the centre of the part that shows.
func (a Area) middle(v view, frame box) [2]float64 {
	b := v.box(a.bounds())
	return [2]float64{
		(math.Max(b.x0, frame.x0) + math.Min(b.x1, frame.x1)) / 2,
		(math.Max(b.y0, frame.y0) + math.Min(b.y1, frame.y1)) / 2,
	}
}

// describe says in words what the picture shows.
func (d *planDraw) describe() string {
	b := bounds(d.in.Bed.Outline)
	s := fmt.Sprintf("Plan of a bed %s long and %s wide, %s deep, with %s of %s.",
		d.in.Units.length(b.x1-b.x0), d.in.Units.length(b.y1-b.y0), d.in.Units.depth(-d.in.Bed.BottomMM),
		plural(len(d.in.Plants), "plant", "plants"), plural(d.kinds(), "kind", "kinds"))
	if d.in.Inlet != nil {
		s += " Water comes in by the " + cmp.Or(d.in.Inlet.Name, "inlet") + "."
	}
	if d.in.Overflow != nil {
		s += " It leaves over the " + cmp.Or(d.in.Overflow.Name, "overflow") + "."
	}
	if n := len(d.in.Moves); n > 0 {
		s += " " + plural(n, "plant is", "plants are") + " to move or to be replaced."
	}
	return s + " Scale " + d.v.sc.words + ". The table above the plan names each key."
}

func rectPath(b box) string {
	return "M" + num(b.x0) + " " + num(b.y0) + "H" + num(b.x1) + "V" + num(b.y1) + "H" + num(b.x0) + "Z"
}
