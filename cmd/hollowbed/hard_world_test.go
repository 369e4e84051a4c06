package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// reads are command lines that only read, on the garden in $dir or the demo.
func reads() []string {
	return []string{
		"basin", "basin --size", "basin --inlets", "zones", "zones --bands", "zones --years", "zones --explain rim", "choose", "choose --csv",
		"choose --alternatives", "choose --why low-brindlewisp", "find blue july", "find wet:48 dry:20 --count zone", "find --in bottom", "place",
		"care --planted 2026-10-10", "care --planted 2026-10-10 --csv", "care --planted 2026-10-10 --checklist", "report",
		"basin --json", "basin --size --json", "zones --json", "zones --explain slope --json", "choose --json", "choose --why low-brindlewisp --json", "find blue --json",
		"find --in rim --json", "place --json", "care --planted 2026-10-10 --json", "catalogue check $dir/plants.csv", "catalogue check $dir/plants.csv --json", "catalogue schema",
		"note --list", "move --date 2024-10-05", "move --date 2024-10-05 --json", "zones --spread 6 --json", "choose --robust --spread 6", "batch $rows --what zones --garden $dir",
		"choose --garden $dir", "place --garden $dir --json", "zones --garden $dir --units metric",
	}
}

// TestSameBytes runs every command that reads in two worlds: another process,
// number of processors, time zone, language, home, folder for the moment,
// umask, and garbage in place of each. What it prints must be the same, byte
// for byte.
func TestSameBytes(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("the worlds are made of what Unix knows")
	}
	program, err := exec.LookPath("hollowbed")
	require.NoError(t, err)
	dir := gardenWith(t, nil)
	rows := filepath.Join(t.TempDir(), "rows.csv")
	require.NoError(t, os.WriteFile(rows, []byte("id,roof.area\na,60 m2\nb,70 m2\nc,80 m2\nd,90 m2\ne,95 m2\n"), 0o644))
	run := func(line string, env ...string) (out, errs string) {
		cmd := exec.Command(program, strings.Fields(strings.NewReplacer("$dir", dir, "$rows", rows).Replace(line))...)
		cmd.Env = env
		cmd.Dir = t.TempDir()
		var stdout, stderr bytes.Buffer
		cmd.Stdout, cmd.Stderr = &stdout, &stderr
		require.NoError(t, cmd.Run(), "%s with %q: %s", line, env, stderr.String())
		return stdout.String(), stderr.String()
	}
	before := state(t, dir)
	// A garden with planted.csv, and words that are looked up on disk, are made by
	// the first run; so it runs once unseen.
	run("place --garden $dir")
	home := t.TempDir()
	lines := reads()
	if testenv.Raced {
		lines = lines[:8]
	}
	t.Run("each", func(t *testing.T) {
		for i, line := range lines {
			if i%testenv.Of(16, 1) > 0 {
				continue
			}
			if command, _, _ := strings.Cut(line, " "); !testenv.Heavy() && command != "catalogue" && command != "note" && command != "move" && !strings.Contains(line, "--garden") {
				line += " --garden $dir" // a record of four years
			}
			t.Run(line, func(t *testing.T) {
				t.Parallel()
				plain, told := run(line, "HOME="+home, "PATH="+os.Getenv("PATH"), "LANG=C", "TZ=UTC", "GOMAXPROCS=1")
				require.NotEmpty(t, plain)
				same := func(env ...string) {
					out, errs := run(line, env...)
					assert.Equal(t, plain, out, "%q", env)
					assert.Equal(t, told, errs, "%q", env)
				}
				same("GOMAXPROCS=7", "TZ=Pacific/Kiritimati", "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8", "LC_NUMERIC=de_DE.UTF-8", "NO_COLOR=1", "TERM=dumb",
					"TMPDIR="+t.TempDir(), "HOME="+t.TempDir(), "GOGC=20")
				same() // no home, no path, nothing
				same("TZ=No/Where", "LANG=\xff", "LC_ALL=xx", "HOME=/nonexistent", "TMPDIR=/nonexistent", "XDG_CACHE_HOME=relative", "COLUMNS=wide", "TERM=\x1b")
			})
		}
	})
	after := state(t, dir)
	delete(after, "planted.csv")
	assert.Equal(t, before, after, "reading changes nothing")
}

