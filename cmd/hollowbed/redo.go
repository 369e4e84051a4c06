package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// redoName is the file that holds a change of several files until all of them
// are in place, so that a run which is killed in between can be completed.
const redoName = ".hollowbed.redo"

// fileChange is a file of a garden's folder before and after a change; Before
// is nil if there was none.
type fileChange struct {
	Name          string
	Before, After []byte
}

// redo is one file of redoName.
type redo struct {
	Name   string `json:"file"`
	Before string `json:"before"` // SHA-256 of what it held; "" if there was none
	After  string `json:"after"`  // its new text
}

// changeAll changes several files of a folder: all of them or, if any no longer
// holds what it held, none. A run that is killed in the middle leaves redoName
// behind, and the next run that opens the folder completes the change. The
// caller holds the lock of the folder.
func changeAll(dir string, changes ...fileChange) error {
	var todo []redo
	for _, c := range changes {
		now, err := os.ReadFile(filepath.Join(dir, c.Name))
		if errors.Is(err, fs.ErrNotExist) {
			now, err = nil, nil
		}
		if err != nil {
			return err
		}
		if (now == nil) != (c.Before == nil) || !bytes.Equal(now, c.Before) {
			return &changedError{filepath.Join(dir, c.Name)}
		}
		todo = append(todo, redo{c.Name, digest(c.Before), string(c.After)})
	}
	text, err := json.Marshal(todo)
	if err != nil {
		return err
	}
	if err := replace(filepath.Join(dir, redoName), text); err != nil {
		return err
	}
	for i, c := range changes {
		if err := change(filepath.Join(dir, c.Name), c.Before, c.After); err != nil {
			if i == 0 { // nothing was changed yet
				err = errors.Join(err, os.Remove(filepath.Join(dir, redoName)))
			}
			return err
		}
	}
	return os.Remove(filepath.Join(dir, redoName))
}

// completeChange completes what a run that was killed had begun in a folder.
func completeChange(dir string) error {
	file := filepath.Join(dir, redoName)
	if _, err := os.Lstat(file); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	unlock, err := lockFolder(dir)
	if err != nil {
		return err
	}
	defer unlock()
	text, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // another run was quicker
	} else if err != nil {
		return err
	}
	var todo []redo
	if err := json.Unmarshal(text, &todo); err != nil {
		return usagef("%s: holds a change that was begun and cannot be read: look whether planted.csv and season.csv are as you want them, and take it away", file)
	}
	for _, r := range todo {
		if !filepath.IsLocal(r.Name) || filepath.Base(r.Name) != r.Name {
			return usagef("%s: names %q, which is no file of this folder: take it away", file, r.Name)
		}
		target := filepath.Join(dir, r.Name)
		now, err := os.ReadFile(target)
		if errors.Is(err, fs.ErrNotExist) {
			now, err = nil, nil
		}
		switch {
		case err != nil:
			return err
		case digest(now) == digest([]byte(r.After)): // done already
		case digest(now) != r.Before:
			return usagef("%s: a change that was begun cannot be completed, for %s is no longer what it was: look whether both are as you want them, and take %s away", file, target, redoName)
		default:
			if err := change(target, now, []byte(r.After)); err != nil {
				return fmt.Errorf("complete a change that was begun: %w", err)
			}
		}
	}
	return os.Remove(file)
}

// digest is the SHA-256 of a text; "" of none.
func digest(text []byte) string {
	if text == nil {
		return ""
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
