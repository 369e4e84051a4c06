// Command weather invents the daily weather record of the demo garden and
// writes it to standard output:
//
//	go run ./testdata/weather > data/rain.csv
//
// The record is of no real place. It is made so that the demo has what a real
// record of a temperate inland climate has: wet spells and dry ones, storms in
// summer, dry years, hard frosts, and a few days on which nobody read the
// gauge. Same program, same bytes.
//
// The parts are those of a plain stochastic weather generator (two-state chain
// for wet and dry days, mixed exponential depths, first-order autoregressive
// temperatures), after Richardson 1981, Water Resources Research 17:182. The
// figures in it are our own.
package main

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"time"
)

const (
	firstYear = 2001
	lastYear  = 2024
	seed      = 6
)

func main() {
	out := bufio.NewWriter(os.Stdout)
	write(out)
	if err := out.Flush(); err != nil {
		fmt.Fprintln(os.Stderr, "weather:", err)
		os.Exit(1)
	}
}

func write(out *bufio.Writer) {
	fmt.Fprintln(out, "date,rain_mm,tmin_c,tmax_c")
	g := &generator{rng: rand.New(rand.NewPCG(seed, 2)), dryness: 0.3}
	day := time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC)
	for ; day.Year() <= lastYear; day = day.AddDate(0, 0, 1) {
		rain, tmin, tmax := g.day(day.YearDay())
		if unread(day) {
			continue
		}
		fmt.Fprintf(out, "%s,%.1f,%.1f,%.1f\n", day.Format(time.DateOnly), rain, tmin, tmax)
	}
}

// unread tells the three days that the record leaves out.
func unread(day time.Time) bool {
	return day.Year() == 2013 && day.Month() == time.May && day.Day() >= 14 && day.Day() <= 16
}

// generator is the state carried from day to day.
type generator struct {
	rng     *rand.Rand
	wet     bool
	dryness float64 // slow weather regime: mean 0, spread 1; high is dry
	warmth  float64 // departure of the day's mean from the season, mean 0, spread 1
}

// day draws one day: rain in mm, lowest and highest temperature in deg C.
func (g *generator) day(yearDay int) (rain, tmin, tmax float64) {
	summer := season(yearDay)

	g.dryness = carry(g.dryness, 0.96, g.rng.NormFloat64())
	toWet := 0.245 + 0.035*summer
	stayWet := 0.45 - 0.04*summer
	regime := math.Exp(-0.27 * g.dryness)
	if g.dryness > 1.5 {
		regime *= 0.3 // a high that will not move
	}
	chance := toWet * regime
	if g.wet {
		chance = min(stayWet*math.Sqrt(regime), 0.8)
	}
	g.wet = g.rng.Float64() < chance
	if g.wet {
		rain = g.depth(summer)
	}

	g.warmth = carry(g.warmth, 0.72, g.rng.NormFloat64())
	mean := 10 + 14*summer + (4.1-1.6*summer)*g.warmth
	span := 10.5 + 1.5*summer + 1.6*g.rng.NormFloat64()
	if g.wet {
		span -= 3
	} else {
		span += 0.8
	}
	span = max(span, 2)
	return rain, mean - span/2, mean + span/2
}

// depth draws the rain of a wet day, at least 0.2 mm: many light days and some
// heavy ones, heavier in summer, and now and then a cloudburst.
func (g *generator) depth(summer float64) float64 {
	mean := 2.8
	if g.rng.Float64() < 0.42+0.03*summer {
		mean = 14.3 + 4.8*summer
	}
	mm := mean * g.rng.ExpFloat64()
	if g.rng.Float64() < 0.008+0.006*summer {
		mm += 22 * g.rng.ExpFloat64() * (1 + 0.5*summer)
	}
	return max(mm, 0.2)
}

// season is -1 in the coldest days of the year, about 20 January, and +1 in
// the warmest.
func season(yearDay int) float64 {
	return -math.Cos(2 * math.Pi * float64(yearDay-20) / 365.25)
}

// carry steps a first-order autoregressive series of mean 0 and spread 1.
func carry(before, memory, noise float64) float64 {
	return float64(memory*before) + float64(math.Sqrt(1-memory*memory)*noise)
}
