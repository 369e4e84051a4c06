package climate

import (
	"math"
	"slices"

	"hollowbed/zones/site"
)

// Facts are what a gardener asks of a climate first.
type Facts struct {
	RainMM    float64 // of a mean year
	WetDays   float64 // of a mean year
	ColdestC  float64 // coldest night of one year in ten
	LastFrost int     // day of the year of the last night at 0 deg C or below before summer, in half of the years later; 0: fewer than half have one
	FirstFall int     // and of the first after it
}

// Facts makes years of the climate and looks at them; north: a year of the northern half.
func (n Normals) Facts() Facts {
	f := Facts{RainMM: n.YearRainMM()}
	f.WetDays = n.wetDays()
	rec := n.Record(Years, 1, site.Patterns()[0])
	f.ColdestC = coldestC(rec)
	f.LastFrost, f.FirstFall = frosts(rec)
	return f
}

// coldestC is the lower tenth of the coldest nights of the calendar years, deg C.
func coldestC(rec *site.Record) float64 {
	low := map[int]float64{}
	for i, d := range rec.Days {
		year := rec.Start.AddDate(0, 0, i).Year()
		if was, ok := low[year]; !ok || d.TMinC < was {
			low[year] = d.TMinC
		}
	}
	var values []float64
	for _, v := range low {
		values = append(values, v)
	}
	return site.QuantileWeibull(values, 0.1)
}

// frosts are the medians of the last frost before 1 July and the first after it.
func frosts(rec *site.Record) (last, first int) {
	const july = 182
	var lasts, firsts []float64
	spring, autumn := 0, 0
	for i, d := range rec.Days {
		t := rec.Start.AddDate(0, 0, i)
		at := placeInYear(t) + 1
		if at == 1 && i > 0 {
			lasts, firsts = append(lasts, float64(spring)), append(firsts, float64(autumn))
			spring, autumn = 0, 0
		}
		switch {
		case !(d.TMinC <= 0):
		case at <= july:
			spring = at
		case autumn == 0:
			autumn = at
		}
	}
	return median(lasts), median(firsts)
}

// median of days of the year; 0 if half of the years have none.
func median(days []float64) int {
	days = slices.DeleteFunc(slices.Clone(days), func(v float64) bool { return v == 0 })
	if len(days) < Years/2 {
		return 0
	}
	return int(math.Round(site.QuantileWeibull(days, 0.5)))
}

// warmNights tells of a fault in the source: at some 200 stations, most of those of
// Wisconsin among them, the nights of winter are far too warm (Gordon WI in January
// -6.1 by day and -9.2 by night, 60 km from Solon Springs with -6.2 and -17.9), as if
// readings below zero had been lost. It shows as a month of frost by day whose days and
// nights differ by less than 0.55 of what they do in the month when they differ most. A
// few stations by large lakes are so in truth; they are left out with the others.
func (n Normals) warmNights() bool {
	most := 0.0
	for _, m := range n.Months {
		most = max(most, m.TMaxC-m.TMinC)
	}
	for _, m := range n.Months {
		if m.TMaxC < -1 && m.TMaxC-m.TMinC < 0.55*most {
			return true
		}
	}
	return false
}
