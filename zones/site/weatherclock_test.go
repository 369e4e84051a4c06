package site

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// localHours writes one row for every real hour of some days by the wall clock
// of a zone, numbered from 0.
func localHours(z *time.Location, from time.Time, days int) string {
	var b strings.Builder
	b.WriteString("time,rain_mm\n")
	end := from.AddDate(0, 0, days)
	for i, t := 0, from; t.Before(end); i, t = i+1, t.Add(time.Hour) {
		fmt.Fprintf(&b, "%s,%d\n", t.In(z).Format("2006-01-02 15:04"), i)
	}
	return b.String()
}

// New York left daylight saving on 3 November 2013 at 2:00 and began it on
// 10 March 2013 at 2:00 (IANA time zone database).
func TestRepeatedLocalHour(t *testing.T) {
	z := zone(t, "America/New_York")
	text := localHours(z, time.Date(2013, 11, 2, 0, 0, 0, 0, z), 3)
	assert.Equal(t, 2, strings.Count(text, "2013-11-03 01:00"))
	r := mustRead(t, text, Format{Clock: "local", Zone: z})
	// 0:00 daylight time is 23:00 standard time the day before, so the first 23
	// real hours are cut, and 3 November begins with real hour 25.
	assert.Equal(t, "2013-11-02 00:00 -0500", r.Start.Format("2006-01-02 15:04 -0700"))
	require.Len(t, r.Days, 3)
	for h, mm := range r.RainMM {
		assert.Equal(t, float64(h+1), mm)
		assert.False(t, r.Missing[h])
	}
	assert.Contains(t, r.Notes, "times are the wall clock of America/New_York; moved to its standard time, UTC-05:00")
	// The same file read as standard time has an hour twice.
	assert.Contains(t, faultOf(t, text, Format{Zone: z}), `"2013-11-03 01:00": repeated: this time is on line 27 already`)
}

func TestSkippedLocalHour(t *testing.T) {
	z := zone(t, "America/New_York")
	text := localHours(z, time.Date(2013, 3, 9, 0, 0, 0, 0, z), 3)
	assert.NotContains(t, text, "2013-03-10 02:00")
	r := mustRead(t, text, Format{Clock: "local", Zone: z})
	assert.Equal(t, "2013-03-09 00:00 -0500", r.Start.Format("2006-01-02 15:04 -0700"))
	assert.Len(t, r.Days, 2, "the last day ends at 23:00 standard time and is cut")
	for h, mm := range r.RainMM {
		assert.Equal(t, float64(h), mm)
		assert.False(t, r.Missing[h])
	}
	text = strings.Replace(text, "2013-03-10 03:00", "2013-03-10 02:00", 1)
	assert.Contains(t, faultOf(t, text, Format{Clock: "local", Zone: z}), `rain.csv:28:1: time: "2013-03-10 02:00": clocks of America/New_York skip this hour`)
}

// Berlin left daylight saving on 27 October 2013 at 3:00: 1:00 by the wall clock
// is 0:00 standard time, and 2:00 to 3:00 comes twice.
func TestReadingsInsideTheRepeatedHour(t *testing.T) {
	text := "time,rain_mm\n2013-10-27 01:00,0\n2013-10-27 02:00,1\n2013-10-27 02:30,2\n2013-10-27 02:00,4\n2013-10-27 02:30,8\n2013-10-27 03:00,16\n2013-10-27 23:00,0\n"
	r := mustRead(t, text, Format{Clock: "local", Zone: zone(t, "Europe/Berlin"), AbsentRow: "dry"})
	require.Len(t, r.Days, 1)
	assert.Equal(t, []float64{0, 3, 12, 16, 0}, r.RainMM[:5])
}

// Two instants of a repeated half hour, by hand: Berlin's 2:30 of 27 October
// 2013 is 0:30 UTC and then 1:30 UTC.
func TestWallToUTC(t *testing.T) {
	z := zone(t, "Europe/Berlin")
	at := func(h, m int) int64 { return time.Date(2013, 10, 27, h, m, 0, 0, time.UTC).Unix() }
	utc, ok := wallToUTC(z, at(2, 30), at(0, 0))
	assert.True(t, ok)
	assert.Equal(t, at(0, 30), utc)
	utc, ok = wallToUTC(z, at(2, 30), at(0, 30))
	assert.True(t, ok)
	assert.Equal(t, at(1, 30), utc)
	_, ok = wallToUTC(z, time.Date(2013, 3, 31, 2, 30, 0, 0, time.UTC).Unix(), 0)
	assert.False(t, ok)
}

func TestStandardOffsetOnBothSidesOfTheEquator(t *testing.T) {
	for name, hours := range map[string]float64{
		"America/New_York": -5, "Australia/Sydney": 10, "Pacific/Auckland": 12, "Europe/Dublin": 0,
		"America/St_Johns": -3.5, "Asia/Kathmandu": 5.75, "America/Santiago": -4, "UTC": 0, "Australia/Lord_Howe": 10.5,
	} {
		assert.Equal(t, int(hours*3600), standardOffset(zone(t, name), 2013), name)
	}
}

// Moscow's winter time was UTC+3 up to 2011 and UTC+4 from then to 2014 (IANA
// time zone database).
func TestZoneThatChangedItsStandardTime(t *testing.T) {
	text := "time,rain_mm\n2011-01-01 00:00,1\n2011-06-01 05:00,1\n2012-06-01 23:00,1\n"
	r := mustRead(t, text, Format{Zone: zone(t, "Europe/Moscow"), AbsentRow: "dry"})
	assert.Equal(t, "2011-01-01 00:00 +0300", r.Start.Format("2006-01-02 15:04 -0700"))
	assert.Contains(t, r.Notes, "standard time of Europe/Moscow is another from 2012 on; that of 2011 is used throughout")
}

