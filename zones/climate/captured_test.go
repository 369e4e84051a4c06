package climate_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
	"hollowbed/zones"
	"hollowbed/zones/climate"
	"hollowbed/zones/site"
)

// Of which daily rain is the captured share truer, spread by the storms of a station or
// by type-ii, as TestMadeYearsAreTrue spreads its records? Held against the hours
// measured at three airports of New York in 2013 (testdata/records), on the same lot:
// wanted within 0.03 there. On ground that takes 25 mm/h, where the hours spill nothing,
// the storms are too hard (data/MEASURED.md); that they get no harder is all that is held.
func TestCapturedByMeasuredHours(t *testing.T) {
	ny, ok := climate.StationByID("NY305801")
	require.True(t, ok)
	zone, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	fixed, ok := site.PatternShares("type-ii")
	require.True(t, ok)
	for soil, most := range map[string]float64{"6 mm/h": 0.03, "25 mm/h": 0.08} {
		if soil != "6 mm/h" && !testenv.Heavy() {
			continue
		}
		for _, airport := range []string{"JFK", "LGA", "EWR"} {
			text, err := os.ReadFile("../../testdata/records/newyork-hourly-2013.csv")
			require.NoError(t, err)
			rec, err := site.ReadRecord("newyork", strings.NewReader(string(text)), site.Format{Clock: "utc", Zone: zone, Missing: []string{"NA"}, Where: map[string]string{"origin": airport}}, 40.7)
			require.NoError(t, err)
			captured := func(hours func(month int, mm float64) [24]float64) float64 {
				g, err := zones.ReadGarden("garden.yaml", strings.NewReader(fmt.Sprintf(`hollowbed: 1
site: {latitude: 40.7, time_zone: America/New_York}
roof: {area: 60 m2, share: 100 %%}
soil: {rate: %s, safety_factor: 1}
mix: {texture: sandy loam, depth: 450 mm}
bed: {shape: oval, length: 6 m, width: 4.2 m, ponding_depth: 150 mm}
weather: {file: rain.csv}
`, soil)))
				require.NoError(t, err)
				r := *rec
				r.RainMM = slices.Clone(rec.RainMM)
				for d := range r.Days {
					if day := r.RainMM[24*d : 24*d+24]; hours != nil {
						mm := 0.0
						for _, v := range day {
							mm += v
						}
						shares := hours(int(r.Start.AddDate(0, 0, d).Month())-1, mm)
						for h := range day {
							day[h] = mm * shares[h]
						}
					}
				}
				l, err := zones.Prepare(g, &r)
				require.NoError(t, err)
				e, err := l.Expose()
				require.NoError(t, err)
				return e.Run.Balance.CapturedFraction()
			}
			measured, typeII := captured(nil), captured(func(int, float64) [24]float64 { return fixed })
			storms := 0.0
			seeds := testenv.Of(3, 20)
			for seed := range seeds {
				storms += captured(climate.SpreadOf(ny.Normals, uint64(seed+1))) / float64(seeds)
			}
			t.Logf("%s, %s: measured hours %.3f, storms %.3f, type-ii %.3f", soil, airport, measured, storms, typeII)
			assert.InDelta(t, measured, storms, most, "%s: storms", airport)
			assert.InDelta(t, measured, typeII, 0.03, "%s: type-ii", airport)
		}
	}
}
