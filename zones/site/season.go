package site

import "math"

// Growing returns, for each day, whether it is in the growing season: the 31-day centred
// running mean of (TMinC + TMaxC) / 2 is at least 5 deg C. Days without temperature are
// left out; one with none around it counts as growing. The threshold is usual for grass
// (common practice, no source); the window is our choice.
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
