// Package store writes files whole or not at all, and keeps a garden's folder:
// who writes in it, what is written there together, and what is read of it.
//
// Every text is written to a draft beside its place, forced to the disk, and put
// in place in one step, so that the old text or the new one is left whenever the
// run is killed. Lines alone are written as they come.
package store

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// ChangedError says that a file is no longer as it was read.
type ChangedError struct{ File string }

func (e *ChangedError) Error() string {
	return e.File + ": changed while this ran, and is left as it is: run again"
}

// badInput is an error that the user can mend.
type badInput struct{ error }

func (badInput) BadInput() bool { return true }

func bad(format string, args ...any) error { return badInput{fmt.Errorf(format, args...)} }

// Replace puts a text in place of what a file holds, or makes the file. A
// symbolic link stays one, and what it points to is replaced; a file keeps its
// mode, and one that is read-only is left as it is. A device or a pipe is
// written to. Where a system cannot swap a file in one step (Windows promises
// no such thing) the swap is as whole as that system makes it.
func Replace(file string, content []byte) error {
	if info, err := os.Stat(file); err == nil && !info.IsDir() && !info.Mode().IsRegular() {
		return writeThrough(file, content)
	}
	target, err := Target(file)
	if err != nil {
		return err
	}
	var mode fs.FileMode
	switch info, err := os.Stat(target); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return notWritten(file, err)
	case info.IsDir():
		return bad("%s: is a folder: want the name of a file", file)
	case info.Mode()&0o200 == 0:
		return readOnly(file)
	default:
		mode = info.Mode().Perm()
	}
	return beside(file, target, content, mode, (*os.Root).Rename)
}

func readOnly(file string) error {
	return fmt.Errorf("%s: is read-only, and is left as it is", file)
}

// beside writes a draft beside a target, and puts it in place.
func beside(file, target string, content []byte, mode fs.FileMode, put func(dir *os.Root, draft, name string) error) error {
	dir, err := os.OpenRoot(filepath.Dir(target))
	if err != nil {
		return notWritten(file, err)
	}
	defer dir.Close()
	draft, err := stage(dir, content, mode)
	if err != nil {
		return notWritten(file, err)
	}
	defer dir.Remove(draft)
	if err := put(dir, draft, filepath.Base(target)); err != nil {
		return notWritten(file, err)
	}
	settle(dir)
	return nil
}

// Target is the file that a name stands for after all symbolic links; it need
// not be there.
func Target(file string) (string, error) {
	target := file
	for range 40 {
		_, base := filepath.Split(target)
		if base == "" { // no name of a file
			return target, nil
		}
		dir := folderOf(target)
		target = filepath.Join(dir, base)
		next, err := os.Readlink(target)
		if err != nil { // no link, or nothing there
			return target, nil
		}
		if !filepath.IsAbs(next) {
			next = dir + string(filepath.Separator) + next
		}
		target = next
	}
	return "", bad("%s: a symbolic link that leads in a circle: want the name of a file", file)
}

// folderOf is the folder of a file, after all symbolic links: where a is one,
// a/../b is not b.
func folderOf(file string) string {
	dir, _ := filepath.Split(file)
	if real, err := filepath.EvalSymlinks(cmp.Or(dir, ".")); err == nil {
		return real
	}
	return filepath.Dir(file) // not there yet
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

// Free returns an error if there is such a file already.
func Free(file string) error {
	if _, err := os.Lstat(file); err == nil {
		return bad("%s: is there already, and is left as it is: want another name", file)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// New writes a new file into a folder, which it makes where need be, and never
// over another, whoever else writes there.
func New(file string, content []byte) error { return newBy((*os.Root).Link, file, content) }

// newBy is New with the step that puts the draft in place.
func newBy(link func(dir *os.Root, draft, name string) error, file string, content []byte) error {
	if err := makeFolder(folderOf(file), settle); err != nil {
		return notWritten(file, err)
	}
	return beside(file, filepath.Join(folderOf(file), filepath.Base(file)), content, 0, func(dir *os.Root, draft, name string) error {
		err := link(dir, draft, name) // a link, unlike a rename, never replaces
		if err == nil {
			return nil
		}
		if taken := Free(file); taken != nil {
			return taken
		}
		if claim(dir, draft, name) == nil { // a disk without links, as many a memory stick
			return nil
		}
		if taken := Free(file); taken != nil {
			return taken
		}
		return err
	})
}

// putNew puts a draft in place unless somebody has that name.
func putNew(dir *os.Root, draft, name string) error {
	err := dir.Link(draft, name) // a link, unlike a rename, never replaces
	if err != nil && !errors.Is(err, fs.ErrExist) {
		err = claim(dir, draft, name) // a disk without links, as many a memory stick
	}
	return err
}

// claim puts a draft in place of an empty file that only one run can make. A
// run that is killed between the two leaves the empty file.
func claim(dir *os.Root, draft, name string) error {
	f, err := dir.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	if err := errors.Join(f.Close(), dir.Rename(draft, name)); err != nil {
		dir.Remove(name)
		return err
	}
	return nil
}

// MakeFolder makes a folder with all above it, down to the disk.
func MakeFolder(name string) error {
	if err := makeFolder(name, settle); err != nil {
		return notWritten(name, err)
	}
	return nil
}

func makeFolder(name string, settle func(*os.Root)) error {
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		return nil
	}
	above := filepath.Dir(name)
	if above != name {
		if err := makeFolder(above, settle); err != nil {
			return err
		}
	}
	if err := os.Mkdir(name, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	dir, err := os.OpenRoot(above)
	if err != nil {
		return nil // it may be entered but not read
	}
	defer dir.Close()
	settle(dir)
	return nil
}

const (
	draftPrefix = ".hollowbed-draft-"
	draftDead   = time.Hour // no write takes so long: its run was killed
)

// stage writes a draft to a folder, down to the disk, and returns its name. A
// mode of 0 gives it that of any new file.
func stage(dir *os.Root, content []byte, mode fs.FileMode) (string, error) {
	sweep(dir)
	name := fmt.Sprintf("%s%016x", draftPrefix, rand.Uint64())
	f, err := dir.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return "", err
	}
	_, err = f.Write(content)
	if mode != 0 {
		err = errors.Join(err, f.Chmod(mode))
	}
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		dir.Remove(name)
		return "", err
	}
	return name, nil
}

// sweep removes the drafts that killed runs left in a folder. It may fail in
// silence: they do no harm.
func sweep(dir *os.Root) {
	entries, _ := fs.ReadDir(dir.FS(), ".")
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), draftPrefix) || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > draftDead {
			dir.Remove(e.Name())
		}
	}
}

// settle forces the names in a folder to the disk. Where a system or a disk
// cannot do that it is left: the file itself is whole.
func settle(dir *os.Root) {
	if d, err := dir.Open("."); err == nil {
		_ = d.Sync()
		d.Close()
	}
}

// notWritten says that a file was not written, and why, without the name of a
// draft that is gone again. Bad input stays that.
func notWritten(file string, err error) error {
	var path *fs.PathError
	var link *os.LinkError
	var mendable badInput
	switch {
	case errors.As(err, &mendable):
		return err
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("%s: not written: %w", file, err)
}
