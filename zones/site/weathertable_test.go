package site

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A malformed row is a fault with its place, and the rows after it are read.
func TestMalformedRowsDoNotStopTheReading(t *testing.T) {
	text := "date,rain_mm\n2013-01-01,1\n2013-01-02,\"2\"x\n2013-01-03,3\"\n2013-01-04,-1\n2013-01-05,\"4\n"
	assert.Equal(t, "rain.csv:3:15: text behind a closing quote: want quotes inside a cell doubled\n"+
		"rain.csv:4:12: rain_mm: \"3\\\"\": want a number of mm, or this marker listed under missing or trace\n"+
		"rain.csv:5:12: rain_mm: \"-1\": want rain of 0 or more, or this marker listed under missing or trace\n"+
		"rain.csv:6:12: this quote is never closed: want a closing quote, and quotes inside the cell doubled", faultOf(t, text, Format{}))
}

// Numbers are read as the standard library reads them, to the last bit.
func TestParseNumberAgreesWithStrconv(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		text := strconv.FormatFloat(v, "gef"[rapid.IntRange(0, 2).Draw(t, "form")], rapid.IntRange(-1, 12).Draw(t, "digits"), 64)
		want, err := strconv.ParseFloat(text, 64)
		got, ok := parseNumber(text)
		if ok != (err == nil && !math.IsNaN(want) && !math.IsInf(want, 0)) || (ok && got != want) {
			t.Fatalf("%q: %v %v, want %v %v", text, got, ok, want, err)
		}
	})
	for _, text := range []string{"", "-", "+", ".", "-.", "1,5", "1 2", "NaN", "inf", "0x10", "1_000", "1e", "--1", "1.2.3", "e5"} {
		_, ok := parseNumber(text)
		assert.False(t, ok, text)
	}
	for text, want := range map[string]float64{"1.": 1, ".5": 0.5, "-0.25": -0.25, "007": 7, "25.4e-1": 2.54} {
		got, ok := parseNumber(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, got, text)
	}
}

// FuzzReadRecord: any bytes give a sound record or a fault, never a panic.
func FuzzReadRecord(f *testing.F) {
	f.Add([]byte("time,rain_mm\n2013-01-05 00:00,1\n2013-01-05 23:00,2\n"), uint8(0))
	f.Add([]byte("date;prcp;tmin_c;tmax_c\n1/13/2013;T;1;2\n1/14/2013;-9999;1;2\n"), uint8(1))
	f.Add([]byte("site,time,precip_in,temp_f\na,2013-11-03T01:00:00Z,0.1,50\nb,2013-11-03T01:00:00Z,0.1,50\n"), uint8(2))
	f.Add([]byte("\ufeffdate,hour,rain (mm),et0\n20130105,0,\"1\",2\n20130105,23,,\n"), uint8(3))
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text []byte, form uint8) {
		format := Format{Zone: berlin, RainUnit: "mm", Missing: []string{"-9999"}, Trace: []string{"T"}}
		format.Clock = []string{"standard", "local", "utc", ""}[form%4]
		if form&4 != 0 {
			format.RainUnit, format.AbsentRow = "", "dry"
		}
		r, err := ReadRecord("fuzz.csv", bytes.NewReader(text), format, 50)
		if err != nil {
			if faults := (table.Faults)(nil); !errors.As(err, &faults) || len(faults) == 0 || r != nil {
				t.Fatalf("%v with %v", err, r)
			}
			return
		}
		if len(r.Days) == 0 || len(r.RainMM) != 24*len(r.Days) || len(r.Missing) != len(r.RainMM) {
			t.Fatalf("%d days, %d hours", len(r.Days), len(r.RainMM))
		}
		for h, mm := range r.RainMM {
			if !(mm >= 0 && mm <= maxDayMM) || (r.Missing[h] && mm != 0) {
				t.Fatalf("hour %d: %v mm, missing %v", h, mm, r.Missing[h])
			}
		}
		if r.Start.Hour() != 0 || r.Start.Minute() != 0 {
			t.Fatalf("begins at %v", r.Start)
		}
	})
}

// hourlyText writes 20 years of hours, 175,320 rows.
func hourlyText() []byte {
	var b bytes.Buffer
	b.WriteString("time,rain_mm,temp_c\n")
	for i := range 20 * 8766 {
		at := time.Date(1994, 1, 1, i, 0, 0, 0, time.UTC)
		fmt.Fprintf(&b, "%s,%.1f,%.1f\n", at.Format("2006-01-02 15:04"), math.Max(0, float64(i*7919%97)-90), float64(i%240)/10)
	}
	return b.Bytes()
}

// BenchmarkReadRecord reports, beside the time of reading 20 hourly years, how
// many times as long as bare encoding/csv over the same bytes it takes.
func BenchmarkReadRecord(b *testing.B) {
	text := hourlyText()
	b.SetBytes(int64(len(text)))
	var bare, ours time.Duration
	for b.Loop() {
		start := time.Now()
		r := csv.NewReader(bytes.NewReader(text))
		r.ReuseRecord = true
		for {
			if _, err := r.Read(); err != nil {
				break
			}
		}
		middle := time.Now()
		if _, err := ReadRecord("hourly.csv", bytes.NewReader(text), Format{}, 50); err != nil {
			b.Fatal(err)
		}
		bare += middle.Sub(start)
		ours += time.Since(middle)
	}
	b.ReportMetric(float64(ours)/float64(bare), "x-bare-csv")
	b.ReportMetric(float64(ours.Milliseconds())/float64(b.N), "ms/record")
}

// Columns are counted in characters, as in every other table.
func TestWeatherColumnsAreCharacters(t *testing.T) {
	_, err := ReadRecord("w.csv", strings.NewReader("station,date,rain_mm\nGröße,2013-01-05,x\n"), Format{}, 45)
	require.ErrorContains(t, err, "w.csv:2:18: rain_mm: \"x\": ")
	_, err = ReadRecord("w.csv", strings.NewReader("station,date,rain_mm\nGröße,2013-01-05,\xff\n"), Format{}, 45)
	require.ErrorContains(t, err, "w.csv:2:18: a byte here is not UTF-8")
}
