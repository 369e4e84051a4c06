// Package inlet brings roof water to a bed: by buried pipe, by lined swale, or
// by an extension of the downspout over the ground.
//
// It answers, for all three ways side by side: at which levels the way runs,
// what it carries against the design rain and the wettest hour on record, how
// fast the water arrives and what rock it needs, what is dug and what is
// filled, what to buy, and what fails with the change that would do. Input is
// the ground along a list of stations, the bed's levels, and the roof. Compare
// does it all.
//
// Levels are mm above the level at which the bed spills; stations are metres
// along the route from the downspout at the wall to the edge of the bed. The
// route is taken as straight. It leaves out gutters, frost, trees, and what
// lies buried: that is for the people on the spot.
package inlet

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/zones/table"
)

// GroundPoint is a level of the ground as it is before digging.
type GroundPoint struct {
	StationM float64
	LevelMM  float64 // above the spill level
}

// Input is what is known. A figure that may be missing is NaN.
type Input struct {
	Ground      []GroundPoint // the first at the downspout (station 0), the last at the edge of the bed
	Foundation  string        // "slab", "crawl space", "basement", "none" or ""
	FoundationM float64       // edge of the bed to that building; NaN: the route leads straight away from it

	BottomMM    float64 // bottom of the finished bed, below 0
	FreeboardMM float64 // outer edge of the bed
	RimWidthM   float64
	SideRun     float64 // sides of the bed, run per rise

	Downspout      Downspout
	PipeMM         float64 // inside diameter
	Material       string  // one of MaterialNames
	LeastPipeFall  float64 // fall per run; NaN: 1 in per 10 ft
	CoverMM        float64 // soil over the pipe; NaN: 12 in
	BareSoil       string  // texture class of the soil that the water meets; "": the weakest
	RoofM2         float64 // what drains to the downspout
	Coefficient    float64
	DesignMMH      float64 // design rain; NaN if not given
	RecordMMH      float64 // the record's wettest hour; NaN if there is none
	SoilFromBedM3  float64 // soil dug from the middle of the bed that is not needed there, in place
	LinerWidthM    float64 // NaN: 2 ft
	DesignRainFrom string  // where the design rain comes from, for people
}

// The ways, in the order in which they are compared.
const (
	Pipe    = "pipe"
	Swale   = "swale"
	Surface = "surface"
)

// Kinds lists the three ways.
func Kinds() []string { return []string{Pipe, Swale, Surface} }

// Common practice, no source, unless another is named.
const (
	usualPipeFall   = 1.0 / 120 // 1 in per 10 ft
	usualCoverMM    = 12 * inchMM
	usualLinerM     = 2 * footM
	slabReachM      = 2 * footM // liner and extension reach beyond a slab
	basementReachM  = 6 * footM // and beyond the wall of a basement
	extensionRiseMM = 6 * inchMM
	bermRun         = 3.0        // sides of a berm, run per rise
	leastWallMM     = 2 * inchMM // ground at the wall over a full bed
)

// Plan is the three ways side by side.
type Plan struct {
	Ways      []Way
	DesignM3H float64 // off the roof in the design rain; NaN if not known
	RecordM3H float64 // off the roof in the wettest hour on record; NaN if not known
	Cautions  []string
}

// Way returns the way named; false if there is none of that name.
func (p Plan) Way(kind string) (Way, bool) {
	for _, w := range p.Ways {
		if w.Kind == kind {
			return w, true
		}
	}
	return Way{}, false
}

