//go:build unix

package plainfile

import (
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inTime fails rather than waiting for ever.
func inTime(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() { defer close(done); do() }()
	select {
	case <-done:
	case <-time.After(10 * time.Second):
		t.Fatal(what + ": waits")
	}
}

// A pipe, a device and a folder are refused in words, by a name and by a link.
func TestKinds(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "file"), []byte("text"), 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder"), 0o700))
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600))
	for link, to := range map[string]string{"to-file": "file", "to-pipe": "pipe", "to-zero": "/dev/zero", "round": "round"} {
		require.NoError(t, os.Symlink(to, filepath.Join(dir, link)))
	}
	root, err := os.OpenRoot(dir)
	require.NoError(t, err)
	defer root.Close()
	for name, files := range map[string]fs.FS{"below a root": In(root), "links lead out": Dir(dir), "of the library": os.DirFS(dir)} {
		for _, good := range []string{"file", "to-file"} {
			text, err := Read(files, good, 4)
			require.NoError(t, err, name)
			assert.Equal(t, "text", string(text), name)
		}
		for bad, is := range map[string]string{
			"folder": "a folder: want a plain file", "round": "a symbolic link that leads in a circle: want a plain file",
			"pipe": "no plain file: want one", "to-pipe": "no plain file: want one", "to-zero": "no plain file: want one",
		} {
			inTime(t, name+", "+bad, func() {
				_, err := Read(files, bad, 4)
				if bad == "to-zero" && name == "below a root" {
					is = "a link that leads out of the folder: want a plain file"
				}
				var kind *KindError
				assert.ErrorAs(t, err, &kind, "%s, %s", name, bad)
				assert.EqualError(t, err, bad+": is "+is, name)
			})
		}
		_, err := Read(files, "none", 4)
		assert.ErrorIs(t, err, fs.ErrNotExist, name)
		_, err = Open(files, "../x", "../x")
		assert.Error(t, err, name)
	}
}

// A pipe that takes a file's place between looking and opening is not waited
// for, and is refused.
func TestSwapped(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600))
	root, err := os.OpenRoot(dir)
	require.NoError(t, err)
	defer root.Close()
	for name, files := range map[string]fs.FS{"below a root": In(root), "links lead out": Dir(dir)} {
		f := files.(folder)
		f.stat = func(string) (fs.FileInfo, error) { // as it was a moment ago
			return fs.Stat(fstest.MapFS{"pipe": {Data: []byte("text")}}, "pipe")
		}
		inTime(t, name, func() {
			_, err := Read(f, "pipe", 4)
			assert.EqualError(t, err, "pipe: is no plain file: want one", name)
		})
	}
}

// Too large a file is refused before it is read, and one that grows meanwhile.
func TestBound(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "large"), nil, 0o600))
	require.NoError(t, os.Truncate(filepath.Join(dir, "large"), 4<<30)) // takes no room on the disk
	var size *SizeError
	inTime(t, "large", func() {
		_, err := Read(Dir(dir), "large", 1<<20)
		assert.ErrorAs(t, err, &size)
		assert.EqualError(t, err, "large: too large: want a file of at most 1 MB")
	})
	_, err := Read(grows{fstest.MapFS{"f": {Data: make([]byte, 9)}}}, "f", 8)
	assert.ErrorAs(t, err, &size)
	_, err = Read(grows{fstest.MapFS{"f": {Data: make([]byte, 8)}}}, "f", 8)
	assert.NoError(t, err)
}

// grows gives files that seemed empty when they were opened.
type grows struct{ fs.FS }

func (g grows) Open(name string) (fs.File, error) {
	file, err := g.FS.Open(name)
	return growing{file}, err
}

type growing struct{ fs.File }

func (growing) Stat() (fs.FileInfo, error) { return fs.Stat(fstest.MapFS{"f": {}}, "f") }
