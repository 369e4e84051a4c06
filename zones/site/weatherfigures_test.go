package site

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Figures of a real record against plain sums over the text of its file, four
// calendar years without a gap (testdata/records/SOURCES.md): the mean year is
// the total / 4, but for the share of the leap day.
func TestFiguresOfTwoCities(t *testing.T) {
	text, err := os.ReadFile(records + "seattle-newyork-daily-2012-2015.csv")
	require.NoError(t, err)
	for _, city := range []string{"Seattle", "New York"} {
		total, wettest, day, coldest, hottest := 0.0, 0.0, "", math.Inf(1), math.Inf(-1)
		for line := range strings.Lines(string(text)) {
			cells := strings.Split(line, ",")
			if cells[0] != city {
				continue
			}
			var v [3]float64 // rain, highest, lowest
			for i := range v {
				v[i], err = strconv.ParseFloat(cells[2+i], 64)
				require.NoError(t, err)
			}
			total += v[0]
			if v[0] > wettest {
				wettest, day = v[0], cells[1]
			}
			coldest, hottest = math.Min(coldest, v[2]), math.Max(hottest, v[1])
		}
		f := dailyCity(t, city).Figures()
		t.Logf("%s: %.1f mm a year, %.1f mm on %s, %.1f to %.1f deg C", city, f.MeanYearMM, f.WettestDayMM, day, f.ColdestC, f.HottestC)
		assert.InDelta(t, total/4, f.MeanYearMM, 2, city)
		assert.InDelta(t, wettest, f.WettestDayMM, 1e-9, city)
		assert.Equal(t, day, f.WettestDay.Format("2006-01-02"), city)
		assert.Equal(t, coldest, f.ColdestC, city)
		assert.Equal(t, hottest, f.HottestC, city)
	}
}

// By hand: 1 mm a day in January to June, 3 mm in July to December, of which
// there are 181.2425 and 184 days; half a year more of the dry half changes
// nothing, and neither does a gap.
func TestMeanYearIsNotSwayedByPartsOfYears(t *testing.T) {
	half := func(_, month int) float64 { return map[bool]float64{true: 1, false: 3}[month <= 6] }
	want := 181.2425*1 + 184*3
	text := wetYears(2, half)
	r := mustRead(t, text, Format{})
	assert.InDelta(t, want, r.Figures().MeanYearMM, 1e-9)
	assert.Equal(t, 3.0, r.Figures().WettestDayMM)
	assert.Equal(t, "2001-07-01", r.Figures().WettestDay.Format("2006-01-02"))
	assert.True(t, math.IsNaN(r.Figures().ColdestC))
	cut, _, _ := strings.Cut(text, "2002-7-1,")
	assert.InDelta(t, want, mustRead(t, cut, Format{}).Figures().MeanYearMM, 1e-9)
	assert.InDelta(t, want, mustRead(t, strings.Join(dropRows(text, "2001-8-"), "\n"), Format{}).Figures().MeanYearMM, 1e-9)
	// A month of which no year has 20 days leaves no mean year.
	cut, _, _ = strings.Cut(wetYears(1, half), "2001-12-20,")
	assert.True(t, math.IsNaN(mustRead(t, cut, Format{}).Figures().MeanYearMM))
	cut, _, _ = strings.Cut(wetYears(1, half), "2001-12-21,")
	assert.InDelta(t, want, mustRead(t, cut, Format{}).Figures().MeanYearMM, 1e-9)
}

// dropRows returns the rows of a text that do not begin so.
func dropRows(text, begin string) []string {
	var rows []string
	for _, row := range strings.Split(text, "\n") {
		if !strings.HasPrefix(row, begin) {
			rows = append(rows, row)
		}
	}
	return rows
}

func TestFiguresOfNothing(t *testing.T) {
	f := mustRead(t, "date,rain_mm\n2013-01-05,0\n", Format{}).Figures()
	assert.Zero(t, f.WettestDayMM)
	assert.True(t, f.WettestDay.IsZero())
	f = mustRead(t, "date,rain_mm\n2013-01-05,\n", Format{}).Figures()
	assert.True(t, math.IsNaN(f.WettestDayMM))
}

