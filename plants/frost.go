package plants

import (
	"math"
	"slices"

	"hollowbed/zones/site"
)

// frostFreeDays returns the longest run of days without frost (lowest temperature
// over 0 degC) of the middle calendar year of a record; NaN if no year is known.
// South of the equator the run is cut by the turn of the year and too short.
func frostFreeDays(rec *site.Record) float64 {
	longest := map[int]int{}
	run, known := 0, map[int]int{}
	year := 0
	for d, day := range rec.Days {
		now := rec.Start.AddDate(0, 0, d).Year()
		if now != year {
			year, run = now, 0
		}
		if math.IsNaN(day.TMinC) {
			run = 0
			continue
		}
		known[year]++
		if run++; day.TMinC <= 0 {
			run = 0
		}
		longest[year] = max(longest[year], run)
	}
	var all []int
	for y, n := range known {
		if n >= 360 {
			all = append(all, longest[y])
		}
	}
	if len(all) == 0 {
		return math.NaN()
	}
	slices.Sort(all)
	return float64(all[len(all)/2])
}
