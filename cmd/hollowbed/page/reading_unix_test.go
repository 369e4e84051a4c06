//go:build unix

package page_test

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pipe puts a pipe in place of a file, until back.
func pipe(t *testing.T, file string) (back func()) {
	t.Helper()
	require.NoError(t, os.Rename(file, file+".kept"))
	require.NoError(t, syscall.Mkfifo(file, 0o600))
	t.Cleanup(func() { // whoever waits for it all the same
		if f, err := os.OpenFile(file, os.O_RDWR, 0); err == nil {
			f.Close()
		}
	})
	return func() { require.NoError(t, os.Rename(file+".kept", file)) }
}

// A pipe in place of a file of the garden is refused in words, and nobody waits
// for it.
func TestPipeInPlaceOfAFile(t *testing.T) {
	t.Parallel()
	g, dir := grownFolder(t)
	w := call(t, g)
	s := w.placed()
	get[noted](w, "/api/season")
	for _, c := range []struct{ name, method, path string }{
		{"garden.yaml", "POST", "/api/save"}, {"garden.yaml", "POST", "/api/reload"}, {"planted.csv", "POST", "/api/save"},
		{"planted.csv", "GET", "/api/season"}, {"season.csv", "GET", "/api/moves"}, {"season.csv", "POST", "/api/note"},
	} {
		back := pipe(t, filepath.Join(dir, c.name))
		body := map[string]string{"/api/save": fmt.Sprintf(`{"revision":%q}`, s.Revision), "/api/reload": "{}", "/api/note": `{"stake":"TAR3","remark":"pipe"}`}[c.path]
		soon(t, c.name+" "+c.path, func() {
			status, text := w.ask(c.method, c.path, body)
			assert.Equal(t, http.StatusUnprocessableEntity, status, "%s: %s", c.path, text)
			assert.Contains(t, string(text), c.name+": is no plain file: want one", c.path)
		})
		soon(t, "the state", func() { get[shown](w, "/api/state") })
		back()
	}
}

// A weather record that is a pipe is told like any other that cannot be read,
// and the worker goes on.
func TestPipeForWeather(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	w := call(t, g)
	w.placed()
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "rain.pipe"), 0o600))
	text, err := os.ReadFile(filepath.Join(dir, "garden.yaml"))
	require.NoError(t, err)
	changed := strings.Replace(string(text), "rain.csv", "rain.pipe", 1)
	require.NotEqual(t, string(text), changed)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "garden.yaml"), []byte(changed), 0o644))
	soon(t, "the record", func() {
		bad := post[shown](w, "/api/reload", changes{})
		assert.Equal(t, "rain.pipe: is no plain file: want one", bad.Failed)
		good := post[shown](w, "/api/undo", changes{})
		assert.Empty(t, good.Failed)
		assert.Equal(t, good.Version, good.FiguresOf)
	})
}
