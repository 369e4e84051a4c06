package site

import "math"

// A run of zeros is a hole if the chance that the whole record has one like it
// is below holeChance, and at least one other year tells of its dates.
const holeChance = 1e-4

const (
	aroundDays = 15 // days on either side of a date that tell of its weather
	clustering = 2  // wet days come in spells and years: so many tell as much as one alone
)

// tally counts days of the same date, and of those around it.
type tally struct{ known, wet, afterDry, wetAfterDry float64 }

func (t *tally) add(o tally, sign float64) {
	t.known += sign * o.known
	t.wet += sign * o.wet
	t.afterDry += sign * o.afterDry
	t.wetAfterDry += sign * o.wetAfterDry
}

// markHoles takes runs of days without rain that are all but impossible as
// missing: most often a gauge out of order, written down as zeros.
//
// The chance that no day of a run is wet is (1 + c/T)^(-S T/c): S is the sum
// over its days of the chance of rain after a dry day, by the other days within
// 15 days of that date, T the mean number of other years that know the date, and
// c = 2. That is the chance of no event where events of one rate were counted
// for T years (Poisson, rate known by a gamma distribution), with half of them
// taken to tell nothing new. It is multiplied by the number of dry runs in the
// record. Rain after a dry day as a chain of the first order: Gabriel and
// Neumann 1962, Q. J. R. Meteorol. Soc. 88, 90-95, from memory. Dry seasons are
// kept since no other year has rain on their dates.
func (r *Record) markHoles() {
	for found := true; found; { // what is missing tells nothing of other years
		found = false
		days, dates := r.tallies()
		runs := r.dryRuns(days)
		around := widened(dates)
		for _, run := range runs {
			length := float64(run[1] - run[0])
			if length < -math.Log(holeChance) {
				continue // so few days never come to it
			}
			sum, years, wet := r.others(run, days, around)
			logChance := math.Log(float64(len(runs))) - sum*years/clustering*math.Log1p(clustering/years)
			if !(logChance < math.Log(holeChance)) {
				continue
			}
			found = true
			for h := 24 * run[0]; h < 24*run[1]; h++ {
				r.Missing[h] = true
			}
			r.note("warning: no rain at all from %s to %s, %s, where %.0f %% of such days are wet in other years: under one chance in 10,000, so these zeros are taken as missing values; if they are real, set weather.zeros: real",
				r.dayTime(run[0]).Format("2006-01-02"), r.dayTime(run[1]-1).Format("2006-01-02"), count(run[1]-run[0], "day"), 100*wet)
		}
	}
}

// others is what all other days tell of the dates of a run: the sum of the
// chances of rain after a dry day, the mean number of other years, and the share
// of wet days; NaN if a date is hardly known.
func (r *Record) others(run [2]int, days, around []tally) (sum, years, wet float64) {
	own := make([]tally, len(around))
	for d := run[0]; d < run[1]; d++ {
		own[r.date(d)].add(days[d], 1)
	}
	own = widened(own)
	var all tally
	for d := run[0]; d < run[1]; d++ {
		t := around[r.date(d)]
		t.add(own[r.date(d)], -1)
		if t.known < leastMonthDays {
			return math.NaN(), math.NaN(), math.NaN()
		}
		// 15 days by the plain chance of rain, for dates that are hardly ever dry.
		sum += (t.wetAfterDry + aroundDays*t.wet/t.known) / (t.afterDry + aroundDays)
		all.add(t, 1)
	}
	sum *= min(1, 365/float64(run[1]-run[0])) // years without rain are one kind of year
	return sum, all.known / (2*aroundDays + 1) / float64(run[1]-run[0]), all.wet / all.known
}

// date numbers the days of a year from 0; a leap year's last goes with the day before.
func (r *Record) date(day int) int { return min(r.dayTime(day).YearDay(), 365) - 1 }

// tallies returns each day of a record, and all days of a date together.
func (r *Record) tallies() (days, dates []tally) {
	days, dates = make([]tally, len(r.Days)), make([]tally, 365)
	dry := false
	for d := range r.Days {
		mm, known := r.DayRainMM(d)
		if known {
			days[d].known = 1
			if mm > 0 {
				days[d].wet = 1
			}
			if dry {
				days[d].afterDry, days[d].wetAfterDry = 1, days[d].wet
			}
		}
		dry = known && mm == 0
		dates[r.date(d)].add(days[d], 1)
	}
	return days, dates
}

// dryRuns returns the first day of each dry run, and the day after its last.
func (r *Record) dryRuns(days []tally) (runs [][2]int) {
	for d, t := range days {
		switch n := len(runs); {
		case t.known == 0 || t.wet > 0:
		case n > 0 && runs[n-1][1] == d:
			runs[n-1][1]++
		default:
			runs = append(runs, [2]int{d, d + 1})
		}
	}
	return runs
}

// widened adds up for each date those around it.
func widened(dates []tally) []tally {
	n := len(dates)
	out := make([]tally, n)
	var sum tally
	for k := -aroundDays; k <= aroundDays; k++ {
		sum.add(dates[(k+n)%n], 1)
	}
	for d := range out {
		out[d] = sum
		sum.add(dates[(d+aroundDays+1)%n], 1)
		sum.add(dates[(d-aroundDays+n)%n], -1)
	}
	return out
}
