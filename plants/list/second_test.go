package list

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// proven is one instance with the optimum that second solvers proved; see
// testdata/list/README.md for how the file came about.
type proven struct {
	Shape    string             `json:"shape"`
	Seed     uint64             `json:"seed"`
	LPSHA256 string             `json:"lp_sha256"`
	Optimum  float64            `json:"optimum"`
	Seconds  map[string]float64 `json:"seconds"` // by solver that proved it
}

func optima(t testing.TB) []proven {
	text, err := os.ReadFile("../../testdata/list/optima.json")
	require.NoError(t, err)
	var out []proven
	require.NoError(t, json.Unmarshal(text, &out))
	return out
}

func (o proven) problem(t testing.TB) Problem {
	for _, sh := range family() {
		if sh.Name == o.Shape {
			return instance(sh, o.Seed)
		}
	}
	require.FailNow(t, "no such shape", o.Shape)
	return Problem{}
}

func (o proven) String() string { return fmt.Sprintf("%s %d", o.Shape, o.Seed) }

// solverNoise is the relative error of a solver's objective: they let each rule
// be broken by about 1e-7 and print 8 to 10 digits.
const solverNoise = 1e-6

// Every stored instance: the list obeys every rule, lies within 1 % of the
// proven optimum, and neither passes it nor does the bound lie below it.
func TestSolveAgainstProvenOptima(t *testing.T) {
	all := optima(t)
	require.GreaterOrEqual(t, len(all), 40)
	var gaps, bounds []float64
	reasons := map[string]int{}
	for _, o := range testenv.Some(all) {
		p := o.problem(t)
		var lp bytes.Buffer
		require.NoError(t, p.WriteLP(&lp))
		hash := sha256.Sum256(lp.Bytes())
		require.Equal(t, o.LPSHA256, hex.EncodeToString(hash[:]), "%v: the instance is not the one that was proved", o)

		res, err := Solve(p)
		require.NoError(t, err, "%v", o)
		assert.NoError(t, p.check(res.Lines), "%v", o)
		assert.GreaterOrEqual(t, res.Objective, 0.99*o.Optimum, "%v: more than 1 %% below the optimum", o)
		assert.LessOrEqual(t, res.Objective, o.Optimum*(1+solverNoise), "%v: above a proven optimum", o)
		assert.GreaterOrEqual(t, res.Bound, o.Optimum*(1-solverNoise), "%v: the bound is below the optimum", o)
		assert.InDelta(t, (res.Bound-res.Objective)/res.Bound, res.Gap, 1e-12, "%v", o)
		gaps = append(gaps, 100*math.Max(0, 1-res.Objective/o.Optimum))
		bounds = append(bounds, 100*(res.Bound/o.Optimum-1))
		reasons[res.Stopped]++
	}
	slices.Sort(gaps)
	slices.Sort(bounds)
	n := len(gaps)
	t.Logf("%d instances; true gap %%: min %.4f, median %.4f, 90th %.4f, max %.4f", n, gaps[0], gaps[n/2], gaps[n*9/10], gaps[n-1])
	t.Logf("bound above optimum %%: min %.4f, median %.4f, 90th %.4f, max %.4f", bounds[0], bounds[n/2], bounds[n*9/10], bounds[n-1])
	t.Logf("stopped: %v", reasons)
}

// solver runs a second solver on LP files and returns the optimum of each that
// it claims to have proved, or NaN if it ran out of time.
type solver struct {
	name string
	need func(*testing.T) string
	run  func(t *testing.T, lps []string) []float64
}

const solverSeconds = "60"

