package site

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func read(text string, f Format) (*Record, error) {
	return ReadRecord("rain.csv", strings.NewReader(text), f, 40)
}

func mustRead(t *testing.T, text string, f Format) *Record {
	t.Helper()
	r, err := read(text, f)
	require.NoError(t, err)
	return r
}

// faultOf returns the message of a text that must be refused.
func faultOf(t *testing.T, text string, f Format) string {
	t.Helper()
	_, err := read(text, f)
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	return faults.Error()
}

// hours writes n hourly rows from midnight of a day, each with the same cells.
func hours(day string, n int, cells string) string {
	var b strings.Builder
	for h := range n {
		fmt.Fprintf(&b, "%s %02d:00%s\n", day, h, cells)
	}
	return b.String()
}

func TestHeadersUnitsAndSeparators(t *testing.T) {
	for _, c := range []struct {
		text string
		f    Format
		mm   float64
		note string
	}{
		{"date,rain_mm\n2013-01-05,3\n", Format{}, 3, "rain from column rain_mm, mm"},
		{"Date;Precip (in)\n2013-01-05;2\n", Format{}, 50.8, "rain from column Precip (in), inches"},
		{"DATE\tPRCP\n20130105\t254\n", Format{RainUnit: "0.1 mm"}, 25.4, "rain from column PRCP, tenths of mm"},
		{"date,prcp\n2013-1-5,100\n", Format{RainUnit: "0.01 in"}, 25.4, "rain from column prcp, hundredths of an inch"},
		{"date,rainfall [cm]\n2013/1/5,1.5\n", Format{}, 15, "rain from column rainfall [cm], cm"},
		{"\ufeffdate,rain_mm\r\n2013-01-05,3\r\n", Format{}, 3, "rows are daily"},
		{"when,wet,rain_in\n2013-01-05,3,9\n", Format{Columns: map[string]string{"date": "when", "rain": "WET"}, RainUnit: "mm"}, 3, "rain from column wet, mm"},
		{"date,rain_mm\n2013-01-05,  +3.0e0" + strings.Repeat(" ", 3000) + "\n", Format{}, 3, "rows are daily"},
		{"date,\"rain_mm\",\"a \"\"b\"\"\nc\"\n\n2013-01-05,\"3\",\n,,\n", Format{}, 3, "rows are daily"},
		{"date,rain_mm\n1/13/2013,3\n", Format{}, 3, "dates are month first, as 1/13/2013"},
		{"date,rain_mm\n13.1.2013,3\n", Format{}, 3, "dates are day first, as 13.1.2013"},
	} {
		r := mustRead(t, c.text, c.f)
		require.Len(t, r.Days, 1, c.text)
		mm, whole := r.DayRainMM(0)
		assert.Equal(t, c.mm, mm, c.text)
		assert.True(t, whole)
		assert.Contains(t, r.Notes, c.note)
		assert.Equal(t, "type-ii", r.Pattern)
		assert.Equal(t, "rain.csv", r.Source)
	}
	// The date order is told by any row of the file, or declared.
	r := mustRead(t, "date,rain_mm\n1/2/2013,3\n2/2/2013,1\n13/2/2013,1\n", Format{})
	assert.Equal(t, "2013-02-01", r.Start.Format("2006-01-02"))
	r = mustRead(t, "date,rain_mm\n1/12/2013,3\n1/13/2013,3\n2/1/2013,1\n", Format{})
	assert.Equal(t, "2013-01-12", r.Start.Format("2006-01-02"))
	r = mustRead(t, "date,rain_mm\n1/2/2013,3\n", Format{DateOrder: "mdy"})
	assert.Equal(t, "2013-01-02", r.Start.Format("2006-01-02"))
}

