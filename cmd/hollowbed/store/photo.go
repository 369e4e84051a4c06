package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"hollowbed/cmd/hollowbed/plainfile"
)

// photosName is the folder of a garden's photographs. They are plain files, and
// none is ever written over.
const photosName = "photos"

const mostPhoto = 20_000_000 // bytes

// photoKind is the type of a picture by its first bytes, and the ending of its
// name: false for what is no photograph.
func photoKind(picture []byte) (kind, ending string, ok bool) {
	kind = http.DetectContentType(picture)
	ending, ok = map[string]string{"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp", "image/gif": ".gif"}[kind]
	return kind, ending, ok
}

// ReadPhoto reads a photograph from anywhere; ending is that of its kind.
func ReadPhoto(file string) (picture []byte, ending string, err error) {
	dir, err := os.OpenRoot(folderOf(file))
	if err != nil {
		return nil, "", noPhoto(file, err)
	}
	defer dir.Close()
	picture, err = readPlain(dir, filepath.Base(file), file)
	if err != nil {
		return nil, "", noPhoto(file, err)
	}
	_, ending, ok := photoKind(picture)
	if !ok {
		return nil, "", bad("%s: is no photograph: expected a picture in JPEG, PNG, WebP or GIF", file)
	}
	return picture, ending, nil
}

func noPhoto(file string, err error) error {
	var path *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return bad("%s: no such file: expected a photograph", file)
	case errors.As(err, &path):
		return bad("%s: expected a photograph that can be read: %w", file, path.Err)
	}
	return err
}

// readPlain reads a file that is plain itself, not by a link.
func readPlain(dir *os.Root, name, shown string) ([]byte, error) {
	info, err := dir.Lstat(name)
	switch {
	case err != nil:
		return nil, err
	case info.Mode().Type() == fs.ModeSymlink:
		return nil, &plainfile.KindError{Name: shown, Is: "a link"}
	case info.IsDir():
		return nil, &plainfile.KindError{Name: shown, Is: "a folder"}
	}
	picture, err := plainfile.Read(plainfile.In(dir), name, mostPhoto)
	var kind *plainfile.KindError
	var size *plainfile.SizeError
	if errors.As(err, &kind) {
		kind.Name = shown
	} else if errors.As(err, &size) {
		size.Name = shown
	}
	return picture, err
}

// Photo reads a photograph of the folder, with its type.
func (d *Folder) Photo(name string) (picture []byte, kind string, err error) {
	if strings.ContainsAny(name, `/\:`) || !fs.ValidPath(name) {
		return nil, "", fs.ErrNotExist
	}
	dir, err := d.photos()
	if err != nil {
		return nil, "", err
	}
	defer dir.Close()
	if picture, err = readPlain(dir, name, d.shown(filepath.Join(photosName, name))); err != nil {
		return nil, "", err
	}
	kind, _, ok := photoKind(picture)
	if !ok {
		return nil, "", fs.ErrNotExist
	}
	return picture, kind, nil
}

// photos opens the folder of photographs, which is no link.
func (d *Folder) photos() (*os.Root, error) {
	info, err := d.root.Lstat(photosName)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return nil, bad("%s: is no folder: take it away, so that photographs can be kept there", d.shown(photosName))
	}
	return d.root.OpenRoot(photosName)
}

// EditWithPhoto copies a photograph into the folder and edits a file that is told
// what the copy is called: both or, if that fails, neither. A run that is killed
// between the two leaves a copy that nothing names; it is taken up again when the
// same photograph is to be copied.
func (d *Folder) EditWithPhoto(name string, picture []byte, photo string, anew func(old []byte, photo string) ([]byte, error)) error {
	unlock, err := d.Lock()
	if err != nil {
		return err
	}
	defer unlock()
	if err := d.root.Mkdir(photosName, 0o777); err == nil {
		d.settle(d.root)
	} else if !errors.Is(err, fs.ErrExist) {
		return notWritten(d.shown(photosName), err)
	}
	dir, err := d.photos()
	if err != nil {
		return err
	}
	defer dir.Close()
	kept, isNew, err := keepPhoto(dir, picture, photo)
	if err != nil {
		return notWritten(d.shown(filepath.Join(photosName, photo)), err)
	}
	err = d.edit(name, func(old []byte) ([]byte, error) { return anew(old, kept) })
	if err != nil && isNew {
		dir.Remove(kept)
	}
	return err
}

// keepPhoto writes a picture under a name or, where others have that, one with a
// number; the same picture is kept once.
func keepPhoto(dir *os.Root, picture []byte, name string) (kept string, isNew bool, err error) {
	const most = 1000
	draft, err := stage(dir, picture, 0)
	if err != nil {
		return "", false, err
	}
	defer dir.Remove(draft)
	ending := filepath.Ext(name)
	for i := range most {
		kept := name
		if i > 0 {
			kept = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ending), i+1, ending)
		}
		switch err := putNew(dir, draft, kept); {
		case err == nil:
			settle(dir)
			return kept, true, nil
		case !errors.Is(err, fs.ErrExist):
			return "", false, err
		}
		if had, err := readPlain(dir, kept, kept); err == nil && bytes.Equal(had, picture) {
			return kept, false, nil
		}
	}
	return "", false, fmt.Errorf("%d of that name are there already", most)
}
