package page_test

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A photograph that a note names is told with the note and served as what it is;
// nothing else of the folder is, and to nobody without the key.
func TestPhoto(t *testing.T) {
	t.Parallel()
	g, dir := grownFolder(t)
	photos := filepath.Join(dir, "photos")
	require.NoError(t, os.Mkdir(photos, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(photos, "a.jpg"), []byte("GIF89a whatever it is called"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(photos, "page.gif"), []byte("<!DOCTYPE html><script>"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.gif"), []byte("GIF89a outside"), 0o644))
	text, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	lines := strings.SplitAfter(string(text), "\n")
	lines[0] = strings.TrimSuffix(lines[0], "\n") + ",photo_file\n"
	for i, line := range lines[1 : len(lines)-1] {
		lines[i+1] = strings.TrimSuffix(line, "\n") + map[bool]string{true: ",a.jpg\n", false: ",\n"}[i == 0]
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "season.csv"), []byte(strings.Join(lines, "")), 0o644))
	w := call(t, g)
	named := 0
	for _, p := range get[struct {
		Plants []struct {
			Notes []struct{ Words, Photo string }
		}
	}](w, "/api/season").Plants {
		for _, n := range p.Notes {
			if n.Photo != "" {
				named++
				assert.Equal(t, "a.jpg", n.Photo)
				assert.Contains(t, n.Words, "photograph a.jpg")
			}
		}
	}
	assert.Equal(t, 1, named)

	r, err := http.NewRequest(http.MethodGet, w.base+w.root+"/api/photo/a.jpg", nil)
	require.NoError(t, err)
	answer, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, http.StatusForbidden, answer.StatusCode, "without the key")
	r.AddCookie(w.cookie)
	answer, err = http.DefaultClient.Do(r)
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	assert.Equal(t, "image/gif", answer.Header.Get("Content-Type"))
	assert.Equal(t, "nosniff", answer.Header.Get("X-Content-Type-Options"))
	for _, name := range []string{"page.gif", "none.jpg", "..%2Fb.gif", "..%2Fgarden.yaml", "%2E%2E%2Fb.gif", "..%5Cb.gif", "%2Fetc%2Fpasswd", "a.jpg%00", ""} {
		status, body := w.ask(http.MethodGet, "/api/photo/"+name, "")
		assert.Equal(t, http.StatusNotFound, status, name)
		assert.NotContains(t, string(body), "GIF89a", name)
	}
	status, _ := call(t, smallGarden(t)).ask(http.MethodGet, "/api/photo/a.jpg", "")
	assert.Equal(t, http.StatusNotFound, status, "the demo has none")
}
