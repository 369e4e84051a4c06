package site

import (
	"math"
	"time"
)

// wholeShare is the share of a year's hours that must have rain values for the
// year to count as whole.
const wholeShare = 0.9

// Year is the part of a record that belongs to one year: days FromDay up to
// but not including ToDay. North of the equator, and on it, a year is the
// calendar year; south of it, it runs from 1 July to 30 June, so that no
// summer is cut, and is named by the year in which it begins.
type Year struct {
	Name           int
	FromDay, ToDay int
	Whole          bool // at least 90 % of the year's hours are here with rain values
	MissingHours   int  // hours from FromDay to ToDay without a rain value
}

// Years returns the years a record touches, in order. A record shorter than a
// year still gives the one or two it touches, with Whole false.
func (r *Record) Years(latDeg float64) []Year {
	mustLatitude(latDeg)
	first := time.January
	if latDeg < 0 {
		first = time.July
	}
	var years []Year
	for day := 0; day < len(r.Days); {
		t := r.dayTime(day)
		name := t.Year()
		if t.Month() < first {
			name--
		}
		begin := time.Date(name, first, 1, 0, 0, 0, 0, r.Start.Location())
		end := begin.AddDate(1, 0, 0)
		y := Year{Name: name, FromDay: day, ToDay: min(len(r.Days), day+daysBetween(t, end))}
		for h := 24 * y.FromDay; h < 24*y.ToDay; h++ {
			if r.Missing[h] {
				y.MissingHours++
			}
		}
		here := 24*(y.ToDay-y.FromDay) - y.MissingHours
		y.Whole = float64(here) >= wholeShare*float64(24*daysBetween(begin, end))
		years = append(years, y)
		day = y.ToDay
	}
	return years
}

// daysBetween returns the days from one midnight to another in the same zone
// of fixed offset.
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
func (r *Record) MissingHours() int {
	n := 0
	for _, missing := range r.Missing {
		if missing {
			n++
		}
	}
	return n
}

// DaysWithoutTemperature returns how many days lack their lowest or highest
// temperature.
func (r *Record) DaysWithoutTemperature() int {
	n := 0
	for _, d := range r.Days {
		if math.IsNaN(d.TMinC + d.TMaxC) {
			n++
		}
	}
	return n
}
