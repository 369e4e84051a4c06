package moves

import (
	"errors"
	"fmt"
	"math"
)

// Prove checks a plan without solving: it gives each plant one place of its own
// or none, costs what it says, and its prices show that no plan costs less, all
// but for rounding: no plant pays less than its price at any place whose price is
// taken off or by being given up, no place has a price above 0, none that is open
// has one at all, and every plant pays its price.
func (p *Problem) Prove(plan *Plan) error {
	s := newSolution(p)
	tol := float64(1e-8 * s.scale())
	if len(plan.Moves) != s.n || len(plan.PlantPrice) != s.n || len(plan.PlacePrice) != s.m {
		return errors.New("moves: the plan is for other plants or places")
	}
	taken := make([]bool, s.m)
	total := s.base
	for i, m := range plan.Moves {
		paid := s.alone(i)
		if m.To != GivenUp {
			if taken[m.To] {
				return fmt.Errorf("moves: place %d is given twice", m.To)
			}
			taken[m.To] = true
			paid = s.at(i, m.To)
			total += paid
			paid -= plan.PlacePrice[m.To]
		} else {
			total += paid
		}
		u := plan.PlantPrice[i]
		if !(math.Abs(paid-u) <= tol) || !(u <= s.alone(i)+tol) {
			return fmt.Errorf("moves: plant %d pays %g for a price of %g", i, paid, u)
		}
		for q, v := range plan.PlacePrice {
			if !(u+v <= s.at(i, q)+tol) {
				return fmt.Errorf("moves: plant %d would pay less at place %d", i, q)
			}
		}
	}
	for q, v := range plan.PlacePrice {
		if !(v <= tol) || !taken[q] && !(math.Abs(v) <= tol) {
			return fmt.Errorf("moves: place %d has a price of %g", q, v)
		}
	}
	if !(math.Abs(total-plan.Objective) <= tol*float64(s.n+1)) {
		return fmt.Errorf("moves: the plan costs %g and says %g", total, plan.Objective)
	}
	return nil
}

// assignment gives every row a column of its own at the least total cost, with
// the prices that prove it.
type assignment struct {
	Column []int // of each row
	Cost   float64
	// RowPrice[i] + ColumnPrice[j] is at most the cost of every pair and equal to
	// it for the pairs chosen; a column price is at most 0, and 0 where the column
	// is left over. So no assignment costs less than the sum of all prices, and
	// this one costs just that.
	RowPrice, ColumnPrice []float64
}

// assign is the matching by itself: each of n rows gets one of m columns, n <= m.
// It is an error if no way is left, if n > m, and if a cost is NaN or -Inf.
func assign(cost []float64, n, m int) (*assignment, error) {
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
	out := &assignment{Column: make([]int, n), RowPrice: a.rowPrices(), ColumnPrice: a.v}
	for i, j := range a.column {
		out.Column[i] = int(j)
		out.Cost += a.at(i, int(j))
	}
	return out, nil
}