// Way is one way worked out. If it is not Possible its troubles say why and
// what would do; figures that then mean nothing are NaN.
type Way struct {
	Kind     string
	Possible bool      // the levels allow it
	Sound    bool      // possible, and nothing has to be put right before it is built
	Troubles []Trouble // what refuses it first, then what fails, then what to know

	LengthM  float64 // from the downspout to where the water is let go
	StartMM  float64 // level at the downspout: invert of a pipe, top of the gravel of a swale, end of the elbow of an extension
	OutletMM float64 // level at which the water arrives
	Fall     float64 // fall per run

	LeastCoverMM    float64 // soil over the pipe between wall and bed, the least; NaN if no pipe
	LeastCoverAtM   float64
	DaylightM       float64 // from this station on the cover is less than it should be, because the pipe comes out; NaN if no pipe
	BedDepthMM      float64 // the least depth of the bottom below the ground at the bed's edge that lets this way run
	TrenchBedMM     float64 // the same for a pipe in a trench with full cover all along, nothing bermed; NaN if no pipe
	BacksUpM        float64 // length of the way in which a full bed stands
	CapacityM3H     float64 // the safe figure; the balance takes this. NaN if not possible
	Capacity        capacity
	VelocityMS      float64 // where the water arrives, at the greater of the two flows as far as it fits
	DepthMM         float64 // of the water there
	BearsMS         float64 // velocity that the ground there bears
	Pad             pad
	Earth           earth
	Items           []Item
	Section         section
	LinerLengthM    float64 // 0 if none
	ExtensionM      float64 // length of the extension; 0 if none
	NextDiameterMM  float64 // smallest usual pipe that carries the greater flow; NaN if no pipe or none does
	SwaleDepthMM    float64 // dug depth of the swale; NaN if none
	NeedLinerWidthM float64 // liner width that carries the greater flow; NaN if no swale
}

// capacity is what each part of a way carries, m3/h; NaN where it does not
// apply. Safe is the least of them all.
type capacity struct {
	ManningM3H   float64 // full bore, or brim-full swale
	PeakM3H      float64 // a round pipe at 0.938 of its diameter, for comparison only
	CodeM3H      float64 // code table
	CodeListed   bool    // the size and fall are in the table
	HeadM3H      float64 // under the head between downspout and bed
	DownspoutM3H float64
	Safe         float64
	Limit        string // which of them is the least: "manning", "code", "head", "downspout"
	DesignOK     bool
	DesignKnown  bool
	RecordOK     bool
	RecordKnown  bool
}

func (c capacity) decided(designM3H, recordM3H float64) capacity {
	c.Safe = math.Inf(1)
	for _, part := range []struct {
		name string
		m3h  float64
	}{{"code", c.CodeM3H}, {"manning", c.ManningM3H}, {"head", c.HeadM3H}, {"downspout", c.DownspoutM3H}} {
		if part.m3h < c.Safe {
			c.Safe, c.Limit = part.m3h, part.name
		}
	}
	c.DesignKnown, c.RecordKnown = !math.IsNaN(designM3H), !math.IsNaN(recordM3H)
	c.DesignOK, c.RecordOK = c.Safe >= designM3H, c.Safe >= recordM3H
	return c
}

// Compare works out the three ways. An error is table.Faults: figures that cannot be.
// A way that the levels do not allow is not an error: it says so itself.
func Compare(in Input) (Plan, error) {
	in = in.withUsual()
	if bad := in.faults(); len(bad) > 0 {
		return Plan{}, bad
	}
	p := Plan{
		DesignM3H: roofM3H(in.RoofM2, in.Coefficient, in.DesignMMH),
		RecordM3H: roofM3H(in.RoofM2, in.Coefficient, in.RecordMMH),
		Cautions:  cautions(in),
	}
	j := job{Input: in, designM3H: p.DesignM3H, recordM3H: p.RecordM3H}
	p.Ways = []Way{j.pipe(), j.swale(), j.surface()}
	for i := range p.Ways {
		j.judge(&p.Ways[i])
	}
	return p, nil
}

// job is an input with the flows that follow from it.
type job struct {
	Input
	designM3H, recordM3H float64
}

// greatestM3H is the greater of the two flows; NaN if neither is known.
func (j job) greatestM3H() float64 {
	switch {
	case math.IsNaN(j.designM3H):
		return j.recordM3H
	case math.IsNaN(j.recordM3H):
		return j.designM3H
	}
	return math.Max(j.designM3H, j.recordM3H)
}

