package site

import (
	"fmt"
	"strings"
)

// slashedDates is what the dates such as 1/5/2013 of a file tell of their order.
type slashedDates struct {
	sample               cellPlace
	monthFirst, dayFirst cellPlace // the first that can be read one way only
}

type cellPlace struct {
	cell      string
	line, col int
}

// findOrder tells day from month in dates such as 1/5/2013 by those that can be read one
// way only, and asks if none can or they contradict the declared order.
func (wr *weatherReader) findOrder(t *walk) bool {
	at, ok := wr.columns["date"]
	if !ok {
		at, ok = wr.columns["time"]
	}
	if _, parts := wr.columns["year"]; parts || !ok {
		return true
	}
	found := scanDates(t, at)
	month, day := found.monthFirst, found.dayFirst
	switch {
	case found.sample.line == 0:
	case wr.f.DateOrder == "mdy" && day.line > 0 && month.line == 0:
		wr.wrongOrder(at, day, "mdy", "day first", "dmy")
	case wr.f.DateOrder == "dmy" && month.line > 0 && day.line == 0:
		wr.wrongOrder(at, month, "dmy", "month first", "mdy")
	case wr.f.DateOrder != "":
	case month.line > 0 && day.line > 0:
		wr.fault(day.line, day.col, wr.header[at], day.cell, fmt.Sprintf("day or month first? this date has the day first, %q on line %d the month: "+
			"want one order, or dates such as 2013-01-05", month.cell, month.line))
	case month.line > 0:
		wr.f.DateOrder = "mdy"
		wr.note("dates are month first, as %s", found.sample.cell)
	case day.line > 0:
		wr.f.DateOrder = "dmy"
		wr.note("dates are day first, as %s", found.sample.cell)
	default:
		wr.fault(found.sample.line, found.sample.col, wr.header[at], found.sample.cell,
			"day or month first? set date_order to mdy or dmy, or write 2013-01-05")
	}
	return !wr.faulty()
}

// wrongOrder says that the dates of the file contradict date_order.
func (wr *weatherReader) wrongOrder(at int, example cellPlace, declared, looks, order string) {
	wr.fault(example.line, example.col, wr.header[at], example.cell,
		fmt.Sprintf("date_order is %s, but dates in this file are %s: set weather.date_order: %s in garden.yaml", declared, looks, order))
}

// scanDates looks at the dates of a column up to the first that needs no order.
func scanDates(t *walk, at int) slashedDates {
	var found slashedDates
	for {
		more, bad := t.row()
		if !more {
			return found
		}
		if bad != nil || at >= len(t.Cells) {
			continue
		}
		cell := strings.TrimSpace(t.Cells[at])
		s, ok := parseStamp(cell, "")
		if !ok {
			continue
		}
		if !s.slashed {
			return found
		}
		keep := func(place *cellPlace) {
			if place.line == 0 {
				*place = cellPlace{cell, t.Line, t.col(at)}
			}
		}
		keep(&found.sample)
		if s.b > 12 {
			keep(&found.monthFirst)
		}
		if s.a > 12 {
			keep(&found.dayFirst)
		}
	}
}
