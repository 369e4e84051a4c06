package main

import (
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// Several runs at once: each file is written whole by one of them, and the
// others say so or have written the same.
func TestTwoAtOnce(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	program, err := exec.LookPath("hollowbed")
	require.NoError(t, err)
	for _, c := range testenv.Some(killCases(t)) {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			source := t.TempDir()
			c.before(t, source)
			run := func(n int) (map[string]string, []int, []string) {
				dir := filepath.Join(t.TempDir(), "folder")
				require.NoError(t, os.CopyFS(dir, os.DirFS(source)))
				args := strings.Fields(strings.ReplaceAll(c.args, "$dir", dir))
				var all []*exec.Cmd
				var told []*strings.Builder
				for range n {
					cmd, errs := exec.Command(program, args...), &strings.Builder{}
					cmd.Stderr = errs
					require.NoError(t, cmd.Start())
					all, told = append(all, cmd), append(told, errs)
				}
				var statuses []int
				var texts []string
				for i, cmd := range all {
					_ = cmd.Wait()
					statuses, texts = append(statuses, cmd.ProcessState.ExitCode()), append(texts, told[i].String())
				}
				return state(t, dir), statuses, texts
			}
			alone, _, _ := run(1)
			together, statuses, texts := run(testenv.Of(2, 4))
			if strings.HasPrefix(c.args, "note ") { // each adds its own entry, and none is lost
				added := strings.Count(together["season.csv"], "\n") - strings.Count(alone["season.csv"], "\n") + 1
				done := 0
				for _, status := range statuses {
					if status == exitDone {
						done++
					}
				}
				assert.Equal(t, done, added)
			} else {
				assert.True(t, maps.Equal(alone, together), "they leave what one would leave")
			}
			assert.Contains(t, statuses, exitDone)
			for i, status := range statuses {
				switch status {
				case exitDone:
				case exitBad:
					assert.Contains(t, texts[i], "is there already, and is left as it is")
				default:
					assert.Regexp(t, "changed while this ran, and is left as it is: run again|was written to while it was read: run again when that is done", texts[i])
				}
			}
		})
	}
}

// A write of the results that fails is not passed over, whichever it is: the
// first, one in the middle, the last.
func TestFailedWrite(t *testing.T) {
	t.Parallel()
	paths := statusPaths(t)
	paths["grown"] = grownGarden(t)
	for i, line := range testenv.Some(printing()) {
		t.Run(line, func(t *testing.T) {
			t.Parallel()
			paths := maps.Clone(paths)
			attempt := func(takes int) (*full, int, string) {
				paths["X"] = filepath.Join(t.TempDir(), "new")
				f := &full{takes: takes}
				status, errs := runInto(f, statusCase{line: line}.fields(paths)...)
				return f, status, errs
			}
			whole, status, errs := attempt(1 << 30)
			require.Zero(t, status, errs)
			require.NotZero(t, whole.got)
			fails := []int{0, whole.got / 2, whole.got - 1}
			if !testenv.Heavy() {
				fails = fails[i%3 : i%3+1]
			}
			for _, takes := range fails {
				_, status, errs := attempt(takes)
				assert.Equal(t, exitFailed, status, "after %d of %d writes", takes, whole.got)
				assert.Contains(t, errs, "hollowbed: the output could not be written: no space left")
			}
		})
	}
}
