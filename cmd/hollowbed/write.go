package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// Every file that a command writes goes through writeNew, replace or change.
// Each leaves the old state or the new one, whenever the run is killed: the
// text is written to a draft beside its place, forced to the disk, and put in
// place in one step.

// changedError says that a file is no longer as it was read.
type changedError struct{ File string }

func (e *changedError) Error() string {
	return e.File + ": changed while this ran, and is left as it is: run again"
}

// lockFolder keeps other runs from writing in a garden's folder until unlock.
func lockFolder(dir string) (unlock func(), err error) {
	lock := flock.New(filepath.Join(dir, ".hollowbed.lock"))
	if err := takeLock(lock); err != nil {
		return nil, notWritten(dir, err)
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
	return replace(file, after)
}

// replace puts a text in place of what a file holds, or makes the file. A
// symbolic link stays one, and what it points to is replaced; a file keeps its
// mode, and one that is read-only is left as it is. A device or a pipe is
// written to. Where a system cannot swap a file in one step (Windows promises
// no such thing) the swap is as whole as that system makes it.
func replace(file string, content []byte) error {
	target, err := followed(file)
	if err != nil {
		return err
	}
	var mode fs.FileMode
	switch info, err := os.Stat(target); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return notWritten(file, err)
	case info.IsDir():
		return usagef("%s: is a folder: want the name of a file", file)
	case !info.Mode().IsRegular():
		return writeThrough(file, content)
	case info.Mode()&0o200 == 0:
		return fmt.Errorf("%s: is read-only, and is left as it is", file)
	default:
		mode = info.Mode().Perm()
	}
	draft, err := stage(filepath.Dir(target), content, mode)
	if err != nil {
		return notWritten(file, err)
	}
	defer os.Remove(draft)
	if err := os.Rename(draft, target); err != nil {
		return notWritten(file, err)
	}
	settle(filepath.Dir(target))
	return nil
}

// followed is the file that a name stands for after all symbolic links; it
// need not be there.
func followed(file string) (string, error) {
	target := file
	for range 40 {
		next, err := os.Readlink(target)
		if err != nil { // no link, or nothing there
			return target, nil
		}
		if !filepath.IsAbs(next) {
			next = filepath.Join(filepath.Dir(target), next)
		}
		target = next
	}
	return "", usagef("%s: a symbolic link that leads in a circle: want the name of a file", file)
}

// writeThrough writes to what is no plain file, such as a pipe or a device.
func writeThrough(file string, content []byte) error {
	f, err := os.OpenFile(file, os.O_WRONLY, 0)
	if err != nil {
		return notWritten(file, err)
	}
	_, err = f.Write(content)
	if err := errors.Join(err, f.Close()); err != nil {
		return notWritten(file, err)
	}
	return nil
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

// writeNew writes a new file into a folder, which it makes where need be, and
// never over another, whoever else writes there.
func writeNew(file string, content []byte) error { return writeNewBy(os.Link, file, content) }

// writeNewBy is writeNew with the step that puts the draft in place.
func writeNewBy(link func(old, new string) error, file string, content []byte) error {
	dir := filepath.Dir(file)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return notWritten(file, err)
	}
	draft, err := stage(dir, content, 0)
	if err != nil {
		return notWritten(file, err)
	}
	defer os.Remove(draft)
	if err = link(draft, file); err != nil { // a link, unlike a rename, never replaces
		if taken := free(file); taken != nil {
			return taken
		}
		err = claim(draft, file) // a disk without links, as many a memory stick
	}
	if err != nil {
		return notWritten(file, err)
	}
	settle(dir)
	return nil
}

// claim puts a draft in place of an empty file that only one run can make. A
// run that is killed between the two leaves the empty file.
func claim(draft, file string) error {
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return free(file)
	} else if err != nil {
		return err
	}
	if err := errors.Join(f.Close(), os.Rename(draft, file)); err != nil {
		os.Remove(file)
		return err
	}
	return nil
}

const (
	draftPrefix = ".hollowbed-draft-"
	draftDead   = time.Hour // no write takes so long: its run was killed
)

// stage writes a draft to a folder, down to the disk, and returns its name. A
// mode of 0 gives it that of any new file.
func stage(dir string, content []byte, mode fs.FileMode) (string, error) {
	sweep(dir)
	name := filepath.Join(dir, fmt.Sprintf("%s%016x", draftPrefix, rand.Uint64()))
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return "", err
	}
	_, err = f.Write(content)
	if mode != 0 {
		err = errors.Join(err, f.Chmod(mode))
	}
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		os.Remove(name)
		return "", err
	}
	return name, nil
}

// sweep removes the drafts that killed runs left in a folder. It may fail in
// silence: they do no harm.
func sweep(dir string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), draftPrefix) || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > draftDead {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// settle forces the names in a folder to the disk. Where a system or a disk
// cannot do that it is left: the file itself is whole.
func settle(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		d.Close()
	}
}

// notWritten says that a file was not written, and why, without the name of a
// draft that is gone again. Bad input stays that.
func notWritten(file string, err error) error {
	var path *fs.PathError
	var link *os.LinkError
	var bad usageError
	switch {
	case errors.As(err, &bad):
		return err
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("%s: not written: %w", file, err)
}

// takeLock waits a few seconds for a lock, not for ever.
func takeLock(lock *flock.Flock) error {
	for range 50 {
		ok, err := lock.TryLock()
		if err != nil {
			return err
		}
		if ok {
			return nil
		}
		time.Sleep(100 * time.Millisecond)
	}
	return errors.New("another hollowbed is writing there: try again when that is done")
}
