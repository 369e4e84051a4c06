package page_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/store"
	"hollowbed/data"
	"hollowbed/plants/season"
)

// A file that an editor changes in the very moment of saving, when the page has
// compared the files and the draft is being written beside them, is a conflict as any other.
func TestSaveConflictAtTheLastMoment(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	file := filepath.Join(dir, "garden.yaml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	theirs := strings.Replace(string(text), "width: 14 ft", "width: 13 ft", 1)
	write := g.Change
	g.Change = func(files ...store.Change) error {
		require.NoError(t, os.WriteFile(file, []byte(theirs), 0o644))
		return write(files...)
	}
	w := call(t, g)
	s := w.placed()
	s = w.try(s.Version, map[string]string{"bed.length": "24 ft"})
	f := w.refused(http.StatusConflict, "/api/save", changes{"revision": s.Revision})
	require.NotNil(t, f.Conflict)
	require.Len(t, f.Conflict.Files, 1)
	assert.Contains(t, fmt.Sprint(f.Conflict.Files[0].Lines), "width: 13 ft")
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, theirs, string(now), "the editor's change is not lost")
	assert.Equal(t, "24 ft", get[shown](w, "/api/state").field("bed.length"), "nor is the draft")
}

// A page that was open all the time completes what a command that was killed
// had begun, before it writes itself: nothing of either is lost.
func TestWritesAfterRedo(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	for _, name := range []string{"planted.csv", "season.csv"} {
		text, err := fs.ReadFile(data.Season(), name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	g.On = time.Date(2024, 10, 5, 0, 0, 0, 0, time.UTC)
	w := call(t, g)
	w.placed()
	file := filepath.Join(dir, "season.csv")
	old, err := os.ReadFile(file)
	require.NoError(t, err)
	stands, err := os.ReadFile(filepath.Join(dir, "planted.csv"))
	require.NoError(t, err)
	rec, err := season.Read(file, bytes.NewReader(old))
	require.NoError(t, err)
	stake := rec.Entries[0].Stake
	e := season.NewEntry(g.On, stake, season.Seen)
	e.Vigour = 4
	history, _, err := season.Append(file, old, []season.Entry{e, e})
	require.NoError(t, err)
	redo, err := json.Marshal([]map[string]string{
		{"file": "planted.csv", "before": fmt.Sprintf("%x", sha256.Sum256(stands)), "after": string(stands)},
		{"file": "season.csv", "before": fmt.Sprintf("%x", sha256.Sum256(old)), "after": string(history)},
	})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".hollowbed.redo"), redo, 0o644))

	post[any](w, "/api/note", changes{"stake": stake, "vigour": 3})
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(now), string(history)), "what was begun is there: %s", now)
	assert.Greater(t, len(now), len(history), "and so is the note")
	assert.NoFileExists(t, filepath.Join(dir, ".hollowbed.redo"))
}

// A bed without notes has nothing to move: its plan is a list of no steps, and no null.
func TestNothingToMoveIsAnEmptyList(t *testing.T) {
	t.Parallel()
	g, dir := grownFolder(t)
	require.NoError(t, os.Remove(filepath.Join(dir, "season.csv")))
	m := get[map[string]json.RawMessage](call(t, g), "/api/moves")
	assert.Equal(t, "true", string(m["ready"]))
	assert.Equal(t, "[]", string(m["steps"]))
	assert.Equal(t, "[]", string(m["moves"]))
}
