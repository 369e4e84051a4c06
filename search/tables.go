package search

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"hollowbed/plants/catalogue"
)

// Tables reads plant tables and keeps large ones in the cache folder, ready to use: a
// file a table and build of the program, with a key (the SHA-256 of the program and the
// table's digest), then what Catalogue.Pack makes, written beside its place and renamed.
// A file that does not fit is written anew. The digest is always that of the bytes: size
// and time do not tell a change for certain. The zero Tables keeps none.
type Tables struct {
	CacheDir string
	Program  func() string // tells builds apart; "" keeps nothing
	Least    int           // plants that a table is kept from; 0 reads 1,000
	Kept     func()        // called, if set, before a table that was kept is read back
}

const (
	tablePrefix   = "table-"
	unfinished    = "building-" + tablePrefix
	mostTable     = 1 << 29 // bytes; a larger table is read each time
	leastKept     = 1000    // plants, of a table and of an index on disk
	abandonedAge  = time.Hour
	tableKeyBytes = sha256.Size
)

// Read is catalogue.Read.
func (t Tables) Read(name string, r io.Reader) (*catalogue.Catalogue, error) {
	least := cmp.Or(t.Least, leastKept)
	var key []byte
	known := false
	c, err := catalogue.ReadKnown(name, r, func(digest string, lines int) *catalogue.Catalogue {
		if t.CacheDir == "" || lines < least {
			return nil
		}
		if key = t.key(digest); key == nil {
			return nil
		}
		c, err := t.kept(name, key)
		known = err == nil && c.Digest == digest
		if !known {
			return nil
		}
		return c
	})
	if err == nil && !known && key != nil && len(c.Plants) >= least {
		_ = t.keep(key, c) // it is only slower without
	}
	return c, err
}

func (t Tables) key(digest string) []byte {
	program := t.Program()
	if program == "" {
		return nil
	}
	key := sha256.Sum256([]byte(program + "\n" + digest))
	return key[:]
}

func tableFile(key []byte) string { return tablePrefix + hex.EncodeToString(key[:16]) }

// kept reads a table back, from a plain file in a folder that nobody else may write to.
func (t Tables) kept(name string, key []byte) (*catalogue.Catalogue, error) {
	folder, err := os.OpenRoot(t.CacheDir)
	if err != nil {
		return nil, err
	}
	defer folder.Close()
	for _, part := range []string{".", tableFile(key)} {
		info, err := folder.Lstat(part)
		if err != nil {
			return nil, err
		}
		if shared := runtime.GOOS != "windows" && info.Mode().Perm()&0o022 != 0; shared || part != "." && !info.Mode().IsRegular() {
			return nil, fmt.Errorf("%s: not a plain file of our own", part)
		}
	}
	file, err := folder.Open(tableFile(key))
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() < tableKeyBytes || info.Size() > mostTable {
		return nil, errors.New("not a kept table")
	}
	var raw strings.Builder
	raw.Grow(int(info.Size()))
	if _, err := io.CopyN(&raw, file, info.Size()); err != nil {
		return nil, err
	}
	packed, ours := strings.CutPrefix(raw.String(), string(key))
	if !ours {
		return nil, errors.New("another table or build")
	}
	if t.Kept != nil {
		t.Kept()
	}
	return catalogue.Unpack(name, packed)
}

// keep writes a table whole or not at all, as far as a cache needs it: after a
// crash of the machine the name may stand for less than was written, which
// reading finds out.
func (t Tables) keep(key []byte, c *catalogue.Catalogue) error {
	packed := c.Pack()
	if len(packed) > mostTable-tableKeyBytes {
		return nil
	}
	if err := os.MkdirAll(t.CacheDir, 0o700); err != nil {
		return err
	}
	file, err := os.CreateTemp(t.CacheDir, unfinished)
	if err != nil {
		return err
	}
	defer os.Remove(file.Name()) // does nothing once it is renamed
	_, err = file.Write(slices.Concat(key, packed))
	if err := errors.Join(err, file.Close()); err != nil {
		return err
	}
	if err := os.Rename(file.Name(), filepath.Join(t.CacheDir, tableFile(key))); err != nil {
		return err
	}
	t.tidy()
	return nil
}

// tidy removes all but the newest few tables, and what killed runs left.
func (t Tables) tidy() {
	entries, err := os.ReadDir(t.CacheDir)
	if err != nil {
		return
	}
	var tables []os.FileInfo
	for _, e := range entries {
		info, err := e.Info()
		switch {
		case err != nil || e.IsDir():
		case strings.HasPrefix(e.Name(), tablePrefix):
			tables = append(tables, info)
		case strings.HasPrefix(e.Name(), unfinished) && time.Since(info.ModTime()) > abandonedAge:
			_ = os.Remove(filepath.Join(t.CacheDir, e.Name()))
		}
	}
	for _, old := range allButNewest(tables) {
		_ = os.Remove(filepath.Join(t.CacheDir, old.Name()))
	}
}
