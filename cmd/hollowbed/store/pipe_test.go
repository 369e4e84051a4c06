//go:build unix

package store

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What goes to a pipe by a link of the system, as /dev/stdout is, goes there.
func TestReplaceWritesToPipes(t *testing.T) {
	r, w, err := os.Pipe()
	require.NoError(t, err)
	defer r.Close()
	require.NoError(t, Replace(fmt.Sprintf("/dev/fd/%d", w.Fd()), []byte("x")))
	require.NoError(t, w.Close())
	text, err := io.ReadAll(r)
	require.NoError(t, err)
	assert.Equal(t, "x", string(text))
}

// Pipes are refused at once wherever they stand: nobody waits for somebody to
// write into them.
func TestPipesAreRefused(t *testing.T) {
	for _, name := range []string{redoName, ".hollowbed.lock", "planted.csv", "plants.csv"} {
		d, dir := opened(t, nil)
		require.NoError(t, syscall.Mkfifo(filepath.Join(dir, name), 0o666))
		ended := make(chan []error, 1)
		go func() {
			_, opened := d.Files().Open(name)
			_, inside := d.Inside().Open(name)
			errs := []error{opened, inside}
			if name == redoName || name == ".hollowbed.lock" {
				_, locking := d.Lock()
				errs = append(errs, locking)
			} else if name == "planted.csv" {
				errs = append(errs, d.Change(Change{name, nil, []byte("x")}))
			}
			ended <- errs
		}()
		select {
		case errs := <-ended:
			for _, err := range errs {
				assert.ErrorContains(t, err, name+": is no plain file")
			}
		case <-time.After(10 * time.Second):
			require.Fail(t, "it waits", name)
		}
	}
	d, _ := opened(t, nil)
	_, err := d.Files().Open("../x")
	assert.ErrorIs(t, err, fs.ErrInvalid)
}
