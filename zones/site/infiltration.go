package site

import "math"

// greenAmpt is the infiltration of a deep uniform soil after Green and Ampt: a
// sharp wetting front moves down, wet soil above it, drawn by its own weight
// and by suction at the front.
type greenAmpt struct {
	KMMH      float64 // hydraulic conductivity of the wetted soil, mm/h
	SuctionMM float64 // suction head at the wetting front, mm
	Deficit   float64 // rise of the water content behind the front, volume fraction
}

// greenAmpt returns the infiltration model of the soil at a water content.
func (s Soil) greenAmpt(initialTheta float64) greenAmpt {
	return greenAmpt{KMMH: s.KMMH, SuctionMM: s.SuctionMM, Deficit: s.deficit(initialTheta)}
}

// sorbMM is psi x deficit, the depth that weighs suction against gravity. Less
// than a nanometre counts as none, so that nothing overflows.
func (g greenAmpt) sorbMM() float64 {
	s := g.SuctionMM * g.Deficit
	if !(s > 1e-6) {
		return 0
	}
	return s
}

// hoursToTake returns how long a soil under shallow ponding takes to take up a
// depth F: t = (F - s ln(1 + F/s)) / K, s = psi x deficit; F, s in mm, K in
// mm/h. The head of the pond itself is left out, so deep water soaks in
// somewhat sooner. 0 for no water, +Inf if K is 0. Source: Chow, Maidment and
// Mays 1988, Applied Hydrology, Eq. 4.3.6.
func (g greenAmpt) hoursToTake(depthMM float64) float64 {
	switch s := g.sorbMM(); {
	case math.IsNaN(depthMM):
		return math.NaN()
	case depthMM <= 0:
		return 0
	case g.KMMH <= 0 || math.IsInf(depthMM, 1):
		return math.Inf(1)
	case s <= 0:
		return depthMM / g.KMMH
	default:
		return s * lessLog(depthMM/s) / g.KMMH
	}
}

// lessLog returns x - ln(1 + x), by its series where the difference would lose digits.
func lessLog(x float64) float64 {
	if x < 1e-3 {
		return x * x * (1.0/2 - x*(1.0/3-x*(1.0/4-x*(1.0/5-x/6))))
	}
	return x - math.Log1p(x)
}

// SoakAwayHours returns how long a pond takes to soak into a soil that starts at a water
// content, by Green and Ampt without the head of the pond: a little long. After days of
// rain DrainHours holds.
func SoakAwayHours(depthMM float64, soil Soil, initialTheta float64) float64 {
	return soil.greenAmpt(initialTheta).hoursToTake(depthMM)
}

// DrainHours returns how long ponded water takes to soak into wet soil:
// t = d / k, d in mm, k in mm/h; k constant, suction and the head of the pond
// left out. 0 for no water, +Inf if k is 0. Common practice; the figure of
// 12 in at 0.5 in/h in 24 h is printed in several handbooks.
func DrainHours(depthMM, rateMMH float64) float64 {
	switch {
	case math.IsNaN(depthMM) || math.IsNaN(rateMMH):
		return math.NaN()
	case depthMM <= 0:
		return 0
	case rateMMH <= 0:
		return math.Inf(1)
	default:
		return depthMM / rateMMH
	}
}
