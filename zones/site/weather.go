package site

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"hollowbed/zones/table"
)

// reading is one row of a weather file: time as written, figures in mm and deg C or NaN.
type reading struct {
	wall                        int64 // seconds; local standard time once resolved
	offset                      int32
	line, col                   int32
	rain, temp, tmin, tmax, et0 float64
}

// weatherReader is the state of reading one weather file.
type weatherReader struct {
	name  string
	f     Format
	slips slips
	notes []string

	header  []string
	columns map[string]int // ours -> place in the header
	rain    unit
	temp    unit
	et0     unit
	utc     bool // the header says UTC
	where   []whereColumn
	missing []marker
	trace   []marker
	commas  commas

	hasTime bool // rows carry a time of day
	rows    []reading
	traces  int
}

type whereColumn struct {
	place int
	name  string
	value string
}

// marker is a cell that stands for something else than its number.
type marker struct {
	text   string
	number float64 // NaN if the text is no number
}

// ReadRecord reads a weather file, a header and then a row for each hour, part of an
// hour, or day, in order; name is for messages. The result is a gapless hourly record in
// local standard time, cut to whole days; daily rain is spread by the format's pattern.
// What is not given is NaN: see FillET0. What was recognised, left out, or looks doubtful
// is in Record.Notes. All that is wrong comes back as Faults; another error means it
// could not be read. Rain is refused below 0 and above 500 mm in an hour or 2,000 mm in a
// day (world records near 400 mm in 42 minutes and 1,825 mm in a day, WMO, from memory),
// temperature outside -90 to 60.
func ReadRecord(name string, r io.Reader, f Format, latDeg float64) (*Record, error) {
	if err := checkLatitude(latDeg); err != nil {
		return nil, err
	}
	wr := &weatherReader{name: name, f: f}
	if faults := f.Check(); len(faults) > 0 {
		for i := range faults {
			faults[i].File = name
		}
		return nil, faults
	}
	data, err := table.ReadAll(name, r, MaxRecordBytes)
	if err != nil {
		return nil, err
	}
	text, encoding := table.Decode(data)
	if f := table.WrongStart(name, text); f != nil {
		return nil, table.Faults{*f}
	}
	if encoding != table.UTF8 && encoding != table.UTF8Marked {
		wr.note("the text is %s", encoding)
	}
	record := wr.read(text)
	if wr.faulty() {
		return nil, wr.slips.list(f)
	}
	record.noteYears(latDeg)
	record.warnRain()
	record.warnTemperature()
	record.warnHemisphere(latDeg)
	return record, nil
}

// read turns a text into a record; it is nil if there are faults.
func (wr *weatherReader) read(text []byte) *Record {
	wr.missing, wr.trace = markers(wr.f.Missing), markers(wr.f.Trace)
	t := wr.findHeader(text)
	if t.isLong() {
		wr.readLong(t)
	} else {
		if !wr.readHeader(t) || !wr.findOrder(t.body()) {
			return nil
		}
		wr.readRows(t)
	}
	if wr.faulty() {
		if wr.outOfOrder() {
			wr.askForStation(t)
		}
		return nil
	}
	if len(wr.rows) == 0 {
		wr.noRows(t)
		return nil
	}
	step := wr.step()
	if step == "" {
		return nil
	}
	offset := wr.toStandard(step)
	if wr.faulty() {
		return nil
	}
	if wr.outOfOrder() {
		if !wr.askForStation(t) {
			wr.checkOrder(step)
		}
		return nil
	}
	if wr.checkSpan(step); wr.faulty() {
		return nil
	}
	wr.fillLeapYears(step)
	wr.warnMarkers()
	if step == "daily" {
		return wr.daily(offset)
	}
	return wr.hourly(offset)
}

// fault keeps a fault; those with the same name and want are gathered.
func (wr *weatherReader) fault(line, col int, name, value, want string) {
	wr.slip(slip{Fault: table.Fault{Line: line, Column: col, Name: name, Value: value, Want: want}})
}

// slip keeps a fault that says how it is gathered.
func (wr *weatherReader) slip(one slip) {
	one.File = wr.name
	wr.slips.add(one)
}

// faulty reports whether any fault was found.
func (wr *weatherReader) faulty() bool { return wr.slips.n > 0 }

// timeHeader returns the header of the column that times are read from.
func (wr *weatherReader) timeHeader() string {
	for _, ours := range []string{"time", "date", "year"} {
		if at, ok := wr.columns[ours]; ok {
			return wr.header[at]
		}
	}
	return ""
}

