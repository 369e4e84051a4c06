package moves

import (
	"errors"
	"fmt"
	"math"
)

// Assignment gives every row a column of its own at the least total cost, with
// the prices that prove it.
type Assignment struct {
	Column []int // of each row
	Cost   float64
	// RowPrice[i] + ColumnPrice[j] is at most the cost of every pair and equal to
	// it for the pairs chosen; a column price is at most 0, and 0 where the column
	// is left over. So no assignment costs less than the sum of all prices, and
	// this one costs just that.
	RowPrice, ColumnPrice []float64
}

// Assign returns the cheapest way to give each of n rows one of m columns,
// n <= m:
//
//	min sum over i of cost[i*m + column(i)], no column twice
//
// cost is row after row; +Inf forbids a pair. Exact but for the rounding of
// sums. It is an error if no way is left, if n > m, and if a cost is NaN or
// -Inf. Time grows with n^2 m at worst.
//
// Method: shortest augmenting paths over reduced costs, after rows have bid for
// columns (Jonker and Volgenant 1987, Computing 38:325; from memory).
func Assign(cost []float64, n, m int) (*Assignment, error) {
	switch {
	case n < 0 || m < 0 || len(cost) != n*m:
		return nil, fmt.Errorf("moves: %d costs: want %d rows of %d", len(cost), n, m)
	case n > m:
		return nil, fmt.Errorf("moves: %d rows and %d columns: want at least as many columns", n, m)
	}
	for k, c := range cost {
		if !(c > math.Inf(-1)) {
			return nil, fmt.Errorf("moves: cost of row %d, column %d: %g: want a number, or +Inf for a pair that is forbidden", k/m, k%m, c)
		}
	}
	a := newMatch(cost, n, m, nil)
	if !a.solve() {
		return nil, errors.New("moves: the forbidden pairs leave no way to give every row a column")
	}
	out := &Assignment{Column: make([]int, n), RowPrice: a.rowPrices(), ColumnPrice: a.v}
	for i, j := range a.column {
		out.Column[i] = int(j)
		out.Cost += a.at(i, int(j))
	}
	return out, nil
}

const (
	free    = -1 // a row or column without a partner
	without = -2 // a row that does without a column
)

// match is a matching of rows and columns in the making. A row may also do
// without a column at a cost of its own, as if it had a column that nobody else
// can have.
type match struct {
	n, m   int
	cost   []float64
	out    []float64 // cost of doing without, by row; nil: no row may
	v      []float64 // prices of columns, at most 0
	column []int32   // of each row
	row    []int32   // of each column

	// Of one search:
	dist []float64 // to each column
	from []int32   // the row before it
	todo []int32   // columns: settled, then those at the least distance, then the others
}

func newMatch(cost []float64, n, m int, out []float64) *match {
	a := &match{
		n: n, m: m, cost: cost, out: out, v: make([]float64, m),
		column: make([]int32, n), row: make([]int32, m),
		dist: make([]float64, m), from: make([]int32, m), todo: make([]int32, m),
	}
	for i := range a.column {
		a.column[i] = free
	}
	for j := range a.row {
		a.row[j] = free
	}
	return a
}

func (a *match) at(i, j int) float64 { return a.cost[i*a.m+j] }

// alone is what row i pays for doing without.
func (a *match) alone(i int) float64 {
	if a.out == nil {
		return math.Inf(1)
	}
	return a.out[i]
}

// price is what a matched row pays, its column's price taken off.
func (a *match) price(i int) float64 {
	if j := a.column[i]; j >= 0 {
		return a.cost[i*a.m+int(j)] - a.v[j]
	}
	return a.alone(i)
}

func (a *match) rowPrices() []float64 {
	u := make([]float64, a.n)
	for i := range u {
		u[i] = a.price(i)
	}
	return u
}

// bidRounds is how often rows bid before paths are searched. Found by trial.
const bidRounds = 3

func (a *match) solve() bool {
	open := make([]int32, a.n, a.n+1)
	for i := range open {
		open[i] = int32(i)
	}
	for range bidRounds {
		open = a.bid(open)
	}
	for _, i := range open {
		if !a.augment(int(i)) {
			return false
		}
	}
	return true
}

