package main

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/store"
	"hollowbed/data"
	"hollowbed/testdata/testenv"
)

// killCase is a command that writes, in a folder of its own.
type killCase struct {
	name    string
	args    string // $dir stands for the folder
	before  func(t *testing.T, dir string)
	written []string // the files it makes or replaces, in the folder
	shows   string   // a command that reads: it shows the old of all files or the new of all
	by      string   // the program
	inTurn  bool     // none is new before those named before it are
}

func killCases(t *testing.T) []killCase {
	t.Helper()
	garden := func(t *testing.T, dir string) {
		for name, text := range small(t) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
		}
	}
	// half of the demo's plants stand already, and other files hold something
	half := sync.OnceValue(func() []byte {
		dir := t.TempDir()
		garden(t, dir)
		status, _, errs := ask(t, "", "place", "--garden", dir)
		require.Zero(t, status, errs)
		text, err := os.ReadFile(filepath.Join(dir, "planted.csv"))
		require.NoError(t, err)
		lines := bytes.SplitAfter(text, []byte("\n"))
		return bytes.Join(lines[:len(lines)/2], nil)
	})
	standing := func(t *testing.T, dir string) {
		garden(t, dir)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "planted.csv"), half(), 0o644))
		for _, name := range []string{"plan.svg", "page.html", "care.ics"} {
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("as it was\n"), 0o644))
		}
	}
	table := func(t *testing.T, dir string) {
		rows := "code,name\n"
		for i := range 100 {
			rows += fmt.Sprintf("a%d,Madeup %d\n", i, i)
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, "table.csv"), []byte(rows), 0o644))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "map.yaml"), []byte(nurseryMap), 0o644))
	}
	// the demo garden after its first season
	grown := func(t *testing.T, dir string) {
		garden(t, dir)
		for _, name := range []string{"planted.csv", "season.csv"} {
			text, err := fs.ReadFile(data.Season(), name)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
		}
	}
	pictured := func(t *testing.T, dir string) {
		grown(t, dir)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "new.gif"), bytes.Repeat([]byte("GIF89a"), 100_000), 0o644))
	}
	return []killCase{
		{"start", "start $dir" + startLine, func(*testing.T, string) {}, []string{"garden.yaml"}, "", "hollowbed", false},
		{"place", "place --garden $dir", garden, []string{"planted.csv"}, "", "hollowbed", false},
		{"place again", "place --garden $dir --plan $dir/plan.svg", standing, []string{"planted.csv", "plan.svg"}, "", "hollowbed", false},
		{"report", "report --garden $dir --out $dir/page.html", standing, []string{"page.html"}, "", "hollowbed", false},
		{"care", "care --garden $dir --planted 2026-10-10 --ics $dir/care.ics", standing, []string{"care.ics"}, "", "hollowbed", false},
		{"import", "catalogue import $dir/table.csv --map $dir/map.yaml --out $dir/new.csv", table, []string{"new.csv"}, "", "hollowbed", false},
		{"note", "note " + firstStake(t) + " 3 yellow --garden $dir --date 2024-10-05", grown, []string{"season.csv"}, "", "hollowbed", false},
		{"photo", "note COW1 3 --photo $dir/new.gif --garden $dir --date 2024-10-05", pictured, []string{"photos/2024-10-05-COW1-new.gif", "season.csv"}, "", "hollowbed", true},
		{"move", "move --apply --garden $dir --date 2024-10-05", grown, []string{"planted.csv", "season.csv"}, "note --list --garden $dir", "hollowbed", false},
	}
}

// firstStake is a plant of the demo garden after its first season.
func firstStake(t *testing.T) string {
	t.Helper()
	text, err := fs.ReadFile(data.Season(), "planted.csv")
	require.NoError(t, err)
	line := strings.Split(string(text), "\n")[1]
	stake, _, _ := strings.Cut(line, ",")
	return stake
}

