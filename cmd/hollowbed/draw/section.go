package draw

import (
	"fmt"
	"math"
	"sort"
)

// SectionIn is what the section shows.
type SectionIn struct {
	Sheet
	Bed        Bed
	Species    []Species
	Plants     []Plant                    // all of the bed; those on the line of the cut are drawn
	MixDepthMM float64                    // planting soil below the finished ground
	OldGround  func(x, y float64) float64 // mm above the spill level, before digging; nil: not known
	Levels     []WaterLevel               // spill level first; at most four are told apart
}

// WaterLevel is a height at which water stands, and when: "one year in ten".
type WaterLevel struct {
	Name string
	MM   float64 // relative to the spill level; NaN is left out
}

// levelLook tells water levels apart by line.
func levelLook(i int) string {
	switch i {
	case 0:
		return stroke(ink, 0.4)
	case 1:
		return stroke(ink, 0.32, 3, 1)
	case 2:
		return stroke(ink, 0.32, 0.5, 0.9)
	}
	return stroke(ink, 0.32, 2.4, 0.8, 0.5, 0.8)
}

// slice is the ground along the cut, mm, at steps in metres from the picture's left end.
type slice struct {
	from       Point
	ux, uy     float64
	lengthM    float64 // of the cut
	padM       float64 // ground shown beyond each end
	s, g, old  []float64
	inside     []bool
	lowMM      float64
	highMM     float64
	haveOld    bool
	mixDepthMM float64
}

type sectionDraw struct {
	*svg
	in     SectionIn
	cut    slice
	sc     scale
	exag   float64
	x0, y0 float64 // paper place of the picture's left end and of the spill level
	top    float64
	base   float64 // lowest line of the drawing
	right  float64
	low    float64 // where the words beside the picture end
	shown  []standing
}

// standing is a plant on the cut.
type standing struct {
	plant  int
	s      float64 // along the cut, m from its left end
	ground float64 // mm
}

// Section draws the bed cut open along its long axis, through the deepest place.
func Section(in SectionIn) Drawing {
	in.Bed.check(in.Species, in.Plants)
	d := &sectionDraw{in: in}
	var ok bool
	if d.cut, ok = sliceOf(in); !ok {
		panic("draw: a bed without ground inside its outline")
	}
	d.choosePlants()
	d.layOut()
	stretch := "Heights as lengths, not stretched."
	if d.exag != 1 {
		stretch = fmt.Sprintf("Heights are stretched %g times", d.exag)
		if len(d.shown) > 0 {
			stretch += ", plants as well"
		}
		stretch += "."
	}
	s, title := newSVG(in.Sheet, "section", "Section through the bed",
		"Cut from S to T through the deepest place. Scale "+d.sc.words+" when printed 180 mm wide.", stretch)
	d.svg = s
	d.soil()
	d.water()
	d.plants()
	d.ruler()
	y := d.foot(d.base+4, d.low+2)
	return d.picture(y+3, title, d.describe(stretch))
}

func sliceOf(in SectionIn) (slice, bool) {
	from, to, ok := cut(in.Bed.Outline, in.Bed.Height)
	if !ok {
		return slice{}, false
	}
	c := slice{from: from, lengthM: dist(from, to), haveOld: in.OldGround != nil, mixDepthMM: math.Max(0, in.MixDepthMM)}
	if !known(c.mixDepthMM) {
		c.mixDepthMM = 0
	}
	c.ux, c.uy = (to.X-from.X)/c.lengthM, (to.Y-from.Y)/c.lengthM
	c.padM = math.Max(0.4, 0.08*c.lengthM)
	const n = 600
	c.lowMM, c.highMM = math.Inf(1), math.Inf(-1)
	for i := -60; i <= n+60; i++ {
		t := c.lengthM * float64(i) / n
		switch {
		case i < 0:
			t = c.padM * float64(i) / 60
		case i > n:
			t = c.lengthM + c.padM*float64(i-n)/60
		case i == 0:
			t = 1e-9 * c.lengthM
		case i == n:
			t = c.lengthM * (1 - 1e-9)
		}
		p := Point{from.X + t*c.ux, from.Y + t*c.uy}
		g, in1 := in.Bed.Height(p.X, p.Y)
		old := in.Bed.RimMM
		if in.OldGround != nil {
			old = in.OldGround(p.X, p.Y)
		}
		if !in1 {
			g = old
		}
		c.s, c.g, c.old, c.inside = append(c.s, t), append(c.g, g), append(c.old, old), append(c.inside, in1)
		c.lowMM, c.highMM = math.Min(c.lowMM, math.Min(g, old)), math.Max(c.highMM, math.Max(g, old))
	}
	return c, true
}

