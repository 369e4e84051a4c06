package site

import (
	"math"
	"time"
)

// noOffset marks a time that does not say its distance from UTC.
const noOffset = math.MinInt32

// stamp is a time as written: seconds from 1970 by the clock it was read
// from, and the offset from UTC in seconds if it is written too.
type stamp struct {
	wall    int64
	offset  int32
	hasTime bool // a time of day is written
	slashed bool // two numbers before the year: needs an order
	a, b    int  // those two numbers
}

// cursor reads a cell from left to right.
type cursor struct {
	b string
	i int
}

func (c *cursor) done() bool { return c.i >= len(c.b) }

func (c *cursor) peek() byte {
	if c.done() {
		return 0
	}
	return c.b[c.i]
}

// digits reads up to most digits and returns their value and number.
func (c *cursor) digits(most int) (value, n int) {
	for n < most && c.i < len(c.b) && c.b[c.i] >= '0' && c.b[c.i] <= '9' {
		value = value*10 + int(c.b[c.i]-'0')
		c.i++
		n++
	}
	return value, n
}

// parseStamp reads a time: RFC 3339, "2013-01-05 15:04", YYYYMMDD with or without HH or
// HHMM, "2013-1-5", and "1/5/2013" by order ("mdy" or "dmy"); with order "" that comes
// back slashed, with wall left at the time of day.
func parseStamp(cell string, order string) (stamp, bool) {
	c := &cursor{b: cell}
	s := stamp{offset: noOffset}
	first, n := c.digits(12)
	var year, month, day int
	switch {
	case n == 8:
		year, month, day = first/10000, first/100%100, first%100
	case n == 10 || n == 12:
		clock := first % 100 * 100
		if n == 12 {
			clock, first = first%10000, first/100
		}
		year, month, day = first/1000000, first/10000%100, first/100%100
		if clock/100 > 23 || clock%100 > 59 || !c.done() {
			return s, false
		}
		s.hasTime, s.wall = true, int64(clock/100*3600+clock%100*60)
	case n == 4, n == 1, n == 2:
		var ok bool
		if year, month, day, ok = c.restOfDate(first, n, order, &s); !ok {
			return s, false
		}
	default:
		return s, false
	}
	if !c.done() && !c.timeOfDay(&s) {
		return s, false
	}
	if s.slashed {
		return s, true
	}
	days, ok := civilDays(year, month, day)
	s.wall += days * 86400
	return s, ok
}

// restOfDate reads a date in three parts after its first number.
func (c *cursor) restOfDate(first, n int, order string, s *stamp) (year, month, day int, ok bool) {
	mark := c.peek()
	if mark != '-' && mark != '/' && mark != '.' {
		return 0, 0, 0, false
	}
	c.i++
	second, n2 := c.digits(2)
	if n2 == 0 || c.peek() != mark {
		return 0, 0, 0, false
	}
	c.i++
	third, n3 := c.digits(4)
	if n == 4 {
		return first, second, third, n3 == 1 || n3 == 2
	}
	if n3 != 4 {
		return 0, 0, 0, false
	}
	switch order {
	case "mdy":
		return third, first, second, true
	case "dmy":
		return third, second, first, true
	}
	s.slashed, s.a, s.b = true, first, second
	return 0, 0, 0, true
}

// timeOfDay reads " 15:04", "T15:04:05.6" or " 15" and an offset up to the end.
func (c *cursor) timeOfDay(s *stamp) bool {
	if c.peek() != 'T' && c.peek() != 't' && c.peek() != ' ' {
		return false
	}
	c.i++
	for c.peek() == ' ' {
		c.i++
	}
	return c.clock(s)
}

// clock reads a time of day and its offset up to the end of the cell.
func (c *cursor) clock(s *stamp) bool {
	hour, n := c.digits(4)
	minute, second := 0, 0
	switch {
	case n == 4:
		hour, minute = hour/100, hour%100
	case n == 0 || n == 3:
		return false
	}
	if n <= 2 && c.peek() == ':' {
		c.i++
		if minute, n = c.digits(2); n != 2 {
			return false
		}
		if c.peek() == ':' {
			c.i++
			if second, n = c.digits(2); n != 2 {
				return false
			}
			if c.peek() == '.' {
				c.i++
				if _, n = c.digits(9); n == 0 {
					return false
				}
			}
		}
	}
	if hour > 23 || minute > 59 || second > 59 {
		return false
	}
	s.hasTime = true
	s.wall += int64(hour*3600 + minute*60 + second)
	return c.done() || c.offset(s)
}

// offset reads "Z", "UTC" or "+hh:mm" up to the end of the cell.
func (c *cursor) offset(s *stamp) bool {
	for c.peek() == ' ' {
		c.i++
	}
	if rest := c.b[c.i:]; rest == "Z" || rest == "z" || rest == "UTC" {
		s.offset = 0
		return true
	}
	sign := int32(1)
	switch c.peek() {
	case '-':
		sign = -1
	case '+':
	default:
		return false
	}
	c.i++
	hours, n := c.digits(2)
	if n != 2 {
		return false
	}
	if c.peek() == ':' {
		c.i++
	}
	minutes, n := c.digits(2)
	s.offset = sign * int32(hours*3600+minutes*60)
	return (n == 2 || n == 0) && hours <= 15 && minutes <= 59 && c.done()
}

// civilDays returns the days from 1970 to a Gregorian date, and whether it is one from
// 1700 to 2200; years from March, so that the leap day is last.
func civilDays(year, month, day int) (int64, bool) {
	if year < 1700 || year > 2200 || month < 1 || month > 12 || day < 1 || day > daysIn(year, month) {
		return 0, false
	}
	if month <= 2 {
		year--
		month += 12
	}
	const toEpoch = 719469 // days from 1 March of year 0 to 1 January 1970, and one day for day counting from 1
	return int64(365*year+year/4-year/100+year/400+(153*(month-3)+2)/5+day) - toEpoch, true
}

// daysIn returns the days of a month.
func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// standardOffset returns the offset of a zone's standard time in a year, s east of UTC:
// the lesser of January's and July's.
func standardOffset(zone *time.Location, year int) int {
	_, january := time.Date(year, time.January, 15, 12, 0, 0, 0, zone).Zone()
	_, july := time.Date(year, time.July, 15, 12, 0, 0, 0, zone).Zone()
	return min(january, july)
}

// wallToUTC turns wall-clock seconds of a zone into UTC: of an hour that comes twice the
// first later than after; false for one that clocks skip.
func wallToUTC(zone *time.Location, wall, after int64) (int64, bool) {
	offsetAt := func(utc int64) int64 {
		_, offset := time.Unix(utc, 0).In(zone).Zone()
		return int64(offset)
	}
	// The offsets a day before and a day after are the only candidates: zones
	// do not change twice within two days.
	before, later := offsetAt(wall-86400), offsetAt(wall+86400)
	first, second := wall-max(before, later), wall-min(before, later)
	firstOK := offsetAt(first) == wall-first
	secondOK := offsetAt(second) == wall-second
	if firstOK && (first > after || !secondOK) {
		return first, true
	}
	return second, secondOK
}
