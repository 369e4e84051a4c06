package site

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// wetYears writes daily rows from 2001 with a depth for each month.
func wetYears(years int, depth func(year, month int) float64) string {
	var b strings.Builder
	b.WriteString("date,rain_mm\n")
	for year := range years {
		for month := 1; month <= 12; month++ {
			for day := 1; day <= daysIn(2001+year, month); day++ {
				fmt.Fprintf(&b, "%d-%d-%d,%g\n", 2001+year, month, day, depth(year, month))
			}
		}
	}
	return b.String()
}

func TestWrongUnitIsAWarning(t *testing.T) {
	tenth := func(mm float64) func(int, int) float64 { return func(int, int) float64 { return mm } }
	assert.Contains(t, mustRead(t, wetYears(1, tenth(33)), Format{}).Warnings()[0], "12053 mm (475 in) of rain a year")
	// 16 x 365.2425 = 5844, 17 x 365.2425 = 6209.
	assert.Empty(t, mustRead(t, wetYears(1, tenth(16)), Format{}).Warnings())
	assert.Contains(t, mustRead(t, wetYears(1, tenth(17)), Format{}).Warnings()[0], "6209 mm (244 in) of rain a year")
	assert.Contains(t, mustRead(t, wetYears(2, tenth(0.2)), Format{}).Warnings()[0], "wet days bring only 0.2 mm (0.0079 in) on average")
	// Less than a year says too little: a wet season may bring 17 mm a day.
	for _, mm := range []float64{17, 0.2} {
		text, _, _ := strings.Cut(wetYears(1, tenth(mm)), "2001-8-1,")
		assert.Empty(t, mustRead(t, text, Format{}).Warnings())
	}
	text, _, _ := strings.Cut(wetYears(1, tenth(33)), "2001-8-1,")
	assert.Contains(t, mustRead(t, text, Format{}).Warnings()[0], "12053 mm (475 in)", "but no season brings 33 mm")
}

// Deserts by hand: a wet day a month that brings little all the same has
// 12 mm a year; dew of 0.5 mm a day is a unit that is wrong, unless one real
// rain stands among it or it adds up to more than 250 mm.
func TestDrynessThatIsAWarning(t *testing.T) {
	warnings := func(mm func(month, day int) float64) []string {
		var b strings.Builder
		b.WriteString("date,rain_mm\n")
		for month := 1; month <= 12; month++ {
			for day := 1; day <= daysIn(2001, month); day++ {
				fmt.Fprintf(&b, "2001-%d-%d,%g\n", month, day, mm(month, day))
			}
		}
		return mustRead(t, b.String(), Format{}).Warnings()
	}
	first := func(mm, rest float64) func(int, int) float64 {
		return func(_, day int) float64 { return map[bool]float64{true: mm, false: rest}[day == 1] }
	}
	assert.Equal(t, []string{"warning: only 12 mm (0.47 in) of rain a year: is the unit right?"}, warnings(first(1, 0)))
	assert.Empty(t, warnings(first(2, 0)))
	june := func(mm float64) func(int, int) float64 {
		return func(month, day int) float64 { return map[bool]float64{true: mm, false: 0.5}[month == 6 && day == 1] }
	}
	assert.Contains(t, warnings(june(24))[0], "wet days bring only 0.56 mm (0.022 in) on average and the wettest 24 mm")
	assert.Empty(t, warnings(june(25)))
	assert.Contains(t, warnings(first(0.6, 0.6))[0], "wet days bring only 0.6 mm")
	assert.Empty(t, warnings(first(0.7, 0.7)), "256 mm a year")
}

// A year of 10 deg C and a swing of so much about it, warmest in July.
func yearOfSwing(swingC float64, months int) string {
	var b strings.Builder
	b.WriteString("date,rain_mm,tmin_c,tmax_c\n")
	for month := 1; month <= months; month++ {
		mean := 10 - swingC*math.Cos(2*math.Pi*float64(month-1)/12)
		for day := 1; day <= daysIn(2001, month); day++ {
			fmt.Fprintf(&b, "2001-%d-%d,%d,%g,%g\n", month, day, 3*(day%2), mean-5, mean+5)
		}
	}
	return b.String()
}

// The half-years of a cosine by month differ by 2 (2 + sqrt 3)/6 of the swing,
// 1.244 times: 10 deg C of swing give 10 +- 6.2.
func TestHemisphereIsAWarning(t *testing.T) {
	at := func(text string, latDeg float64) []string {
		r, err := ReadRecord("r.csv", strings.NewReader(text), Format{}, latDeg)
		require.NoError(t, err)
		return r.Warnings()
	}
	north, south := yearOfSwing(10, 12), yearOfSwing(-10, 12)
	require.Len(t, at(north, -41.5), 1)
	assert.Equal(t, "warning: April to September has a mean of 16 deg C (61 deg F) and October to March 4 deg C (39 deg F), so it is warm in the winter of latitude -41.5 (south is below zero): is the latitude right, and the record of this place?", at(north, -41.5)[0])
	require.Len(t, at(south, 41.5), 1)
	assert.Contains(t, at(south, 41.5)[0], "April to September has a mean of 4 deg C (39 deg F) and October to March 16 deg C (61 deg F), so it is warm in the winter of latitude 41.5")
	for _, c := range []struct {
		why    string
		text   string
		latDeg float64
	}{
		{"as it should be", north, 41.5}, {"as it should be", south, -41.5},
		{"within the tropics either may be", north, -23}, {"within the tropics either may be", south, 23},
		{"a swing that is not clear", yearOfSwing(2.4, 12), -41.5}, {"less than a year", yearOfSwing(10, 11), -41.5},
		{"no temperatures", wetYears(2, func(int, int) float64 { return 2 }), -41.5},
	} {
		assert.Empty(t, at(c.text, c.latDeg), c.why)
	}
	assert.NotEmpty(t, at(yearOfSwing(2.5, 12), -41.5), "3.1 deg C is clear")
	// The open records warn at the latitude of the other hemisphere, and not at their own.
	for _, city := range []string{"Seattle", "New York"} {
		f := Format{RainUnit: "mm", TempUnit: "C", Where: map[string]string{"location": city}}
		for _, latDeg := range []float64{40.7, 47.6, -40.7, -47.6} {
			r, err := readFile(t, "seattle-newyork-daily-2012-2015.csv", f, latDeg)
			require.NoError(t, err)
			assert.Len(t, r.Warnings(), map[bool]int{true: 1}[latDeg < 0], "%s at %g", city, latDeg)
		}
	}
}
