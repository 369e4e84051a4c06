package search

import (
	"bufio"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/gofrs/flock"

	"hollowbed/plants/catalogue"
)

// The cache folder holds one folder for each table and schema,
// words-<schema>-<digest>, complete from the moment it has that name, and a
// lock file that whoever builds holds. Inside: the bleve index, rows.bin (the
// row of each document) and contents.json (the size and checksum of every
// other file). Readers take no lock of ours.

var errDamaged = errors.New("the index on disk is damaged")

const (
	boltTimeout  = "2s" // without it a second process would wait for ever
	contentsFile = "contents.json"
	rowsFile     = "rows.bin"
	folderPrefix = "words-"
	keptFolders  = 4 // tables whose index is kept
)

// contents is what contents.json holds: by file, in slashes.
type contents map[string]fileSum

type fileSum struct {
	Size int64  `json:"size"`
	CRC  uint32 `json:"crc32c"`
}

func (o Options) folder() string {
	digest := regexp.MustCompile(`[^A-Za-z0-9]+`).ReplaceAllString(o.Digest, "")
	return filepath.Join(o.CacheDir, fmt.Sprintf("%s%d-%.64s", folderPrefix, schemaVersion, digest))
}

// openOrBuild opens the index of plants, or builds it if there is none that is whole.
func openOrBuild(plants []catalogue.Plant, m *mapping.IndexMappingImpl, l language, o Options) (*wordIndex, error) {
	w, err := openOnDisk(o.folder(), len(plants))
	if err == nil {
		return w, nil
	}
	if err := os.MkdirAll(o.CacheDir, 0o700); err != nil {
		return nil, err
	}
	lock := flock.New(filepath.Join(o.CacheDir, "words.lock"))
	ctx, cancel := context.WithTimeout(context.Background(), o.LockWait)
	defer cancel()
	if ok, err := lock.TryLockContext(ctx, 50*time.Millisecond); !ok {
		return nil, fmt.Errorf("another process holds %s: %w", lock.Path(), err)
	}
	defer lock.Unlock()
	if w, err := openOnDisk(o.folder(), len(plants)); err == nil {
		return w, nil // someone else has just built it
	}
	if o.Building == nil {
		o.Building = func(int, float64) {}
	}
	if err := buildOnDisk(plants, readyMapping{m, l.remembering()}, o); err != nil {
		return nil, err
	}
	o.Building(len(plants), 1)
	tidy(o)
	return openOnDisk(o.folder(), len(plants))
}

// openOnDisk opens an index for reading, after checking that every file is
// whole.
func openOnDisk(folder string, plants int) (w *wordIndex, err error) {
	if err := checkContents(folder); err != nil {
		return nil, err
	}
	rows, err := readRowsFile(filepath.Join(folder, rowsFile), plants)
	if err != nil {
		return nil, err
	}
	defer func() {
		if r := recover(); r != nil {
			w, err = nil, fmt.Errorf("%w: %v", errDamaged, r)
		}
	}()
	b, err := bleve.OpenUsing(filepath.Join(folder, "index"), map[string]any{"read_only": true, "bolt_timeout": boltTimeout})
	if err != nil {
		return nil, fmt.Errorf("%w: %v", errDamaged, err)
	}
	w, err = newWordIndex(b)
	if err != nil {
		b.Close()
		return nil, err
	}
	w.rows, w.onDisk, w.folder = rows, true, folder
	return w, nil
}

// checkContents compares every file with contents.json. Damaged files must
// not reach bleve, which maps them into memory unchecked.
func checkContents(folder string) error {
	raw, err := os.ReadFile(filepath.Join(folder, contentsFile))
	if err != nil {
		return fmt.Errorf("%w: %v", errDamaged, err)
	}
	var want contents
	if err := json.Unmarshal(raw, &want); err != nil || len(want) == 0 {
		return fmt.Errorf("%w: %s", errDamaged, contentsFile)
	}
	for name, sum := range want {
		if got, err := sumOf(filepath.Join(folder, filepath.FromSlash(name)), sum.Size); err != nil || got != sum {
			return fmt.Errorf("%w: %s", errDamaged, name)
		}
	}
	return nil
}

// sumOf returns the size and checksum of a file; the checksum only if the size
// is the one expected, or expected is negative.
func sumOf(path string, expected int64) (fileSum, error) {
	info, err := os.Stat(path)
	if err != nil {
		return fileSum{}, err
	}
	if expected >= 0 && info.Size() != expected {
		return fileSum{Size: info.Size()}, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return fileSum{}, err
	}
	defer f.Close()
	sum := crc32.New(crc32.MakeTable(crc32.Castagnoli))
	n, _ := io.Copy(sum, bufio.NewReaderSize(f, 1<<20))
	return fileSum{Size: n, CRC: sum.Sum32()}, nil
}

