package site

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// readHeader reads the header line and finds the columns, their units and the
// rows asked for. It returns false if there is anything it must ask about.
func (wr *weatherReader) readHeader(t *walk) bool {
	if _, bad := t.row(); bad != nil {
		wr.slip(slip{Fault: *bad})
		return false
	}
	wr.header = table.Trimmed(t.Cells)
	wr.findColumns(t)
	if wr.faulty() {
		return false
	}
	wr.requireColumns(t.Line)
	if wr.faulty() {
		return false
	}
	if by := map[byte]string{';': "semicolons", '\t': "tabs", table.Blanks: "blanks"}[t.Separator]; by != "" {
		wr.note("cells are separated by %s", by)
	}
	wr.rain = wr.unitOf("rain", "rain_unit", wr.f.RainUnit, "mm, 0.1 mm, cm, in or 0.01 in", t)
	wr.et0 = unit{name: "mm", divide: 1}
	if at, ok := wr.columns["et0"]; ok {
		if _, suffix := splitHeader(wr.header[at]); suffix != "" {
			wr.et0 = wr.unitOf("et0", "", suffix, "mm or in", t)
		} else {
			wr.note("et0 from column %s, taken as mm", wr.header[at])
		}
	}
	wr.temp = wr.temperatureUnit(t)
	wr.findWhere(t)
	return !wr.faulty()
}

// findColumns fills columns from the declaration, then from common header names.
func (wr *weatherReader) findColumns(t *walk) {
	wr.columns = map[string]int{}
	taken := map[int]bool{}
	for _, ours := range ourColumns() {
		declared := wr.f.Columns[ours]
		if declared == "" {
			continue
		}
		places := wr.places(declared)
		switch len(places) {
		case 0:
			wr.fault(t.Line, 0, "columns: "+ours, declared, "no such column: the header has "+quoted(wr.header))
		case 1:
			wr.columns[ours] = places[0]
			taken[places[0]] = true
		default:
			wr.fault(t.Line, t.col(places[1]), "columns: "+ours, declared, "two columns have this name")
		}
	}
	known := RecordColumns()
	parts := hasYear(known, wr.header)
	for i, header := range wr.header {
		name, _ := splitHeader(header)
		ours := columnFor(known, name, parts)
		if ours == "" || taken[i] || wr.f.Columns[ours] != "" {
			continue
		}
		other, found := wr.columns[ours]
		if found && ours == "rain" && rainAlone(wr.header[other]) != rainAlone(header) {
			if rainAlone(wr.header[other]) {
				wr.columns[ours] = i // snow counts too
			}
			continue
		}
		if found {
			wr.fault(t.Line, t.col(i), header, "", fmt.Sprintf("both this column and %s could be %s: say which under columns", wr.header[other], ours))
			continue
		}
		wr.columns[ours] = i
	}
	_, hasTime := wr.columns["time"]
	_, hasDate := wr.columns["date"]
	if hasTime && wr.timeIsWhole(t.body()) {
		delete(wr.columns, "date")
		hasDate = true
	}
	if _, hasYear := wr.columns["year"]; hasDate || hasYear && !wr.hasParts() {
		for _, ours := range []string{"year", "month", "day", "yday"} {
			delete(wr.columns, ours)
		}
	}
}

// timeIsWhole reports whether the first row's time column holds a date too.
func (wr *weatherReader) timeIsWhole(t *walk) bool {
	more, bad := t.row()
	at := wr.columns["time"]
	if !more || bad != nil || at >= len(t.Cells) {
		return false
	}
	_, ok := parseStamp(strings.TrimSpace(t.Cells[at]), "")
	return ok
}

// places returns where a column name stands in the header: exact matches, or
// else those that differ in case.
func (wr *weatherReader) places(name string) []int {
	var exact, folded []int
	for i, header := range wr.header {
		if header == strings.TrimSpace(name) {
			exact = append(exact, i)
		}
		if strings.EqualFold(header, strings.TrimSpace(name)) {
			folded = append(folded, i)
		}
	}
	if len(exact) > 0 {
		return exact
	}
	return folded
}

// requireColumns asks for a time and a rain column.
func (wr *weatherReader) requireColumns(line int) {
	_, hasTime := wr.columns["time"]
	_, hasDate := wr.columns["date"]
	if !hasTime && !hasDate && !wr.hasParts() {
		wr.fault(line, 0, "time", "", "no time or date column found: say which it is under columns; the header has "+quoted(wr.header))
	}
	rain, hasRain := wr.columns["rain"]
	if !hasRain {
		wr.fault(line, 0, "rain", "", "no rain column found: say which it is under columns; the header has "+quoted(wr.header))
		return
	}
	for _, ours := range ourColumns() {
		if at, ok := wr.columns[ours]; ok && at == rain && ours != "rain" {
			wr.fault(line, 0, "columns: "+ours, wr.header[at], "this column is the rain already")
		}
	}
	if at, ok := wr.columns["time"]; ok {
		name := plainName(wr.header[at])
		wr.utc = strings.HasSuffix(name, "_utc") || strings.HasSuffix(name, "(utc)")
		if wr.utc && wr.f.Clock != "" && wr.f.Clock != "utc" {
			wr.fault(line, 0, "clock", wr.f.Clock, "the header says UTC: want utc, or a header without it")
		}
	}
}

