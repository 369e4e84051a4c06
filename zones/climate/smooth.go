package climate

const yearDays = 366

// monthDays are the days of the months of a leap year.
func monthDays() [12]int { return [12]int{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31} }

// smooth turns twelve monthly means into a curve over the 366 days of a leap
// year with exactly these means: straight lines between the middles of the
// months, whose ends are moved until the means are right (after Rymes and Myers
// 2001, Solar Energy 71:225). It stays at least or above, which can cost a mean
// beside dry months a part in a hundred.
func smooth(means [12]float64, least float64) [yearDays]float64 {
	nodes, curve := means, [yearDays]float64{}
	for range 40 {
		curve = between(nodes, least)
		at := 0
		for m, n := range monthDays() {
			sum := 0.0
			for _, v := range curve[at : at+n] {
				sum += v
			}
			nodes[m] += means[m] - sum/float64(n)
			at += n
		}
	}
	return curve
}

// between draws straight lines through the middles of the months.
func between(nodes [12]float64, least float64) [yearDays]float64 {
	var curve [yearDays]float64
	days, at := monthDays(), 0
	for m, n := range days {
		next := (m + 1) % 12
		reach := n - n/2 + days[next]/2
		for i := range reach {
			part := float64(i) / float64(reach)
			curve[(at+n/2+i)%yearDays] = max(nodes[m]+float64((nodes[next]-nodes[m])*part), least)
		}
		at += n
	}
	return curve
}
