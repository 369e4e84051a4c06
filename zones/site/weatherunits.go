package site

import (
	"strings"
)

// stationFigures is how the figures of a file are written whose columns are
// named PRCP, TMAX and TMIN, as in NOAA's daily summaries by station.
type stationFigures struct {
	days             int
	hottest          float64 // as written
	wholeC, wholeMM  bool    // no decimals anywhere
	tenths, hundreds bool    // rain with one, with two decimals
}

// unitByFigures tells the unit of a daily summary that names none: tenths of mm and deg
// C, mm and deg C, or inches and deg F, by the hottest of 60 days or more: nowhere over
// 134 deg F or 57 deg C (WMO, from memory), or under 60 deg F all through a year. "" if
// the figures do not tell.
func (wr *weatherReader) unitByFigures(ours string, t *walk) string {
	if wr.f.RainUnit != "" && ours == "rain" || wr.f.TempUnit != "" && ours != "rain" || ours == "et0" || ours == "temp" {
		return ""
	}
	for _, c := range []struct{ ours, name string }{{"rain", "prcp"}, {"tmax", "tmax"}, {"tmin", "tmin"}} {
		if at, ok := wr.columns[c.ours]; !ok || !strings.EqualFold(wr.header[at], c.name) {
			return ""
		}
	}
	f := wr.stationFigures(t)
	units := [2]string{}
	switch {
	case f.days < 60:
	case f.wholeC && f.wholeMM && f.hottest > 134:
		units = [2]string{"0.1 mm", "0.1 C"}
	case f.hottest > 60 && f.hottest <= 134 && f.hundreds:
		units = [2]string{"in", "F"}
	case f.hottest <= 57 && !f.wholeC && f.tenths && !f.hundreds:
		units = [2]string{"mm", "C"}
	}
	if units[0] != "" && ours == "rain" {
		wr.note("the header names no units; the figures of PRCP, TMAX and TMIN are those of %s and %s", units[0], units[1])
	}
	if ours == "rain" {
		return units[0]
	}
	return units[1]
}

// stationFigures looks through the columns PRCP, TMAX and TMIN.
func (wr *weatherReader) stationFigures(t *walk) stationFigures {
	f := stationFigures{wholeC: true, wholeMM: true, hottest: -1e9}
	rain, tmax, tmin := wr.columns["rain"], wr.columns["tmax"], wr.columns["tmin"]
	for body := t.body(); ; {
		more, bad := body.row()
		if !more {
			return f
		}
		if bad != nil || len(body.Cells) != len(wr.header) {
			continue
		}
		for _, at := range []int{rain, tmax, tmin} {
			cell := strings.TrimSpace(body.Cells[at])
			v, ok := parseNumber(cell)
			if !ok || isMarker(wr.missing, cell, v) {
				continue
			}
			_, decimals, point := strings.Cut(cell, ".")
			switch at {
			case rain:
				f.wholeMM = f.wholeMM && !point
				f.tenths, f.hundreds = f.tenths || len(decimals) == 1, f.hundreds || len(decimals) == 2
				continue
			case tmax:
				f.days++
				f.hottest = max(f.hottest, v)
			}
			f.wholeC = f.wholeC && !point
		}
	}
}
