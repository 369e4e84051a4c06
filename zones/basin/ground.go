package basin

import (
	"fmt"
	"math"
)

// Ground is what is known about the place of a bed. Distances run from the
// nearest edge of the bed. A figure that is not known is NaN; Foundation is ""
// if it is not known.
type Ground struct {
	SlopePercent  float64 // of the ground before digging
	FoundationM   float64 // to the nearest building
	WaterTableM   float64 // from the bottom down to groundwater or rock
	WellM         float64 // to a private well
	SepticM       float64 // to a septic tank or field
	PropertyLineM float64 // to the neighbour's ground
	Foundation    string  // what the nearest building stands on: "slab", "basement", ...
}

// UnknownGround is Ground with nothing known.
func UnknownGround() Ground {
	n := math.NaN()
	return Ground{n, n, n, n, n, n, ""}
}

// Check is one published limit against what was found. Not Known means that the
// figure is missing; it is then not OK either.
type Check struct {
	Name   string `json:"name"`
	OK     bool   `json:"ok"`
	Known  bool   `json:"known"`
	Found  string `json:"found"`
	Wanted string `json:"wanted"`
	Source string `json:"source" schema:"some"`
}

const (
	sourceHandbook = "Univ. of Wisconsin-Extension and Wisconsin DNR 2003 (GWQ037)"
	sourceManual   = "Minnesota Pollution Control Agency, Minnesota Stormwater Manual, bioretention"
	sourcePractice = "common practice, no source"
	sourceDrain    = "GWQ037: 24 h, unless the garden file says another"
	sourceBreeding = "US EPA and CDC (from memory)"
	sourceDepth    = "GWQ037; Washington State Univ. and Ecology 2013 allow 12 in (both from memory)"
	sourceFence    = "laws on pools: 300 mm in Australian states, 24 in in the US model code (from memory)"
)

const (
	// MostPondMM is the deepest pond of a rain garden (GWQ037).
	MostPondMM = 8 * inchMM
	// MostStandsH is how long water may stand before mosquitoes breed in it, h.
	MostStandsH = 72
	// fenceMM is the depth past which the strictest law on pools asks for a fence.
	fenceMM = 300
	// drownMM is a depth in which small children have drowned.
	drownMM = 2 * inchMM
)

// Checks holds a bed and its place against published limits, always in the same
// order.
//
//	drainHours       time to soak away from full; NaN if not known, +Inf if never
//	drainLimitHours  24 if not above 0
//	length           writes a length given in mm, so that people see their units
//
// Limits and sources: buildings 10 ft (handbooks alike), slope 12 %
// (GWQ037), groundwater or rock 3 ft below the bottom, well and septic system
// 50 ft, property line 10 ft (Minnesota Stormwater Manual; its later general
// table asks 35 ft from a septic system: the larger is kept), sides 3:1, drain
// time 24 h, 72 h for mosquitoes, pond 8 in (GWQ037), 300 mm from the bottom to
// the outer edge, where water stops if the way out is blocked (laws on pools).
// Local rules come first.
func (b *Basin) Checks(g Ground, drainHours, drainLimitHours float64, length func(mm float64) string) []Check {
	if !(drainLimitHours > 0) {
		drainLimitHours = 24
	}
	metres := func(v float64) string { return length(v * 1000) }
	percent := func(v float64) string { return fmt.Sprintf("%.3g %%", v) }
	hours := func(v float64) string {
		if math.IsInf(v, 1) {
			return "never"
		}
		if whole := math.Round(v); v >= 10 && whole != drainLimitHours && whole != MostStandsH { // as the verdict says it, unless that hides on which side of a limit it is
			v = whole
		}
		return fmt.Sprintf("%.3g h", v)
	}
	slope := func(v float64) string { return fmt.Sprintf("%.3g:1", v) }
	fence := atMost("depth to the rim, for children", b.spec.PondingMM+b.spec.FreeboardMM, fenceMM, length, sourceFence)
	fence.Wanted += "; watch them at any depth"
	return []Check{
		atLeast("distance to a building", g.FoundationM, 10*footMM/1000, metres, sourceHandbook),
		atMost("slope of the ground", g.SlopePercent, 12, percent, sourceHandbook),
		atLeast("groundwater or rock below the bottom", g.WaterTableM, 3*footMM/1000, metres, sourceManual),
		atLeast("slope of the sides", b.spec.SideRun, 3, slope, sourcePractice),
		atMost("time to drain", drainHours, drainLimitHours, hours, sourceDrain),
		atMost("standing water, for mosquitoes", drainHours, MostStandsH, hours, sourceBreeding),
		atMost("depth of the pond", b.spec.PondingMM, MostPondMM, length, sourceDepth),
		fence,
		atLeast("distance to a well", g.WellM, 50*footMM/1000, metres, sourceManual),
		atLeast("distance to a septic system", g.SepticM, 50*footMM/1000, metres, sourceManual),
		atLeast("distance to the property line", g.PropertyLineM, 10*footMM/1000, metres, sourceManual),
	}
}

// SetBySize names the checks that another size or depth of the bed mends.
func SetBySize() []string {
	return []string{"time to drain", "standing water, for mosquitoes", "depth of the pond", "capture", "target event"}
}

// slack keeps a figure typed as the limit itself from failing by rounding of a unit.
const slack = 1e-9

func atLeast(name string, v, limit float64, text func(float64) string, source string) Check {
	return judged(name, v, v >= limit*(1-slack), "at least "+text(limit), text, source)
}

func atMost(name string, v, limit float64, text func(float64) string, source string) Check {
	return judged(name, v, v <= limit*(1+slack), "at most "+text(limit), text, source)
}

func judged(name string, v float64, ok bool, wanted string, text func(float64) string, source string) Check {
	c := Check{Name: name, Known: !math.IsNaN(v), Wanted: wanted, Source: source, Found: "not given: measure it"}
	if c.Known {
		c.OK, c.Found = ok, text(v)
	}
	return c
}

// Cautions is what to mind before and while digging, from the most general to
// what this place adds.
func Cautions(g Ground, length func(mm float64) string) []string {
	c := []string{
		"Ask about local rules and permits first. Where they differ from this, they hold.",
		"Have buried pipes and cables marked before you dig. Dig by hand near the marks. The call is free in many places.",
		"Give the overflow a safe path, away from buildings and neighbours' ground.",
		"Keep the bed at least " + length(10*footMM) + " from buildings, further uphill or by a basement.",
		"Keep clear of wells, septic tanks and their fields.",
		"Stay outside the spread of trees you want to keep: digging there cuts roots.",
		"Standing water can drown small children, even " + length(drownMM) + " of it; after 3 days mosquitoes breed. Keep children from the bed until it is empty, or fence it. Find out why water stays so long.",
		"Leave work on drains, foundations, walls and electrics to licensed people.",
	}
	if g.SlopePercent > 12 {
		c = append(c, "This ground is steep, and wetting it can make it slip. Ask an engineer before you dig, or choose another place.")
	} else if !(g.SlopePercent >= 0) {
		c = append(c, "Measure the slope of the ground: if steep, it can slip when it is wetted.")
	}
	if g.Foundation == "basement" {
		c = append(c, "The nearest building has a basement: water can find its way in from far off. Watch its walls after the first heavy rains.")
	}
	return c
}
