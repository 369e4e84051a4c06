// Package moves answers which standing plants of a bed should stand somewhere
// else, and which should be given up.
//
// Input is a Problem: the plants with the places where they stand, all places
// with the room they have, what each plant is expected to lose at each place
// and how far that is in doubt, what a move and a loss of a plant cost, and the
// least cost of a place that is left. Output is a Plan: for every plant stay,
// move, swap or replace, at the least total cost, with the cost of doing
// nothing, the next best for each plant, and prices that prove that no plan
// costs less (prove_test.go).
//
// A plan falls apart into groups: cycles of plants that take each other's
// places, and chains that begin with a place nobody takes over and end at a free
// place or with a plant that is given up. No group shares a cost with another, so
// each of them by itself gains, and by more than its disturbance and, with
// Caution k, k times its doubts: if one did not, the plan without it would cost
// less. So any of the groups may be left undone, but a group is done whole.
//
// Every processor finds the same plan: no product is fused with a sum, which
// float64(x*y) forbids the compiler, so that of plans of one cost none comes first
// for the sake of a last bit.
//
// Left out: what the losses are (package fit and season), where free places lie
// (package placement), and a limit on the number of moves. With such a limit the
// least cost is no longer an assignment, and no exact way is known that is fast;
// groups come in order of their gain instead.
package moves

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Problem is plants, places, and what each plant would cost at each place. All
// costs are in one unit of the caller's, such as m2 of ground lost.
type Problem struct {
	Plants []Plant
	Places []Place
	// Loss is what a plant is expected to lose at a place over the years looked
	// at, Loss[i*len(Places)+p]: such as the share of them in trouble. +Inf where
	// it may not go. At least 0; finite where it stands.
	Loss []float64
	// Doubt is what is left in doubt when a plant goes to a place: such as by how
	// much it may turn out for the worse. Laid out as Loss; nil for none.
	Doubt   []float64
	Caution float64 // k: how many of its doubts a move has to gain more than
}

// Plant is a plant that stands.
type Plant struct {
	Stake    string
	At       int     // its place
	SpreadCM float64 // it only goes where there is that much room; it may always stay
	Weight   float64 // worth of the plant, by which Loss, Doubt and Disturb are multiplied; 0 for 1
	Disturb  float64 // loss that moving it now brings with it
	// GiveUp is what it costs to throw the plant away, +Inf if it may not be;
	// GiveUpDoubt the standard deviation of what is gained by it. Not multiplied.
	GiveUp, GiveUpDoubt float64
}

// Place is a place in the bed that holds one plant.
type Place struct {
	Name   string
	RoomCM float64 // the largest spread that it has room for; 0 for any
	// Refill is the least cost of the place if no standing plant is there in the
	// end: left bare, or with the best plant to be bought.
	Refill float64
}

func (w *Plant) weight() float64 {
	if w.Weight == 0 {
		return 1
	}
	return w.Weight
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// check reports every fault of a problem.
func (p *Problem) check() error {
	var f []string
	add := func(ok bool, form string, args ...any) {
		if !ok {
			f = append(f, "moves: "+fmt.Sprintf(form, args...))
		}
	}
	size := len(p.Plants) * len(p.Places)
	add(len(p.Loss) == size, "%d losses: want %d, one for each plant and place", len(p.Loss), size)
	add(p.Doubt == nil || len(p.Doubt) == size, "%d doubts: want %d or none", len(p.Doubt), size)
	add(p.Caution >= 0 && finite(p.Caution), "caution %g: want a number of 0 or more", p.Caution)
	for k, q := range p.Places {
		add(finite(q.Refill), "place %q: cost of refilling %g: want a number", q.Name, q.Refill)
		add(q.RoomCM >= 0, "place %d: room %g cm: want 0 or more", k, q.RoomCM)
	}
	at := map[int]string{}
	for _, w := range p.Plants {
		add(w.At >= 0 && w.At < len(p.Places), "plant %q: place %d: want one of %d", w.Stake, w.At, len(p.Places))
		other, twice := at[w.At]
		add(!twice, "plants %q and %q stand at the same place", other, w.Stake)
		at[w.At] = w.Stake
		add(w.SpreadCM >= 0 && w.Weight >= 0 && finite(w.Weight), "plant %q: want a spread and a weight of 0 or more", w.Stake)
		add(w.Disturb >= 0, "plant %q: disturbance %g: want 0 or more", w.Stake, w.Disturb)
		add(w.GiveUp > math.Inf(-1) && w.GiveUpDoubt >= 0 && finite(w.GiveUpDoubt),
			"plant %q: cost of giving up %g, doubt %g: want a number and one of 0 or more", w.Stake, w.GiveUp, w.GiveUpDoubt)
	}
	for _, x := range []struct {
		name   string
		values []float64
	}{{"loss", p.Loss}, {"doubt", p.Doubt}} {
		for k, v := range x.values {
			if !(v >= 0) {
				add(false, "%s of plant %d at place %d: %g: want 0 or more", x.name, k/max(1, len(p.Places)), k%max(1, len(p.Places)), v)
			}
		}
	}
	if len(f) == 0 {
		for i, w := range p.Plants {
			add(finite(p.loss(i, w.At)), "plant %q: its loss where it stands is not finite", w.Stake)
		}
	}
	if len(f) > 0 {
		return errors.New(strings.Join(f, "\n"))
	}
	return nil
}

func (p *Problem) loss(i, place int) float64 { return p.Loss[i*len(p.Places)+place] }

// cost returns what plant i costs at a place, refilling apart: its loss, and if
// it has to be moved there its disturbance and Caution times its doubt:
//
//	w (L + D + k S), or w L where it stands
//
// +Inf where it may not go or has no room.
func (p *Problem) cost(i, place int) float64 {
	w := &p.Plants[i]
	k := i*len(p.Places) + place
	if place == w.At {
		return float64(w.weight() * p.Loss[k])
	}
	if room := p.Places[place].RoomCM; room > 0 && w.SpreadCM > room || math.IsInf(p.Loss[k], 1) {
		return math.Inf(1)
	}
	c := p.Loss[k] + w.Disturb
	if p.Doubt != nil && p.Caution > 0 {
		c += float64(p.Caution * p.Doubt[k])
	}
	return float64(w.weight() * c)
}

// giveUpCost returns what giving plant i up costs, refilling apart.
func (p *Problem) giveUpCost(i int) float64 {
	return p.Plants[i].GiveUp + float64(p.Caution*p.Plants[i].GiveUpDoubt)
}
