package season

import "math"

// also is a second trouble of a plant, where two are likelier than one and its signs
// alone speak for two:
//
//	P(a and b) / P(a) = odds of b  L(a and b) / L(a)
//
// A sign shows under both if either shows it, 1 - (1 - p)(1 - q); vigour is as under one
// or the other. Too wet and too deep are one trouble here, slow to establish is none.
func (m Model) also(l *chances, n Note, odds [CauseCount]float64, top int) (second Cause, signs float64) {
	trouble := func(c int) bool {
		return c != atFine && c != atSlow && (c != atOther || accident(n.Seen) != "")
	}
	water := func(c int) bool { return c == atWet || c == atDeep }
	if !trouble(top) || len(n.Seen) == 0 {
		return "", 0
	}
	likeliest := 1.0
	for b, cause := range Causes() {
		if b == top || !trouble(b) || water(b) && water(top) || odds[b] <= 0 {
			continue
		}
		by := m.underBoth(l, n, top, b)
		if ratio := odds[b] * by; by > 1 && ratio > likeliest {
			second, signs, likeliest = cause, by, ratio
		}
	}
	return second, signs
}

// underBoth is L(a and b) / L(a). What neither shows is (1 - p)(1 - q), so that of signs
// not seen the chances under b alone are left.
func (m Model) underBoth(l *chances, n Note, a, b int) float64 {
	unseen := m.unseen(n)
	sum := unseen * l.none[b]
	if n.Vigour != Unstated {
		sum += math.Log((1 + math.Exp(l.vigour[n.Vigour][b]-l.vigour[n.Vigour][a])) / 2)
	}
	for _, s := range n.Seen {
		if i, ok := l.row[s]; ok {
			sum += math.Log(-math.Expm1(l.not[i][a]+l.not[i][b])) - l.seen[i][a] - unseen*l.not[i][b]
		}
	}
	for _, s := range n.Absent {
		if i, ok := l.row[s]; ok {
			sum += (1 - unseen) * l.not[i][b]
		}
	}
	return math.Exp(sum)
}