func TestUTCToStandardTimeInTheSouth(t *testing.T) {
	z := zone(t, "Australia/Sydney")
	var b strings.Builder
	b.WriteString("time_utc,rain_mm\n")
	for i := range 48 { // from 14:00 UTC, which is 0:00 in Sydney's standard time
		fmt.Fprintf(&b, "%s,%d\n", time.Date(2013, 1, 4, 14+i, 0, 0, 0, time.UTC).Format("2006-01-02T15:04"), i)
	}
	r := mustRead(t, b.String(), Format{Zone: z})
	assert.Equal(t, "2013-01-05 00:00 +1000", r.Start.Format("2006-01-02 15:04 -0700"))
	assert.Len(t, r.Days, 2)
	assert.Equal(t, 47.0, r.RainMM[47])
	// The same with the offset in every cell.
	r = mustRead(t, strings.ReplaceAll(strings.ReplaceAll(b.String(), "time_utc", "time"), ":00,", ":00:00Z,"), Format{Zone: z})
	assert.Equal(t, 47.0, r.RainMM[47])
	assert.Equal(t, "2013-01-05 00:00 +1000", r.Start.Format("2006-01-02 15:04 -0700"))
	assert.Contains(t, r.Notes, "times carry their offset from UTC; moved to standard time of Australia/Sydney, UTC+10:00")
}

// Wall clock, UTC and standard time of the same hours give the same record, in
// any zone and season.
func TestThreeClocksOneRecord(t *testing.T) {
	zones := []*time.Location{zone(t, "America/New_York"), zone(t, "Australia/Sydney"), zone(t, "Europe/Dublin"), zone(t, "Australia/Lord_Howe"), zone(t, "Asia/Tokyo")}
	rapid.Check(t, func(t *rapid.T) {
		z := rapid.SampledFrom(zones).Draw(t, "zone")
		standard := time.FixedZone("", standardOffset(z, 2013))
		from := time.Date(2013, 1, rapid.IntRange(2, 350).Draw(t, "day"), 0, 0, 0, 0, standard)
		var files [3]strings.Builder
		for c := range files {
			files[c].WriteString("time,rain_mm\n")
		}
		for i := range 24 * 4 {
			at := from.Add(time.Duration(i) * time.Hour)
			for c, in := range []*time.Location{z, time.UTC, standard} {
				fmt.Fprintf(&files[c], "%s,%d\n", at.In(in).Format("2006-01-02 15:04"), i)
			}
		}
		for c, clock := range []string{"local", "utc", "standard"} {
			r, err := read(files[c].String(), Format{Clock: clock, Zone: z})
			if err != nil {
				t.Fatal(clock, err)
			}
			if !r.Start.Equal(from) || len(r.Days) != 4 {
				t.Fatalf("%s: from %v, %d days", clock, r.Start, len(r.Days))
			}
			for h, mm := range r.RainMM {
				if mm != float64(h) {
					t.Fatalf("%s: hour %d has %v", clock, h, mm)
				}
			}
		}
	})
}

func TestParseStamp(t *testing.T) {
	for text, want := range map[string]string{
		"2013-01-05":                "2013-01-05 00:00:00",
		"2013-1-5":                  "2013-01-05 00:00:00",
		"2013-1-5 7:05":             "2013-01-05 07:05:00",
		"20130105":                  "2013-01-05 00:00:00",
		"2013010515":                "2013-01-05 15:00:00",
		"201301051504":              "2013-01-05 15:04:00",
		"20130105 15:04":            "2013-01-05 15:04:00",
		"2013-01-05T15:04:05.25Z":   "2013-01-05 15:04:05 +0",
		"2013-01-05T15:04:05+10:30": "2013-01-05 15:04:05 +37800",
		"2013-01-05 15:04-0500":     "2013-01-05 15:04:00 +-18000",
		"2013-01-05 15":             "2013-01-05 15:00:00",
		"2013/01/05 1504":           "2013-01-05 15:04:00",
		"2000-02-29":                "2000-02-29 00:00:00",
	} {
		s, ok := parseStamp(text, "")
		require.True(t, ok, text)
		got := time.Unix(s.wall, 0).UTC().Format("2006-01-02 15:04:05")
		if s.offset != noOffset {
			got += fmt.Sprintf(" +%d", s.offset)
		}
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "2013", "2013-13-01", "2013-00-01", "2013-01-32", "13-01-05", "2013-01/05", "2013-01-05 25:00",
		"2013-01-05 12:60", "2013-01-05x", "2013-01-05 12:00 x", "1699-01-01", "2013-01-05T", "2013-01-05 123", "2013-001-05", "1/5/13"} {
		_, ok := parseStamp(text, "mdy")
		assert.False(t, ok, text)
	}
}

// Every day of five centuries against the standard library.
func TestCivilDaysAgreesWithTheStandardLibrary(t *testing.T) {
	for day := time.Date(1700, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() <= 2200; day = day.AddDate(0, 0, 1) {
		got, ok := civilDays(day.Year(), int(day.Month()), day.Day())
		if !ok || got != day.Unix()/86400 && got*86400 != day.Unix() {
			t.Fatalf("%v: %d", day, got)
		}
	}
}
