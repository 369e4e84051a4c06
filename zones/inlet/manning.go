package inlet

import "math"

const gravityMS2 = 9.81

// velocityMS returns the mean velocity of steady, uniform flow in a channel or
// a pipe that is not under pressure:
//
//	V = R^(2/3) S^(1/2) / n
//
// V in m/s, R the hydraulic radius in m (area / wetted perimeter), S the fall
// per run, n the roughness. Assumes the flow has run far enough to be steady;
// a short pipe is governed by its ends, see headM3S. Source: Manning 1891, as
// in Chow 1959, Open-channel hydraulics, Eq. 5-6.
func velocityMS(n, radiusM, slope float64) float64 {
	if !(slope > 0) || !(radiusM > 0) {
		return 0
	}
	return math.Pow(radiusM, 2.0/3) * math.Sqrt(slope) / n
}

// fullM3S returns what a round pipe carries flowing full without pressure:
// Q = V pi D^2 / 4 with R = D / 4, in m3/s, D in m.
func fullM3S(n, diameterM, slope float64) float64 {
	return velocityMS(n, diameterM/4, slope) * math.Pi * diameterM * diameterM / 4
}

// roundSection returns area (m2), wetted perimeter (m) and width of the surface (m) of
// water of a depth in a round pipe: with theta = 2 acos(1 - 2 y/D),
// A = D^2 (theta - sin theta) / 8, P = D theta / 2, T = D sin(theta / 2).
// Depths are held to 0 to D.
func roundSection(diameterM, depthM float64) (areaM2, perimeterM, widthM float64) {
	share := math.Max(0, math.Min(1, depthM/diameterM))
	theta := 2 * math.Acos(1-2*share)
	return diameterM * diameterM * (theta - math.Sin(theta)) / 8, diameterM * theta / 2, diameterM * math.Sin(theta/2)
}

// partFullM3S returns what a round pipe carries with water of a depth in it, n the same
// at every depth. The most, 1.076 of the full pipe at 0.938 of the diameter, is not
// counted on: a wave fills the pipe.
func partFullM3S(n, diameterM, slope, depthM float64) float64 {
	area, perimeter, _ := roundSection(diameterM, depthM)
	if !(perimeter > 0) {
		return 0
	}
	return velocityMS(n, area/perimeter, slope) * area
}

// roundDepthM returns the normal depth of a flow in a round pipe, by halving; D and false
// if it is more than the pipe carries full.
func roundDepthM(n, diameterM, slope, flowM3S float64) (depthM float64, ok bool) {
	if !(flowM3S <= fullM3S(n, diameterM, slope)) {
		return diameterM, false
	}
	return halve(0, 0.938*diameterM, func(y float64) bool { return partFullM3S(n, diameterM, slope, y) >= flowM3S }), true
}

// trapezoid is a channel: BottomM wide, sides SideRun out for each 1 up. A
// bottom of 0 is a triangle, sides of 0 a rectangle.
type trapezoid struct {
	BottomM, SideRun float64
}

// areaM2 is the area of water of a depth: A = (b + z y) y.
func (t trapezoid) areaM2(depthM float64) float64 { return (t.BottomM + t.SideRun*depthM) * depthM }

// perimeterM is the wetted length of the section: P = b + 2 y sqrt(1 + z^2).
func (t trapezoid) perimeterM(depthM float64) float64 {
	return t.BottomM + 2*depthM*math.Hypot(1, t.SideRun)
}

// flowM3S is what the channel carries at a depth, by Manning.
func (t trapezoid) flowM3S(n, slope, depthM float64) float64 {
	if !(depthM > 0) {
		return 0
	}
	area := t.areaM2(depthM)
	return velocityMS(n, area/t.perimeterM(depthM), slope) * area
}

// depthM returns the normal depth of a flow; +Inf if the channel does not fall.
func (t trapezoid) depthM(n, slope, flowM3S float64) float64 {
	if !(flowM3S > 0) {
		return 0
	}
	if !(slope > 0) {
		return math.Inf(1)
	}
	high := 0.01
	for t.flowM3S(n, slope, high) < flowM3S {
		high *= 2
	}
	return halve(0, high, func(y float64) bool { return t.flowM3S(n, slope, y) >= flowM3S })
}

// halve finds the least x between low and high from which on enough holds.
func halve(low, high float64, enough func(float64) bool) float64 {
	for range 100 {
		mid := (low + high) / 2
		if enough(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// headLoss is the sum of the loss factors of a pipe between a standpipe and a
// bed: entry 0.5, two bends 0.3 each, exit 1. From memory, as in any handbook
// of hydraulics.
const headLoss = 0.5 + 2*0.3 + 1

// headM3S returns what a full pipe carries under a head between its ends:
//
//	h = V^2 (K / 2g + L n^2 / R^(4/3)),  Q = V pi D^2 / 4
//
// h in m, K the loss factors of entry, bends and exit, L the length in m,
// R = D / 4. It is the limit of a short pipe, whose ends cost more than its
// length, and of one whose outlet stands under water. 0 without a head.
func headM3S(n, diameterM, lengthM, headM float64) float64 {
	if !(headM > 0) {
		return 0
	}
	perV2 := headLoss/(2*gravityMS2) + lengthM*n*n/math.Pow(diameterM/4, 4.0/3)
	return math.Sqrt(headM/perV2) * math.Pi * diameterM * diameterM / 4
}

// roofM3H returns the flow off a roof in steady rain, m3/h: Q = C i A / 1000,
// C the runoff coefficient, i in mm/h, A in m2. Source: the rational method.
func roofM3H(areaM2, coefficient, rainMMH float64) float64 {
	return coefficient * rainMMH / 1000 * areaM2
}
