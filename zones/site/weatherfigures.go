package site

import (
	"fmt"
	"math"
	"time"
)

// leastMonthDays is how many days of a calendar month, of all years together,
// must be known for a yearly figure. WMO-No. 1203 (2017), section 4.4.1, wants
// no monthly value of a month with 11 days missing or more (from memory).
const leastMonthDays = 20

// Figures are the few numbers by which a person notices that a record cannot
// be right. What the record does not give is NaN.
type Figures struct {
	MeanYearMM   float64   // rain of a mean year; NaN unless all calendar months are known
	WettestDayMM float64   // 0 if it never rains; NaN if no hour is known
	WettestDay   time.Time // 00:00 of the first such day; zero if it never rains
	ColdestC     float64   // lowest of the days' lowest temperatures, deg C
	HottestC     float64   // highest of the days' highest, deg C
}

// Figures sums a record up. The rain of a mean year is the sum over the calendar months
// of the mean rain of a known hour x the hours of the month, so that gaps weigh on no
// season.
func (r *Record) Figures() Figures {
	f := Figures{MeanYearMM: r.meanYearMM(), WettestDayMM: math.NaN(), ColdestC: math.NaN(), HottestC: math.NaN()}
	if r.MissingHours() < len(r.Missing) {
		f.WettestDayMM = 0
	}
	for day, d := range r.Days {
		if mm, _ := r.DayRainMM(day); mm > f.WettestDayMM {
			f.WettestDayMM, f.WettestDay = mm, r.dayTime(day)
		}
		f.ColdestC, f.HottestC = lesser(f.ColdestC, d.TMinC), greater(f.HottestC, d.TMaxC)
	}
	return f
}

// yearSum is a year of a record in a few numbers; see Year for where it begins.
type yearSum struct {
	Year
	RainMM, ColdestC, HottestC float64 // temperatures NaN where none is known
}

// YearSums sums up each year that a record touches.
func (r *Record) YearSums(latDeg float64) []yearSum {
	var sums []yearSum
	for _, y := range r.Years(latDeg) {
		s := yearSum{Year: y, ColdestC: math.NaN(), HottestC: math.NaN()}
		for day := y.FromDay; day < y.ToDay; day++ {
			mm, _ := r.DayRainMM(day)
			s.RainMM += mm
			s.ColdestC, s.HottestC = lesser(s.ColdestC, r.Days[day].TMinC), greater(s.HottestC, r.Days[day].TMaxC)
		}
		sums = append(sums, s)
	}
	return sums
}

// meanYearMM returns the rain of a mean year; see Figures.
func (r *Record) meanYearMM() float64 {
	var mm, known [13]float64
	for _, m := range r.months() {
		mm[m.month] += m.mm
		known[m.month] += float64(m.known)
	}
	sum := 0.0
	for month := 1; month <= 12; month++ {
		if known[month] < 24*leastMonthDays {
			return math.NaN()
		}
		sum += mm[month] / known[month] * 24 * meanDaysIn(month)
	}
	return sum
}

// meanDaysIn returns the days of a calendar month of the mean Gregorian year.
func meanDaysIn(month int) float64 {
	if month == 2 {
		return 28.2425
	}
	return float64(daysIn(2001, month))
}

// meanYearC returns the mean temperature of the twelve calendar months, deg C, or NaN.
func (r *Record) meanYearC() float64 {
	sum, known := r.monthsC()
	year := 0.0
	for m := range sum {
		if known[m] < leastMonthDays {
			return math.NaN()
		}
		year += sum[m] / known[m] * meanDaysIn(m+1) / 365.2425
	}
	return year
}

// monthsC adds up the mean temperatures, deg C, of the known days by calendar month.
func (r *Record) monthsC() (sum, days [12]float64) {
	for day, d := range r.Days {
		if mean := (d.TMinC + d.TMaxC) / 2; !math.IsNaN(mean) {
			m := r.dayTime(day).Month() - 1
			sum[m] += mean
			days[m]++
		}
	}
	return sum, days
}

// inBoth writes a depth in mm and inches, for notes that are read in either.
func inBoth(mm float64) string {
	return fmt.Sprintf("%s mm (%s in)", shortNumber(mm), shortNumber(mm/25.4))
}

// inBothC writes a temperature in deg C and deg F.
func inBothC(c float64) string { return fmt.Sprintf("%.0f deg C (%.0f deg F)", c, c*1.8+32) }

// shortNumber writes whole numbers from 10 on, and two digits that count below.
func shortNumber(v float64) string {
	if math.Abs(v) >= 9.95 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2g", v)
}
