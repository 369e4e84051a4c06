package main

import (
	"math"
	"math/rand/v2"
	"slices"

	"hollowbed/plants/season"
)

// tally is how the plants of one garden did under one policy.
type tally struct {
	plants, alive         float64 // alive after the last season
	seasons, lived, well  float64 // plant-seasons: in all, alive at their end, and alive without trouble
	moves, needless       float64
	alike, struggled      float64 // plants in trouble whose cause was said right, and all in trouble
	fineAsFine, fine      float64
	byCause               [season.CauseCount][season.CauseCount]float64 // true, said
	said, came, forecasts [reliabilityBins]float64
	squared               float64
}

// reliabilityBins are bins of stated chances, all of one width.
const reliabilityBins = 20

// tallies counts the plants of every garden under a policy.
func (w *world) tallies(policy string) []tally {
	var out []tally
	for g := range w.gardens {
		out = append(out, w.tally(w.runs[policy], g))
	}
	return out
}

// tally counts a garden's plants.
func (w *world) tally(r *run, g int) tally {
	var c tally
	last := w.truth.Seasons - 1
	for turn := range w.truth.Seasons {
		for i, f := range r.fates[turn][g] {
			c.seasons++
			if f.cause == "" {
				continue
			}
			if !f.dies {
				c.lived++
				if f.cause == season.Fine {
					c.well++
				}
			}
			c.forecast(r, turn, g, i, f)
			if r.causes[turn] != nil {
				c.cause(number(f.cause), r.causes[turn][g][i])
			}
			if r.moved[turn][g][i] {
				c.moves++
				if w.needless(r, turn, g, i) {
					c.needless++
				}
			}
		}
	}
	for _, f := range r.fates[last][g] {
		c.plants++
		if f.cause != "" && !f.dies {
			c.alive++
		}
	}
	return c
}

// cause books what was said of one plant.
func (c *tally) cause(true, said int) {
	c.byCause[true][said]++
	if true == 0 {
		c.fine++
		if said == 0 {
			c.fineAsFine++
		}
		return
	}
	c.struggled++
	if true == said {
		c.alike++
	}
}

// forecast books what was said before a season against what came: the plant
// struggled for its place's sake or for its move's.
func (c *tally) forecast(r *run, turn, g, i int, f fate) {
	if r.said[turn][g] == nil {
		return
	}
	said, came := r.said[turn][g][i], 0.0
	if f.limits || f.shock {
		came = 1
	}
	bin := min(reliabilityBins-1, int(said*reliabilityBins))
	c.said[bin] += said
	c.came[bin] += came
	c.forecasts[bin]++
	c.squared += (said - came) * (said - came)
}

// needless says whether a plant that was moved would have been spared by its
// old place through the seasons that the plan looked ahead.
func (w *world) needless(r *run, turn, g, i int) bool {
	old := r.stands[turn-1][g][i]
	for at := turn; at < min(turn+horizon, w.truth.Seasons); at++ {
		if w.truth.fate(w.gardens[g], i, old, at, false).limits {
			return false
		}
	}
	return true
}

// interval is a figure with its 95 % interval.
type interval struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// resamples is how many times the gardens are drawn anew, with replacement.
const resamples = 2000

// bootstrap returns a figure over all gardens and its 95 % percentile interval, by the
// same draws for every figure (Efron 1979, Annals of Statistics 7:1, from memory).
func bootstrap(seed uint64, gardens int, figure func(weight []float64) float64) interval {
	weight := make([]float64, gardens)
	for i := range weight {
		weight[i] = 1
	}
	out := interval{Value: figure(weight)}
	rng := rand.New(rand.NewPCG(seed, 3))
	all := make([]float64, resamples)
	for b := range all {
		clear(weight)
		for range gardens {
			weight[rng.IntN(gardens)]++
		}
		all[b] = figure(weight)
	}
	slices.Sort(all)
	at := func(share float64) float64 { return all[int(math.Round(share*(resamples-1)))] }
	out.Low, out.High = at(0.025), at(0.975)
	return out
}

// ratio is a weighted sum over another.
func ratio(weight []float64, tallies []tally, over, under func(*tally) float64) float64 {
	a, b := 0.0, 0.0
	for g, w := range weight {
		if w != 0 {
			a += w * over(&tallies[g])
			b += w * under(&tallies[g])
		}
	}
	return a / b
}
