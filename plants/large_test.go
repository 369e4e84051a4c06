package plants

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/testdata/growth/varied"
	"hollowbed/testdata/testenv"
)

// The generated table has no fault, is the same each time, and its plants differ.
func TestVariedTable(t *testing.T) {
	text := varied.Table(300, 1)
	assert.Equal(t, text, varied.Table(300, 1))
	assert.True(t, bytes.HasPrefix(varied.Table(400, 1), text))
	assert.NotEqual(t, text, varied.Table(300, 2))
	c, err := catalogue.Read("plants.csv", bytes.NewReader(text))
	require.NoError(t, err)
	assert.Empty(t, c.Warnings)
	require.Len(t, c.Plants, 300)
	needs := map[[5]float64]bool{}
	for _, p := range c.Plants {
		needs[[5]float64{p.WetH, p.PondMM, p.DryD, p.SpreadCM, p.Price}] = true
	}
	assert.Len(t, needs, 300)
}

// The bound on large tables against other solvers: never below a list that HiGHS
// finds, at most 0.2 % above the best list known, and not above the bound that the
// programme without whole numbers has (the simplex method of GLPK), which it can
// only tighten.
func TestBoundOfLargeTables(t *testing.T) {
	testenv.Sweep(t)
	testenv.NotRaced(t)
	for _, n := range []int{1000, 5000} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			j, _ := demoJudge(t, 24)
			c, err := catalogue.Read("plants.csv", bytes.NewReader(varied.Table(n, 1)))
			require.NoError(t, err)
			p, err := Choose(j, c)
			require.NoError(t, err)
			problem, _ := p.problem(j.Exposure.Lot.Garden)
			lp := filepath.Join(t.TempDir(), "list.lp")
			file, err := os.Create(lp)
			require.NoError(t, err)
			require.NoError(t, problem.WriteLP(file))
			require.NoError(t, file.Close())

			answer, err := exec.Command(testenv.Python(t, "numpy", "scipy"), "../testdata/list/second.py", "120:0.0005", lp).Output()
			require.NoError(t, err)
			words := strings.Fields(string(answer))
			found, err := strconv.ParseFloat(words[1], 64)
			require.NoError(t, err)
			require.Greater(t, found, 0.99*p.Objective, "HiGHS found no list to compare with")
			assert.GreaterOrEqual(t, p.Bound, found*(1-1e-6))
			assert.LessOrEqual(t, p.Bound, max(found, p.Objective)*1.002)

			require.NoError(t, exec.Command(testenv.Tool(t, "glpk-utils", "glpsol"), "--nomip", "--lp", lp, "-o", lp+".sol").Run())
			text, err := os.ReadFile(lp + ".sol")
			require.NoError(t, err)
			value := regexp.MustCompile(`Objective: +value = (\S+)`).FindSubmatch(text)
			require.NotNil(t, value)
			fractional, err := strconv.ParseFloat(string(value[1]), 64)
			require.NoError(t, err)
			assert.LessOrEqual(t, p.Bound, fractional*1.0001)
			t.Logf("list %.6f, bound %.6f; HiGHS: list %.6f, bound %s; without whole numbers %.6f", p.Objective, p.Bound, found, words[2], fractional)
		})
	}
}

// Lists from large tables are as good as what can be proved of them.
func TestLargeTablesAreChosenFromWell(t *testing.T) {
	j, _ := demoJudge(t, 6)
	for _, n := range testenv.Of([]int{2000}, []int{2000, 5000, 20_000}) {
		c, err := catalogue.Read("plants.csv", bytes.NewReader(varied.Table(n, 1)))
		require.NoError(t, err)
		p, err := Choose(j, c)
		require.NoError(t, err)
		assert.Less(t, p.Gap, 0.001, "%d plants", n)
	}
}

// BenchmarkChooseVaried judges generated tables and makes the list. See
// testdata/growth for the whole command.
func BenchmarkChooseVaried(b *testing.B) {
	j, _ := demoJudge(b, 24)
	for _, n := range []int{300, 5000, 20_000} {
		c, err := catalogue.Read("plants.csv", bytes.NewReader(varied.Table(n, 1)))
		require.NoError(b, err)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p, err := Choose(NewJudge(j.Exposure), c)
				require.NoError(b, err)
				b.ReportMetric(100*p.Gap, "gap%")
			}
		})
	}
}
