package search

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gofrs/flock"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

const helperFolder = "HOLLOWBED_TEST_CACHE"

// TestMain lets a test start this program again as a second process.
func TestMain(m *testing.M) {
	if table := os.Getenv(helperTable); table != "" {
		os.Exit(readsTables(os.Getenv(helperFolder), table))
	}
	if folder := os.Getenv(helperFolder); folder != "" {
		os.Exit(secondProcess(folder))
	}
	os.Exit(m.Run())
}

func secondProcess(folder string) int {
	x, err := New(synthetic(400, 21), onDisk(folder))
	if err != nil {
		fmt.Println(err)
		return 1
	}
	r, err := x.Find(Query{Words: []Word{{Text: "blue"}, {Text: "meadow"}}, Limit: 1000})
	if err != nil || len(r.Notes) > 0 {
		fmt.Println(err, r)
		return 1
	}
	fmt.Print(strings.Join(ids(r.Hits), " "))
	return 0
}

func onDisk(folder string) Options {
	return Options{MemoryRows: 100, CacheDir: folder, Digest: "sha256:abc"}
}

func lines() []string {
	return []string{"blue", "blue meadow", "low bees -shade", `"damp meadow"`, "bleu meadw", "wet>=100 clay", "july shrub"}
}

// answers runs a few queries and returns all hits with their scores.
func answers(t testing.TB, x *Index) []string {
	var out []string
	for _, line := range lines() {
		q, err := Parse(line)
		require.NoError(t, err)
		q.Limit = 50
		r, err := x.Find(q)
		require.NoError(t, err)
		s := fmt.Sprint(line, r.Total, r.Words)
		for _, h := range r.Hits {
			s += fmt.Sprintf(" %s %.12g", h.ID, h.Score)
		}
		out = append(out, s)
	}
	return out
}

func open(t testing.TB, plants []catalogue.Plant, o Options) *Index {
	x, err := New(plants, o)
	require.NoError(t, err)
	t.Cleanup(func() { _ = x.Close() })
	return x
}

func isOnDisk(x *Index) bool { return x.words != nil && x.words.onDisk }

func TestDiskAnswersAsMemoryDoes(t *testing.T) {
	plants, folder := synthetic(2500, 4), t.TempDir()
	want := answers(t, open(t, plants, Options{}))
	built := open(t, plants, onDisk(folder))
	assert.Equal(t, want, answers(t, built))
	assert.True(t, isOnDisk(built))
	opened := open(t, plants, onDisk(folder))
	before := modTimes(t, folder)
	assert.Equal(t, want, answers(t, opened))
	assert.True(t, isOnDisk(opened))
	assert.Equal(t, before, modTimes(t, folder), "opening writes nothing")
	entries, err := filepath.Glob(filepath.Join(folder, "building-*"))
	require.NoError(t, err)
	assert.Empty(t, entries)
}

func modTimes(t *testing.T, folder string) map[string]time.Time {
	out := map[string]time.Time{}
	require.NoError(t, filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			info, err := d.Info()
			require.NoError(t, err)
			out[path] = info.ModTime()
		}
		return err
	}))
	return out
}

func TestBuildingIsTold(t *testing.T) {
	var told []int
	var shares []float64
	o := onDisk(t.TempDir())
	o.Building = func(plants int, done float64) {
		if done == 0 {
			told = append(told, plants)
		}
		shares = append(shares, done)
	}
	find(t, open(t, synthetic(99, 4), o), "blue")
	assert.Empty(t, told, "a small table takes no time")
	plants := synthetic(150, 4)
	x := open(t, plants, o)
	find(t, x, "wet>=48")
	assert.Empty(t, told, "conditions need no index")
	find(t, x, "blue")
	find(t, x, "meadow")
	assert.Equal(t, []int{150}, told)
	find(t, open(t, plants, o), "blue")
	assert.Equal(t, []int{150}, told, "it is there the second time")
	assert.Equal(t, []float64{0, 1}, shares)
	o.Digest, shares = "another", nil
	find(t, open(t, synthetic(3500, 4), o), "blue")
	assert.True(t, slices.IsSorted(shares), shares)
	assert.Len(t, shares, 5)
}

func TestSmallTablesStayInMemory(t *testing.T) {
	folder := t.TempDir()
	x := open(t, synthetic(99, 4), onDisk(folder))
	answers(t, x)
	assert.False(t, isOnDisk(x))
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, entries)
}

func TestAnotherTableHasItsOwnIndex(t *testing.T) {
	folder := t.TempDir()
	for i := range keptFolders + 3 {
		o := onDisk(folder)
		o.Digest = fmt.Sprintf("table%d", i)
		plants := synthetic(150, uint64(i))
		assert.Equal(t, answers(t, open(t, plants, Options{})), answers(t, open(t, plants, o)))
	}
	kept, err := filepath.Glob(filepath.Join(folder, folderPrefix+"*-*"))
	require.NoError(t, err)
	assert.Len(t, kept, keptFolders, "old ones are removed")
}

func TestOtherSchemasAreRemovedAndNotOpened(t *testing.T) {
	folder := t.TempDir()
	old := filepath.Join(folder, folderPrefix+"0-sha256abc")
	require.NoError(t, os.MkdirAll(old, 0o700))
	left := filepath.Join(folder, "building-123")
	require.NoError(t, os.MkdirAll(left, 0o700))
	x := open(t, synthetic(150, 1), onDisk(folder))
	answers(t, x)
	assert.True(t, isOnDisk(x))
	assert.NoDirExists(t, old)
	assert.NoDirExists(t, left)
}

