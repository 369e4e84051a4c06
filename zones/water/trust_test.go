package water

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// spreadAgain returns a record as if it had been read by the day and spread by
// a pattern: each day's depth in 24 hours, gaps counted as rainless.
func spreadAgain(t testing.TB, rec *site.Record, pattern string) *site.Record {
	t.Helper()
	share, ok := site.PatternShares(pattern)
	require.True(t, ok)
	out := *rec
	out.Step, out.Pattern = "daily", pattern
	out.RainMM, out.Missing = make([]float64, len(rec.RainMM)), make([]bool, len(rec.RainMM))
	for d := range rec.Days {
		mm, _ := rec.DayRainMM(d)
		for h := range share {
			out.RainMM[24*d+h] = mm * share[h]
		}
	}
	return &out
}

// trust is one line of the README's table on how far to trust a record.
type trust struct {
	captured           float64
	bottomH, midH      float64 // longest wet spell of one year in ten
	topH, rimH         float64
	bottomD, topD, rim float64 // longest dry spell of one year in ten
}

func trustOf(t testing.TB, rec *site.Record, lat float64) trust {
	t.Helper()
	r, err := Run(roughLot(t, 6, lat), rec)
	require.NoError(t, err)
	wet, dry := tenYearSpells(r)
	return trust{r.Balance.CapturedFraction(), wet[0], wet[5], wet[9], wet[11], dry[0], dry[9], dry[11]}
}

// What a daily record loses, measured on hourly ones: the same rain added up by
// the day and spread again. In all three airports of 2013 type-ii and even keep
// more of the water and make longer wet spells at the bottom than the measured
// hours, block-6h keeps as much within 3 % and cuts the wet spells of the slope
// short; the dry spells of the rim stay within two days.
func TestHoursAgainstDaysSpreadAgain(t *testing.T) {
	for _, real := range realRecords(t) {
		hours := trustOf(t, real.rec, real.lat)
		t.Logf("%-16s %-9s %+v", real.name, "", hours)
		if real.rec.Step == "daily" {
			continue
		}
		days := map[string]trust{}
		for _, pattern := range site.Patterns() {
			days[pattern] = trustOf(t, spreadAgain(t, real.rec, pattern), real.lat)
			t.Logf("%-16s %-9s %+v", real.name, pattern, days[pattern])
			assert.InDelta(t, hours.rim, days[pattern].rim, 2, "%s, %s: rim dry", real.name, pattern)
			assert.Zero(t, days[pattern].rimH, "%s, %s: rim wet", real.name, pattern)
		}
		for _, pattern := range []string{"type-ii", "even"} {
			assert.Greater(t, days[pattern].captured, hours.captured+0.03, "%s, %s: captured", real.name, pattern)
			assert.Greater(t, days[pattern].bottomH, hours.bottomH, "%s, %s: bottom wet", real.name, pattern)
		}
		assert.InDelta(t, hours.captured, days["block-6h"].captured, 0.03, "%s: captured", real.name)
		assert.Less(t, days["block-6h"].midH, hours.midH, "%s: slope wet", real.name)
	}
}