func TestNothingIsGuessed(t *testing.T) {
	for text, want := range map[string]string{
		"date,rain\n2013-01-05,3\n":                                   `rain.csv:1:6: rain: the header does not say the unit: set rain_unit to mm, 0.1 mm, cm, in or 0.01 in`,
		"date,rain_mm,tmax\n2013-01-05,3,9\n":                         `tmax: the header does not say the unit: set temp_unit`,
		"date,rain_c\n2013-01-05,3\n":                                 `want rain in mm`,
		"date,rain_mm,tmin_c,tmax_f\n2013-01-05,3,9,60\n":             `want one unit for all temperatures`,
		"date,rain_mm,precip_in\n2013-01-05,3,9\n":                    `both this column and rain_mm could be rain: say which under columns`,
		"day no,rain_mm\n1,3\n":                                       `no time or date column found`,
		"date,wet_mm\n2013-01-05,3\n":                                 `no rain column found: say which it is under columns; the header has "date", "wet_mm"`,
		"date,rain_mm\n1/5/2013,3\n2/5/2013,3\n":                      `rain.csv:2:1: date: "1/5/2013": day or month first?`,
		"date,rain_mm\n13/5/2013,3\n5/13/2013,3\n":                    `day or month first?`,
		"date,rain_mm\n2013-01-05,3\n1/6/2013,3\n":                    `day or month first?`,
		"time,rain_mm\n2013-01-05T00:00:00Z,3\n2013-01-05T01:00Z,1\n": `want the time zone of the garden`,
		"time_utc,rain_mm\n2013-01-05 00:00,3\n2013-01-05 01:00,1\n":  `times are in UTC: want the time zone of the garden`,
		"":               `the file is empty`,
		" \n\n":          `the file is empty`,
		"date,rain_mm\n": `the file has a header but no rows`,
		"d\x00":          `zero bytes`,
		"date,rain_mm,ü\n2013-01-05,3,\n2013-01-06,\xe9,\n": `rain.csv:3:12: a byte here is not UTF-8`,
	} {
		assert.Contains(t, faultOf(t, text, Format{}), want, text)
	}
	assert.Contains(t, faultOf(t, "date,rain_in\n2013-01-05,3\n", Format{RainUnit: "mm"}), "the header says in but rain_unit says mm")
	assert.Contains(t, faultOf(t, "date,a,a\n2013-01-05,3,4\n", Format{RainUnit: "mm", Columns: map[string]string{"rain": "a"}}), "two columns have this name")
	assert.Contains(t, faultOf(t, "date,a\n2013-01-05,3\n", Format{RainUnit: "mm", Columns: map[string]string{"rain": "b"}}), `"b": no such column: the header has "date", "a"`)
	assert.Contains(t, faultOf(t, "date,rain_mm\n2013-01-05,3\n", Format{Step: "hourly"}), "dates but no time of day")
	assert.Contains(t, faultOf(t, "time_utc,rain_mm\n2013-01-05 00:00,3\n", Format{Clock: "standard"}), "the header says UTC")
}

func TestFormatCheck(t *testing.T) {
	faults := Format{RainUnit: "ft", TempUnit: "K", AbsentRow: "no", Clock: "utc", Step: "weekly", Pattern: "x", DateOrder: "ymd",
		Columns: map[string]string{"snow": "a"}}.Check()
	assert.Len(t, faults, 8)
	assert.Contains(t, faults.Error(), `rain_unit: "ft": want one of mm, 0.1 mm, cm, in, 0.01 in`)
	assert.Empty(t, Format{}.Check())
	assert.Contains(t, Format{Missing: []string{"T"}, Trace: []string{"T"}}.Check().Error(), `trace: "T": this marker is listed under missing as well`)
	assert.Contains(t, faultOf(t, "date,rain_mm\n2013-01-05,3\n", Format{Pattern: "x"}), `rain.csv: pattern: "x": want one of type-ii, even, block-6h`)
}

