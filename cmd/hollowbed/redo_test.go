package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A change of two files that stops anywhere is completed by the next run.
func TestChangeAllCompletes(t *testing.T) {
	write := func(dir, name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	holds := func(dir, name, want string) {
		t.Helper()
		text, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.Equal(t, want, string(text))
	}
	changes := []fileChange{{"planted.csv", []byte("p0"), []byte("p1")}, {"season.csv", nil, []byte("s1")}}

	whole := t.TempDir()
	write(whole, "planted.csv", "p0")
	require.NoError(t, changeAll(whole, changes...))
	holds(whole, "planted.csv", "p1")
	holds(whole, "season.csv", "s1")
	assert.NoFileExists(t, filepath.Join(whole, redoName))

	redo := `[{"file":"planted.csv","before":"` + digest([]byte("p0")) + `","after":"p1"},{"file":"season.csv","before":"","after":"s1"}]`
	for done := range 3 { // so many files were in place when it was killed
		dir := t.TempDir()
		write(dir, "planted.csv", []string{"p0", "p1", "p1"}[done])
		if done == 2 {
			write(dir, "season.csv", "s1")
		}
		write(dir, redoName, redo)
		require.NoError(t, completeChange(dir))
		holds(dir, "planted.csv", "p1")
		holds(dir, "season.csv", "s1")
		assert.NoFileExists(t, filepath.Join(dir, redoName))
		require.NoError(t, completeChange(dir), "nothing is left to do")
	}

	// What somebody has changed since is not written over, and is told.
	other := t.TempDir()
	write(other, "planted.csv", "mine")
	write(other, redoName, redo)
	assert.ErrorContains(t, completeChange(other), "no longer what it was")
	holds(other, "planted.csv", "mine")
	require.Error(t, changeAll(other, changes...), "planted.csv does not hold p0")
	holds(other, "planted.csv", "mine")
	assert.NoFileExists(t, filepath.Join(other, "season.csv"))

	// Nor does it reach out of the folder.
	for _, name := range []string{"../x", "/etc/x", "sub/x", ".."} {
		dir := t.TempDir()
		write(dir, redoName, `[{"file":"`+name+`","before":"","after":"x"}]`)
		assert.ErrorContains(t, completeChange(dir), "no file of this folder")
	}
	broken := t.TempDir()
	write(broken, redoName, "[{")
	assert.ErrorContains(t, completeChange(broken), "cannot be read")
}
