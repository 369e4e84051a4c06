package report

import (
	"math"

	"hollowbed/plants"
	"hollowbed/zones"
)

// The documents of the local page: figures in words and in the garden's units,
// ready to be shown, and plain metres for drawing.

// share is a part of a whole for a bar, 0 of nothing.
func share(part, whole float64) Number {
	if !(whole > 0) {
		return 0
	}
	return Number(min(part/whole, 1))
}

// Levels of a risk, so that nothing is told by a figure or a colour alone.
const (
	levelLow     = "low"
	levelSome    = "some"
	levelHigh    = "high"
	levelUnknown = "unknown"
)

// lowRisk is the yearly risk up to which a plant counts as safe on the page:
// one year in twenty. Assumption, no source.
const lowRisk = 0.05

// riskLevel sorts a yearly risk; most is what the wishes allow.
func riskLevel(risk, most float64) string {
	switch {
	case math.IsNaN(risk):
		return levelUnknown
	case risk <= min(lowRisk, most):
		return levelLow
	case risk <= most:
		return levelSome
	}
	return levelHigh
}

// screenRisk is a yearly risk to be shown.
type ScreenRisk struct {
	Risk      string `json:"risk"`
	RiskShare Number `json:"risk_share"`
	Level     string `json:"level"`
}

// newScreenRisk words the risk of a plant at a place, its sun included, as a
// placement has it; a plant whose limits are not all known has none.
func newScreenRisk(v plants.Verdict, mostAllowed float64) ScreenRisk {
	r := v.Loss()
	if v.Bar == plants.BarUnknown {
		r = math.NaN()
	}
	return screenRisk(r, len(v.Fit.Assumed) > 0, mostAllowed)
}

func screenRisk(r float64, assumed bool, mostAllowed float64) ScreenRisk {
	words := risk(r, assumed)
	if !math.IsNaN(r) {
		words += " a year"
	}
	return ScreenRisk{Risk: words, RiskShare: Number(r), Level: riskLevel(r, mostAllowed)}
}

// reasonOf words what limits a plant here, and what bars it where that is not
// its risk.
func reasonOf(v plants.Verdict, u zones.Units) string {
	why := Reason(v.Fit.Reason, u)
	switch v.Bar {
	case plants.BarUnknown:
		return Plain(v.Detail)
	case plants.BarSun:
		why = v.Detail + "; " + why
	case plants.NoBar, plants.BarRisk:
	default:
		why += "; left out of the list: " + v.Detail
	}
	return Plain(why)
}
