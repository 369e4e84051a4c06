package page_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/page"
	"hollowbed/testdata/testenv"
)

func newPage(t testing.TB, g page.Garden) (*page.Page, error) {
	ctx, cancel := context.WithCancel(context.Background())
	t.Cleanup(cancel)
	return page.New(ctx, g, 1)
}

// A change shows at once in all that follows from it; undo brings back the very
// figures, redo the change.
func TestTryUndoRedo(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	before := w.placed()
	assert.Equal(t, "20 ft", before.field("bed.length"))
	assert.True(t, before.Saved)
	assert.Empty(t, before.Undo)
	after := w.try(before.Version, map[string]string{"bed.length": "24 ft", "wishes.budget": ""})
	assert.Equal(t, before.Version+1, after.Version)
	assert.Equal(t, after.Version, after.FiguresOf)
	assert.Equal(t, "24 ft", after.field("bed.length"))
	assert.NotEqual(t, before.Short[0].Value, after.Short[0].Value)
	assert.False(t, after.Saved)
	assert.Equal(t, []string{"Length: 24 ft, was 20 ft", "Budget: left out, was 200"}, after.Unsaved)
	assert.Equal(t, "Length back to 20 ft; Budget back to 200", after.Undo)
	undone := post[shown](w, "/api/undo", changes{})
	assert.True(t, undone.Saved)
	assert.Equal(t, before.Short, undone.Short)
	assert.Equal(t, before.List, undone.List)
	assert.NotEmpty(t, undone.Redo)
	assert.Equal(t, before.Plants, w.placed().Plants)
	redone := post[shown](w, "/api/redo", changes{})
	assert.Equal(t, after.Short, redone.Short)
	assert.Equal(t, after.List, redone.List)
	w.refused(http.StatusUnprocessableEntity, "/api/redo", changes{})
	w.try(redone.Version, map[string]string{"bed.length": "24 ft"})
	assert.Equal(t, redone.Undo, get[shown](w, "/api/state").Undo, "what changes nothing is no step")
}

// A figure that cannot be is told beside its field, in the words of the other
// commands; what was worked out before stays, and typing on mends it.
func TestTryFaults(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	good := w.placed()
	for _, c := range []struct{ key, value, at, want string }{
		{"bed.length", "20", "bed.length", "want a length with its unit"},
		{"bed.ponding_depth", "3 ft", "bed.ponding_depth", "meet"},
		{"wishes.wanted", "no-such-plant", "wishes.wanted", "want the id of a plant"},
		{"wishes.bloom.from", "Smarch", "wishes.bloom.from", "month"},
		{"soil.texture", "mud", "soil.texture", "want one of"},
		{"bed.points", "0 ft, 0 ft; 9 ft", "bed.points", "want"},
		{"sun.rim", "30 h", "sun.rim", "want"},
	} {
		s := get[shown](w, "/api/state")
		bad := w.try(s.Version, map[string]string{c.key: c.value})
		assert.NotEmpty(t, bad.Failed, c.key)
		keys := ""
		for _, f := range bad.Faults {
			keys += f.Key + ": " + f.Want + "\n"
		}
		assert.Contains(t, keys, c.at+": ", c.key)
		assert.Contains(t, keys, c.want, c.key)
		assert.Equal(t, c.value, bad.field(c.key), "what was typed stays in its field")
		assert.Equal(t, good.Short, bad.Short)
		assert.Less(t, bad.FiguresOf, bad.Version)
		assert.False(t, bad.Busy)
		mended := post[shown](w, "/api/undo", changes{})
		assert.Empty(t, mended.Failed)
		assert.Empty(t, mended.Faults)
		assert.Equal(t, mended.Version, mended.FiguresOf)
	}
}

// Two windows at once: changes of different fields both stay; of the same field
// the later is told, and nothing is lost in silence.
func TestTwoWindows(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	w.try(s.Version, map[string]string{"bed.length": "22 ft"})
	both := w.try(s.Version, map[string]string{"bed.width": "15 ft"}) // this window has not seen the first change
	assert.Equal(t, "22 ft", both.field("bed.length"))
	assert.Equal(t, "15 ft", both.field("bed.width"))
	f := w.refused(http.StatusConflict, "/api/try", changes{"version": s.Version, "changes": map[string]string{"bed.length": "23 ft", "bed.kc": "1.1"}})
	require.Len(t, f.Faults, 1)
	assert.Equal(t, "bed.length", f.Faults[0].Key)
	assert.Contains(t, f.Faults[0].Want, "22 ft")
	assert.Equal(t, both.Version, get[shown](w, "/api/state").Version, "of a change that is refused nothing is taken")
	same := w.try(s.Version, map[string]string{"bed.length": "22 ft"})
	assert.Equal(t, both.Version, same.Version, "both windows mean the same: nothing to settle")
}

