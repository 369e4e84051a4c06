package site

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// Hyndman and Fan 1996, definition 6, of 1 to 10 (arithmetic).
func TestQuantileWeibullOfOneToTen(t *testing.T) {
	values := []float64{10, 2, 8, 4, 6, 5, 7, 3, 9, 1}
	assert.InDelta(t, 1.1, QuantileWeibull(values, 0.10), 1e-12)
	assert.InDelta(t, 9.9, QuantileWeibull(values, 0.90), 1e-12)
	assert.Equal(t, 5.5, QuantileWeibull(values, 0.5))
	assert.Equal(t, 1.0, QuantileWeibull(values, 0.02), "held at the smallest")
	assert.Equal(t, 10.0, QuantileWeibull(values, 1))
	assert.Equal(t, 10.0, values[0], "the values are not sorted in place")
}

func TestOneYearInTenOfFewYearsIsTheLargest(t *testing.T) {
	assert.Equal(t, 4.0, OneYearInTen([]float64{4, 1, 2}))
	assert.Equal(t, 9.0, OneYearInTen([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9}))
	assert.Less(t, OneYearInTen([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}), 10.0)
	assert.True(t, math.IsNaN(OneYearInTen(nil)))
	assert.Equal(t, math.Inf(1), OneYearInTen([]float64{1, math.Inf(1), math.Inf(1)}))
	assert.Panics(t, func() { OneYearInTen([]float64{1, math.NaN()}) })
	assert.Panics(t, func() { QuantileWeibull([]float64{1}, 1.1) })
}

// secondOpinion runs a script of the system's python3, which prints JSON. It
// skips where there is none, and fails there under CI.
func secondOpinion(t *testing.T, script string, in any) []float64 {
	t.Helper()
	input, err := json.Marshal(in)
	require.NoError(t, err)
	cmd := exec.Command(testenv.Python(t, "numpy", "scipy"), "-c", script)
	cmd.Stdin = strings.NewReader(string(input))
	out, err := cmd.Output()
	require.NoError(t, err)
	var values []float64
	require.NoError(t, json.Unmarshal(out, &values))
	return values
}

// numpy.quantile (method weibull, and linear for the 95th percentile event) and
// scipy.stats.mstats.mquantiles (alphap = betap = 0) on random values.
func TestQuantilesAgreeWithNumpyAndScipy(t *testing.T) {
	const script = `
import sys, json, numpy as np
from scipy.stats.mstats import mquantiles
out = []
for values, p in json.load(sys.stdin):
    out += [float(np.quantile(values, p, method="weibull")),
            float(mquantiles(values, [p], alphap=0, betap=0)[0]),
            float(np.quantile(values, p, method="linear"))]
print(json.dumps(out))`
	random := rand.New(rand.NewPCG(1, 2))
	var cases [][2]any
	var ours []float64
	for range 200 {
		values := make([]float64, 2+random.IntN(40))
		for i := range values {
			values[i] = math.Round(random.ExpFloat64() * 50) // with ties
		}
		p := random.Float64()
		if random.IntN(3) == 0 {
			p = []float64{0.1, 0.5, 0.9, 0.95}[random.IntN(4)]
		}
		cases = append(cases, [2]any{values, p})
		ours = append(ours, QuantileWeibull(values, p), QuantileWeibull(values, p), quantile(values, 1+float64(len(values)-1)*p))
	}
	theirs := secondOpinion(t, script, cases)
	require.Len(t, theirs, len(ours))
	for i := range ours {
		assert.InDelta(t, theirs[i], ours[i], 1e-6, "%v", cases[i/3])
	}
}
