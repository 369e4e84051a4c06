package site

import "math"

// MonthMean is a calendar month of a mean year; NaN where too few days are known.
type MonthMean struct {
	RainMM      float64 // of the month
	WetDays     float64 // days with wetDayMM or more
	HighC, LowC float64 // mean highest and lowest temperature of the day
	FrostNights float64 // nights at or below 0 deg C
}

// wetDayMM makes a day of rain, as climate pages count them: 1 mm (WMO-No. 1203, 2017,
// from memory).
const wetDayMM = 1

// MonthMeans gives the calendar months, January first: means over the known days of all
// years x the days of the month, February taken as 28.2425.
func (r *Record) MonthMeans() (out [12]MonthMean) {
	var sums [12]MonthMean
	var rainy, warm [12]float64 // days known
	for i, d := range r.Days {
		m := int(r.dayTime(i).Month()) - 1
		if mm, whole := r.DayRainMM(i); whole {
			rainy[m]++
			sums[m].RainMM += mm
			if mm >= wetDayMM {
				sums[m].WetDays++
			}
		}
		if !math.IsNaN(d.TMinC) && !math.IsNaN(d.TMaxC) {
			warm[m]++
			sums[m].HighC += d.TMaxC
			sums[m].LowC += d.TMinC
			if d.TMinC <= 0 {
				sums[m].FrostNights++
			}
		}
	}
	mean := func(sum, n float64) float64 {
		if n < leastMonthDays {
			return math.NaN()
		}
		return sum / n
	}
	for m, s := range sums {
		days := meanDaysIn(m + 1)
		out[m] = MonthMean{
			days * mean(s.RainMM, rainy[m]), days * mean(s.WetDays, rainy[m]),
			mean(s.HighC, warm[m]), mean(s.LowC, warm[m]), days * mean(s.FrostNights, warm[m]),
		}
	}
	return out
}
