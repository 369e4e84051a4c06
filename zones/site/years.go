package site

import (
	"math"
	"time"
)

// wholeShare is the share of a year's hours with rain values that makes it whole.
const wholeShare = 0.9

// Year is the part of a record in one year: days FromDay up to ToDay. South of the
// equator years run from 1 July, so that no summer is cut; where none is whole, from the
// date on which the record begins, if that gives one. It has the name of its first day's
// year.
type Year struct {
	Name           int
	FromDay, ToDay int
	Whole          bool // at least 90 % of the year's hours are here with rain values
	MissingHours   int  // hours from FromDay to ToDay without a rain value
}

// Years returns the years a record touches, in order.
func (r *Record) Years(latDeg float64) []Year {
	years, _ := r.years(latDeg)
	return years
}

// years also says whether they run from the record's own first day.
func (r *Record) years(latDeg float64) (years []Year, own bool) {
	mustLatitude(latDeg)
	first := time.January
	if latDeg < 0 {
		first = time.July
	}
	years = r.yearsFrom(first, 1)
	if from := r.yearsFrom(r.Start.Month(), r.Start.Day()); wholeYears(years) == 0 && wholeYears(from) > 0 {
		return from, true
	}
	return years, false
}

// noteYears says so where years run from the record's own first day.
func (r *Record) noteYears(latDeg float64) {
	if years, own := r.years(latDeg); own {
		r.note("years are counted from %s, the day on which the record begins: so it has %s", r.Start.Format("2 January"), count(wholeYears(years), "whole year"))
	}
}

func wholeYears(years []Year) (n int) {
	for _, y := range years {
		if y.Whole {
			n++
		}
	}
	return n
}

// yearsFrom cuts the record before each day of that date.
func (r *Record) yearsFrom(month time.Month, dayOfMonth int) []Year {
	var years []Year
	for day := 0; day < len(r.Days); {
		t := r.dayTime(day)
		name := t.Year()
		begin := time.Date(name, month, dayOfMonth, 0, 0, 0, 0, r.Start.Location())
		if begin.After(t) {
			name--
			begin = time.Date(name, month, dayOfMonth, 0, 0, 0, 0, r.Start.Location())
		}
		end := time.Date(name+1, month, dayOfMonth, 0, 0, 0, 0, r.Start.Location())
		y := Year{Name: name, FromDay: day, ToDay: min(len(r.Days), day+daysBetween(t, end))}
		y.MissingHours = countTrue(r.Missing[24*y.FromDay : 24*y.ToDay])
		here := 24*(y.ToDay-y.FromDay) - y.MissingHours
		y.Whole = float64(here) >= wholeShare*float64(24*daysBetween(begin, end))
		years = append(years, y)
		day = y.ToDay
	}
	return years
}

// daysBetween returns the days from one midnight to another.
func daysBetween(from, to time.Time) int { return int(to.Sub(from) / (24 * time.Hour)) }

// LongestGapHours returns the longest run of hours without a rain value.
func (r *Record) LongestGapHours() int {
	longest, run := 0, 0
	for _, missing := range r.Missing {
		run++
		if !missing {
			run = 0
		}
		longest = max(longest, run)
	}
	return longest
}

// MissingHours returns how many hours have no rain value.
func (r *Record) MissingHours() int { return countTrue(r.Missing) }

func countTrue(of []bool) (n int) {
	for _, b := range of {
		if b {
			n++
		}
	}
	return n
}

// DaysWithoutTemperature returns how many days lack their lowest or highest temperature.
func (r *Record) DaysWithoutTemperature() int {
	return r.countDays(func(d Day) bool { return math.IsNaN(d.TMinC + d.TMaxC) })
}