func solvers() []solver {
	onPath := func(debian, name string) func(*testing.T) string {
		return func(t *testing.T) string { return testenv.Tool(t, debian, name) }
	}
	return []solver{
		{"glpsol", onPath("glpk-utils", "glpsol"), each(func(t *testing.T, lp string) float64 {
			sol := lp + ".glpsol"
			command(t, "glpsol", "--lp", lp, "--tmlim", solverSeconds, "-o", sol)
			return claim(t, sol, regexp.MustCompile(`INTEGER OPTIMAL\nObjective: +value = (\S+)`))
		})},
		// Without "cuts off" and "increment 0", cbc 2.10.8 calls lists optimal that are not: see
		// testdata/list/README.md.
		{"cbc", onPath("coinor-cbc", "cbc"), each(func(t *testing.T, lp string) float64 {
			sol := lp + ".cbc"
			command(t, "cbc", lp, "cuts", "off", "increment", "0", "ratioGap", "0", "sec", solverSeconds, "solve", "solu", sol)
			return claim(t, sol, regexp.MustCompile(`^Optimal - objective value (\S+)`))
		})},
		{"scipy", func(t *testing.T) string { return testenv.Python(t, "scipy") }, func(t *testing.T, lps []string) []float64 {
			args := append([]string{"../../testdata/list/second.py", solverSeconds}, lps...) // all in one process: scipy is long to start
			var optima []float64
			for line := range strings.Lines(string(command(t, "/usr/bin/python3", args...))) {
				optima = append(optima, optimum(t, []byte(line), regexp.MustCompile(`^0 (\S+)`)))
			}
			require.Len(t, optima, len(lps))
			return optima
		}},
	}
}

func command(t *testing.T, name string, args ...string) []byte {
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, "%s %v: %s", name, args, out)
	return out
}

func each(run func(t *testing.T, lp string) float64) func(*testing.T, []string) []float64 {
	return func(t *testing.T, lps []string) (optima []float64) {
		for _, lp := range lps {
			optima = append(optima, run(t, lp))
		}
		return optima
	}
}

func claim(t *testing.T, path string, optimal *regexp.Regexp) float64 {
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return optimum(t, text, optimal)
}

func optimum(t *testing.T, text []byte, optimal *regexp.Regexp) float64 {
	found := optimal.FindSubmatch(text)
	if found == nil {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(string(found[1]), 64)
	require.NoError(t, err)
	return v
}

// The proofs are repeated with the solvers of this machine on what WriteLP
// writes now, as far as each took less than a fifth of a second when recorded,
// or a second in a heavy run.
func TestSecondSolvers(t *testing.T) {
	testenv.Sweep(t)
	testenv.NotRaced(t)
	for _, s := range solvers() {
		t.Run(s.name, func(t *testing.T) {
			s.need(t)
			dir := t.TempDir()
			var quick []proven
			var lps []string
			for i, o := range optima(t) {
				if sec, ok := o.Seconds[s.name]; !ok || sec > 1 {
					continue
				}
				var lp bytes.Buffer
				require.NoError(t, o.problem(t).WriteLP(&lp))
				path := filepath.Join(dir, fmt.Sprintf("%d.lp", i))
				require.NoError(t, os.WriteFile(path, lp.Bytes(), 0o600))
				quick, lps = append(quick, o), append(lps, path)
			}
			proofs := 0
			for i, v := range s.run(t, lps) {
				if !math.IsNaN(v) {
					proofs++
					assert.InEpsilon(t, quick[i].Optimum, v, solverNoise, "%v", quick[i])
				}
			}
			t.Logf("%d optima proved again", proofs)
			assert.GreaterOrEqual(t, proofs, 10)
		})
	}
}

// The same programme as brute force sees it: on tiny problems scipy's answer to
// what WriteLP writes is the best of all lists.
func TestWriteLPAgainstEveryList(t *testing.T) {
	s := solvers()[2]
	s.need(t)
	dir := t.TempDir()
	var most []float64
	var lps []string
	for seed := uint64(1); len(lps) < 12; seed++ {
		p := tinyProblem(seed)
		best, found := 0.0, false
		if listsOf(p) < 1e5 {
			best, found = everyList(p)
		}
		if !found || best == 0 || p.notesOfWanted() {
			continue
		}
		var lp bytes.Buffer
		require.NoError(t, p.WriteLP(&lp))
		path := filepath.Join(dir, fmt.Sprintf("seed-%d.lp", seed))
		require.NoError(t, os.WriteFile(path, lp.Bytes(), 0o600))
		most, lps = append(most, best), append(lps, path)
	}
	for i, v := range s.run(t, lps) {
		assert.InDelta(t, most[i], v, 1e-6, lps[i])
	}
}

// notesOfWanted tells whether a wanted species has no candidate at all.
func (p Problem) notesOfWanted() bool {
	return strings.Contains(strings.Join(p.notes(), "\n"), "wanted species")
}
