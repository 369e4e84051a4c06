package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// calendarEvent is what a reader that is not ours found.
type calendarEvent struct{ UID, Start, Summary, Rule string }

func readICS(t *testing.T, file string) []calendarEvent {
	t.Helper()
	out, err := exec.Command(testenv.Python(t, "icalendar"), "-c", `
import sys, json, icalendar
cal = icalendar.Calendar.from_ical(open(sys.argv[1], "rb").read())
json.dump([{"UID": str(e["UID"]), "Start": e["DTSTART"].dt.isoformat(), "Summary": str(e["SUMMARY"]),
  "Rule": e["RRULE"].to_ical().decode() if "RRULE" in e else ""} for e in cal.walk("VEVENT")], sys.stdout)`, file).Output()
	require.NoError(t, err)
	var events []calendarEvent
	require.NoError(t, json.Unmarshal(out, &events))
	return events
}

// The calendar, read back by python3-icalendar: every watering and task of the
// CSV is there on its day, the standing tasks come again, what --json says of
// years two to five stands once in each of their months, and an event keeps
// its UID when the calendar is written anew with another hose.
func TestCareCalendar(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	first, second := filepath.Join(dir, "a.ics"), filepath.Join(dir, "b.ics")
	status, table, errs := careAt(t, march(), "--planted", "2026-05-01", "--csv", "--ics", first)
	require.Zero(t, status, errs)
	status, _, errs = careAt(t, march().AddDate(0, 1, 0), "--planted", "2026-05-01", "--hose", "9 gal/min", "--today", "--ics", second)
	require.Zero(t, status, errs)
	a, b := readICS(t, first), readICS(t, second)

	var want, got []string
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		if row[2] == "water-dry-year" {
			continue
		}
		title, _, _ := strings.Cut(row[5], ": ")
		watered := slices.IndexFunc(want, func(w string) bool { return strings.HasPrefix(w, row[0]+" Water the ") })
		if row[2] == "water" && watered >= 0 { // zones of one visit are one event
			want[watered] = row[0] + " Water the bed"
			continue
		}
		want = append(want, row[0]+" "+title)
	}
	status, doc, errs := careAt(t, march(), "--planted", "2026-05-01", "--json")
	require.Zero(t, status, errs)
	var years struct {
		Later []struct {
			Title         string
			Years, Months []int
		}
	}
	require.NoError(t, json.Unmarshal([]byte(doc), &years))
	due := map[string]bool{} // planted in May: year 2 has its first spring a year later
	for _, l := range years.Later {
		for _, year := range l.Years {
			for _, month := range l.Months {
				y := 2025 + year
				if month < 5 {
					y++
				}
				due[fmt.Sprintf("%d-%02d %s", y, month, l.Title)] = true
			}
		}
	}
	require.Greater(t, len(due), 10)
	yearly := 0
	uids := map[string]string{}
	for _, e := range a {
		title, _, _ := strings.Cut(e.Summary, ": ")
		assert.NotContains(t, uids, e.UID)
		uids[e.UID] = e.Start + title
		if e.Rule != "" {
			assert.Equal(t, "FREQ=YEARLY", e.Rule)
			assert.GreaterOrEqual(t, e.Start, "2027-05-01", "what comes again begins when plants have rooted")
			yearly++
			continue
		}
		if key := e.Start[:7] + " " + e.Summary; due[key] {
			delete(due, key)
			continue
		}
		got = append(got, e.Start+" "+title)
	}
	assert.ElementsMatch(t, want, got)
	assert.Empty(t, due, "not in the calendar")
	assert.Greater(t, yearly, 10)
	require.Len(t, b, len(a))
	changed := 0
	for i, e := range b {
		title, _, _ := strings.Cut(e.Summary, ": ")
		assert.Equal(t, uids[e.UID], e.Start+title, "the same UID is the same event")
		if e.Summary != a[i].Summary {
			changed++
		}
	}
	assert.NotZero(t, changed, "another hose, other minutes")
}

// The same input on the same day, whatever the clock says, gives the same bytes:
// the day is --date, or else that of the garden (the demo's is six hours behind
// UTC in March). DTSTAMP has to be in UTC and, where no METHOD is stated, tells
// when the information was last revised (RFC 5545 section 3.8.7.2).
func TestCareCalendarSameBytes(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, nil)
	written := func(now time.Time, args ...string) (calendar, today string) {
		file := filepath.Join(dir, "care.ics")
		status, today, errs := careAt(t, now, append(args, "--garden", dir, "--planted", "2026-05-01", "--today", "--ics", file)...)
		require.Zero(t, status, errs)
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		return string(text), today
	}
	first, today := written(march(), "--date", "2026-05-20")
	assert.Contains(t, first, "\r\nDTSTAMP:20260520T000000Z\r\n")
	second, later := written(march().AddDate(1, 2, 3).Add(5*time.Hour), "--date", "2026-05-20")
	assert.Equal(t, first, second)
	assert.Equal(t, today, later)
	morning, now := written(march())
	assert.NotEqual(t, today, now, "--today goes by the day that is named")
	night, _ := written(march().Add(10 * time.Hour)) // 04:00 UTC on 2 March
	assert.Equal(t, morning, night, "one day in the garden")
	assert.Contains(t, morning, "\r\nDTSTAMP:20260301T000000Z\r\n")
}
