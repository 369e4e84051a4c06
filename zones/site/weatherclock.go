package site

import (
	"fmt"
	"math"
	"time"

	"hollowbed/zones/table"
)

const daySeconds = 86400

// floorDiv divides towards minus infinity.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// step tells hourly from daily rows: rows are daily if all have the same time
// of day. It is "" with a fault if that contradicts what was declared.
func (wr *weatherReader) step() string {
	first := wr.rows[0].wall - floorDiv(wr.rows[0].wall, daySeconds)*daySeconds
	same := true
	for i := range wr.rows {
		same = same && wr.rows[i].wall-floorDiv(wr.rows[i].wall, daySeconds)*daySeconds == first
	}
	found := "hourly"
	if same && (!wr.hasTime || len(wr.rows) > 1) {
		found = "daily"
	}
	if wr.f.Step == "hourly" && !wr.hasTime {
		wr.fault(0, 0, "step", "hourly", "the rows have dates but no time of day")
		return ""
	}
	if wr.f.Step != "" {
		found = wr.f.Step
	} else {
		wr.note("rows are %s", found)
	}
	if found == "daily" && (first != 0 || wr.utc || wr.f.Clock == "utc") {
		wr.note("days are taken by the date of their row, whatever its time of day")
	}
	return found
}

// toStandard moves the times of hourly rows to local standard time, and
// returns that time's offset from UTC in seconds. Daily rows keep their date.
func (wr *weatherReader) toStandard(step string) int {
	year := time.Unix(wr.rows[0].wall, 0).UTC().Year()
	offset := 0
	if wr.f.Zone != nil {
		offset = standardOffset(wr.f.Zone, year)
	}
	if step == "daily" {
		for i := range wr.rows {
			wr.rows[i].wall = floorDiv(wr.rows[i].wall, daySeconds) * daySeconds
		}
		return offset
	}
	if wr.rows[0].offset != noOffset {
		wr.writtenOffsets(int64(offset))
	} else {
		wr.unwrittenOffsets(int64(offset))
	}
	if wr.f.Zone != nil && !wr.faulty() {
		wr.noteOffset(year, offset)
	}
	return offset
}

// noteOffset says when the zone's standard time changes in the record.
func (wr *weatherReader) noteOffset(year, offset int) {
	last := time.Unix(wr.rows[len(wr.rows)-1].wall, 0).UTC().Year()
	for y := year + 1; y <= last; y++ {
		if standardOffset(wr.f.Zone, y) != offset {
			wr.note("standard time of %s is another from %d on; that of %d is used throughout", wr.f.Zone, y, year)
			return
		}
	}
}

// writtenOffsets resolves rows that say their own offset from UTC.
func (wr *weatherReader) writtenOffsets(offset int64) {
	if wr.f.Zone == nil {
		wr.fault(int(wr.rows[0].line), int(wr.rows[0].col), "clock", "", "times have an offset from UTC: want the time zone of the garden")
		return
	}
	for i := range wr.rows {
		row := &wr.rows[i]
		if row.offset == noOffset {
			wr.fault(int(row.line), int(row.col), wr.timeHeader(), "", "want an offset from UTC, as in the rows before")
			return
		}
		row.wall += offset - int64(row.offset)
	}
	wr.note("times carry their offset from UTC; moved to standard time of %s, %s", wr.f.Zone, offsetName(offset))
}

// unwrittenOffsets resolves rows by the declared clock.
func (wr *weatherReader) unwrittenOffsets(offset int64) {
	clock := wr.f.Clock
	if wr.utc {
		clock = "utc"
	}
	if clock == "utc" && wr.f.Zone == nil {
		wr.fault(0, 0, "clock", "", "times are in UTC: want the time zone of the garden")
		return
	}
	before := int64(math.MinInt64)
	for i := range wr.rows {
		row := &wr.rows[i]
		switch {
		case row.offset != noOffset:
			wr.fault(int(row.line), int(row.col), wr.timeHeader(), "", "want no offset from UTC, as in the rows before")
			return
		case clock == "utc":
			row.wall += offset
		case clock == "local":
			utc, ok := wallToUTC(wr.f.Zone, row.wall, before)
			if !ok {
				wr.fault(int(row.line), int(row.col), wr.timeHeader(), time.Unix(row.wall, 0).UTC().Format("2006-01-02 15:04"),
					fmt.Sprintf("clocks of %s skip this hour: is the file in standard time or UTC? set weather.clock in garden.yaml", wr.f.Zone))
				continue
			}
			before = utc
			row.wall = utc + offset
		}
	}
	switch clock {
	case "utc":
		wr.note("times are UTC; moved to standard time of %s, %s", wr.f.Zone, offsetName(offset))
	case "local":
		wr.note("times are the wall clock of %s; moved to its standard time, %s", wr.f.Zone, offsetName(offset))
	default:
		wr.note("times are taken as local standard time, without daylight saving")
	}
}

// offsetName writes an offset as UTC-05:00.
func offsetName(seconds int64) string {
	sign := '+'
	if seconds < 0 {
		sign, seconds = '-', -seconds
	}
	return fmt.Sprintf("UTC%c%02d:%02d", sign, seconds/3600, seconds/60%60)
}

// outOfOrder reports whether any row is not later than the one before.
func (wr *weatherReader) outOfOrder() bool {
	for i := 1; i < len(wr.rows); i++ {
		if wr.rows[i].wall <= wr.rows[i-1].wall {
			return true
		}
	}
	return false
}

// checkOrder makes a fault of every row whose time an earlier row has, and of
// every other row that is not later than the one before.
func (wr *weatherReader) checkOrder(step string) {
	layout := "2006-01-02 15:04"
	if step == "daily" {
		layout = "2006-01-02"
	}
	seen := make(map[int64]int32, len(wr.rows))
	for i, row := range wr.rows {
		first, repeated := seen[row.wall]
		one := slip{Fault: table.Fault{Line: int(row.line), Column: int(row.col), Name: wr.timeHeader(), Value: time.Unix(row.wall, 0).UTC().Format(layout)}}
		switch {
		case repeated:
			one.kind = "repeated"
			one.Want = fmt.Sprintf("repeated: this time is on line %d already", first)
			one.cure = "keep one row for each time"
			wr.slip(one)
			continue
		case i > 0 && row.wall < wr.rows[i-1].wall:
			one.kind = "order"
			one.Want = fmt.Sprintf("want times in order: line %d is later", wr.rows[i-1].line)
			one.cure = "sort the rows by time"
			wr.slip(one)
		}
		seen[row.wall] = row.line
	}
}

// checkSpan refuses a record whose rows cannot be what they are taken for.
func (wr *weatherReader) checkSpan(step string) {
	hours := (wr.rows[len(wr.rows)-1].wall - wr.rows[0].wall) / 3600
	if hours > 300*8766 {
		wr.fault(int(wr.rows[len(wr.rows)-1].line), int(wr.rows[len(wr.rows)-1].col), wr.timeHeader(), "", "the record spans more than 300 years: is a year mistyped?")
	}
	sparse := int64(len(wr.rows)) < hours/12
	if step == "hourly" && wr.f.Step == "" && wr.f.AbsentRow != "dry" && sparse {
		wr.fault(0, 0, "step", "", "rows are more than 12 hours apart but at changing times of day: set step to hourly or daily, or absent_row to dry")
	}
}