// unitOf returns the unit of a column from its header and from what was
// declared, and asks if neither says or the two differ.
func (wr *weatherReader) unitOf(ours, setting, declared, choices string, t *walk) unit {
	at, ok := wr.columns[ours]
	if !ok {
		return unit{}
	}
	header := wr.header[at]
	_, suffix := splitHeader(header)
	isRain := ours == "rain" || ours == "et0"
	if suffix == "utc" || (suffix != "" && isRain != isDepth(unitNamed(suffix))) {
		wr.fault(t.Line, t.col(at), header, "", fmt.Sprintf("want %s in %s", ours, choices))
		return unit{}
	}
	switch {
	case declared == "" && suffix == "":
		if declared = wr.unitByFigures(ours, t); declared != "" {
			break
		}
		wr.fault(t.Line, t.col(at), header, "", fmt.Sprintf("the header does not say the unit: set %s to %s, such as weather: {%s: %s} in garden.yaml",
			setting, choices, setting, strings.SplitN(choices, ",", 2)[0]))
		return unit{}
	case declared != "" && suffix != "" && declared != suffix:
		wr.fault(t.Line, t.col(at), header, "", fmt.Sprintf("the header says %s but %s says %s", suffix, setting, declared))
		return unit{}
	case declared == "":
		declared = suffix
	}
	u := unitNamed(declared)
	wr.note("%s from column %s, %s", ours, header, u.name)
	return u
}

// isDepth reports whether a unit measures a depth of water.
func isDepth(u unit) bool { return !strings.HasSuffix(u.name, "C") && !strings.HasSuffix(u.name, "F") }

// temperatureUnit returns the one unit of all temperature columns.
func (wr *weatherReader) temperatureUnit(t *walk) unit {
	var found unit
	for _, ours := range []string{"tmin", "tmax", "temp"} {
		at, ok := wr.columns[ours]
		if !ok {
			continue
		}
		before := wr.slips.n
		u := wr.unitOf(ours, "temp_unit", wr.f.TempUnit, "C, F or 0.1 C", t)
		if wr.slips.n == before && found.name != "" && found.name != u.name {
			wr.fault(t.Line, t.col(at), wr.header[at], "", "want one unit for all temperatures")
		}
		found = u
	}
	return found
}

// findWhere finds the columns that choose the rows.
func (wr *weatherReader) findWhere(t *walk) {
	for _, name := range slices.Sorted(maps.Keys(wr.f.Where)) {
		places := wr.places(name)
		if len(places) != 1 {
			wr.fault(t.Line, 0, "where", name, "want the name of one column: the header has "+quoted(wr.header))
			continue
		}
		value := strings.TrimSpace(wr.f.Where[name])
		wr.where = append(wr.where, whereColumn{places[0], wr.header[places[0]], value})
		wr.note("only rows whose %s is %s", wr.header[places[0]], value)
	}
}

// noRows says that no row is left, and what the columns of where hold.
func (wr *weatherReader) noRows(t *walk) {
	if len(wr.where) == 0 {
		wr.fault(0, 0, "", "", "the file has a header but no rows")
		return
	}
	for _, w := range wr.where {
		wr.fault(0, 0, "where: "+w.name, w.value, "no row has this value: found "+quoted(wr.distinct(t.body(), w.place, 1000)))
	}
}

// distinct returns the values of a column, sorted, at most so many.
func (wr *weatherReader) distinct(t *walk, place, most int) []string {
	seen := map[string]bool{}
	for len(seen) < most {
		more, bad := t.row()
		if !more {
			break
		}
		if bad == nil && place < len(t.Cells) {
			seen[strings.TrimSpace(t.Cells[place])] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

// askForStation puts a question ahead of all faults, and returns true, if a column tells
// stations apart: with it times rise and none comes twice. Without a common name it must
// make times come one and a half times on average, as a row written twice is no station.
func (wr *weatherReader) askForStation(t *walk) bool {
	times := map[int64]bool{}
	for _, row := range wr.rows {
		times[row.wall] = true
	}
	often := 2*len(wr.rows) >= 3*len(times)
	known := RecordColumns()
	for _, wantName := range []bool{true, false} {
		for place, header := range wr.header {
			name, _ := splitHeader(header)
			if columnFor(known, name, false) != "" || stationName(name) != wantName || !(wantName || often) {
				continue
			}
			values := wr.distinct(t.body(), place, 201)
			if len(values) < 2 || len(values) > 200 || !wr.separates(t.body(), place) {
				continue
			}
			wr.slip(slip{ahead: true, Fault: table.Fault{Name: header,
				Want: fmt.Sprintf("several stations in one file: choose one with where, such as where: {%s: %s}; found %s",
					header, values[0], quoted(values))}})
			return true
		}
	}
	return false
}

// separates reports whether the rows of each value of a column are in the order
// of time by themselves.
func (wr *weatherReader) separates(t *walk, place int) bool {
	last := map[string]int64{}
	rows, next := wr.rows, 0
	for next < len(rows) {
		more, _ := t.row()
		if !more {
			break
		}
		if t.Line != int(rows[next].line) || t.Cells == nil {
			continue
		}
		value := strings.TrimSpace(t.Cells[place])
		if before, ok := last[value]; ok && rows[next].wall <= before {
			return false
		}
		last[value] = rows[next].wall
		next++
	}
	return len(last) > 1 && 2*len(last) <= len(rows)
}
