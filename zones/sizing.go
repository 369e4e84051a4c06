package zones

import (
	"errors"
	"fmt"
	"math"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// eventSlack is the share of an event's runoff that rounding may let leave.
const eventSlack = 0.001

// eventPattern is the design storm of most of the United States (NRCS, TR-55 [S5]).
const eventPattern = "type-ii"

// Performance is how a bed does against the garden's targets.
type Performance struct {
	Captured     float64 // share of the record's runoff; NaN without a record
	EventMM      float64 // rain of the target event; NaN if not known
	EventFrom    string  // where the event comes from
	EventSpillM3 float64 // of that event's runoff leaves
	EventRunM3   float64
	DrainH       float64 // a full pond on wet soil
	DrainDryH    float64 // a full pond on soil at field capacity, for comparison; NaN if not known
}

// swallows says whether the event stays in the bed.
func (p Performance) swallows() bool { return p.EventSpillM3 <= eventSlack*p.EventRunM3 }

// Perform measures this bed against its targets.
func (l *Lot) Perform() (Performance, error) { return l.perform(l.Bed) }

// Perform measures the bed from the run there is unless a safety factor asks for another.
func (e *Exposure) Perform() (Performance, error) {
	if l := e.Lot; l.Native.RateMMH != l.Native.TestedMMH {
		return l.Perform()
	}
	p, err := e.Lot.event(e.Lot.Bed)
	p.Captured = e.Run.Balance.CapturedFraction()
	return p, err
}

func (l *Lot) perform(bed *basin.Basin) (Performance, error) {
	p, err := l.event(bed)
	if err != nil || l.Record == nil {
		return p, err
	}
	volumes, err := water.Volumes(l.sized(bed), l.Record)
	p.Captured = volumes.CapturedFraction()
	return p, err
}

// event measures what needs no run of the record.
func (l *Lot) event(bed *basin.Basin) (Performance, error) {
	p := Performance{Captured: math.NaN(), DrainDryH: math.NaN()}
	p.EventMM, p.EventFrom = l.eventMM()
	setup := l.sized(bed)
	var err error
	if !math.IsNaN(p.EventMM) {
		pattern, ok := site.PatternShares(eventPattern)
		if !ok {
			panic("zones: no pattern " + eventPattern)
		}
		if p.EventSpillM3, p.EventRunM3, err = water.EventOverflowM3(setup, p.EventMM, pattern); err != nil {
			return p, err
		}
	}
	ponding := bed.Spec().PondingMM
	p.DrainH = site.DrainHours(ponding, l.drainRateMMH())
	if class, err := site.NativeSoil(l.Native.Texture); err == nil {
		class.KMMH = l.Native.RateMMH
		p.DrainDryH = site.SoakAwayHours(ponding, class, class.FC)
	}
	return p, nil
}

// eventMM is the event the bed should swallow: stated, or the 95th percentile
// rain day of the record (US EPA 2009, Section 438 [S6]).
func (l *Lot) eventMM() (mm float64, from string) {
	if mm := l.Garden.Target.EventMM; !math.IsNaN(mm) {
		return mm, "stated in the garden file"
	}
	if l.Record == nil {
		return math.NaN(), "no record, and none stated"
	}
	mm, days := l.event95()
	if days == 0 {
		return math.NaN(), "the record has no rain day"
	}
	return mm, fmt.Sprintf("95th percentile of %d rain days above 0.1 in (US EPA 2009, Section 438)", days)
}

// Size is what the bed would have to be.
type Size struct {
	Spec      basin.Spec
	AreaM2    float64
	Scale     float64 // of the outline against the garden file's
	Depth     string  // why the depth is what it is
	Reached   bool    // every target is met
	Binding   string  // the target that sets the size
	Performs  Performance
	Iteration int
}

const (
	sizeMost = 8.0   // no bed is tried with sides more than this many times the file's
	sizeFine = 0.002 // sides are found to this share
)

// Smallest finds the smallest bed of the garden's proportions that meets its targets, its
// depth kept or lowered to what its checks allow, by halving: a larger bed always holds
// and soaks away more.
func (l *Lot) Smallest() (Size, error) {
	if l.Record == nil && math.IsNaN(l.Garden.Target.EventMM) {
		return Size{}, &NoRecordError{File: l.Garden.Weather.File}
	}
	depth, why := l.depthAllowed()
	if !(depth >= shallowestMM) {
		return Size{Depth: why, Performs: Performance{Captured: math.NaN(), DrainH: site.DrainHours(l.Garden.Bed.PondingDepthMM, l.drainRateMMH())}}, nil
	}
	s := Size{Depth: why, Scale: sizeMost}
	try := func(scale float64) (bool, error) {
		s.Iteration++
		bed, err := basin.New(l.Garden.spec(scale, depth))
		if err != nil {
			return false, nil // too small for its own sides: the answer lies above
		}
		p, err := l.perform(bed)
		if err != nil {
			return false, err
		}
		ok, binding := l.meets(p)
		if ok {
			s.Spec, s.AreaM2, s.Scale, s.Performs, s.Reached = bed.Spec(), bed.Spec().Outline.AreaM2(), scale, p, true
		} else {
			s.Binding = binding
			if !s.Reached {
				s.Spec, s.AreaM2, s.Performs = bed.Spec(), bed.Spec().Outline.AreaM2(), p
			}
		}
		return ok, nil
	}
	high := sizeMost
	if ok, err := try(high); err != nil || !ok {
		return s, err
	}
	low := 0.0
	for high-low > sizeFine*high {
		mid := (low + high) / 2
		ok, err := try(mid)
		if err != nil {
			return s, err
		}
		if ok {
			high = mid
		} else {
			low = mid
		}
	}
	if s.Binding == "" {
		s.Binding = "its own sides: a smaller bed has no bottom left"
	}
	return s, nil
}

// shallowestMM is the least ponding depth that sizing proposes. Common
// practice, no source: below it a rain garden is only a planting bed.
const shallowestMM = 40

// WhatDrains is what a licensed person would consider where no bed drains in time.
const WhatDrains = "a licensed person would consider an underdrain with somewhere to go, a larger or shallower bed, or another place"

// undrainedError says that no bed drains in time on this ground.
type undrainedError struct{ text string }

func (e *undrainedError) Error() string { return e.text }

// NeedDrain returns an error that says so where no bed drains in time on this
// ground, however shallow: no plant is to make up for that.
func (l *Lot) NeedDrain() error {
	if mm, _ := l.depthForDraining(); mm >= shallowestMM {
		return nil
	}
	u, rate := l.Garden.Units, l.drainRateMMH()
	stands := "would stand for ever"
	if h := site.DrainHours(shallowestMM, rate); !math.IsInf(h, 1) {
		stands = "would stand for " + u.Duration(h)
	}
	return &undrainedError{fmt.Sprintf("no bed drains in time on this ground: at %s even %s of water %s, at most %s wanted. No plant makes up for that: %s. A soak test on the spot comes first",
		u.Rate(rate), u.Depth(shallowestMM), stands, u.Duration(l.Garden.Target.DrainWithinH), WhatDrains)}
}

// Undrained says whether an error is that of NeedDrain.
func Undrained(err error) bool {
	var e *undrainedError
	return errors.As(err, &e)
}

// depthForDraining lowers the ponding depth to what drains in time.
func (l *Lot) depthForDraining() (mm float64, why string) {
	g := l.Garden
	rate := l.drainRateMMH()
	if most := rate * g.Target.DrainWithinH; most < g.Bed.PondingDepthMM {
		depth := math.Floor(most/5) * 5
		return depth, fmt.Sprintf("lowered from %s: at %s a full pond would take %s to drain",
			g.Units.Depth(g.Bed.PondingDepthMM), g.Units.Rate(rate), g.Units.Duration(site.DrainHours(g.Bed.PondingDepthMM, rate)))
	}
	return g.Bed.PondingDepthMM, "as in the garden file"
}

// depthAllowed lowers the ponding depth to what every check of it allows.
func (l *Lot) depthAllowed() (mm float64, why string) {
	u := l.Garden.Units
	from := "lowered from " + u.Depth(l.Garden.Bed.PondingDepthMM)
	mm, why = l.depthForDraining()
	if gone := math.Floor(l.drainRateMMH()*basin.MostStandsH/5) * 5; gone < mm {
		mm, why = gone, fmt.Sprintf("%s, to be gone within %s, before mosquitoes breed", from, u.Duration(basin.MostStandsH))
	}
	if mm > basin.MostPondMM {
		mm, why = basin.MostPondMM, from+", the most that the handbook allows"
	}
	return mm, why
}

// meets compares a bed with the targets and names the first that it misses.
func (l *Lot) meets(p Performance) (ok bool, binding string) {
	if !math.IsNaN(p.Captured) && p.Captured < l.Garden.Target.Capture {
		return false, fmt.Sprintf("capture: a smaller bed keeps under %.0f %% of the runoff", 100*l.Garden.Target.Capture)
	}
	if !math.IsNaN(p.EventMM) && !p.swallows() {
		return false, fmt.Sprintf("event: a smaller bed spills in the %s event", l.Garden.Units.Depth(p.EventMM))
	}
	return true, ""
}
