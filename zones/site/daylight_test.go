package site

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestDaylightFractionsAddUpToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		day := rapid.IntRange(1, 366).Draw(t, "day")
		sum, share := 0.0, DaylightFractions(lat, day)
		for h := range share {
			sum += share[h]
			if !(share[h] >= 0) {
				t.Fatalf("hour %d: %v", h, share[h])
			}
			if d := share[h] - share[23-h]; d > 1e-12 || d < -1e-12 {
				t.Fatalf("not the same before and after noon: hour %d", h)
			}
		}
		if sum < 1-1e-12 || sum > 1+1e-12 {
			t.Fatalf("sum %v", sum)
		}
	})
}

// At the equator the sun is up from 6 to 18: the half sine gives
// (1 - cos(pi/12)) / 2 = 0.01704 from 6 to 7 and sin(pi/12) / 2 = 0.12941 from
// 11 to 12 (arithmetic).
func TestDaylightFractionsAtTheEquator(t *testing.T) {
	share := DaylightFractions(0, 80)
	assert.Zero(t, share[5])
	assert.InDelta(t, 0.01704, share[6], 1e-5)
	assert.InDelta(t, 0.12941, share[11], 1e-5)
}

func TestDaylightFractionsInPolarDayAndNight(t *testing.T) {
	night := DaylightFractions(80, 355)
	assert.Equal(t, 1.0/24, night[0])
	assert.Equal(t, 1.0/24, night[12])
	day := DaylightFractions(80, 172)
	assert.Greater(t, day[0], 0.0)
	assert.Greater(t, day[12], 10*day[0])
}
