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
	into  []float64 // the least that the last step into a column costs

	// Of one search:
	i        int   // the plant
	target   int32 // what it had
	end      float64
	endFirst int32
	ended    bool // the chain that costs end has come to its end and been gone on from
}

func newDetour(a *match) *detour {
	d := &detour{match: a, u: a.rowPrices(), far: make([]float64, a.m), taken: make([]bool, a.m), first: make([]int32, a.m), into: make([]float64, a.m)}
	for j, v := range a.v {
		d.into[j] = -v
	}
	for i, u := range d.u {
		for j, c := range a.cost[i*a.m : (i+1)*a.m] {
			if w := c - a.v[j] - u; w < d.into[j] && a.column[i] != int32(j) {
				d.into[j] = max(0, w)
			}
		}
	}
	return d
}

// second returns the best plan that does not do with row i what the matching
// does: what i gets, and how much more it costs. O(n m) at worst.
func (d *detour) second(i int) Choice {
	d.start(i)
	for {
		j, least := d.nearest()
		open := least // what ways that are not found yet cost at least
		if !d.ended {
			open = min(least, d.end)
		}
		switch {
		case d.target >= 0 && d.far[d.target] <= open+d.into[d.target]:
			return d.choice(d.first[d.target], d.far[d.target])
		case !d.ended && d.end <= least:
			if d.target == without {
				return d.choice(d.endFirst, d.end)
			}
			d.handOn()
		case j < 0:
			return d.choice(without, math.Inf(1))
		default:
			d.taken[j] = true
			if d.row[j] >= 0 {
				d.relax(int(d.row[j]), least, d.first[j])
			} else if least < d.end {
				d.end, d.endFirst = least, d.first[j]
			}
		}
	}
}

func (d *detour) start(i int) {
	d.i, d.target = i, d.column[i]
	d.end, d.endFirst, d.ended = math.Inf(1), without, false
	clear(d.taken)
	for j := range d.far {
		d.far[j] = math.Inf(1)
	}
	d.relax(i, 0, without)
}

// nearest is the nearest column that is not settled; -1 if none can be reached.
func (d *detour) nearest() (at int, least float64) {
	at, least = -1, math.Inf(1)
	for q, w := range d.far {
		if w < least && !d.taken[q] {
			at, least = q, w
		}
	}
	return at, least
}

// relax goes on from a row that is reached at base, row i having taken via.
func (d *detour) relax(row int, base float64, via int32) {
	u, far, v := d.u[row]-base, d.far, d.v
	for j, c := range d.cost[row*d.m : (row+1)*d.m][:len(far)] {
		w := c - v[j] - u
		if w < far[j] && !(row == d.i && int32(j) == d.target) {
			far[j] = math.Max(w, base)
			if d.first[j] = via; row == d.i {
				d.first[j] = int32(j)
			}
		}
	}
	if w := d.alone(row) - u; w < d.end && d.column[row] != without {
		d.end, d.endFirst = math.Max(w, base), via
	}
}

// handOn goes on from the end of a chain: another place is left open, at the cost
// of its price, or one that was given up is kept.
func (d *detour) handOn() {
	d.ended = true
	for q, v := range d.v {
		if w := d.end - v; w < d.far[q] && !d.taken[q] {
			d.far[q], d.first[q] = w, d.endFirst
		}
	}
	for r, j := range d.column {
		if j == without {
			d.relax(r, d.end, d.endFirst)
		}
	}
}

func (d *detour) choice(first int32, extra float64) Choice {
	if first == without || math.IsInf(extra, 1) {
		return Choice{To: GivenUp, Extra: extra}
	}
	return Choice{To: int(first), Extra: extra}
}
