package site

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two years by hand: 2 mm on every other day of January, frost on each of its nights;
// nothing but 0.5 mm a day in June. What is not known is NaN.
func TestMonthMeans(t *testing.T) {
	text := "date,rain_mm,tmin_c,tmax_c\n"
	for _, year := range []int{2001, 2002} {
		for d := range 31 {
			text += fmt.Sprintf("%d-01-%02d,%d,-%d,4\n", year, d+1, 2*(d%2), d%3)
		}
		for d := range 30 {
			text += fmt.Sprintf("%d-06-%02d,0.5,,\n", year, d+1)
		}
	}
	got := mustRead(t, text, Format{AbsentRow: "missing"}).MonthMeans()
	assert.InDelta(t, 30, got[0].RainMM, 1e-9)
	assert.InDelta(t, 15, got[0].WetDays, 1e-9)
	assert.InDelta(t, 31, got[0].FrostNights, 1e-9)
	assert.InDelta(t, 4, got[0].HighC, 1e-9)
	assert.InDelta(t, -30.0/31, got[0].LowC, 1e-9)
	assert.InDelta(t, 15, got[5].RainMM, 1e-9)
	assert.Zero(t, got[5].WetDays)
	assert.True(t, math.IsNaN(got[5].HighC))
	assert.True(t, math.IsNaN(got[3].RainMM))
}

// The months of a real record sum up to its mean year. Normals of Seattle-Tacoma, 1991 to
// 2020 (NOAA, from memory): 147 mm in January, 15 in July, days of 8 and 26 deg C; four
// other years are within a half of the rain and 3 deg C.
func TestMonthMeansOfSeattle(t *testing.T) {
	text, err := os.ReadFile("../../testdata/records/seattle-newyork-daily-2012-2015.csv")
	require.NoError(t, err)
	r, err := ReadRecord("s.csv", strings.NewReader(string(text)), Format{RainUnit: "mm", TempUnit: "C", Where: map[string]string{"location": "Seattle"}}, 47.6)
	require.NoError(t, err)
	m, sum := r.MonthMeans(), 0.0
	for _, month := range m {
		sum += month.RainMM
	}
	assert.InEpsilon(t, r.Figures().MeanYearMM, sum, 1e-9)
	assert.InDelta(t, 147, m[0].RainMM, 75)
	assert.InDelta(t, 15, m[6].RainMM, 12)
	assert.InDelta(t, 8, m[0].HighC, 3)
	assert.InDelta(t, 26, m[6].HighC, 3)
	assert.Zero(t, m[6].FrostNights)
	assert.Greater(t, m[10].WetDays, m[6].WetDays)
}
