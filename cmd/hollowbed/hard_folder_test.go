package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/data"
)

// grownGarden is the demo garden after its first season, in a folder.
func grownGarden(t *testing.T) string {
	t.Helper()
	files := map[string]string{"garden.yaml": strings.Replace(small(t)["garden.yaml"], "seed: 1 ", "hour_worth: 0 #", 1)} // so that plants trade places
	for _, name := range []string{"planted.csv", "season.csv"} {
		text, err := fs.ReadFile(data.Season(), name)
		require.NoError(t, err)
		files[name] = string(text)
	}
	return gardenWith(t, files)
}

// begin leaves a folder as a run does that is killed before the first of some
// files is in place. A text before of "" stands for no file.
func begin(t *testing.T, dir string, files ...[3]string) {
	t.Helper()
	var redo []map[string]string
	for _, f := range files {
		before := ""
		if f[1] != "" {
			before = fmt.Sprintf("%x", sha256.Sum256([]byte(f[1])))
		}
		redo = append(redo, map[string]string{"file": f[0], "before": before, "after": f[2]})
	}
	text, err := json.Marshal(redo)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".hollowbed.redo"), text, 0o644))
}

// A folder of somebody else's that would have other files written is refused by
// every command, and nothing is written for it.
func TestHostileFolder(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("making symbolic links takes rights that tests do not have there")
	}
	keys := filepath.Join(t.TempDir(), "authorized_keys")
	require.NoError(t, os.WriteFile(keys, []byte("mine"), 0o600))
	good := grownGarden(t)
	for _, name := range []string{"k", "planted.csv"} {
		evil := grownGarden(t)
		os.Remove(filepath.Join(evil, name))
		require.NoError(t, os.Symlink(keys, filepath.Join(evil, name)))
		begin(t, evil, [3]string{name, "mine", "theirs"})
		before := state(t, evil)
		for _, line := range []string{"find blue --garden $evil", "zones --garden $evil", "note --list --garden $evil", "place --garden $evil", "note COW1 3 --garden $evil", "move --garden $good --from $evil --date 2024-10-05"} {
			status, out, errs := ask(t, "", strings.Fields(strings.NewReplacer("$evil", evil, "$good", good).Replace(line))...)
			assert.Equal(t, exitBad, status, line)
			assert.Contains(t, errs, map[string]string{"k": ".hollowbed.redo: names \"k\"", "planted.csv": "planted.csv: is no plain file"}[name], line)
			assert.Empty(t, out)
		}
		holds(t, keys, "mine")
		assert.Equal(t, before, state(t, evil))
	}
}

// A change that a killed run has begun is seen by commands that read, which
// change nothing, and completed by the next that writes there, which says so.
func TestBegunChange(t *testing.T) {
	t.Parallel()
	dir, whole, good := grownGarden(t), grownGarden(t), grownGarden(t)
	stakes, err := os.ReadFile(filepath.Join(dir, "planted.csv"))
	require.NoError(t, err)
	old, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	status, _, errs := ask(t, "", "note", "COW1", "1", "--date", "2024-10-04", "--garden", whole)
	require.Zero(t, status, errs)
	history, err := os.ReadFile(filepath.Join(whole, "season.csv"))
	require.NoError(t, err)
	begin(t, dir, [3]string{"planted.csv", string(stakes), string(stakes)}, [3]string{"season.csv", string(old), string(history)})

	before := state(t, dir)
	for _, line := range []string{"note --list --json --garden $dir", "move --date 2024-10-05 --json --garden $dir", "move --date 2024-10-05 --json --garden $good --from $dir"} {
		of := func(dir string) string {
			status, out, errs := ask(t, "", strings.Fields(strings.NewReplacer("$dir", dir, "$good", good).Replace(line))...)
			require.Zero(t, status, errs)
			assert.NotContains(t, errs, "completed a change")
			return strings.ReplaceAll(out, dir, "")
		}
		assert.Equal(t, of(whole), of(dir), "%s: as if it had been completed", line)
	}
	assert.Equal(t, before, state(t, dir), "and nothing was written")

	status, _, errs = ask(t, "", "note", "COW1", "2", "--date", "2024-10-05", "--garden", dir)
	require.Zero(t, status, errs)
	assert.Contains(t, errs, dir+": completed a change of planted.csv and season.csv that a run which was stopped had begun.\n")
	now, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(now), string(history)), "the note stands below: %s", now[len(old):])
	assert.Greater(t, len(now), len(history))
	assert.NoFileExists(t, filepath.Join(dir, ".hollowbed.redo"))
}

