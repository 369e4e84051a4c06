// Package water runs the hourly water balance of a bed and finds the wet and
// dry spells of every place in it.
//
// Input is a Setup (catch area, bed, soils) and a weather record; output is a
// Result: the volumes that went in and out, and for each elevation band and
// year the longest wet and dry spells with their dates. What it leaves out, and
// which way each omission errs, is in data/METHOD.md.
package water

import (
	"fmt"
	"math"

	"hollowbed/zones/basin"
)

// Setup is what the balance needs to know beside the weather.
type Setup struct {
	Bed     *basin.Basin
	Catches []Catch
	// InletM3H is the most that the way in from the roof can carry, m3/h; +Inf
	// if unlimited. What exceeds it never reaches the bed. Ground (a catch with
	// a curve number) drains to the bed beside it.
	InletM3H float64

	MixFC, MixWP, MixSat float64 // water contents of the bed mix, volume fractions
	MixDepthMM           float64
	MixKMMH              float64 // rate at which water enters the mix, mm/h
	NativeKMMH           float64 // rate at which the soil below takes it, mm/h

	Kc   float64 // crop coefficient of the planted bed
	PTab float64 // share of TAW taken without stress at ETc 5 mm/d (FAO-56 Table 22)

	LatitudeDeg float64
	StepsPerH   int // 1 for ordinary use; 2 halves every step

	// Weather is what NewWeather made of the record, to be shared by many runs;
	// nil, or that of another record or latitude: it is made anew.
	Weather *Weather
}

// check refuses figures that cannot be. Rates and the inlet may be +Inf.
func (s Setup) check() error {
	for _, v := range []struct {
		name     string
		value    float64
		infinite bool
	}{
		{"mix depth", s.MixDepthMM, false}, {"mix rate", s.MixKMMH, true}, {"native rate", s.NativeKMMH, true},
		{"crop coefficient", s.Kc, false}, {"inlet capacity", s.InletM3H, true},
	} {
		if !(v.value >= 0) || !v.infinite && math.IsInf(v.value, 1) {
			return fmt.Errorf("water balance: %s is %g: want a number of at least 0", v.name, v.value)
		}
	}
	if !(0 <= s.MixWP && s.MixWP < s.MixFC && s.MixFC < s.MixSat && s.MixSat <= 1 && s.MixDepthMM > 0) {
		return fmt.Errorf("water balance: mix water contents are wilting %g, field %g, full %g over %g mm: want them rising between 0 and 1 over some depth", s.MixWP, s.MixFC, s.MixSat, s.MixDepthMM)
	}
	if !(s.PTab >= 0 && s.PTab <= 1) {
		return fmt.Errorf("water balance: share of the available water taken without stress is %g: want 0 to 1", s.PTab)
	}
	if !(s.LatitudeDeg >= -90 && s.LatitudeDeg <= 90) {
		return fmt.Errorf("water balance: latitude is %g: want -90 to 90 degrees", s.LatitudeDeg)
	}
	if s.StepsPerH < 1 {
		return fmt.Errorf("water balance: %d steps an hour: want 1 or more", s.StepsPerH)
	}
	for _, c := range s.Catches {
		if err := c.check(); err != nil {
			return err
		}
	}
	return nil
}

// Balance holds the volumes of a run in m3. RunoffM3 left the catch areas;
// BypassM3 of it was more than the inlet could carry.
type Balance struct {
	RainOnBedM3    float64
	RunoffM3       float64
	BypassM3       float64
	InflowM3       float64
	InfiltratedM3  float64 // taken by the soil below the mix
	EvaporatedM3   float64
	OverflowM3     float64
	StoredChangeM3 float64
}

// Closure returns |in - out - stored| / in, 0 for a run without water.
func (b Balance) Closure() float64 {
	in := b.RainOnBedM3 + b.InflowM3
	if in == 0 {
		return 0
	}
	return math.Abs(in-b.InfiltratedM3-b.EvaporatedM3-b.OverflowM3-b.StoredChangeM3) / in
}

// CapturedFraction returns 1 - (bypass + overflow) / runoff, not below 0: overflow of
// rain on the bed itself counts against it. NaN if there was no runoff.
func (b Balance) CapturedFraction() float64 {
	if b.RunoffM3 == 0 {
		return math.NaN()
	}
	return max(0, 1-(b.BypassM3+b.OverflowM3)/b.RunoffM3)
}

func (b Balance) minus(o Balance) Balance {
	return Balance{
		RainOnBedM3: b.RainOnBedM3 - o.RainOnBedM3, RunoffM3: b.RunoffM3 - o.RunoffM3,
		BypassM3: b.BypassM3 - o.BypassM3, InflowM3: b.InflowM3 - o.InflowM3,
		InfiltratedM3: b.InfiltratedM3 - o.InfiltratedM3, EvaporatedM3: b.EvaporatedM3 - o.EvaporatedM3,
		OverflowM3: b.OverflowM3 - o.OverflowM3, StoredChangeM3: b.StoredChangeM3 - o.StoredChangeM3,
	}
}
