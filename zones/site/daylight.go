package site

import "math"

// DaylightFractions returns the share of a day's evapotranspiration by hour of local
// standard time: half a sine from sunrise to sunset centred at 12, from a = 12 - N/2, N
// hours long: (cos(pi (t1 - a) / N) - cos(pi (t2 - a) / N)) / 2 from t1 to t2. N is 24
// where the sun does not set; where it does not rise each hour has 1/24. The shares add
// up to 1. It panics outside -90 to 90 degrees. Source: the half sine is common practice,
// no source; N is FAO-56 Eq. 34.
func DaylightFractions(latDeg float64, dayOfYear int) [24]float64 {
	var share [24]float64
	hours := DaylightHours(latDeg, dayOfYear)
	if hours == 0 {
		for h := range share {
			share[h] = 1.0 / 24
		}
		return share
	}
	sunrise := 12 - hours/2
	passed := func(t float64) float64 {
		turn := math.Max(0, math.Min(1, (t-sunrise)/hours))
		return (1 - math.Cos(math.Pi*turn)) / 2
	}
	before := 0.0
	for h := range share {
		after := passed(float64(h + 1))
		share[h] = after - before
		before = after
	}
	return share
}