// bid lets each open row take the column that is cheapest for it, and lowers
// that column's price by what it is cheaper than the row's second choice; a row
// put out bids on in the next round, or at once where the price has moved.
// Returns the rows that are still open.
func (a *match) bid(open []int32) []int32 {
	later := make([]int32, 0, len(open))
	for k, budget := 0, 4*len(open); k < len(open); k++ {
		i := int(open[k])
		j, least, second := a.cheapest(i)
		if alone := a.alone(i); alone <= least {
			if !math.IsInf(alone, 1) {
				a.column[i] = without
			} else {
				later = append(later, int32(i)) // no way for it at all
			}
			continue
		} else if alone < second {
			second = alone
		}
		if math.IsInf(second, 1) {
			later = append(later, int32(i)) // no measure for a bid
			continue
		}
		before := a.row[j]
		moved := a.v[j]-(second-least) < a.v[j]
		if !moved && before != free {
			later = append(later, int32(i))
			continue
		}
		a.v[j] -= second - least
		a.row[j], a.column[i] = int32(i), int32(j)
		if before != free {
			a.column[before] = free
			if budget--; budget > 0 {
				open[k] = before
				k--
			} else {
				later = append(later, before)
			}
		}
	}
	return later
}

// cheapest is the column at which row i pays least, that cost, and the least of
// the others.
func (a *match) cheapest(i int) (j int, least, second float64) {
	least, second = math.Inf(1), math.Inf(1)
	v := a.v
	for q, c := range a.cost[i*a.m : (i+1)*a.m][:len(v)] {
		if c -= v[q]; c < second {
			if c < least {
				j, least, second = q, c, least
			} else {
				second = c
			}
		}
	}
	return j, least, second
}

// augment gives row i a column along the cheapest chain of rows that pass their
// columns on, up to one that is free or a row that does without. false if there
// is none.
func (a *match) augment(start int) bool {
	m, v, dist, from, todo := a.m, a.v, a.dist, a.from, a.todo
	row := a.cost[start*m : (start+1)*m]
	for j := range todo {
		todo[j] = int32(j)
		dist[j] = row[j] - v[j]
		from[j] = int32(start)
	}
	end, leaves := int32(free), free    // the column that the chain ends at, or the row that does without
	reach, left := a.alone(start), free // the cheapest way out by doing without
	if !math.IsInf(reach, 1) {
		left = start
	}
	lo, hi, ready := 0, 0, 0 // todo[:lo] settled, todo[lo:hi] at the least distance
	least := math.Inf(1)
	for end == free && leaves == free {
		if lo == hi {
			ready = lo
			hi, least = a.nearest(lo)
			if left != free && reach <= least {
				leaves, least = left, reach
				break
			}
			if math.IsInf(least, 1) {
				return false
			}
			for _, j := range todo[lo:hi] {
				if a.row[j] == free {
					end = j
					break
				}
			}
			if end != free {
				break
			}
		}
		j := todo[lo]
		lo++
		i := int(a.row[j])
		row := a.cost[i*m : (i+1)*m]
		h := row[j] - v[j] - least
		if w := a.alone(i) - h; w < reach {
			reach, left = w, i
			if w <= least {
				leaves = i
				break
			}
		}
		for k := hi; k < m; k++ {
			q := todo[k]
			d := row[q] - v[q] - h
			if d >= dist[q] {
				continue
			}
			dist[q], from[q] = d, int32(i)
			if d <= least {
				if a.row[q] == free {
					end = q
					break
				}
				todo[k] = todo[hi]
				todo[hi] = q
				hi++
			}
		}
	}
	for _, j := range todo[:ready] {
		v[j] += dist[j] - least
	}
	a.pass(start, end, leaves)
	return true
}

// nearest brings the columns at the least distance to the front of the rest.
func (a *match) nearest(lo int) (hi int, least float64) {
	hi, least = lo, math.Inf(1)
	for k := lo; k < a.m; k++ {
		j := a.todo[k]
		d := a.dist[j]
		if d > least {
			continue
		}
		if d < least {
			hi, least = lo, d
		}
		a.todo[k] = a.todo[hi]
		a.todo[hi] = j
		hi++
	}
	return hi, least
}

// pass hands the columns on along the chain found.
func (a *match) pass(start int, end int32, leaves int) {
	if leaves != free {
		end = a.column[leaves]
		a.column[leaves] = without
		if leaves == start {
			return
		}
	}
	for {
		i := a.from[end]
		a.row[end] = i
		end, a.column[i] = a.column[i], end
		if int(i) == start {
			return
		}
	}
}
