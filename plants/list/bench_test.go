package list

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func benchProblem(b *testing.B, shapeName string) Problem {
	for _, sh := range family() {
		if sh.Name == shapeName {
			return instance(sh, 101)
		}
	}
	require.FailNow(b, "no such shape")
	return Problem{}
}

func BenchmarkSolve(b *testing.B) {
	for _, name := range []string{"plain", "demo", "large", "twelve zones, tight", "few species"} {
		p := benchProblem(b, name)
		b.Run(name, func(b *testing.B) {
			var res Result
			for b.Loop() {
				res, _ = Solve(p)
			}
			b.ReportMetric(100*res.Gap, "gap%")
		})
	}
}

// glpsol on the same problem, to set the times above beside it. It stops when
// it has proved a list within the given share of the best.
func BenchmarkGLPSOL(b *testing.B) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		b.Skip("glpsol is not installed")
	}
	for _, name := range []string{"plain", "demo", "few species"} {
		p := benchProblem(b, name)
		var lp bytes.Buffer
		require.NoError(b, p.WriteLP(&lp))
		path := filepath.Join(b.TempDir(), "bench.lp")
		require.NoError(b, os.WriteFile(path, lp.Bytes(), 0o600))
		for _, gap := range []string{"0.01", "0.003"} {
			b.Run(name+" to gap "+gap, func(b *testing.B) {
				for b.Loop() {
					require.NoError(b, exec.Command("glpsol", "--lp", path, "--mipgap", gap, "--tmlim", "30").Run())
				}
			})
		}
	}
}
