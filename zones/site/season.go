package site

import "math"

// Growing returns, for each day, whether it belongs to the growing season: the
// 31-day centred running mean of the daily mean air temperature, (TMinC +
// TMaxC) / 2, is at least 5 deg C. At either end of the record the days that
// exist are averaged; days without temperature are left out, and a day with
// none in its whole window counts as growing, so a record without temperatures
// is growing all year.
// Source: the threshold of 5 deg C is the usual one for grass growth (common
// practice, no source); the window is a choice of this project.
func (r *Record) Growing() []bool {
	const reach, leastC = 15, 5.0
	growing := make([]bool, len(r.Days))
	for i := range growing {
		sum, n := 0.0, 0
		for j := max(0, i-reach); j <= min(len(r.Days)-1, i+reach); j++ {
			if mean := (r.Days[j].TMinC + r.Days[j].TMaxC) / 2; !math.IsNaN(mean) {
				sum += mean
				n++
			}
		}
		growing[i] = n == 0 || sum/float64(n) >= leastC
	}
	return growing
}
