package site

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// typed writes n daily rows from 2013-01-01 with what cells gives for each, in
// a separator and a way to write the date.
func typed(header string, n int, layout, sep string, cells func(i int) string) string {
	var b strings.Builder
	b.WriteString(header + "\n")
	for i := range n {
		b.WriteString(time.Date(2013, 1, 1+i, 0, 0, 0, 0, time.UTC).Format(layout) + sep + cells(i) + "\n")
	}
	return b.String()
}

const isoDay = "2006-01-02"

// every returns cells that are odd on every third day and "1" else.
func every(odd string) func(int) string {
	return func(i int) string {
		if i%3 == 0 {
			return odd
		}
		return "1"
	}
}

func TestOneFaultOfManyRowsIsSaidOnceWithItsCure(t *testing.T) {
	for _, c := range []struct {
		cell string
		f    Format
		want string
	}{
		{"-9999", Format{}, `"-9999": want rain of 0 or more; the same in 29 more rows, up to line 89; if it means no value, set weather.missing: ["-9999"] in garden.yaml`},
		{"-99.0", Format{Missing: []string{"M"}}, `"-99.0": want rain of 0 or more; the same in 29 more rows, up to line 89; if it means no value, set weather.missing: [M, "-99.0"] in garden.yaml`},
		{"T", Format{}, `"T": want a number of mm; the same in 29 more rows, up to line 89; if it means a trace of rain, set weather.trace: [T] in garden.yaml`},
		{"NA", Format{}, `"NA": want a number of mm; the same in 29 more rows, up to line 89; if it means no value, set weather.missing: [NA] in garden.yaml`},
		{"null", Format{}, `"null": want a number of mm; the same in 29 more rows, up to line 89; if it means no value, set weather.missing: ["null"] in garden.yaml`},
		{"-1", Format{}, `"-1": want rain of 0 or more; the same in 29 more rows, up to line 89; if it means no value, set weather.missing: ["-1"] in garden.yaml, or under trace if it means a trace of rain`},
		{"drizzle", Format{}, `"drizzle": want a number of mm; the same in 29 more rows, up to line 89; is this the right column? say which under weather.columns in garden.yaml`},
	} {
		text := typed("date,rain_mm", 90, isoDay, ",", every(c.cell))
		assert.Equal(t, "rain.csv:2:12: rain_mm: "+c.want, faultOf(t, text, c.f))
	}
	// T means a trace of rain; it cannot mean no value elsewhere.
	text := typed("date,rain_mm,tmin_c", 90, isoDay, ",", every("T,T"))
	assert.NotContains(t, faultOf(t, strings.ReplaceAll(text, ",1\n", ",1,1\n"), Format{}), "weather.missing")
	// The line that is shown is the cure.
	mustRead(t, typed("date,rain_mm", 90, isoDay, ",", every("-9999")), Format{Missing: []string{"-9999"}})
	// One or three stand by themselves, with the cure; four are gathered.
	three := typed("date,rain_mm", 8, isoDay, ",", every("-9999"))
	assert.Len(t, strings.Split(faultOf(t, three, Format{}), "\n"), 3)
	assert.Contains(t, faultOf(t, three, Format{}), `rain.csv:5:12: rain_mm: "-9999": want rain of 0 or more; if it means no value, set weather.missing: ["-9999"] in garden.yaml`)
	assert.Contains(t, faultOf(t, typed("date,rain_mm", 10, isoDay, ",", every("-9999")), Format{}), "the same in 3 more rows, up to line 11")
}

// Several markers, in several columns: one line of garden.yaml cures them all.
func TestOneLineCuresAllMarkers(t *testing.T) {
	text := typed("date,rain_mm,tmin_c,tmax_c", 90, isoDay, ",", func(i int) string {
		return []string{"T,-999.9,9", "M,2,NaN", "1,2,9"}[i%3]
	})
	assert.Equal(t, `rain.csv:2:12: rain_mm: "T": want a number of mm; the same in 29 more rows, up to line 89; if it means a trace of rain, set weather.trace: [T] in garden.yaml
rain.csv:2:14: tmin_c: "-999.9": want a figure of -90 to 60 when turned from deg C; the same in 29 more rows, up to line 89; if it means no value, set weather.missing: ["-999.9", M, NaN] in garden.yaml
rain.csv:3:12: rain_mm: "M": want a number of mm; the same in 29 more rows, up to line 90; if it means no value, set weather.missing: ["-999.9", M, NaN] in garden.yaml
rain.csv:3:16: tmax_c: "NaN": want a number of deg C; the same in 29 more rows, up to line 90; if it means no value, set weather.missing: ["-999.9", M, NaN] in garden.yaml`,
		faultOf(t, text, Format{}))
	mustRead(t, text, Format{Missing: []string{"-999.9", "M", "NaN"}, Trace: []string{"T"}})
}

