package search

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// tableText is a plant table of n rows with a column that is not ours, so that
// there are warnings to keep.
func tableText(t testing.TB, n int, seed uint64) []byte {
	plants := synthetic(n, seed)
	for i := range plants {
		plants[i].Form, plants[i].PondMM = "", 0 // not all that synthetic makes up may stand in a table
	}
	var out bytes.Buffer
	require.NoError(t, catalogue.Write(&out, plants))
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	lines[0] += ",shelf"
	for i := range lines[1:] {
		lines[i+1] += ",a"
	}
	return []byte(strings.Join(lines, "\n"))
}

func tablesIn(folder string) Tables {
	return Tables{CacheDir: folder, Least: 100, Program: func() string { return "v1" }}
}

// readBy returns all that was read, warnings included, as it is packed.
func readBy(t testing.TB, tables Tables, raw []byte) string {
	c, err := tables.Read("plants.csv", bytes.NewReader(raw))
	require.NoError(t, err)
	require.NotEmpty(t, c.Warnings)
	return c.Name + string(c.Pack())
}

func theTable(t testing.TB, folder string) string {
	files, err := filepath.Glob(filepath.Join(folder, tablePrefix+"*"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	return files[0]
}

// marked puts another plant into the file that is kept, so that it shows
// whether it is used.
func marked(t testing.TB, folder string) string {
	file := theTable(t, folder)
	raw, err := os.ReadFile(file)
	require.NoError(t, err)
	c, err := catalogue.Unpack("plants.csv", string(raw[tableKeyBytes:]))
	require.NoError(t, err)
	c.Plants[0].VernacularName = "From the cache"
	require.NoError(t, os.WriteFile(file, append(raw[:tableKeyBytes], c.Pack()...), 0o600))
	return c.Name + string(c.Pack())
}

func TestKeptTableIsUsedAndTheSame(t *testing.T) {
	raw, folder := tableText(t, 150, 4), filepath.Join(t.TempDir(), "new")
	want := readBy(t, Tables{}, raw)
	tables, kept := tablesIn(folder), 0
	tables.Kept = func() { kept++ }
	assert.Equal(t, want, readBy(t, tables, raw))
	assert.Zero(t, kept)
	before := modTimes(t, folder)
	require.Len(t, before, 1)
	assert.Equal(t, want, readBy(t, tables, raw))
	assert.Equal(t, 1, kept)
	assert.Equal(t, before, modTimes(t, folder), "reading writes nothing")
	info, err := os.Stat(folder)
	require.NoError(t, err)
	assert.Zero(t, info.Mode().Perm()&0o077, "nobody else looks in")
	mark := marked(t, folder)
	assert.Equal(t, mark, readBy(t, tablesIn(folder), raw), "it was the kept one")
}

func TestSmallTablesAreNotKept(t *testing.T) {
	folder := t.TempDir()
	readBy(t, tablesIn(folder), tableText(t, 99, 4))
	unknown := tablesIn(folder)
	unknown.Program = func() string { return "" }
	readBy(t, unknown, tableText(t, 100, 4))
	_, err := tablesIn(folder).Read("plants.csv", bytes.NewReader([]byte("id\n"+strings.Repeat("a\n", 200))))
	require.Error(t, err)
	assert.Empty(t, modTimes(t, folder))
	readBy(t, tablesIn(folder), tableText(t, 100, 4))
	assert.Len(t, modTimes(t, folder), 1)
}

func TestKeptTableOfAnotherKind(t *testing.T) {
	raw, other, folder := tableText(t, 150, 4), tableText(t, 150, 5), t.TempDir()
	want := readBy(t, Tables{}, raw)
	readBy(t, tablesIn(folder), raw)
	mark := marked(t, folder)

	assert.Equal(t, readBy(t, Tables{}, other), readBy(t, tablesIn(folder), other), "another table")
	changed := bytes.Replace(raw, []byte("plant-000003"), []byte("plant-000x03"), 1)
	require.Len(t, changed, len(raw))
	assert.Equal(t, readBy(t, Tables{}, changed), readBy(t, tablesIn(folder), changed), "one letter changed, the size is the same")

	built := tablesIn(folder)
	built.Program = func() string { return "v2" }
	assert.Equal(t, want, readBy(t, built, raw), "another build")

	assert.Equal(t, mark, readBy(t, tablesIn(folder), raw))
	mine := filepath.Join(folder, tableFile(tablesIn(folder).key(digestOf(t, raw))))
	theirs := filepath.Join(folder, tableFile(built.key(digestOf(t, raw))))
	for _, from := range []string{theirs, filepath.Join(folder, tableFile(tablesIn(folder).key(digestOf(t, other))))} {
		bytes, err := os.ReadFile(from)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(mine, bytes, 0o600))
		assert.Equal(t, want, readBy(t, tablesIn(folder), raw), "a file under another's name")
	}
}

func digestOf(t testing.TB, raw []byte) string {
	c, err := catalogue.Read("", bytes.NewReader(raw))
	require.NoError(t, err)
	return c.Digest
}

func TestDamagedTableIsReadAnew(t *testing.T) {
	raw, folder := tableText(t, 150, 4), t.TempDir()
	want := readBy(t, Tables{}, raw)
	readBy(t, tablesIn(folder), raw)
	file := theTable(t, folder)
	whole, err := os.ReadFile(file)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(1, 2))
	var bad [][]byte
	for range 200 {
		b := bytes.Clone(whole)
		b[r.IntN(len(b))] ^= 1 << r.IntN(8)
		bad = append(bad, b, whole[:r.IntN(len(whole))])
	}
	bad = append(bad, nil, append(bytes.Clone(whole), 0), make([]byte, len(whole)))
	for i, b := range bad {
		require.NoError(t, os.WriteFile(file, b, 0o600))
		require.Equal(t, want, readBy(t, tablesIn(folder), raw), i)
		mended, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, whole, mended, "it is written anew")
	}
	require.NoError(t, os.Truncate(file, mostTable+1)) // sparse: no memory is taken for it
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	assert.Equal(t, want, readBy(t, tablesIn(folder), raw))
	runtime.ReadMemStats(&after)
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(100<<20))
}

