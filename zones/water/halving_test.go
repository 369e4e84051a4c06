package water

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

// caseGarden is one garden of the fixed grid that the step is tried on.
type caseGarden struct {
	name                string
	outline             basin.Outline
	pondingMM, sideRun  float64
	mix                 string
	mixMM, nativeMMH    float64
	roofM2, curveNumber float64
}

func box(l, w float64) basin.Outline {
	return basin.Outline{Kind: "rectangle", LengthM: l, WidthM: w}
}

// gridGardens are twelve gardens: tight, ordinary and fast soil, small and
// large roof, shallow and deep, clay, an oval and an L.
func gridGardens() []caseGarden {
	ell := basin.Outline{Kind: "polygon", Points: [][2]float64{{0, 0}, {6, 0}, {6, 2.5}, {2.5, 2.5}, {2.5, 6}, {0, 6}}}
	oval := basin.Outline{Kind: "oval", LengthM: 5, WidthM: 3}
	return []caseGarden{
		{"ordinary", box(4, 3), 150, 3, "sandy loam", 450, 6, 100, 0},
		{"tight", box(4, 3), 150, 3, "sandy loam", 450, 1.5, 100, 0},
		{"fast", box(4, 3), 150, 3, "sandy loam", 450, 25, 100, 0},
		{"very fast", box(4, 3), 150, 3, "loamy sand", 300, 120, 250, 0},
		{"small roof", box(5, 4), 200, 3, "loam", 450, 6, 20, 0},
		{"large roof", box(4, 3), 150, 3, "sandy loam", 450, 6, 400, 0},
		{"shallow", box(6, 4), 60, 4, "sandy loam", 300, 4, 120, 0},
		{"deep", box(5, 4), 300, 3, "sandy loam", 600, 10, 200, 0},
		{"clay", box(6, 5), 100, 3, "clay loam", 450, 0.3, 80, 0},
		{"oval", oval, 150, 3, "loam", 450, 8, 90, 0},
		{"L", ell, 150, 3, "sandy loam", 450, 3, 150, 0},
		{"upright, lawn", box(3, 2), 200, 0, "sandy loam", 450, 12, 60, 80},
	}
}

func (g caseGarden) setup(t testing.TB, lat float64) Setup {
	t.Helper()
	bed, err := basin.New(basin.Spec{Outline: g.outline, PondingMM: g.pondingMM, SideRun: g.sideRun, RimWidthM: 0.3, FreeboardMM: 50})
	require.NoError(t, err)
	mix, err := site.MixSoil(g.mix, 2.5)
	require.NoError(t, err)
	s := Setup{
		Bed: bed, Catches: []Catch{{AreaM2: g.roofM2, Coefficient: 0.95, LossMM: 1}}, InletM3H: math.Inf(1),
		MixFC: mix.FC, MixWP: mix.WP, MixSat: mix.Sat, MixDepthMM: g.mixMM, MixKMMH: mix.KMMH, NativeKMMH: g.nativeMMH,
		Kc: 1, PTab: 0.5, LatitudeDeg: lat, StepsPerH: 1,
	}
	if g.curveNumber > 0 {
		s.Catches = append(s.Catches, Catch{AreaM2: g.roofM2, CurveNumber: g.curveNumber})
	}
	return s
}

// realRecord is one of the records in testdata.
type realRecord struct {
	name string
	rec  *site.Record
	lat  float64
}

func realRecords(t testing.TB) []realRecord {
	daily, hourly := "seattle-newyork-daily-2012-2015.csv", "newyork-hourly-2013.csv"
	return []realRecord{
		{"Seattle daily", readReal(t, daily, "location", "Seattle", 47.6), 47.6},
		{"New York daily", readReal(t, daily, "location", "New York", 40.7), 40.7},
		{"JFK hourly", readReal(t, hourly, "origin", "JFK", 40.6), 40.6},
		{"LGA hourly", readReal(t, hourly, "origin", "LGA", 40.8), 40.8},
		{"EWR hourly", readReal(t, hourly, "origin", "EWR", 40.7), 40.7},
	}
}

// tenYearSpells are the one-year-in-ten longest spells by band, over the whole
// years of a run.
func tenYearSpells(r *Result) (wetH, dryD []float64) {
	for b := range r.Bands {
		var wet, dry []float64
		for y, year := range r.Years {
			if year.Whole {
				wet = append(wet, float64(r.Exposure[b][y].Wet.Hours))
				dry = append(dry, float64(r.Exposure[b][y].Dry.Hours)/24)
			}
		}
		wetH = append(wetH, site.OneYearInTen(wet))
		dryD = append(dryD, site.OneYearInTen(dry))
	}
	return wetH, dryD
}

// The design's demand on the step: halving it moves the longest wet spell of
// one year in ten by less than an hour or 2 %, whichever is larger, in every
// band of every garden under every record; dry spells by less than a day or
// 2 %. Spells count whole hours and days, so up to 50 of them nothing moves.
func TestHalvingTheStep(t *testing.T) {
	for _, real := range testenv.Some(realRecords(t)) {
		for _, g := range gridGardens() {
			s := g.setup(t, real.lat)
			spells := func(steps int) (wetH, dryD []float64) {
				s.StepsPerH = steps
				r, err := Run(s, real.rec)
				require.NoError(t, err)
				require.Less(t, r.Balance.Closure(), 1e-9)
				return tenYearSpells(r)
			}
			wet, dry := spells(1)
			for _, steps := range []int{2, 4} {
				wetter, drier := spells(steps)
				for b := range wet {
					where := fmt.Sprintf("%s, %s, band %d, %d steps an hour", real.name, g.name, b, steps)
					assert.Less(t, math.Abs(wetter[b]-wet[b]), max(1, 0.02*wet[b]), "hours wet: "+where)
					assert.Less(t, math.Abs(drier[b]-dry[b]), max(1, 0.02*dry[b]), "days dry: "+where)
				}
			}
		}
	}
}
