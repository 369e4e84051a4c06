package site

import (
	"cmp"
	"fmt"
	"math"
)

// SoakTest is water let into a hole and watched as it soaks away.
type SoakTest struct {
	HoleDiameterMM float64
	HoleDepthMM    float64       // ground to the bottom of the hole
	SafetyFactor   float64       // design rate = corrected rate / this; 0 means 2
	Readings       []SoakReading // in order of time
}

// SoakReading is the water above the bottom of the hole at a time. More than before means
// that the hole was filled up in between.
type SoakReading struct {
	Minutes      float64
	WaterDepthMM float64
}

// soakResult is what a soak test tells.
type soakResult struct {
	RawMMH       float64  // fall of the water level in the window
	CorrectedMMH float64  // conductivity: raw without the flow through the wall
	DesignMMH    float64  // corrected / safety factor
	SafetyFactor float64  // as used
	FromMinutes  float64  // the window: its first reading
	ToMinutes    float64  // and its last
	Intervals    int      // intervals in the window
	Steady       bool     // the intervals of the window agree
	LogSD        float64  // standard deviation of ln of their rates; NaN from fewer than three, or where one is 0
	Window       string   // the window and why, for people
	Notes        []string // what to know before trusting it, for people
}

const (
	defaultSafetyFactor = 2
	// soakAgreement is how far the lowest rate in the window may lie below the
	// highest. Common practice asks for 10 to 20 %, no source.
	soakAgreement = 0.15
	// soakWindow is the fewest intervals a rate is taken from.
	soakWindow = 2
	soakRule   = "rates after taking out the wall flow lie within 15 % of each other"
)

// soakInterval is the fall between two readings without a refill.
type soakInterval struct {
	from, to SoakReading
	kMMH     float64
}

// Result finds the infiltration rate of a soak test.
//
// The water level in a hole of radius r falls faster than a pond would, since
// water leaves through the wall as well as the bottom. With a gradient of 1
// everywhere, dh/dt = -K (2h + r)/r, hence
//
//	K = (r/2) / (t2 - t1) x ln[(h1 + r/2) / (h2 + r/2)]
//
// K and r/(t2 - t1) in mm/h, h1 and h2 depths of water (mm) at t1 and t2. It
// leaves out the suction of dry soil, so the hole must be soaked beforehand, and
// it fails where groundwater or a tight layer lies close below. Source: the
// inverse auger hole (shallow well) method, ILRI Publication 16, Drainage
// Principles and Applications, chapter 12 (Oosterbaan and Nijland).
//
// The window: going back from the last interval, intervals are taken in while
// the lowest of their rates is at most 15 % below the highest, at least two;
// if even the last two do not agree they are used all the same, and said not to
// be steady. More water than before begins a new run, and windows may reach
// over a refill. An interval that ends dry is left out, since the hole ran dry
// at an unknown time before.
func (t SoakTest) Result() (soakResult, error) {
	factor, err := t.check()
	if err != nil {
		return soakResult{}, err
	}
	all, dry := t.intervals()
	if len(all) < soakWindow {
		return soakResult{}, t.tooFew(len(all), dry)
	}
	first, steady := steadyFrom(all)
	window := all[first:]

	var fall, hours, weighted float64
	for _, iv := range window {
		h := iv.hours()
		hours += h
		fall += iv.from.WaterDepthMM - iv.to.WaterDepthMM
		weighted += iv.kMMH * h // for one run this sum is the formula end to end
	}
	r := soakResult{
		RawMMH: fall / hours, CorrectedMMH: weighted / hours, SafetyFactor: factor,
		FromMinutes: window[0].from.Minutes, ToMinutes: window[len(window)-1].to.Minutes,
		Intervals: len(window), Steady: steady, LogSD: logSD(window),
	}
	r.DesignMMH = r.CorrectedMMH / factor
	why := soakRule
	if !steady {
		why = "the last two are used although they do not agree"
	}
	r.Window = fmt.Sprintf("last %d of %d intervals, %g to %g min: %s",
		r.Intervals, len(all), r.FromMinutes, r.ToMinutes, why)
	r.Notes = soakNotes(all, window, steady, dry)
	return r, nil
}

// logSD returns the standard deviation of ln of the rates of some intervals.
func logSD(window []soakInterval) float64 {
	if len(window) < 3 {
		return math.NaN()
	}
	mean, n := 0.0, float64(len(window))
	for _, iv := range window {
		mean += math.Log(iv.kMMH) / n
	}
	sum := 0.0
	for _, iv := range window {
		sum += (math.Log(iv.kMMH) - mean) * (math.Log(iv.kMMH) - mean)
	}
	return math.Sqrt(sum / (n - 1)) // NaN with a rate of 0, whose ln has no end
}