func TestWrongColumnsAndUnitsAreSaidOnce(t *testing.T) {
	swapped := typed("date,rain_mm,lo (C),tmax_c", 90, isoDay, ",", func(i int) string { return fmt.Sprintf("1,%d,%d", 10+i%9, i%9) })
	f := Format{Columns: map[string]string{"tmin": "lo (C)"}}
	assert.Equal(t, `rain.csv:2:14: lo (C): "10": want no more than tmax_c, which is 0; the like in 89 more rows, up to line 91; `+
		`if the two columns are swapped, set weather.columns: {tmin: tmax_c, tmax: "lo (C)"} in garden.yaml`, faultOf(t, swapped, f))
	mustRead(t, swapped, Format{Columns: map[string]string{"tmin": "tmax_c", "tmax": "lo (C)"}})

	hot := typed("date,rain_mm,tmin_c,tmax_c", 90, isoDay, ",", func(i int) string { return fmt.Sprintf("1,50,%d", 70+i%30) })
	assert.Equal(t, `rain.csv:2:17: tmax_c: "70": want a figure of -90 to 60 when turned from deg C; the like in 89 more rows, up to line 91; `+
		`if it is in deg F, let the header say so, or set weather.temp_unit: F in garden.yaml if it names no unit`, faultOf(t, hot, Format{}))

	cold := typed("date,rain_mm", 90, isoDay, ",", func(i int) string { return fmt.Sprintf("-%d.5", i%20) })
	assert.Equal(t, `rain.csv:2:12: rain_mm: "-0.5": want rain of 0 or more; the like in 89 more rows, up to line 91; `+
		`is this the right column? say which under weather.columns in garden.yaml`, faultOf(t, cold, Format{}))

	short := typed("date,rain_mm,x", 60, isoDay, ",", func(int) string { return "1" })
	assert.Equal(t, "rain.csv:2:1: want 3 cells as in the header, not 2; the same in 59 more rows, up to line 61", faultOf(t, short, Format{}))
}

func TestDecimalCommaIsSaidOnce(t *testing.T) {
	text := typed("date;rain_mm;tmin_c;tmax_c", 51, isoDay, ";", func(i int) string { return fmt.Sprintf("0,%d;-1,5;9,%d", i, i) })
	commas, points := mustRead(t, text, Format{}), mustRead(t, strings.ReplaceAll(text, ",", "."), Format{})
	assert.Equal(t, points.RainMM, commas.RainMM, "semicolons leave commas to decimals")
	assert.Equal(t, points.Figures().HottestC, commas.Figures().HottestC)
	assert.Contains(t, commas.Notes, "decimals have a comma")
	text = strings.ReplaceAll(text, ";", "\",\"")
	text = "\"" + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\"\n\"") + "\"\n"
	assert.Equal(t, `rain.csv:2:14: rain_mm: "0,0": decimals must have a point, such as 0.0; the same in 50 more rows, up to line 52`, faultOf(t, text, Format{}))
	assert.Equal(t, `rain.csv:2:12: rain_mm: "1,5": decimals must have a point, such as 1.5`, faultOf(t, "date,rain_mm\n2013-01-01,\"1,5\"\n", Format{}))
}

func TestWrongDateOrderIsOneFault(t *testing.T) {
	text := typed("date,rain_mm", 51, "2/1/2006", ",", every("2"))
	assert.Equal(t, `rain.csv:14:1: date: "13/1/2013": date_order is mdy, but dates in this file are day first: set weather.date_order: dmy in garden.yaml`,
		faultOf(t, text, Format{DateOrder: "mdy"}))
	mustRead(t, text, Format{DateOrder: "dmy"})
	text = typed("date,rain_mm", 51, "01/02/2006", ",", every("2"))
	assert.Equal(t, `rain.csv:14:1: date: "01/13/2013": date_order is dmy, but dates in this file are month first: set weather.date_order: mdy in garden.yaml`,
		faultOf(t, text, Format{DateOrder: "dmy"}))
	mustRead(t, text, Format{DateOrder: "mdy"})
	// Both orders in one file: no setting cures that.
	both := "date,rain_mm\n13/5/2013,3\n5/13/2013,3\n"
	assert.Equal(t, `rain.csv:2:1: date: "13/5/2013": day or month first? this date has the day first, "5/13/2013" on line 3 the month: want one order, or dates such as 2013-01-05`,
		faultOf(t, both, Format{}))
	assert.Contains(t, faultOf(t, both, Format{DateOrder: "mdy"}), `rain.csv:2:1: date: "13/5/2013": want a time such as`)
	// Many dates that no order makes sense of are one fault too.
	assert.Equal(t, `rain.csv:2:1: date: "13.Jan.01": want a time such as 2013-01-05 15:04 or a date such as 2013-01-05, hours from 0 to 23; the like in 50 more rows, up to line 52`,
		faultOf(t, typed("date,rain_mm", 51, "06.Jan.02", ",", every("2")), Format{}))
}

