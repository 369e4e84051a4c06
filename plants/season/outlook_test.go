package season

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"hollowbed/plants/care"
	"hollowbed/plants/fit"
	"hollowbed/testdata/testenv"
)

func someYears(t *rapid.T) []fit.Year {
	x := rapid.Float64Range(0.1, 4)
	var years []fit.Year
	for range rapid.IntRange(1, 12).Draw(t, "years") {
		years = append(years, fit.Year{Wet: x.Draw(t, "wet"), Deep: x.Draw(t, "deep"), Dry: x.Draw(t, "dry"), Cold: x.Draw(t, "cold"), DeepByWet: rapid.Float64Range(0, 1).Draw(t, "deep by wet")})
	}
	return years
}

// direct is the loss by the formula, with many draws in place of 64. It gives the share of the seasons with trouble, and the chance of any.
func direct(m Model, b Bearing, years []fit.Year, seasons int, moved bool) (share, any float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	w := math.Hypot(m.Steep, fit.DefaultPredictor().Scale/math.Sqrt(float64(len(years))))
	const n = 40_000
	for range n {
		var z [LimitCount]float64
		for l := range z {
			z[l] = b[l].Mean + b[l].SD*rng.NormFloat64()
		}
		risk := func(share float64) float64 {
			sum := 0.0
			for _, y := range years {
				s := math.Pow(y.Wet/share*math.Exp(-z[0]), 1/w) + math.Pow(y.Deep*math.Pow(share, -1-y.DeepByWet)*math.Exp(-z[1]-y.DeepByWet*z[0]), 1/w) +
					math.Pow(y.Dry/share*math.Exp(-z[2]), 1/w) + math.Pow(y.Cold*math.Exp(-z[3]), 1/w)
				sum += s / (1 + s)
			}
			return sum / float64(len(years))
		}
		first := risk(1)
		if moved {
			first = risk(care.Tolerance(care.Lifted, movedRooted))
		}
		share += (first + float64(seasons-1)*risk(1)) / float64(seasons) / n
		any += (1 - (1-first)*math.Pow(1-risk(1), float64(seasons-1))) / n
	}
	return share, any
}

// 64 draws do for many: losses are those of the formula by Monte Carlo
// within 3 hundredths.
func TestOutlookAgainstManyDraws(t *testing.T) {
	testenv.Sweep(t)
	m := Default()
	for i, years := range [][]fit.Year{
		{{Wet: 0.9, Deep: 0.3, Dry: 0.6, Cold: 0.4}, {Wet: 1.3, Deep: 0.5, Dry: 0.5, Cold: 0.6}, {Wet: 0.4, Deep: 0.2, Dry: 1.1, Cold: 0.5}},
		{{Wet: 0.3, Deep: 0.3, Dry: 0.8, Cold: 0.4}, {Wet: 0.3, Deep: 0.2, Dry: 0.7, Cold: 0.6}},
		{{Wet: 2, Deep: 1.8, Dry: 0.2, Cold: 0.4}},
		{{Wet: 0.5, Deep: 0.9, Dry: 0.2, Cold: 0.4, DeepByWet: 1}, {Wet: 0.4, Deep: 0.7, Dry: 0.2, Cold: 0.4, DeepByWet: 0.5}},
	} {
		for _, sd := range []float64{0, 0.1, 0.25, 0.54} {
			b := Bearing{{0.1, sd}, {-0.1, sd}, {0.05, sd}, {0, sd}}
			o := m.Prospect(b, fit.DefaultPredictor(), len(years)).At(years, -20, -20)
			share, any := direct(m, b, years, 3, false)
			assert.InDelta(t, share, o.YearlyRisk, 0.03, "case %d, spread %g", i, sd)
			assert.InDelta(t, any, o.Struggles(3), 0.03, "case %d, spread %g", i, sd)
			share, any = direct(m, b, years, 3, true)
			assert.InDelta(t, share, o.LossMoved(3), 0.03, "case %d, spread %g", i, sd)
			assert.InDelta(t, any, o.StrugglesMoved(3), 0.03, "case %d, spread %g", i, sd)
		}
	}
}

