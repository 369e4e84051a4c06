package site

import (
	"math"
	"slices"
)

// The pack of snow. Sources, all from memory: snow by half at a mean of 1.0 deg C,
// and nearly all or nearly none at -0.4 and 2.4, the range of thresholds of 95 % of
// stations of the northern hemisphere (Jennings and others 2018, Nature
// Communications 9:1148; a straight line between is common practice, no source).
// Melt of 2.74 mm for each day and degree above 0 deg C, where nothing is known of
// the place (USDA NRCS 2004, National Engineering Handbook part 630, chapter 11,
// which gives 1.6 to 6.0). Rain on snow melts what its heat can: its depth x its
// temperature x 4.19 kJ/kg/deg over 334 kJ/kg.
const (
	allSnowC, allRainC = -0.4, 2.4
	meltMMPerDegreeDay = 2.74
	meltByRainPerC     = 4.19 / 334
)

// SnowMelt returns a record whose rain reaches ground and roof when it melts; the record
// itself stays. By a day's mean temperature snow gathers in a pack and melts by degree-
// days with the sun of the day; rain on snow runs through and melts some. Nothing
// evaporates, blows or slides away, and what is left at the end has not come down. Hours
// without a value take no melt. Without temperatures or snow, or melted already, it
// comes back as it is.
func (r *Record) SnowMelt(latDeg float64) *Record {
	if r.melted || r.DaysWithoutTemperature() > 0 {
		return r
	}
	out := *r
	out.melted = true
	out.RainMM, out.Notes = slices.Clone(r.RainMM), slices.Clone(r.Notes)
	pack, snow, days, deepest := 0.0, 0.0, 0, 0.0
	for d := range r.Days {
		mean := (r.Days[d].TMinC + r.Days[d].TMaxC) / 2
		share := math.Max(0, math.Min(1, (allRainC-mean)/(allRainC-allSnowC)))
		hours := out.RainMM[24*d : 24*d+24]
		rain := 0.0
		for h := range hours {
			pack += share * hours[h]
			snow += share * hours[h]
			hours[h] -= share * hours[h]
			rain += hours[h]
		}
		deepest = math.Max(deepest, pack)
		if pack > 0 {
			days++
		}
		melt := math.Min(pack, math.Max(0, mean)*(meltMMPerDegreeDay+meltByRainPerC*rain))
		if melt == 0 {
			continue
		}
		sun := DaylightFractions(latDeg, r.dayTime(d).YearDay())
		known := 0.0
		for h := range hours {
			if !r.Missing[24*d+h] {
				known += sun[h]
			}
		}
		if known == 0 {
			continue
		}
		for h := range hours {
			if !r.Missing[24*d+h] {
				hours[h] += melt * sun[h] / known
			}
		}
		pack -= melt
	}
	if snow == 0 {
		return r
	}
	out.note("snow: %s in all lay in a pack, on %s, at most %s of water; it reaches ground and roof as it melts (weather.snow: pack)", inBoth(snow), count(days, "day"), inBoth(deepest))
	return &out
}

// FreezesWithin says whether a day between two days of the record, the first
// counted and the second not, has a mean below 0 deg C.
func (r *Record) FreezesWithin(from, to int) bool {
	for d := max(0, from); d < min(to, len(r.Days)); d++ {
		if (r.Days[d].TMinC+r.Days[d].TMaxC)/2 < 0 {
			return true
		}
	}
	return false
}
