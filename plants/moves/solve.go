package moves

import (
	"math"
	"slices"
)

// Action is what is done with a plant.
type Action string

// The actions. A swap is a move in a cycle: the plants of its group take each
// other's places. A plant that is replaced is given up; who takes its place is in
// its group, and nobody if the place is open in the end.
const (
	Stay    Action = "stay"
	Moved   Action = "move"
	Swap    Action = "swap"
	Replace Action = "replace"
)

// GivenUp stands for a place in Move.To and Choice.To: none.
const GivenUp = -1

// Move is what is done with one plant.
type Move struct {
	Action   Action
	From, To int // places; To is From if it stays, GivenUp if it is replaced
	Group    int // in Plan.Groups; -1 if it stays
	// Expected loss over the years looked at, before and after, not weighted,
	// disturbance apart; after is NaN for a plant that is given up.
	LossBefore, LossAfter float64
}

// Choice is the best plan that does something else with a plant.
type Choice struct {
	To    int     // place, or GivenUp
	Extra float64 // how much more the plan costs, others free to change too; +Inf if there is none
}

// Plan is the plan of least cost.
type Plan struct {
	Moves  []Move  // of each plant
	Groups []Group // largest gain first
	Open   []int   // places without a standing plant in the end: to be refilled or left bare
	// Total cost of the plan and of doing nothing, both with what refilling the
	// open places costs; Gain = Nothing - Objective.
	Objective, Nothing, Gain float64
	// Prices that prove it: no plant pays less than its price anywhere.
	PlantPrice, PlacePrice []float64

	matched *match
	detour  *detour // made when a second choice is first asked for
}

// Second returns the best plan that does something else with plant i than this
// one. The first time it looks at every cost, O(n m), as it does at worst each time
// after that. Not for two goroutines at once.
func (l *Plan) Second(i int) Choice {
	if l.detour == nil {
		l.detour = newDetour(l.matched)
	}
	return l.detour.second(i)
}

// Solve returns the plan of least cost: over all ways to give each plant a place
// of its own or none, the least of
//
//	sum of cost(i, place of i) + sum of giveUpCost of those without
//	+ sum of Refill of the places without a plant
//
// Exact but for the rounding of sums. Among plans of the same cost it takes one of
// small groups, and leaves undone what gains nothing.
func Solve(p Problem) (*Plan, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	s := newSolution(&p)
	if !s.solve() {
		panic("moves: staying is always a way") // costs are finite where plants stand
	}
	s.simplify()
	return s.plan(), nil
}

// solution is a problem with its matching. Costs are taken relative to Refill,
// so that a place costs nothing more when it is left: base is what refilling all
// of them costs.
type solution struct {
	p *Problem
	*match
	base float64
}

func newSolution(p *Problem) *solution {
	n, m := len(p.Plants), len(p.Places)
	cost, out := make([]float64, n*m), make([]float64, n)
	s := &solution{p: p}
	for _, q := range p.Places {
		s.base += q.Refill
	}
	for i := range p.Plants {
		row := cost[i*m : (i+1)*m]
		for q := range row {
			row[q] = p.cost(i, q) - p.Places[q].Refill
		}
		out[i] = p.giveUpCost(i)
	}
	s.match = newMatch(cost, n, m, out)
	return s
}

// noise is the share of the costs at hand below which a difference is rounding.
const noise = 1e-10

// scale is the size of the costs: of what staying and leaving cost.
func (s *solution) scale() float64 {
	big := 1.0
	for i, w := range s.p.Plants {
		big = math.Max(big, math.Abs(s.at(i, w.At)))
	}
	return big
}

// simplify takes, among plans of the same cost, one that is easy to carry out:
// groups fall into smaller ones where two plants may as well trade where they go,
// and what gains nothing is left undone.
func (s *solution) simplify() {
	least := noise * s.scale()
	for _, g := range s.groups() {
		if !g.Cycle {
			slices.Reverse(g.Plants)
		}
		s.split(g.Plants, least)
	}
	for _, g := range s.groups() {
		if g.Gain > least {
			continue
		}
		for _, i := range g.Plants { // first take all up, then put them back
			if j := s.column[i]; j >= 0 {
				s.row[j] = free
			}
		}
		for _, i := range g.Plants {
			s.column[i] = int32(s.p.Plants[i].At)
			s.row[s.p.Plants[i].At] = int32(i)
		}
	}
}

// split trades the aims of two plants of a group that cost the same either way,
// which always makes two groups of it, and goes on with each. Each plant of the
// group takes the place of the one behind it.
func (s *solution) split(group []int, least float64) {
	for b := 1; b < len(group); b++ {
		for a := range b {
			i, k := group[a], group[b]
			ti, tk := s.column[i], s.column[k]
			if ti < 0 || tk < 0 || !(math.Abs(s.at(i, int(tk))+s.at(k, int(ti))-s.at(i, int(ti))-s.at(k, int(tk))) <= least) {
				continue
			}
			s.column[i], s.column[k] = tk, ti
			s.row[tk], s.row[ti] = int32(i), int32(k)
			s.split(slices.Concat(group[:a+1], group[b+1:]), least)
			s.split(group[a+1:b+1], least)
			return
		}
	}
}

func (s *solution) plan() *Plan {
	p := s.p
	out := &Plan{
		Moves: make([]Move, len(p.Plants)), Groups: s.groups(),
		Objective: s.base, Nothing: s.base, PlantPrice: s.rowPrices(), PlacePrice: s.v,
		matched: s.match,
	}
	for i, w := range p.Plants {
		m := Move{Action: Stay, From: w.At, To: int(s.column[i]), Group: -1, LossBefore: p.loss(i, w.At), LossAfter: math.NaN()}
		out.Nothing += s.at(i, w.At)
		if m.To >= 0 {
			m.LossAfter = p.loss(i, m.To)
			out.Objective += s.at(i, m.To)
		} else {
			m.Action, m.To = Replace, GivenUp
			out.Objective += s.alone(i)
		}
		if m.To != m.From && m.To >= 0 {
			m.Action = Moved
		}
		out.Moves[i] = m
	}
	for g := range out.Groups {
		for _, i := range out.Groups[g].Plants {
			out.Moves[i].Group = g
			if out.Groups[g].Cycle {
				out.Moves[i].Action = Swap
			}
		}
	}
	for q, i := range s.row {
		if i == free {
			out.Open = append(out.Open, q)
		}
	}
	out.Gain = out.Nothing - out.Objective
	return out
}
