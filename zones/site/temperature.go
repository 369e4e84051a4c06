package site

import (
	"fmt"
	"math"
	"time"
)

// maxBridgedDays is the longest gap of daily figures that is bridged by a
// straight line. Common practice, no source.
const maxBridgedDays = 5

// FillTemperature fills gaps of the daily temperatures: up to five days by a straight
// line, longer ones and the ends by the mean for that calendar day, or the line or
// nearest value after all. Without any temperature it does nothing. What was filled is
// noted.
func (r *Record) FillTemperature() {
	if n := r.DaysWithoutTemperature(); n == 0 || n == len(r.Days) {
		return
	}
	loShort, loLong := r.fillDays(func(d *Day) *float64 { return &d.TMinC })
	hiShort, hiLong := r.fillDays(func(d *Day) *float64 { return &d.TMaxC })
	for i := range r.Days {
		// Each is filled by itself, so a filled low may pass a measured high.
		if d := &r.Days[i]; d.TMinC > d.TMaxC {
			mid := (d.TMinC + d.TMaxC) / 2
			d.TMinC, d.TMaxC = mid, mid
		}
	}
	r.note("temperature: %s filled between neighbours, %s from the mean of the calendar day",
		count(max(loShort, hiShort), "day"), count(max(loLong, hiLong), "day"))
}

// fillDays fills the NaN gaps of one daily figure, and returns how many days
// were bridged by a straight line and how many took the calendar day's mean.
func (r *Record) fillDays(figure func(*Day) *float64) (bridged, meaned int) {
	means := r.calendarMeans(figure)
	for i := 0; i < len(r.Days); {
		if !math.IsNaN(*figure(&r.Days[i])) {
			i++
			continue
		}
		end := i
		for end < len(r.Days) && math.IsNaN(*figure(&r.Days[end])) {
			end++
		}
		before, after := math.NaN(), math.NaN()
		if i > 0 {
			before = *figure(&r.Days[i-1])
		}
		if end < len(r.Days) {
			after = *figure(&r.Days[end])
		}
		inside := i > 0 && end < len(r.Days)
		for day := i; day < end; day++ {
			mean := means[r.calendarDay(day)]
			if (inside && end-i <= maxBridgedDays) || math.IsNaN(mean) {
				*figure(&r.Days[day]) = bridge(before, after, float64(day-i+1)/float64(end-i+1))
				bridged++
				continue
			}
			*figure(&r.Days[day]) = mean
			meaned++
		}
		i = end
	}
	return bridged, meaned
}

// bridge returns the value at a share of the way, or the one of the two that is known.
func bridge(before, after, share float64) float64 {
	switch {
	case math.IsNaN(before):
		return after
	case math.IsNaN(after):
		return before
	}
	return before + (after-before)*share
}

// calendarMeans returns the mean of a daily figure for every month and day, at
// the places calendarDay gives; NaN where no year has one.
func (r *Record) calendarMeans(figure func(*Day) *float64) []float64 {
	sums := make([]float64, 13*32)
	counts := make([]int, len(sums))
	for i := range r.Days {
		if v := *figure(&r.Days[i]); !math.IsNaN(v) {
			sums[r.calendarDay(i)] += v
			counts[r.calendarDay(i)]++
		}
	}
	for i := range sums {
		sums[i] /= float64(counts[i]) // 0 / 0 is NaN: no such day
	}
	if leap, day28 := 2*32+29, 2*32+28; counts[leap] == 0 {
		sums[leap] = sums[day28]
	}
	return sums
}

// calendarDay returns 32 times the month plus the day of the month.
func (r *Record) calendarDay(day int) int {
	t := r.dayTime(day)
	return int(t.Month())*32 + t.Day()
}

// dayTime returns 00:00 of a day of the record.
func (r *Record) dayTime(day int) time.Time { return r.Start.AddDate(0, 0, day) }

// countDays returns how many days pass a test.
func (r *Record) countDays(pass func(Day) bool) int {
	n := 0
	for _, d := range r.Days {
		if pass(d) {
			n++
		}
	}
	return n
}

// note adds a line for people to read.
func (r *Record) note(format string, args ...any) {
	r.Notes = append(r.Notes, fmt.Sprintf(format, args...))
}

// count writes a number with its thing, in the plural where it is due.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
