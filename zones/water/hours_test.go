package water

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Hours are the days of a trace taken apart: the deepest pond, the wet hours,
// the rain and the water left at the end of each day are the same, band by band.
func TestHoursAreTheTrace(t *testing.T) {
	rec := readReal(t, "newyork-hourly-2013.csv", "origin", "JFK", 40.6)
	s := roughLot(t, 6, 40.6)
	const from, to = 150, 170
	hours, err := Hours(s, rec, from, to)
	require.NoError(t, err)
	require.Len(t, hours, 24*(to-from))
	taw := TAWMM(s.MixFC, s.MixWP, s.MixDepthMM/1000)
	ponds := 0
	for b := range s.Bed.Bands() {
		foot := s.Bed.Bands()[b].FootMM
		days, err := Trace(s, rec, b, from, to)
		require.NoError(t, err)
		for d, day := range days {
			deepest, wet, rain, missing := 0.0, 0, 0.0, 0
			for _, h := range hours[24*d : 24*d+24] {
				deepest = max(deepest, h.LevelMM-foot)
				rain += h.RainMM
				if h.Wet[b] {
					wet++
				}
				if h.Missing {
					missing++
				}
				if h.Pond {
					ponds++
				}
			}
			last := hours[24*d+23]
			assert.Equal(t, 24*(from+d)+23, last.Hour)
			assert.InDelta(t, day.DeepestMM, deepest, 1e-9, "band %d, day %d", b, d)
			assert.Equal(t, day.WetHours, wet)
			assert.Equal(t, day.Missing, missing)
			assert.InDelta(t, day.RainMM, rain, 1e-9)
			assert.InDelta(t, max(0, 1-day.DepletionMM/taw), last.Water[b], 1e-9)
			assert.Equal(t, day.PondM3 > film*s.Bed.SpillVolumeM3(), last.LevelMM > -s.Bed.Spec().PondingMM, "a level above the bottom is a pond")
		}
	}
	assert.Positive(t, ponds)
	for _, days := range [][2]int{{-1, 3}, {3, 3}, {0, len(rec.Days) + 1}} {
		_, err := Hours(s, rec, days[0], days[1])
		assert.Error(t, err, days)
	}
}
