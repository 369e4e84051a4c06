// Package plainfile opens and reads the files of a folder without ever waiting
// for one: a pipe or a device is refused, also one that is put in place of a
// file at that moment, and what is read whole is bounded.
package plainfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// KindError says that a name stands for no plain file.
type KindError struct {
	Name string
	Is   string // what it is, where that is known: "a folder"
}

func (e *KindError) Error() string {
	if e.Is != "" {
		return e.Name + ": is " + e.Is + ": want a plain file"
	}
	return e.Name + ": is no plain file: want one"
}

// BadInput marks the error as one that the user can mend.
func (e *KindError) BadInput() bool { return true }

// SizeError says that a file is larger than any that is meant.
type SizeError struct {
	Name string
	Most int64 // bytes
}

func (e *SizeError) Error() string {
	return fmt.Sprintf("%s: too large: want a file of at most %d MB", e.Name, e.Most/1_000_000)
}

// BadInput marks the error as one that the user can mend.
func (e *SizeError) BadInput() bool { return true }

// folder opens without waiting.
type folder struct {
	open func(name string, flag int, mode fs.FileMode) (*os.File, error)
	stat func(name string) (fs.FileInfo, error)
}

// In gives the files below a root; no name and no link leads out of it.
func In(root *os.Root) fs.FS {
	return folder{root.OpenFile, func(name string) (fs.FileInfo, error) {
		info, err := root.Stat(name)
		if err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ELOOP) {
			return info, err
		}
		if link, _ := root.Lstat(name); link != nil && link.Mode().Type() == fs.ModeSymlink {
			err = &KindError{name, "a link that leads out of the folder"}
		}
		return nil, err
	}}
}

// Dir gives the files below a folder; links lead where they lead.
func Dir(dir string) fs.FS {
	return folder{
		func(name string, flag int, mode fs.FileMode) (*os.File, error) {
			file, err := os.OpenFile(dir+string(filepath.Separator)+filepath.FromSlash(name), flag, mode) // not cleaned: a/.. is not . where a is a link
			var path *fs.PathError
			if errors.As(err, &path) {
				path.Path = name // as os.DirFS words it
			}
			return file, err
		},
		os.DirFS(dir).(fs.StatFS).Stat,
	}
}

// Stat tells of a file without opening it.
func (f folder) Stat(name string) (fs.FileInfo, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "stat", Path: name, Err: fs.ErrInvalid}
	}
	return f.stat(name)
}

// Open opens a plain file or a folder. What is neither is not opened, where that
// can be known: opening a device may do something.
func (f folder) Open(name string) (fs.File, error) {
	info, err := f.Stat(name)
	if err != nil {
		return nil, err
	}
	if !readable(info) {
		return nil, &KindError{Name: name}
	}
	file, err := f.open(name, os.O_RDONLY|atOnce, 0)
	if err != nil {
		return nil, err
	}
	return checked(file, name)
}

// checked closes a file again that is neither a plain one nor a folder.
func checked(file fs.File, name string) (fs.File, error) {
	info, err := file.Stat()
	if err == nil && !readable(info) {
		err = &KindError{Name: name}
	}
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return file, nil
}

// readable is so for folders too: they can be opened.
func readable(info fs.FileInfo) bool { return info.Mode().IsRegular() || info.IsDir() }

// Open opens a file that messages call shown. Of files other than In and Dir
// give, one that is swapped for a pipe at that moment may be waited for.
func Open(files fs.FS, name, shown string) (fs.File, error) {
	var kind *KindError
	info, err := fs.Stat(files, name)
	if errors.As(err, &kind) && kind.Name == name { // not another that it rests on
		return nil, &KindError{shown, kind.Is}
	}
	if err := Other(shown, info, err); err != nil {
		return nil, err
	}
	file, err := files.Open(name)
	if errors.As(err, &kind) {
		return nil, &KindError{Name: shown}
	} else if err != nil {
		return nil, err
	}
	return checked(file, shown)
}

// Other gives the error of a file that could not be looked at, or is no plain
// one: a KindError where something else stands in its place.
func Other(shown string, info fs.FileInfo, err error) error {
	switch {
	case errors.Is(err, syscall.ELOOP):
		return &KindError{shown, "a symbolic link that leads in a circle"}
	case err != nil:
		return err
	case info.IsDir():
		return &KindError{shown, "a folder"}
	case !info.Mode().IsRegular():
		return &KindError{Name: shown}
	}
	return nil
}

// Read reads a plain file of at most so many bytes.
func Read(files fs.FS, name string, most int64) ([]byte, error) {
	file, err := Open(files, name, name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.Size() > most:
		return nil, &SizeError{name, most}
	}
	text, err := io.ReadAll(io.LimitReader(file, most+1)) // it may be growing
	if err == nil && int64(len(text)) > most {
		err = &SizeError{name, most}
	}
	return text, err
}
