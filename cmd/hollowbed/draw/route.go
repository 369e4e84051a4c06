package draw

import (
	"fmt"
	"math"
	"sort"
)

// RouteIn is a way in, seen from the side with the water running to the right. NaN is a
// part it lacks. Metres begin at the house, millimetres at the spill of the bed, upward.
type RouteIn struct {
	Sheet
	Kind       string // "pipe", "swale" or "surface"
	Stations   []RouteStation
	MeasuredM  []float64 // stations at which the ground was measured
	Foundation string    // "slab", "crawl space", "basement", "none"; else not known
	ReachM     float64   // up to here a liner or an extension must reach

	BedEdgeM  float64
	OutletM   float64 // where the water arrives
	RimMM     float64 // outer edge of the bed
	RimWidthM float64
	SideRun   float64 // sides of the bed, run per rise
	BottomMM  float64 // bottom of the bed, below 0

	Fall          float64 // of the way, fall per run
	CoverMM       float64 // soil wanted over a pipe
	LeastCoverMM  float64
	LeastCoverAtM float64
	DaylightM     float64 // from here on the pipe has less cover than wanted, as it comes out
}

// RouteStation is one station of the way.
type RouteStation struct {
	AtM      float64
	GroundMM float64 // before digging
	InvertMM float64 // inside bottom of a pipe, top of the gravel of a swale, an extension
	CrownMM  float64 // outside top of a pipe
	DugMM    float64 // bottom of the trench or swale
	TopMM    float64 // finished soil over a pipe, or the shoulders of a swale
}

// What a station has, in the order of the table under the drawing.
const (
	ofGround = iota
	ofTop
	ofCrown
	ofInvert
	ofDug
)

func (st RouteStation) level(of int) float64 {
	return [...]float64{st.GroundMM, st.TopMM, st.CrownMM, st.InvertMM, st.DugMM}[of]
}

// check panics on what a way that was worked out can't hold.
func (in RouteIn) check() {
	for _, v := range []float64{in.BedEdgeM, in.OutletM, in.RimMM, in.RimWidthM, in.SideRun, in.BottomMM} {
		if !known(v) {
			panic("draw: a way in needs the levels of its bed")
		}
	}
	if len(in.Stations) < 2 || !(in.BedEdgeM > 0) {
		panic("draw: a way in needs two stations and a length")
	}
	for i, s := range in.Stations {
		if !known(s.AtM) || !known(s.GroundMM) || i > 0 && !(s.AtM > in.Stations[i-1].AtM) {
			panic(fmt.Sprintf("draw: station %d of the way in at %g, ground %g", i, s.AtM, s.GroundMM))
		}
	}
}

// at is a level at a station, straight between those given; NaN where one has none.
func (in RouteIn) at(s float64, of int) float64 {
	const near = 1e-9
	i := sort.Search(len(in.Stations), func(i int) bool { return in.Stations[i].AtM >= s-near })
	if i == len(in.Stations) {
		return math.NaN()
	}
	b := in.Stations[i]
	if b.AtM <= s+near {
		return b.level(of)
	}
	if i == 0 {
		return math.NaN()
	}
	a := in.Stations[i-1]
	return a.level(of) + (b.level(of)-a.level(of))*(s-a.AtM)/(b.AtM-a.AtM)
}

// footM is the station at which the side of the bed reaches its bottom.
func (in RouteIn) footM() float64 {
	return in.BedEdgeM + in.RimWidthM + math.Max(0, -in.BottomMM)/1000*in.SideRun
}

// bedMM is the finished surface of the bed at a station beyond its edge.
func (in RouteIn) bedMM(s float64) float64 {
	d := s - in.BedEdgeM
	if d < in.RimWidthM {
		return in.RimMM * (1 - d/in.RimWidthM)
	}
	if !(in.SideRun > 0) {
		return in.BottomMM
	}
	return math.Max(in.BottomMM, -1000*(d-in.RimWidthM)/in.SideRun)
}

// routeDraw lays the drawing out.
type routeDraw struct {
	*svg
	in     RouteIn
	sc     scale
	exag   float64
	endM   float64 // as far as the bed is shown
	x0, y0 float64 // paper place of the downspout and of the spill level
	top    float64 // where house and downspout are cut off
	base   float64 // lowest line of the drawing
	right  float64
	low    float64  // where the words beside the picture end
	missed []string // labels without room
}

// Room on paper, mm.
const (
	routeLeft   = 26.0 // for heights and the house
	routeRight  = 44.0 // for words
	routeHigh   = 62.0 // between lowest and highest thing, at most
	routeSky    = 15.0
	routeUnder  = 7.0
	routeHouse  = 14.0 // of the house that is shown
	routeWall   = 3.6
	routeLeader = 6.0 // from the drawing to its table
)