// What is no plain file of our own in a folder of our own is not opened: a pipe
// would wait for ever, a link or a shared folder hands us another's bytes.
func TestStrangeThingsInTheCache(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("has no permissions of this kind")
	}
	raw := tableText(t, 150, 4)
	want := readBy(t, Tables{}, raw)
	for name, make := range map[string]func(folder, file string) error{
		"pipe":          func(_, file string) error { return exec.Command("mkfifo", file).Run() },
		"folder":        func(_, file string) error { return os.MkdirAll(filepath.Join(file, "in it"), 0o700) },
		"shared file":   func(_, file string) error { return os.Chmod(file+"-moved", 0o622) },
		"shared folder": func(folder, _ string) error { return os.Chmod(folder, 0o777) },
		"link":          func(_, file string) error { return os.Symlink(file+"-moved", file) },
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			readBy(t, tablesIn(folder), raw)
			mark := marked(t, folder)
			assert.Equal(t, mark, readBy(t, tablesIn(folder), raw))
			file := theTable(t, folder)
			require.NoError(t, os.Rename(file, file+"-moved"))
			require.NoError(t, make(folder, file))
			if strings.HasPrefix(name, "shared") {
				require.NoError(t, os.Rename(file+"-moved", file))
			}
			done := time.AfterFunc(20*time.Second, func() { panic("waits for " + name) })
			defer done.Stop()
			assert.Equal(t, want, readBy(t, tablesIn(folder), raw))
		})
	}
}

func TestTableCacheThatCannotBeWritten(t *testing.T) {
	raw := tableText(t, 150, 4)
	want := readBy(t, Tables{}, raw)
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	assert.Equal(t, want, readBy(t, tablesIn(filepath.Join(file, "cache")), raw))

	folder := t.TempDir()
	require.NoError(t, os.Chmod(folder, 0o500))
	defer os.Chmod(folder, 0o700)
	assert.Equal(t, want, readBy(t, tablesIn(folder), raw), "a folder for reading alone")
	require.NoError(t, os.Chmod(folder, 0o700))
	readBy(t, tablesIn(folder), raw)
	mark := marked(t, folder)
	require.NoError(t, os.Chmod(folder, 0o500))
	assert.Equal(t, mark, readBy(t, tablesIn(folder), raw), "what it holds is used all the same")
}

func TestOldTablesAreRemoved(t *testing.T) {
	folder := t.TempDir()
	long, now := filepath.Join(folder, unfinished+"1"), filepath.Join(folder, unfinished+"2")
	other := filepath.Join(folder, "words.lock")
	for _, f := range []string{long, now, other} {
		require.NoError(t, os.WriteFile(f, nil, 0o600))
	}
	yesterday := time.Now().Add(-24 * time.Hour)
	require.NoError(t, os.Chtimes(long, yesterday, yesterday))
	require.NoError(t, os.Chtimes(other, yesterday, yesterday))
	for i := range keptFolders + 2 {
		readBy(t, tablesIn(folder), tableText(t, 120, uint64(i)))
	}
	files, err := filepath.Glob(filepath.Join(folder, tablePrefix+"*"))
	require.NoError(t, err)
	assert.Len(t, files, keptFolders)
	assert.NoFileExists(t, long)
	assert.FileExists(t, now, "another process may be writing it")
	assert.FileExists(t, other)
}

// Processes that read and write the same table at once, while it is damaged
// again and again, all read what stands in the table.
func TestTwoProcessesKeepOneTable(t *testing.T) {
	raw, folder := tableText(t, 400, 4), t.TempDir()
	source := filepath.Join(t.TempDir(), "plants.csv")
	require.NoError(t, os.WriteFile(source, raw, 0o600))
	want := fmt.Sprintf("%x", readBy(t, Tables{}, raw))
	var cmds []*exec.Cmd
	var outs []*bytes.Buffer
	for range 4 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), helperFolder+"="+folder, helperTable+"="+source)
		out := &bytes.Buffer{}
		cmd.Stdout, cmd.Stderr = out, out
		require.NoError(t, cmd.Start())
		cmds, outs = append(cmds, cmd), append(outs, out)
	}
	for i, cmd := range cmds {
		assert.NoError(t, cmd.Wait(), outs[i].String())
		assert.Equal(t, want, outs[i].String())
	}
	left, err := filepath.Glob(filepath.Join(folder, unfinished+"*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

const helperTable = "HOLLOWBED_TEST_TABLE"

// readsTables is the second process: it reads, spoils what is kept, and reads
// again.
func readsTables(folder, source string) int {
	last := ""
	for i := range 20 {
		raw, err := os.ReadFile(source)
		if err != nil {
			fmt.Println(err)
			return 1
		}
		c, err := tablesIn(folder).Read("plants.csv", bytes.NewReader(raw))
		if err != nil {
			fmt.Println(err)
			return 1
		}
		text := fmt.Sprintf("%x", c.Name+string(c.Pack()))
		if last != "" && text != last {
			fmt.Println("not what was read before")
			return 1
		}
		last = text
		files, _ := filepath.Glob(filepath.Join(folder, tablePrefix+"*"))
		for _, f := range files {
			if i%3 == 0 {
				os.Truncate(f, int64(i*100))
			} else if i%3 == 1 {
				os.Remove(f)
			}
		}
	}
	fmt.Print(last)
	return 0
}