func (wr *weatherReader) note(format string, args ...any) {
	wr.notes = append(wr.notes, fmt.Sprintf(format, args...))
}

// readRows reads every row after the header.
func (wr *weatherReader) readRows(t *walk) {
	wr.rows = make([]reading, 0, min(bytes.Count(t.text, []byte{'\n'}), 1<<18))
	reader := wr.rowReader()
	for {
		more, bad := t.row()
		switch {
		case !more:
			wr.checkCommas()
			return
		case bad != nil:
			wr.slip(slip{Fault: *bad})
		case len(t.Cells) != len(wr.header):
			wr.slip(slip{Fault: t.WrongWidth(len(wr.header))})
		case wr.wanted(t):
			reader(t)
		}
	}
}

// wanted reports whether a row belongs to the station asked for.
func (wr *weatherReader) wanted(t *walk) bool {
	for _, w := range wr.where {
		if strings.TrimSpace(t.Cells[w.place]) != w.value {
			return false
		}
	}
	return true
}

// rowReader returns what reads one row, with the places of the columns at hand.
func (wr *weatherReader) rowReader() func(*walk) {
	place := func(ours string) int {
		if i, ok := wr.columns[ours]; ok {
			return i
		}
		return -1
	}
	timeAt, dateAt := place("time"), place("date")
	parts := dateParts{place("year"), place("month"), place("day"), place("yday")}
	rainAt, tempAt, tminAt, tmaxAt, et0At := place("rain"), place("temp"), place("tmin"), place("tmax"), place("et0")
	return func(t *walk) {
		s, at, ok := wr.rowTime(t, timeAt, dateAt, parts)
		if !ok {
			return
		}
		row := reading{wall: s.wall, offset: s.offset, line: int32(t.Line), col: int32(t.col(at))}
		wr.hasTime = wr.hasTime || s.hasTime
		row.rain = wr.figure(t, rainAt, wr.rain, 0, math.Inf(1), true)
		row.temp = wr.figure(t, tempAt, wr.temp, -90, 60, false)
		row.tmin = wr.figure(t, tminAt, wr.temp, -90, 60, false)
		row.tmax = wr.figure(t, tmaxAt, wr.temp, -90, 60, false)
		row.et0 = wr.figure(t, et0At, wr.et0, -0.5, 30, false)
		if row.tmin > row.tmax {
			wr.slip(slip{
				Fault: table.Fault{Line: t.Line, Column: t.col(tminAt), Name: wr.header[tminAt], Value: strings.TrimSpace(t.Cells[tminAt]),
					Want: fmt.Sprintf("want no more than %s, which is %s", wr.header[tmaxAt], strings.TrimSpace(t.Cells[tmaxAt]))},
				kind: "low above high",
				cure: fmt.Sprintf("if the two columns are swapped, set weather.columns: {tmin: %s, tmax: %s} in garden.yaml",
					yamlWord(wr.header[tmaxAt]), yamlWord(wr.header[tminAt])),
			})
		}
		wr.rows = append(wr.rows, row)
	}
}

// rowTime reads the time of a row, and says at which place it stands.
func (wr *weatherReader) rowTime(t *walk, timeAt, dateAt int, parts dateParts) (s stamp, at int, ok bool) {
	if parts.year >= 0 {
		return wr.partsTime(t, timeAt, parts)
	}
	at = timeAt
	if timeAt < 0 || dateAt >= 0 {
		at = dateAt
	}
	cell := strings.TrimSpace(t.Cells[at])
	s, ok = parseStamp(cell, wr.f.DateOrder)
	if ok && !s.slashed && timeAt >= 0 && dateAt >= 0 {
		return s, timeAt, wr.addClock(t, timeAt, &s)
	}
	if s.slashed {
		wr.fault(t.Line, t.col(at), wr.header[at], cell, "day or month first? set date_order to mdy or dmy, or write 2013-01-05")
		return s, at, false
	}
	if !ok {
		wr.fault(t.Line, t.col(at), wr.header[at], cell, "want a time such as 2013-01-05 15:04 or a date such as 2013-01-05, hours from 0 to 23")
	}
	return s, at, ok
}

// addClock adds the time of day in a column of its own to a date.
func (wr *weatherReader) addClock(t *walk, at int, s *stamp) bool {
	cell := strings.TrimSpace(t.Cells[at])
	c := &cursor{b: cell}
	if s.hasTime || !c.clock(s) {
		wr.fault(t.Line, t.col(at), wr.header[at], cell, "want a time of day from 0:00 to 23:59, such as 15:04 or 15, and the date in the date column")
		return false
	}
	return true
}
