package store

import (
	"bytes"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"time"

	"hollowbed/cmd/hollowbed/plainfile"
)

// mostBytes bounds a file of a folder; readers have bounds of their own.
const mostBytes = 64 << 20

// view is a folder as readers see it: as if a change that was begun had been
// completed.
type view struct {
	*Folder
	files fs.FS
}

// Files are the files of the folder, for one run to read: see AtOnce. A file may
// be a link, also to one outside the folder.
func (d *Folder) Files() fs.FS { return AtOnce(view{d, plainfile.Dir(d.dir)}) }

// Inside are the files of the folder without any that a link leads out to, each
// as it is when it is opened.
func (d *Folder) Inside() fs.FS { return view{d, plainfile.In(d.root)} }

func (v view) Open(name string) (fs.File, error) {
	if file, err := v.begun(name); file != nil || err != nil {
		return file, err
	}
	return v.files.Open(name)
}

func (v view) Stat(name string) (fs.FileInfo, error) {
	if file, err := v.begun(name); file != nil || err != nil {
		return file, err
	}
	return fs.Stat(v.files, name)
}

// begun is a file as a change that was begun leaves it; nil if none does.
func (v view) begun(name string) (*held, error) {
	if !slices.Contains(written(), name) {
		return nil, nil
	}
	todo, err := v.pending()
	for _, r := range todo {
		if r.Name == name {
			return &held{bytes.NewReader([]byte(r.After)), name}, nil
		}
	}
	return nil, err
}

// held is a file of which the text is in memory.
type held struct {
	*bytes.Reader
	name string
}

func (h *held) Stat() (fs.FileInfo, error) { return h, nil }
func (h *held) Close() error               { return nil }
func (h *held) Name() string               { return h.name }
func (h *held) Mode() fs.FileMode          { return 0o444 }
func (h *held) ModTime() time.Time         { return time.Time{} }
func (h *held) IsDir() bool                { return false }
func (h *held) Sys() any                   { return nil }

// Read reads a file of the folder that is to be written, as it is on the disk;
// nil if there is none.
func (d *Folder) Read(name string) ([]byte, error) {
	if info, err := d.root.Lstat(name); err == nil && info.Mode().Type() == fs.ModeSymlink {
		return nil, isLink(d.shown(name))
	}
	return d.read(name, mostBytes)
}

func (d *Folder) read(name string, most int64) ([]byte, error) {
	text, err := plainfile.Read(plainfile.In(d.root), name, most)
	var kind *plainfile.KindError
	var size *plainfile.SizeError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case errors.As(err, &kind):
		kind.Name = d.shown(name)
	case errors.As(err, &size):
		size.Name = d.shown(name)
	}
	return text, err
}

func (d *Folder) shown(name string) string { return filepath.Join(d.dir, name) }
