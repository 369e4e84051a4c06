package report

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// readEvent is what a reader that is not ours found.
type readEvent struct {
	UID, Summary, Description, Start, End, Stamp, Rule string
	IsDate, Transparent                                bool
	Categories                                         []string
}

// readCalendar parses a calendar by two readers (Debian packages): shape, dates
// and rules by python3-icalendar, texts by python3-vobject. Texts are not left
// to python3-icalendar, whose version 4 takes an escaped backslash before an n
// for a line break (it undoes one escape after the other in the whole text);
// RFC 5545 section 3.3.11 and vobject read it as we write it.
func readCalendar(t *testing.T, text []byte) []readEvent {
	t.Helper()
	cmd := exec.Command(testenv.Python(t, "icalendar", "vobject"), "-c", `
import sys, json, datetime, icalendar, vobject
text = sys.stdin.buffer.read()
cal = icalendar.Calendar.from_ical(text)
events = cal.subcomponents
second = vobject.readOne(text.decode("utf-8")).contents["vevent"]
assert len(events) == len(second), (len(events), len(second))
out = []
for e, v in zip(events, second):
    assert e.name == "VEVENT" and not e.errors, (e.name, e.errors)
    a, b = e["DTSTART"].dt, e["DTEND"].dt
    assert str(e["UID"]) == v.uid.value and a == v.dtstart.value and b == v.dtend.value
    out.append({"UID": v.uid.value, "Summary": v.summary.value, "Description": v.description.value if "description" in v.contents else "",
      "Start": a.isoformat(), "End": b.isoformat(), "Stamp": e["DTSTAMP"].dt.isoformat(),
      "IsDate": type(a) is datetime.date and type(b) is datetime.date, "Transparent": str(e["TRANSP"]) == "TRANSPARENT",
      "Rule": e["RRULE"].to_ical().decode() if "RRULE" in e else "", "Categories": v.categories.value if "categories" in v.contents else None})
json.dump({"Name": str(cal["X-WR-CALNAME"]), "Events": out}, sys.stdout)`)
	cmd.Stdin = bytes.NewReader(text)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	require.NoError(t, err, stderr.String())
	var read struct {
		Name   string
		Events []readEvent
	}
	require.NoError(t, json.Unmarshal(out, &read))
	require.NotContains(t, read.Name, "\n")
	return read.Events
}

func write(t *testing.T, garden string, revised time.Time, events []calendarDay) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, iCal(&b, garden, "", revised, events))
	return b.Bytes()
}

// What is written is read back the same by a reader that is not ours. The
// event's day is that of its own zone: an evening in the far west and a
// morning in the far east are not moved to the day of Greenwich.
func TestICalReadBack(t *testing.T) {
	west, east := time.FixedZone("west", -11*3600), time.FixedZone("east", 13*3600)
	evening := time.Date(2026, 3, 1, 22, 30, 15, 0, west)
	long := strings.Repeat("Soak the rim slowly; let it sink in, then feel: ", 9) + "größer \\ Ende"
	events := []calendarDay{
		{Key: "water/rim/1", Date: time.Date(2026, 6, 30, 23, 0, 0, 0, west), Summary: "Water the rim, 40 L; 3 min", Text: long + "\nsecond line\n\nfourth", Category: "Water"},
		{Key: "water/rim/2", Date: time.Date(2026, 7, 8, 1, 0, 0, 0, east), Summary: "Water"},
		{Key: "task/mulch", Date: time.Date(2026, 12, 31, 0, 0, 0, 0, time.UTC), Summary: "Mulch", Yearly: true},
	}
	read := readCalendar(t, write(t, "The corner lot, Quillmere", evening, events))
	require.Len(t, read, 3)
	assert.Equal(t, events[0].Text, read[0].Description)
	assert.Equal(t, "Water the rim, 40 L; 3 min", read[0].Summary)
	assert.Equal(t, []string{"Water"}, read[0].Categories)
	assert.Equal(t, "2026-03-01T00:00:00+00:00", read[0].Stamp, "the day as it is named there, in UTC")
	for i, days := range [][2]string{{"2026-06-30", "2026-07-01"}, {"2026-07-08", "2026-07-09"}, {"2026-12-31", "2027-01-01"}} {
		assert.Equal(t, days, [2]string{read[i].Start, read[i].End})
		assert.True(t, read[i].IsDate && read[i].Transparent)
		assert.Equal(t, eventUID("The corner lot, Quillmere", events[i].Key), read[i].UID)
	}
	assert.Equal(t, []string{"", "", "FREQ=YEARLY"}, []string{read[0].Rule, read[1].Rule, read[2].Rule})
}

