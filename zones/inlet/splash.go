package inlet

import "math"

// pad is the rock that takes the force of the water where it arrives.
type pad struct {
	Needed  bool    // the water is faster than the bare soil bears
	StoneMM float64 // median size by the formula
	RockMM  float64 // size to order
	LengthM float64
	WidthM  float64 // mean
	DepthMM float64
	RockM3  float64 // without waste
	Source  string
}

// Common practice, no source: rock under 2 in floats out or is raked away, a
// pad shorter than 2 ft is jumped.
const (
	leastRockMM = 2 * inchMM
	leastPadM   = 2 * footM
)

// stoneMM returns the median size of rock, mm, below a round outlet:
//
//	D50 = 0.2 D (Q / (g^0.5 D^2.5))^(4/3) D / TW
//
// D in m, Q in m3/s, TW the depth of water below the outlet, held to 0.4 D to
// D and 0.4 D if not known (NaN). For fast (supercritical) flow the caller
// puts (D + normal depth) / 2 for D. Source: Fletcher and Grace 1972, in US
// Federal Highway Administration, HEC-14, third edition, Eq. 10.4 and 10.5
// (read in a second-hand copy).
func stoneMM(diameterM, flowM3S, tailwaterM float64) float64 {
	tw := 0.4 * diameterM
	if tailwaterM > tw {
		tw = math.Min(tailwaterM, diameterM)
	}
	return 1000 * 0.2 * diameterM * math.Pow(flowM3S/(math.Sqrt(gravityMS2)*math.Pow(diameterM, 2.5)), 4.0/3) * diameterM / tw
}

// velocityStoneMM returns the median size of rock by velocity alone, mm:
// D50 = 0.0413 V^2, D50 in m, V in m/s. Source: Berry 1948 and Peterka 1978,
// in HEC-14, third edition, Eq. D.2 (constant read, form from memory).
func velocityStoneMM(velocityMS float64) float64 { return 1000 * 0.0413 * velocityMS * velocityMS }

// roundPad is the pad below a pipe: 4 D long, 3 D wide at the pipe and wider by
// two thirds of its length at the end, two stones and at least 3.5 D50 deep.
// Source: HEC-14, third edition, Table 10.1 and Figure 10.4, smallest class,
// from memory; the least sizes are common practice, no source.
func roundPad(diameterM, flowM3S, velocityMS, depthM, bearsMS float64) pad {
	d := diameterM
	area, _, width := roundSection(diameterM, depthM)
	if width > 0 && velocityMS > math.Sqrt(gravityMS2*area/width) {
		d = (diameterM + depthM) / 2
	}
	p := pad{Needed: velocityMS > bearsMS, StoneMM: stoneMM(d, flowM3S, math.NaN()), Source: "FHWA HEC-14, Eq. 10.4; least sizes common practice, no source"}
	p.LengthM = math.Max(leastPadM, 4*diameterM)
	p.WidthM = 3*diameterM + p.LengthM/3
	return p.filled()
}

// channelPad is the pad where an open channel ends.
func channelPad(widthM, velocityMS, bearsMS float64) pad {
	p := pad{Needed: velocityMS > bearsMS, StoneMM: velocityStoneMM(velocityMS), LengthM: leastPadM, WidthM: widthM,
		Source: "FHWA HEC-14, Eq. D.2; least sizes common practice, no source"}
	return p.filled()
}

func (p pad) filled() pad {
	p.RockMM = math.Max(leastRockMM, p.StoneMM)
	p.DepthMM = math.Max(2*p.RockMM, 3.5*p.StoneMM)
	p.RockM3 = p.LengthM * p.WidthM * p.DepthMM / 1000
	return p
}