func TestTwoProcessesAtOnce(t *testing.T) {
	folder := t.TempDir()
	plants := synthetic(400, 21)
	mem := open(t, plants, Options{})
	r, err := mem.Find(Query{Words: []Word{{Text: "blue"}, {Text: "meadow"}}, Limit: 1000})
	require.NoError(t, err)
	require.NotEmpty(t, r.Hits)
	want := strings.Join(ids(r.Hits), " ")
	var cmds []*exec.Cmd
	var outs []*bytes.Buffer
	for range 4 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), helperFolder+"="+folder)
		out := &bytes.Buffer{}
		cmd.Stdout, cmd.Stderr = out, out
		require.NoError(t, cmd.Start())
		cmds, outs = append(cmds, cmd), append(outs, out)
	}
	for i, cmd := range cmds {
		assert.NoError(t, cmd.Wait(), outs[i].String())
		assert.Equal(t, want, outs[i].String())
	}
}

// Any one bit, anywhere.
func TestEveryBitCounts(t *testing.T) {
	plants, folder := synthetic(300, 8), t.TempDir()
	o := onDisk(folder)
	answers(t, open(t, plants, o))
	r := rand.New(rand.NewPCG(3, 4))
	flipped := 0
	for path := range modTimes(t, o.folder()) {
		if filepath.Base(path) == contentsFile {
			continue // a blank more or less in it does no harm
		}
		raw, err := os.ReadFile(path)
		require.NoError(t, err)
		for range 20 {
			i, bit := r.IntN(len(raw)), byte(1)<<r.IntN(8)
			raw[i] ^= bit
			require.NoError(t, os.WriteFile(path, raw, 0o600))
			_, err := openOnDisk(o.folder(), len(plants))
			require.ErrorIs(t, err, errDamaged, "%s byte %d", filepath.Base(path), i)
			raw[i] ^= bit
			flipped++
		}
		require.NoError(t, os.WriteFile(path, raw, 0o600))
	}
	assert.GreaterOrEqual(t, flipped, 80)
	w, err := openOnDisk(o.folder(), len(plants))
	require.NoError(t, err)
	require.NoError(t, w.close())
	_, err = openOnDisk(o.folder(), len(plants)+1)
	assert.ErrorIs(t, err, errDamaged, "an index of fewer plants than the table has")
}

func TestDamageIsFoundAndMended(t *testing.T) {
	plants, folder := synthetic(300, 8), t.TempDir()
	want := answers(t, open(t, plants, Options{}))
	answers(t, open(t, plants, onDisk(folder)))
	r := rand.New(rand.NewPCG(1, 2))
	var files []string
	for path := range modTimes(t, folder) {
		if filepath.Base(path) != "words.lock" {
			files = append(files, path)
		}
	}
	require.GreaterOrEqual(t, len(files), 5)
	harms := map[string]func(path string, raw []byte) error{
		"cut short": func(p string, raw []byte) error { return os.WriteFile(p, raw[:r.IntN(len(raw))], 0o600) },
		"one bit": func(p string, raw []byte) error {
			raw[r.IntN(len(raw))] ^= 1 << r.IntN(8)
			return os.WriteFile(p, raw, 0o600)
		},
		"emptied": func(p string, _ []byte) error { return os.WriteFile(p, nil, 0o600) },
		"removed": func(p string, _ []byte) error { return os.Remove(p) },
	}
	for name, harm := range harms {
		for _, path := range files {
			raw, err := os.ReadFile(path)
			require.NoError(t, err)
			require.NoError(t, harm(path, raw))
			x := open(t, plants, onDisk(folder))
			assert.Equal(t, want, answers(t, x), "%s %s", filepath.Base(path), name)
			assert.True(t, isOnDisk(x), "%s %s", filepath.Base(path), name)
			require.NoError(t, x.Close())
		}
	}
}

// A file cut short while it is mapped into memory must not bring us down.
func TestDamageWhileOpen(t *testing.T) {
	plants, folder := synthetic(2000, 8), t.TempDir()
	want := answers(t, open(t, plants, Options{}))
	x := open(t, plants, onDisk(folder))
	find(t, x, "blue")
	require.True(t, isOnDisk(x))
	cut := 0
	for path := range modTimes(t, folder) {
		if filepath.Ext(path) == ".zap" {
			require.NoError(t, os.Truncate(path, 0))
			cut++
		}
	}
	require.Equal(t, 1, cut)
	assert.Equal(t, want, answers(t, x))
}

func TestFolderThatCannotBeWritten(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	plants := synthetic(150, 1)
	x := open(t, plants, onDisk(filepath.Join(file, "cache")))
	assert.Equal(t, answers(t, open(t, plants, Options{})), answers(t, x))
	assert.False(t, isOnDisk(x))
	r := find(t, x, "blue")
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "the index is kept in memory: ")
}

func TestALockThatIsNeverGivenBack(t *testing.T) {
	folder := t.TempDir()
	lock := flock.New(filepath.Join(folder, "words.lock"))
	ok, err := lock.TryLock()
	require.NoError(t, err)
	require.True(t, ok)
	defer lock.Unlock()
	plants := synthetic(150, 1)
	o := onDisk(folder)
	o.LockWait = 100 * time.Millisecond
	x := open(t, plants, o)
	assert.Equal(t, answers(t, open(t, plants, Options{})), answers(t, x))
	assert.Contains(t, find(t, x, "blue").Notes[0], "another process holds")
}
