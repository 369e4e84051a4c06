package page_test

import (
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What was seen of the bed itself is noted as by note --pond and --sun, before
// anything grows there too, and can be taken back.
func TestNoteOfTheBed(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	g.On = demoGarden(t).On
	w := call(t, g)
	s := post[noted](w, "/api/note", changes{"date": "2024-09-01", "pond": "4 in at 8:00, gone by 20:00", "sun": "rim 8:00-10:00, 13:00-15:00"})
	var words []string
	for _, n := range s.Bed {
		words = append(words, n.Words)
	}
	assert.Equal(t, []string{"bottom, 4 in of water at 08:00, gone by 20:00", "rim, sun from 08:00 to 10:00", "rim, sun from 13:00 to 15:00"}, words)
	text, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	assert.Contains(t, string(text), "2024-09-01,bottom,pond")
	s = post[noted](w, "/api/note", changes{"strike": s.Bed[0].Entry})
	assert.Len(t, s.Bed, 2)
	for field, bad := range map[string]changes{
		"pond": {"pond": "4 ft deep"}, "sun": {"sun": "ditch 8:00-10:00"}, "stake": {"stake": "AMP1", "pond": "gone by 20:00"}, "date": {"pond": "gone by 20:00", "date": "2030-01-01"},
	} {
		f := w.refused(http.StatusBadRequest, "/api/note", bad)
		assert.Equal(t, field, f.Faults[0].Key)
	}
	assert.Len(t, get[noted](w, "/api/season").Bed, 2)
}