// TestKilled kills every command that writes, again and again, at any moment
// from its start to its end and half of the time just when something appears
// in the folder. Each file must then hold what it held before or all that it
// holds after; the next run must do the whole.
func TestKilled(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	cases := append(killCases(t), saveCase(t))
	for i, c := range cases {
		if i%testenv.Of(6, 1) > 0 {
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			program, err := exec.LookPath(c.by)
			require.NoError(t, err)
			source := t.TempDir()
			c.before(t, source)
			old := state(t, source)
			fresh := filepath.Join(t.TempDir(), "folder")
			again := func() (string, []string) {
				require.NoError(t, os.RemoveAll(fresh))
				require.NoError(t, os.CopyFS(fresh, os.DirFS(source)))
				return fresh, strings.Fields(strings.ReplaceAll(c.args, "$dir", fresh))
			}
			dir, args := again()
			begin := time.Now()
			out, err := exec.Command(program, args...).CombinedOutput()
			require.NoError(t, err, string(out))
			took := time.Since(begin)
			done := state(t, dir)
			reads := func(dir string) string {
				args := strings.Fields(strings.ReplaceAll(c.shows, "$dir", dir))
				if len(args) == 0 {
					return ""
				}
				out, err := exec.Command("hollowbed", args...).CombinedOutput()
				require.NoError(t, err, "%s", out)
				return strings.ReplaceAll(string(out), dir, "")
			}
			shown := []string{reads(source), reads(dir)}
			for _, name := range c.written {
				require.NotEqual(t, old[name], done[name], "%s is written", name)
			}

			var drafts, before, after int
			for i := range testenv.Of(2, 17) {
				dir, args := again()
				cmd := exec.Command(program, args...)
				require.NoError(t, cmd.Start())
				if i%2 == 0 {
					time.Sleep(time.Duration(rand.Float64() * 1.1 * float64(took)))
				} else {
					awaitChange(dir, 3*took+time.Second)
					time.Sleep(time.Duration(math.Pow(rand.Float64(), 4) * float64(2*time.Millisecond))) // mostly at once
				}
				_ = cmd.Process.Kill() // it may have ended
				_ = cmd.Wait()
				if c.shows != "" {
					assert.Contains(t, shown, reads(dir))
					completeChange(t, dir)
				}
				left := state(t, dir)
				assert.NotContains(t, left, ".hollowbed.redo")
				news := 0
				for k, name := range c.written {
					if left[name] != old[name] {
						assert.True(t, news == k || !c.inTurn, "%s is new before what it rests on", name)
						news++
					}
					switch left[name] {
					case old[name]:
						before++
					case done[name]:
						after++
					default:
						assert.Fail(t, "torn", "%s holds neither the old nor the new:\n%.300q", name, left[name])
					}
					delete(left, name)
				}
				if c.shows != "" {
					assert.True(t, news == 0 || news == len(c.written), "all files are old or all are new")
				}
				for name, text := range left {
					if strings.HasPrefix(path.Base(name), ".hollowbed-draft-") {
						drafts++
						continue
					}
					assert.Equal(t, old[name], text, "%s is none of its files", name)
				}
				if i%8 == 1 && news == 0 {
					out, err := exec.Command(program, args...).CombinedOutput()
					require.NoError(t, err, "the run after a killed one: %s", out)
					for _, name := range c.written {
						assert.Equal(t, done[name], state(t, dir)[name], "%s after the run that followed", name)
					}
				}
			}
			t.Logf("%s: %d files as before, %d as after, %d drafts left", c.name, before, after, drafts)
		})
	}
}

// completeChange does what any command does that writes in a folder.
func completeChange(t *testing.T, dir string) {
	t.Helper()
	kept, err := store.Open(dir, io.Discard)
	require.NoError(t, err)
	unlock, err := kept.Lock()
	require.NoError(t, err)
	unlock()
}

// state is what the files of a folder hold, but for the lock and the time of
// day that a calendar carries.
func state(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS(dir), ".", func(name string, e fs.DirEntry, err error) error {
		if os.IsNotExist(err) || err == nil && (e.IsDir() || name == ".hollowbed.lock") {
			return nil
		}
		require.NoError(t, err)
		text, err := os.ReadFile(filepath.Join(dir, name))
		out[name] = regexp.MustCompile(`DTSTAMP:\w+`).ReplaceAllString(string(text), "DTSTAMP:")
		return err
	}))
	return out
}

// awaitChange waits until a file of a folder appears or changes its size, and
// not for ever.
func awaitChange(dir string, most time.Duration) {
	look := func() (files int, bytes int64) {
		entries, _ := os.ReadDir(dir)
		for _, e := range entries {
			if info, err := e.Info(); err == nil {
				bytes += info.Size()
			}
		}
		return len(entries), bytes
	}
	files, bytes := look()
	for end := time.Now().Add(most); time.Now().Before(end); time.Sleep(10 * time.Microsecond) {
		if f, b := look(); f != files || b != bytes {
			return
		}
	}
}

// TestOneWayToWrite holds the commands and the page to the package store:
// nothing else makes, writes or renames a file or a folder.
func TestOneWayToWrite(t *testing.T) {
	t.Parallel()
	seen := 0
	for _, dir := range []string{".", "page", "report", "draw", "store"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		require.NoError(t, err)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			for i, line := range strings.Split(string(text), "\n") {
				if !regexp.MustCompile(`\b(os|root|dir)\.(WriteFile|Create|CreateTemp|OpenFile|OpenRoot|Rename|Link|Symlink|Truncate|Mkdir|MkdirAll)\(|renameio`).MatchString(line) {
					continue
				}
				seen++
				allowed := map[string]string{
					"picture.go": "os.WriteFile(page, ",                     // what the browser draws, in a folder for the moment
					"page.go":    "os.WriteFile(file, []byte(text), 0o600)", // what the browser opens, likewise
				}
				part, ok := allowed[file]
				assert.True(t, dir == "store" || ok && strings.Contains(line, part), "%s:%d: write by store: %s", file, i+1, strings.TrimSpace(line))
			}
		}
	}
	assert.Greater(t, seen, 8, "store is looked at")
}
