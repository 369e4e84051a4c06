package season

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// second asks testdata/season/second.py, the same model written apart from this
// one by numpy and scipy.
func second(t *testing.T, m Model, ask string, limits []int, cases []Case, bearings []Bearing, answer any) {
	t.Helper()
	python := testenv.Python(t, "numpy", "scipy")
	type one map[string]any
	var list []one
	for i, c := range cases {
		n := joined(c.Notes)
		var severity [LimitCount]any
		for l, d := range c.Dose {
			if !math.IsNaN(d.Severity) {
				severity[l] = d.Severity
			}
		}
		o := one{
			"plant": c.Plant, "severity": severity, "short": c.SunShortH, "over": c.SunOverH, "months": c.Months, "deep_by_wet": c.Dose[atDeepLimit].ByWet,
			"vigour": n.Vigour, "seen": append([]Sign{}, n.Seen...), "absent": append([]Sign{}, n.Absent...),
		}
		if bearings != nil {
			var b [LimitCount][2]float64
			for l := range LimitCount {
				b[l] = [2]float64{bearings[i][l].Mean, bearings[i][l].SD}
			}
			o["belief"] = b
			o["ends"] = [2][2]float64{{bearings[i][atLeastSun].Mean, bearings[i][atLeastSun].SD}, {bearings[i][atMostSun].Mean, bearings[i][atMostSun].SD}}
		}
		list = append(list, o)
	}
	in, err := json.Marshal(map[string]any{
		"ask": ask, "signs": "../../data/signs.csv", "limits": limits, "cases": list,
		"model": map[string]float64{
			"steep": m.Steep, "floor": m.FloorOdds, "tau": m.TauStated, "eta": m.Eta, "gamma": m.Gamma, "unseen": m.Unseen,
			"slow": m.SlowChance, "slow_months": m.SlowMonths, "other": m.OtherOdds, "sun": m.SunBase, "sun_spread": m.SunSpread,
		},
	})
	require.NoError(t, err)
	cmd := exec.Command(python, "../../testdata/season/second.py")
	cmd.Stdin, cmd.Stderr = bytes.NewReader(in), os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(out, answer))
}

// Causes of 200 drawn cases, enumerated by numpy.
func TestCausesAgainstNumpy(t *testing.T) {
	w := newWorld(t, 11)
	rng := rand.New(rand.NewPCG(5, 5))
	cases := w.cases(5, 10, 20, 2)
	var bearings []Bearing
	for i := range cases {
		c := &cases[i]
		c.SunShortH, c.SunOverH = 4*rng.Float64()-2, 4*rng.Float64()-2
		c.Notes[0].Absent = c.Notes[0].Absent[:rng.IntN(len(c.Notes[0].Absent)+1)]
		if rng.IntN(4) == 0 {
			c.Notes[0].Vigour = Unstated
		}
		c.Dose[rng.IntN(LimitCount)].Severity = []float64{0, math.NaN()}[rng.IntN(2)]
		var b Bearing
		for l := range b {
			b[l] = Belief{rng.NormFloat64() / 2, rng.Float64() / 2}
		}
		bearings = append(bearings, b)
	}
	var want [][CauseCount]float64
	second(t, w.m, "causes", nil, cases, bearings, &want)
	for i, c := range cases {
		got := w.m.Diagnose(w.table, c, bearings[i])
		for k, p := range got.Chance {
			assert.InDelta(t, want[i][k], p, 1e-12, "%v", c)
		}
	}
}

// theta of one species in one garden with one limit is what scipy integrates,
// within what a grid of 0.1 can tell: mean and quantiles to a tenth of a step.
func TestThetaAgainstScipy(t *testing.T) {
	for _, limit := range []int{0, 3} {
		w := newWorld(t, 21+uint64(limit))
		w.garden("g")
		var cases []Case
		for _, name := range []string{"P1", "P2", "P3", "P4", "P5", "P6"} {
			cases = append(cases, w.plant("g", "s", name, 2, limit)...)
		}
		for i := range cases {
			cases[i].SunShortH, cases[i].SunOverH = -9, -9 // far within: nothing to learn
		}
		var want struct {
			Mean, SD  float64
			Quantiles [3]float64
		}
		second(t, w.m, "theta", []int{limit}, cases, nil, &want)
		l := w.m.Learn(w.table, cases)
		got, ok := l.Limit("s", Limits()[limit])
		require.True(t, ok)
		assert.InDelta(t, want.Mean, got.Belief.Mean, 0.01)
		assert.InDelta(t, want.SD, got.Belief.SD, 0.01)
		assert.InDelta(t, want.Quantiles[0], math.Log(got.Low), 0.015)
		assert.InDelta(t, want.Quantiles[1], math.Log(got.Factor), 0.01)
		assert.InDelta(t, want.Quantiles[2], math.Log(got.High), 0.015)
		assert.Greater(t, math.Abs(got.Belief.Mean), 0.05, "a case in which something is learned")
	}
}

// What sun one species needs is what numpy sums up.
func TestSunAgainstNumpy(t *testing.T) {
	w := newWorld(t, 5)
	w.garden("g")
	var cases []Case
	for k := range 12 {
		cases = append(cases, w.plant("g", "s", string(rune('A'+k)), 2, -1)...)
	}
	for i := range cases {
		for l := range cases[i].Dose {
			cases[i].Dose[l].Severity = math.NaN()
		}
		cases[i].SunShortH, cases[i].SunOverH = float64(i%7)/2, -9
	}
	var want struct{ Mean, SD float64 }
	second(t, w.m, "sun", nil, cases, nil, &want)
	got := w.m.Learn(w.table, cases).Sun[0].Ends[0]
	assert.InDelta(t, want.Mean, got.Mean, 0.01)
	assert.InDelta(t, want.SD, got.SD, 0.01)
	assert.Greater(t, math.Abs(got.Mean), 0.05, "a case in which something is learned")
}

// Two limits at once, where each sees the other by what is believed of it:
// against drawing from the joint model. The approximation stays within a fifth
// of a standard deviation.
func TestTwoLimitsAgainstSampling(t *testing.T) {
	testenv.Sweep(t)
	for seed := range uint64(2) {
		w := newWorld(t, 32+seed)
		w.garden("g")
		var cases []Case
		for _, name := range []string{"P1", "P2", "P3", "P4", "P5"} {
			cases = append(cases, w.plant("g", "s", name, 2, -1)...)
		}
		for i := range cases {
			cases[i].SunShortH, cases[i].SunOverH = -9, -9 // far within: nothing to learn
			cases[i].Dose[1].Severity, cases[i].Dose[3].Severity = math.NaN(), math.NaN()
		}
		var want struct {
			Limits    [2]struct{ Mean, SD float64 }
			Effective float64
		}
		second(t, w.m, "joint", []int{0, 2}, cases, nil, &want)
		require.Greater(t, want.Effective, 300.0)
		l := w.m.Learn(w.table, cases)
		for k, limit := range []int{0, 2} {
			got, ok := l.Limit("s", Limits()[limit])
			require.True(t, ok)
			t.Logf("seed %d %s: sampled %.3f %.3f, learned %.3f %.3f", seed, Limits()[limit], want.Limits[k].Mean, want.Limits[k].SD, got.Belief.Mean, got.Belief.SD)
			assert.InDelta(t, want.Limits[k].Mean, got.Belief.Mean, 0.2*want.Limits[k].SD)
			assert.InDelta(t, want.Limits[k].SD, got.Belief.SD, 0.2*want.Limits[k].SD)
		}
	}
}