// RFC 5545 section 3.1: lines end with CRLF and hold at most 75 octets without
// it; section 3.8.2.1: a date says so.
func TestICalLines(t *testing.T) {
	text := write(t, "garden", time.Unix(0, 0), []calendarDay{{
		Key: "k", Date: time.Date(2026, 6, 30, 0, 0, 0, 0, time.UTC),
		Summary: strings.Repeat("ü", 200), Text: strings.Repeat("日本語 ", 90) + strings.Repeat("x", 300),
	}})
	lines := strings.Split(string(text), "\r\n")
	assert.Equal(t, "", lines[len(lines)-1])
	for _, line := range lines {
		assert.LessOrEqual(t, len(line), 75, line)
		assert.True(t, utf8.ValidString(line), "a character is not cut in two: %q", line)
		assert.NotContains(t, line, "\n")
		assert.NotContains(t, line, "\r")
	}
	assert.Equal(t, "BEGIN:VCALENDAR", lines[0])
	assert.Contains(t, lines, "VERSION:2.0")
	assert.Contains(t, lines, "DTSTART;VALUE=DATE:20260630")
	assert.Contains(t, lines, "DTEND;VALUE=DATE:20260701")
	assert.Contains(t, lines, "DTSTAMP:19700101T000000Z")
}

// The big list of naughty strings (testdata/naughty-strings) goes in as
// garden, key, title and text. Whatever it holds, the calendar keeps its shape
// for the other reader, and a text without control characters comes back as it
// went in.
func TestICalNaughty(t *testing.T) {
	raw, err := os.ReadFile("../../../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var naughty []string
	require.NoError(t, json.Unmarshal(raw, &naughty))
	naughty = append(naughty, "a\r\nEND:VEVENT\r\nBEGIN:VEVENT", "a\rb", "a\u2028b\u2029c\u0085d\vE", "\xff\xfe broken", "nul\x00", "tail \\", "\\n is two letters", "\"quoted\"")
	var events []calendarDay
	for i, s := range naughty {
		events = append(events, calendarDay{Key: strings.Repeat("k", i) + s, Date: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), Summary: "s" + s + "e", Text: "s" + s + "e", Category: "c"})
	}
	for _, garden := range []string{naughty[len(naughty)-8], "x"} {
		read := readCalendar(t, write(t, garden, time.Unix(0, 0), events))
		require.Len(t, read, len(naughty), "no string ends an event or begins one")
		for i, s := range naughty {
			assert.Equal(t, "2026-01-01", read[i].Start)
			assert.False(t, strings.ContainsAny(read[i].Summary, "\r\n\v\x00"), "%q", read[i].Summary)
			if s == Plain(oneLine(s)) {
				assert.Equal(t, "s"+s+"e", read[i].Summary)
				assert.Equal(t, "s"+s+"e", read[i].Description)
			}
		}
	}
}

// RFC 9562 appendix A.4: the version 5 UUID of www.example.com in the name
// space of DNS.
func TestUUID5(t *testing.T) {
	dns := [16]byte{0x6b, 0xa7, 0xb8, 0x10, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4, 0x30, 0xc8}
	assert.Equal(t, "2ed6657d-e927-568b-95e1-2665a8aea6a2", uuid5(dns, "www.example.com"))
}

// A UID stays when the day moves and the words change, and differs by garden
// and key; these two are kept so that a change of the recipe is seen, which
// would double the entries in people's calendars.
func TestEventUIDIsStable(t *testing.T) {
	assert.Equal(t, eventUID("a", "water/rim/1"), eventUID("a", "water/rim/1"))
	different := map[string]bool{}
	for _, pair := range [][2]string{{"a", "water/rim/1"}, {"b", "water/rim/1"}, {"a", "water/rim/2"}, {"awater", "/rim/1"}} {
		different[eventUID(pair[0], pair[1])] = true
	}
	assert.Len(t, different, 4)
	assert.Panics(t, func() {
		twice := []calendarDay{{Key: "k", Date: time.Unix(0, 0)}, {Key: "k", Date: time.Unix(9e6, 0)}}
		_ = iCal(&bytes.Buffer{}, "a", "", time.Unix(0, 0), twice)
	})
}

// What is sent to others names no folder of one's own.
func TestRecordAbroad(t *testing.T) {
	r := Record{Source: "/home/somebody/garden/rain.csv"}
	assert.Contains(t, r.abroad(), "Record: rain.csv, ")
	assert.Contains(t, r.words(), "/home/somebody")
}