// What holds whatever the place: a plant that bears more loses less, a moved one
// never less than one that stays, more seasons and less sun never lose less.
func TestOutlookOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, years := Default(), someYears(t)
		var b, more Bearing
		for l := range b {
			b[l] = Belief{rapid.Float64Range(-1, 1).Draw(t, "mean"), rapid.Float64Range(0, 0.6).Draw(t, "sd")}
			more[l] = Belief{b[l].Mean + rapid.Float64Range(0, 0.5).Draw(t, "more"), b[l].SD}
		}
		at := func(b Bearing, off float64) Outlook {
			return m.Prospect(b, fit.DefaultPredictor(), len(years)).At(years, off, -20)
		}
		o := at(b, 0)
		assert.LessOrEqual(t, at(more, 0).YearlyRisk, o.YearlyRisk+1e-12)
		assert.LessOrEqual(t, at(more, 0).LossMoved(3), o.LossMoved(3)+1e-12)
		assert.GreaterOrEqual(t, o.LossMoved(3), o.YearlyRisk-1e-12)
		assert.GreaterOrEqual(t, o.LossMoved(2), o.LossMoved(3)-1e-12, "the first season is the hardest")
		assert.GreaterOrEqual(t, o.StrugglesMoved(3), o.Struggles(3)-1e-12)
		assert.GreaterOrEqual(t, o.Struggles(3), o.Struggles(2)-1e-12)
		assert.InDelta(t, o.YearlyRisk, o.Struggles(1), 1e-12)
		assert.GreaterOrEqual(t, at(b, 2).YearlyRisk, o.YearlyRisk-1e-12)
		well := at(b, -20)
		for k, risk := range at(b, math.NaN()).Risk {
			assert.InDelta(t, well.Risk[k], risk, 1e-9, "sun that is not known")
		}
		assert.True(t, 0 <= o.YearlyRisk && o.LossMoved(3) <= 1 && o.StrugglesMoved(3) <= 1)
	})
}

// Doubt and harm are of the kind and the garden: none is left when only the
// plant's own difference is open, and they grow with what is not known of the
// kind.
func TestOutlookDoubt(t *testing.T) {
	m := Default()
	p := fit.DefaultPredictor()
	wet, slope := []fit.Year{{Wet: 1.2, Deep: 0.5, Dry: 0.2, Cold: 0.1}}, []fit.Year{{Wet: 0.5, Deep: 0.2, Dry: 0.6, Cold: 0.1}}
	before := 0.0
	for _, sd := range []float64{m.Eta, 0.25, 0.35, 0.54} {
		b := Bearing{{0, sd}, {0, sd}, {0, sd}, {0, sd}}
		q := m.Prospect(b, p, 10)
		doubt := q.At(slope, -9, -20).Doubt()
		harm := q.At(slope, -9, -20).Harm(q.At(wet, -9, -20), 3)
		if sd == m.Eta {
			assert.InDelta(t, 0, doubt, 1e-4)
		} else {
			assert.Greater(t, doubt, before+0.02, "spread %g", sd)
			assert.Less(t, q.At(wet, -9, -20).Harm(q.At(slope, -9, -20), 3), harm, "to the better place")
		}
		assert.GreaterOrEqual(t, harm, q.At(wet, -9, -20).LossMoved(3)-q.At(slope, -9, -20).YearlyRisk-1e-12, "at least what is expected")
		before = doubt
	}
}

// The loss by sun is the mean of the loss over where the end of the range may
// truly be: against a sum over many of them.
func TestSunLoss(t *testing.T) {
	m := Default()
	for _, off := range []float64{-2, -0.7, 0, 0.5, 3} {
		sum, all := 0.0, 0.0
		for z := -6.0; z <= 6; z += 0.001 {
			weight := math.Exp(-z * z / 2)
			sum += weight * fit.SunLoss(max(0, off+m.SunSpread*z))
			all += weight
		}
		assert.InDelta(t, sum/all, sunLoss(off, Belief{SD: m.SunSpread}), 1e-4, "%g hours", off)
	}
	assert.Zero(t, sunLoss(math.NaN(), Belief{SD: m.SunSpread}))
}
