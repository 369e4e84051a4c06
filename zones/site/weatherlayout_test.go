package site

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rainOf sums the known rain of a record, and counts its days without any.
func rainOf(r *Record) (mm float64, missingDays int) {
	for day := range r.Days {
		depth, whole := r.DayRainMM(day)
		if mm += depth; !whole {
			missingDays++
		}
	}
	return mm, missingDays
}

// Sums and counts are those of a separate script over the same files (awk and
// Python; only rows without a quality flag).
func TestLongFilesByStation(t *testing.T) {
	r, err := readFile(t, "ghcn-daily-USC00106388-1998-1999.csv", Format{}, 45)
	require.NoError(t, err)
	mm, missing := rainOf(r)
	assert.InDelta(t, 1215.5, mm, 1e-6)
	assert.Equal(t, len(r.Days)-680, missing)
	f := r.Figures()
	assert.Equal(t, -28.9, f.ColdestC)
	assert.Equal(t, 37.2, f.HottestC)
	assert.Contains(t, r.Notes, "75 figures marked as failing a check: taken as missing")
	assert.Contains(t, r.Notes, "8 traces of rain, taken as 0 mm")
	assert.Contains(t, r.Notes, "556 days that the observer left blank and the file has as 0: taken as dry")

	r, err = readFile(t, "ghcn-daily-USC00227840-1992.csv", Format{}, 30)
	require.NoError(t, err)
	mm, missing = rainOf(r)
	assert.InDelta(t, 1695.1, mm, 1e-6)
	assert.Len(t, r.Days, 366)
	assert.Equal(t, 2, missing)
}

func TestLongFilesThatAreWrong(t *testing.T) {
	const row = "USC00000001,19810102,PRCP,25,,,0,0800\n"
	for text, want := range map[string]string{
		row + row: `rain.csv:2:13: PRCP: "19810102": repeated: this day is on line 1 already`,
		row + "USC00000002,19810102,PRCP,25,,,0,0800\n": `several stations in one file: choose one with where, such as where: {station: USC00000001}`,
		row + "USC00000001,19810103,PRCP,x,,,0,0800\n":  `rain.csv:2:27: value: "x": want a number of tenths of mm`,
		row + "USC00000001,19811303,PRCP,1,,,0,0800\n":  `rain.csv:2:13: date: "19811303": want a date such as 20130105`,
		row + "USC00000001,1981\n":                      `rain.csv:2:1: want 8 cells as in the header, not 2`,
		strings.Replace(row, "PRCP", "TMAX", 1):         `no row has the element PRCP`,
	} {
		assert.Contains(t, faultOf(t, text, Format{}), want, text)
	}
	assert.Contains(t, faultOf(t, row, Format{RainUnit: "in"}), `rain_unit: "in": a file of station, date, element and value is in tenths of mm and deg C`)
	r := mustRead(t, "ID,DATE,ELEMENT,DATA_VALUE,M,Q,S,T\n"+row+strings.Replace(row, "01,", "02,", 1)+"USC00000001,19810102,SNOW,9,,,0,\nUSC00000001,19810103,PRCP,7,,X,0,\nUSC00000001,19810104,PRCP,-9999,,,,\n"+
		"USC00000001,19810102,TMAX,10,,,0,\nUSC00000001,19810102,TMIN,20,,,0,\n", Format{Where: map[string]string{"station": "USC00000001"}})
	mm, missing := rainOf(r)
	assert.Equal(t, []any{2.5, 2, 3}, []any{mm, missing, len(r.Days)})
	assert.True(t, math.IsNaN(r.Days[0].TMinC))
	assert.Contains(t, r.Notes, "1 day with the lowest temperature above the highest: left without")
}

