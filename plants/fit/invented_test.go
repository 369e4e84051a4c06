package fit

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// climate is an invented climate: rain as a chain of wet and dry days under a
// slow weather regime and a year's own mood, temperature as a season with a
// first-order memory. After Richardson 1981, Water Resources Research 17:182
// (the idea, from memory); the figures are ours.
type climate struct {
	name          string
	toWet, toWetS float64 // chance of rain after a dry day, and what the season adds
	stay          float64 // chance of rain after a wet day
	depthMM       float64 // mean of a wet day
	depthS        float64 // what the season adds
	peak          float64 // day of the year when rain is likeliest
	meanC, swingC float64
	lat           float64
}

func climates() []climate {
	return []climate{
		{"temperate", 0.25, 0.03, 0.45, 8, 2, 200, 10, 14, 41},
		{"summer-dry", 0.20, 0.17, 0.55, 7, 2, 10, 12, 7, 45},
		{"monsoon", 0.22, 0.21, 0.60, 11, 7, 210, 24, 6, 22},
	}
}

// invent draws years of weather from a seed; each day's rain falls in the six
// hours from 9 to 15, a pattern between the gentlest and the harshest.
func (c climate) invent(t testing.TB, years int, seed uint64) *site.Record {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 7))
	rec := &site.Record{Start: time.Date(1801, 1, 1, 0, 0, 0, 0, time.UTC), Step: "daily"}
	regime, warmth, mood, wet := 0.0, 0.0, 0.0, false
	for day := rec.Start; day.Year() < 1801+years; day = day.AddDate(0, 0, 1) {
		if day.YearDay() == 1 {
			mood = 0.3*mood + 0.25*rng.NormFloat64()
		}
		regime = 0.96*regime + 0.28*rng.NormFloat64()
		angle := 2 * math.Pi * (float64(day.YearDay()) - c.peak) / 365.25
		odds := math.Exp(-0.3*regime - mood)
		if regime > 1.5 {
			odds *= 0.3
		}
		chance := (c.toWet + c.toWetS*math.Cos(angle)) * odds
		if wet {
			chance = c.stay * math.Sqrt(odds)
		}
		wet = rng.Float64() < min(chance, 0.9)
		rain := 0.0
		if wet {
			rain = max(0.2, (c.depthMM+c.depthS*math.Cos(angle))*rng.ExpFloat64())
			if rng.Float64() < 0.02 {
				rain += 30 * rng.ExpFloat64()
			}
		}
		hours := make([]float64, 24)
		for h := 9; h < 15; h++ {
			hours[h] = rain / 6
		}
		rec.RainMM = append(rec.RainMM, hours...)
		warmth = 0.75*warmth + 0.66*rng.NormFloat64()
		season := -math.Cos(2 * math.Pi * (float64(day.YearDay()) - 20) / 365.25)
		mean := c.meanC + c.swingC*season + (2.6-season)*warmth
		span := max(2, 11+1.5*rng.NormFloat64())
		rec.Days = append(rec.Days, site.Day{TMinC: mean - span/2, TMaxC: mean + span/2, ET0MM: math.NaN()})
	}
	rec.Missing = make([]bool, len(rec.RainMM))
	require.NoError(t, rec.FillET0(c.lat))
	return rec
}

// plot is a bed for tests: how large a roof, what mix, what lies below.
type plot struct {
	name      string
	roofM2    float64
	mix       string
	mixMM     float64
	nativeMMH float64
}

func plots() []plot {
	return []plot{
		{"sandy", 40, "loamy sand", 450, 40},
		{"ordinary", 90, "sandy loam", 450, 6},
		{"tight", 70, "loam", 300, 1.5},
	}
}

// bed runs a plot of 4 x 3 m, 150 mm deep, over a record.
func (p plot) bed(t testing.TB, rec *site.Record, lat float64) *Bed {
	t.Helper()
	shape, err := basin.New(basin.Spec{
		Outline:   basin.Outline{Kind: "rectangle", LengthM: 4, WidthM: 3},
		PondingMM: 150, SideRun: 3, RimWidthM: 0.3, FreeboardMM: 50,
	})
	require.NoError(t, err)
	mix, err := site.MixSoil(p.mix, 2.5)
	require.NoError(t, err)
	run, err := water.Run(water.Setup{
		Bed: shape, Catches: []water.Catch{{AreaM2: p.roofM2, Coefficient: 0.95, LossMM: 1}}, InletM3H: math.Inf(1),
		MixFC: mix.FC, MixWP: mix.WP, MixSat: mix.Sat, MixDepthMM: p.mixMM, MixKMMH: mix.KMMH, NativeKMMH: p.nativeMMH,
		Kc: 1, PTab: 0.5, LatitudeDeg: lat, StepsPerH: 1,
	}, rec)
	require.NoError(t, err)
	b := &Bed{
		Run: run, Start: rec.Start, MixFC: mix.FC, MixWP: mix.WP, MixDepthMM: p.mixMM,
		NativeFC: 0.25, NativeWP: 0.12, Predict: DefaultPredictor(),
	}
	for i, y := range run.Years {
		if y.Whole {
			b.Use = append(b.Use, i)
		}
		low := math.Inf(1)
		for _, d := range rec.Days[y.FromDay:y.ToDay] {
			low = min(low, d.TMinC)
		}
		b.MinC = append(b.MinC, low)
	}
	return b
}
