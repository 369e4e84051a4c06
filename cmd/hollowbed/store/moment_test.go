package store

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A run that has read one file of a folder does not see a change of the others
// that is made after it, nor a file that is made or taken away.
func TestOneMoment(t *testing.T) {
	for name, files := range map[string]func(*Folder) fs.FS{
		"files":  (*Folder).Files,
		"inside": func(d *Folder) fs.FS { return AtOnce(d.Inside()) },
	} {
		d, dir := opened(t, map[string]string{"planted.csv": "p0", "garden.yaml": "g0"})
		view := files(d)
		text, err := fs.ReadFile(view, "planted.csv")
		require.NoError(t, err)
		require.Equal(t, "p0", string(text))
		require.NoError(t, d.Change(Change{"planted.csv", []byte("p0"), []byte("p1")}, Change{"season.csv", nil, []byte("s1")}))
		require.NoError(t, os.Remove(filepath.Join(dir, "garden.yaml")))
		_, err = fs.Stat(view, "season.csv")
		assert.ErrorIs(t, err, fs.ErrNotExist, name)
		for file, want := range map[string]string{"planted.csv": "p0", "garden.yaml": "g0"} {
			text, err := fs.ReadFile(view, file)
			require.NoError(t, err, name)
			assert.Equal(t, want, string(text), name)
		}
		text, err = fs.ReadFile(files(d), "season.csv")
		require.NoError(t, err, name)
		assert.Equal(t, "s1", string(text), "another run sees it: %s", name)
	}
}

// While a change is made again and again, every reader finds files that belong
// together.
func TestNoMixtureOfMoments(t *testing.T) {
	d, dir := opened(t, map[string]string{"planted.csv": "0", "season.csv": "0"})
	var over atomic.Bool
	ended := make(chan error, 1)
	go func() {
		var err error
		for k := 0; err == nil && !over.Load(); k++ {
			old, anew := []byte(fmt.Sprint(k)), []byte(fmt.Sprint(k+1))
			err = d.Change(Change{"planted.csv", old, anew}, Change{"season.csv", old, anew})
		}
		ended <- err
	}()
	reader, err := Open(dir, io.Discard)
	require.NoError(t, err)
	seen := map[string]bool{}
	for late := time.Now().Add(20 * time.Second); len(seen) < 30 && time.Now().Before(late); {
		files := reader.Files()
		planted, err := fs.ReadFile(files, "planted.csv")
		if err != nil {
			require.ErrorContains(t, err, "was written to while it was read")
			continue
		}
		season, err := fs.ReadFile(files, "season.csv")
		require.NoError(t, err)
		require.Equal(t, string(planted), string(season))
		seen[string(planted)] = true
	}
	over.Store(true)
	require.NoError(t, <-ended)
	assert.Len(t, seen, 30, "while it changed")
}