func readRowsFile(path string, plants int) ([]uint32, error) {
	raw, err := os.ReadFile(path)
	if err != nil || len(raw) != 4*plants {
		return nil, fmt.Errorf("%w: %s", errDamaged, rowsFile)
	}
	rows := make([]uint32, plants)
	for i := range rows {
		rows[i] = binary.LittleEndian.Uint32(raw[4*i:])
		if rows[i] >= uint32(plants) {
			return nil, fmt.Errorf("%w: %s", errDamaged, rowsFile)
		}
	}
	return rows, nil
}

// buildOnDisk builds the index in a folder of its own beside its place and
// then puts it there. The caller holds the lock.
func buildOnDisk(plants []catalogue.Plant, m mapping.IndexMapping, o Options) error {
	building, err := os.MkdirTemp(o.CacheDir, "building-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(building)
	if err := writeIndex(building, plants, m, func(done float64) { o.Building(len(plants), done) }); err != nil {
		return err
	}
	if err := writeContents(building); err != nil {
		return err
	}
	old := building + "-old"
	if err := os.Rename(o.folder(), old); err == nil {
		defer os.RemoveAll(old)
	}
	return os.Rename(building, o.folder())
}

// reading is the share of the work up to the last plant; then bleve joins what
// it has written.
const reading = 0.8

// writeIndex writes the bleve index and the rows of its documents.
func writeIndex(folder string, plants []catalogue.Plant, m mapping.IndexMapping, done func(share float64)) error {
	b, err := bleve.NewBuilder(filepath.Join(folder, "index"), m, map[string]any{
		"batchSize": batchSize, "mergeMax": 128, "buildPathPrefix": folder,
	})
	if err != nil {
		return fmt.Errorf("search: new index: %w", err)
	}
	for i := range plants {
		if i%batchSize == 0 {
			done(reading * float64(i) / float64(len(plants)))
		}
		if err := b.Index(docID(i), newWordDoc(&plants[i])); err != nil {
			return fmt.Errorf("search: plant %d: %w", i, err)
		}
	}
	if err := b.Close(); err != nil {
		return fmt.Errorf("search: index: %w", err)
	}
	opened, err := bleve.OpenUsing(filepath.Join(folder, "index"), map[string]any{"read_only": true, "bolt_timeout": boltTimeout})
	if err != nil {
		return err
	}
	w, err := newWordIndex(opened)
	if err != nil {
		return err
	}
	rows, err := w.readRows()
	if err != nil {
		return err
	}
	raw := make([]byte, 0, 4*len(rows))
	for _, r := range rows {
		raw = binary.LittleEndian.AppendUint32(raw, r)
	}
	if err := w.close(); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, rowsFile), raw, 0o600)
}

func writeContents(folder string) error {
	sums := contents{}
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(folder, path)
		if err != nil {
			return err
		}
		sums[filepath.ToSlash(name)], err = sumOf(path, -1)
		return err
	})
	if err != nil {
		return err
	}
	raw, err := json.MarshalIndent(sums, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, contentsFile), raw, 0o600)
}

// tidy removes indexes of another schema, all but the newest few, and what broken-off
// builds left. It may fail in silence. The caller holds the lock.
func tidy(o Options) {
	entries, err := os.ReadDir(o.CacheDir)
	if err != nil {
		return
	}
	current := fmt.Sprintf("%s%d-", folderPrefix, schemaVersion)
	var kept []os.FileInfo
	for _, e := range entries {
		switch name := e.Name(); {
		case !e.IsDir():
		case strings.HasPrefix(name, current):
			if info, err := e.Info(); err == nil {
				kept = append(kept, info)
			}
		case strings.HasPrefix(name, folderPrefix), strings.HasPrefix(name, "building-"):
			os.RemoveAll(filepath.Join(o.CacheDir, name))
		}
	}
	for _, old := range allButNewest(kept) {
		os.RemoveAll(filepath.Join(o.CacheDir, old.Name()))
	}
}

// allButNewest are the files, or folders, that are not among the newest few.
func allButNewest(files []os.FileInfo) []os.FileInfo {
	slices.SortStableFunc(files, func(a, b os.FileInfo) int { return b.ModTime().Compare(a.ModTime()) })
	return files[min(keptFolders, len(files)):]
}

// discard closes a damaged index and takes it out of the way.
func (w *wordIndex) discard() {
	_ = w.guard(w.close)
	_ = os.Remove(filepath.Join(w.folder, contentsFile))
}
