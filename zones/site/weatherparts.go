package site

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// dateParts are the places of the columns that make up a date; -1 for none.
type dateParts struct{ year, month, day, yday int }

// hasParts reports whether the columns make up a date.
func (wr *weatherReader) hasParts() bool {
	has := func(ours string) bool { _, ok := wr.columns[ours]; return ok }
	return has("year") && (has("yday") || has("month") && has("day"))
}

// partsTime reads the time of a row from the parts of its date and its time of day.
func (wr *weatherReader) partsTime(t *walk, timeAt int, p dateParts) (s stamp, at int, ok bool) {
	s.offset = noOffset
	part := func(place, least, most int, want string) int {
		cell := strings.TrimSpace(t.Cells[place])
		n, err := strconv.Atoi(strings.TrimSuffix(cell, ".0"))
		if ok = err == nil && n >= least && n <= most; !ok {
			wr.fault(t.Line, t.col(place), wr.header[place], cell, want)
		}
		return n
	}
	year := part(p.year, 1700, 2200, "want a year such as 2013")
	if !ok {
		return s, p.year, false
	}
	days := int64(0)
	if p.month >= 0 && p.day >= 0 {
		month := part(p.month, 1, 12, "want a month from 1 to 12")
		if !ok {
			return s, p.month, false
		}
		day := part(p.day, 1, daysIn(year, month), fmt.Sprintf("want a day from 1 to %d", daysIn(year, month)))
		days, _ = civilDays(year, month, max(1, day))
	} else {
		most := 337 + daysIn(year, 2)
		day := part(p.yday, 1, most, fmt.Sprintf("want a day of the year from 1 to %d", most))
		days, _ = civilDays(year, 1, 1)
		days += int64(day) - 1
	}
	s.wall = days * daySeconds
	if ok && timeAt >= 0 {
		return s, timeAt, wr.addClock(t, timeAt, &s)
	}
	return s, p.year, ok
}

// fillLeapYears adds the 31 December that a record of numbered 365-day years leaves out
// of leap years: dry, and as warm as the days beside it.
func (wr *weatherReader) fillLeapYears(step string) {
	_, numbered := wr.columns["yday"]
	if _, months := wr.columns["month"]; !numbered || months || step != "daily" || wr.f.AbsentRow != "" {
		return
	}
	var filled []reading
	added := 0
	for i, row := range wr.rows {
		filled = append(filled, row)
		at := time.Unix(row.wall, 0).UTC()
		if daysIn(at.Year(), 2) < 29 {
			continue
		}
		if at.YearDay() == 366 {
			return
		}
		if last := i+1 == len(wr.rows); at.YearDay() == 365 && (last || wr.rows[i+1].wall == row.wall+2*daySeconds) {
			after := row
			if !last {
				after = wr.rows[i+1]
			}
			filled = append(filled, between(row, after))
			added++
		}
	}
	if added > 0 {
		wr.rows = filled
		wr.note("years have 365 days: 31 December of %s is taken as dry, and as warm as the days beside it", count(added, "leap year"))
	}
}

// between is a dry day after one day and before another.
func between(a, b reading) reading {
	mean := func(x, y float64) float64 { return (x + y) / 2 }
	return reading{wall: a.wall + daySeconds, offset: a.offset, line: a.line, col: a.col,
		temp: mean(a.temp, b.temp), tmin: mean(a.tmin, b.tmin), tmax: mean(a.tmax, b.tmax), et0: mean(a.et0, b.et0)}
}