// check returns the safety factor to use, or what is wrong with the test.
func (t SoakTest) check() (float64, error) {
	if !(t.HoleDiameterMM > 0) || math.IsInf(t.HoleDiameterMM, 1) {
		return 0, fmt.Errorf("hole diameter \"%g\": want more than 0 mm", t.HoleDiameterMM)
	}
	if !(t.HoleDepthMM > 0) || math.IsInf(t.HoleDepthMM, 1) {
		return 0, fmt.Errorf("hole depth \"%g\": want more than 0 mm", t.HoleDepthMM)
	}
	factor := cmp.Or(t.SafetyFactor, defaultSafetyFactor)
	if !(factor >= 1) || math.IsInf(factor, 1) {
		return 0, fmt.Errorf("safety factor \"%g\": want 1 or more", factor)
	}
	if len(t.Readings) < 3 {
		return 0, fmt.Errorf("soak test has %d readings: want at least 3", len(t.Readings))
	}
	for i, r := range t.Readings {
		if !(r.WaterDepthMM >= 0 && r.WaterDepthMM <= t.HoleDepthMM) {
			return 0, fmt.Errorf("reading %d: water depth \"%g\": want 0 to the hole depth, %g mm",
				i+1, r.WaterDepthMM, t.HoleDepthMM)
		}
		if math.IsNaN(r.Minutes) || math.IsInf(r.Minutes, 0) {
			return 0, fmt.Errorf("reading %d: minutes \"%g\": want a number", i+1, r.Minutes)
		}
		if i == 0 {
			continue
		}
		before := t.Readings[i-1]
		refilled := r.WaterDepthMM > before.WaterDepthMM
		if r.Minutes < before.Minutes || r.Minutes == before.Minutes && !refilled {
			return 0, fmt.Errorf("reading %d: minutes \"%g\": want later than the reading before, %g min",
				i+1, r.Minutes, before.Minutes)
		}
	}
	return factor, nil
}

// intervals returns the falls between readings, and how many others ended dry.
func (t SoakTest) intervals() (all []soakInterval, dry int) {
	halfRadius := t.HoleDiameterMM / 4
	for i := 1; i < len(t.Readings); i++ {
		iv := soakInterval{from: t.Readings[i-1], to: t.Readings[i]}
		switch {
		case iv.to.WaterDepthMM > iv.from.WaterDepthMM:
			continue
		case iv.to.WaterDepthMM == 0:
			dry++
			continue
		}
		fall := iv.from.WaterDepthMM - iv.to.WaterDepthMM
		// ln[(h1 + r/2)/(h2 + r/2)], exact for small falls too
		iv.kMMH = halfRadius / iv.hours() * math.Log1p(fall/(iv.to.WaterDepthMM+halfRadius))
		all = append(all, iv)
	}
	return all, dry
}

func (iv soakInterval) hours() float64 { return (iv.to.Minutes - iv.from.Minutes) / 60 }

// tooFew says why no rate can be given and what to do.
func (t SoakTest) tooFew(usable, dry int) error {
	if dry > 0 {
		return fmt.Errorf("soak test: the hole ran dry, usable intervals %d: want at least %d; fill it again and read more often",
			usable, soakWindow)
	}
	return fmt.Errorf("soak test: usable intervals %d: want at least %d between readings without a refill", usable, soakWindow)
}

// steadyFrom returns the first interval of the window and whether it is steady.
func steadyFrom(all []soakInterval) (first int, steady bool) {
	last := len(all) - 1
	low, high := all[last].kMMH, all[last].kMMH
	first = last
	for i := last - 1; i >= 0; i-- {
		low, high = min(low, all[i].kMMH), max(high, all[i].kMMH)
		if low < (1-soakAgreement)*high {
			break
		}
		first = i
	}
	if len(all)-first < soakWindow {
		return len(all) - soakWindow, false
	}
	return first, true
}

// soakNotes lists what a reader should know before trusting the rate.
func soakNotes(all, window []soakInterval, steady bool, dry int) []string {
	var notes []string
	last := all[len(all)-1]
	before := all[len(all)-2]
	switch {
	case last.kMMH == 0 && before.kMMH == 0:
		notes = append(notes, "the water did not fall: no infiltration at the end of the test")
		if len(window) < len(all) {
			notes = append(notes, fmt.Sprintf("it stopped falling at %g mm above the bottom: "+
				"groundwater or a tight layer may be close", last.to.WaterDepthMM))
		}
	case !steady && last.kMMH < before.kMMH, stillFalling(window):
		notes = append(notes, "the rate was still falling at the end: "+
			"go on with the test, the steady rate may be lower")
	case !steady:
		notes = append(notes, "the last rates do not agree: repeat the test")
	}
	if dry > 0 {
		notes = append(notes, fmt.Sprintf("left out because the hole ran dry: intervals %d", dry))
	}
	return notes
}

// stillFalling reports whether three rates or more in the window fall one after
// another to the end, by more than half of what counts as agreement.
func stillFalling(window []soakInterval) bool {
	n := len(window)
	i := n - 1
	for i > 0 && window[i].kMMH < window[i-1].kMMH {
		i--
	}
	return n-i >= 3 && window[n-1].kMMH < (1-soakAgreement/2)*window[i].kMMH
}
