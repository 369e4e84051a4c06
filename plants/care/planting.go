package care

import (
	"math"
	"slices"
	"time"

	"hollowbed/zones/site"
)

// Monthly is a usual day of a month: its mean low and mean temperature, °C, its
// rain and what grass would use, mm. NaN where that is not known.
type Monthly struct{ LowC, MeanC, RainMM, ET0MM float64 }

// MonthsOf returns the usual days of the months, by their numbers.
func MonthsOf(rec *site.Record) (out [13]Monthly) {
	var warm, rained, used [13]float64
	for d, day := range rec.Days {
		m := rec.Start.AddDate(0, 0, d).Month()
		if mean := (day.TMinC + day.TMaxC) / 2; !math.IsNaN(mean) {
			out[m].LowC += day.TMinC
			out[m].MeanC += mean
			warm[m]++
		}
		if mm, whole := rec.DayRainMM(d); whole {
			out[m].RainMM += mm
			rained[m]++
		}
		if !math.IsNaN(day.ET0MM) {
			out[m].ET0MM += day.ET0MM
			used[m]++
		}
	}
	for m := range out {
		out[m].LowC /= warm[m] // NaN without a day, as is wanted
		out[m].MeanC /= warm[m]
		out[m].RainMM /= rained[m]
		out[m].ET0MM /= used[m]
	}
	return out
}

// NoPlanting says why nothing new is set in a month; "" if it may be.
type NoPlanting string

// The reasons, the hardest first.
const (
	frozenGround NoPlanting = "the ground freezes"
	lateFrosts   NoPlanting = "nights still freeze"
	freezesSoon  NoPlanting = "the ground freezes before they have rooted"
	hotMonth     NoPlanting = "too hot for young roots, with less rain than they use"
	dryMonth     NoPlanting = "too dry"
	heatSoon     NoPlanting = "heat or drought comes before they have rooted"
)

// That plants are set in spring after the hard frosts or in autumn some weeks
// before the ground freezes, and neither into frozen ground nor in the heat or
// drought of summer, is common practice; that deserts plant in the dry autumn is said of
// Tucson, October to early November (a gardener there, 2016) and perennials on into
// November (Arizona Daily Star, October 2022). The bounds are a choice of this project,
// no source.
const (
	frozenMeanC = 0.0     // mean of a month in which the ground freezes
	frostLowC   = 2.0     // mean low of a month with hard frosts
	hotMeanC    = 20.0    // mean of a month that is hot
	dryShare    = 1.0 / 3 // of what grass would use falls as rain in a dry month ...
	dryET0MM    = 3.0     // ... if that is so much a day or more: below it the hose makes up for rain
)

// NotPlanted says for each month, by its number, why nothing new is set in it. Where no
// month has frost, so that autumn and winter are free for planting, one right before heat
// or drought is out too. Where no month is fit the least hard one is (leastDry).
func NotPlanted(months [13]Monthly) (why [13]NoPlanting) {
	fit := 0
	for m := time.January; m <= time.December; m++ {
		x, next := months[m], months[after(m, 1)]
		switch {
		case x.MeanC < frozenMeanC:
			why[m] = frozenGround
		case next.MeanC < frozenMeanC:
			why[m] = freezesSoon
		case x.LowC < frostLowC:
			why[m] = lateFrosts
		case x.MeanC >= hotMeanC && x.RainMM < x.ET0MM:
			why[m] = hotMonth
		case x.RainMM < dryShare*x.ET0MM && x.ET0MM >= dryET0MM:
			why[m] = dryMonth
		default:
			fit++
		}
	}
	if fit == 0 {
		return leastDry(months, why)
	}
	base := why
	for m := time.January; m <= time.December; m++ {
		if slices.Contains([]NoPlanting{frozenGround, freezesSoon, lateFrosts}, base[m]) {
			return base
		}
		if next := base[after(m, 1)]; base[m] == "" && fit > 1 && (next == hotMonth || next == dryMonth) {
			why[m] = heatSoon
			fit--
		}
	}
	return why
}

// leastDry opens the month that lacks the least rain, of those without frost, and the
// one after it; where all have frost, the warmest.
func leastDry(months [13]Monthly, why [13]NoPlanting) [13]NoPlanting {
	const frost = 1e6
	hard := func(m time.Month) float64 {
		if why[m] == hotMonth || why[m] == dryMonth {
			return months[m].ET0MM - months[m].RainMM
		}
		return frost - months[m].MeanC
	}
	best := time.January
	for m := time.January; m <= time.December; m++ {
		if hard(m) < hard(best) {
			best = m
		}
	}
	beside := after(best, 1)
	mild := why[beside] == hotMonth || why[beside] == dryMonth
	if why[best] = ""; mild {
		why[beside] = ""
	}
	return why
}
