package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/fit"
	"hollowbed/plants/season"
	"hollowbed/testdata/testenv"
	"hollowbed/zones/site"
)

func smallWorld(t testing.TB, gardens int) *world {
	t.Helper()
	truth := defaultTruth()
	truth.Gardens = gardens
	w, err := newWorld(truth, signTable(t))
	require.NoError(t, err)
	return w
}

// Luck is even, and one draw tells nothing of the next: means and correlations
// within 4 standard errors of those of even independent numbers.
func TestLuck(t *testing.T) {
	const n = 20_000
	sum, square, next := 0.0, 0.0, 0.0
	for i := range n {
		u := luck(1, i/100, i%100, 2, luckDies)
		sum += u
		square += u * u
		next += (u - 0.5) * (luck(1, i/100, i%100, 3, luckDies) - 0.5)
	}
	assert.InDelta(t, 0.5, sum/n, 4*math.Sqrt(1.0/12/n))
	assert.InDelta(t, 1.0/3, square/n, 4*math.Sqrt(4.0/45/n))
	assert.InDelta(t, 0, next/n, 4.0/12/math.Sqrt(n))
	assert.NotEqual(t, luck(1, 2, 3, 4, luckDies), luck(1, 3, 2, 4, luckDies))
	assert.InDelta(t, 1.959964, normal(0.975), 1e-6, "quantile of the normal distribution, any table")
}

// The world is as its figures say: spreads of what nobody knows, by their
// sample.
func TestWorldAsStated(t *testing.T) {
	testenv.Sweep(t)
	w := smallWorld(t, 60)
	var soil, plants, errs []float64
	others := 0 // true water differs from the believed; not where the mix is slower than both grounds
	for _, g := range w.gardens {
		assert.True(t, len(g.plants) >= 20 && len(g.plants) <= 40 && len(g.places) > len(g.plants))
		assert.True(t, len(g.record) >= 10 && len(g.record) <= 15 && len(g.seasons) == 5)
		assert.Equal(t, g.record[len(g.record)-1]+1, g.seasons[0], "the seasons come after the record")
		soil = append(soil, g.groundOff)
		if g.believed.Run.Balance != g.real.Run.Balance {
			others++
		}
		for i, p := range g.plants {
			plants = append(plants, math.Log(p.DryD/w.species[g.species[i]].real.DryD))
		}
	}
	assert.GreaterOrEqual(t, others, len(w.gardens)*8/10)
	for _, s := range w.species {
		errs = append(errs, s.trulyMore()[2])
	}
	spread := func(x []float64) float64 {
		sum := 0.0
		for _, v := range x {
			sum += v * v
		}
		return math.Sqrt(sum / float64(len(x)))
	}
	assert.InDelta(t, w.truth.PlantSpread, spread(plants), 0.02)
	assert.InDelta(t, w.truth.SpeciesSpread, spread(errs), 4*w.truth.SpeciesSpread/math.Sqrt(2*speciesCount))
	assert.InDelta(t, w.truth.SoilError, spread(soil), 4*w.truth.SoilError/math.Sqrt(float64(2*len(soil))))
}

// More of what harms never saves a plant: at half the limits whoever fails at
// full ones still fails.
func TestFateHarder(t *testing.T) {
	w := smallWorld(t, 6)
	worse := 0
	for _, g := range w.gardens {
		for i := range g.plants {
			for turn := 1; turn < w.truth.Seasons; turn++ {
				easy := w.truth.fate(g, i, g.start[i], turn, false)
				hard := w.truth.fate(g, i, g.start[i], turn, true)
				if easy.limits {
					assert.True(t, hard.limits)
				} else if hard.limits {
					worse++
				}
				assert.False(t, easy.dies && easy.cause == season.Fine)
			}
		}
	}
	assert.Positive(t, worse, "moving has to matter")
}

// Whoever moves stands alone in its place, and as many move as were asked for.
func TestMovesAreMoves(t *testing.T) {
	w := smallWorld(t, 8)
	require.NoError(t, w.live(byLabels, rivals{}))
	rng := rand.New(rand.NewPCG(3, 4))
	for k, g := range w.gardens {
		for count := range 12 {
			s := newState(g)
			s.alive[0] = false
			to := randomMoves(g, s, count, rng)
			moved := 0
			seen := map[int]bool{}
			for i, p := range to {
				if !s.alive[i] {
					continue
				}
				assert.False(t, seen[p])
				seen[p] = true
				if p != s.at[i] {
					moved++
				}
			}
			assert.Equal(t, count, moved)
		}
		r := w.runs[byLabels]
		for turn := 1; turn < w.truth.Seasons; turn++ {
			seen := map[int]bool{}
			for i, p := range r.stands[turn][k] {
				if r.fates[turn][k][i].cause == "" {
					continue
				}
				assert.False(t, seen[p], "two plants at one place")
				seen[p] = true
				if p != r.stands[turn-1][k][i] && r.notes[turn-1][k][i].Vigour <= struggling {
					label := w.species[g.species[i]].stated.Zones
					assert.Contains(t, label, g.places[p].zone)
				}
			}
		}
	}
}

