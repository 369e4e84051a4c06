package main

import (
	"math"
	"math/rand/v2"

	"hollowbed/plants/fit"
	"hollowbed/plants/season"
)

// ponds are what a gardener notes of ponds that fall, in the seasons so far: a depth, and
// what is left of it hours later.
func (t madeUp) ponds(g *garden, turns int) []season.Fall {
	rng := rand.New(rand.NewPCG(t.Seed, 2e9+uint64(g.index)))
	rate := min(g.setup.NativeKMMH*math.Exp(g.groundOff), g.setup.MixKMMH)
	read := func(mm float64) float64 { return max(0, mm+t.StickMM*rng.NormFloat64()) }
	var out []season.Fall
	for range turns * t.Ponds {
		depth := (0.3 + 0.7*rng.Float64()) * g.setup.Bed.Spec().PondingMM
		hours := 2 + 10*rng.Float64()
		left := max(0, depth-hours*rate*math.Exp(t.PondSpread*rng.NormFloat64()))
		first, then := read(depth), 0.0
		if left > 0 {
			then = read(left)
		}
		out = append(out, season.Fall{MM: max(0, first-then), Hours: hours, AtLeast: then == 0})
	}
	return out
}

// statedSoilFactor is within what factor the program takes a soil test to be right in
// nine cases of ten (zones.Lot.UsualDoubt).
const statedSoilFactor = 2

// watch has a policy go by the ground as ponds have shown it to be.
func (w *world) watch(r *run, turns int) error {
	if r.grounds == nil {
		r.grounds, r.rates, r.spreads = make([]*fit.Bed, len(w.gardens)), make([]float64, len(w.gardens)), make([]float64, len(w.gardens))
	}
	return each(len(w.gardens), func(i int) error {
		g := w.gardens[i]
		var rate float64
		_, rate, _, r.spreads[i] = season.RateOfFalls(g.setup.NativeKMMH, math.Log(statedSoilFactor)/1.645, g.setup.MixKMMH, w.truth.ponds(g, turns))
		if r.rates[i] > 0 && math.Abs(math.Log(rate/r.rates[i])) < sameRate {
			return nil
		}
		rec, err := g.weather()
		if err != nil {
			return err
		}
		setup := g.setup
		setup.NativeKMMH, r.rates[i] = rate, rate
		r.grounds[i], err = makeBed(setup, rec, w.species)
		return err
	})
}

// sameRate is by how little ln of a rate moves without the balance being run anew.
const sameRate = 0.03
