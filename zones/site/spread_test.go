package site

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The whole hours of the NRCS Type II table at 0.1 h, as typed in Washington
// State DOT, Highway Runoff Manual M 31-16.04, Table 4C-4.
func TestTypeIIAgreesWithTheTable(t *testing.T) {
	in, err := os.Open(records + "nrcs-type-ii-0.1h.csv")
	require.NoError(t, err)
	defer in.Close()
	rows, err := csv.NewReader(in).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 242)
	sum, compared := typeII(), 0
	for _, row := range rows[1:] {
		hour, err := strconv.ParseFloat(row[0], 64)
		require.NoError(t, err)
		if hour != math.Trunc(hour) {
			continue
		}
		share, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err)
		assert.Equal(t, share, sum[int(hour)], "hour %v", hour)
		compared++
	}
	assert.Equal(t, 25, compared)
	assert.Equal(t, 0.663, sum[12])
}

func TestPatternSharesAddUpToOne(t *testing.T) {
	for _, name := range Patterns() {
		share, ok := PatternShares(name)
		require.True(t, ok, name)
		sum := 0.0
		for _, s := range share {
			assert.GreaterOrEqual(t, s, 0.0)
			sum += s
		}
		assert.InDelta(t, 1, sum, 1e-12, name)
	}
	_, ok := PatternShares("heavy")
	assert.False(t, ok)
	share, _ := PatternShares("type-ii")
	assert.InDelta(t, 0.428, share[11], 1e-12) // 0.663 - 0.235
	share, _ = PatternShares("block-6h")
	assert.Zero(t, share[8])
	assert.Equal(t, share[9], share[14])
	assert.Zero(t, share[15])
}

func TestSpreadDayKeepsTheSumExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depth := rapid.Float64Range(0, 2000).Draw(t, "depth")
		share, _ := PatternShares(rapid.SampledFrom(Patterns()).Draw(t, "pattern"))
		hours := make([]float64, 24)
		spreadDay(hours, depth, &share)
		forth, back := 0.0, 0.0
		for h := range hours {
			forth += hours[h]
			back += hours[23-h]
			if d := math.Abs(hours[h] - depth*share[h]); !(d <= 1e-13*depth) {
				t.Fatalf("hour %d: %v, want %v", h, hours[h], depth*share[h])
			}
			if hours[h] < 0 {
				t.Fatalf("hour %d below 0", h)
			}
		}
		if forth != depth || back != depth {
			t.Fatalf("%v forth and %v back, want %v", forth, back, depth)
		}
	})
}