// The method never looks at the truth: with other true limits and another true
// ground behind the same notes it decides the same.
func TestOursIsBlind(t *testing.T) {
	w := smallWorld(t, 4)
	require.NoError(t, w.live(byOurs, rivals{}))
	r := w.runs[byOurs]
	decide := func() [][]int {
		learned, err := w.learn(r, 2)
		require.NoError(t, err)
		var out [][]int
		for i, g := range w.gardens {
			s := newState(g)
			p := w.planner(r, g, learned.bearing[i])
			to, err := planMoves(g, s, horizon, w.stated.caution, w.stated.disturb, p)
			require.NoError(t, err)
			out = append(out, to)
		}
		return out
	}
	before := decide()
	for _, g := range w.gardens {
		g.real = nil
		for i := range g.plants {
			g.plants[i].WetH, g.plants[i].DryD, g.plants[i].SunMinH = 1, 1, 12
		}
	}
	for i := range w.species {
		w.species[i].real = w.species[0].stated
	}
	assert.Equal(t, before, decide())
}

// A bootstrap interval of a mean of many numbers is that of the normal
// distribution (textbook): 1.96 standard errors either way.
func TestBootstrap(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	x := make([]float64, 400)
	sum, square := 0.0, 0.0
	for i := range x {
		x[i] = rng.NormFloat64()
		sum += x[i]
		square += x[i] * x[i]
	}
	n := float64(len(x))
	se := math.Sqrt((square/n - sum*sum/n/n) / n)
	got := bootstrap(1, len(x), func(weight []float64) float64 {
		a, b := 0.0, 0.0
		for i, w := range weight {
			a += w * x[i]
			b += w
		}
		return a / b
	})
	assert.InDelta(t, sum/n, got.Value, 1e-12)
	assert.InDelta(t, sum/n-1.96*se, got.Low, 0.15*se)
	assert.InDelta(t, sum/n+1.96*se, got.High, 0.15*se)
}

// Brier score and calibration error of four forecasts, worked by hand: 0.1 and
// 0.12 in one bin, of which the second came; 0.9 came, 0.62 did not.
func TestReliability(t *testing.T) {
	r := &run{said: [][][]float64{{{0.1, 0.12, 0.9, 0.62}}}}
	var c tally
	for i, came := range []bool{false, true, true, false} {
		c.forecast(r, 0, 0, i, fate{limits: came})
	}
	brier, off, said, came := c.reliability()
	assert.InDelta(t, (0.01+0.88*0.88+0.01+0.62*0.62)/4, brier, 1e-12)
	assert.InDelta(t, (math.Abs(0.22-1)+0.1+0.62)/4, off, 1e-12)
	assert.InDelta(t, 1.74/4, said, 1e-12)
	assert.InDelta(t, 0.5, came, 1e-12)
}

// Sun of a season and share of limits: a plant in its first season bears half.
func TestShares(t *testing.T) {
	truth := defaultTruth()
	assert.Equal(t, 0.5, truth.share(true, false))
	assert.Equal(t, 0.8, truth.share(false, true))
	s := defaultStated()
	assert.Equal(t, []float64{0.5, 0.75, 1}, []float64{s.share(true, false), s.share(false, true), s.share(false, false)})
	p := bearing(makeSpecies(truth)[3].stated, 0.5)
	assert.InDelta(t, 0.1, fit.SunLoss(hoursOff(p, p.SunMinH-1)), 1e-12)
}

// Three ponds a season teach the ground: after five seasons what drains the bed is known
// to little more than half of what was believed, and about as well as is said.
func TestPonds(t *testing.T) {
	truth, rng := defaultTruth(), rand.New(rand.NewPCG(7, 7))
	before, after, said := 0.0, 0.0, 0.0
	const n = 300
	for i := range n {
		setup, err := makeSetup(rng, site.InventedClimates()[0])
		require.NoError(t, err)
		g := &garden{index: i, setup: setup, groundOff: truth.SoilError * rng.NormFloat64()}
		drains := func(rate float64) float64 { return math.Log(min(rate, setup.MixKMMH)) }
		real := drains(setup.NativeKMMH * math.Exp(g.groundOff))
		_, rate, _, spread := season.RateOfFalls(setup.NativeKMMH, math.Log(statedSoilFactor)/1.645, setup.MixKMMH, truth.ponds(g, truth.Seasons))
		before += math.Pow(drains(setup.NativeKMMH)-real, 2) / n
		after += math.Pow(drains(rate)-real, 2) / n
		said += spread * spread / n
	}
	t.Logf("off by %.3f before, %.3f after, %.3f said", math.Sqrt(before), math.Sqrt(after), math.Sqrt(said))
	assert.Less(t, after, before*0.35)
	assert.InDelta(t, 1, math.Sqrt(after/said), 0.35)
}