// A reader that has seen enough ends the program without a word, and a
// standard stream that is closed from the start does no harm.
func TestClosedStreams(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("no such signal there")
	}
	program, err := exec.LookPath("hollowbed")
	require.NoError(t, err)
	sh, err := exec.LookPath("sh")
	require.NoError(t, err)
	dir := gardenWith(t, nil)
	for _, line := range []string{"zones --bands", "choose --json", "report", "place --json"} {
		cmd := exec.Command(program, strings.Fields(line+" --garden "+dir)...)
		r, w, err := os.Pipe()
		require.NoError(t, err)
		var errs bytes.Buffer
		cmd.Stdout, cmd.Stderr = w, &errs
		require.NoError(t, cmd.Start())
		require.NoError(t, w.Close())
		require.NoError(t, r.Close())
		err = cmd.Wait()
		require.Error(t, err, line)
		assert.Contains(t, err.Error(), "broken pipe", "%s ends by the signal, as others do", line)
		assert.NotContains(t, errs.String(), "goroutine", line)
	}
	whole, err := exec.Command(program, "zones", "--garden", dir).Output()
	require.NoError(t, err)
	for _, closed := range []string{"<&-", "2>&-", "<&- 2>&-"} {
		cmd := exec.Command(sh, "-c", `exec "$@" `+closed, "sh", program, "zones", "--garden", dir)
		out, err := cmd.Output()
		require.NoError(t, err, closed)
		assert.Equal(t, string(whole), string(out), closed)
	}
	file := filepath.Join(t.TempDir(), "page.html")
	cmd := exec.Command(sh, "-c", `exec "$@" >&- 2>&- <&-`, "sh", program, "report", "--garden", dir, "--out", file)
	require.NoError(t, cmd.Run())
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	page, err := exec.Command(program, "report", "--garden", dir).Output()
	require.NoError(t, err)
	assert.Equal(t, string(page), string(text), "nothing but the page got into the file")
}

// Nobody to ask: start wants options, and says which.
func TestNoTerminal(t *testing.T) {
	t.Parallel()
	program, err := exec.LookPath("hollowbed")
	require.NoError(t, err)
	dir := filepath.Join(t.TempDir(), "pond")
	cmd := exec.Command(program, "start", dir)
	out, err := cmd.CombinedOutput()
	require.Error(t, err)
	assert.Equal(t, exitBad, cmd.ProcessState.ExitCode())
	assert.Contains(t, string(out), "--latitude")
	assert.NoDirExists(t, dir)
}

// Clocks stand still, run backwards, and show years that nobody lives to see.
// What does not tell of today does not mind; what does, works all the same.
func TestClockJumps(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	at := func(clock func() time.Time, args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		status := run(args, world{in: strings.NewReader(""), out: &out, err: &errs, getenv: func(string) string { return "" }, now: clock})
		return status, out.String(), errs.String()
	}
	calls := 0
	clocks := map[string]func() time.Time{
		"zero": func() time.Time { return time.Time{} }, "1970": func() time.Time { return time.Unix(0, 0) },
		"2038": func() time.Time { return time.Unix(1<<31, 0) }, "9990": func() time.Time { return time.Date(9990, 12, 31, 23, 59, 59, 0, time.UTC) }, // dates end with 9999
		"backwards": func() time.Time { calls++; return time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC).AddDate(0, 0, -calls) },
		"leap day":  func() time.Time { return time.Date(2028, 2, 29, 12, 0, 0, 0, time.FixedZone("", 14*3600)) },
	}
	dir, bare := gardenWith(t, nil), gardenWith(t, nil)
	lines := []string{"zones", "choose --json", "place", "report"}
	want := map[string]string{}
	for _, line := range lines {
		for range 2 { // place makes planted.csv the first time, and says so
			status, out, errs := at(time.Now, append(strings.Fields(line), "--garden", dir)...)
			require.Zero(t, status, errs)
			want[line] = out
		}
	}
	for name, clock := range clocks {
		if !testenv.Heavy() && name != "zero" && name != "backwards" && name != "9990" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, line := range lines {
				if line == "report" && name != "9990" && name != "zero" && !testenv.Heavy() {
					continue // the dearest, at both ends of time
				}
				status, out, errs := at(clock, append(strings.Fields(line), "--garden", dir)...)
				assert.Zero(t, status, "%s: %s", line, errs)
				assert.Equal(t, want[line], out, line)
			}
			for _, line := range []string{"care", "care --planted 2026-10-10 --today", "care --json"} {
				status, out, errs := at(clock, append(strings.Fields(line), "--garden", bare)...)
				assert.Zero(t, status, "%s: %s", line, errs)
				assert.NotEmpty(t, out)
				assert.NotContains(t, out, "%!")
			}
			status, _, errs := at(clock, strings.Fields("start "+filepath.Join(t.TempDir(), "pond")+startLine)...)
			assert.Zero(t, status, "start: %s", errs)
		})
	}
}
