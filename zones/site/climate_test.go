package site

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An invented climate rains in its season, is the same for the same seed and
// another for another, and is whole: every day has its evapotranspiration.
func TestInventedClimates(t *testing.T) {
	for _, c := range InventedClimates() {
		a, err := c.Invent(30, 1)
		require.NoError(t, err)
		b, err := c.Invent(30, 1)
		require.NoError(t, err)
		other, err := c.Invent(30, 2)
		require.NoError(t, err)
		assert.Equal(t, a.RainMM, b.RainMM, c.Name)
		assert.NotEqual(t, a.RainMM, other.RainMM, c.Name)
		assert.Len(t, a.Years(c.LatitudeDeg), 30, c.Name)
		assert.False(t, slices.ContainsFunc(a.Days, func(d Day) bool { return !(d.ET0MM >= 0) }), c.Name)
		half := [2]float64{} // about the peak, and about the trough
		for hour, mm := range a.RainMM {
			away := (a.dayTime(hour/24).YearDay() - int(c.PeakDay) + 2*365) % 365
			if away < 91 || away > 274 {
				half[0] += mm
			} else {
				half[1] += mm
			}
		}
		assert.Greater(t, half[0], 1.1*half[1], "%s: it rains most about day %v", c.Name, c.PeakDay)
		assert.InDelta(t, 1100, (half[0]+half[1])/30, 700, "%s: mm a year", c.Name)
	}
}