// A real city's record, written in one unit and read as another.
func TestRealRecordInTheWrongUnitWarns(t *testing.T) {
	text, err := os.ReadFile(records + "seattle-newyork-daily-2012-2015.csv")
	require.NoError(t, err)
	rewrite := func(scale float64) string {
		var b strings.Builder
		b.WriteString("date,rain,tmax,tmin\n")
		for line := range strings.Lines(string(text)) {
			if cells := strings.Split(line, ","); cells[0] == "Seattle" {
				mm, err := strconv.ParseFloat(cells[2], 64)
				require.NoError(t, err)
				fmt.Fprintf(&b, "%s,%.2f,%s,%s\n", cells[1], mm*scale, cells[3], cells[4])
			}
		}
		return b.String()
	}
	for _, c := range []struct {
		scale      float64
		rain, temp string
		want       string
	}{
		{1, "mm", "C", ""},
		{1, "mm", "F", "warning: the hottest day of the record has only 2 deg C (36 deg F): is the temperature unit right?"},
		{1, "mm", "0.1 C", "warning: the hottest day of the record has only 4 deg C"},
		{1 / 25.4, "mm", "C", "warning: wet days bring only 0.28 mm (0.011 in) on average and the wettest 2.2 mm (0.087 in)"},
		{0.1, "mm", "C", "warning: wet days bring only 0.7"},
		{10, "mm", "C", "11065 mm (436 in) of rain a year is more than nearly any place has"},
		{0, "mm", "C", "warning: no rain at all in 1461 days: are these zeros missing values?"},
	} {
		warnings := mustRead(t, rewrite(c.scale), Format{RainUnit: c.rain, TempUnit: c.temp}).Warnings()
		if c.want == "" {
			assert.Empty(t, warnings)
			continue
		}
		require.Len(t, warnings, 1, "%v", c)
		assert.Contains(t, warnings[0], c.want)
	}
}

func TestTemperaturesPastAnyPlaceWarn(t *testing.T) {
	year := func(low, high float64) []string {
		var b strings.Builder
		b.WriteString("date,rain_mm,tmin_c,tmax_c\n")
		for _, row := range dropRows(wetYears(1, func(int, int) float64 { return 4 }), "date") {
			if row != "" {
				fmt.Fprintf(&b, "%s,%g,%g\n", row, low, high)
			}
		}
		return mustRead(t, b.String(), Format{}).Warnings()
	}
	assert.Empty(t, year(7, 10))
	assert.Contains(t, year(6, 9.9)[0], "hottest day of the record has only 10 deg C")
	assert.Contains(t, year(20, 22.9)[0], "all temperatures lie between 20.0 and 22.9 deg C")
	assert.Empty(t, year(20, 23))
	assert.Empty(t, year(25, 45))
	assert.Contains(t, year(26, 45)[0], "the mean temperature of a year is 36 deg C (96 deg F)")
	assert.Empty(t, year(-62, 12))
	assert.Contains(t, year(-63, 12)[0], "the mean temperature of a year is -26 deg C")
}

func TestRainThatIsLikelyAMarker(t *testing.T) {
	days := func(values ...string) string {
		var b strings.Builder
		b.WriteString("date,rain\n")
		for i, v := range values {
			fmt.Fprintf(&b, "2013-01-%02d,%s\n", i+1, v)
		}
		return b.String()
	}
	assert.Equal(t, []string{`warning: rain of 999.9 on line 3 and 1 other row is at least five times that of any other row: if it means no value, set weather.missing: [M, "999.9"] in garden.yaml`},
		mustRead(t, days("199.98", "999.9", "3", "999.9"), Format{RainUnit: "mm", Missing: []string{"M"}}).Warnings())
	for text, unit := range map[string]string{
		days("0", "9.99", "1"):   "in",
		days("0", "99.99", "19"): "mm",
		days("0", "9999", "190"): "0.1 mm",
		days("0", "999"):         "0.01 in",
		days("0", "99.9", "1.5"): "cm",
	} {
		require.Len(t, mustRead(t, text, Format{RainUnit: unit}).Warnings(), 1, text)
	}
	// Less than five times the next; two nines; a marker that is declared.
	assert.Empty(t, mustRead(t, days("200", "999.9"), Format{RainUnit: "mm"}).Warnings())
	assert.Empty(t, mustRead(t, days("2", "99"), Format{RainUnit: "mm"}).Warnings())
	assert.Empty(t, mustRead(t, days("2", "999.9"), Format{RainUnit: "mm", Missing: []string{"999.9"}}).Warnings())
	// 99.99 in is 2,540 mm, past any day measured, and refused with the cure.
	assert.Equal(t, `rain.csv:3: rain: "2540 mm": want no more than 2000 mm of rain in one day; if 99.99 means no value, set weather.missing: ["99.99"] in garden.yaml`,
		faultOf(t, days("0", "99.99"), Format{RainUnit: "in"}))
}