// Many windows change many fields at the same time: every change that was
// answered with a state is in the draft.
func TestManyWindows(t *testing.T) {
	testenv.Sweep(t)
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	want := map[string]string{"bed.length": "21 ft", "bed.width": "15 ft", "bed.kc": "0.9", "roof.share": "45 %", "wishes.budget": "700", "sun.rim": "8 h", "mix.depth": "20 in", "wishes.most_species": "9"}
	var all sync.WaitGroup
	for key, value := range want {
		if _, known := w.fieldKind(key); !known {
			continue
		}
		all.Go(func() {
			body, _ := json.Marshal(changes{"version": s.Version, "changes": map[string]string{key: value}})
			status, text := w.ask("POST", "/api/try", string(body))
			assert.Equal(t, http.StatusOK, status, string(text))
		})
	}
	all.Wait()
	end := w.placed()
	for key, value := range want {
		if _, known := w.fieldKind(key); known {
			assert.Equal(t, value, end.field(key))
		}
	}
	for range 20 {
		if end.Undo == "" {
			break
		}
		end = post[shown](w, "/api/undo", changes{})
	}
	assert.True(t, end.Saved, "each was a step that can be undone")
}

func (w *caller) fieldKind(key string) (string, bool) {
	text := get[shown](w, "/api/state").field(key)
	return text, !strings.HasPrefix(text, "no field")
}

// The file on disk changes on save alone, only where something was changed, and
// with its comments.
func TestSave(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	w := call(t, g)
	file := filepath.Join(dir, "garden.yaml")
	before, err := os.ReadFile(file)
	require.NoError(t, err)
	s := w.placed()
	s = w.try(s.Version, map[string]string{"bed.length": "24 ft"})
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(now), "not before save")
	s = post[shown](w, "/api/save", changes{"revision": s.Revision, "version": s.Version})
	assert.True(t, s.Saved)
	now, err = os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, strings.Replace(string(before), "length: 20 ft", "length: 24 ft", 1), string(now))
	assert.NoFileExists(t, filepath.Join(dir, "planted.csv"), "no plant was moved")

	w.refused(http.StatusConflict, "/api/save", changes{"revision": s.Revision, "version": s.Version - 1})
	bad := w.try(s.Version, map[string]string{"bed.length": "24"})
	f := w.refused(http.StatusUnprocessableEntity, "/api/save", changes{"revision": bad.Revision})
	assert.Equal(t, "bed.length", f.Faults[0].Key)
	undone := post[shown](w, "/api/undo", changes{})
	assert.True(t, undone.Saved)
	undone = post[shown](w, "/api/undo", changes{})
	assert.False(t, undone.Saved, "what was saved can be undone too, and saved again")
	post[shown](w, "/api/save", changes{"revision": undone.Revision})
	now, err = os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(now))
}

// The demo is never written.
func TestSaveDemo(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.try(1, map[string]string{"bed.length": "24 ft"})
	f := w.refused(http.StatusUnprocessableEntity, "/api/save", changes{"revision": s.Revision})
	assert.Contains(t, f.Error, "hollowbed start")
}

// A file that changed on disk under a draft is shown and not overwritten, until
// somebody who has seen it says so.
func TestSaveConflict(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	w := call(t, g)
	s := w.placed()
	s = w.try(s.Version, map[string]string{"bed.length": "24 ft"})
	file := filepath.Join(dir, "garden.yaml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	theirs := strings.Replace(string(text), "width: 14 ft", "width: 13 ft", 1)
	require.NoError(t, os.WriteFile(file, []byte(theirs), 0o644))
	w.refused(http.StatusConflict, "/api/save", changes{"revision": s.Revision})
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, theirs, string(now), "nothing was written")

	s = get[shown](w, "/api/state")
	require.NotNil(t, s.Disk)
	require.Len(t, s.Disk.Files, 1)
	var lines []string
	for _, l := range s.Disk.Files[0].Lines {
		if l.Sign != " " {
			lines = append(lines, l.Sign+l.Text)
		}
	}
	assert.Equal(t, []string{"-  length: 24 ft", "-  width: 14 ft", "+  length: 20 ft", "+  width: 13 ft"}, lines)
	saved := post[shown](w, "/api/save", changes{"revision": s.Disk.Revision}) // having seen it
	assert.True(t, saved.Saved)
	assert.Nil(t, saved.Disk)

	require.NoError(t, os.WriteFile(file, []byte(theirs), 0o644))
	w.try(saved.Version, map[string]string{"bed.length": "25 ft"})
	taken := post[shown](w, "/api/reload", changes{})
	assert.Equal(t, "13 ft", taken.field("bed.width"))
	assert.Equal(t, "20 ft", taken.field("bed.length"))
	assert.True(t, taken.Saved)
	undone := post[shown](w, "/api/undo", changes{})
	assert.Equal(t, "25 ft", undone.field("bed.length"), "the draft can be had back")

	require.NoError(t, os.WriteFile(file, []byte("bed: [\n"), 0o644))
	w.refused(http.StatusUnprocessableEntity, "/api/reload", changes{})
	require.NoError(t, os.Remove(file))
	status, _ := w.ask("POST", "/api/save", fmt.Sprintf(`{"revision":%q}`, undone.Revision))
	assert.Equal(t, http.StatusInternalServerError, status)
	assert.Equal(t, "25 ft", get[shown](w, "/api/state").field("bed.length"), "the draft is not lost with the file")
}