// waiting is an input that does something before it is read.
type waiting struct {
	io.Reader
	ask func()
}

func (w *waiting) Read(p []byte) (int, error) {
	w.ask()
	return w.Reader.Read(p)
}

// A command that has read the folder, and then has to wait while another is killed
// in the midst of its change, completes that first and writes below it.
func TestRedoWhileWaiting(t *testing.T) {
	t.Parallel()
	dir, whole := grownGarden(t), grownGarden(t)
	stakes, err := os.ReadFile(filepath.Join(dir, "planted.csv"))
	require.NoError(t, err)
	old, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	status, _, errs := ask(t, "", "note", "COW1", "1", "--date", "2024-10-04", "--garden", whole)
	require.Zero(t, status, errs)
	history, err := os.ReadFile(filepath.Join(whole, "season.csv"))
	require.NoError(t, err)
	var stderr bytes.Buffer
	in := &waiting{strings.NewReader("COW1 2\n\n\n"), func() { // asked for a stake: garden and notes have been read
		if _, err := os.Stat(filepath.Join(dir, ".hollowbed.redo")); err != nil && stderr.Len() > 0 {
			begin(t, dir, [3]string{"planted.csv", string(stakes), string(stakes)}, [3]string{"season.csv", string(old), string(history)})
		}
	}}
	status = run([]string{"note", "--date", "2024-10-05", "--garden", dir}, world{
		in: in, out: io.Discard, err: &stderr, getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2024, 10, 5, 8, 0, 0, 0, time.UTC) }, terminal: true,
	})
	require.Zero(t, status, &stderr)
	now, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(now), string(history)), "the history is there: %s", now[len(old):])
	assert.Greater(t, len(now), len(history), "and so is the note")
}

