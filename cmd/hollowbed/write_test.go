package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A file is changed only if it still holds what was read.
func TestChange(t *testing.T) {
	file := filepath.Join(t.TempDir(), "planted.csv")
	holds := func(want string) {
		t.Helper()
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, want, string(text))
	}
	var changed *changedError
	require.ErrorAs(t, change(file, []byte("was"), []byte("new")), &changed, "gone meanwhile")
	assert.NoFileExists(t, file)
	require.NoError(t, change(file, nil, []byte("one")))
	holds("one")
	require.Error(t, change(file, nil, []byte("two")), "made meanwhile")
	holds("one")
	require.NoError(t, change(file, []byte("one"), []byte("two")))
	holds("two")
	require.ErrorAs(t, change(file, []byte("one"), []byte("three")), &changed)
	holds("two")
	require.NoError(t, change(file, []byte("two"), nil))
	holds("")
}
