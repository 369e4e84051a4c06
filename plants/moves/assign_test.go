package moves

import (
	"bytes"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
)

// proves checks the certificate of an assignment: complementary slackness.
func proves(t require.TestingT, cost []float64, n, m int, a *assignment) {
	const tol = 1e-9
	scale, total, prices := 1.0, 0.0, 0.0
	for _, c := range cost {
		if !math.IsInf(c, 1) {
			scale = math.Max(scale, math.Abs(c))
		}
	}
	used := map[int]bool{}
	for i, j := range a.Column {
		require.False(t, used[j], "column %d twice", j)
		used[j] = true
		total += cost[i*m+j]
		require.InDelta(t, cost[i*m+j], a.RowPrice[i]+a.ColumnPrice[j], tol*scale, "row %d does not pay its price", i)
	}
	require.InDelta(t, total, a.Cost, tol*scale*float64(n+1))
	for i, u := range a.RowPrice {
		prices += u
		for j, v := range a.ColumnPrice {
			require.LessOrEqual(t, u+v, cost[i*m+j]+tol*scale, "row %d would pay less at column %d", i, j)
		}
	}
	for j, v := range a.ColumnPrice {
		prices += v
		require.LessOrEqual(t, v, 0.0)
		require.True(t, used[j] || v == 0, "column %d is left over and has a price", j)
	}
	require.InDelta(t, total, prices, tol*scale*float64(n+1), "prices and cost differ")
}

// Source: checked by hand, all six permutations.
func TestAssignByHand(t *testing.T) {
	cost := []float64{4, 1, 3, 2, 0, 5, 3, 2, 2}
	a, err := assign(cost, 3, 3)
	require.NoError(t, err)
	assert.Equal(t, 5.0, a.Cost)
	assert.Equal(t, []int{1, 0, 2}, a.Column)
	proves(t, cost, 3, 3, a)
}

// Source: OR-Library, published minimum 991; see testdata/assign/SOURCES.md.
func TestAssign500(t *testing.T) {
	cost, n := assign500(t)
	a, err := assign(cost, n, n)
	require.NoError(t, err)
	assert.Equal(t, 991.0, a.Cost)
	proves(t, cost, n, n, a)
}

func assign500(t testing.TB) ([]float64, int) {
	text, err := os.ReadFile("../../testdata/assign/assign500.txt")
	require.NoError(t, err)
	words := strings.Fields(string(text))
	n, err := strconv.Atoi(words[0])
	require.NoError(t, err)
	var cost []float64
	for _, w := range words[1:] {
		c, err := strconv.ParseFloat(w, 64)
		require.NoError(t, err)
		cost = append(cost, c)
	}
	require.Len(t, cost, n*n)
	return cost, n
}

// Costs with structure are solved and proved, and where searches would settle half
// of all columns in the mean, prices are sharpened and they do not.
func TestStructuredCosts(t *testing.T) {
	const n = 300
	for _, kind := range families {
		cost, m := family(kind, n)
		a, err := assign(cost, n, m)
		require.NoError(t, err, kind)
		proves(t, cost, n, m, a)
		s := newMatch(cost, n, m, nil)
		require.True(t, s.solve(), kind)
		assert.Less(t, s.settled, n*n/6, "%s: columns settled in long searches", kind)
	}
}

// Every assignment of up to 7 rows is tried.
func TestAssignAgainstEveryAssignment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 7).Draw(t, "n")
		m := rapid.IntRange(n, max(n, min(n+3, 8))).Draw(t, "m")
		kind := rapid.IntRange(0, 2).Draw(t, "kind")
		cost := make([]float64, n*m)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for k := range cost {
			cost[k] = entry(rng, kind, 0.25)
		}
		used := make([]bool, m)
		best := math.Inf(1)
		var try func(i int, sum float64)
		try = func(i int, sum float64) {
			if i == n {
				best = math.Min(best, sum)
				return
			}
			for j := range used {
				if !used[j] {
					used[j] = true
					try(i+1, sum+cost[i*m+j])
					used[j] = false
				}
			}
		}
		try(0, 0)
		a, err := assign(cost, n, m)
		if math.IsInf(best, 1) {
			require.Error(t, err)
			return
		}
		require.NoError(t, err)
		require.InDelta(t, best, a.Cost, 1e-9)
		proves(t, cost, n, m, a)
	})
}

