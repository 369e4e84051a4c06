package site

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pgregory.net/rapid"
)

// By hand: 20 mm at -5 deg C lie; a day of 2.4 deg C melts 2.4 x 2.74 = 6.576 mm; one
// of 2.4 with 50 mm of rain melts 6.576 + 50 x 2.4 x 4.19 / 334 = 8.081 more; what is
// left goes in a day of 10. At 1 deg C half of 4 mm is snow.
func TestSnowMeltByHand(t *testing.T) {
	r := constantRecord(5, -5, -5)
	for d, c := range []float64{-5, 2.4, 2.4, 10, 1} {
		r.Days[d].TMinC, r.Days[d].TMaxC = c-3, c+3
	}
	r.RainMM[12], r.RainMM[48+7], r.RainMM[96+7] = 20, 50, 4
	before := slices.Clone(r.RainMM)
	got := r.SnowMelt(45)
	for d, want := range []float64{0, 6.576, 50 + 8.0815, 20 - 6.576 - 8.0815, 4} {
		mm, _ := got.DayRainMM(d)
		assert.InDelta(t, want, mm, 1e-3, "day %d", d)
	}
	assert.Equal(t, before, r.RainMM, "the record itself stays")
	assert.Zero(t, got.RainMM[24+1], "nothing melts at night")
	assert.Contains(t, got.Notes[0], "snow: 22 mm (0.87 in) in all lay in a pack, on 5 days, at most 20 mm")
	assert.True(t, r.FreezesWithin(0, 2))
	assert.False(t, r.FreezesWithin(1, 9))
}

// What falls comes down or lies at the end, nothing comes where it is missing, and
// a place without frost is left alone.
func TestSnowKeepsWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := constantRecord(60, 0, 0)
		fell := 0.0
		for d := range r.Days {
			c := rapid.Float64Range(-20, 20).Draw(t, "mean")
			r.Days[d].TMinC, r.Days[d].TMaxC = c-2, c+2
			h := 24*d + rapid.IntRange(0, 23).Draw(t, "hour")
			if r.Missing[h] = rapid.Bool().Draw(t, "missing"); !r.Missing[h] {
				r.RainMM[h] = rapid.Float64Range(0, 40).Draw(t, "rain")
				fell += r.RainMM[h]
			}
		}
		for k := range 24 * 10 { // ten days that melt it all, as far as they can
			r.RainMM[len(r.RainMM)-1-k] = 0
		}
		fell = 0
		for _, mm := range r.RainMM {
			fell += mm
		}
		for d := 50; d < 60; d++ {
			r.Days[d].TMinC, r.Days[d].TMaxC = 90, 90
		}
		came := 0.0
		for h, mm := range r.SnowMelt(45).RainMM {
			came += mm
			if r.Missing[h] && mm != 0 || mm < 0 {
				t.Fatalf("%g mm in hour %d", mm, h)
			}
		}
		if math.Abs(came-fell) > 1e-9*(1+fell) {
			t.Fatalf("%g of %g mm came down", came, fell)
		}
	})
	warm := constantRecord(30, 5, 15)
	warm.RainMM[100] = 9
	require.Equal(t, warm.RainMM, warm.SnowMelt(45).RainMM)
	none := constantRecord(30, math.NaN(), math.NaN())
	assert.Same(t, none, none.SnowMelt(45))
}
