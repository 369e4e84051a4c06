package zones

import (
	"fmt"
	"math"

	"hollowbed/zones/basin"
	"hollowbed/zones/inlet"
)

// WayIn is how the roof's water comes to the bed: the three ways, and the one taken.
type WayIn struct {
	Given  bool // the garden file has an inlet section
	Plan   inlet.Plan
	Chosen *inlet.Way // nil if none is taken yet
}

// addWayIn compares the ways in. Soil at hand is what is dug and not needed for the rim.
func (l *Lot) addWayIn() error {
	soil := max(0, l.Bed.ExcavationM3(l.Garden.Mix.DepthMM, 0)-l.Bed.BermM3(0))
	plan, ok, err := l.Garden.compareInlets(l.wettestMM(), soil)
	if err != nil || !ok {
		return err
	}
	l.WayIn = WayIn{Given: true, Plan: plan}
	if way, ok := plan.Way(l.Garden.Inlet.Way); ok {
		l.WayIn.Chosen = &way
	}
	return nil
}

// inletM3H is what the way in can carry; no limit where none is taken, or it cannot be.
func (l *Lot) inletM3H() float64 {
	if way := l.WayIn.Chosen; way != nil && way.Possible && way.CapacityM3H >= 0 {
		return way.CapacityM3H
	}
	return math.Inf(1)
}

// inletCheck says whether the way in that is taken can be, and carries the water.
func (l *Lot) inletCheck() basin.Check {
	c := basin.Check{Name: "way in for the water", Wanted: "ground that falls away from buildings, levels that fall, a size that carries the rain", Source: "zones/inlet: Manning, code tables, common practice; see basin --inlets"}
	switch way := l.WayIn.Chosen; {
	case !l.WayIn.Given:
		c.Found = "not given: add an inlet section"
	case way == nil:
		c.Found = "none taken yet: see basin --inlets, then set inlet.way"
	case !way.Sound:
		c.Known = true
		c.Found, c.Wanted = l.Garden.Units.InletText(way.Troubles[0])
	default:
		c.Known, c.OK = true, true
		c.Found = fmt.Sprintf("%s, carries %s", way.Kind, l.Garden.Units.Flow(way.CapacityM3H))
	}
	return c
}

// inletUnits gives inlet the garden's units.
func (u Units) inletUnits() inlet.Show {
	return inlet.Show{Depth: u.Depth, Length: u.Length, Flow: u.Flow, Speed: u.Speed, Volume: u.Volume}
}

// InletText words one trouble of a way: what is wrong, and the change that would do.
func (u Units) InletText(t inlet.Trouble) (what, change string) { return t.Text(u.inletUnits()) }

// Flow prints a flow of water, given in cubic metres an hour, in L/s or US gal/min.
func (u Units) Flow(m3h float64) string {
	return u.show(m3h, about(m3h/m3PerGal/60, 2)+" gal/min", about(m3h/3.6, 2)+" L/s")
}

// Speed prints a speed of water, given in metres a second.
func (u Units) Speed(ms float64) string {
	return u.show(ms, trim(round(ms/mPerFt, 1))+" ft/s", trim(round(ms, 1))+" m/s")
}
