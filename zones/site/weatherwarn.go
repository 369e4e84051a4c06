package site

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// monthRain is the rain of one calendar month and how much of it is known.
type monthRain struct {
	year, month  int // month from 1
	mm           float64
	hours, known int
}

// months adds the rain up by calendar month, every month of the record once.
func (r *Record) months() []monthRain {
	var months []monthRain
	for day := range r.Days {
		t := r.dayTime(day)
		if n := len(months); n == 0 || months[n-1].month != int(t.Month()) {
			months = append(months, monthRain{year: t.Year(), month: int(t.Month()), hours: 24 * daysIn(t.Year(), int(t.Month()))})
		}
		m := &months[len(months)-1]
		for h := 24 * day; h < 24*day+24; h++ {
			m.mm += r.RainMM[h]
			if !r.Missing[h] {
				m.known++
			}
		}
	}
	return months
}

// warnRain notes totals that point to a wrong unit or to zeros in place of missing
// values. Over 90 days: no rain, or past 12,000 mm a year (the wettest places have near
// 11,900, from memory). Over a year: under 20 mm, over 6,000, or wet days as of inches
// read as mm. Common practice, no source.
func (r *Record) warnRain() {
	const hoursPerYear = 8766
	total, wetDays := 0.0, 0
	for day := range r.Days {
		depth, _ := r.DayRainMM(day)
		total += depth
		if depth > 0 {
			wetDays++
		}
	}
	known := len(r.Missing) - r.MissingHours()
	if known < 90*24 {
		return
	}
	f := r.Figures()
	wetMean := total / math.Max(1, float64(wetDays))
	year, most := f.MeanYearMM, 6000.0
	if math.IsNaN(year) {
		year, most = total/float64(known)*hoursPerYear, 12000
	}
	whole := !math.IsNaN(f.MeanYearMM)
	switch {
	case total == 0:
		r.note("warning: no rain at all in %s: are these zeros missing values?", count(known/24, "day"))
	case year > most:
		r.note("warning: %s of rain a year is more than nearly any place has: is the unit right?", inBoth(year))
	case whole && (wetMean < 0.3 || (wetMean < 1 && year < 250 && f.WettestDayMM < 25)):
		r.note("warning: wet days bring only %s on average and the wettest %s: is the unit right?", inBoth(wetMean), inBoth(f.WettestDayMM))
	case whole && year < 20:
		r.note("warning: only %s of rain a year: is the unit right?", inBoth(year))
	}
}

// warnTemperature notes a year that points to a wrong unit: never 10 deg C, all within 3,
// or a mean outside -25 to 35 (towns have -16 to 34, from memory).
func (r *Record) warnTemperature() {
	mean, f := r.meanYearC(), r.Figures()
	switch {
	case math.IsNaN(mean):
	case f.HottestC < 10:
		r.note("warning: the hottest day of the record has only %s: is the temperature unit right?", inBothC(f.HottestC))
	case f.HottestC-f.ColdestC < 3:
		r.note("warning: all temperatures lie between %.1f and %.1f deg C: is the temperature unit right?", f.ColdestC, f.HottestC)
	case mean < -25 || mean > 35:
		r.note("warning: the mean temperature of a year is %s: is the temperature unit right?", inBothC(mean))
	}
}

// warnHemisphere notes a year that is clearly warmest in the winter of its latitude:
// beyond the tropics, April to September against October to March, 3 deg C apart the
// wrong way, each month of 15 known days. Common practice, no source.
func (r *Record) warnHemisphere(latDeg float64) {
	const tropicDeg, clearC, daysNeeded = 23.44, 3, 15
	if math.Abs(latDeg) <= tropicDeg {
		return
	}
	sum, n := r.monthsC()
	var north, south float64 // means of the half-years in which it is summer there
	for m := range sum {
		if n[m] < daysNeeded {
			return
		}
		if m >= 3 && m < 9 {
			north += sum[m] / n[m] / 6
		} else {
			south += sum[m] / n[m] / 6
		}
	}
	if (south-north)*math.Copysign(1, latDeg) < clearC {
		return
	}
	r.note("warning: April to September has a mean of %s and October to March %s, so it is warm in the winter of latitude %g (south is below zero): is the latitude right, and the record of this place?",
		inBothC(north), inBothC(south), latDeg)
}

// warnMarkers notes rain that is likely a marker: three nines or more, in the unit of the
// file, at least five times any other row's. Common practice, no source.
func (wr *weatherReader) warnMarkers() {
	largest := 0.0
	for i := range wr.rows {
		largest = greater(largest, wr.rows[i].rain)
	}
	value := wr.asWritten(largest)
	if nines(value) < 3 {
		return
	}
	next, rows := 0.0, 0
	var first *reading
	for i := range wr.rows {
		row := &wr.rows[i]
		if row.rain != largest {
			next = greater(next, row.rain)
		} else if rows++; first == nil {
			first = row
		}
	}
	if largest < 5*next {
		return
	}
	others := ""
	if rows > 1 {
		others = " and " + count(rows-1, "other row")
	}
	wr.note("warning: rain of %s on line %d%s is at least five times that of any other row: if it means no value, %s",
		value, first.line, others, setList("missing", with(wr.f.Missing, value)))
}

// asWritten returns rain in mm as a number in the unit of the file.
func (wr *weatherReader) asWritten(mm float64) string {
	v := mm * wr.rain.divide
	if wr.rain.divide == 0 {
		v = mm / wr.rain.scale
	}
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}

// Warnings returns the notes that are warnings.
func (r *Record) Warnings() []string {
	return slices.DeleteFunc(slices.Clone(r.Notes), func(n string) bool { return !strings.HasPrefix(n, "warning:") })
}