// The file has 1,095 rows, whose rain adds up to 1,898.92 mm (a separate
// script); 2012 is a leap year, and its 31 December is no gap.
func TestGriddedFileOf365DayYears(t *testing.T) {
	r, err := readFile(t, "daymet-mn214026-2011-2013.csv", Format{}, 48.6)
	require.NoError(t, err)
	assert.Len(t, r.Days, 1096)
	mm, missing := rainOf(r)
	assert.InDelta(t, 1898.92, mm, 1e-6)
	assert.Zero(t, missing)
	last := 365 + 365 // 31 December 2012
	assert.Equal(t, "2012-12-31", r.dayTime(last).Format("2006-01-02"))
	assert.InDelta(t, (r.Days[last-1].TMinC+r.Days[last+1].TMinC)/2, r.Days[last].TMinC, 1e-12)
	assert.Contains(t, r.Notes, "the header is on line 7; what stands before it is passed over")
	assert.Contains(t, r.Notes, "years have 365 days: 31 December of 1 leap year is taken as dry, and as warm as the days beside it")

	text := "year,yday,rain_mm\n2012,365,1\n2013,1,2\n"
	_, missing = rainOf(mustRead(t, text, Format{AbsentRow: "missing"}))
	assert.Equal(t, 1, missing, "as declared")
	r = mustRead(t, "year,yday,rain_mm\n2008,366,0\n2012,365,1\n2013,1,2\n", Format{})
	_, whole := r.DayRainMM(len(r.Days) - 2)
	assert.False(t, whole, "a file that has the day elsewhere lacks it here")
}

// One day in many dresses: 5 January 2013 with 3.5 mm, and one before and after.
func TestLayoutsAreReadUntouched(t *testing.T) {
	for name, text := range map[string]string{
		"blanks":            "date        rain_mm  tmax_c\n2013-01-04    0.0     1.0\n2013-01-05    3.5\t 2.0\n2013-01-06    1.0     3.0\n",
		"blanks and parts":  "# made by hand\n# year mo dy  prec(mm)  tmax(C)\n 2013  1  4   0.0   1.0\n 2013  1  5   3.5   2.0\n 2013  1  6   1.0   3.0\n",
		"parts":             "Station,Year,Month,Day,Rainfall amount (millimetres),Maximum temperature (Degree C),Quality\n1,2013,01,04,0,1,Y\n1,2013,01,05,3.5,2,Y\n1,2013,01,06,1,3,Y\n",
		"parts beside date": "\"Date/Time\",\"Year\",\"Month\",\"Day\",\"Max Temp (°C)\",\"Total Rain (mm)\",\"Total Snow (cm)\",\"Total Precip (mm)\",\"Total Precip Flag\"\n2013-01-04,2013,1,4,1,0,0,0,\n2013-01-05,2013,1,5,2,0.5,3,3.5,E\n2013-01-06,2013,1,6,3,1,0,1,\n",
		"day of the year":   "YEAR,DOY,PRCP_MM,TMAX_C\n2013,4,0,1\n2013,5,3.5,2\n2013,6,1,3\n",
		"preamble":          "latitude,longitude,elevation\n52.5,13.4,38\n\ntime,precipitation_sum (mm),rain_sum (mm),temperature_2m_max (°C)\n2013-01-04,0,0,1\n2013-01-05,3.5,0,2\n2013-01-06,1,1,3\n",
		"latin-1":           "Datum;Niederschlag (mm);Tmax (\xb0C);Bemerkung\r\n04.01.2013;0,0;1,0;tr\xfcb\r\n05.01.2013;3,5;2,0;\r\n13.01.2013;1,0;3,0;\r\n",
		"utf-16":            utf16("date\train_mm\ttmax_c\n2013-01-04\t0\t1\n2013-01-05\t3,5\t2\n2013-01-06\t1\t3\n"),
		"thousandths":       "date;rain_cm;tmax_c\n2013-01-04;0,0;1\n2013-01-05;0,350;2\n2013-01-06;1,000;3\n",
		"thousandths first": "date;rain_mm;tmax_c\n2013-01-04;0;1\n2013-01-05;3,500;2\n2013-01-06;1,0;3\n",
		"no snow":           "date,Total Rain (mm),tmax_c\n2013-01-04,0,1\n2013-01-05,3.5,2\n2013-01-06,1,3\n",
	} {
		t.Run(name, func(t *testing.T) {
			r := mustRead(t, text, Format{})
			day := int(time.Date(2013, 1, 5, 0, 0, 0, 0, time.UTC).Sub(time.Date(r.Start.Year(), r.Start.Month(), r.Start.Day(), 0, 0, 0, 0, time.UTC)).Hours() / 24)
			assert.Equal(t, 1, day)
			mm, whole := r.DayRainMM(day)
			assert.InDelta(t, 3.5, mm, 1e-12)
			assert.True(t, whole)
			assert.Equal(t, 2.0, r.Days[day].TMaxC)
			assert.Equal(t, "daily", r.Step)
		})
	}
}

func utf16(text string) string {
	var b strings.Builder
	b.WriteString("\xff\xfe")
	for _, r := range text {
		b.WriteByte(byte(r))
		b.WriteByte(byte(r >> 8))
	}
	return b.String()
}

