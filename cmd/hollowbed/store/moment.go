package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"sync"
	"time"

	"hollowbed/cmd/hollowbed/plainfile"
)

// moment is a folder of which the files that are written are all as they were at
// one moment, so that none is of before a change and another of after it.
type moment struct {
	view
	then func() map[string]read
}

// read is a file as it was then, or why it cannot be read.
type read struct {
	text []byte
	err  error
}

// AtOnce gives the files of a folder as they are when the first of those that are
// written is opened; files that are not of a Folder are given back.
func AtOnce(files fs.FS) fs.FS {
	if v, ok := files.(view); ok {
		return moment{v, sync.OnceValue(v.readAll)}
	}
	return files
}

func (m moment) Open(name string) (fs.File, error) {
	if file, err := m.held(name); file != nil || err != nil {
		return file, err
	}
	return m.view.Open(name)
}

func (m moment) Stat(name string) (fs.FileInfo, error) {
	if file, err := m.held(name); file != nil || err != nil {
		return file, err
	}
	return m.view.Stat(name)
}

// held is a file as it was then; nil if the disk is to be asked.
func (m moment) held(name string) (*held, error) {
	if !slices.Contains(written(), name) {
		return nil, nil
	}
	r, ok := m.then()[name]
	if !ok || r.err != nil {
		return nil, r.err
	}
	return &held{bytes.NewReader(r.text), name}, nil
}

// readAll reads the files that are written until no change comes between. What
// cannot be read is left to whoever opens it.
func (v view) readAll() map[string]read {
	const times, pause = 6, 4 * time.Millisecond
	all := map[string]read{}
	for i := range times {
		time.Sleep(time.Duration(i) * pause)
		clear(all)
		before := v.marks()
		for _, name := range written() {
			text, err := plainfile.Read(v, name, mostBytes)
			if err == nil || errors.Is(err, fs.ErrNotExist) {
				all[name] = read{text, err}
			}
		}
		if slices.EqualFunc(before, v.marks(), unchanged) {
			return all
		}
	}
	for _, name := range written() {
		all[name] = read{err: fmt.Errorf("%s: was written to while it was read: run again when that is done", v.dir)}
	}
	return all
}

// marks tell a change of the files that are written; nil for one that is not there.
func (v view) marks() (marks []fs.FileInfo) {
	info, _ := v.root.Lstat(redoName)
	marks = append(marks, info)
	for _, name := range written() {
		info, _ := fs.Stat(v.files, name)
		marks = append(marks, info)
	}
	return marks
}

func unchanged(a, b fs.FileInfo) bool {
	if a == nil || b == nil {
		return a == b
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}