func TestFaultsOfCellsComeAllAtOnce(t *testing.T) {
	text := "date,rain_mm,tmin_c,tmax_c,et0\n" +
		"2013-01-01,-1,0,1,1\n" + // negative
		"2013-01-02,NaN,0,1,1\n" +
		"2013-01-03,2,inf,1,1\n" +
		"2013-01-04,2,0,61,1\n" +
		"2013-01-05,2,-91,1,1\n" +
		"2013-01-06,2,5,4,1\n" +
		"2013-02-30,2,3,4,1\n" +
		"2013-01-08,\"1,5\",3,4,1\n" +
		"2013-01-09,1\n" +
		"2013-01-10,0x1p3,3,4,31\n" +
		"2013-01-11,1e400,3,4,1\n" +
		"2013-01-12,\"2\"x,3,4,1\n" +
		"2013-01-13 24:00,2,3,4,1\n"
	_, err := read(text, Format{})
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	var places []string
	for _, f := range faults {
		places = append(places, fmt.Sprintf("%d:%d", f.Line, f.Column))
	}
	assert.Equal(t, []string{"2:12", "3:12", "4:14", "5:16", "6:14", "7:14", "8:1", "9:12", "10:1", "11:12", "11:22", "12:12", "13:15", "14:1"}, places)
	assert.Equal(t, `rain.csv:2:12: rain_mm: "-1": want rain of 0 or more, or this marker listed under missing or trace`, faults[0].Error())
	assert.Contains(t, faults.Error(), `rain.csv:7:14: tmin_c: "5": want no more than tmax_c, which is 4`)
	assert.True(t, faults.BadInput())
}

func TestRainPastAnyMeasured(t *testing.T) {
	assert.Contains(t, faultOf(t, "date,rain_mm\n2013-01-05,2000\n2013-01-06,2001\n", Format{}), `rain.csv:3: rain_mm: "2001 mm": want no more than 2000 mm`)
	text := "time,rain_mm\n" + hours("2013-01-05", 23, ",500") + "2013-01-05 23:00,501\n"
	assert.Contains(t, faultOf(t, text, Format{}), `rain.csv:25: rain_mm: "501 mm": want no more than 500 mm`)
	text = "time,rain_mm\n" + hours("2013-01-05", 24, ",0") + "2013-01-05 23:30,300\n2013-01-05 23:45,300\n"
	assert.Contains(t, faultOf(t, text, Format{}), `"600 mm"`)
}

func TestMissingTraceAndZero(t *testing.T) {
	text := "date,rain_mm,tmin_c\n2013-01-01,0,1\n2013-01-02,,NA\n2013-01-03,-9999.0,2\n2013-01-04,T,2\n2013-01-05,-1,3\n2013-01-06,4,3\n"
	r := mustRead(t, text, Format{Missing: []string{"-9999", "NA"}, Trace: []string{"T", "-1"}})
	for day, want := range []struct {
		mm    float64
		whole bool
	}{{0, true}, {0, false}, {0, false}, {0, true}, {0, true}, {4, true}} {
		mm, whole := r.DayRainMM(day)
		assert.Equal(t, want.mm, mm, day)
		assert.Equal(t, want.whole, whole, day)
	}
	assert.Contains(t, r.Notes, "2 traces of rain, taken as 0 mm")
	assert.Contains(t, r.Notes, "48 hours of 144 without a rain value, the longest run 48")
	assert.True(t, math.IsNaN(r.Days[1].TMinC))
	// Undeclared, each of them is a fault and not a guess.
	faults := strings.Split(faultOf(t, text, Format{}), "\n")
	assert.Len(t, faults, 4)
}

func TestAbsentRows(t *testing.T) {
	text := "date,rain_mm\n2013-01-01,1\n2013-01-03,2\n"
	r := mustRead(t, text, Format{})
	assert.Equal(t, 24, r.MissingHours())
	assert.True(t, math.IsNaN(r.Days[1].TMaxC))
	r = mustRead(t, text, Format{AbsentRow: "dry"})
	assert.Zero(t, r.MissingHours())
	assert.Contains(t, r.Notes, "times without a row are taken as dry")
	assert.Equal(t, 24, mustRead(t, text, Format{AbsentRow: "missing"}).MissingHours())

	text = "time,rain_mm\n" + hours("2013-01-05", 3, ",1") + "2013-01-05 23:00,1\n"
	r = mustRead(t, text, Format{})
	assert.Equal(t, 20, r.MissingHours())
	assert.Equal(t, 20, r.LongestGapHours())
	assert.Zero(t, mustRead(t, text, Format{AbsentRow: "dry"}).MissingHours())
}

