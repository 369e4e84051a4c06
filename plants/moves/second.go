package moves

import "math"

// detour finds what it costs to do something else with one plant, in one search
// from the prices of the best plan.
//
// Bar plant i from what it has. The new best plan differs from the old one by one
// cycle of hand-overs: i takes another place, whoever has that takes another, and
// so on, until somebody takes what i had. Counting prices each hand-over costs at
// least 0, so the cheapest cycle is a shortest path. A chain may also end at an
// open place or with a plant that is newly given up. What i had is then left open
// at the cost of its price, or the chain goes on from any other place that is left
// open so, or with a plant that is now kept.
type detour struct {
	*match
	u     []float64 // prices of rows
	far   []float64 // way to each column
	taken []bool    // columns settled
	first []int32   // what plant i takes on the way to a column
}

func newDetour(a *match) *detour {
	return &detour{match: a, u: a.rowPrices(), far: make([]float64, a.m), taken: make([]bool, a.m), first: make([]int32, a.m)}
}

// second returns the best plan that does not do with row i what the matching
// does: what i gets, and how much more it costs. O(n m) at worst.
func (d *detour) second(i int) Choice {
	target := d.column[i] // a column, or without
	end, best := math.Inf(1), Choice{To: GivenUp, Extra: math.Inf(1)}
	endFirst := int32(without)
	ended := false // what is left over has been handed on
	for j := range d.far {
		d.taken[j] = false
		d.far[j] = math.Inf(1)
	}
	relax := func(row int, base float64, via int32) {
		u, cost := d.u[row]-base, d.cost[row*d.m:(row+1)*d.m]
		for j, c := range cost {
			if w := c - d.v[j] - u; w < d.far[j] && !(row == i && int32(j) == target) {
				d.far[j] = math.Max(w, base)
				if d.first[j] = via; row == i {
					d.first[j] = int32(j)
				}
			}
		}
		if w := d.alone(row) - u; w < end && d.column[row] != without {
			end, endFirst = math.Max(w, base), via
		}
	}
	relax(i, 0, without)
	for {
		j, least := -1, math.Inf(1)
		for q, w := range d.far {
			if w < least && !d.taken[q] {
				j, least = q, w
			}
		}
		if !ended && end <= least { // the chain is at its end: go on from any place handed in
			if math.IsInf(end, 1) {
				return best
			}
			if target == without {
				return d.choice(endFirst, end)
			}
			ended = true
			for q, v := range d.v {
				if w := end - v; w < d.far[q] && !d.taken[q] {
					d.far[q], d.first[q] = w, endFirst
				}
			}
			for r, j := range d.column { // one that was given up is kept instead
				if j == without {
					relax(r, end, endFirst)
				}
			}
			continue
		}
		if j < 0 {
			return best
		}
		if int32(j) == target {
			return d.choice(d.first[j], least)
		}
		d.taken[j] = true
		if d.row[j] == free {
			if least < end {
				end, endFirst = least, d.first[j]
			}
			continue
		}
		relax(int(d.row[j]), least, d.first[j])
	}
}

func (d *detour) choice(first int32, extra float64) Choice {
	if first == without {
		return Choice{To: GivenUp, Extra: extra}
	}
	return Choice{To: int(first), Extra: extra}
}