// shownM3S is the flow for which depth and velocity are given: the greatest as
// far as the way carries it, or what it carries if no rain is known.
func (j job) shownM3S(safeM3H float64) float64 {
	if q := j.greatestM3H(); q < safeM3H {
		return q / 3600
	}
	return safeM3H / 3600
}

func (in Input) withUsual() Input {
	usual := func(v *float64, u float64) {
		if math.IsNaN(*v) {
			*v = u
		}
	}
	usual(&in.LeastPipeFall, usualPipeFall)
	usual(&in.CoverMM, usualCoverMM)
	usual(&in.LinerWidthM, usualLinerM)
	usual(&in.SoilFromBedM3, 0)
	return in
}

// faults checks every figure that must be there.
func (in Input) faults() table.Faults {
	var bad table.Faults
	between := func(name string, v, lo, hi float64, unit string) {
		if !(v >= lo) || !(v <= hi) {
			bad = append(bad, table.Fault{Want: strings.TrimSpace(fmt.Sprintf("%s: %g: want from %g to %g %s", name, v, lo, hi, unit))})
		}
	}
	if len(in.Ground) < 2 {
		bad = append(bad, table.Fault{Want: "ground: want levels at two stations at least: at the downspout and at the edge of the bed"})
	}
	for i, p := range in.Ground {
		between(fmt.Sprintf("ground level %d", i+1), p.LevelMM, -20_000, 20_000, "mm from the spill level")
		switch {
		case i == 0 && p.StationM != 0:
			bad = append(bad, table.Fault{Want: "ground: want the first station at 0, the downspout"})
		case i > 0 && !(p.StationM > in.Ground[i-1].StationM && p.StationM <= 300):
			bad = append(bad, table.Fault{Want: fmt.Sprintf("ground: station %d: want stations in order, each further than the one before, at most 300 m", i+1)})
		}
	}
	switch in.Foundation {
	case "", "slab", "crawl space", "basement", "none":
	default:
		bad = append(bad, table.Fault{Want: fmt.Sprintf("foundation: %q: want slab, crawl space, basement or none", in.Foundation)})
	}
	if !math.IsNaN(in.FoundationM) {
		between("distance to the foundation", in.FoundationM, 0, 10_000, "m")
	}
	between("bottom of the bed", in.BottomMM, -2000, -1, "mm from the spill level")
	between("freeboard", in.FreeboardMM, 0, 1000, "mm")
	between("rim width", in.RimWidthM, 0, 10, "m")
	between("side slope", in.SideRun, 0.1, 20, "run per rise")
	between("downspout area", in.Downspout.areaM2()*1e6, 300, 200_000, "mm2")
	between("pipe diameter", in.PipeMM, 25, 600, "mm")
	if _, ok := material(in.Material); !ok {
		bad = append(bad, table.Fault{Want: fmt.Sprintf("pipe material: %q: want one of: %s", in.Material, strings.Join(MaterialNames(), ", "))})
	}
	between("least fall of the pipe", in.LeastPipeFall, 0.001, 0.04, "per run")
	between("cover over the pipe", in.CoverMM, 0, 2000, "mm")
	between("roof", in.RoofM2, 0.1, 100_000, "m2")
	between("runoff coefficient", in.Coefficient, 0.01, 1, "")
	between("liner width", in.LinerWidthM, 0.3, 5, "m")
	between("soil from the bed", in.SoilFromBedM3, 0, 10_000, "m3")
	for _, r := range []struct {
		name string
		mmh  float64
	}{{"design rain", in.DesignMMH}, {"wettest hour", in.RecordMMH}} {
		if !math.IsNaN(r.mmh) {
			between(r.name, r.mmh, 0, 1000, "mm/h")
		}
	}
	return bad
}
