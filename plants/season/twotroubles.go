package season

import (
	"math"
	"slices"
)

// also is a second trouble of a plant, where two are likelier than one and its signs
// alone speak for two:
//
//	P(a and b) / P(a) = odds of b  L(a and b) / L(a)
//
// A sign shows under both if either shows it, 1 - (1 - p)(1 - q); vigour is as under one
// or the other. Too wet and too deep are one trouble here, slow to establish is none.
func (m Model) also(t *Table, n Note, odds [CauseCount]float64, top int) (second Cause, signs float64) {
	trouble := func(c int) bool {
		return c != atFine && c != atSlow && (c != atOther || accident(n.Seen) != "")
	}
	water := func(c int) bool { return c == atWet || c == atDeep }
	if !trouble(top) {
		return "", 0
	}
	likeliest := 1.0
	one := m.logLikelihood(t.chances(), n, -1)[top]
	for b, cause := range Causes() {
		if b == top || !trouble(b) || water(b) && water(top) || odds[b] <= 0 {
			continue
		}
		both := &Table{Rows: slices.Clone(t.Rows), Vigour: t.Vigour}
		for i := range both.Rows {
			r := &both.Rows[i]
			r.Chance[b] = 1 - (1-r.Chance[top])*(1-r.Chance[b])
		}
		for v := range both.Vigour {
			both.Vigour[v][b] = (both.Vigour[v][top] + both.Vigour[v][b]) / 2
		}
		by := math.Exp(m.logLikelihood(both.chances(), n, -1)[b] - one)
		if ratio := odds[b] * by; by > 1 && ratio > likeliest {
			second, signs, likeliest = cause, by, ratio
		}
	}
	return second, signs
}
