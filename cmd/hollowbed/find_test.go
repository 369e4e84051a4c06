package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
	assert.Equal(t, without, strings.Replace(all(cache), "Reading 1100 plants for the first time: some seconds.\n", "", 1))
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
