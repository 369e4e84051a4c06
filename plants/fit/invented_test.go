package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// climate is an invented climate of zones/site, by the names used here.
type climate struct {
	site.Climate
	name string
	lat  float64
}

func climates() []climate {
	var all []climate
	for _, c := range site.InventedClimates() {
		all = append(all, climate{c, c.Name, c.LatitudeDeg})
	}
	return all
}

// invent draws years of weather from a seed.
func (c climate) invent(t testing.TB, years int, seed uint64) *site.Record {
	t.Helper()
	rec, err := c.Invent(years, seed)
	require.NoError(t, err)
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
		Run: run, Start: rec.Start, Predict: DefaultPredictor(),
		Ground: water.Ground{MixFC: mix.FC, MixWP: mix.WP, MixDepthMM: p.mixMM, NativeFC: 0.25, NativeWP: 0.12},
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
