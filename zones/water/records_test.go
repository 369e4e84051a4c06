package water

import (
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

func readReal(t testing.TB, file, column, station string, lat float64) *site.Record {
	t.Helper()
	f, err := os.Open("../../testdata/records/" + file)
	require.NoError(t, err)
	defer f.Close()
	format := site.Format{Where: map[string]string{column: station}}
	if file == "seattle-newyork-daily-2012-2015.csv" {
		format.RainUnit, format.TempUnit = "mm", "C"
	}
	if strings.HasPrefix(file, "newyork-hourly") {
		zone, err := time.LoadLocation("America/New_York")
		require.NoError(t, err)
		format.Clock, format.Zone, format.Missing = "utc", zone, []string{"NA"}
	}
	rec, err := site.ReadRecord(file, f, format, lat)
	require.NoError(t, err)
	rec.FillTemperature()
	require.NoError(t, rec.FillET0(lat))
	return rec
}

// roughLot is the lot of the project's first rough check: 100 m2 of roof, 4 x
// 3 m bed, 15 cm pond, 3:1 sides, 45 cm of sandy loam.
func roughLot(t testing.TB, nativeMMH, lat float64) Setup {
	t.Helper()
	bed, err := basin.New(basin.Spec{
		Outline:   basin.Outline{Kind: "rectangle", LengthM: 4, WidthM: 3},
		PondingMM: 150, SideRun: 3, RimWidthM: 0.3, FreeboardMM: 50,
	})
	require.NoError(t, err)
	mix, err := site.MixSoil("sandy loam", 2.5)
	require.NoError(t, err)
	return Setup{
		Bed: bed, Catches: []Catch{{AreaM2: 100, Coefficient: 0.95, LossMM: 1}}, InletM3H: math.Inf(1),
		MixFC: mix.FC, MixWP: mix.WP, MixSat: mix.Sat, MixDepthMM: 450, MixKMMH: mix.KMMH, NativeKMMH: nativeMMH,
		Kc: 1, PTab: 0.5, LatitudeDeg: lat, StepsPerH: 1,
	}
}
