package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// Lines is a file that grows line by line. Each is written by itself and at
// once, so that a run that is killed leaves whole lines, and at most one torn
// one at the end.
type Lines struct {
	*os.File
	name   string
	unlock func()
	synced time.Time
}

// syncEvery is how much of a long run a machine that stops may take with it.
const syncEvery = 5 * time.Second

// NewLines makes a file for lines, and keeps other runs from it.
func NewLines(name string) (*Lines, error) {
	if err := Free(name); err != nil {
		return nil, fmt.Errorf("%w, or --resume to go on with it", err)
	}
	return openLines(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL)
}

// MoreLines opens a file of lines, or makes it, and keeps other runs from it.
func MoreLines(name string) (*Lines, error) { return openLines(name, os.O_RDWR|os.O_CREATE) }

func openLines(name string, flags int) (*Lines, error) {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() { // a device may never end
		return nil, bad("%s: is no plain file: want one; without --out and --resume the lines go to the standard output", name)
	}
	if err := MakeFolder(folderOf(name)); err != nil {
		return nil, err
	}
	target, err := Target(name)
	if err != nil {
		return nil, err
	}
	dir, err := os.OpenRoot(filepath.Dir(target))
	if err != nil {
		return nil, notWritten(name, err)
	}
	unlock, err := lockBeside(dir, name, filepath.Base(target))
	if err != nil {
		return nil, errors.Join(err, dir.Close())
	}
	file, err := os.OpenFile(name, flags, 0o666)
	if err != nil {
		unlock()
		return nil, notWritten(name, err)
	}
	settle(dir)
	return &Lines{File: file, name: name, unlock: unlock, synced: time.Now()}, nil
}

// lockBeside keeps other runs from writing to a file, whatever link they name it
// by, by a lock beside it that goes away with unlock.
func lockBeside(dir *os.Root, name, base string) (unlock func(), err error) {
	lockName := "." + base + ".lock"
	lock, err := takeLock(dir, lockName, 0)
	switch {
	case errors.Is(err, errLocked):
		return nil, fmt.Errorf("%s: another hollowbed writes to it: wait for that, or give each run a file of its own", name)
	case err != nil:
		return nil, notWritten(name, err)
	}
	return func() {
		defer dir.Close()
		info, err := lock.Stat()
		ours := err == nil && info.Size() == 0   // or somebody's file of that name
		if ours && dir.Remove(lockName) != nil { // a system that removes no open file
			defer dir.Remove(lockName)
		}
		_ = lock.Unlock()
	}, nil
}

// Add adds a line at the end.
func (l *Lines) Add(line []byte) error {
	_, err := l.Write(line)
	if err == nil && time.Since(l.synced) > syncEvery {
		err, l.synced = l.Sync(), time.Now()
	}
	if err != nil {
		return fmt.Errorf("%w; what is whole stays: go on with --resume %s", notWritten(l.name, err), l.name)
	}
	return nil
}

// CutAt cuts off what stands after so many bytes, and goes on from there.
func (l *Lines) CutAt(bytes int64) error {
	err := l.Truncate(bytes)
	if err == nil {
		_, err = l.Seek(bytes, 0)
	}
	if err != nil {
		return notWritten(l.name, err)
	}
	return nil
}

// Close forces the lines to the disk and lets other runs have the file.
func (l *Lines) Close() error {
	defer l.unlock()
	if err := errors.Join(l.Sync(), l.File.Close()); err != nil {
		return notWritten(l.name, err)
	}
	return nil
}
