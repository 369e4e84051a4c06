package moves

import "math"

const (
	free    = -1 // a row or column without a partner
	without = -2 // a row that does without a column
)

// match is a matching of rows and columns in the making, towards the cheapest:
//
//	min sum over i of cost[i*m + column(i)], no column twice
//
// cost is row after row; +Inf forbids a pair. Exact but for the rounding of
// sums. Time grows with n^2 m at worst. Method: shortest augmenting paths over
// reduced costs, after rows have bid for columns (Jonker and Volgenant 1987,
// SOURCES.md [S29]); where paths get long, begun anew from prices of an auction
// (sharpen.go). A row may also do
// without a column at a cost of its own, as if it had a column that nobody else
// can have.
type match struct {
	n, m   int
	cost   []float64
	out    []float64 // cost of doing without, by row; nil: no row may
	v      []float64 // prices of columns, at most 0
	column []int32   // of each row
	row    []int32   // of each column

	settled int // columns, in all searches

	// Of one search:
	todo         []int32   // columns: those not settled, then the others
	dist, prices []float64 // distance and price of each, in the order of todo
	from         []int32   // the row before a column, by column
}

func newMatch(cost []float64, n, m int, out []float64) *match {
	a := &match{
		n: n, m: m, cost: cost, out: out, v: make([]float64, m),
		column: make([]int32, n), row: make([]int32, m),
		todo: make([]int32, m), dist: make([]float64, m), prices: make([]float64, m), from: make([]int32, m),
	}
	a.part()
	return a
}

// part takes all pairs apart and keeps the prices.
func (a *match) part() {
	for i := range a.column {
		a.column[i] = free
	}
	for j := range a.row {
		a.row[j] = free
	}
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

// How often rows bid before paths are searched; how many columns for each row of
// all may be settled before anybody asks whether to go on, and how many more are
// too many. Found by trial.
const (
	bidRounds = 3
	longWay   = 4
)

func (a *match) solve() bool {
	var sharp sharpener
	for long := longWay * a.n; ; long *= 4 {
		open := make([]int32, a.n, a.n+1)
		for i := range open {
			open[i] = int32(i)
		}
		for range bidRounds {
			open = a.bid(open)
		}
		a.settled = 0
		for k, i := range open {
			if a.settled > long && a.settled/k*(len(open)-k) > 2*long && a.full() && !sharp.done() {
				break
			}
			if !a.augment(int(i)) {
				return false
			}
			if k == len(open)-1 {
				return true
			}
		}
		if len(open) == 0 {
			return true
		}
		sharp.sharpen(a)
	}
}

// full reports whether each column has a row in the end.
func (a *match) full() bool { return a.n == a.m && a.out == nil }

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
			if j = a.idle(i, least); j == free {
				later = append(later, int32(i))
				continue
			}
			before = free
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

// idle is a column without a row at which row i pays so little; free if there is
// none.
func (a *match) idle(i int, least float64) int {
	for q, c := range a.cost[i*a.m : (i+1)*a.m] {
		if c-a.v[q] <= least && a.row[q] == free {
			return q
		}
	}
	return free
}

// augment gives a row a column along the cheapest chain of rows that pass their
// columns on, up to one that is free or a row that does without. false if there
// is none.
func (a *match) augment(start int) bool {
	for j := range a.todo {
		a.todo[j], a.prices[j], a.dist[j] = int32(j), a.v[j], math.Inf(1)
	}
	left, leaves, reach := a.m, free, math.Inf(1) // columns not settled; who leaves a chain best, at what cost
	i, least := start, math.Inf(-1)
	h := 0.0 // what row i pays for its column, less what the chain up to it costs; 0 for the start
	for {
		if w := a.alone(i) - h; w < reach {
			reach, leaves = w, i
		}
		k, d := a.relax(i, left, h, least)
		if reach <= d && leaves != free {
			least = reach
			a.reprice(left, least)
			a.pass(start, free, leaves)
			return true
		}
		if math.IsInf(d, 1) {
			return false
		}
		least = d
		j := a.todo[k]
		if a.row[j] == free {
			a.reprice(left, least)
			a.pass(start, j, free)
			return true
		}
		left--
		a.settled++
		a.todo[k], a.todo[left] = a.todo[left], j
		a.dist[k], a.dist[left] = a.dist[left], d
		a.prices[k] = a.prices[left]
		i = int(a.row[j])
		h = a.at(i, int(j)) - a.v[j] - least
	}
}

// relax goes from row i to the columns that are not settled, and returns the
// nearest of them, a free one before others. None is nearer than floor.
func (a *match) relax(i, left int, h, floor float64) (at int, least float64) {
	at, least = -1, math.Inf(1)
	row := a.cost[i*a.m : (i+1)*a.m]
	todo := a.todo[:left]
	price, dist := a.prices[:len(todo)], a.dist[:len(todo)]
	for k, q := range todo {
		d := row[q] - price[k] - h
		if d < dist[k] {
			dist[k] = d
			a.from[q] = int32(i)
		} else {
			d = dist[k]
		}
		if d <= least && (d < least || a.row[q] == free) {
			if at, least = k, d; d <= floor && a.row[q] == free {
				break
			}
		}
	}
	return at, least
}

// reprice lowers the prices of the columns settled.
func (a *match) reprice(left int, least float64) {
	for k := left; k < a.m; k++ {
		a.v[a.todo[k]] += a.dist[k] - least
	}
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