func TestOrderAndDuplicates(t *testing.T) {
	assert.Equal(t, "rain.csv:3:1: date: \"2013-01-05\": repeated: this time is on line 2 already\nrain.csv:4:1: date: \"2013-01-04\": want times in order: line 3 is later",
		faultOf(t, "date,rain_mm\n2013-01-05,1\n2013-01-05,1\n2013-01-04,1\n", Format{}))
	assert.Contains(t, faultOf(t, "time,rain_mm\n"+hours("2013-01-05", 24, ",1")+"2013-01-05 23:00,2\n", Format{}),
		`rain.csv:26:1: time: "2013-01-05 23:00": repeated: this time is on line 25 already`)
	assert.Contains(t, faultOf(t, "date,rain_mm\n1800-01-05,1\n2013-01-05,1\n2213-01-06,2\n", Format{}), `"2213-01-06": want a time`)
	assert.Contains(t, faultOf(t, "date,rain_mm\n1712-01-05,1\n2013-01-05,1\n", Format{}), `more than 300 years`)
}

func TestOneRowWrittenTwiceIsNoStation(t *testing.T) {
	text := "date,rain_mm,sky\n2013-01-05,1,clear\n2013-01-06,1,cloud\n2013-01-06,1,clear\n2013-01-07,1,cloud\n2013-01-08,1,clear\n"
	assert.Contains(t, faultOf(t, text, Format{}), `"2013-01-06": repeated: this time is on line 3 already`)
	text = "date,rain_mm,where\n2013-01-05,1,hill\n2013-01-05,1,dale\n2013-01-06,1,hill\n2013-01-06,2,dale\n"
	assert.Contains(t, faultOf(t, text, Format{}), `where: {where: dale}; found "dale", "hill"`)
	mm, _ := mustRead(t, text, Format{Where: map[string]string{"WHERE": "dale"}}).DayRainMM(1)
	assert.Equal(t, 2.0, mm)
}

func TestSeveralReadingsInAnHourAreAdded(t *testing.T) {
	text := "time,rain_mm\n" + hours("2013-01-05", 10, ",0") +
		"2013-01-05 10:00,1\n2013-01-05 10:15,2\n2013-01-05 10:30:30,3\n2013-01-05 11:00,1\n2013-01-05 11:20,\n2013-01-05 11:40,1\n" +
		"2013-01-05 23:59,5\n"
	r := mustRead(t, text, Format{})
	assert.Equal(t, 6.0, r.RainMM[10])
	assert.True(t, r.Missing[11], "part of the hour is missing")
	assert.Zero(t, r.RainMM[11])
	assert.Equal(t, 5.0, r.RainMM[23])
	assert.Contains(t, r.Notes, "4 readings in an hour that already had one: their rain is added up")
}

func TestPartialDaysAreCut(t *testing.T) {
	text := "time,rain_mm\n2013-01-04 22:00,1\n2013-01-04 23:00,1\n" + hours("2013-01-05", 24, ",2") + hours("2013-01-06", 23, ",3")
	r := mustRead(t, text, Format{})
	assert.Equal(t, "2013-01-05 00:00", r.Start.Format("2006-01-02 15:04"))
	assert.Len(t, r.Days, 1)
	assert.Contains(t, r.Notes, "cut to whole days: 2 hours at the beginning and 23 hours at the end left out")
	assert.Contains(t, faultOf(t, "time,rain_mm\n"+hours("2013-01-05", 23, ",1"), Format{}), "less than one whole day")
}

func TestDateAndHourInTwoColumns(t *testing.T) {
	var b strings.Builder
	b.WriteString("date,hour,rain_mm\n")
	for h := range 24 {
		fmt.Fprintf(&b, "2013-01-05,%d,%d\n", h, h)
	}
	r := mustRead(t, b.String(), Format{})
	assert.Equal(t, "hourly", r.Step)
	assert.Equal(t, 23.0, r.RainMM[23])
	assert.Contains(t, faultOf(t, b.String()+"2013-01-05,24,1\n", Format{}), `rain.csv:26:12: hour: "24": want a time of day from 0:00 to 23:59`)
	assert.Contains(t, faultOf(t, "date,hour,rain_mm\n2013-01-05 03:00,2,1\n", Format{}), `hour: "2": want a time of day`)
	// A date column beside a full time is not needed.
	r = mustRead(t, "date,time,rain_mm\nx,2013-01-05 00:00,1\nx,2013-01-05 23:00,1\n", Format{AbsentRow: "dry"})
	assert.Equal(t, "hourly", r.Step)
}