func TestDaysRepeatedLaterInTheFile(t *testing.T) {
	days := typed("date,rain_mm", 20, isoDay, ",", every("2"))
	again := strings.SplitAfterN(days, "\n", 6)[5] // from 5 January on
	assert.Equal(t, `rain.csv:22:1: date: "2013-01-05": repeated: this time is on line 6 already; the like in 15 more rows, up to line 37; keep one row for each time`,
		faultOf(t, days+again, Format{}))
	assert.Equal(t, "rain.csv:22:1: date: \"2013-01-05\": repeated: this time is on line 6 already\n"+
		"rain.csv:24:1: date: \"2013-01-03\": want times in order: line 23 is later",
		faultOf(t, strings.Replace(days, "2013-01-03,1\n", "\n", 1)+"2013-01-05,2\n2013-01-25,1\n2013-01-03,1\n", Format{}))
}

func TestLinesThatEndInCROnly(t *testing.T) {
	text := "date,rain_mm\r2013-01-05,1\r2013-01-06,1\r"
	assert.Equal(t, "rain.csv:1:1: the lines end in a carriage return alone: want a line feed, or both", faultOf(t, text, Format{}))
	mustRead(t, strings.ReplaceAll(text, "\r", "\r\n"), Format{})
	assert.Contains(t, faultOf(t, "date,rain_mm\r", Format{}), "no rows")
}

// Two cities in one file, with a marker that is not declared: what to do about
// the cities comes first, and the marker is not lost.
func TestStationsAreAskedForBesideOtherFaults(t *testing.T) {
	text, err := os.ReadFile(records + "seattle-newyork-daily-2012-2015.csv")
	require.NoError(t, err)
	rain := regexp.MustCompile(`(?m)^([^,]*,[^,]*),0\.0,`).ReplaceAllString(string(text), "$1,T,")
	_, err = read(rain, Format{RainUnit: "mm", TempUnit: "C"})
	lines := strings.Split(err.Error(), "\n")
	require.Len(t, lines, 2)
	assert.Equal(t, `rain.csv: location: several stations in one file: choose one with where, such as where: {location: New York}; found "New York", "Seattle"`, lines[0])
	assert.Regexp(t, `^rain.csv:2:20: precipitation: "T": want a number of mm; the same in 1\d\d\d more rows.*set weather.trace: \[T\] in garden.yaml$`, lines[1])
	// With one of them chosen, no question.
	_, err = read(rain, Format{RainUnit: "mm", TempUnit: "C", Where: map[string]string{"location": "Seattle"}})
	assert.NotContains(t, err.Error(), "several stations")
	// Rows in order are one station, whatever else is wrong.
	assert.NotContains(t, faultOf(t, "date,rain_mm,name\n2013-01-01,x,a\n2013-01-02,1,b\n2013-01-03,1,a\n2013-01-04,1,b\n", Format{}), "several stations")
}

// However odd the cells, every row at fault is spoken for: the faults listed
// and the rows they count add up to the rows that are wrong.
func TestNoFaultIsLostByGathering(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		odd := rapid.SampledFrom([]string{"", "1", "2.5", "T", "x", "y", "z", "-1", "-2", "-9999", "w", "v", "u", "-3", "-4", "-5", "-6"})
		cells := rapid.SliceOfN(odd, 1, 80).Draw(t, "cells")
		wrong, last := 0, 0
		for i, c := range cells {
			if c != "" && c != "1" && c != "2.5" {
				wrong, last = wrong+1, i+2
			}
		}
		_, err := read(typed("date,rain_mm", len(cells), isoDay, ",", func(i int) string { return cells[i] }), Format{})
		if wrong == 0 {
			if err != nil {
				t.Fatal(err)
			}
			return
		}
		spoken, end := 0, 0
		before := 0
		for _, f := range err.(table.Faults) {
			more, upTo := 0, f.Line
			if _, after, found := strings.Cut(f.Want, " in "); found && strings.Contains(after, "more row") {
				unit := "more rows"
				if strings.HasPrefix(after, "1 ") {
					unit = "more row"
				}
				if _, err := fmt.Sscanf(after, "%d "+unit+", up to line %d", &more, &upTo); err != nil {
					t.Fatalf("%q: %v", after, err)
				}
			}
			spoken += 1 + more
			end = max(end, upTo)
			if f.Line < before {
				t.Fatalf("line %d after %d", f.Line, before)
			}
			before = f.Line
		}
		if spoken != wrong || end != last {
			t.Fatalf("%d of %d rows spoken for, up to %d of %d:\n%v", spoken, wrong, end, last, err)
		}
	})
}
