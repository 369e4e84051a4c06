package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"unicode/utf8"
)

// redoName is the file that holds a change of several files until all of them
// are in place, so that a run which is killed in between can be completed.
const redoName = ".hollowbed.redo"

// mostRedo bounds it: all files that are written, with what JSON adds.
const mostRedo = 128_000_000

// redo is one file of redoName.
type redo struct {
	Name   string `json:"file"`
	Before string `json:"before"` // SHA-256 of what it held; "" if there was none
	After  string `json:"after"`  // its new text
	done   bool
	now    []byte
}

// draftRedo writes down to a draft what changes are to be made.
func (d *Folder) draftRedo(changes []Change) (string, error) {
	var todo []redo
	for _, c := range changes {
		if !utf8.Valid(c.After) {
			return "", bad("%s: not written: holds what is no UTF-8", d.shown(c.Name))
		}
		todo = append(todo, redo{Name: c.Name, Before: digest(c.Before), After: string(c.After)})
	}
	text, err := json.Marshal(todo)
	if err != nil {
		return "", err
	}
	if len(text) > mostRedo {
		return "", bad("%s: not written: more than %d MB at once", d.dir, mostRedo/1_000_000)
	}
	draft, err := stage(d.root, text, 0)
	if err != nil {
		return "", notWritten(d.shown(redoName), err)
	}
	return draft, nil
}

// undo puts back what a change put in place before it met a file that somebody
// else has changed, so that none of it is left.
func (d *Folder) undo(changes []Change) error {
	for _, c := range slices.Backward(changes) {
		err := d.same(Change{c.Name, c.After, nil})
		switch {
		case err != nil:
		case c.Before == nil:
			err = d.root.Remove(c.Name)
		default:
			err = d.Change(Change{c.Name, c.After, c.Before})
		}
		if err != nil {
			return err
		}
	}
	return d.forget()
}

// forget ends a change of several files.
func (d *Folder) forget() error {
	if err := d.root.Remove(redoName); err != nil {
		return notWritten(d.shown(redoName), err)
	}
	d.settle(d.root)
	return nil
}

// complete completes what a run that was stopped had begun. The caller holds the
// lock.
func (d *Folder) complete() error {
	todo, err := d.pending()
	if err != nil || todo == nil {
		return err
	}
	var names []string
	for _, r := range todo {
		names = append(names, r.Name)
		if r.done {
			continue
		}
		if err := d.Change(Change{r.Name, r.now, []byte(r.After)}); err != nil {
			return fmt.Errorf("complete a change that was begun: %w", err)
		}
	}
	if err := d.forget(); err != nil {
		return err
	}
	fmt.Fprintf(d.tell, "%s: completed a change of %s that a run which was stopped had begun.\n", d.dir, strings.Join(names, " and "))
	return nil
}

// pending is the change that a run has begun and not ended; none if there is
// none, an error if it cannot be completed as it was meant.
func (d *Folder) pending() ([]redo, error) {
	for {
		text, err := d.redoText()
		if err != nil || text == nil {
			return nil, err
		}
		todo, wrong := d.checked(text)
		if wrong == nil {
			return todo, nil
		}
		again, err := d.redoText() // the run may have ended meanwhile
		if err != nil || bytes.Equal(again, text) {
			return nil, wrong
		}
	}
}

// redoText reads the change as it is written down; nil if there is none.
func (d *Folder) redoText() ([]byte, error) {
	file := d.shown(redoName)
	info, err := d.root.Lstat(redoName)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, bad("%s: is no plain file: take it away", file)
	}
	text, err := d.read(redoName, mostRedo)
	if err != nil {
		return nil, fmt.Errorf("%w, or none: take it away", err)
	}
	return text, nil
}

// checked reads a change, and holds it against the files as they are.
func (d *Folder) checked(text []byte) ([]redo, error) {
	file := d.shown(redoName)
	var todo []redo
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&todo); err != nil || !ended(dec) || len(todo) == 0 {
		return nil, bad("%s: holds a change that was begun and cannot be read: look whether planted.csv and season.csv are as you want them, and take it away", file)
	}
	for i, r := range todo {
		twice := slices.ContainsFunc(todo[:i], func(b redo) bool { return b.Name == r.Name })
		if twice || !slices.Contains(written(), r.Name) {
			return nil, bad("%s: names %q, which is no file that is changed so, or is named twice: take it away", file, r.Name)
		}
	}
	for i := range todo {
		r := &todo[i]
		var err error
		if r.now, err = d.plain(r.Name); err != nil {
			return nil, err
		}
		r.done = digest(r.now) == digest([]byte(r.After))
		if !r.done && digest(r.now) != r.Before {
			return nil, bad("%s: a change that was begun cannot be completed, for %s is no longer what it was: look whether both are as you want them, and take %s away", file, d.shown(r.Name), redoName)
		}
	}
	return todo, nil
}

func ended(dec *json.Decoder) bool {
	_, err := dec.Token()
	return errors.Is(err, io.EOF)
}

// digest is the SHA-256 of a text; "" of none.
func digest(text []byte) string {
	if text == nil {
		return ""
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
