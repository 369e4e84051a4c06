package care

import (
	"math"
	"slices"
	"time"

	"hollowbed/zones/site"
)

// WetSeason is the half of the year in which most of the rain falls.
type WetSeason struct {
	From   time.Month // first of six months in a row
	Share  float64    // of the year's rain that falls in them
	Marked bool       // at least three fifths: there is a wet season to speak of
}

// markedShare is the share of the rain in the wettest half of the year from
// which on a climate has a wet season worth planning by. Choice of this
// project, no source.
const markedShare = 0.6

// WettestHalf finds the six months in a row with the most rain. Days with a
// missing hour are left out; each month counts by its mean daily rain.
func WettestHalf(rec *site.Record) WetSeason {
	var sum, days, mean [12]float64
	total := 0.0
	for d := range rec.Days {
		if mm, whole := rec.DayRainMM(d); whole {
			m := rec.Start.AddDate(0, 0, d).Month() - 1
			sum[m] += mm
			days[m]++
		}
	}
	for m := range mean {
		if days[m] > 0 {
			mean[m] = sum[m] / days[m]
		}
		total += mean[m]
	}
	out := WetSeason{From: time.January}
	if total == 0 {
		return out
	}
	for m := range 12 {
		half := 0.0
		for k := range 6 {
			half += mean[(m+k)%12]
		}
		if half/total > out.Share+1e-12 {
			out.From, out.Share = time.Month(m+1), half/total
		}
	}
	out.Marked = out.Share >= markedShare
	return out
}

// heavyDaysAYear is how often a year heavy rain should call for a look.
// Common practice, no source: after every large storm, a handful a year.
const heavyDaysAYear = 4

// HeavyRainMM returns the daily rain, mm, that is reached on four days of a
// year on average: the depth of rank 4 x years among the days of the record,
// days with a missing hour left out. NaN if no such day had rain.
func HeavyRainMM(rec *site.Record) float64 {
	var depths []float64
	for d := range rec.Days {
		if mm, whole := rec.DayRainMM(d); whole {
			depths = append(depths, mm)
		}
	}
	slices.Sort(depths)
	rank := max(1, int(math.Round(heavyDaysAYear*float64(len(depths))/daysAYear)))
	if rank > len(depths) || depths[len(depths)-rank] == 0 {
		return math.NaN()
	}
	return depths[len(depths)-rank]
}

// Seasons are the months that tasks go by.
type Seasons struct {
	Growing  []time.Month // more than half their days are growing days
	Wake     time.Month   // first month of growth after the cold, or of rising warmth
	LeafFall []time.Month // two months
	Dormant  bool         // there is a cold season without growth
	Assumed  bool         // the record has no temperature: months by the latitude alone
}

// SeasonsOf reads the months from a record. Leaves fall in the last month of
// growth and the one before; where plants grow all year, in the two months
// before the coldest, and the year wakes in the month after it. Without
// temperatures the coldest month is taken as January, south of the equator
// July. Common practice, no source.
func SeasonsOf(rec *site.Record, latitudeDeg float64) Seasons {
	var days, growing, warm, known [13]float64
	for d, g := range rec.Growing() {
		m := rec.Start.AddDate(0, 0, d).Month()
		days[m]++
		if g {
			growing[m]++
		}
		if t := (rec.Days[d].TMinC + rec.Days[d].TMaxC) / 2; !math.IsNaN(t) {
			warm[m] += t
			known[m]++
		}
	}
	var s Seasons
	coldest := time.January
	if latitudeDeg < 0 {
		coldest = time.July
	}
	s.Assumed = true
	for m := time.January; m <= time.December; m++ {
		if days[m] > 0 && 2*growing[m] > days[m] {
			s.Growing = append(s.Growing, m)
		}
		if known[m] > 0 && (s.Assumed || warm[m]/known[m] < warm[coldest]/known[coldest]) {
			s.Assumed, coldest = false, m
		}
	}
	s.Dormant = len(s.Growing) > 0 && len(s.Growing) < 12
	if !s.Dormant {
		s.Wake, s.LeafFall = after(coldest, 1), []time.Month{after(coldest, -2), after(coldest, -1)}
		return s
	}
	for _, m := range s.Growing {
		if !slices.Contains(s.Growing, after(m, -1)) && s.Wake == 0 {
			s.Wake = m
		}
		if !slices.Contains(s.Growing, after(m, 1)) {
			s.LeafFall = []time.Month{after(m, -1), m}
		}
	}
	return s
}

// after returns the month that lies n months after another.
func after(m time.Month, n int) time.Month { return time.Month((int(m)-1+n+24)%12 + 1) }