// A garden's files, and all that a run reads, are spared whatever an output is
// called, and by whatever link or spelling.
func TestOutputsSpareInputs(t *testing.T) {
	t.Parallel()
	dir, tmp := grownGarden(t), t.TempDir()
	in := func(name string) string { return filepath.Join(tmp, name) }
	for name, text := range map[string]string{"sofar.csv": "date,rain_mm,tmin_c,tmax_c\n2026-01-01,1,2,8\n", "table.csv": "code,name\na1,First Madeup\n", "map.yaml": nurseryMap, "rows.csv": "id,roof.area\na,90 m2\n"} {
		require.NoError(t, os.WriteFile(in(name), []byte(text), 0o644))
	}
	status, _, errs := ask(t, "", "move", "--garden", dir, "--date", "2024-10-05", "--learn", in("learned.csv"))
	require.Zero(t, status, errs)
	require.NoError(t, os.Link(filepath.Join(dir, "season.csv"), in("hard.csv")))
	require.NoError(t, os.Mkdir(in("sub"), 0o755))
	lines := []string{
		"report --garden $dir --out $dir/garden.yaml", "report --garden $dir --out $dir/season.csv", "report --garden $dir --out $dir/rain.csv", "report --out $dir/rain.csv",
		"report --garden $dir --out $dir/../" + filepath.Base(dir) + "/planted.csv", "report --garden $dir --out $tmp/hard.csv", "report --garden $dir --out $dir/.hollowbed.redo", "report --garden $dir --out $dir/.hollowbed.lock",
		"move --garden $dir --date 2024-10-05 --learn $dir/season.csv", "move --garden $dir --date 2024-10-05 --plan $dir/plants.csv", "move --date 2024-10-05 --from $dir --learn $tmp/hard.csv",
		"move --garden $dir --date 2024-10-05 --plan $tmp/a.svg --learn $tmp/a.svg", "move --garden $dir --date 2024-10-05 --plan $tmp/a.svg --learn $tmp/sub/../a.svg",
		"care --garden $dir --ics $dir/planted.csv", "care --garden $dir --so-far $tmp/sofar.csv --ics $tmp/sofar.csv", "care --garden $dir --learned $tmp/learned.csv --ics $tmp/learned.csv",
		"place --garden $dir --plan $dir/plants.csv", "place --garden $dir --section $dir/garden.yaml", "place --garden $dir --plan $tmp/a.svg --section $tmp/a.svg", "place --plan $dir/plants.csv",
		"basin --garden $dir --route $dir/garden.yaml", "batch $tmp/rows.csv --garden $dir --what basin --resume $tmp/rows.csv", "batch $tmp/rows.csv --what basin --resume $dir/season.csv", "batch $tmp/rows.csv --what basin --out $dir/planted.csv",
		"catalogue import $tmp/table.csv --map $tmp/map.yaml --out $dir/season.csv", "catalogue import $tmp/table.csv --map $tmp/map.yaml --out $tmp/map.yaml",
		"place --garden $dir --plan $tmp/x.pdf", "place --garden $dir --section $tmp/x.jpeg", "move --garden $dir --plan $tmp/x.pdf", "basin --garden $dir --route $tmp/x.pdf",
	}
	if runtime.GOOS != "windows" {
		require.NoError(t, os.Symlink(filepath.Join(dir, "planted.csv"), in("soft.svg")))
		require.NoError(t, os.Symlink(dir, in("folder")))
		lines = append(lines, "place --garden $dir --plan $tmp/soft.svg", "report --garden $dir --out $tmp/folder/rain.csv", "report --garden $tmp/folder --out $dir/plants.csv")
	}
	here, beside := state(t, dir), stateOfFiles(t, tmp)
	for _, line := range lines {
		args := strings.Fields(strings.NewReplacer("$dir", dir, "$tmp", tmp).Replace(line))
		status, out, errs := ask(t, "", args...)
		assert.Equal(t, exitBad, status, "%s: %s", line, errs)
		assert.Regexp(t, `hollowbed: --(out|learn|plan|ics|section|route|resume|plan and --learn|plan and --section): .*expected`, errs, line)
		assert.Empty(t, out, line)
	}
	assert.Equal(t, here, state(t, dir))
	assert.Equal(t, beside, stateOfFiles(t, tmp))

	if runtime.GOOS != "windows" { // there own/.. is not that of the link
		require.NoError(t, os.Mkdir(filepath.Join(dir, "own"), 0o755))
		require.NoError(t, os.Symlink(filepath.Join(dir, "own"), in("own")))
		status, _, errs := ask(t, "", "report", "--out", tmp+"/own/../season.csv")
		assert.Equal(t, exitBad, status, errs)
		assert.Contains(t, errs, "is a file of the garden in")
	}

	// What is asked for in earnest goes on as before.
	for _, line := range []string{
		"report --garden $dir --out $dir/page.html", "place --garden $dir --plan $dir/plan.svg --section $dir/section.SVG", "care --garden $dir --ics $dir/care.ics",
		"batch $tmp/rows.csv --garden $dir --what basin --resume $tmp/rows.jsonl", "batch $tmp/rows.csv --garden $dir --what basin --resume $tmp/rows.jsonl",
		"catalogue import $tmp/table.csv --map $tmp/map.yaml --out $tmp/sub/plants.csv", "move --garden $dir --date 2024-10-05 --plan $tmp/plan --learn $tmp/learned.csv",
	} {
		status, _, errs := ask(t, "", strings.Fields(strings.NewReplacer("$dir", dir, "$tmp", tmp).Replace(line))...)
		assert.Zero(t, status, "%s: %s", line, errs)
	}
}

// stateOfFiles is what the files of a folder hold, without the folders in it.
func stateOfFiles(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range entries {
		if info, err := os.Stat(filepath.Join(dir, e.Name())); err == nil && info.Mode().IsRegular() {
			text, err := os.ReadFile(filepath.Join(dir, e.Name()))
			require.NoError(t, err)
			out[e.Name()] = string(text)
		}
	}
	return out
}

// A picture that cannot be written is told before planted.csv tells of plants of
// which nothing was said.
func TestPicturesComeFirst(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, nil)
	status, out, _ := ask(t, "", "place", "--garden", dir, "--plan", filepath.Join(dir, "none", "plan.svg"))
	assert.Equal(t, exitFailed, status)
	assert.Empty(t, out)
	assert.NoFileExists(t, filepath.Join(dir, "planted.csv"))
}

func holds(t *testing.T, file, want string) {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, want, string(text))
}
