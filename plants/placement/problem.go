// Package placement answers where each plant of a planting list stands.
//
// Input is a Problem: the bed, places where nothing is planted, the side it is
// seen from, the lines of the list, the yearly risk of a line at a place, and
// the plants that stand already. Output is a Result: a place for every plant
// with its stake, its risk and its height, what found no place and why, and the
// expected loss beside that of random placement and beside a proven bound.
//
// The list fills each zone by area, which a narrow or crooked zone cannot always
// hold. Plants are then left over and named, never squeezed in unasked;
// Result.NeededOverlap says which overlap would hold them all.
//
// Left out: which species and how many (package list), what a risk is (package
// fit), and drawing.
package placement

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"hollowbed/zones/basin"
	"hollowbed/zones/table"
)

// Problem is what is to be placed, and where.
type Problem struct {
	Bed      *basin.Basin
	KeepOuts []KeepOut
	MarginM  float64 // kept free along the outer edge
	// Overhang is the share of a plant's mature radius that may reach over the
	// outer edge (or into the margin): 0 keeps the whole disc inside, 0.5 a
	// centre half a radius from the edge.
	Overhang float64
	View     View
	Lines    []Line
	// Risk is the yearly risk (0 to 1) of a line at a place in its zone. It has
	// to be cheap, give the same for the same place, and is never called by two
	// goroutines at once. It is asked once per line and square of RiskStepM.
	Risk  func(line int, x, y float64) float64
	Kept  []Kept
	Taken []string // stakes and letters of drifts used before by plants that are gone: not given again
	// Failed are places where a plant of a species died: none of that species
	// whose mature spread would cover such a place is set there again.
	Failed []Kept

	// Overlap is the share by which two mature spreads may overlap: centres stand
	// at least (1 - Overlap) (r1 + r2) apart. 0: discs at most touch.
	Overlap float64

	RiskStepM  float64 // side of a square of one risk; 0 for 0.05 m
	GroupWorth float64 // yearly risk that a plant alone among others is worth; 0 for 0.03, below 0 for none
	HideWorth  float64 // yearly risk that a plant fully hidden is worth; 0 for 0.03, below 0 for none
	Seed       uint64
	Effort     int // times the usual number of beginnings, never with more left out for more effort; 0 for 1
	RandomRuns int // placements by chance to compare with; 0 for 3

	// Early, if set, is given our best attempt before it is compared with chance.
	Early func([]Standing)
	// Stop, if set, is asked now and then whether the answer is still wanted; from
	// several goroutines at once.
	Stop func() bool
}

// ErrStopped is the error of a placement that Stop ended.
var ErrStopped = errors.New("placement: stopped")

func (p *Problem) stopped() bool { return p.Stop != nil && p.Stop() }

// askEvery is how many trials go by between two questions whether to stop.
const askEvery = 256

// Line is one species in one zone.
type Line struct {
	ID, Name, Zone     string
	Count              int // in all, with those that stand already
	SpreadCM, HeightCM float64
	// Under plants are bulbs: they grow beneath others, keep apart from each other and
	// from the crowns of the rest, take no ground and count in no loss.
	Under bool
}

// Kept is a plant that stands already. It belongs to the line of its ID in the
// zone where it stands, if there is one, and counts towards that line's count.
type Kept struct {
	Stake, ID, Drift   string
	X, Y               float64
	SpreadCM, HeightCM float64 // 0: as the line of this ID
	Movable            bool    // may be given another place in its line's zone
	Under              bool    // as in Line
}

// KeepOut is a place where no mature spread may reach: a polygon of three or
// more points, or a disc.
type KeepOut struct {
	Kind    string // "bench", "boulder", "inlet splash", "overflow", ...
	Points  [][2]float64
	X, Y, R float64 // disc, if there are no points
}

// View is where the bed is seen from.
type View struct {
	Kind string // "all round" or "", "side" (X, Y: direction of looking), "point" (X, Y: where the eye is)
	X, Y float64
	// SightM is how far behind a taller plant a lower one is still missed; 0 for
	// 2 m (common practice, no source).
	SightM float64
}

