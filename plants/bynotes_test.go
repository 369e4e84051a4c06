package plants

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

func watchedBed(t *testing.T, rows ...string) *season.Notes {
	t.Helper()
	rec, err := season.Read("season.csv", strings.NewReader("date,stake,kind,pond_mm,left_mm,from,to\n"+strings.Join(rows, "\n")+"\n"))
	require.NoError(t, err)
	return rec
}

func lotWith(t *testing.T, soil string, rec *site.Record) *zones.Lot {
	t.Helper()
	return expose(t, map[string]string{"soil": soil, "mix": "{texture: loamy sand, depth: 450 mm}"}, rec).Lot
}

// One fall that could be read at both ends: ln 6 within a factor of 2 in nine cases of ten
// (sd ln 2 / 1.6449 = 0.4214), and 64 mm in 4 h, normal about 4 r with the standard
// deviation hypot(0.25 (4 r), 6 sqrt 2). Quantiles by scipy, a sum over 400,001 rates:
// 8.442, 11.941 and 17.110 mm/h.
func TestRateByOneFall(t *testing.T) {
	l := lotWith(t, "{rate: 6 mm/h}", someYears(1))
	got := ByNotes(l, watchedBed(t, "2001-06-10,bottom,pond,100,36,08:00,12:00"))
	assert.Equal(t, 1, got.Ponds)
	assert.InDelta(t, 11.941, got.RateMMH, 0.05)
	assert.InDelta(t, 8.442, got.LowMMH, 0.05)
	assert.InDelta(t, 17.110, got.TopMMH, 0.1)
	assert.Equal(t, 6.0, got.TestedMMH)
	g := got.Garden(l.Garden)
	assert.Equal(t, []float64{got.RateMMH, 1}, []float64{g.Soil.RateMMH, g.Soil.SafetyFactor})
	assert.Equal(t, 6.0, l.Garden.Soil.RateMMH, "the garden itself stays")
}

// Gone by an hour bounds the rate from below alone; readings with water in
// between, days apart or single, teach nothing.
func TestWhatPondsTeach(t *testing.T) {
	l := lotWith(t, "{rate: 6 mm/h}", someYears(1))
	slow := ByNotes(l, watchedBed(t, "2001-06-10,bottom,pond,100,0,08:00,06:00"))
	assert.InDelta(t, 6.6, slow.RateMMH, 0.7, "100 mm in 22 h say little of 6 mm/h")
	fast := ByNotes(l, watchedBed(t, "2001-06-10,bottom,pond,100,0,08:00,12:00"))
	assert.Greater(t, fast.LowMMH, 12.0, "gone in four hours: 25 mm/h or nearly, at least")
	for _, rows := range [][]string{
		{"2001-06-10,bottom,pond,50,,08:00,", "2001-06-10,bottom,pond,80,,12:00,"},
		{"2001-06-10,bottom,pond,50,,08:00,", "2001-06-14,bottom,pond,20,,08:00,"},
		{"2001-06-10,bottom,pond,,50,,18:00"},
	} {
		got := ByNotes(l, watchedBed(t, rows...))
		assert.True(t, math.IsNaN(got.RateMMH), "%v", rows)
		assert.Equal(t, l.Garden.Soil.RateMMH, got.Garden(l.Garden).Soil.RateMMH, "%v", rows)
	}
	two := ByNotes(l, watchedBed(t, "2001-06-10,bottom,pond,100,,08:00,", "2001-06-10,bottom,pond,36,,12:00,"))
	one := ByNotes(l, watchedBed(t, "2001-06-10,bottom,pond,100,36,08:00,12:00"))
	assert.Equal(t, one.RateMMH, two.RateMMH, "in two notes or in one")
	assert.Less(t, one.GroundSD, math.Log(2)/1.645, "surer than the test was")
	assert.Equal(t, one.GroundSD, one.Garden(l.Garden).Soil.KnownSD)
	assert.Zero(t, ByNotes(l, watchedBed(t)).Garden(l.Garden).Soil.KnownSD)
}

// Ponds of the balance itself, read in the hours after rain on ground of 3 to 40
// mm/h, teach that rate though 10 mm/h were tested.
func TestPondsOfTheBalanceTeachItsRate(t *testing.T) {
	for _, rate := range []float64{3, 9, 20} {
		rec := someYears(1)
		truth := lotWith(t, fmt.Sprintf("{rate: %g mm/h, safety_factor: 1}", rate), rec)
		hours, err := water.Hours(truth.Setup(), rec, 0, len(rec.Days))
		require.NoError(t, err)
		floor := -truth.Garden.Bed.PondingDepthMM
		var rows []string
		for h := 0; h+3 < len(hours) && len(rows) < 6; h++ {
			after := hours[h+2]
			if dry := hours[h].RainMM+hours[h+1].RainMM+after.RainMM == 0; dry && hours[h].Pond && after.Pond && h%24 < 20 {
				day := rec.Start.AddDate(0, 0, h/24).Format("2006-01-02")
				rows = append(rows, fmt.Sprintf("%s,bottom,pond,%.0f,%.0f,%02d:00,%02d:00", day, hours[h].LevelMM-floor, after.LevelMM-floor, h%24+1, h%24+3))
				h += 24
			}
		}
		require.NotEmpty(t, rows, rate)
		got := ByNotes(lotWith(t, "{rate: 10 mm/h}", rec), watchedBed(t, rows...))
		t.Logf("%g mm/h: %.1f (%.1f to %.1f) from %d", rate, got.RateMMH, got.LowMMH, got.TopMMH, got.Ponds)
		assert.Less(t, got.LowMMH, rate)
		assert.Greater(t, got.TopMMH, rate)
	}
}

// Sun, by hand: 6 h stated (sd 1.5) and a day of 4 h (sd 1) near the solstice at 45
// deg north, 15.4 h of daylight against the season's mean: weights 0.444 and 1.
func TestSunByNotes(t *testing.T) {
	e := exposeAt(t, "45", map[string]string{"sun": "{bottom: 6 h, slope: 6 h, rim: 6 h}"}, someYears(1))
	got := ByNotes(e.Lot, watchedBed(t, "2001-06-21,bottom,sun,,,10:00,12:00", "2001-06-21,bottom,sun,,,13:00,15:00"))
	require.Len(t, got.Sun, 1)
	day := 4 * seasonDaylight(e.Lot) / 15.43 // the almanac's 15 h 37 min less refraction and the sun's disc, from memory
	assert.InDelta(t, (6/2.25+day)/(1/2.25+1), got.Sun[0].Hours, 0.02)
	assert.InDelta(t, 1.645/math.Sqrt(1/2.25+1), got.Sun[0].WithinH, 0.01)
	g := got.Garden(e.Lot.Garden)
	assert.Equal(t, []float64{got.Sun[0].Hours, 6, 6}, []float64{g.Sun.BottomH, g.Sun.SlopeH, g.Sun.RimH})
	assert.InDelta(t, 13.4, seasonDaylight(e.Lot), 0.7)
}
