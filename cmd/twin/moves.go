package main

import (
	"math"
	"math/rand/v2"
	"slices"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/moves"
	"hollowbed/plants/season"
)

const (
	// horizon is for how many seasons a plan looks ahead, or for those that are left.
	horizon = 3
	// struggling is the highest vigour at which a gardener thinks of moving.
	struggling = 2
)

// mind is what a planner believes of its plants at its places.
type mind interface {
	// loss is the share of the seasons ahead in which plant i is expected to
	// struggle at a place, and the doubt of the difference to where it stands.
	loss(i, own, at, seasons int) (loss, doubt float64)
	// chance is that of the next season alone.
	chance(i, at int, moved bool) float64
}

// stated is what the program states, where the truth is another: how many
// doubts a move has to gain more than, the chance that a move costs a season, and what
// share of its limits a plant bears in its first season, planted or moved.
type stated struct {
	caution, disturb, young, moved float64
	work                           float64 // of a move with its margin, as a share of a plant's price; 0: moves cost no work
}

// defaultStated gives the figures of package plants for perennials: 0.03 and
// 0.02 for each 15 cm of a root ball of 30 cm; what a moved plant bears is that
// of its replay, half at first and all when rooted.
func defaultStated() stated { return stated{caution: 1, disturb: 0.07, young: 0.5, moved: 0.75} }

func (s stated) share(young, moved bool) float64 {
	switch {
	case young:
		return s.young
	case moved:
		return s.moved
	}
	return 1
}

// planMoves finds the plan of least loss for the plants that are alive, by
// what a planner believes, and returns where each plant goes.
func planMoves(g *garden, s *state, seasons int, caution, disturb float64, m mind) ([]int, error) {
	to := slices.Clone(s.at)
	problem := moves.Problem{Caution: caution}
	for range g.places {
		problem.Places = append(problem.Places, moves.Place{})
	}
	var who []int
	for i := range g.plants {
		if !s.alive[i] {
			continue
		}
		who = append(who, i)
		problem.Plants = append(problem.Plants, moves.Plant{At: s.at[i], Disturb: disturb / float64(seasons), GiveUp: math.Inf(1)})
		for at := range g.places {
			loss, doubt := m.loss(i, s.at[i], at, seasons)
			problem.Loss, problem.Doubt = append(problem.Loss, loss), append(problem.Doubt, doubt)
		}
	}
	plan, err := moves.Solve(problem)
	if err != nil {
		return nil, err
	}
	for k, one := range plan.Moves {
		to[who[k]] = one.To
	}
	return to, nil
}

// carry carries a plan out.
func (s *state) carry(to []int) {
	for i := range to {
		if s.alive[i] && to[i] != s.at[i] {
			s.at[i], s.moved[i] = to[i], true
		}
	}
}

// holders returns which living plant stands at each place, -1 for none.
func (s *state) holders(g *garden) []int {
	out := make([]int, len(g.places))
	for p := range out {
		out[p] = -1
	}
	for i, p := range s.at {
		if s.alive[i] {
			out[p] = i
		}
	}
	return out
}

// randomMoves moves so many plants: each to a place drawn at random, in
// exchange with the plant that stands there.
func randomMoves(g *garden, s *state, count int, rng *rand.Rand) []int {
	to, holder := slices.Clone(s.at), s.holders(g)
	var can []int
	for i, alive := range s.alive {
		if alive {
			can = append(can, i)
		}
	}
	rng.Shuffle(len(can), func(a, b int) { can[a], can[b] = can[b], can[a] })
	done := make([]bool, len(g.plants))
	for _, i := range can {
		if count <= 0 {
			break
		}
		var places []int
		for p, j := range holder {
			if j < 0 || j != i && !done[j] && !done[i] && count >= 2 {
				places = append(places, p)
			}
		}
		if done[i] || len(places) == 0 {
			continue
		}
		p := places[rng.IntN(len(places))]
		j := holder[p]
		holder[to[i]] = j
		if j >= 0 {
			to[j], done[j] = to[i], true
			count--
		}
		holder[p] = i
		to[i], done[i] = p, true
		count--
	}
	return to
}

// labelMoves is what people do by the label: whoever struggles outside the
// zones of its label goes there, wet plants down and dry ones up, to a free
// place with the least sun outside its range, or in exchange with a plant
// whose own label does not name that zone.
func labelMoves(g *garden, s *state, all []species, notes []season.Note) []int {
	to, holder := slices.Clone(s.at), s.holders(g)
	done := make([]bool, len(g.plants))
	for i, n := range notes {
		if !s.alive[i] || done[i] || n.Vigour > struggling {
			continue
		}
		label := all[g.species[i]].stated
		if slices.Contains(label.Zones, g.places[s.at[i]].zone) {
			continue
		}
		best, bestYet := -1, math.Inf(1)
		for p, at := range g.places {
			if !slices.Contains(label.Zones, at.zone) {
				continue
			}
			cost := hoursOff(label, at.sunH)
			if j := holder[p]; j >= 0 {
				if done[j] || slices.Contains(all[g.species[j]].stated.Zones, at.zone) {
					continue
				}
				cost += 100 // only if nothing is free
			}
			if cost < bestYet {
				best, bestYet = p, cost
			}
		}
		if best < 0 {
			continue
		}
		j := holder[best]
		holder[to[i]] = j
		if j >= 0 {
			to[j], done[j] = to[i], true
		}
		holder[best] = i
		to[i], done[i] = best, true
	}
	return to
}

// knowing is the outlook of one who knows limits and ground, though not the
// weather to come: fit's yearly risk over the record.
type knowing struct {
	g     *garden
	bed   *fit.Bed
	limit func(plant int) catalogue.Plant
	share float64 // of the limits borne after a move
	perH  float64 // loss by hours of sun outside the range
	known map[[2]int][2]float64
}

// chance is the yearly risk, established or in the season after a move.
func (k *knowing) chance(i, at int, moved bool) float64 {
	place, p := k.g.places[at], k.limit(i)
	key := [2]int{i, place.band}
	risk, ok := k.known[key]
	if !ok {
		risk[0] = k.bed.InBand(p, place.band, math.NaN()).YearlyRisk
		risk[1] = k.bed.InBand(bearing(p, k.share), place.band, math.NaN()).YearlyRisk
		k.known[key] = risk
	}
	weather := risk[0]
	if moved {
		weather = risk[1]
	}
	return 1 - (1-weather)*(1-min(1, k.perH*hoursOff(p, place.sunH)))
}

func (k *knowing) loss(i, own, at, seasons int) (loss, doubt float64) {
	return (k.chance(i, at, own != at) + float64(seasons-1)*k.chance(i, at, false)) / float64(seasons), 0
}

// oracle knows every plant's own limits and the true ground.
func (t madeUp) oracle(g *garden) *knowing {
	own := func(i int) catalogue.Plant { return g.plants[i] }
	return &knowing{g, over(g.real, g.record, false), own, t.MovedShare, t.SunLossPerH, map[[2]int][2]float64{}}
}

// kindOracle knows the true limits of every species, though not how one plant
// differs from the next, and the true ground.
func (t madeUp) kindOracle(g *garden, all []species) *knowing {
	kind := func(i int) catalogue.Plant { return all[g.species[i]].real }
	return &knowing{g, over(g.real, g.record, false), kind, t.MovedShare, t.SunLossPerH, map[[2]int][2]float64{}}
}
