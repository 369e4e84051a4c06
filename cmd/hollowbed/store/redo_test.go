package store

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// redoOf is a change of planted.csv from p0 to p1, with season.csv made new.
func redoOf(planted string) string {
	return `[{"file":"` + planted + `","before":"` + digest([]byte("p0")) + `","after":"p1"},{"file":"season.csv","before":"","after":"s1"}]`
}

// completed locks a folder, and gives what was told.
func completed(t *testing.T, dir string) (told string, err error) {
	t.Helper()
	var words strings.Builder
	d, err := Open(dir, &words)
	require.NoError(t, err)
	unlock, err := d.Lock()
	if err == nil {
		unlock()
	}
	return words.String(), err
}

// A change of two files that stops anywhere reads as if it had been completed,
// and is completed by whoever takes the lock next.
func TestChangeCompletes(t *testing.T) {
	changes := []Change{{"planted.csv", []byte("p0"), []byte("p1")}, {"season.csv", nil, []byte("s1")}}
	d, whole := opened(t, map[string]string{"planted.csv": "p0"})
	gone := false
	d.settle = func(*os.Root) {
		_, err := os.Lstat(filepath.Join(whole, redoName))
		gone = err != nil
	}
	require.NoError(t, d.Change(changes...))
	assert.True(t, gone, "that the change is over is forced to the disk too")
	holds(t, filepath.Join(whole, "planted.csv"), "p1")
	holds(t, filepath.Join(whole, "season.csv"), "s1")
	onlyHas(t, whole, "planted.csv", "season.csv")

	for done := range 3 { // so many files were in place when it was killed
		files := map[string]string{"planted.csv": []string{"p0", "p1", "p1"}[done], redoName: redoOf("planted.csv")}
		if done == 2 {
			files["season.csv"] = "s1"
		}
		d, dir := opened(t, files)
		for _, view := range []fs.FS{d.Files(), d.Inside()} {
			for name, want := range map[string]string{"planted.csv": "p1", "season.csv": "s1"} {
				text, err := fs.ReadFile(view, name)
				require.NoError(t, err)
				assert.Equal(t, want, string(text))
			}
		}
		holds(t, filepath.Join(dir, redoName), redoOf("planted.csv")) // reading completes nothing
		holds(t, filepath.Join(dir, "planted.csv"), files["planted.csv"])

		told, err := completed(t, dir)
		require.NoError(t, err)
		assert.Equal(t, dir+": completed a change of planted.csv and season.csv that a run which was stopped had begun.\n", told)
		holds(t, filepath.Join(dir, "planted.csv"), "p1")
		holds(t, filepath.Join(dir, "season.csv"), "s1")
		told, err = completed(t, dir)
		require.NoError(t, err, "nothing is left to do")
		assert.Empty(t, told)
		onlyHas(t, dir, "planted.csv", "season.csv", ".hollowbed.lock")
	}

	// What somebody has changed since is not written over, and is told.
	other, mine := opened(t, map[string]string{"planted.csv": "mine", redoName: redoOf("planted.csv")})
	_, err := completed(t, mine)
	assert.ErrorContains(t, err, "no longer what it was")
	_, err = other.Files().Open("planted.csv")
	assert.ErrorContains(t, err, "no longer what it was")
	require.Error(t, other.Change(changes...), "planted.csv does not hold p0")
	holds(t, filepath.Join(mine, "planted.csv"), "mine")
	assert.NoFileExists(t, filepath.Join(mine, "season.csv"))
}

// refused wants both a reader and a writer of a folder to refuse it at once as
// bad input, with some words, and to leave it as it is.
func refused(t *testing.T, dir, words string) {
	t.Helper()
	d, err := Open(dir, nil)
	require.NoError(t, err)
	_, reading := d.Files().Open("planted.csv")
	_, locking := d.Lock()
	for _, err := range []error{reading, locking} {
		require.ErrorContains(t, err, words)
		var mendable interface{ BadInput() bool }
		assert.ErrorAs(t, err, &mendable)
	}
	assert.NoFileExists(t, filepath.Join(dir, "season.csv"))
}

// A redo names garden.yaml, planted.csv and season.csv, each once, and nothing else.
func TestRedoRefused(t *testing.T) {
	for _, name := range []string{"../x", "/etc/x", "sub/x", "..", "", "plants.csv", "k", "season.csv", "Planted.csv", ".hollowbed.lock"} {
		_, dir := opened(t, map[string]string{"planted.csv": "p0", redoName: redoOf(name)})
		refused(t, dir, fmt.Sprintf("names %q", name))
	}
	for _, text := range []string{"", "[{", "[]", "null", "{}", redoOf("planted.csv") + "[]", strings.Replace(redoOf("planted.csv"), "after", "then", 1)} {
		_, dir := opened(t, map[string]string{"planted.csv": "p0", redoName: text})
		refused(t, dir, "cannot be read")
	}
	_, large := opened(t, map[string]string{"planted.csv": "p0", redoName: "["})
	require.NoError(t, os.Truncate(filepath.Join(large, redoName), mostRedo+1)) // mostly a hole
	refused(t, large, "too large: want a file of at most 128 MB, or none: take it away")

	_, folder := opened(t, map[string]string{"planted.csv": "p0"})
	require.NoError(t, os.Mkdir(filepath.Join(folder, redoName), 0o755))
	refused(t, folder, redoName+": is no plain file: take it away")
}

// Nor is it a link, nor are the files that it names: the home of somebody's keys
// may stand behind them.
func TestRedoRefusesLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("making symbolic links takes rights that tests do not have there")
	}
	keys := filepath.Join(t.TempDir(), "keys")
	require.NoError(t, os.WriteFile(keys, []byte("p0"), 0o600))
	for _, leads := range []string{keys, "inside.csv"} {
		_, dir := opened(t, map[string]string{"inside.csv": "p0", redoName: redoOf("planted.csv")})
		require.NoError(t, os.Symlink(leads, filepath.Join(dir, "planted.csv")))
		refused(t, dir, "planted.csv: is no plain file")
		holds(t, keys, "p0")
		holds(t, filepath.Join(dir, "inside.csv"), "p0")
	}
	_, dir := opened(t, map[string]string{"planted.csv": "p0", "note": redoOf("planted.csv")})
	require.NoError(t, os.Symlink("note", filepath.Join(dir, redoName)))
	refused(t, dir, redoName+": is no plain file: take it away")
}

// The lock is a plain file, too, and never made through a link.
func TestLockRefused(t *testing.T) {
	_, folder := opened(t, nil)
	require.NoError(t, os.Mkdir(filepath.Join(folder, ".hollowbed.lock"), 0o755))
	_, err := completed(t, folder)
	require.ErrorContains(t, err, ".hollowbed.lock: is no plain file: take it away")
	if runtime.GOOS == "windows" {
		return
	}
	made := filepath.Join(t.TempDir(), "made")
	_, dir := opened(t, nil)
	require.NoError(t, os.Symlink(made, filepath.Join(dir, ".hollowbed.lock")))
	_, err = completed(t, dir)
	require.ErrorContains(t, err, ".hollowbed.lock: is no plain file: take it away")
	assert.NoFileExists(t, made)
}
