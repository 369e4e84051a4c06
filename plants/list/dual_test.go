package list

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The few prices reach what the many of the older relaxation reach, or less, and
// never less than an optimum that other solvers proved.
func TestDualBound(t *testing.T) {
	for _, o := range optima(t) {
		m := newModel(o.problem(t))
		r := newRelaxation(m)
		_, bound := newDual(m, r.out).lower()
		_, many := r.lower(r.startPrices(), o.Optimum, 2*boundRounds)
		assert.GreaterOrEqual(t, bound, o.Optimum*(1-solverNoise), "%v", o)
		assert.LessOrEqual(t, bound, many.value*1.0001, "%v", o)
	}
}

// At any prices L is no less than the optimum, and its slope is a subgradient: L
// lies nowhere below the plane through it.
func TestDualAtAnyPrices(t *testing.T) {
	for _, o := range optima(t) {
		m := newModel(o.problem(t))
		d := newDual(m, newRelaxation(m).out)
		draw := rand.New(rand.NewPCG(o.Seed, 5))
		n := len(d.used)
		at := func() (p, slope []float64, value float64) {
			p, slope = make([]float64, n), make([]float64, n)
			for row := range p {
				if d.used[row] {
					p[row] = draw.Float64() * draw.Float64()
				}
			}
			return p, slope, d.at(p, slope)
		}
		p, slope, value := at()
		for range 20 {
			q, next, there := at()
			require.GreaterOrEqual(t, there, o.Optimum*(1-solverNoise), "%v", o)
			plane := value
			for row := range p {
				plane += slope[row] * (q[row] - p[row])
			}
			require.GreaterOrEqual(t, there, plane-1e-9, "%v", o)
			p, slope, value = q, next, there
		}
	}
}

// The least of functions with edges whose least is known.
func TestMinimise(t *testing.T) {
	for name, f := range map[string]func(x, slope []float64) float64{
		"steep and flat": func(x, slope []float64) float64 { // |x - 1| + 1000 |y + 2| + 0.01 |z|
			v := 0.0
			for i, w := range []float64{1, 1000, 0.01} {
				off := x[i] - []float64{1, -2, 0}[i]
				v += w * math.Abs(off)
				slope[i] = math.Copysign(w, off)
			}
			return v
		},
		"a ridge": func(x, slope []float64) float64 { // max of |x + y + z - 3| * 100 and |x - y| + |y - z|
			a, b, c := x[0]+x[1]+x[2]-3, x[0]-x[1], x[1]-x[2]
			if v := 100 * math.Abs(a); v >= math.Abs(b)+math.Abs(c) {
				for i := range slope {
					slope[i] = math.Copysign(100, a)
				}
				return v
			}
			sb, sc := math.Copysign(1, b), math.Copysign(1, c)
			slope[0], slope[1], slope[2] = sb, sc-sb, -sc
			return math.Abs(b) + math.Abs(c)
		},
	} {
		least, looks := math.Inf(1), 0
		minimise([]float64{5, 5, -7}, 1, 300, func() bool { return false }, func(x, slope []float64) {
			looks++
			least = min(least, f(x, slope))
		})
		assert.Less(t, least, 1e-4, name)
		assert.LessOrEqual(t, looks, 300, name)
	}
}

// A core is the whole of a small model, keeps what must stand, and a list made in it
// is one of the whole.
func TestCore(t *testing.T) {
	p := instance(shape{Species: 600, Zones: 3, Share: 0.3, Group: 3, ZoneM2: 8, Fit: 0.7, Most: 14, Money: 0.5, Bloom: 0.3, Variety: 0.2, Native: 0.1}, 4)
	wanted := 0
	for s := range p.Species { // small plants, so that they fit beside each other
		if wanted < 4 && p.Species[s].AreaM2 < 0.1 {
			p.Species[s].Wanted = true
			wanted++
		}
	}
	m := newModel(p)
	start, err := placeWanted(p, m)
	require.NoError(t, err)
	d := newDual(m, newRelaxation(m).out)
	prices, _ := d.lower()
	c, at := d.core(prices, start)
	require.Less(t, len(c.items), len(m.items)/2)
	require.Len(t, at, len(start))
	for j, i := range start {
		assert.Equal(t, m.items[i].cand, c.items[at[j]].cand)
	}
	res, err := Solve(p)
	require.NoError(t, err)
	require.NoError(t, p.check(res.Lines))
	assert.Less(t, res.Gap, 0.007, "0.013 if the search has the whole model before it")
	small := newModel(small())
	whole, _ := newDual(small, newRelaxation(small).out).core(nil, nil)
	assert.Same(t, small, whole)
}
