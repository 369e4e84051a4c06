//go:build unix

package store

import (
	"io/fs"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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
