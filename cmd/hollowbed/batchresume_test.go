package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/store"
	"hollowbed/testdata/testenv"
)

// However far a run came, and wherever in a line it was torn, --resume ends
// with the bytes of one whole run.
func TestBatchResume(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table, lines := batchFile(t, dir, 12)
	whole := strings.Join(lines, "")
	out := filepath.Join(dir, "out.jsonl")
	for range testenv.Of(20, 100) {
		cut := rand.IntN(len(whole) + 1)
		require.NoError(t, os.WriteFile(out, []byte(whole[:cut]), 0o644))
		status, stdout, errs := ask(t, "", "batch", table, "--what", "basin", "--garden", filepath.Join(dir, "garden"), "--resume", out)
		require.Equal(t, exitBad, status, "faulty rows count, whoever wrote them: %s", errs)
		assert.Contains(t, errs, "2 of 12 rows left out")
		assert.Empty(t, stdout)
		text, err := os.ReadFile(out)
		require.NoError(t, err)
		require.Equal(t, whole, string(text), "torn after %d bytes", cut)
	}
	entries, err := filepath.Glob(filepath.Join(dir, ".*"))
	require.NoError(t, err)
	assert.Empty(t, entries, "no lock is left behind")
}

// A file that does not belong to the table is left as it is.
func TestBatchResumeRefuses(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table, lines := batchFile(t, dir, 6)
	garden := filepath.Join(dir, "garden")
	out := filepath.Join(dir, "out.jsonl")
	text, err := os.ReadFile(table)
	require.NoError(t, err)
	changed := filepath.Join(dir, "changed.csv")
	require.NoError(t, os.WriteFile(changed, bytes.Replace(text, []byte("47 m2"), []byte("48 m2"), 1), 0o644))
	for _, c := range []struct{ name, content, table, want string }{
		{"another row", strings.Join(lines[:4], ""), changed, `out.jsonl:2: row 2 was something else`},
		{"another share", lines[1] + lines[2], table, `out.jsonl:1: want row 1 of the table here, not 2`},
		{"a line twice", lines[0] + lines[0], table, `out.jsonl:2: want row 2 of the table here, not 1`},
		{"too many", strings.Join(lines, "") + lines[0], table, `out.jsonl:7: want no more lines`},
		{"another build", strings.Replace(lines[0], `"program":"`, `"program":"v0.9 `, 1), table, `out.jsonl:1: made by another build of the program, v0.9 .+; this is .+: go on with that one, or begin anew`},
		{"a build of old", strings.Replace(lines[0], `"program"`, `"else"`, 1), table, `out.jsonl:1: made by another build of the program, one that does not tell;`},
		{"without an end", lines[0] + strings.Repeat("x", maxLineBytes+1<<16), table, `out.jsonl:2: want a line that batch wrote`},
		{"somebody's words", "one line without its end", table, `out.jsonl:1: want a line that batch wrote`},
		{"somebody's words below", lines[0] + "{}", table, `out.jsonl:2: want a line that batch wrote`},
		{"garbage", lines[0] + "nothing\n", table, `out.jsonl:2: want a line that batch wrote`},
	} {
		require.NoError(t, os.WriteFile(out, []byte(c.content), 0o644))
		status, _, errs := ask(t, "", "batch", c.table, "--what", "basin", "--garden", garden, "--resume", out)
		assert.Equal(t, exitBad, status, c.name)
		assert.Regexp(t, c.want, errs, c.name)
		now, err := os.ReadFile(out)
		require.NoError(t, err)
		assert.Equal(t, c.content, string(now), c.name)
	}
	require.NoError(t, os.WriteFile(out, []byte(lines[0]), 0o644))
	for _, other := range []string{"--what=zones", "--garden=" + gardenWith(t, nil)} { // what the line was made from is another
		status, _, errs := ask(t, "", "batch", table, "--what", "basin", "--garden", garden, "--resume", out, other)
		assert.Equal(t, exitBad, status, other)
		assert.Contains(t, errs, "row 1 was something else", other)
	}
}

// Killed at any moment, a run leaves whole lines and at most one torn one, and
// two runs never write to one file.
func TestBatchKilled(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table, lines := batchFile(t, dir, 40)
	whole := strings.Join(lines, "")
	program, err := os.Executable()
	require.NoError(t, err)
	out := filepath.Join(dir, "out.jsonl")
	command := func() *exec.Cmd {
		cmd := exec.Command(program, "batch", table, "--what", "basin", "--garden", filepath.Join(dir, "garden"), "--resume", out)
		cmd.Args[0] = "hollowbed" // by which this test binary becomes the program
		return cmd
	}
	cut := 0
	for i := range 8 {
		require.NoError(t, os.RemoveAll(out))
		cmd := command()
		require.NoError(t, cmd.Start())
		time.Sleep(time.Duration(40+35*i) * time.Millisecond)
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		text, err := os.ReadFile(out)
		if os.IsNotExist(err) {
			continue
		}
		require.NoError(t, err)
		require.True(t, strings.HasPrefix(whole, string(text)), "after a kill: %s", text)
		if len(text) > 0 && len(text) < len(whole) {
			cut++
		}
		_ = command().Run() // ends with 2 for the faulty rows
		text, err = os.ReadFile(out)
		require.NoError(t, err)
		require.Equal(t, whole, string(text))
	}
	t.Logf("%d of 8 were killed in the middle", cut)

	held, err := store.MoreLines(out)
	require.NoError(t, err)
	status, _, errs := ask(t, "", "batch", table, "--what", "basin", "--resume", out)
	assert.Equal(t, exitFailed, status)
	assert.Contains(t, errs, "another hollowbed writes to it")
	alias := filepath.Join(t.TempDir(), "alias.jsonl")
	if os.Symlink(out, alias) == nil { // not everybody may make links on Windows
		status, _, errs = ask(t, "", "batch", table, "--what", "basin", "--resume", alias)
		assert.Equal(t, exitFailed, status)
		assert.Contains(t, errs, "alias.jsonl: another hollowbed writes to it")
	}
	require.NoError(t, held.Close())
}
