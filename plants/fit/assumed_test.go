package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
)

// If an assumed limit is in truth a factor exp(N(0, 0.5)) off, the widened
// risk must predict better than the one that takes the limit at its word, and
// come true on average.
func TestAssumedLimitsCalibrated(t *testing.T) {
	c := climates()[0]
	rng := rand.New(rand.NewPCG(3, 3))
	word, wide := newScore(), newScore()
	var all []trial
	for seed := range uint64(4) { // one record leaves the low risks to luck
		rec := c.invent(t, 80, 21+seed)
		all = append(all, trials(plots()[1].bed(t, rec, c.lat), c.name, "ordinary", 30, rng)...)
	}
	for _, tr := range all {
		off := math.Exp(assumedSpread * rng.NormFloat64())
		truth := make([]float64, len(tr.severity))
		for i, s := range tr.severity {
			truth[i] = s * off
		}
		for from := 0; from+20 <= len(truth); from += 20 {
			seen := yearsOf(tr.severity[from : from+20])
			came := (past(truth) - past(truth[from:from+20])) / float64(len(truth)-20)
			word.add("all", DefaultPredictor().YearlyRisk(seen, nil), came)
			wide.add("all", DefaultPredictor().YearlyRisk(seen, assuming(TooWet)), came)
		}
	}
	t.Logf("taken at its word: Brier %.4f, log %.4f, out by %.3f; widened: %.4f, %.4f, %.3f",
		mean(word.brier, word.weight), mean(word.log, word.weight), word.calibrationError(),
		mean(wide.brier, wide.weight), mean(wide.log, wide.weight), wide.calibrationError())
	assert.Less(t, mean(wide.brier, wide.weight), mean(word.brier, word.weight))
	assert.Less(t, mean(wide.log, wide.weight), mean(word.log, word.weight))
	assert.Less(t, wide.calibrationError(), usualBar/2)
	// Low risks alone are few: over ten draws of records and plants 0.9 to 1.4 times
	// as often as said, whichever law of drainage.
	assert.Less(t, wide.lowCame/wide.lowSaid, 1.5)
	assert.Greater(t, word.lowCame/word.lowSaid, 1.5, "taken at its word, an assumed limit claims too much")
}

// An assumed limit is never shown with the confidence of a measured one: a
// plant that kept within its limits every year looks riskier, whichever of its
// limits is assumed and whichever is the nearest, and the closer the assumed
// limit came the more so.
func TestAssumedIsNeverAsSure(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(rt, "years")
		years := make([]Year, n)
		for i := range years {
			draw := func(name string) float64 { return rapid.Float64Range(0.2, 0.99).Draw(rt, name) }
			years[i] = Year{Wet: draw("wet"), Deep: draw("deep"), Dry: draw("dry"), Cold: draw("cold")}
		}
		p := DefaultPredictor()
		sure := p.YearlyRisk(years, nil)
		for _, l := range weatherLimits() {
			unsure := p.YearlyRisk(years, assuming(l))
			if unsure < sure {
				rt.Fatalf("%s assumed: %g, measured: %g", l, unsure, sure)
			}
			nearest := true
			for _, y := range years {
				nearest = nearest && y.Severity(l) == max(y.Wet, y.Deep, y.Dry, y.Cold)
			}
			if nearest && !(unsure > sure) {
				rt.Fatalf("%s is nearest and assumed: %g, measured: %g", l, unsure, sure)
			}
		}
		every := &catalogue.Plant{}
		for _, l := range Limits() {
			every.Assumed = append(every.Assumed, l.Column())
		}
		if all := p.YearlyRisk(years, every); !(all > sure) {
			rt.Fatalf("all assumed: %g, measured: %g", all, sure)
		}
	})
	// The case that a rule about the binding limit alone would miss: the
	// measured limit is a hair nearer than the assumed one.
	var years []Year
	for range 24 {
		years = append(years, Year{Wet: 0.70, Deep: math.NaN(), Dry: 0.69, Cold: math.NaN()})
	}
	sure, unsure := DefaultPredictor().YearlyRisk(years, nil), DefaultPredictor().YearlyRisk(years, assuming(TooDry))
	assert.Less(t, sure, 0.02)
	assert.Greater(t, unsure, 0.2)
}

// assuming is a plant of which a limit is only assumed.
func assuming(l Limit) *catalogue.Plant { return &catalogue.Plant{Assumed: []string{l.Column()}} }

// Years that all come to SeverityAt have the risk that it was asked for.
func TestSeverityAtIsTheInverse(t *testing.T) {
	p := DefaultPredictor()
	for _, plant := range []*catalogue.Plant{{}, assuming(TooDry)} {
		for _, risk := range []float64{0.02, 0.1, 0.15, 0.5, 0.9} {
			for _, n := range []int{1, 20, 60} {
				years := slices.Repeat([]Year{{Wet: math.NaN(), Deep: math.NaN(), Cold: math.NaN(), Dry: p.SeverityAt(risk, n, plant, TooDry)}}, n)
				assert.InDelta(t, risk, p.YearlyRisk(years, plant), 1e-12)
			}
		}
	}
	assert.Less(t, p.SeverityAt(0.1, 20, assuming(TooDry), TooDry), p.SeverityAt(0.1, 20, assuming(TooWet), TooDry), "a limit that may be off is kept from farther")
}