// Nothing is guessed where a comma may part thousands, or decimals have both.
func TestCommasThatCannotBeTold(t *testing.T) {
	assert.Equal(t, `rain.csv:2:12: rain_mm: "1,500": a decimal comma, or thousands? no other figure of the file tells: write 1.500, or 1500`,
		faultOf(t, "date;rain_mm\n2013-01-04;1,500\n2013-01-05;2\n", Format{}))
	assert.Equal(t, `rain.csv:3:12: "1.500": a point here, and a comma in 2,5 on line 2: want one of the two for decimals, and nothing between thousands`,
		faultOf(t, "date;rain_mm\n2013-01-04;2,5\n2013-01-05;1.500\n", Format{}))
	assert.Contains(t, faultOf(t, "year,month,day,rain_mm\n2013,2,29,1\n", Format{}), `rain.csv:2:8: day: "29": want a day from 1 to 28`)
	assert.Contains(t, faultOf(t, "year,month,day,rain_mm\n2013,13,29,1\n13,1,1,1\n", Format{}), `rain.csv:2:6: month: "13": want a month from 1 to 12`)
	assert.Contains(t, faultOf(t, "year,yday,rain_mm\n2013,366,1\n", Format{}), `want a day of the year from 1 to 365`)
	assert.Contains(t, faultOf(t, "year,rain_mm\n2013,1\n", Format{}), `no time or date column found`)
	r := mustRead(t, "a;b;c;hour;rain_mm\n2013;1;5;0;1\n2013;1;5;23;1\n", Format{Columns: map[string]string{"year": "a", "month": "b", "day": "c"}, AbsentRow: "dry"})
	assert.Equal(t, "hourly", r.Step)
}

// summary writes a daily summary as NOAA's are, with figures made by f.
func summary(days int, f func(day int) (prcp, tmax, tmin string)) string {
	var b strings.Builder
	b.WriteString("\"STATION\",\"DATE\",\"PRCP\",\"TMAX\",\"TMIN\"\n")
	for i := range days {
		p, hi, lo := f(i)
		fmt.Fprintf(&b, "\"USC1\",\"%s\",\"%s\",\"%s\",\"%s\"\n", time.Date(2013, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2006-01-02"), p, hi, lo)
	}
	return b.String()
}

// Daily summaries name no unit: their figures do, or the answer is a question.
func TestDailySummariesTellTheirUnits(t *testing.T) {
	season := func(i int) float64 { return 10 - 15*math.Cos(2*math.Pi*float64(i)/365) } // deg C
	forms := map[string]func(i int) (string, string, string){
		"0.1 mm and 0.1 C": func(i int) (string, string, string) {
			return fmt.Sprint(i % 3 * 127), fmt.Sprintf("%.0f", 10*season(i)+50), fmt.Sprintf("%.0f", 10*season(i)-50)
		},
		"mm and C": func(i int) (string, string, string) {
			return fmt.Sprintf("%.1f", float64(i%3)*12.7), fmt.Sprintf("%.1f", season(i)+5), fmt.Sprintf("%.1f", season(i)-5)
		},
		"in and F": func(i int) (string, string, string) {
			return fmt.Sprintf("%.2f", float64(i%3)/2), fmt.Sprintf("%.0f", 1.8*season(i)+41), fmt.Sprintf("%.0f", 1.8*season(i)+23)
		},
	}
	for units, form := range forms {
		r := mustRead(t, summary(365, form), Format{})
		assert.Contains(t, r.Notes, "the header names no units; the figures of PRCP, TMAX and TMIN are those of "+units)
		mm, _ := r.DayRainMM(1)
		assert.InDelta(t, 12.7, mm, 0.01, units)
		assert.InDelta(t, 30, r.Figures().HottestC, 0.3, units)
		assert.Contains(t, faultOf(t, summary(59, form), Format{}), "rain.csv:1:18: PRCP: the header does not say the unit: set rain_unit to mm, 0.1 mm, cm, in or 0.01 in, such as weather: {rain_unit: mm} in garden.yaml", units)
	}
	whole := func(i int) (string, string, string) {
		return fmt.Sprint(i % 3), fmt.Sprint(i % 50), fmt.Sprint(i%50 - 9)
	}
	assert.Contains(t, faultOf(t, summary(365, whole), Format{}), "does not say the unit")
}
