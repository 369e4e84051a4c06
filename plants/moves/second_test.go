package moves

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// programme writes a problem as an integer programme from its meaning, without
// the assignment that Solve makes of it: x says which plant goes where, g which
// is given up, r which place is refilled.
func programme(p *Problem) string {
	var b, kinds strings.Builder
	b.WriteString("Minimize\n obj:")
	term := func(cost float64, form string, args ...any) {
		fmt.Fprintf(&b, " %+.12f %s\n", cost, fmt.Sprintf(form, args...))
		fmt.Fprintf(&kinds, " %s\n", fmt.Sprintf(form, args...))
	}
	m := len(p.Places)
	rows, columns := make([]string, len(p.Plants)), make([]string, m)
	for i, w := range p.Plants {
		for q, r := range p.Places {
			c := p.Loss[i*m+q]
			if q != w.At {
				if r.RoomCM > 0 && r.RoomCM < w.SpreadCM {
					continue
				}
				c += w.Disturb + p.Caution*p.Doubt[i*m+q]
			}
			term(w.Weight*c, "x%d_%d", i, q)
			rows[i] += fmt.Sprintf(" + x%d_%d", i, q)
			columns[q] += fmt.Sprintf(" + x%d_%d", i, q)
		}
		if !math.IsInf(w.GiveUp, 1) {
			term(w.GiveUp+p.Caution*w.GiveUpDoubt, "g%d", i)
			rows[i] += fmt.Sprintf(" + g%d", i)
		}
	}
	for q, r := range p.Places {
		term(r.Refill, "r%d", q)
		columns[q] += fmt.Sprintf(" + r%d", q)
	}
	b.WriteString("Subject To\n")
	for k, r := range append(rows, columns...) {
		fmt.Fprintf(&b, " c%d:%s = 1\n", k, strings.ReplaceAll(r, " + ", "\n + "))
	}
	return b.String() + "Binary\n" + kinds.String() + "End\n"
}

// glpsol and cbc prove the same least cost for beds of 20 to 60 plants.
func TestSolveAgainstSecondSolvers(t *testing.T) {
	for _, s := range []struct {
		name    string
		debian  string
		args    func(lp, out string) []string
		optimal *regexp.Regexp
	}{
		{"glpsol", "glpk-utils", func(lp, out string) []string { return []string{"--lp", lp, "-o", out} },
			regexp.MustCompile(`INTEGER OPTIMAL\nObjective: +obj = (\S+)`)},
		{"cbc", "coinor-cbc", func(lp, out string) []string {
			return []string{lp, "increment", "0", "ratioGap", "0", "solve", "solu", out}
		}, regexp.MustCompile(`^Optimal - objective value (\S+)`)},
	} {
		t.Run(s.name, func(t *testing.T) {
			program := testenv.Tool(t, s.debian, s.name)
			for n := 20; n <= 60; n += 8 {
				p := bed(n, n/6, uint64(1000+n))
				for i := range p.Plants {
					if p.Plants[i].GiveUpDoubt = 0.02; i%4 == 0 {
						p.Plants[i].GiveUp = math.Inf(1)
					}
				}
				plan := mustSolve(t, p)
				lp := filepath.Join(t.TempDir(), "bed.lp")
				require.NoError(t, os.WriteFile(lp, []byte(programme(&p)), 0o600))
				out, err := exec.Command(program, s.args(lp, lp+".out")...).CombinedOutput()
				require.NoError(t, err, "%s", out)
				text, err := os.ReadFile(lp + ".out")
				require.NoError(t, err)
				found := s.optimal.FindSubmatch(text)
				require.NotNil(t, found, "%d plants: no optimum proved: %s", n, out)
				value, err := strconv.ParseFloat(string(found[1]), 64)
				require.NoError(t, err)
				assert.InEpsilon(t, value, plan.Objective, 1e-6, "%d plants", n)
				t.Logf("%d plants, %d places: %s %g, here %.9g, %d plants moved", n, len(p.Places), s.name, value, plan.Objective, moved(plan))
			}
		})
	}
}