// at is the ground at s metres along the cut, mm.
func (c slice) at(s float64) float64 {
	i := sort.SearchFloat64s(c.s, s)
	if i <= 0 {
		return c.g[0]
	}
	if i >= len(c.s) {
		return c.g[len(c.g)-1]
	}
	t := (s - c.s[i-1]) / (c.s[i] - c.s[i-1])
	return c.g[i-1] + t*(c.g[i]-c.g[i-1])
}

// choosePlants keeps those whose mature spread reaches the cut, tallest first.
func (d *sectionDraw) choosePlants() {
	c := d.cut
	for i, p := range d.in.Plants {
		dx, dy := p.At.X-c.from.X, p.At.Y-c.from.Y
		along, off := dx*c.ux+dy*c.uy, math.Abs(dx*c.uy-dy*c.ux)
		sp := d.in.Species[p.Species]
		if off <= math.Max(sp.SpreadM/2, 0.05) && along >= 0 && along <= c.lengthM {
			d.shown = append(d.shown, standing{i, along, c.at(along)})
		}
	}
	sort.SliceStable(d.shown, func(a, b int) bool { return d.heightM(d.shown[a]) > d.heightM(d.shown[b]) })
}

// heightM is how high a plant is drawn; a quarter of a metre if not known.
func (d *sectionDraw) heightM(st standing) float64 {
	if h := d.in.Species[d.in.Plants[st.plant].Species].HeightM; h > 0 && known(h) {
		return h
	}
	return 0.25
}

// layOut chooses the scale and the stretch of heights.
func (d *sectionDraw) layOut() {
	const left, right, most = 17.0, 46.0, 108.0
	c := d.cut
	top := math.Max(c.highMM, 300) / 1000
	for _, st := range d.shown {
		top = math.Max(top, st.ground/1000+d.heightM(st))
	}
	low := -(c.lowMM-c.mixDepthMM)/1000 + 0.15
	w := pageW - 2*margin - left - right
	d.sc = chooseScale(d.in.Units.Metric, c.lengthM+2*c.padM, top+low, w, most)
	d.exag = 1
	for _, e := range []float64{1.5, 2} {
		if d.sc.mm(top+low)*e <= most {
			d.exag = e
		}
	}
	d.x0 = margin + left + d.sc.mm(c.padM) + (w-d.sc.mm(c.lengthM+2*c.padM))/2
	d.right = d.x0 + d.sc.mm(c.lengthM+c.padM)
	d.top = bodyStart + 10
	d.y0 = d.top + d.sc.mm(top)*d.exag
	d.base = d.y0 + d.sc.mm(low)*d.exag
}

func (d *sectionDraw) x(s float64) float64  { return d.x0 + d.sc.mm(s) }
func (d *sectionDraw) y(mm float64) float64 { return d.y0 - d.sc.mm(mm/1000)*d.exag }

// run writes a line through heights at the places of the slice from a to b.
func (d *sectionDraw) run(a, b int, height func(i int) float64, back bool) string {
	path := ""
	var last [2]float64
	for k := a; k <= b; k++ {
		i := k
		if back {
			i = b - (k - a)
		}
		x, y := d.x(d.cut.s[i]), d.y(height(i))
		// points on a level stretch say nothing
		if k > a && k < b && math.Abs(y-last[1]) < 1e-9 {
			j := i + 1
			if back {
				j = i - 1
			}
			if math.Abs(d.y(height(j))-y) < 1e-9 {
				continue
			}
		}
		cmd := "L"
		if path == "" && !back {
			cmd = "M"
		}
		path += cmd + num(x) + " " + num(y)
		last = [2]float64{x, y}
	}
	return path
}

func (d *sectionDraw) describe(stretch string) string {
	u := d.in.Units
	s := fmt.Sprintf("Section %s long through the deepest place, %s below the spill level, with %s of planting soil.",
		u.length(d.cut.lengthM), u.depth(-d.cut.lowMMInside()), u.depth(d.cut.mixDepthMM))
	for _, l := range d.in.Levels {
		if known(l.MM) {
			s += " Water, " + l.Name + ": " + u.aboveSpill(l.MM) + "."
		}
	}
	return s + " " + plural(len(d.shown), "plant stands", "plants stand") + " on the line. " + stretch
}

func (c slice) lowMMInside() float64 {
	low := math.Inf(1)
	for i, in := range c.inside {
		if in {
			low = math.Min(low, c.g[i])
		}
	}
	return low
}
