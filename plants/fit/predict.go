package fit

import (
	"math"
	"slices"
)

// Predictor turns what past years did to a plant into the chance that one more
// year passes a limit. Scale is how far, in log units of severity, one single
// year may be from the next: the width of a record of one year. A longer
// record is narrower by the root of its years.
type Predictor struct{ Scale float64 }

// DefaultPredictor is the one that was best calibrated on years held out of
// long records; TestCalibration keeps the comparison.
func DefaultPredictor() Predictor { return Predictor{Scale: 0.4} }

// YearlyRisk returns the chance that one more year passes a limit:
//
//	risk = mean over the n years of the largest over the limits of
//	       1 / (1 + s^(-1/w)),  w = Scale / sqrt(n)
//
// s severity, found / limit. This is the plain count with a soft edge: a year
// at half the limit counts for next to nothing, a year just at the limit half,
// a year at twice the limit all. The edge is a log-logistic dose-response curve
// that sharpens as the record grows, so a short record claims less. For a limit
// that is only assumed w^2 grows by the variance of the limit itself. Assumes
// that the years are alike: a trend in the climate is left out, and so is worse
// than the record has seen. More severity never gives less risk, which does not
// hold for a bell curve laid through the years: there a calmer year widens the
// bell and raises the risk. Years in which no limit is known are left out; NaN
// if none is left. Source: a kernel estimate of a distribution at one point
// (textbook); the scale by calibration, see DEVELOPERS.md.
func (p Predictor) YearlyRisk(years []Year, assumed []Limit) float64 {
	n, sum := 0, 0.0
	for _, y := range years {
		if limit, _ := y.Worst(); limit != "" {
			n++
		}
	}
	measured := p.Scale / math.Sqrt(float64(n))
	vague := math.Hypot(measured, assumedSpread*math.Sqrt(3)/math.Pi) // a logistic of scale w has the spread w pi / sqrt 3
	for _, y := range years {
		most := 0.0
		for _, l := range weatherLimits() {
			width := measured
			if slices.Contains(assumed, l) {
				width = vague
			}
			if s := y.severity(l); !math.IsNaN(s) {
				most = max(most, 1/(1+math.Pow(s, -1/width)))
			}
		}
		sum += most
	}
	return sum / float64(n)
}
