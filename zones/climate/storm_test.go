package climate

import (
	"math"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// The rain of a month's wettest hour, in the mean of the years, is between that of its
// greatest half hour, as the station has it, and twice that; 2.3 leaves room for chance.
func TestHalfHour(t *testing.T) {
	for _, id := range []string{"IL116711", "AL015478"} {
		s, ok := StationByID(id)
		require.True(t, ok)
		rec := s.Record(Years, 1, "type-ii")
		var most [12][Years]float64
		for h, mm := range rec.RainMM {
			at := rec.Start.Add(time.Duration(h) * time.Hour)
			cell := &most[at.Month()-1][at.Year()-firstYear]
			*cell = max(*cell, mm)
		}
		for m, years := range most {
			sum := 0.0
			for _, v := range years {
				sum += v / Years
			}
			ratio := sum / (s.Months[m].HalfHourMMH / 2)
			assert.True(t, ratio > 0.9 && ratio < 2.3, "%s month %d: %.2f", id, m+1, ratio)
		}
	}
}

// shape is the share of the wettest hour and the hours that rain lies from its middle,
// means of the days of 5 mm and more.
func shape(rec *site.Record) (wettest, spread float64) {
	n := 0.0
	for d := range rec.Days {
		mm, most, at, square := 0.0, 0.0, 0.0, 0.0
		for h, v := range rec.RainMM[24*d : 24*d+24] {
			mm, most = mm+v, max(most, v)
			at, square = at+v*float64(h), square+v*float64(h*h)
		}
		if mm >= 5 {
			n++
			wettest += most / mm
			spread += math.Sqrt(max(0, square/mm-at*at/mm/mm))
		}
	}
	return wettest / n, spread / n
}

// Hours of rain against those that were measured at three airports of New York in 2013.
func TestHours(t *testing.T) {
	ny, ok := StationByID("NY305801")
	require.True(t, ok)
	made, lasts := shape(ny.Record(Years, 1, "type-ii"))
	zone, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	for _, airport := range []string{"JFK", "LGA", "EWR"} {
		file, err := os.Open("../../testdata/records/newyork-hourly-2013.csv")
		require.NoError(t, err)
		defer file.Close()
		rec, err := site.ReadRecord("newyork", file, site.Format{Clock: "utc", Zone: zone, Missing: []string{"NA"}, Where: map[string]string{"origin": airport}}, 40.7)
		require.NoError(t, err)
		wettest, spread := shape(rec)
		t.Logf("%s: wettest hour %.2f of the day, made %.2f; %.1f hours from the middle, made %.1f", airport, wettest, made, spread, lasts)
		assert.InDelta(t, wettest, made, 0.12)
		assert.InDelta(t, spread, lasts, 0.7)
	}
}