// check reports every fault of the problem.
func (p *Problem) check() error {
	var f table.Faults
	add := func(ok bool, form string, args ...any) {
		if !ok {
			f = append(f, table.Fault{Want: fmt.Sprintf(form, args...)})
		}
	}
	add(p.Overlap >= 0 && p.Overlap <= 0.5, "overlap: %g: want a share from 0 to 0.5", p.Overlap)
	add(p.Overhang >= 0 && p.Overhang <= 1, "overhang: %g: want a share from 0 to 1", p.Overhang)
	add(p.MarginM >= 0 && !math.IsInf(p.MarginM, 0), "margin: %g m: want a width of 0 or more", p.MarginM)
	add(p.RiskStepM >= 0 && p.RiskStepM < 10, "risk step: %g m: want a length from 0 to 10", p.RiskStepM)
	add(p.Effort >= 0 && p.RandomRuns >= 0, "effort, random runs: want 0 or more")
	add(!math.IsNaN(p.GroupWorth) && !math.IsNaN(p.HideWorth), "group or hide worth: want a number")
	p.View.check(add)
	for i, k := range p.KeepOuts {
		k.check(i, add)
	}
	total := len(p.Kept)
	seen := map[[2]string]int{}
	for i, l := range p.Lines {
		name := fmt.Sprintf("line %d (%s in %s)", i+1, l.ID, l.Zone)
		add(l.Count >= 0 && l.Count <= 100000, "%s: %d plants: want a number from 0 to 100,000", name, l.Count)
		add(l.SpreadCM > 0 && l.SpreadCM < 1e5, "%s: spread %g cm: want a spread above 0", name, l.SpreadCM)
		add(l.HeightCM >= 0 && l.HeightCM < 1e5, "%s: height %g cm: want a height of 0 or more", name, l.HeightCM)
		add(l.Zone == basin.Bottom || l.Zone == basin.Slope || l.Zone == basin.Rim,
			"%s: want zone bottom, slope or rim", name)
		key := [2]string{l.ID, l.Zone}
		first, twice := seen[key]
		add(!twice, "%s: stands in line %d already: want one line for a species in a zone", name, first+1)
		seen[key] = i
		total += max(0, l.Count)
	}
	add(total <= 100000, "%d plants: want at most 100,000", total)
	p.checkKept(add)
	for _, k := range p.Failed {
		add(finite(k.X) && finite(k.Y), "place where %q died: (%g, %g): expected metres", k.ID, k.X, k.Y)
	}
	return f.Err()
}

func (v View) check(add func(bool, string, ...any)) {
	switch v.Kind {
	case "", "all round", "point":
	case "side":
		add(math.Hypot(v.X, v.Y) > 0, "view: (%g, %g): want a direction", v.X, v.Y)
	default:
		add(false, "view: %q: want all round, side or point", v.Kind)
	}
	add(finite(v.X) && finite(v.Y), "view: (%g, %g): want metres", v.X, v.Y)
	add(v.SightM >= 0 && finite(v.SightM), "view: sight %g m: want a length of 0 or more", v.SightM)
}

func (k KeepOut) check(i int, add func(bool, string, ...any)) {
	name := fmt.Sprintf("keep-out %d (%s)", i+1, k.Kind)
	if len(k.Points) == 0 {
		add(k.R > 0 && finite(k.R) && finite(k.X) && finite(k.Y), "%s: want three points or more, or a centre and a radius", name)
		return
	}
	if err := (basin.Outline{Kind: "polygon", Points: k.Points}).Check(); err != nil {
		add(false, "%s: %v", name, err)
	}
}

func (p *Problem) checkKept(add func(bool, string, ...any)) {
	seen := map[string]bool{}
	for _, k := range p.Kept {
		name := strings.ToUpper(k.Stake)
		add(WrongStake(k.Stake) == "", "stake %q: %s", k.Stake, WrongStake(k.Stake))
		add(!seen[name], "stake %q: stands twice: want each stake once", k.Stake)
		seen[name] = true
		add(finite(k.X) && finite(k.Y), "stake %q: (%g, %g): want metres", k.Stake, k.X, k.Y)
		add(k.SpreadCM >= 0 && k.SpreadCM < 1e5 && k.HeightCM >= 0 && k.HeightCM < 1e5,
			"stake %q: want a spread and a height of 0 or more", k.Stake)
		add(k.SpreadCM > 0 || p.lineOf(k.ID) >= 0, "stake %q: %q is not in the list: want its spread", k.Stake, k.ID)
	}
}

// lineOf is the first line of a species, in whatever zone; -1 if there is none.
func (p *Problem) lineOf(id string) int {
	for i, l := range p.Lines {
		if l.ID == id {
			return i
		}
	}
	return -1
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