// entry draws a cost: whole with many ties, whole, or any float, of either sign;
// a share of them forbidden.
func entry(rng *rand.Rand, kind int, forbidden float64) float64 {
	if rng.Float64() < forbidden {
		return math.Inf(1)
	}
	switch kind {
	case 0:
		return float64(rng.IntN(4))
	case 1:
		return float64(rng.IntN(1000) - 300)
	}
	return 20*rng.Float64() - 5
}

func TestAssignRefuses(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		cost []float64
		n, m int
		want string
	}{
		{[]float64{1, math.NaN(), 1, 1}, 2, 2, "row 0, column 1: NaN: want a number"},
		{[]float64{1, 1, 1, math.Inf(-1)}, 2, 2, "row 1, column 1: -Inf: want a number"},
		{[]float64{1, 1}, 2, 1, "2 rows and 1 columns"},
		{[]float64{1, 1, 1}, 2, 2, "3 costs: want 2 rows of 2"},
		{nil, -1, 0, "want -1 rows"},
		{[]float64{1, 1, inf, inf}, 2, 2, "no way"},
		{[]float64{1, inf, inf, 1, inf, inf}, 2, 3, "no way"},
	} {
		_, err := assign(c.cost, c.n, c.m)
		assert.ErrorContains(t, err, c.want)
	}
	a, err := assign(nil, 0, 3)
	require.NoError(t, err)
	assert.Empty(t, a.Column)
}

// scipy skips, or fails under CI=true, without scipy.
func scipy(t testing.TB, input []byte, args ...string) []string {
	c := exec.Command(testenv.Python(t, "scipy"), append([]string{"../../testdata/assign/second.py"}, args...)...)
	c.Stdin = bytes.NewReader(input)
	out, err := c.Output()
	require.NoError(t, err)
	return strings.Fields(string(out))
}

func pack(input []byte, cost []float64, n, m int) []byte {
	input = binary.LittleEndian.AppendUint32(input, uint32(n))
	input = binary.LittleEndian.AppendUint32(input, uint32(m))
	for _, c := range cost {
		input = binary.LittleEndian.AppendUint64(input, math.Float64bits(c))
	}
	return input
}

// scipy.optimize.linear_sum_assignment finds the same least costs, and the same
// matrices without a way.
func TestAssignAgainstScipy(t *testing.T) {
	type instance struct {
		cost []float64
		n, m int
	}
	var all []instance
	var input []byte
	rng := rand.New(rand.NewPCG(7, 7))
	for k := range testenv.Of(150, 600) {
		x := instance{n: 1 + rng.IntN(40)}
		x.m = x.n + rng.IntN(1+rng.IntN(30))
		if k%50 == 0 {
			x.n, x.m = 150, 150+k/10
		}
		forbidden := []float64{0, 0, 0.3, 0.8, 0.93}[k%5]
		x.cost = make([]float64, x.n*x.m)
		for i := range x.cost {
			x.cost[i] = entry(rng, k%3, forbidden)
		}
		all = append(all, x)
		input = pack(input, x.cost, x.n, x.m)
	}
	lines := scipy(t, input)
	require.Len(t, lines, len(all))
	none := 0
	for k, x := range all {
		a, err := assign(x.cost, x.n, x.m)
		if lines[k] == "none" {
			none++
			assert.Error(t, err, "instance %d", k)
			continue
		}
		require.NoError(t, err, "instance %d", k)
		want, err := strconv.ParseFloat(lines[k], 64)
		require.NoError(t, err)
		assert.InDelta(t, want, a.Cost, 1e-8, "instance %d", k)
		proves(t, x.cost, x.n, x.m, a)
	}
	t.Logf("%d matrices, %d of them without a way", len(all), none)
	assert.Greater(t, none, 20)
	assert.Less(t, none, 300)
}
