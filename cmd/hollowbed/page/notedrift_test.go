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

// inDrift puts the first plants of a species of a grown garden into drift C.
func inDrift(t testing.TB, dir, id string, most int) (stakes []string) {
	t.Helper()
	file := filepath.Join(dir, "planted.csv")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	lines[0] += ",drift"
	for i, line := range lines[1:] {
		letter := ""
		if cells := strings.Split(line, ","); cells[1] == id && len(stakes) < most {
			letter, stakes = "C", append(stakes, cells[0])
		}
		lines[i+1] += "," + letter
	}
	require.Len(t, stakes, most)
	require.NoError(t, os.WriteFile(file, []byte(strings.Join(lines, "\n")+"\n"), 0o644))
	return stakes
}

// The page notes some of a drift as the command does (TestNoteByDrift: "c 3/5 2 yellow"),
// and refuses what that refuses, beside the field.
func TestNoteOfDrift(t *testing.T) {
	t.Parallel()
	g, dir := grownFolder(t)
	stakes := inDrift(t, dir, "tough-soddarel", 5)
	w := call(t, g)
	s := get[noted](w, "/api/season")
	require.Len(t, s.Drifts, 1)
	assert.Equal(t, "C", s.Drifts[0].Letter)
	assert.Equal(t, "drift C, 5 Tough Soddarel", s.Drifts[0].Words)
	after := post[noted](w, "/api/note", changes{"drift": "c", "count": "3/5", "date": "2024-09-01", "vigour": 2, "signs": []string{"yellow"}})
	require.NotEmpty(t, after.Bed)
	assert.Contains(t, after.Bed[len(after.Bed)-1].Words, "drift C, 3 of 5 plants, vigour 2, yellow")
	post[noted](w, "/api/note", changes{"drift": "C", "count": "1", "date": "2024-09-02", "signs": []string{"dead"}})
	text, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	assert.Contains(t, string(text), ",C,seen,2,yellow,")
	assert.Contains(t, string(text), "3 of 5,"+strings.Join(stakes, " "))
	s = get[noted](w, "/api/season")
	assert.Contains(t, s.Bed[len(s.Bed)-1].Words, "which died is not known")
	assert.Equal(t, "drift C, 4 Tough Soddarel", s.Drifts[0].Words, "one died")
	before, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	for _, bad := range []struct {
		change    changes
		key, want string
	}{
		{changes{"drift": "C", "count": "6", "vigour": 2}, "count", "drift C has 4 plants: expected no more"},
		{changes{"drift": "C", "count": "", "vigour": 2}, "count", "expected how many plants of the drift"},
		{changes{"drift": "F", "count": "1", "vigour": 2}, "drift", "expected a drift"},
		{changes{"drift": "C", "count": "2"}, "remark", "want"},
	} {
		f := w.refused(http.StatusBadRequest, "/api/note", bad.change)
		assert.Equal(t, bad.key, f.Faults[0].Key)
		assert.Contains(t, f.Faults[0].Want, bad.want)
	}
	text, err = os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	assert.Equal(t, string(before), string(text))
}