// Route draws the way that brings the water from the downspout to the bed, cut
// open along it.
func Route(in RouteIn) Drawing {
	in.check()
	d := &routeDraw{in: in}
	d.layOut()
	stretch := "Heights as lengths, not stretched."
	if d.exag != 1 {
		stretch = fmt.Sprintf("Heights are stretched %g times: real slopes are flatter.", d.exag)
	}
	s, title := newSVG(in.Sheet, "route", "The way in",
		"From the downspout to the bed, seen from the side. Scale "+d.sc.words+" when printed 180 mm wide.",
		stretch+" Levels are from the spill level.")
	d.svg = s
	d.earth()
	d.room()
	d.house()
	d.way()
	d.bed()
	d.ruler()
	d.levels()
	d.labels()
	y := d.levelTable(math.Max(d.base+routeLeader, d.low+2))
	y = d.foot(y + 4)
	return d.picture(y+3, title, d.describe(stretch))
}

// range of heights that has to be shown.
func (in RouteIn) heights() (low, high float64) {
	low, high = math.Min(0, in.BottomMM), math.Max(0, in.RimMM)
	for _, st := range in.Stations {
		for of := ofGround; of <= ofDug; of++ {
			if v := st.level(of); known(v) {
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
	}
	return low, high
}

// layOut chooses the scale and the stretch of heights.
func (d *routeDraw) layOut() {
	low, high := d.in.heights()
	d.endM = math.Max(d.in.footM(), d.in.OutletM)
	d.endM += math.Max(0.3, 0.08*d.endM)
	w := pageW - 2*margin - routeLeft - routeRight
	rangeM := (high - low) / 1000
	d.sc = chooseScale(d.in.Units.Metric, d.endM, rangeM, w, routeHigh)
	d.exag = 1
	for _, e := range []float64{1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100} {
		if d.sc.mm(rangeM)*e <= routeHigh {
			d.exag = e
		}
	}
	d.x0 = margin + routeLeft
	d.right = d.x(d.endM)
	d.top = bodyStart + 6
	d.y0 = d.top + routeSky + d.sc.mm(high/1000)*d.exag
	d.base = math.Max(d.y(low)+routeUnder, d.top+50)
}

func (d *routeDraw) x(s float64) float64  { return d.x0 + d.sc.mm(s) }
func (d *routeDraw) y(mm float64) float64 { return d.y0 - d.sc.mm(mm/1000)*d.exag }

// name is what the way is called.
func (in RouteIn) name() string {
	switch in.Kind {
	case "swale":
		return "lined swale"
	case "surface":
		return "surface extension"
	}
	return "buried pipe"
}

// fallWords gives a fall in parts of a hundred.
func (in RouteIn) fallWords() string {
	p := 100 * in.Fall
	if math.Abs(p) < 1 {
		return figure(p, 2) + " %"
	}
	return figure(p, 1) + " %"
}

// coverWords says how much soil lies over a pipe; "" if that is not known.
func (in RouteIn) coverWords() string {
	if !known(in.LeastCoverMM) || !known(in.CoverMM) {
		return ""
	}
	if in.LeastCoverMM <= 0 {
		return "no cover here, wanted " + in.Units.depth(in.CoverMM)
	}
	return "least cover " + in.Units.depth(in.LeastCoverMM) + ", wanted " + in.Units.depth(in.CoverMM)
}

func (d *routeDraw) describe(stretch string) string {
	in, u := d.in, d.in.Units
	s := fmt.Sprintf("Section along the way from the downspout to the bed, a %s. The edge of the bed is %s from the wall, the water arrives at %s.",
		in.name(), u.length(in.BedEdgeM), u.length(in.OutletM))
	for _, k := range d.keyStations() {
		s += " At " + u.length(k.s)
		if k.name != "" {
			s += " (" + k.name + ")"
		}
		sep := ": "
		for _, r := range in.rows() {
			if v := r.value(k.s); known(v) {
				s += sep + r.name + " " + u.signedDepth(v)
				sep = ", "
			}
		}
		s += "."
	}
	if known(in.Fall) {
		s += " Fall " + in.fallWords() + "."
	}
	if w := in.coverWords(); w != "" {
		s += " Cover over the pipe: " + w + "."
	}
	return s + " The bottom of the bed is " + u.aboveSpill(in.BottomMM) + ". " + houseWords(in.Foundation) + ". " + stretch
}

// signedDepth is a level without words.
func (u Units) signedDepth(mm float64) string {
	if math.Abs(mm) < 0.5 {
		return "0"
	}
	return u.depth(mm)
}
