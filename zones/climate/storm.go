package climate

import "math"

// storms spreads the rain of wet days over their hours by each month's hardest half hour.
type storms struct{ mean [12]float64 } // mean share of a day's rain in its greatest half hour

// leastShare is that of even rain through the day.
const leastShare = 1.0 / 48

// newStorms finds for each month the mean share for which its greatest half hour
// is what is known of it; ok is false if nothing is. The greatest of n like values
// is in the mean near the one that e^-0.577 / n of them pass (exactly so for
// exponential ones).
func newStorms(n Normals) (s *storms, ok bool) {
	s, tail := &storms{}, tails()
	for i, m := range n.Months {
		if math.IsNaN(m.HalfHourMMH) {
			return nil, false
		}
		days := max(float64(m.WetShare())*float64(monthDays()[i]), 1)
		amounts := m.amounts(n.WetDayMM, tail)
		low, high := leastShare, 0.9
		for range 30 {
			mean := (low + high) / 2
			if passing(tail, amounts, mean, m.HalfHourMMH/2) > 0.5615/days {
				high = mean
			} else {
				low = mean
			}
		}
		s.mean[i] = low
	}
	return s, true
}

// passing is the share of wet days whose greatest half hour has more than so many
// mm, if it has a mean share of the day's rain.
func passing(tail, amounts *byScore, mean, mm float64) float64 {
	sum := 0.0
	for i := range len(tail) - 1 {
		day := (amounts[i] + amounts[i+1]) / 2
		sum += float64((tail[i] - tail[i+1]) * shareOf(mean, day).passes(mm/day))
	}
	return sum
}

// hours returns the shares of a day's rain in its hours: it rises to the hour of the
// greatest rain, which is left to chance, and falls from it exponentially, so that of
// the rain within t hours of it there is 1 - e^(-t / w). The form and the range of the
// greatest half hour's share are those of EPIC and SWAT (Williams 1995; Neitsch and
// others 2011, chapter 1:3; from memory), the law within the range is ours; TestHours
// holds the hours to measured ones.
func (s *storms) hours(d *draw, month int, rainMM float64) [24]float64 {
	width := -0.25 / ln(1-shareOf(s.mean[month], rainMM).draw(d))
	peak := float64(24 * d.Float64())
	before := func(h float64) float64 {
		if h < peak {
			return exp(max((h-peak)/width, -600)) / 2
		}
		return 1 - exp(max((peak-h)/width, -600))/2
	}
	var out [24]float64
	inDay := before(24) - before(0)
	all := 0.0
	for h := range out {
		if part := before(float64(h+1)) - before(float64(h)); part > drizzle*inDay {
			out[h] = part
			all += part
		}
	}
	for h := range out {
		out[h] /= all
	}
	return out
}

// drizzle is the share of a day's rain from which on an hour has rain.
const drizzle = 0.002

// power is the law of low + (high - low) u^k, u even between 0 and 1.
type power struct{ low, high, k float64 }

// shareOf is the law of the greatest half hour's share on a day of so many mm: from
// that of even rain to 1 - e^(-125 / (R + 5)), with a mean.
func shareOf(mean, rainMM float64) power {
	high := 1 - exp(-125/(rainMM+5))
	k := (high-leastShare)/max(mean-leastShare, 1e-3) - 1
	return power{leastShare, high, max(k, 0.01)}
}

// passes is the chance of more than x.
func (p power) passes(x float64) float64 {
	switch {
	case x <= p.low:
		return 1
	case x >= p.high:
		return 0
	}
	return 1 - exp(ln((x-p.low)/(p.high-p.low))/p.k)
}

func (p power) draw(d *draw) float64 {
	return p.low + float64((p.high-p.low)*exp(max(float64(p.k*ln(1-d.Float64())), -600)))
}
