package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/plainfile"
)

// A symbolic link stays a link, and what it points to is replaced; also over
// several links, and where the last points to nothing yet.
func TestReplaceFollowsLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("making symbolic links takes rights that tests do not have there")
	}
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.Mkdir(in("kept"), 0o755))
	require.NoError(t, os.WriteFile(in("kept/page.html"), []byte("old"), 0o644))
	require.NoError(t, os.Symlink("kept/page.html", in("one")))
	require.NoError(t, os.Symlink("one", in("two")))
	require.NoError(t, os.Symlink(in("kept/later.html"), in("dangling")))
	require.NoError(t, os.Symlink("round", in("round")))

	require.NoError(t, Replace(in("two"), []byte("new")))
	holds(t, in("kept/page.html"), "new")
	for _, link := range []string{"one", "two"} {
		info, err := os.Lstat(in(link))
		require.NoError(t, err)
		assert.Equal(t, fs.ModeSymlink, info.Mode().Type(), link)
	}
	require.NoError(t, Replace(in("dangling"), []byte("first")))
	holds(t, in("kept/later.html"), "first")
	require.ErrorContains(t, Replace(in("round"), []byte("x")), "leads in a circle")
	require.ErrorContains(t, Replace(in("kept"), []byte("x")), "is a folder: want the name of a file")

	// A new file is never written through a link, to wherever it points.
	require.ErrorContains(t, New(in("dangling"), []byte("x")), "is there already")
	require.NoError(t, os.Remove(in("kept/later.html")))
	require.ErrorContains(t, New(in("dangling"), []byte("x")), "is there already")
	assert.NoFileExists(t, in("kept/later.html"))
}

// A folder above a linked one is above what it leads to: neither a name nor a link
// is written anywhere else.
func TestAboveLinkedFolders(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("there a/.. is . also where a is a link")
	}
	dir := t.TempDir()
	in := func(name string) string { return dir + "/" + name }
	require.NoError(t, os.MkdirAll(in("far/sub"), 0o755))
	require.NoError(t, os.Symlink("far/sub", in("near")))
	require.NoError(t, os.Symlink("../linked", in("far/sub/link")))
	for _, name := range []string{"linked", "page", "lines", ".hollowbed.lock"} {
		require.NoError(t, os.WriteFile(in(name), []byte("kept"), 0o644))
	}
	require.NoError(t, os.WriteFile(in("far/page"), []byte("old"), 0o644))
	require.NoError(t, Replace(in("near/../page"), []byte("x")))
	require.NoError(t, Replace(in("near/link"), []byte("x")))
	require.NoError(t, New(in("near/../new"), []byte("x")))
	lines, err := NewLines(in("near/../lines"))
	require.NoError(t, err)
	require.NoError(t, lines.Add([]byte("x")))
	require.NoError(t, lines.Close())
	for _, name := range []string{"page", "linked", "new", "lines"} {
		holds(t, in("far/"+name), "x")
	}
	onlyHas(t, dir, "far", "near", "linked", "page", "lines", ".hollowbed.lock")

	d, err := Open(in("near/.."), io.Discard)
	require.NoError(t, err)
	unlock, err := d.Lock()
	require.NoError(t, err)
	unlock()
	for _, name := range []string{"linked", "page", "lines"} {
		holds(t, in(name), "kept")
	}
	text, err := plainfile.Read(d.Files(), "page", 10)
	require.NoError(t, err)
	assert.Equal(t, "x", string(text))
}

// A file that somebody has under the name of a lock stays.
func TestLocksSpareFiles(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, ".rows.lock")
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o644))
	lines, err := NewLines(filepath.Join(dir, "rows"))
	require.NoError(t, err)
	require.NoError(t, lines.Close())
	holds(t, file, "mine")
}

func holds(t *testing.T, file, want string) {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, want, string(text))
}

// A file keeps its mode; one that is read-only is left alone.
func TestReplaceKeepsMode(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("modes are another thing there")
	}
	file := filepath.Join(t.TempDir(), "page.html")
	for _, mode := range []fs.FileMode{0o600, 0o640, 0o755} {
		require.NoError(t, os.WriteFile(file, []byte("old"), 0o600))
		require.NoError(t, os.Chmod(file, mode))
		require.NoError(t, Replace(file, []byte("new")))
		info, err := os.Stat(file)
		require.NoError(t, err)
		assert.Equal(t, mode, info.Mode().Perm())
	}
	require.NoError(t, os.Chmod(file, 0o444))
	require.ErrorContains(t, Replace(file, []byte("newer")), "page.html: is read-only, and is left as it is")
	holds(t, file, "new")
}

// A disk without links takes a new file too, and still never over another.
func TestWriteNewWithoutLinks(t *testing.T) {
	noLinks := func(*os.Root, string, string) error { return errors.ErrUnsupported }
	dir := filepath.Join(t.TempDir(), "made", "for it")
	file := filepath.Join(dir, "garden.yaml")
	require.NoError(t, newBy(noLinks, file, []byte("mine")))
	holds(t, file, "mine")
	err := newBy(noLinks, file, []byte("yours"))
	require.ErrorContains(t, err, "is there already")
	var bad interface{ BadInput() bool }
	require.ErrorAs(t, err, &bad)
	holds(t, file, "mine")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "no draft is left")
}

// Drafts of killed runs go with a later write, but not those of runs that may
// still be at it, nor anything else.
func TestSweep(t *testing.T) {
	dir := t.TempDir()
	old := time.Now().Add(-2 * time.Hour)
	for name, at := range map[string]time.Time{
		draftPrefix + "00": old, draftPrefix + "01": time.Now(), draftPrefix + "02": time.Now().Add(100 * time.Hour), // a clock that was set back
		".hollowbed.lock": old, ".hollowbed-mine": old, "planted.csv": old,
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o644))
		require.NoError(t, os.Chtimes(filepath.Join(dir, name), at, at))
	}
	require.NoError(t, os.Mkdir(filepath.Join(dir, draftPrefix+"folder"), 0o755))
	require.NoError(t, os.Chtimes(filepath.Join(dir, draftPrefix+"folder"), old, old))
	require.NoError(t, Replace(filepath.Join(dir, "new"), []byte("x")))
	var names []string
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	assert.Equal(t, []string{draftPrefix + "01", draftPrefix + "02", draftPrefix + "folder", ".hollowbed-mine", ".hollowbed.lock", "new", "planted.csv"}, names)
}

// A folder that is made is on the disk with every folder above it that was made
// for it: each is a name in the one above.
func TestFoldersAreSettled(t *testing.T) {
	top := t.TempDir()
	var settled []string
	require.NoError(t, makeFolder(filepath.Join(top, "a", "b", "c"), func(dir *os.Root) { settled = append(settled, dir.Name()) }))
	assert.Equal(t, []string{top, filepath.Join(top, "a"), filepath.Join(top, "a", "b")}, settled)
	settled = nil
	require.NoError(t, makeFolder(filepath.Join(top, "a", "b"), func(dir *os.Root) { settled = append(settled, dir.Name()) }))
	assert.Empty(t, settled, "nothing was made")
}
