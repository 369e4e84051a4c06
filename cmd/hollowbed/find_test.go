package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What find prints, and the warnings of the table, are the same byte for byte
// the first time, from the cache, and without one; and a table that has changed
// is read anew, even where its size and time are as before.
func TestFindFromTheCache(t *testing.T) {
	raw := demoTable(t, 1100)
	raw = bytes.Replace(raw, []byte("\n"), []byte(",shelf\n"), 1) // a column to warn of
	lines := strings.Split(strings.TrimSpace(string(raw)), "\n")
	text := lines[0] + "\n" + strings.Join(lines[1:], ",a\n") + ",a\n"
	dir := gardenWith(t, map[string]string{"plants.csv": text})
	table := filepath.Join(dir, "plants.csv")
	cache := t.TempDir()
	asks := [][]string{{"blue", "july"}, {"--height", "<50", "--json"}, {"wet:48", "meadow", "--count", "zone"}, {"--in", "rim"}}
	all := func(cache string) (text string) {
		t.Setenv("XDG_CACHE_HOME", cache)
		for _, args := range asks {
			status, out, errs := ask(t, "", append([]string{"find", "--garden", dir}, args...)...)
			require.Zero(t, status, errs)
			assert.Contains(t, errs, "shelf")
			text += out + errs
		}
		return text
	}
	without := all("nowhere")
	assert.Equal(t, without, all(cache))
	assert.Equal(t, without, all(cache))
	kept, err := filepath.Glob(filepath.Join(cache, "hollowbed", "table-*"))
	require.NoError(t, err)
	assert.Len(t, kept, 1)

	info, err := os.Stat(table)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(table, []byte(strings.Replace(text, "\np0,", "\nq0,", 1)), 0o600))
	require.NoError(t, os.Chtimes(table, info.ModTime(), info.ModTime()))
	status, out, errs := ask(t, "", "find", "--garden", dir, "q0")
	require.Zero(t, status, errs)
	assert.Contains(t, out, "(q0)")
}

// The first search for words says how far it is to people at a terminal, and
// that it takes a while to all.
func TestFirstWordsTellHowFar(t *testing.T) {
	t.Parallel()
	for _, terminal := range []bool{true, false} {
		var errs bytes.Buffer
		o := findOptions{common: common{world: world{err: &errs, terminal: terminal}}}
		small, large := o.building(), o.building()
		for i := range 11 {
			small(9999, float64(i)/10)
		}
		assert.Empty(t, errs.String())
		large(100_000, 0)
		time.Sleep(250 * time.Millisecond) // the bar is drawn five times a second
		large(100_000, 0.5)
		large(100_000, 1)
		assert.Contains(t, errs.String(), "Reading 100000 plants for the first time")
		assert.Equal(t, terminal, strings.Contains(errs.String(), "50%"), errs.String())
	}
}

// An input that is read twice from its start has the digest of its bytes, and one
// that cannot go back says so.
func TestInputGoesBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plants.csv")
	require.NoError(t, os.WriteFile(path, []byte("id\na\n"), 0o600))
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	in := &input{File: file, sum: sha256.New()}
	for range 2 {
		_, err := in.Seek(0, io.SeekStart)
		require.NoError(t, err)
		assert.False(t, in.ended)
		text, err := io.ReadAll(in)
		require.NoError(t, err)
		assert.Equal(t, "id\na\n", string(text))
		assert.Equal(t, fmt.Sprintf("%x", sha256.Sum256(text)), in.SHA256())
	}
	_, err = in.Seek(1, io.SeekStart)
	assert.ErrorIs(t, err, errors.ErrUnsupported)
}
