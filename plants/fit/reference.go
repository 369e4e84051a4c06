package fit

import (
	"math"

	"hollowbed/zones/water"
)

// The ground on which a catalogue's dry_d is stated: an ordinary garden loam
// in midsummer. Water contents are the middle of the ranges for loam in
// FAO-56 Table 19 [S1]; 5 mm/d is the demand at which FAO-56 states its
// depletion fractions.
const (
	refFC     = 0.25
	refWP     = 0.12
	refET0MMD = 5.0
	refPTab   = 0.5
)

// ReferenceDays turns what a root zone suffered in one year into the days
// without water that would do the same on the reference ground with the same
// roots: the two grounds are compared by the sum of 1 - Ks, or, in a year
// without stress, by how far the store was drawn down.
//
// On the reference ground, with a = TAW / ET0:
//
//	no stress until t1 = p a
//	then sum(t) = (t - t1) - (1 - p) a (1 - exp(-(t - t1) / ((1 - p) a)))
//
// rootCM is the root depth in cm. The answer is in days, and grows with both
// measures. Source: FAO-56 Eq. 84 [S1], solved for steady demand.
func ReferenceDays(d water.Drought, rootCM float64) float64 {
	a := water.TAWMM(refFC, refWP, rootCM/100) / refET0MMD
	t1 := refPTab * a
	if !(d.StressDays > 0) {
		return min(d.PeakDepleted*a, t1)
	}
	scale := (1 - refPTab) * a
	// x - (1 - exp(-x)) = y, x in units of scale: Newton from above, where the
	// curve is convex and steps cannot overshoot.
	y := d.StressDays / scale
	x := y + 1
	for range 50 {
		step := (x + math.Expm1(-x) - y) / -math.Expm1(-x)
		x -= step
		if math.Abs(step) < 1e-12*x {
			break
		}
	}
	return t1 + scale*x
}
