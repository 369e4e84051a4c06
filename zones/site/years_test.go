package site

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// blankRecord is a record of dry days from a date on.
func blankRecord(from string, days int) *Record {
	r := constantRecord(days, 10, 20)
	start, err := time.ParseInLocation("2006-01-02", from, r.Start.Location())
	if err != nil {
		panic(err)
	}
	r.Start = start
	return r
}

func TestYearsNorthAndSouth(t *testing.T) {
	r := blankRecord("2011-07-01", 366+365+184) // to 31 December 2013
	north := r.Years(51)
	require.Len(t, north, 3)
	assert.Equal(t, Year{Name: 2011, FromDay: 0, ToDay: 184}, north[0])
	assert.Equal(t, Year{Name: 2012, FromDay: 184, ToDay: 550, Whole: true}, north[1])
	assert.Equal(t, Year{Name: 2013, FromDay: 550, ToDay: 915, Whole: true}, north[2])
	south := r.Years(-37)
	require.Len(t, south, 3)
	assert.Equal(t, Year{Name: 2013, FromDay: 731, ToDay: 915}, south[2])
	assert.Equal(t, Year{Name: 2011, FromDay: 0, ToDay: 366, Whole: true}, south[0])
	assert.Equal(t, Year{Name: 2012, FromDay: 366, ToDay: 731, Whole: true}, south[1])
	assert.Equal(t, north, r.Years(0), "the equator counts as north")
	// The last days of June belong to the year that began the July before.
	assert.Equal(t, 2010, blankRecord("2011-06-30", 2).Years(-1)[0].Name)
	assert.Equal(t, 2011, blankRecord("2011-06-30", 2).Years(-1)[1].Name)
}

// 365 days from any date are a year, north and south; where the usual years are
// as many, they stay.
func TestAny365DaysAreAYear(t *testing.T) {
	for _, c := range []struct {
		from   string
		days   int
		latDeg float64
		names  []int
	}{
		{"2012-07-01", 365, 47, []int{2012}}, {"2013-01-01", 365, -37, []int{2013}},
		{"2012-03-17", 365, 47, []int{2012}}, {"2012-02-29", 366, 47, []int{2012}},
		{"2012-07-01", 1095, 47, []int{2013, 2014}}, {"2012-01-01", 1095, -37, []int{2012, 2013}},
		{"2012-07-01", 1095 + 184, 47, []int{2013, 2014, 2015}},
	} {
		r := blankRecord(c.from, c.days)
		var names []int
		for _, y := range r.Years(c.latDeg) {
			if y.Whole {
				names = append(names, y.Name)
			}
		}
		assert.Equal(t, c.names, names, "%+v", c)
		r.noteYears(c.latDeg)
		assert.Len(t, r.Notes, map[bool]int{true: 1}[c.days <= 366], "%+v", c)
	}
	r := blankRecord("2012-07-01", 365)
	r.noteYears(47)
	assert.Equal(t, []string{"years are counted from 1 July, the day on which the record begins: so it has 1 whole year"}, r.Notes)
}

func TestWholeYearNeedsNineTenths(t *testing.T) {
	r := blankRecord("2011-01-01", 365)
	for h := range 876 { // a tenth of 8,760
		r.Missing[h] = true
	}
	assert.Equal(t, []Year{{Name: 2011, ToDay: 365, Whole: true, MissingHours: 876}}, r.Years(40))
	r.Missing[5000] = true
	assert.Equal(t, []Year{{Name: 2011, ToDay: 365, MissingHours: 877}}, r.Years(40))
	assert.Equal(t, 876, r.LongestGapHours())
	assert.Equal(t, 877, r.MissingHours())
	assert.False(t, blankRecord("2011-01-01", 100).Years(40)[0].Whole)
}

func TestYearsCoverTheRecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.IntRange(1, 1500).Draw(t, "days")
		r := constantRecord(days, 1, 2)
		r.Start = r.Start.AddDate(0, 0, rapid.IntRange(0, 1500).Draw(t, "from"))
		next := 0
		for _, y := range r.Years(rapid.SampledFrom([]float64{-40, 40}).Draw(t, "lat")) {
			if y.FromDay != next || y.ToDay <= y.FromDay || y.ToDay-y.FromDay > 366 {
				t.Fatalf("%+v after day %d", y, next)
			}
			next = y.ToDay
		}
		if next != days {
			t.Fatalf("ends at day %d of %d", next, days)
		}
	})
}

func TestGrowingSeason(t *testing.T) {
	r := blankRecord("2011-01-01", 200)
	for i := range r.Days {
		mean := 0.0
		if i >= 100 {
			mean = 20
		}
		r.Days[i].TMinC, r.Days[i].TMaxC = mean-3, mean+3
	}
	growing := r.Growing()
	// On day i the window i-15 to i+15 has i+15-99 warm days of 31, so its mean
	// is 20 (i-84) / 31, which first reaches 5 at i = 91.75.
	assert.False(t, growing[91])
	assert.True(t, growing[92])
	assert.False(t, growing[0])
	assert.True(t, growing[199])
}

func TestGrowingAtTheThresholdAndWithoutTemperature(t *testing.T) {
	assert.True(t, constantRecord(40, 0, 10).Growing()[20], "5 exactly is enough")
	assert.False(t, constantRecord(40, 0, 9.9).Growing()[20])
	for _, g := range constantRecord(40, math.NaN(), math.NaN()).Growing() {
		assert.True(t, g)
	}
}

func TestEvent95AndWettestHour(t *testing.T) {
	r := blankRecord("2011-01-01", 30)
	for day := range 20 {
		r.RainMM[24*day+3] = float64(day + 1) // 1 to 20 mm
	}
	r.RainMM[24*22] = 2.5 // under 0.1 in
	r.RainMM[24*25] = 500
	r.Missing[24*25+1] = true // a day with a missing hour does not count
	// 3 to 20 mm are above 2.54: 18 days, place 1 + 17 x 0.95 = 17.15, so
	// 19 + 0.15 = 19.15 mm (arithmetic).
	mm, days := Event95MM(r)
	assert.Equal(t, 18, days)
	assert.InDelta(t, 19.15, mm, 1e-9)
	mm, hour := WettestHour(r)
	assert.Equal(t, 500.0, mm)
	assert.Equal(t, 600, hour)

	mm, days = Event95MM(blankRecord("2011-01-01", 30))
	assert.Zero(t, mm)
	assert.Zero(t, days)
	_, hour = WettestHour(blankRecord("2011-01-01", 30))
	assert.Equal(t, -1, hour)
}
