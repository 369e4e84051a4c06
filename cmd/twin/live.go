package main

import (
	"math"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/season"
)

// state is a garden under one policy.
type state struct {
	at    []int // place of each plant; where it died, of the dead
	alive []bool
	moved []bool // just before this season
}

func newState(g *garden) *state {
	s := &state{at: make([]int, len(g.plants)), alive: make([]bool, len(g.plants)), moved: make([]bool, len(g.plants))}
	copy(s.at, g.start)
	for i := range s.alive {
		s.alive[i] = true
	}
	return s
}

// fate is what one season did to one plant.
type fate struct {
	cause  season.Cause // Fine, or what made it struggle; "" if it was dead before
	dies   bool
	limits bool // its place failed it: weather past a limit, or the sun
	shock  bool // its move did
}

// share returns what a plant bears in a season, as a share of what it bears
// once established and undisturbed.
func (t madeUp) share(young, moved bool) float64 {
	share := 1.0
	if young {
		share = t.YoungShare
	}
	if moved {
		share *= t.MovedShare
	}
	return share
}

// bearing is a plant that bears a share of its limits of wet and dry.
func bearing(p catalogue.Plant, share float64) catalogue.Plant {
	p.WetH, p.PondMM, p.DryD = share*p.WetH, share*p.PondMM, share*p.DryD
	return p
}

// year is what a season does to a plant at a place, as multiples of its limits;
// young is its first.
func (g *garden) year(b *fit.Bed, p catalogue.Plant, at, turn int, young bool) fit.Year {
	one := over(b, g.seasons[turn:turn+1], young && g.watered || g.always)
	return one.InBand(p, g.places[at].band, math.NaN()).ByYear[0]
}

// fate returns what happens to plant i at a place in a season. Of several
// limits passed the worst is the cause; what weather does comes before shade,
// shade before the shock of a move, that before other mishaps, and those before
// sulking.
func (t madeUp) fate(g *garden, i, at, turn int, moved bool) fate {
	roll := func(what chance) float64 { return luck(t.Seed, g.index, g.draw(i), turn, what) }
	young := turn == g.born[i]
	y := g.year(g.real, bearing(g.plants[i], t.share(young, moved)), at, turn, young)
	worst, cause := 0.0, season.Fine
	for k, one := range []struct {
		severity float64
		cause    season.Cause
	}{{y.Wet, season.TooWet}, {y.Deep, season.TooDeep}, {y.Dry, season.TooDry}, {y.Cold, season.TooExposed}} {
		past := math.Log(one.severity) + t.Edge*normal(roll(luckWet+chance(k)))
		if past > worst {
			worst, cause = past, one.cause
		}
	}
	sun := g.places[at].sunH
	switch {
	case cause != season.Fine:
	case roll(luckSun) < t.SunLossPerH*hoursOff(g.plants[i], sun):
		cause = season.TooShaded
		if sun > g.plants[i].SunMaxH {
			cause = season.TooExposed
		}
	}
	f := fate{cause: cause, limits: cause != season.Fine}
	switch {
	case f.limits:
		f.dies = roll(luckDies) < t.Dies
	case moved && roll(luckShock) < t.MoveShock:
		f.cause, f.shock, f.dies = season.Slow, true, roll(luckDies) < t.Dies
	case roll(luckOther) < t.OtherChance:
		f.cause, f.dies = season.Other, roll(luckDies) < t.OtherDies
	case (young || moved) && roll(luckSlow) < t.SlowChance:
		f.cause = season.Slow
	}
	return f
}

// live takes a garden through a season under a policy, and returns the fates
// of those who were alive; the others' are zero.
func (t madeUp) live(g *garden, s *state, turn int) []fate {
	out := make([]fate, len(g.plants))
	for i := range g.plants {
		if !s.alive[i] {
			continue
		}
		out[i] = t.fate(g, i, s.at[i], turn, s.moved[i])
		s.alive[i] = !out[i].dies
		s.moved[i] = false
	}
	return out
}
