package moves

import "math"

// sharpener finds prices that are nearly the best, by auction: rows bid for
// columns with a least raise, all again at a smaller one, from the prices before
// (scaling; Bertsekas 1988, from memory). Prices far from the start, as those of
// costs i*j, are reached in a few bids a row, where each search of a path would
// move them by a little.
//
// It wants every column taken in the end: one that is left over has no price, and
// an auction that begins from prices may leave one over that has.
type sharpener struct {
	scale int // the raise is 2 to the power of this, so that whole costs keep exact prices
	falls int
}

// The raise falls to an eighth so many times each time that prices are sharpened,
// and three times so often at most, by when it is lost in rounding; so many bids
// for each row are made at each raise at most. Found by trial.
const (
	raiseFalls = 6
	mostFalls  = 3 * raiseFalls
	mostBids   = 20
)

func (s *sharpener) done() bool { return s.falls >= mostFalls }

func (s *sharpener) sharpen(a *match) {
	if s.falls == 0 {
		least, most := math.Inf(1), math.Inf(-1)
		for _, c := range a.cost {
			if !math.IsInf(c, 1) {
				least, most = min(least, c), max(most, c)
			}
		}
		_, s.scale = math.Frexp(most - least)
	}
	for range raiseFalls {
		s.falls++
		a.auction(math.Ldexp(1, s.scale-3*s.falls))
	}
	a.part()
}

// auction lets rows bid until each has a column or the bids are spent.
func (a *match) auction(raise float64) {
	a.part()
	open := make([]int32, a.n)
	for i := range open {
		open[i] = int32(i)
	}
	for bids := mostBids * a.n; len(open) > 0 && bids > 0; bids-- {
		i := open[len(open)-1]
		open = open[:len(open)-1]
		j, least, second := a.cheapest(int(i))
		if math.IsInf(second, 1) {
			continue // no measure for a bid
		}
		a.v[j] -= second - least + raise
		if before := a.row[j]; before != free {
			open = append(open, before)
		}
		a.row[j] = i
	}
}
