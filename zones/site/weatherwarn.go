package site

import (
	"math"
	"slices"
	"time"
)

// monthRain is the rain of one calendar month and how much of it is known.
type monthRain struct {
	year, month  int // month from 1
	mm           float64
	hours, known int
}

// warnDryWindows notes runs of three months or more without any rain where
// three of four other years have more than 30 mm in the same months: most often
// such a run is a gauge out of order, written down as zeros. Where dry seasons
// are usual the rule is dry too, and nothing is said. Common practice, no
// source.
func (r *Record) warnDryWindows() {
	const usualMM = 30
	months := r.months()
	from, to := -1, -1 // open run of suspect months
	usual := 0.0
	flush := func() {
		if from >= 0 {
			a, b := months[from], months[to]
			r.note("warning: no rain at all from %s to %s, where other years bring about %.0f mm in three months: are these zeros missing values?",
				monthName(a), monthName(b), usual)
		}
		from, to, usual = -1, -1, 0
	}
	for i := 0; i+3 <= len(months); i++ {
		mm, ok := windowMM(months, i)
		if !ok || mm > 0 {
			continue
		}
		others := otherYears(months, i)
		if len(others) == 0 {
			continue
		}
		// Three quarters of the others must be wet: one wet year in a desert, which
		// falls into two winters, is no rule.
		if middle := QuantileWeibull(others, 0.5); QuantileWeibull(others, 0.25) > usualMM {
			if from >= 0 && i > to+1 {
				flush()
			}
			if from < 0 {
				from = i
			}
			to, usual = i+2, max(usual, middle)
		}
	}
	flush()
}

func monthName(m monthRain) string {
	return time.Date(m.year, time.Month(m.month), 1, 0, 0, 0, 0, time.UTC).Format("2006-01")
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

// windowMM returns the rain of three months, and whether at least 90 % of their
// hours are known.
func windowMM(months []monthRain, i int) (mm float64, ok bool) {
	hours, known := 0, 0
	for _, m := range months[i : i+3] {
		mm += m.mm
		hours += m.hours
		known += m.known
	}
	return mm, 10*known >= 9*hours
}

// otherYears returns the rain of the same three months in all other years.
func otherYears(months []monthRain, i int) []float64 {
	var others []float64
	for j := i % 12; j+3 <= len(months); j += 12 {
		if mm, ok := windowMM(months, j); ok && j != i {
			others = append(others, mm)
		}
	}
	return others
}

// warnUnit notes totals that point to a wrong unit: more than 12,000 mm a year,
// which is past the wettest places on earth (near 11,900 mm, from memory), or,
// in a record over a year, wet days of less than 0.3 mm on average.
func (r *Record) warnUnit() {
	const hoursPerYear = 8766
	total, wetDays, known := 0.0, 0, 0
	for day := range r.Days {
		depth, _ := r.DayRainMM(day)
		total += depth
		if depth > 0 {
			wetDays++
		}
	}
	known = len(r.Missing) - r.MissingHours()
	if known < 90*24 {
		return
	}
	if yearly := total / float64(known) * hoursPerYear; yearly > 12000 {
		r.note("warning: %.0f mm of rain a year is more than any place has: is the unit right?", yearly)
	}
	if mean := total / math.Max(1, float64(wetDays)); known > hoursPerYear && wetDays > 0 && mean < 0.3 {
		r.note("warning: wet days bring only %.2f mm on average: is the unit right?", mean)
	}
}

// Warnings returns the notes that are warnings.
func (r *Record) Warnings() []string {
	return slices.DeleteFunc(slices.Clone(r.Notes), func(n string) bool { return len(n) < 8 || n[:8] != "warning:" })
}
