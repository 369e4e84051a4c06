package climate

import (
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func source(t *testing.T, file string) [][]string {
	f, err := os.Open("../../testdata/climates/" + file)
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	rows, err := csv.NewReader(z).ReadAll()
	require.NoError(t, err)
	return rows
}

// What is packed is what the source says, to half of its unit.
func TestPacked(t *testing.T) {
	stations := Stations()
	list, months := source(t, "us-stations.csv.gz"), source(t, "us-monthly.csv.gz")
	require.Len(t, stations, 2649)
	require.Len(t, list, 2650)
	place := map[string]int{}
	for i, name := range months[0] {
		place[name] = i
	}
	for i, s := range stations {
		row := list[i+1]
		assert.Equal(t, row[:3], []string{s.ID, s.Name, s.State})
		assert.Equal(t, row[6], strconv.Itoa(s.Years))
	}
	for _, c := range Columns() {
		for i, row := range months[1:] {
			want, err := strconv.ParseFloat(row[place[c.Name]], 64)
			require.NoError(t, err)
			var shown, got Month
			c.to(&shown, want)
			c.to(&got, math.Round(want/c.Unit)*c.Unit)
			have := stations[i/12].Months[i%12]
			if !assert.InDelta(t, figure(c.Name, got), figure(c.Name, have), 1e-9, "%s %v", c.Name, row[:2]) {
				return
			}
			assert.InDelta(t, figure(c.Name, shown), figure(c.Name, have), 0.51*c.Unit*25.4)
		}
	}
	assert.Less(t, len(packed), 700_000)
	assert.Less(t, len(gazetteer), 500_000)
}

func figure(column string, m Month) float64 {
	switch column {
	case "wet_day_mean_in":
		return m.WetMM
	case "wet_day_sd_in":
		return m.WetSDMM
	case "wet_day_skew":
		return m.WetSkew
	case "wet_after_wet":
		return m.WetAfterWet
	case "wet_after_dry":
		return m.WetAfterDry
	case "tmax_f":
		return m.TMaxC
	case "tmin_f":
		return m.TMinC
	case "tmax_sd_f":
		return m.TMaxSD
	case "tmin_sd_f":
		return m.TMinSD
	}
	return m.HalfHourMMH
}

// Every place has a state, a time zone that Go knows, and lies in the United States.
func TestPlaces(t *testing.T) {
	all := places()
	require.Greater(t, len(all), 15_000)
	zones := map[string]bool{}
	for _, p := range all {
		assert.Len(t, p.State, 2)
		assert.True(t, p.LatDeg > 18 && p.LatDeg < 72 && p.LonDeg < -66, p.Title())
		zones[p.TimeZone] = true
	}
	for zone := range zones {
		_, err := time.LoadLocation(zone)
		assert.NoError(t, err)
	}
	// US Census Bureau gazetteer: Duluth 46.78, -92.11 (from memory); Denver is a mile high.
	duluth, err := FindSpot("duluth, mn")
	require.NoError(t, err)
	assert.InDelta(t, 46.78, duluth.LatDeg, 0.05)
	assert.InDelta(t, -92.11, duluth.LonDeg, 0.05)
	assert.Equal(t, "America/Chicago", duluth.TimeZone)
	denver, err := FindSpot("Denver, CO")
	require.NoError(t, err)
	assert.InDelta(t, 1609, denver.ElevationM, 40)
	for text, zone := range map[string]string{"33.45, -112.07": "America/Phoenix", "44.98,-93.26": "America/Chicago", "21.31, -157.86": "Pacific/Honolulu", "Canon City, CO": "America/Denver", "St. Paul, MN": "America/Chicago"} {
		spot, err := FindSpot(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, zone, spot.TimeZone, text)
		}
	}
}

// What is there twice is asked for, and each answer offered is one.
func TestPlacesTwice(t *testing.T) {
	for text, wants := range map[string][]string{
		"Duluth":          {"Duluth, MN", "Duluth, GA"},
		"Georgetown, PA":  {"Georgetown, PA (Lancaster County)", "Georgetown, PA (Luzerne County)"},
		"Nosuchplace, ZZ": {"no such place"},
		"91, 20":          {"degrees north and east"},
		"46.7, west":      {"degrees north and east"},
		"IL999999":        {"no such place"},
		"Springfield":     {"Springfield, MO", "more"},
	} {
		_, err := FindSpot(text)
		for _, want := range wants {
			assert.ErrorContains(t, err, want, text)
		}
	}
	spot, err := FindSpot("Georgetown, PA (Luzerne County)")
	require.NoError(t, err)
	assert.InDelta(t, 41.2, spot.LatDeg, 0.3)
}

// A station that is 500 m higher counts like one 50 km farther.
func TestNearCountsHeight(t *testing.T) {
	for _, text := range []string{"Aspen, CO", "Duluth, MN", "Reno, NV", "McCall, ID"} {
		spot, err := FindSpot(text)
		require.NoError(t, err)
		near := NearestTo(spot, 5)
		require.Len(t, near, 5, text)
		for i, n := range near {
			if i > 0 {
				assert.LessOrEqual(t, near[i-1].KM+math.Abs(near[i-1].HigherM)/10, n.KM+math.Abs(n.HigherM)/10)
			}
		}
		byDistance := NearestTo(Spot{LatDeg: spot.LatDeg, LonDeg: spot.LonDeg, ElevationM: math.NaN()}, 1)
		assert.LessOrEqual(t, byDistance[0].KM, near[0].KM)
	}
	// The lot is 6.5 deg C a km colder or warmer: standard atmosphere, ISO 2533.
	n := Near{Station: Stations()[0], HigherM: 1000}
	assert.InDelta(t, 6.5, n.Here().Months[3].TMaxC-n.Months[3].TMaxC, 1e-9)
	assert.Empty(t, NearestTo(Spot{LatDeg: 48, LonDeg: 11, ElevationM: math.NaN()}, 5), "Munich has none")
}

// Stations whose winter nights are wrong in the source are not offered, and say so when
// they are asked for by name. Duluth's coldest night of one year in ten is near -34 deg C
// (-30 F; National Weather Service, from memory).
func TestWarmNights(t *testing.T) {
	gordon, ok := StationByID("WI473186")
	require.True(t, ok)
	assert.Contains(t, gordon.Doubts()[0], "too warm to be true")
	solon, ok := StationByID("WI477892")
	require.True(t, ok)
	assert.Empty(t, solon.Doubts())
	n := 0
	for _, s := range Stations() {
		if s.warmNights() {
			n++
		}
	}
	assert.InDelta(t, 210, n, 60)
	duluth, err := FindSpot("Duluth, MN")
	require.NoError(t, err)
	for _, near := range NearestTo(duluth, 5) {
		assert.InDelta(t, -38, near.Facts().ColdestC, 8, near.Title())
	}
}
