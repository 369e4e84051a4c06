package fit

import (
	"math"
	"slices"

	"hollowbed/plants/catalogue"
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
// that is only assumed, the variance of the limit itself is added to that of
// the edge; of says which those are, nil that none is. Assumes that the years are alike: a trend in the climate is left
// out, and so is what the record has never seen. More severity never gives less
// risk, which does not hold for a bell curve laid through the years: there a
// calmer year widens the bell and raises the risk. Years in which no limit is
// known are left out; NaN if none is left. Source: a kernel estimate of a
// distribution at one point (textbook); the scale by calibration, see
// data/METHOD.md.
func (p Predictor) YearlyRisk(years []Year, of *catalogue.Plant) float64 {
	hard := make([]severities, len(years))
	for i := range years {
		hard[i] = years[i].severities()
	}
	var vague [4]float64
	if of != nil {
		vague = vagueness(of)
	}
	return p.risk(hard, vague)
}

// SeverityAt returns the severity by a limit at which every one of n years would come
// to a yearly risk: s = (risk / (1 - risk))^w, the inverse of the edge of YearlyRisk.
func (p Predictor) SeverityAt(risk float64, n int, of *catalogue.Plant, limit Limit) float64 {
	return math.Pow(risk/(1-risk), p.width(n, vagueness(of)[slices.Index(Limits(), limit)]))
}

// width is that of the edge for n years and a limit of such a spread; a logistic of
// scale w has the spread w pi / sqrt 3.
func (p Predictor) width(n int, spread float64) float64 {
	return math.Hypot(p.Scale/math.Sqrt(float64(n)), spread*math.Sqrt(3)/math.Pi)
}

// severities are found over borne by limit, in the order of weatherLimits; NaN
// where not known.
type severities [4]float64

// worst returns the limit nearest to being passed, and its severity; -1 and NaN
// if no limit is known.
func (s *severities) worst() (limit int, severity float64) {
	limit, severity = -1, math.NaN()
	for k, found := range s {
		if !math.IsNaN(found) && !(found <= severity) {
			limit, severity = k, found
		}
	}
	return limit, severity
}

// risk is YearlyRisk for limits that may be off by vague, the spread of each in
// log units.
func (p Predictor) risk(hard []severities, vague [4]float64) float64 {
	n, sum := 0, 0.0
	for i := range hard {
		if limit, _ := hard[i].worst(); limit >= 0 {
			n++
		}
	}
	if n == 0 {
		return math.NaN()
	}
	measured := p.width(n, 0)
	var width [4]float64
	for k, spread := range vague {
		width[k] = p.width(n, spread)
	}
	for i := range hard {
		sure, worst := 0.0, 0.0 // the edge rises with severity, so that of those alike one will do
		for k, s := range hard[i] {
			switch {
			case !(s > 0): // nor where it is not known
			case vague[k] > 0:
				worst = max(worst, edge(s, width[k]))
			default:
				sure = max(sure, s)
			}
		}
		if sure > 0 {
			worst = max(worst, edge(sure, measured))
		}
		sum += worst
	}
	return sum / float64(n)
}

func edge(severity, width float64) float64 {
	return 1 / (1 + math.Pow(severity, -1/width))
}
