package season

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"hollowbed/zones/basin"
)

// What was seen of the bed itself: water that stood in it, and sun on it.

const (
	mostPondMM  = 1000 // as of bed.ponding_depth
	minutesADay = 24 * 60
	wantClock   = "expected a time of day such as 8:00 or 20:00"
	wantPond    = "expected what was seen and when, such as '4 in at 8:00, gone by 20:00' or '2 in left at 18:00'"
	wantSun     = "expected a zone and from when to when it had sun, such as 'bottom 10:00-14:00'"
)

// pondStake stands for a stake where water that stood was seen.
const pondStake = basin.Bottom

// Watched says whether an entry is about water that stood or sun that was seen.
func (e Entry) Watched() bool { return e.Kind == Ponded || e.Kind == Sunned }

// Minutes is how long the water was watched or the sun seen; water that was left
// at an earlier hour than it stood was left the next day.
func (e Entry) Minutes() int {
	if e.Kind == Ponded && e.To <= e.From {
		return e.To - e.From + minutesADay
	}
	return e.To - e.From
}

// checkWatched looks whether what was seen of water or sun is whole.
func (e *Entry) checkWatched(get func(column string) string, bad wrong) {
	if !e.Watched() {
		for _, c := range []string{"pond_mm", "left_mm", "from", "to"} {
			if get(c) != "" {
				bad(c, "expected this only where kind is pond or sun")
			}
		}
		return
	}
	pair := func(depth float64, column string, clock int, at string) {
		switch {
		case !math.IsNaN(depth) && clock == Unstated:
			bad(at, "expected the time of day at which that much stood")
		case math.IsNaN(depth) && clock != Unstated:
			bad(column, "expected how deep the water was at that time, in mm; 0 for none")
		}
	}
	zone := e.zoneStake()
	switch {
	case e.Kind == Ponded && zone != basin.Bottom:
		bad("stake", "expected bottom: the depth of a pond is measured there")
	case e.Kind == Sunned && (zone == "" || zone == allPlants):
		bad("stake", "expected bottom, slope or rim")
	}
	if e.Kind == Sunned {
		if get("pond_mm")+get("left_mm") != "" {
			bad("pond_mm", "expected no depth of water where kind is sun")
		}
		if e.From == Unstated || e.To == Unstated || e.To <= e.From {
			bad("to", "expected from when to when the sun was seen, the later time last")
		}
		return
	}
	pair(e.PondMM, "pond_mm", e.From, "from")
	pair(e.LeftMM, "left_mm", e.To, "to")
	if math.IsNaN(e.PondMM) && math.IsNaN(e.LeftMM) {
		bad("pond_mm", "expected how deep the water was, in mm")
	}
	if e.LeftMM >= e.PondMM {
		bad("left_mm", "expected less water left than stood before: does it rain, then note what stands later")
	}
}

// parseClock reads a time of day, minutes after midnight; want says what would be right.
func parseClock(text string) (minutes int, want string) {
	m := regexp.MustCompile(`^(\d{1,2})(?::([0-5]\d))?\s*(am|pm|a\.m\.|p\.m\.)?$`).FindStringSubmatch(strings.ToLower(strings.TrimSpace(text)))
	if m == nil || m[2] == "" && m[3] == "" {
		return Unstated, wantClock
	}
	hour, _ := strconv.Atoi(m[1])
	minute, _ := strconv.Atoi("0" + m[2])
	if m[3] != "" {
		if hour < 1 || hour > 12 {
			return Unstated, wantClock
		}
		if hour %= 12; m[3][0] == 'p' {
			hour += 12
		}
	}
	if hour > 23 {
		return Unstated, wantClock
	}
	return 60*hour + minute, ""
}

// Clock writes a time of day, such as 08:00; "" for Unstated.
func Clock(minutes int) string {
	if minutes == Unstated {
		return ""
	}
	return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
}

func decodeClock(get func(string) string, bad wrong, column string) int {
	s := get(column)
	if s == "" {
		return Unstated
	}
	minutes, want := parseClock(s)
	if want != "" {
		bad(column, want)
	}
	return minutes
}

// Watch reads what was seen of the bed on a day, as ParsePond and ParseSun; "" was not
// seen. of and want say which, pond or sun, could not be read, and what would be right.
func Watch(day time.Time, pond, sun, remark string, depthMM func(string) (float64, error)) (entries []Entry, of, want string) {
	if pond != "" {
		e := NewEntry(day, pondStake, Ponded)
		if want = e.ParsePond(pond, depthMM); want != "" {
			return nil, "pond", want
		}
		entries = append(entries, e)
	}
	if sun != "" {
		spans, want := NewEntry(day, "", Sunned).ParseSun(sun)
		if want != "" {
			return nil, "sun", want
		}
		entries = append(entries, spans...)
	}
	for i := range entries {
		entries[i].Remark = remark
		if err := entries[i].Check(); err != nil {
			return nil, string(entries[i].Kind), err.Error()
		}
	}
	return entries, "", ""
}

// ParsePond reads water that was seen over the bottom, such as "4 in at 8:00, gone by
// 20:00"; want says what would be right.
func (e *Entry) ParsePond(text string, depthMM func(string) (float64, error)) (want string) {
	parts := strings.Split(text, ",")
	if len(parts) > 2 {
		return wantPond
	}
	for i, part := range parts {
		m := regexp.MustCompile(`^(.+?)\s+(?:at|by)\s+(.+)$`).FindStringSubmatch(strings.ToLower(strings.TrimSpace(part)))
		if m == nil {
			return wantPond
		}
		at, want := parseClock(m[2])
		if want != "" {
			return fmt.Sprintf("%q: %s", m[2], want)
		}
		what, left := strings.CutSuffix(strings.TrimSpace(m[1]), " left")
		mm, gone := 0.0, what == "gone" || what == "all gone" || what == "empty"
		if !gone {
			var err error
			if mm, err = depthMM(what); err != nil {
				return err.Error()
			}
		}
		switch {
		case i == 0 && !left && !gone:
			e.PondMM, e.From = mm, at
		case i == 0 && len(parts) == 2:
			return wantPond
		default:
			e.LeftMM, e.To = mm, at
		}
	}
	return ""
}

// ParseSun reads when a zone was in the sun, "bottom 8:00-10:00, 13:00-15:00", into an
// entry a span; want says what would be right.
func (e Entry) ParseSun(text string) (entries []Entry, want string) {
	zone, spans, _ := strings.Cut(strings.TrimSpace(text), " ")
	e.Stake = strings.ToLower(strings.TrimSuffix(zone, ":"))
	for span := range strings.SplitSeq(spans, ",") {
		from, to, two := strings.Cut(strings.NewReplacer("–", "-", " to ", "-").Replace(span), "-")
		if !two {
			return nil, wantSun
		}
		for _, end := range []struct {
			text string
			at   *int
		}{{from, &e.From}, {to, &e.To}} {
			if *end.at, want = parseClock(end.text); want != "" {
				return nil, fmt.Sprintf("%q: %s", strings.TrimSpace(end.text), want)
			}
		}
		entries = append(entries, e)
	}
	return entries, ""
}
