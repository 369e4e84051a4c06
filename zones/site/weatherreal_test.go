package site

import (
	"os"
	"testing"
	"time"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const records = "../../testdata/records/"

// readFile reads one of the open records; see testdata/records/SOURCES.md.
func readFile(t testing.TB, file string, f Format, latDeg float64) (*Record, error) {
	t.Helper()
	in, err := os.Open(records + file)
	require.NoError(t, err)
	defer in.Close()
	return ReadRecord(file, in, f, latDeg)
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	require.NoError(t, err)
	return z
}

func dailyCity(t testing.TB, city string) *Record {
	t.Helper()
	r, err := readFile(t, "seattle-newyork-daily-2012-2015.csv", Format{
		RainUnit: "mm", TempUnit: "C", Where: map[string]string{"location": city}, Zone: zone(t, "America/New_York"),
	}, 40.7)
	require.NoError(t, err)
	return r
}

// The counts are those of the record's own description (SOURCES.md): 1,461
// days for each of two cities, no gaps, 81 days in a row under 1 mm in Seattle.
func TestDailyRecordOfTwoCities(t *testing.T) {
	for _, city := range []string{"Seattle", "New York"} {
		r := dailyCity(t, city)
		assert.Len(t, r.Days, 1461, city)
		assert.Zero(t, r.MissingHours(), city)
		assert.Zero(t, r.LongestGapHours(), city)
		assert.Equal(t, "daily", r.Step)
		assert.Equal(t, "2012-01-01 00:00 -0500", r.Start.Format("2006-01-02 15:04 -0700"))
		assert.Empty(t, r.Warnings(), city)
		years := r.Years(40.7)
		require.Len(t, years, 4)
		for i, y := range years {
			assert.Equal(t, 2012+i, y.Name)
			assert.True(t, y.Whole)
		}
		assert.Equal(t, 366, years[0].ToDay)
	}
	r := dailyCity(t, "Seattle")
	longest, run := 0, 0
	for day := range r.Days {
		run++
		if mm, _ := r.DayRainMM(day); mm >= 1 {
			run = 0
		}
		longest = max(longest, run)
	}
	assert.Equal(t, 81, longest)
	// 3rd row of the file: 2012-01-03, 0.8 mm, 11.7 and 7.2 deg C.
	mm, whole := r.DayRainMM(2)
	assert.Equal(t, 0.8, mm)
	assert.True(t, whole)
	assert.Equal(t, 11.7, r.Days[2].TMaxC)
	assert.Equal(t, 7.2, r.Days[2].TMinC)
}

func TestTwoCitiesAskForWhere(t *testing.T) {
	_, err := readFile(t, "seattle-newyork-daily-2012-2015.csv", Format{RainUnit: "mm", TempUnit: "C"}, 47)
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 1)
	assert.Contains(t, faults[0].Error(), `location: several stations in one file: choose one with where`)
	assert.Contains(t, faults[0].Error(), `found "New York", "Seattle"`)

	_, err = readFile(t, "newyork-hourly-2013.csv", Format{Zone: zone(t, "America/New_York"), Missing: []string{"NA"}}, 40.7)
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 1)
	assert.Contains(t, faults[0].Error(), `found "EWR", "JFK", "LGA"`)

	_, err = readFile(t, "newyork-hourly-2013.csv", Format{Zone: zone(t, "America/New_York"), Where: map[string]string{"origin": "SEA"}}, 40.7)
	require.ErrorAs(t, err, &faults)
	assert.Contains(t, faults[0].Error(), `no row has this value: found "EWR", "JFK", "LGA"`)
}

func hourlyAirport(t testing.TB, origin string) *Record {
	t.Helper()
	r, err := readFile(t, "newyork-hourly-2013.csv", Format{
		Zone: zone(t, "America/New_York"), Missing: []string{"NA"}, Where: map[string]string{"origin": origin},
	}, 40.7)
	require.NoError(t, err)
	return r
}

// SOURCES.md: 24 to 27 hours of each station have no row. The file runs from
// 2013-01-01 06:00 to 2013-12-30 23:00 UTC, 8,730 hours, with 8,703, 8,706 and
// 8,706 rows (counted with cut and uniq): 27, 24 and 24 absent. At EWR and JFK
// one of them, 17:00 UTC on 1 January, is on the day that is cut (counted by a
// separate script).
func TestHourlyRecordOfThreeAirports(t *testing.T) {
	for origin, absent := range map[string]int{"EWR": 26, "JFK": 23, "LGA": 24} {
		r := hourlyAirport(t, origin)
		assert.Equal(t, "hourly", r.Step)
		assert.Equal(t, "", r.Pattern)
		// 06:00 UTC is 01:00 in New York's winter, so 1 January is cut, and
		// 23:00 UTC is 18:00, so 30 December is.
		assert.Equal(t, "2013-01-02 00:00 -0500", r.Start.Format("2006-01-02 15:04 -0700"), origin)
		assert.Len(t, r.Days, 362, origin)
		assert.Equal(t, absent, r.MissingHours(), origin)
		assert.Contains(t, r.Notes, "rain from column precip_in, inches")
		assert.Contains(t, r.Notes, "temp from column temp_f, deg F")
		assert.Contains(t, r.Notes, "cut to whole days: 23 hours at the beginning and 19 hours at the end left out")
		years := r.Years(40.7)
		require.Len(t, years, 1)
		assert.True(t, years[0].Whole)
	}
}

// Two sources of one city's 2013: the hourly and the daily record differ by
// station and by what hourly rounding loses, but not by a unit.
func TestHourlyAndDailyTotalsOf2013Agree(t *testing.T) {
	daily := dailyCity(t, "New York")
	total := 0.0
	for day := 366; day < 366+365; day++ {
		mm, _ := daily.DayRainMM(day)
		total += mm
	}
	for _, origin := range []string{"EWR", "JFK", "LGA"} {
		hourly := 0.0
		for _, mm := range hourlyAirport(t, origin).RainMM {
			hourly += mm
		}
		t.Logf("2013: daily %.0f mm, hourly at %s %.0f mm", total, origin, hourly)
		assert.InDelta(t, 1, hourly/total, 0.35, origin)
	}
}

// The pipeline's steps on a real record: every day gets a figure, and the year's
// sum lies where the FAO's global maps of reference evapotranspiration put these
// two cities, about 700 to 1,200 mm (from memory).
func TestET0OfTwoCities(t *testing.T) {
	for city, lat := range map[string]float64{"Seattle": 47.6, "New York": 40.7} {
		r := dailyCity(t, city)
		require.NoError(t, r.FillET0(lat))
		sum := 0.0
		for _, d := range r.Days {
			require.GreaterOrEqual(t, d.ET0MM, 0.0)
			sum += d.ET0MM
		}
		mm, days := Event95MM(r)
		growing := 0
		for _, g := range r.Growing() {
			if g {
				growing++
			}
		}
		t.Logf("%s: ET0 %.0f mm a year, 95th percentile event %.1f mm of %d days, growing %d of 1461 days", city, sum/4, mm, days, growing)
		assert.InDelta(t, 950, sum/4, 250, city)
	}
}
