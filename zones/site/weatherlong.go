package site

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// A long file has a row for each figure: station, date, element, value and
// flags, as NOAA's Global Historical Climatology Network - Daily has by station.
// Rain (PRCP) is in tenths of mm, temperatures (TMAX, TMIN) in tenths of deg C. Of
// the first flag, T is a trace of rain and P a day that the observer left blank,
// which stands as 0 (nearly half of the rows of rain at two dry stations of our
// excerpts' kind); it is taken as dry and told. Anything in the
// second means that the value failed a check. Source:
// its readme.txt, version 3, section III (NOAA, doi 10.7289/V5D21VHZ).

// longColumns are the columns of a long file, in order.
func longColumns() []string {
	return []string{"station", "date", "element", "value", "mflag", "qflag", "sflag", "time"}
}

const (
	longStation = iota
	longDate
	longElement
	longValue
	longMeasured
	longFailed
	leastLong
)

// isLongHeader reports whether cells are the header of a long file.
func isLongHeader(cells []string) bool {
	if len(cells) < leastLong {
		return false
	}
	name := func(i int) string { return plainName(cells[i]) }
	return name(longDate) == "date" && name(longElement) == "element" && (name(longValue) == "value" || name(longValue) == "data_value")
}

// isLong reports whether a file is long, with a header or without.
func (t *walk) isLong() bool {
	again := newWalk(t.name, t.text, t.line, t.Separator)
	if more, bad := again.row(); !more || bad != nil {
		return false
	}
	return isLongHeader(again.Cells) || isLongRow(again.Cells)
}

func isLongRow(cells []string) bool {
	if len(cells) < leastLong || len(cells[longElement]) != 4 || len(cells[longDate]) != 8 || cells[longStation] == "" {
		return false
	}
	_, dated := parseStamp(cells[longDate], "")
	_, number := parseNumber(cells[longValue])
	return dated && number && strings.ToUpper(cells[longElement]) == cells[longElement]
}

// longReader gathers the figures of a long file by the day.
type longReader struct {
	*weatherReader
	days             map[int64]*reading
	seen             map[string]int // line of an element on a day
	stations         []string
	failed, presumed int
	hasRain          bool // there is a row of rain
}

// readLong reads a long file.
func (wr *weatherReader) readLong(t *walk) {
	wr.header = longColumns()
	wr.columns = map[string]int{"date": longDate, "rain": longValue, "tmin": longValue, "tmax": longValue}
	wr.rain, wr.temp = unitNamed("0.1 mm"), unitNamed("0.1 C")
	for _, set := range [][3]string{{"rain_unit", wr.f.RainUnit, "0.1 mm"}, {"temp_unit", wr.f.TempUnit, "0.1 C"}} {
		if set[1] != "" && set[1] != set[2] {
			wr.fault(0, 0, set[0], set[1], "a file of station, date, element and value is in tenths of mm and deg C: want "+set[2]+", or nothing")
		}
	}
	wr.findWhere(t)
	l := &longReader{weatherReader: wr, days: map[int64]*reading{}, seen: map[string]int{}}
	for begun := false; ; begun = true {
		more, bad := t.row()
		switch {
		case !more:
			l.finish()
			return
		case bad != nil:
			wr.slip(slip{Fault: *bad})
		case !begun && isLongHeader(t.Cells):
		case len(t.Cells) < leastLong:
			wr.slip(slip{Fault: t.WrongWidth(len(wr.header))})
		case wr.wanted(t):
			l.row(t)
		}
	}
}

// row takes one figure.
func (l *longReader) row(t *walk) {
	cell := func(i int) string { return strings.TrimSpace(t.Cells[i]) }
	element := cell(longElement)
	if element != "PRCP" && element != "TMAX" && element != "TMIN" {
		return
	}
	if s := cell(longStation); !slices.Contains(l.stations, s) {
		l.stations = append(l.stations, s)
	}
	s, ok := parseStamp(cell(longDate), "")
	if !ok || s.hasTime {
		l.fault(t.Line, t.col(longDate), l.header[longDate], cell(longDate), "want a date such as 20130105")
		return
	}
	key := fmt.Sprint(cell(longStation), " ", element, " ", s.wall)
	if first, twice := l.seen[key]; twice {
		l.slip(slip{kind: "repeated", Fault: table.Fault{Line: t.Line, Column: t.col(longDate), Name: element, Value: cell(longDate),
			Want: fmt.Sprintf("repeated: this day is on line %d already", first)}, cure: "keep one row for each day"})
		return
	}
	l.seen[key] = t.Line
	l.hasRain = l.hasRain || element == "PRCP"
	day := l.days[s.wall]
	if day == nil {
		nan := math.NaN()
		day = &reading{wall: s.wall, offset: noOffset, line: int32(t.Line), col: int32(t.col(longDate)), rain: nan, temp: nan, tmin: nan, tmax: nan, et0: nan}
		l.days[s.wall] = day
	}
	if cell(longFailed) != "" {
		l.failed++
		return
	}
	switch value := cell(longValue); {
	case value == "-9999":
	case element == "PRCP":
		day.rain = l.figure(t, longValue, l.rain, 0, math.Inf(1), true)
		switch cell(longMeasured) {
		case "T":
			day.rain = 0
			l.traces++
		case "P":
			l.presumed++
		}
	case element == "TMAX":
		day.tmax = l.figure(t, longValue, l.temp, -90, 60, false)
	default:
		day.tmin = l.figure(t, longValue, l.temp, -90, 60, false)
	}
}

// finish puts the days in order.
func (l *longReader) finish() {
	if len(l.stations) > 1 {
		l.slip(slip{ahead: true, Fault: table.Fault{Name: "station",
			Want: fmt.Sprintf("several stations in one file: choose one with where, such as where: {station: %s}; found %s", l.stations[0], quoted(l.stations))}})
		return
	}
	if len(l.days) > 0 && !l.hasRain {
		l.fault(0, 0, "rain", "", "no row has the element PRCP: want the station's rain")
		return
	}
	crossed := 0
	for _, day := range l.days {
		if day.tmin > day.tmax {
			day.tmin, day.tmax = math.NaN(), math.NaN()
			crossed++
		}
		l.rows = append(l.rows, *day)
	}
	slices.SortFunc(l.rows, func(a, b reading) int { return int((a.wall - b.wall) / daySeconds) })
	l.note("a row for each figure: PRCP in tenths of mm, TMAX and TMIN in tenths of deg C; other elements are passed over")
	if l.failed > 0 {
		l.note("%s marked as failing a check: taken as missing", count(l.failed, "figure"))
	}
	if l.presumed > 0 {
		l.note("%s that the observer left blank and the file has as 0: taken as dry", count(l.presumed, "day"))
	}
	if crossed > 0 {
		l.note("%s with the lowest temperature above the highest: left without", count(crossed, "day"))
	}
}
