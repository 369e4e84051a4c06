package climate

import (
	"math"
	"time"

	"hollowbed/zones/site"
)

// firstYear is the first of made years, too long past to be taken for one on record.
const firstYear = 1801

// MadeYear tells a year of a record that is made from the first day to the last.
func MadeYear(year int) bool { return year < firstYear+Years }

// Record makes a record of whole years. Rain falls as hard as half-hour rates say, where
// known, or by the pattern of site.Patterns.
func (n Normals) Record(years int, seed uint64, pattern string) *site.Record {
	return n.record(firstYear, years, seed, pattern)
}

func (n Normals) record(firstYear, years int, seed uint64, pattern string) *site.Record {
	days := n.Days(firstYear, years, seed)
	r := &site.Record{
		Start: time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC), Step: "daily", Pattern: pattern,
		RainMM: make([]float64, 0, 24*len(days)), Missing: make([]bool, 24*len(days)), Days: make([]site.Day, 0, len(days)),
	}
	hours := n.spread(seed, pattern)
	for i, d := range days {
		shares := hours(int(r.Start.AddDate(0, 0, i).Month())-1, d.RainMM)
		for _, share := range shares {
			r.RainMM = append(r.RainMM, float64(d.RainMM*share))
		}
		r.Days = append(r.Days, site.Day{TMinC: d.TMinC, TMaxC: d.TMaxC, ET0MM: math.NaN()})
	}
	return r
}

// spread returns how the rain of a day falls: shares of its hours.
func (n Normals) spread(seed uint64, pattern string) func(month int, rainMM float64) [24]float64 {
	if s, ok := newStorms(n); ok {
		d := newDraw(seed + 1)
		return func(month int, rainMM float64) [24]float64 {
			if rainMM == 0 {
				return [24]float64{}
			}
			return s.hours(d, month, rainMM)
		}
	}
	fixed, ok := site.PatternShares(pattern)
	if !ok {
		panic("climate: no pattern " + pattern)
	}
	return func(int, float64) [24]float64 { return fixed }
}
