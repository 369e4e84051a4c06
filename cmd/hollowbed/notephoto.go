package main

import (
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants/season"
)

// namePhoto reads the photograph of --photo, and gives an entry the name that the
// copy is to have.
func (o *noteOptions) namePhoto(e *season.Entry) error {
	if o.photo == "" {
		return nil
	}
	picture, ending, err := store.ReadPhoto(o.photo)
	o.picture, e.Photo = picture, e.NamePhoto(o.photo, ending)
	return err
}

// write adds entries to season.csv, and first the photograph that they name.
func (o *noteOptions) write(n *notebook, entries ...season.Entry) (added []season.Entry, err error) {
	if o.photo == "" {
		return n.add(entries...)
	}
	err = n.kept.EditWithPhoto("season.csv", o.picture, entries[0].Photo, func(old []byte, photo string) (text []byte, err error) {
		for i := range entries {
			entries[i].Photo = photo
		}
		text, added, err = season.Append(n.file(), old, entries)
		return text, err
	})
	return added, err
}