func TestHourlyTemperatureAndET0ByTheDay(t *testing.T) {
	var b strings.Builder
	b.WriteString("time,rain_mm,temp_f,et0_mm\n")
	for h := range 24 {
		fmt.Fprintf(&b, "2013-01-05 %02d:00,0,%d,0.1\n", h, 32+h)
	}
	for h := range 24 { // too few hours with temperature or ET0
		cells := ",0,,"
		if h < 17 {
			cells = ",0,50,0.1"
		}
		fmt.Fprintf(&b, "2013-01-06 %02d:00%s\n", h, cells)
	}
	r := mustRead(t, b.String(), Format{})
	assert.Equal(t, 0.0, r.Days[0].TMinC)
	assert.InDelta(t, 23/1.8, r.Days[0].TMaxC, 1e-12)
	assert.InDelta(t, 2.4, r.Days[0].ET0MM, 1e-12)
	assert.True(t, math.IsNaN(r.Days[1].TMinC))
	assert.True(t, math.IsNaN(r.Days[1].ET0MM))
	assert.Contains(t, r.Notes, "1 day with fewer than 18 hours of temperature: left without")
}

func TestTooLargeIsRefusedEarly(t *testing.T) {
	_, err := ReadRecord("rain.csv", hugeReader{}, Format{}, 40)
	assert.EqualError(t, err, "rain.csv: want a file of at most 200 MB")
}

// hugeReader says it is over the limit and fails the test's sense if it is
// read all the same.
type hugeReader struct{}

func (hugeReader) Len() int                 { return MaxRecordBytes + 1 }
func (hugeReader) Read([]byte) (int, error) { panic("read although too large") }

func TestTypedInDaysAcrossLeapYears(t *testing.T) {
	r := mustRead(t, "date,rain_mm\n2012-02-28,1\n2012-02-29,2\n2012-03-01,3\n", Format{})
	assert.Len(t, r.Days, 3)
	assert.Contains(t, faultOf(t, "date,rain_mm\n2013-02-29,1\n", Format{}), `"2013-02-29": want a time`)
	assert.Contains(t, faultOf(t, "date,rain_mm\n1900-02-29,1\n", Format{}), `"1900-02-29": want a time`)
}

// Whatever rain is written comes back: hours and days in step, the sum kept,
// and nothing in missing hours.
func TestAnyRecordKeepsLengthAndSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.IntRange(1, 40).Draw(t, "days")
		daily := rapid.Bool().Draw(t, "daily")
		var b strings.Builder
		total, missing, perDay := 0.0, 0, 24
		if daily {
			perDay = 1
		}
		b.WriteString("time,rain_mm\n")
		for i := range days * perDay {
			when := fmt.Sprintf("2012-%02d-%02d", 1+i/perDay/28, 1+i/perDay%28)
			if !daily {
				when += fmt.Sprintf("T%02d:00", i%24)
			}
			mm := rapid.IntRange(-1, 80).Draw(t, "mm")
			if mm < 0 {
				fmt.Fprintf(&b, "%s,\n", when)
				missing += 24 / perDay
				continue
			}
			total += float64(mm)
			fmt.Fprintf(&b, "%s,%d\n", when, mm)
		}
		r, err := read(b.String(), Format{Pattern: rapid.SampledFrom(Patterns()).Draw(t, "pattern"), Step: map[bool]string{true: "daily", false: "hourly"}[daily]})
		if err != nil {
			t.Fatal(err)
		}
		absent := 0 // from the 28th to the 1st some days have no row
		if days > 28 {
			absent = 24 * 3
		}
		sum := 0.0
		for h, mm := range r.RainMM {
			sum += mm
			if r.Missing[h] && mm != 0 {
				t.Fatalf("hour %d is missing with %v mm", h, mm)
			}
		}
		if len(r.RainMM) != 24*days+absent || len(r.Missing) != len(r.RainMM) || 24*len(r.Days) != len(r.RainMM) {
			t.Fatalf("%d hours and %d days for %d days", len(r.RainMM), len(r.Days), days)
		}
		if math.Abs(sum-total) > 1e-9 || r.MissingHours() != missing+absent {
			t.Fatalf("%v mm for %v, %d hours missing for %d", sum, total, r.MissingHours(), missing+absent)
		}
	})
}
