package data

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os/exec"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The record is what its program makes, byte for byte.
func TestRainIsReproduced(t *testing.T) {
	made, err := exec.Command("go", "run", "../testdata/weather").Output()
	require.NoError(t, err)
	kept, err := fs.ReadFile(Files(), "rain.csv")
	require.NoError(t, err)
	require.True(t, bytes.Equal(kept, made), "data/rain.csv is not what go run ./testdata/weather writes")
}

type dayRow struct {
	date             time.Time
	rain, tmin, tmax float64
}

func rainRows(t *testing.T) []dayRow {
	f, err := Files().Open("rain.csv")
	require.NoError(t, err)
	defer f.Close()
	cells, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"date", "rain_mm", "tmin_c", "tmax_c"}, cells[0])
	var rows []dayRow
	for _, c := range cells[1:] {
		var r dayRow
		r.date, err = time.Parse(time.DateOnly, c[0])
		require.NoError(t, err)
		for i, v := range []*float64{&r.rain, &r.tmin, &r.tmax} {
			*v, err = strconv.ParseFloat(c[i+1], 64)
			require.NoError(t, err)
		}
		rows = append(rows, r)
	}
	return rows
}

// The invented climate is the one that SOURCES.md describes: temperate,
// inland, with dry spells of weeks and one gap of three days.
func TestRainIsTheClimateDescribed(t *testing.T) {
	rows := rainRows(t)
	total, heaviest := 0.0, 0.0
	var january, july []float64
	dry, longDry := 0, map[int]bool{}
	gaps := 0
	for i, r := range rows {
		total += r.rain
		heaviest = max(heaviest, r.rain)
		assert.Less(t, r.tmin, r.tmax, r.date)
		if i > 0 && r.date.Sub(rows[i-1].date) != 24*time.Hour {
			gaps++
			assert.Equal(t, 4*24*time.Hour, r.date.Sub(rows[i-1].date), "one gap of three days")
		}
		switch r.date.Month() {
		case time.January:
			january = append(january, (r.tmin+r.tmax)/2)
		case time.July:
			july = append(july, (r.tmin+r.tmax)/2)
		}
		if dry++; r.rain >= 1 {
			dry = 0
		}
		if dry >= 21 && r.date.Month() >= time.May && r.date.Month() <= time.September {
			longDry[r.date.Year()] = true
		}
	}
	assert.Equal(t, 1, gaps)
	assert.Equal(t, "2001-01-01", rows[0].date.Format(time.DateOnly))
	assert.Equal(t, "2024-12-31", rows[len(rows)-1].date.Format(time.DateOnly))
	assert.Len(t, rows, 24*365+6-3, "24 years, 6 of them leap years, less 3 days")
	assert.InDelta(t, 900, total/24, 50, "mm a year")
	assert.InDelta(t, -4, mean(january), 1)
	assert.InDelta(t, 24, mean(july), 1)
	assert.Greater(t, heaviest, 75.0, "a cloudburst")
	assert.GreaterOrEqual(t, len(longDry), 3, "years with three weeks without rain in the growing season")
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
