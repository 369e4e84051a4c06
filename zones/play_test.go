package zones

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The week played is the one with the deepest pond, found here by trying them
// all, and the spell played is the driest with two weeks round it.
func TestPlays(t *testing.T) {
	g, err := read(little)
	require.NoError(t, err)
	rec := flat(730)
	for h := 400 * 24; h < 402*24; h++ { // one storm that stands out
		rec.RainMM[h] = 6
	}
	for h := 500 * 24; h < 560*24; h++ { // and one long time without rain
		rec.RainMM[h] = 0
	}
	lot, err := Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	week, err := e.WettestWeek()
	require.NoError(t, err)
	require.Len(t, week.Frames, 7*24)
	assert.Equal(t, time.Hour, week.Step)
	first := int(week.Start.Sub(rec.Start).Hours() / 24)
	days, err := e.days(0, 0, 730)
	require.NoError(t, err)
	best, at := -1.0, 0
	for d := 0; d+7 <= 730; d++ {
		sum := 0.0
		for _, day := range days[d : d+7] {
			sum += day.DeepestMM
		}
		if sum > best+1e-9 {
			best, at = sum, d
		}
	}
	assert.Equal(t, at, first)
	assert.True(t, first <= 400 && first+7 > 401, "it holds the storm: %d", first)

	summer, err := e.DriestSummer()
	require.NoError(t, err)
	assert.Equal(t, 24*time.Hour, summer.Step)
	b := e.Bands[e.Zones[1].Driest].WorstDry
	assert.WithinDuration(t, b.From.Add(-14*24*time.Hour), summer.Start, 24*time.Hour)
	end := summer.Start.Add(time.Duration(len(summer.Frames)) * summer.Step)
	assert.WithinDuration(t, b.To.Add(14*24*time.Hour), end, 24*time.Hour)
	least := 1.0
	for _, f := range summer.Frames {
		require.Len(t, f.Water, len(e.Bands))
		for _, v := range f.Water {
			assert.False(t, math.IsNaN(v) || v < 0 || v > 1)
			least = min(least, v)
		}
	}
	assert.Less(t, least, 0.5)
}

// A record shorter than a week has none to play.
func TestPlayTooShort(t *testing.T) {
	g, err := read(little)
	require.NoError(t, err)
	lot, err := Prepare(g, flat(400))
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	short := *lot
	rec := *lot.Record
	rec.Days, rec.RainMM, rec.Missing = rec.Days[:5], rec.RainMM[:120], rec.Missing[:120]
	short.Record = &rec
	e.Lot = &short
	_, err = e.WettestWeek()
	assert.ErrorContains(t, err, "want a week")
}
