package climate

import "math"

// Normal scores stand on a grid from -scoreReach to scoreReach.
const (
	scoreReach = 5
	scoreSteps = 64 // of a unit
)

// byScore is a figure on the grid of normal scores.
type byScore [2*scoreReach*scoreSteps + 1]float64

func scoreAt(i float64) float64 { return i/scoreSteps - scoreReach }

// at is the figure at a score, by a straight line between its neighbours.
func (b *byScore) at(score float64) float64 {
	place := (min(max(score, -scoreReach), scoreReach-1e-9) + scoreReach) * scoreSteps
	i := int(place)
	return b[i] + float64((b[i+1]-b[i])*(place-float64(i)))
}

// tails is the chance of a normal deviate to pass each score of the grid.
func tails() *byScore {
	density := func(i float64) float64 {
		y := scoreAt(i)
		return exp(float64(y*y)/-2) / math.Sqrt(2*math.Pi)
	}
	t := new(byScore)
	last := len(t) - 1
	t[last] = 2.866515719e-7 // past 5
	for i := last - 1; i >= 0; i-- {
		a := float64(i)
		t[i] = t[i+1] + (density(a)+float64(4*density(a+0.5))+density(a+1))/(6*scoreSteps)
	}
	return t
}

// amounts returns the rain of a wet day by its normal score. It is that of a
// mixture of two exponentials above the least of a wet day, with the month's
// mean, standard deviation and skew (Wilks 1999 on the mixture; its two means
// and their shares from the first three moments, exactly). Where days differ no
// more than those of one exponential there is no such mixture: then it is a
// Pearson type III by Wilson and Hilferty's cube, as in the station files' own
// generators (Nicks, Lane and Gander 1995, USDA WEPP; from memory).
func (m Month) amounts(least float64, tail *byScore) *byScore {
	mean := max(m.WetMM-least, 0.1*m.WetMM)
	least = m.WetMM - mean
	if m.WetSDMM <= 1.02*mean {
		return m.pearson(least)
	}
	cv := m.WetSDMM / mean
	// Half the second and a sixth of the third moment of the mixture are the
	// moments of the law by which its means are drawn; the mean is 1.
	m2 := (float64(cv*cv) + 1) / 2
	m3 := (float64(m.WetSkew*cv*cv*cv) + float64(3*cv*cv) + 1) / 6
	m3 = max(m3, 1.02*m2*m2) // so that the smaller mean is above 0
	half, product := (m3-m2)/(m2-1)/2, (m3-float64(m2*m2))/(m2-1)
	root := math.Sqrt(max(float64(half*half)-product, 0))
	big, small := half+root, half-root
	share := (1 - small) / (big - small)
	over := func(x float64) float64 {
		return float64(share*exp(-min(x/big, 600))) + float64((1-share)*exp(-min(x/small, 600)))
	}
	return tail.invert(over, func(x float64) float64 { return least + float64(mean*x) })
}

// invert finds for each score the x that over passes with the score's tail.
func (b *byScore) invert(over, shown func(x float64) float64) *byScore {
	out, x := new(byScore), 0.0
	for i, chance := range b {
		low, high := x, 2*x+1
		for over(high) > chance {
			high *= 2
		}
		for range 40 {
			if mid := (low + high) / 2; over(mid) > chance {
				low = mid
			} else {
				high = mid
			}
		}
		x = (low + high) / 2
		out[i] = shown(x)
	}
	return out
}

// pearson returns mean + 2 s / g ((1 + g y / 6 - g^2 / 36)^3 - 1), y the score,
// s the standard deviation, g the skew held between 0.5 and 4, where the cube is
// a fair copy; never below least. Source: Wilson and Hilferty 1931.
func (m Month) pearson(least float64) *byScore {
	out, g := new(byScore), min(max(m.WetSkew, 0.5), 4)
	for i := range out {
		base := max(0, 1+float64(g*scoreAt(float64(i)))/6-float64(g*g)/36)
		out[i] = max(least, m.WetMM+float64(2*m.WetSDMM/g*(float64(base*base*base)-1)))
	}
	return out
}
