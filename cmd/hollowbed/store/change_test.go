package store

import (
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// opened is a folder that holds some files.
func opened(t *testing.T, files map[string]string) (*Folder, string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	d, err := Open(dir, io.Discard)
	require.NoError(t, err)
	return d, dir
}

// A file is changed only if it still holds what was read.
func TestChange(t *testing.T) {
	d, dir := opened(t, nil)
	file := filepath.Join(dir, "planted.csv")
	change := func(before, after []byte) error { return d.Change(Change{"planted.csv", before, after}) }
	var changed *ChangedError
	require.ErrorAs(t, change([]byte("was"), []byte("new")), &changed, "gone meanwhile")
	assert.NoFileExists(t, file)
	require.NoError(t, change(nil, []byte("one")))
	holds(t, file, "one")
	require.ErrorAs(t, change(nil, []byte("two")), &changed, "made meanwhile")
	holds(t, file, "one")
	require.NoError(t, change([]byte("one"), []byte("two")))
	holds(t, file, "two")
	require.ErrorAs(t, change([]byte("one"), []byte("three")), &changed)
	holds(t, file, "two")
	require.NoError(t, change([]byte("two"), nil))
	holds(t, file, "")
	d.settle = func(*os.Root) { assert.Fail(t, "something was written") }
	require.NoError(t, d.Change(), "nothing is to be changed")
	onlyHas(t, dir, "planted.csv")
}

// A link that is to be written is told as such, wherever it leads.
func TestLinksAreTold(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("making symbolic links takes rights that tests do not have there")
	}
	d, dir := opened(t, map[string]string{"kept.csv": "x"})
	for _, to := range []string{"../season.csv", "kept.csv"} {
		os.Remove(filepath.Join(dir, "season.csv"))
		require.NoError(t, os.Symlink(to, filepath.Join(dir, "season.csv")))
		err := d.Edit("season.csv", func([]byte) ([]byte, error) { return []byte("y"), nil })
		require.ErrorContains(t, err, "season.csv: is a link, and is left as it is", to)
		var mendable interface{ BadInput() bool }
		assert.ErrorAs(t, err, &mendable)
	}
}

// onlyHas wants a folder to hold some files and no drafts.
func onlyHas(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	assert.ElementsMatch(t, want, names)
}

// What somebody else writes while all is forced to the disk is found and stays;
// of a change of two files neither is then made. Every moment is tried: before
// each time that names go to the disk, and when the drafts are there.
func TestChangedMeanwhile(t *testing.T) {
	files := map[string]string{"planted.csv": "p0", "season.csv": "s0"}
	changes := []Change{{"planted.csv", []byte("p0"), []byte("p1")}, {"season.csv", []byte("s0"), []byte("s1")}}
	for _, edited := range []string{"planted.csv", "season.csv"} {
		for at := range 2 {
			d, dir := opened(t, files)
			turn := 0
			d.settle = func(*os.Root) {
				if turn == at {
					require.NoError(t, os.WriteFile(filepath.Join(dir, edited), []byte("mine"), 0o644))
				}
				turn++
			}
			err := d.Change(changes...)
			holds(t, filepath.Join(dir, edited), "mine")
			onlyHas(t, dir, "planted.csv", "season.csv")
			if edited == "planted.csv" && at == 1 { // both were to be new, and it was edited anew
				require.NoError(t, err)
				holds(t, filepath.Join(dir, "season.csv"), "s1")
				continue
			}
			var changed *ChangedError
			require.ErrorAs(t, err, &changed)
			assert.Equal(t, filepath.Join(dir, edited), changed.File)
			for name, text := range files {
				if name != edited {
					holds(t, filepath.Join(dir, name), text)
				}
			}
		}
	}
}

// A link in place of a file is never written to or through, wherever it leads.
func TestChangeRefusesLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("making symbolic links takes rights that tests do not have there")
	}
	outside := filepath.Join(t.TempDir(), "keys")
	require.NoError(t, os.WriteFile(outside, []byte("key"), 0o600))
	for _, leads := range []string{outside, "inside.csv"} {
		d, dir := opened(t, map[string]string{"inside.csv": "key"})
		require.NoError(t, os.Symlink(leads, filepath.Join(dir, "planted.csv")))
		for _, before := range [][]byte{nil, []byte("key")} {
			assert.ErrorContains(t, d.Change(Change{"planted.csv", before, []byte("x")}), "planted.csv: is a link, and is left as it is")
		}
		holds(t, outside, "key")
		holds(t, filepath.Join(dir, "inside.csv"), "key")
	}
	d, _ := opened(t, nil)
	assert.ErrorContains(t, d.Change(Change{"keys", nil, []byte("x")}), "is no file that is written here")
}
