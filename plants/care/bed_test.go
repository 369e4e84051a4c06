package care

import (
	"math"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

func nan() float64 { return math.NaN() }

// real reads four years of a city (testdata/records).
func realRecord(t testing.TB, city string, lat float64) *site.Record {
	t.Helper()
	const file = "seattle-newyork-daily-2012-2015.csv"
	f, err := os.Open("../../testdata/records/" + file)
	require.NoError(t, err)
	defer f.Close()
	rec, err := site.ReadRecord(file, f, site.Format{Where: map[string]string{"location": city}, RainUnit: "mm", TempUnit: "C"}, lat)
	require.NoError(t, err)
	rec.FillTemperature()
	require.NoError(t, rec.FillET0(lat))
	return rec
}

// setup is a bed of 4 x 3 m, 150 mm deep, 45 cm of loam, with a roof.
func setup(t testing.TB, roofM2, nativeMMH, lat float64) (water.Setup, water.Ground) {
	t.Helper()
	bed, err := basin.New(basin.Spec{
		Outline:   basin.Outline{Kind: "rectangle", LengthM: 4, WidthM: 3},
		PondingMM: 150, SideRun: 3, RimWidthM: 0.3, FreeboardMM: 50,
	})
	require.NoError(t, err)
	mix, err := site.MixSoil("loam", 2.5)
	require.NoError(t, err)
	s := water.Setup{
		Bed: bed, InletM3H: math.Inf(1),
		MixFC: mix.FC, MixWP: mix.WP, MixSat: mix.Sat, MixDepthMM: 450, MixKMMH: mix.KMMH, NativeKMMH: nativeMMH,
		Kc: 1, PTab: 0.5, LatitudeDeg: lat, StepsPerH: 1,
	}
	if roofM2 > 0 {
		s.Catches = []water.Catch{{AreaM2: roofM2, Coefficient: 0.95, LossMM: 1}}
	}
	return s, water.Ground{MixFC: mix.FC, MixWP: mix.WP, MixDepthMM: 450, NativeFC: mix.FC, NativeWP: mix.WP}
}

// realBed is a bed under real weather, with fit's view of the same run.
func realBed(t testing.TB, rec *site.Record, roofM2, nativeMMH, lat float64) (*Bed, *fit.Bed) {
	t.Helper()
	s, g := setup(t, roofM2, nativeMMH, lat)
	run, err := water.Run(s, rec)
	require.NoError(t, err)
	b := &Bed{Weather: NewWeather(run, rec, 0), Ground: g, Setting: Default()}
	f := &fit.Bed{Run: run, Start: rec.Start, Ground: g, Predict: fit.DefaultPredictor()}
	for i, y := range run.Years {
		f.Use = append(f.Use, i)
		low := math.Inf(1)
		for _, d := range rec.Days[y.FromDay:y.ToDay] {
			low = min(low, d.TMinC)
		}
		f.MinC = append(f.MinC, low)
	}
	return b, f
}

// handBed is a bed of one rim band of 10 m2 with water, demand and growth set
// by hand, on 40 cm of loam (FC 0.25, WP 0.12).
func handBed(offered, demand []float64) *Bed {
	w := &Weather{
		Run:   &water.Result{Bands: []basin.Band{{Zone: basin.Rim, AreaM2: 10, TopMM: 50}}, OfferedMM: [][]float64{offered}, DemandMM: demand},
		Start: time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC), RainMM: offered, Growing: make([]bool, len(demand)), Lost: make([]bool, len(demand)),
		GrowingDaysAYear: daysAYear, Known: len(demand),
	}
	for d := range w.Growing {
		w.Growing[d] = true
	}
	return &Bed{Weather: w, Ground: water.Ground{MixFC: 0.25, MixWP: 0.12, MixDepthMM: 400, NativeFC: 0.25, NativeWP: 0.12}, Setting: Default()}
}

// handCourse is a season of a stand under water set by hand, all roots of one depth.
func handCourse(b *Bed, offeredMM []float64, s Stand, rootCM float64, rule Rule) *course {
	c := b.course(s, 0, rule, 1)
	c.offeredMM = offeredMM
	for i := range c.kinds {
		c.kinds[i].matureCM, c.days[i] = rootCM, fit.NewReference(rootCM).Days
	}
	return &c
}

// planOf is that of a zone by itself.
func planOf(b *Bed, s Stand) (*Plan, error) {
	plans, err := b.Plans([]Stand{s}, may1())
	if err != nil {
		return nil, err
	}
	return plans[0], nil
}

func steady(days int, mm float64) []float64 {
	out := make([]float64, days)
	for d := range out {
		out[d] = mm
	}
	return out
}

func plant(dryD, wetH float64) catalogue.Plant {
	return catalogue.Plant{ID: "tester", SunMinH: 4, SunMaxH: 10, WetH: wetH, PondMM: 300, DryD: dryD, LowestC: -40, RootCM: 40, SpreadCM: 40}
}

func stand(zone string, areaM2 float64, plants ...catalogue.Plant) Stand {
	s := Stand{Zone: zone, AreaM2: areaM2}
	for _, p := range plants {
		s.Groups = append(s.Groups, Group{Plant: p, Count: 20})
	}
	return s
}
