package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
	"hollowbed/zones/basin"
)

const speciesCount = 40

// species is one kind of plant: what the catalogue states, and what is true.
type species struct {
	stated, real catalogue.Plant
}

// makeSpecies makes up 40 species along the range from dry to wet. Who bears
// long wetness bears drought less, loosely: plants of wet meadows sort
// themselves by the two (Silvertown and others 1999, Nature). The label names
// the third of the range a species comes from, and now and then the next one.
func makeSpecies(t madeUp) []species {
	rng := rand.New(rand.NewPCG(t.Seed, 1))
	between := func(low, high, share float64) float64 { return low * math.Pow(high/low, share) }
	all := make([]species, speciesCount)
	for i := range all {
		wetness := (float64(i) + 0.5) / speciesCount
		p := catalogue.Plant{
			ID: fmt.Sprintf("made-up-%02d", i+1), VernacularName: fmt.Sprintf("Made-up plant %d", i+1), Form: "perennial",
			WetH:    between(8, 900, wetness) * math.Exp(0.3*rng.NormFloat64()),
			PondMM:  between(30, 350, wetness) * math.Exp(0.3*rng.NormFloat64()),
			DryD:    between(150, 15, wetness) * math.Exp(0.25*rng.NormFloat64()),
			SunMinH: 1 + 5*rng.Float64(), SunMaxH: 16, LowestC: -32 + 6*rng.Float64(),
			RootCM: []float64{20, 30, 45, 60}[rng.IntN(4)], SpreadCM: 45,
		}
		if rng.IntN(4) == 0 { // a plant of half shade
			p.SunMinH, p.SunMaxH = 1+rng.Float64(), 6+rng.Float64()
		}
		p.Zones = labels(min(2, max(0, int(3*(wetness+0.15*rng.NormFloat64())))), rng.IntN(4) == 0)
		s := species{stated: p, real: p}
		s.real.WetH *= math.Exp(t.SpeciesSpread * rng.NormFloat64())
		s.real.PondMM *= math.Exp(t.SpeciesSpread * rng.NormFloat64())
		s.real.DryD *= math.Exp(t.SpeciesSpread * rng.NormFloat64())
		s.real.LowestC += t.ColdSpreadC * rng.NormFloat64()
		s.real.SunMinH += t.SunSpreadH * rng.NormFloat64()
		s.real.SunMaxH += t.SunSpreadH * rng.NormFloat64()
		all[i] = s
	}
	return all
}

// labels is the grower's word: the zone of a third of the range, 0 dry to 2
// wet, and perhaps the next one.
func labels(third int, wider bool) []string {
	zones := []string{basin.Rim, basin.Slope, basin.Bottom}
	out := []string{zones[third]}
	if wider {
		out = append(out, zones[[]int{1, 2, 1}[third]])
	}
	return out
}

// one draws a plant of a species: its own limits, never seen by anybody.
func (s species) one(t madeUp, rng *rand.Rand) catalogue.Plant {
	p := s.real
	p.WetH *= math.Exp(t.PlantSpread * rng.NormFloat64())
	p.PondMM *= math.Exp(t.PlantSpread * rng.NormFloat64())
	p.DryD *= math.Exp(t.PlantSpread * rng.NormFloat64())
	return p
}

// trulyMore is by how much a species truly bears more of each limit than its
// catalogue says, in log units; for cold as fit reckons degrees.
func (s species) trulyMore() [season.LimitCount]float64 {
	return [season.LimitCount]float64{
		math.Log(s.real.WetH / s.stated.WetH), math.Log(s.real.PondMM / s.stated.PondMM), math.Log(s.real.DryD / s.stated.DryD),
		(s.stated.LowestC - s.real.LowestC) / coldScaleC,
	}
}

// coldScaleC is how many degrees are one log unit of cold in package fit: one
// hardiness zone.
const coldScaleC = 50.0 / 9
