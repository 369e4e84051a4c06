package zones

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/zones/basin"
)

// ground gives what the garden file says of the surroundings. Groundwater and rock count
// from the bottom of the mix; the old ground is taken to lie at the outer edge of the
// rim.
func (g *Garden) ground() basin.Ground {
	out := basin.UnknownGround()
	s := g.Site
	out.SlopePercent = 100 * s.GroundSlope
	out.FoundationM = s.FoundationDistanceM
	out.Foundation = s.Foundation
	if s.Foundation == "none" {
		out.FoundationM = math.Inf(1)
	}
	below := (g.Bed.FreeboardMM + g.Bed.PondingDepthMM + g.Mix.DepthMM) / 1000
	out.WaterTableM = lesser(s.GroundwaterDepthM, s.RockDepthM) - below
	out.WellM, out.SepticM, out.PropertyLineM = s.WellDistanceM, s.SepticDistanceM, s.BoundaryDistanceM
	return out
}

// lesser returns the smaller of two, or the one that is known.
func lesser(a, b float64) float64 {
	if math.IsNaN(a) || b < a {
		return b
	}
	return a
}

// Checks compares the bed with the limits for its place and with the garden's
// targets. What is not given is not known, and never counts as fine.
func (l *Lot) Checks(p Performance) []basin.Check {
	g := l.Garden
	u := g.Units
	checks := l.Bed.Checks(g.ground(), p.DrainH, g.Target.DrainWithinH, u.lengthOfMM)
	capture := basin.Check{
		Name: "capture", Known: !math.IsNaN(p.Captured), OK: p.Captured >= g.Target.Capture,
		Found: u.Percent(p.Captured), Wanted: "at least " + u.Percent(g.Target.Capture), Source: "target of the garden file; hourly balance over the record",
	}
	if !capture.Known {
		capture.Found = "no record"
	}
	event := basin.Check{
		Name: "target event", Known: !math.IsNaN(p.EventMM), OK: p.swallows(),
		Wanted: "nothing spills in a day of " + u.Depth(p.EventMM), Source: p.EventFrom + "; falling by the pattern " + eventPattern,
	}
	switch {
	case !event.Known:
		event.Found, event.Wanted, event.OK = "no record, and no event stated", "a target event", false
	case event.OK:
		event.Found = "nothing spills"
	default:
		event.Found = fmt.Sprintf("%s of %s spills", u.Water(p.EventSpillM3), u.Water(p.EventRunM3))
	}
	for i := range checks {
		if checks[i].Found == u.Length(math.Inf(1)) {
			checks[i].Found = "none near"
		}
	}
	checks = append(checks, capture, event)
	if c, ok := l.placesCheck(); ok {
		checks = append(checks, c)
	}
	if l.WayIn.Given {
		checks = append(checks, l.inletCheck())
	}
	return checks
}

func (u Units) lengthOfMM(mm float64) string { return u.Length(mm / 1000) }

// Cautions lists what to mind before digging here.
func (l *Lot) Cautions() []string {
	c := basin.Cautions(l.Garden.ground(), l.Garden.Units.lengthOfMM)
	if l.Garden.Bed.FreeboardMM <= 0 || l.Garden.Bed.RimWidthM <= 0 {
		c = append(c, "This bed has no raised rim: water leaves wherever the ground is lowest. Make one low place that leads it away safely.")
	}
	return c
}

// Handbook is the bed area that a printed handbook asks for, for comparison.
type Handbook struct {
	Group  string // of the soil, as the handbook sorts it
	AreaM2 float64
	Factor float64
	Note   string // why there is none
	// Assumed says that no texture is given and loam was taken.
	Assumed bool
}

// Handbook looks up the size that GWQ037 gives for this soil, depth and drainage area.
func (l *Lot) Handbook() Handbook {
	h := Handbook{Group: soilGroup(l.Native), Assumed: l.Garden.Soil.Texture == ""}
	var err error
	if h.AreaM2, h.Factor, err = basin.HandbookAreaM2(h.Group, l.Garden.Bed.PondingDepthMM, l.CatchM2); err != nil {
		h.Note = err.Error()
	}
	return h
}

// soilGroup sorts a soil into the handbook's three by its texture. Common practice, no
// source.
func soilGroup(n NativeSoil) string {
	switch {
	case strings.Contains(n.Texture, "clay"):
		return "clay"
	case strings.Contains(n.Texture, "sand"):
		return "sandy"
	}
	return "loam"
}
