package store

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"time"

	"hollowbed/cmd/hollowbed/plainfile"
)

// Folder is a garden's folder. What is written in it are its own files, garden.yaml,
// planted.csv, season.csv and photographs, never what a link in their place leads to, and
// whatever folder takes the place of this one.
type Folder struct {
	dir    string // as shown to people
	root   *os.Root
	tell   io.Writer
	settle func(*os.Root)
}

// written are the files that are written.
func written() []string { return []string{"garden.yaml", "planted.csv", "season.csv"} }

// Open opens a folder, and tells of changes of stopped runs that it completes.
func Open(dir string, tell io.Writer) (*Folder, error) {
	root, err := os.OpenRoot(dir) // closed when nobody holds it any more
	if err != nil {
		return nil, err
	}
	return &Folder{dir: dir, root: root, tell: tell, settle: settle}, nil
}

// Lock keeps other runs from writing in the folder until unlock. Whoever has the
// lock finds no change half done: one that a run had begun is completed first,
// or refused.
func (d *Folder) Lock() (unlock func(), err error) {
	const patience = 5 * time.Second
	lock, err := takeLock(d.root, ".hollowbed.lock", patience)
	if err != nil {
		return nil, notWritten(d.dir, err)
	}
	unlock = func() { _ = lock.Unlock() }
	if err := d.complete(); err != nil {
		unlock()
		return nil, err
	}
	return unlock, nil
}

// Edit writes a file anew from what stands there now, under the lock.
func (d *Folder) Edit(name string, anew func(old []byte) ([]byte, error)) error {
	unlock, err := d.Lock()
	if err != nil {
		return err
	}
	defer unlock()
	return d.edit(name, anew)
}

// edit is Edit for who holds the lock.
func (d *Folder) edit(name string, anew func(old []byte) ([]byte, error)) error {
	old, err := d.Read(name)
	if err != nil {
		return err
	}
	text, err := anew(old)
	if err != nil || bytes.Equal(text, old) {
		return err
	}
	return d.Change(Change{name, old, text})
}

// Change is a file of a folder before and after a change; Before is nil if there
// was none.
type Change struct {
	Name          string
	Before, After []byte
}

// Change changes files of the folder: all of them or, if any no longer holds what
// it held, none. That is looked at last, when all is on the disk and only has to
// be put in place. The caller holds the lock.
func (d *Folder) Change(changes ...Change) error {
	var drafts []string
	defer func() {
		for _, name := range drafts {
			d.root.Remove(name)
		}
	}()
	for _, c := range changes {
		draft, err := d.draft(c)
		if err != nil {
			return err
		}
		drafts = append(drafts, draft)
	}
	switch len(changes) {
	case 0:
		return nil
	case 1:
		return d.put(drafts[0], changes[0])
	}
	note, err := d.draftRedo(changes)
	if err != nil {
		return err
	}
	drafts = append(drafts, note)
	for _, c := range changes {
		if err := d.same(c); err != nil {
			return err
		}
	}
	if err := d.root.Rename(note, redoName); err != nil {
		return notWritten(d.shown(redoName), err)
	}
	d.settle(d.root)
	for i, c := range changes {
		if err := d.put(drafts[i], c); err != nil {
			return errors.Join(err, d.undo(changes[:i]))
		}
	}
	return d.forget()
}

// draft writes the new text of a file to a draft.
func (d *Folder) draft(c Change) (string, error) {
	file := d.shown(c.Name)
	if !slices.Contains(written(), c.Name) {
		return "", fmt.Errorf("%s: is no file that is written here", file)
	}
	var mode fs.FileMode
	switch info, err := d.root.Lstat(c.Name); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return "", notWritten(file, err)
	case info.Mode().Type() == fs.ModeSymlink:
		return "", isLink(file)
	case !info.Mode().IsRegular():
		return "", &plainfile.KindError{Name: file}
	case info.Mode()&0o200 == 0:
		return "", readOnly(file)
	default:
		mode = info.Mode().Perm()
	}
	draft, err := stage(d.root, c.After, mode)
	if err != nil {
		return "", notWritten(file, err)
	}
	return draft, nil
}

func isLink(file string) error {
	return bad("%s: is a link, and is left as it is: expected the file itself, so that nothing outside this folder is written", file)
}

// same says that a file is the plain one, or the missing one, that it was.
func (d *Folder) same(c Change) error {
	now, err := d.plain(c.Name)
	if err == nil && ((now == nil) != (c.Before == nil) || !bytes.Equal(now, c.Before)) {
		err = &ChangedError{d.shown(c.Name)}
	}
	return err
}

// plain reads a file that is no link; nil if there is none.
func (d *Folder) plain(name string) ([]byte, error) {
	info, err := d.root.Lstat(name)
	if err == nil && !info.Mode().IsRegular() {
		return nil, &plainfile.KindError{Name: d.shown(name)}
	}
	return d.Read(name)
}

// put puts a draft in place, if the file is as it was.
func (d *Folder) put(draft string, c Change) error {
	if err := d.same(c); err != nil {
		return err
	}
	place := d.root.Rename
	if c.Before == nil { // never over a file that somebody else makes just now
		place = func(draft, name string) error { return putNew(d.root, draft, name) }
	}
	switch err := place(draft, c.Name); {
	case errors.Is(err, fs.ErrExist):
		return &ChangedError{d.shown(c.Name)}
	case err != nil:
		return notWritten(d.shown(c.Name), err)
	}
	d.settle(d.root)
	return nil
}
