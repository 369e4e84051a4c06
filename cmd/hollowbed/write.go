package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
	"github.com/google/renameio/v2/maybe"
)

// changedError says that a file is no longer as it was read.
type changedError struct{ File string }

func (e *changedError) Error() string {
	return e.File + ": changed while this ran, and is left as it is: run again"
}

// lockFolder keeps other runs from writing in a garden's folder until unlock.
func lockFolder(dir string) (unlock func(), err error) {
	lock := flock.New(filepath.Join(dir, ".hollowbed.lock"))
	if err := takeLock(lock); err != nil {
		return nil, err
	}
	return func() { _ = lock.Unlock() }, nil
}

// change puts a new text in place of a file that holds before, nil for no such
// file. Nothing is written if the file holds something else by now. The caller
// holds the lock of the folder.
func change(file string, before, after []byte) error {
	now, err := os.ReadFile(file)
	switch {
	case errors.Is(err, fs.ErrNotExist) && before == nil:
		return writeNew(file, after)
	case errors.Is(err, fs.ErrNotExist), err == nil && (before == nil || !bytes.Equal(now, before)):
		return &changedError{file}
	case err != nil:
		return err
	}
	return maybe.WriteFile(file, after, 0o644)
}

// free returns an error if there is such a file already.
func free(file string) error {
	if _, err := os.Lstat(file); err == nil {
		return usagef("%s: is there already, and is left as it is: want another name", file)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// writeNew writes a new file into a folder, which it makes where need be:
// whole or not at all, and never over another, whoever else writes there.
func writeNew(file string, content []byte) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	t, err := os.CreateTemp(filepath.Dir(file), ".hollowbed-*")
	if err != nil {
		return err
	}
	defer os.Remove(t.Name())
	_, err = t.Write(content)
	if err := errors.Join(err, t.Chmod(0o644), t.Sync(), t.Close()); err != nil {
		return err
	}
	if err := os.Link(t.Name(), file); err != nil { // a link, unlike a rename, never replaces
		return errors.Join(free(file), err)
	}
	return nil
}

// takeLock waits a few seconds for a lock, not for ever.
func takeLock(lock *flock.Flock) error {
	for range 50 {
		ok, err := lock.TryLock()
		if err != nil {
			return fmt.Errorf("lock %s: %w", lock.Path(), err)
		}
		if ok {
			return nil
		}
		time.Sleep(100 * time.Millisecond)
	}
	return fmt.Errorf("%s: another hollowbed holds it: try again when that is done", lock.Path())
}
