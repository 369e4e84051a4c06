package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"hollowbed/plants"
	"hollowbed/zones"
	"hollowbed/zones/basin"
)

// The documents of the local page: figures in words and in the garden's units,
// ready to be shown, and plain metres for drawing.

// ScreenBed is the bed in words.
type ScreenBed struct {
	Advice   string        `json:"advice"`
	Rows     []ScreenRow   `json:"rows"`
	Checks   []ScreenCheck `json:"checks"`
	Cautions []string      `json:"cautions"`
	Area     string        `json:"area"`
	Volume   string        `json:"volume"`
	Drains   string        `json:"drains"`
	Captured string        `json:"captured"`
}

// ScreenRow is a name with what stands for it.
type ScreenRow struct {
	Label string `json:"label"`
	Value string `json:"value"`
}

// ScreenCheck is one check of the bed; State is ok, fails or unknown.
type ScreenCheck struct {
	Name   string `json:"name"`
	State  string `json:"state"`
	Found  string `json:"found"`
	Wanted string `json:"wanted"`
	Source string `json:"source"`
}

// NewScreenBed words a bed.
func NewScreenBed(d Basin) ScreenBed {
	u := d.Garden.Units
	out := ScreenBed{
		Advice: flat(d.verdict), Rows: []ScreenRow{}, Checks: newScreenChecks(d.Checks), Cautions: plainAll(d.Cautions),
		Area: u.Area(float64(d.BedAreaM2)), Volume: u.Volume(float64(d.SpillVolumeM3)), Drains: d.soaksAway(u), Captured: u.Percent(float64(d.Captured)),
	}
	for _, p := range d.facts() {
		out.Rows = append(out.Rows, ScreenRow{p[0], Plain(p[1])})
	}
	return out
}

func newScreenChecks(checks []basin.Check) []ScreenCheck {
	out := []ScreenCheck{}
	for _, c := range checks {
		state := "fails"
		switch {
		case !c.Known:
			state = "unknown"
		case c.OK:
			state = "ok"
		}
		out = append(out, ScreenCheck{c.Name, state, c.Found, c.Wanted, c.Source})
	}
	return out
}

// flat takes what is printed in lines as one text.
func flat(print func(io.Writer)) string {
	var b strings.Builder
	print(&b)
	return strings.Join(strings.Fields(b.String()), " ")
}

func plainAll(texts []string) []string {
	out := []string{}
	for _, s := range texts {
		out = append(out, Plain(s))
	}
	return out
}

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

// ScreenRisk is a yearly risk to be shown.
type ScreenRisk struct {
	Risk      string `json:"risk"`
	RiskShare Number `json:"risk_share"`
	Level     string `json:"level"`
}

// newScreenRisk words a risk; a plant whose limits are not all known has none.
func newScreenRisk(v plants.Verdict, mostAllowed float64) ScreenRisk {
	r := v.Fit.YearlyRisk
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

// past says how often a limit was passed.
func past(years, of int) string {
	return fmt.Sprintf("past a limit in %d of %s at the hardest place", years, plural(of, "year", "years"))
}
