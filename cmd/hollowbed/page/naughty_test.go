package page_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// naughty are strings that have broken programs: testdata/naughty-strings, with
// its source beside it.
func naughty(t testing.TB) []string {
	t.Helper()
	text, err := os.ReadFile("../../../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var out []string
	require.NoError(t, json.Unmarshal(text, &out))
	require.Greater(t, len(out), 300)
	return out
}

// Whatever is typed anywhere: an answer in words or a state, never a failure of
// the program, and what was saved reads back.
func TestNaughty(t *testing.T) {
	t.Parallel()
	g, _ := folderGarden(t)
	w := call(t, g)
	s := w.placed()
	version := s.Version
	for i, text := range testenv.Some(naughty(t)) {
		body, err := json.Marshal(changes{"query": text, "in": ""})
		require.NoError(t, err)
		status, answer := w.ask("POST", "/api/find", string(body))
		assert.Contains(t, []int{200, 400}, status, "%q: %s", text, answer)
		for path, in := range map[string]changes{
			"/api/plant": {"id": text}, "/api/risk": {"stake": text, "x_m": 3, "y_m": 2}, "/api/wish": {"id": text, "wish": text}, "/api/units": {"units": text},
			"/api/note": {"stake": text, "remark": text, "signs": []string{text}, "date": text},
		} {
			if text == "" {
				continue
			}
			body, err := json.Marshal(in)
			require.NoError(t, err)
			status, answer = w.ask("POST", path, string(body))
			if path == "/api/risk" && status == 200 { // a few are stakes of the demo
				assert.Regexp(t, `^[A-Z]{2,3}[0-9]+$`, text)
				continue
			}
			assert.Contains(t, []int{400, 422}, status, "%s: %q: %s", path, text, answer)
			assert.True(t, json.Valid(answer))
		}
		if i%20 != 0 { // each change works the garden out anew
			continue
		}
		body, err = json.Marshal(changes{"version": version, "changes": map[string]string{"name": text}})
		require.NoError(t, err)
		status, answer = w.ask("POST", "/api/try", string(body))
		if status == 400 {
			continue
		}
		require.Equal(t, 200, status, "%q: %s", text, answer)
		var now shown
		require.NoError(t, json.Unmarshal(answer, &now))
		version = now.Version
		if now.Failed == "" && strings.TrimSpace(text) != "" {
			saved := post[shown](w, "/api/save", changes{"revision": now.Revision})
			assert.Equal(t, now.field("name"), saved.field("name"))
		}
	}
}
