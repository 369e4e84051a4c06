package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Predictor turns the log severities of past years into the chance that the
// next year passes the limit. PriorYears and PriorSpread say how much spread
// is believed before any year is seen: that many years' worth of a standard
// deviation of PriorSpread (in log units). Without it a short record of alike
// years would claim to know the future.
type Predictor struct {
	PriorYears  float64
	PriorSpread float64
}

// DefaultPredictor is the one that was best calibrated on years held out of
// long records; TestCalibration keeps the comparison.
func DefaultPredictor() Predictor { return Predictor{PriorYears: 1, PriorSpread: 0.5} }

// YearlyRisk returns P(severity > 1) for one more year:
//
//	t = -m / (s sqrt(1 + 1/n)),  risk = P(T > t), T Student t with n - 1 + v degrees of freedom
//	s^2 = (SS + v s0^2) / (n - 1 + v)
//
// m mean and SS sum of squared deviations of the n log severities, v
// PriorYears, s0 PriorSpread; extra is added to s^2 for limits that are only
// assumed. Assumes years alike and independent and log severity normal; a
// trend in the climate is left out. NaN for no year. Source: predictive
// distribution of a normal with unknown mean and variance (textbook; see
// SOURCES.md), with a scaled inverse chi-squared prior on the variance.
func (p Predictor) YearlyRisk(logSeverity []float64, extra float64) float64 {
	n := float64(len(logSeverity))
	if n == 0 {
		return math.NaN()
	}
	mean := 0.0
	for _, x := range logSeverity {
		mean += x / n
	}
	ss := 0.0
	for _, x := range logSeverity {
		ss += (x - mean) * (x - mean)
	}
	df := n - 1 + p.PriorYears
	if df <= 0 {
		return math.NaN()
	}
	variance := (ss+p.PriorYears*p.PriorSpread*p.PriorSpread)/df + extra
	if variance == 0 {
		if mean > 0 {
			return 1
		}
		return 0
	}
	t := -mean / math.Sqrt(variance*(1+1/n))
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(t)
}
