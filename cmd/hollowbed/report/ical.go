package report

import (
	"crypto/sha1"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"
)

// calendarDay is an entry that takes one whole day of a calendar.
type calendarDay struct {
	Key      string    // what the event is, the same whenever it is written: "water/rim/2026-05-02/3"
	Date     time.Time // its year, month and day count, in its own zone
	Summary  string
	Text     string // lines apart by \n
	Category string
	Yearly   bool // comes again every year
}

// iCal writes a calendar (RFC 5545). Every event takes a whole day and leaves
// the day free for other things; a whole day is a date without a zone, so it
// is the same day wherever it is read and needs no VTIMEZONE. The UID of an
// event follows from garden and its key alone, so that a calendar written
// anew takes the place of the old one. Text from files is made harmless:
// control characters, which could end a line and begin another property,
// become a mark. Two events of one key are our mistake.
//
// about says what the dates rest on.
//
// revised is the day on which the events were worked out; its year, month and
// day count. DTSTAMP says so at 00:00 UTC: where no METHOD is stated it is when
// the information was last revised, and always in UTC (section 3.8.7.2).
func iCal(w io.Writer, garden, about string, revised time.Time, events []calendarDay) error {
	cal := ics.NewCalendar()
	cal.SetProductId("-//Hollowbed//Hollowbed//EN")
	cal.SetCalscale("GREGORIAN")
	cal.SetName(Plain(oneLine(garden)))
	cal.SetXWRCalName(Plain(oneLine(garden)))
	if about != "" { // as RFC 7986 section 5.2 has it, and as most readers do
		cal.SetDescription(Plain(oneLine(about)))
		cal.SetXWRCalDesc(Plain(oneLine(about)))
	}
	y, m, d := revised.Date()
	stamp, seen := time.Date(y, m, d, 0, 0, 0, 0, time.UTC), map[string]bool{}
	for _, e := range events {
		uid := eventUID(garden, e.Key)
		if seen[uid] {
			panic("report: two calendar events of the key " + e.Key)
		}
		seen[uid] = true
		v := cal.AddEvent(uid)
		v.SetDtStampTime(stamp)
		v.SetAllDayStartAt(e.Date)
		v.SetAllDayEndAt(e.Date.AddDate(0, 0, 1)) // the first day after
		v.SetSummary(Plain(oneLine(e.Summary)))
		if text := calendarText(e.Text); text != "" {
			v.SetDescription(text)
		}
		if e.Category != "" {
			v.AddCategory(Plain(oneLine(e.Category)))
		}
		v.SetTimeTransparency(ics.TransparencyTransparent)
		if e.Yearly {
			v.AddRrule("FREQ=YEARLY")
		}
	}
	return cal.SerializeTo(w, ics.WithNewLineWindows) // CRLF, RFC 5545 section 3.1
}

// calendarText keeps the line breaks of a text and makes its lines harmless.
func calendarText(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	lines := strings.Split(strings.Trim(s, "\n"), "\n")
	for i := range lines {
		lines[i] = Plain(oneLine(lines[i]))
	}
	return strings.Join(lines, "\n")
}

// oneLine turns every kind of line break into a space. Plain knows the control
// characters; the two separators of Unicode are none.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.In(r, unicode.Zl, unicode.Zp) || r == '\r' {
			return ' '
		}
		return r
	}, s)
}

// eventUID returns the UID of an event: a name-based UUID (version 5) of the
// garden and the key, as RFC 7986 section 5.3 advises, with nothing in it that
// tells where or by whom it was written.
func eventUID(garden, key string) string {
	space := [16]byte{0x5a, 0x0e, 0x1b, 0x52, 0x7c, 0x3f, 0x4d, 0x0a, 0x9b, 0x66, 0x21, 0xd4, 0x8e, 0xf0, 0x37, 0xc9} // ours, drawn once
	return uuid5(space, garden+"\x00"+key)
}

// uuid5 returns the name-based UUID of a name within a name space: the first
// 16 bytes of SHA-1(space, name), with the version 5 and the variant set.
// Source: RFC 9562 section 5.5.
func uuid5(space [16]byte, name string) string {
	u := sha1.Sum(append(space[:], name...))
	u[6] = u[6]&0x0f | 0x50
	u[8] = u[8]&0x3f | 0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", u[0:4], u[4:6], u[6:8], u[8:10], u[10:16])
}
