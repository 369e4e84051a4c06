package zones

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

// A hose rate in either system. 1 US gal = 3.785411784 L: 231 cubic inches,
// NIST Handbook 44 Appendix C (from memory).
func TestParseHose(t *testing.T) {
	for text, want := range map[string]float64{
		"15 L/min": 15, "15l/min": 15, "0.25 L/s": 15, "4 gal/min": 4 * 3.785411784, "4 gpm": 15.141647136, "2 1/2 gal/min": 9.46352946,
	} {
		got, err := ParseHoseLMin(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-9, text)
	}
	for _, text := range []string{"15", "", "-3 L/min", "0 L/min", "15 L", "15 L/h", "1,5 L/min", "fast", "15 L/min 3 L/min"} {
		_, err := ParseHoseLMin(text)
		var faults table.Faults
		require.ErrorAs(t, err, &faults, text)
		assert.Contains(t, err.Error(), "want what the hose gives with its unit", text)
		assert.True(t, faults.BadInput())
	}
}

// flat is a record of a number of days with the same rain every fifth day.
func flat(days int) *site.Record {
	rec := &site.Record{Source: "flat", Start: time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC), Step: "hourly"}
	for d := range days {
		for h := range 24 {
			mm := 0.0
			if d%5 == 0 && h >= 6 && h < 12 {
				mm = 4
			}
			rec.RainMM, rec.Missing = append(rec.RainMM, mm), append(rec.Missing, false)
		}
		rec.Days = append(rec.Days, site.Day{TMinC: 12, TMaxC: 24, ET0MM: math.NaN()})
	}
	return rec
}

// Without roof water the bed gets what falls on it and no more; the lot itself
// stays as it was.
func TestClosed(t *testing.T) {
	g, err := read(little)
	require.NoError(t, err)
	lot, err := Prepare(g, flat(730))
	require.NoError(t, err)
	open, err := lot.Expose()
	require.NoError(t, err)
	shut, err := lot.Closed()
	require.NoError(t, err)

	assert.Positive(t, open.Run.Balance.InflowM3)
	assert.Zero(t, shut.Run.Balance.InflowM3)
	assert.InDelta(t, open.Run.Balance.RainOnBedM3, shut.Run.Balance.RainOnBedM3, 1e-9, "rain on the bed is the same")
	assert.Less(t, shut.Zones[0].MildWetH, open.Zones[0].MildWetH)
	assert.Len(t, lot.Catches, 1, "the lot keeps its roof")
	assert.Len(t, lot.Setup().Catches, 1)
	assert.Empty(t, shut.Lot.Setup().Catches, "the closed lot has none")
	again, err := lot.Expose()
	require.NoError(t, err)
	assert.Equal(t, open.Run.Balance, again.Run.Balance)
}

// The balance over the lot's own record is the one that Expose ran; over fewer
// days it is that of those days; neither changes the lot.
func TestRunOver(t *testing.T) {
	g, err := read(little)
	require.NoError(t, err)
	rec := flat(730)
	lot, err := Prepare(g, rec)
	require.NoError(t, err)
	open, err := lot.Expose()
	require.NoError(t, err)
	same, err := lot.RunOver(flat(730))
	require.NoError(t, err)
	assert.Equal(t, open.Run.Balance, same.Balance)
	short, err := lot.RunOver(flat(60))
	require.NoError(t, err)
	assert.Equal(t, open.Run.DemandMM[:40], short.DemandMM[:40])
	assert.Len(t, short.DemandMM, 60)
	assert.Same(t, rec, lot.Record)
	for _, mm := range short.DemandMM {
		assert.False(t, math.IsNaN(mm), "ET0 is filled")
	}
}