// A draft with nothing unsaved follows the file on disk by itself.
func TestFollowsDisk(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	w := call(t, g)
	s := w.placed()
	file := filepath.Join(dir, "garden.yaml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), "width: 14 ft", "width: 13 ft", 1)), 0o644))
	assert.Eventually(t, func() bool {
		s = get[shown](w, "/api/state")
		return s.field("bed.width") == "13 ft" && s.FiguresOf == s.Version
	}, 30*time.Second, 100*time.Millisecond)
	assert.Equal(t, "13 ft", s.field("bed.width"))
	assert.True(t, s.Saved)
	assert.Equal(t, s.Version, s.FiguresOf)
}

// Wishes go to the garden file, and a wanted plant is on the list.
func TestWish(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	id := ""
	listed := map[string]bool{}
	for _, l := range s.List.Lines {
		listed[l.ID] = true
	}
	for _, h := range post[struct{ Hits []struct{ ID string } }](w, "/api/find", changes{"query": "-toxic -spreads height<2ft", "in": "slope", "limit": 50}).Hits {
		if !listed[h.ID] {
			id = h.ID
			break
		}
	}
	require.NotEmpty(t, id)
	s = post[shown](w, "/api/wish", changes{"id": id, "wish": "wanted"})
	assert.Equal(t, id, s.field("wishes.wanted"))
	assert.True(t, hasLine(s, id), "%s: %s", id, s.List.Advice)
	assert.Equal(t, "wanted", post[struct{ Wish string }](w, "/api/plant", changes{"id": id}).Wish)
	s = post[shown](w, "/api/wish", changes{"id": id, "wish": "unwanted"})
	assert.Empty(t, s.field("wishes.wanted"))
	assert.Equal(t, id, s.field("wishes.unwanted"))
	assert.False(t, hasLine(s, id))
	s = post[shown](w, "/api/wish", changes{"id": id, "wish": ""})
	assert.True(t, s.field("wishes.unwanted") == "" && s.Saved == (len(s.Unsaved) == 0))
	w.refused(http.StatusUnprocessableEntity, "/api/wish", changes{"id": "no-such", "wish": "wanted"})
	w.refused(http.StatusBadRequest, "/api/wish", changes{"id": id, "wish": "perhaps"})
}

func hasLine(s shown, id string) bool {
	for _, l := range s.List.Lines {
		if l.ID == id {
			return true
		}
	}
	return false
}

// A plant that is put down elsewhere stays there, all others where they were;
// save writes planted.csv.
func TestMove(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	w := call(t, g)
	before := w.placed()
	moved := before.Plants[3]
	post[shown](w, "/api/move", changes{"stake": moved.Stake, "x_m": 3.05, "y_m": 2.1})
	after := w.placed()
	assert.Equal(t, len(before.Plants), len(after.Plants))
	at := map[string][2]float64{}
	for _, p := range after.Plants {
		at[p.Stake] = [2]float64{p.X, p.Y}
	}
	for _, p := range before.Plants {
		if p.Stake == moved.Stake {
			assert.Equal(t, [2]float64{3.05, 2.1}, at[p.Stake])
			continue
		}
		assert.Equal(t, [2]float64{p.X, p.Y}, at[p.Stake], p.Stake)
	}
	s := post[shown](w, "/api/save", changes{"revision": after.Revision})
	assert.True(t, s.Saved)
	text, err := os.ReadFile(filepath.Join(dir, "planted.csv"))
	require.NoError(t, err)
	assert.Contains(t, string(text), moved.Stake+","+moved.ID+",3.05,2.1,")
	w.refused(http.StatusUnprocessableEntity, "/api/move", changes{"stake": moved.Stake, "x_m": 100, "y_m": 2})
	w.refused(http.StatusUnprocessableEntity, "/api/move", changes{"stake": "ZZZ99", "x_m": 3, "y_m": 2})

	post[shown](w, "/api/move", changes{"stake": moved.Stake, "x_m": 3, "y_m": 2})
	back := post[shown](w, "/api/scatter", changes{})
	assert.True(t, back.Saved)
}

// Units change what is shown and not what is saved.
func TestUnits(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	assert.Contains(t, s.Short[0].Value, "sq ft")
	s = post[shown](w, "/api/units", changes{"units": "metric"})
	assert.Contains(t, s.Short[0].Value, "m2")
	assert.True(t, s.Saved)
	assert.Equal(t, "20 ft", s.field("bed.length"), "fields stay as the file has them")
	w.refused(http.StatusBadRequest, "/api/units", changes{"units": "yards"})
}

// idle waits until no work goes on.
func (w *caller) idle() shown {
	w.t.Helper()
	for range 200 {
		s := get[shown](w, "/api/state")
		if !s.Busy {
			return s
		}
		get[shown](w, fmt.Sprintf("/api/state?after=%d", s.Tick))
	}
	w.t.Fatal("the work never ended")
	return shown{}
}
