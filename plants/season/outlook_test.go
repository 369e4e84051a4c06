package season

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"hollowbed/plants/care"
	"hollowbed/plants/fit"
)

func someYears(t *rapid.T) []fit.Year {
	x := rapid.Float64Range(0.1, 4)
	var years []fit.Year
	for range rapid.IntRange(1, 12).Draw(t, "years") {
		years = append(years, fit.Year{Wet: x.Draw(t, "wet"), Deep: x.Draw(t, "deep"), Dry: x.Draw(t, "dry"), Cold: x.Draw(t, "cold")})
	}
	return years
}

// direct is the loss by the formula, with many draws in place of 64.
func direct(m Model, b Bearing, years []fit.Year, seasons int, moved bool) float64 {
	rng := rand.New(rand.NewPCG(1, 2))
	w := math.Hypot(m.Steep, fit.DefaultPredictor().Scale/math.Sqrt(float64(len(years))))
	total := 0.0
	const n = 40_000
	for range n {
		var z [LimitCount]float64
		for l := range z {
			z[l] = b[l].Mean + b[l].SD*rng.NormFloat64()
		}
		risk := func(share float64) float64 {
			sum := 0.0
			for _, y := range years {
				s := math.Pow(y.Wet/share*math.Exp(-z[0]), 1/w) + math.Pow(y.Deep/share*math.Exp(-z[1]), 1/w) +
					math.Pow(y.Dry/share*math.Exp(-z[2]), 1/w) + math.Pow(y.Cold*math.Exp(-z[3]), 1/w)
				sum += s / (1 + s)
			}
			return sum / float64(len(years))
		}
		first := risk(1)
		if moved {
			first = risk(care.Tolerance(movedRooted))
		}
		total += 1 - (1-first)*math.Pow(1-risk(1), float64(seasons-1))
	}
	return total / n
}

// 64 draws do for many: losses are those of the formula by Monte Carlo
// within 3 hundredths.
func TestOutlookAgainstManyDraws(t *testing.T) {
	m := Default()
	for i, years := range [][]fit.Year{
		{{Wet: 0.9, Deep: 0.3, Dry: 0.6, Cold: 0.4}, {Wet: 1.3, Deep: 0.5, Dry: 0.5, Cold: 0.6}, {Wet: 0.4, Deep: 0.2, Dry: 1.1, Cold: 0.5}},
		{{Wet: 0.3, Deep: 0.3, Dry: 0.8, Cold: 0.4}, {Wet: 0.3, Deep: 0.2, Dry: 0.7, Cold: 0.6}},
		{{Wet: 2, Deep: 1.8, Dry: 0.2, Cold: 0.4}},
	} {
		for _, sd := range []float64{0, 0.1, 0.25, 0.54} {
			b := Bearing{{0.1, sd}, {-0.1, sd}, {0.05, sd}, {0, sd}}
			o := m.Prospect(b, fit.DefaultPredictor(), len(years)).At(years, 0)
			assert.InDelta(t, direct(m, b, years, 3, false), o.Loss(3), 0.03, "case %d, spread %g", i, sd)
			assert.InDelta(t, direct(m, b, years, 3, true), o.LossMoved(3), 0.03, "case %d, spread %g", i, sd)
			assert.InDelta(t, direct(m, b, years, 1, false), o.YearlyRisk, 0.03, "case %d, spread %g", i, sd)
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
			return m.Prospect(b, fit.DefaultPredictor(), len(years)).At(years, off)
		}
		o := at(b, 0)
		assert.LessOrEqual(t, at(more, 0).Loss(3), o.Loss(3)+1e-12)
		assert.GreaterOrEqual(t, o.LossMoved(3), o.Loss(3)-1e-12)
		assert.GreaterOrEqual(t, o.Loss(3), o.Loss(2)-1e-12)
		assert.InDelta(t, o.YearlyRisk, o.Loss(1), 1e-12)
		assert.GreaterOrEqual(t, at(b, 2).Loss(3), o.Loss(3)-1e-12)
		assert.Equal(t, o, at(b, math.NaN()), "sun that is not known")
		assert.True(t, 0 <= o.Loss(3) && o.LossMoved(3) <= 1)
	})
}

// Doubt is of the kind and the garden: none is left when only the plant's own
// difference is open, and it grows with what is not known of the kind.
func TestOutlookDoubt(t *testing.T) {
	m := Default()
	p := fit.DefaultPredictor()
	wet, slope := []fit.Year{{Wet: 1.2, Deep: 0.5, Dry: 0.2, Cold: 0.1}}, []fit.Year{{Wet: 0.5, Deep: 0.2, Dry: 0.6, Cold: 0.1}}
	before := 0.0
	for _, sd := range []float64{m.Eta, 0.25, 0.35, 0.54} {
		b := Bearing{{0, sd}, {0, sd}, {0, sd}, {0, sd}}
		q := m.Prospect(b, p, 10)
		doubt := q.At(wet, 0).Doubt(q.At(slope, 0), 3)
		if sd == m.Eta {
			assert.InDelta(t, 0, doubt, 1e-4)
		} else {
			assert.Greater(t, doubt, before+0.02, "spread %g", sd)
		}
		before = doubt
	}
}
