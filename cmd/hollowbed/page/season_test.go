package page_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/page"
	"hollowbed/data"
)

type noted struct {
	Ready, Struggles bool
	Words            string
	Signs            []struct{ Sign string }
	Bed              []struct {
		Entry int
		Words string
	}
	Plants []notedPlant
	Drifts []struct {
		Letter, Words string
	}
}

type notedPlant struct {
	Stake     string
	Struggles bool
	Notes     []struct {
		Entry int
		Words string
	}
	Causes []struct {
		Table struct{ Rows [][]cell }
		List  struct{ Items []string }
	}
}

type cell struct {
	Words string
	Bar   struct{ Hard float64 }
}

// causes are the chances of the likeliest causes, and the evidence.
func (n notedPlant) causes() (rows [][]cell, evidence []string) {
	for _, b := range n.Causes {
		rows, evidence = append(rows, b.Table.Rows...), append(evidence, b.List.Items...)
	}
	return rows, evidence
}

func (n noted) plant(t testing.TB, stake string) notedPlant {
	t.Helper()
	i := slices.IndexFunc(n.Plants, func(p notedPlant) bool { return p.Stake == stake })
	require.GreaterOrEqual(t, i, 0, stake)
	return n.Plants[i]
}

type plan struct {
	Ready         bool
	Revision      string
	Before, After []any
	Steps         []step
	Moves         []struct {
		Group  int
		Stake  string `json:"plant"`
		Action string
		To     *struct {
			X float64 `json:"x_m"`
			Y float64 `json:"y_m"`
		}
	}
}

type step struct {
	Stakes []string
	Blocks []struct{ Text struct{ Lead, Words string } }
}

// grownGarden copies the demo's first season to a folder.
func grownGarden(t testing.TB) (*caller, string) {
	t.Helper()
	g, dir := grownFolder(t)
	return call(t, g), dir
}

func grownFolder(t testing.TB) (page.Garden, string) {
	t.Helper()
	g, dir := folderGarden(t)
	for _, name := range []string{"planted.csv", "season.csv"} {
		text, err := fs.ReadFile(data.Season(), name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	file := filepath.Join(dir, "garden.yaml") // an hour of work costs nothing, so that plants trade places
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, bytes.Replace(text, []byte("seed: 1 "), []byte("hour_worth: 0 #"), 1), 0o644))
	g.On = demoGarden(t).On
	return g, dir
}

// The demo shows its first season; nothing in it can be written.
func TestSeasonDemo(t *testing.T) {
	t.Parallel()
	w := call(t, demoGarden(t))
	s := get[noted](w, "/api/season")
	assert.True(t, s.Ready)
	assert.NotEmpty(t, s.Signs)
	struggling := 0
	for _, p := range s.Plants {
		if p.Struggles {
			struggling++
			rows, evidence := p.causes()
			sum := 0.0
			for _, c := range rows {
				sum += c[1].Bar.Hard
			}
			assert.LessOrEqual(t, sum, 1+1e-9)
			assert.Positive(t, sum)
			assert.NotEmpty(t, evidence, p.Stake)
		}
	}
	assert.Positive(t, struggling)
	m := get[plan](w, "/api/moves")
	assert.NotEmpty(t, m.Moves)
	for _, move := range m.Moves {
		assert.Equal(t, move.Action == "move" || move.Action == "swap", move.To != nil, move.Stake)
		k := slices.IndexFunc(m.Steps, func(s step) bool { return slices.Contains(s.Stakes, move.Stake) })
		require.GreaterOrEqual(t, k, 0, move.Stake)
		assert.Contains(t, m.Steps[k].Blocks[0].Text.Words, move.Stake, "the first block says what is done with whom")
		assert.Equal(t, "Risk", m.Steps[k].Blocks[1].Text.Lead)
		assert.Equal(t, "Why", m.Steps[k].Blocks[2].Text.Lead)
	}
	w.refused(http.StatusUnprocessableEntity, "/api/note", changes{"stake": s.Plants[0].Stake, "vigour": 3})
	w.refused(http.StatusUnprocessableEntity, "/api/moves/apply", changes{"accepted": []string{m.Moves[0].Stake}, "revision": m.Revision})
}

// A note is added to season.csv, and nothing there is lost; it changes what is
// said of its plant, and can be taken back.
func TestNote(t *testing.T) {
	t.Parallel()
	w, dir := grownGarden(t)
	file := filepath.Join(dir, "season.csv")
	before, err := os.ReadFile(file)
	require.NoError(t, err)
	s := get[noted](w, "/api/season")
	i := slices.IndexFunc(s.Plants, func(p notedPlant) bool { return len(p.Notes) == 0 })
	require.GreaterOrEqual(t, i, 0)
	stake := s.Plants[i].Stake
	after := post[noted](w, "/api/note", changes{"stake": strings.ToLower(stake), "date": "2024-09-01", "vigour": 1, "signs": []string{"soil soggy", "roots brown", "not eaten"}, "remark": "=cmd|' /C calc'!A0 <script>alert(1)</script>"})
	p := after.plant(t, stake)
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0].Words, "vigour 1, roots brown, soil soggy, not eaten, =cmd|' /C calc'!A0 <script>")
	assert.True(t, p.Struggles)
	rowsOfCauses, _ := p.causes()
	assert.Contains(t, []string{"too wet", "too deep"}, rowsOfCauses[0][0].Words)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(text), string(before)), "what stood there stays")
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	require.NoError(t, err)
	for _, cell := range rows[len(rows)-1] {
		assert.False(t, strings.HasPrefix(cell, "="), "no spreadsheet takes it for a formula")
	}
	gone := post[noted](w, "/api/note", changes{"strike": p.Notes[0].Entry})
	assert.Empty(t, gone.plant(t, stake).Notes)
	twice := w.refused(http.StatusBadRequest, "/api/note", changes{"strike": p.Notes[0].Entry})
	assert.Equal(t, "strike", twice.Faults[0].Key, "a note is taken back once")
	for field, bad := range map[string]changes{
		"stake": {"stake": "NO1", "vigour": 3}, "date": {"stake": stake, "vigour": 3, "date": "2030-01-01"}, "vigour": {"stake": stake, "vigour": 6}, "signs": {"stake": stake, "signs": []string{"purple"}},
		"strike": {"strike": 99999}, "remark": {"stake": stake},
	} {
		f := w.refused(http.StatusBadRequest, "/api/note", bad)
		assert.Equal(t, field, f.Faults[0].Key)
	}
	f := w.refused(http.StatusBadRequest, "/api/note", changes{"stake": stake, "vigour": 3, "date": "1/5/2024"})
	assert.Equal(t, "date", f.Faults[0].Key)
	status, long := w.ask("POST", "/api/note", fmt.Sprintf(`{"stake":%q,"remark":%q}`, stake, strings.Repeat("x", 900_000)))
	assert.Equal(t, http.StatusBadRequest, status)
	assert.Contains(t, string(long), "expected a remark of at most 4000 characters, not 900000")
	assert.Less(t, len(long), 1000)
}

// Moves are carried out group by group, with their history; a swap is not done
// by half, and undo does not undo what was done in the ground.
func TestMovesApply(t *testing.T) {
	t.Parallel()
	w, dir := grownGarden(t)
	w.placed()
	m := get[plan](w, "/api/moves")
	byGroup := map[int][]string{}
	for _, move := range m.Moves {
		byGroup[move.Group] = append(byGroup[move.Group], move.Stake)
	}
	var swap []string
	for _, move := range m.Moves {
		if len(byGroup[move.Group]) > 1 {
			swap = byGroup[move.Group]
			break
		}
	}
	require.NotEmpty(t, swap, "the demo has a swap")
	f := w.refused(http.StatusUnprocessableEntity, "/api/moves/apply", changes{"accepted": swap[:1], "revision": m.Revision})
	assert.Contains(t, f.Error, "move together")
	w.refused(http.StatusBadRequest, "/api/moves/apply", changes{"accepted": []string{"NO1"}, "revision": m.Revision})
	w.refused(http.StatusBadRequest, "/api/moves/apply", changes{"accepted": []string{}, "revision": m.Revision})
	w.refused(http.StatusConflict, "/api/moves/apply", changes{"accepted": swap, "revision": "another"})
	w.try(1, map[string]string{"wishes.budget": "800"}) // what is not saved of the garden file stays so
	m = get[plan](w, "/api/moves")
	planted := filepath.Join(dir, "planted.csv")
	before, err := os.ReadFile(planted)
	require.NoError(t, err)
	done := post[plan](w, "/api/moves/apply", changes{"accepted": swap, "revision": m.Revision})
	assert.NotEqual(t, m.Revision, done.Revision)
	after, err := os.ReadFile(planted)
	require.NoError(t, err)
	assert.NotEqual(t, string(before), string(after))
	season, err := os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	for _, stake := range swap {
		assert.Contains(t, string(season), "2024-10-05,"+stake+",moved")
		for _, move := range done.Moves {
			assert.NotEqual(t, stake, move.Stake, "it stands where it should now")
		}
	}
	done = post[plan](w, "/api/moves/apply", changes{"accepted": []string{"TOW3"}, "revision": done.Revision}) // it died
	after, err = os.ReadFile(planted)
	require.NoError(t, err)
	assert.NotContains(t, string(after), "TOW3,")
	season, err = os.ReadFile(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	assert.Contains(t, string(season), "2024-10-05,TOW3,removed")
	assert.Contains(t, string(season), "in the place of TOW3")
	assert.False(t, slices.ContainsFunc(done.Steps, func(s step) bool { return slices.Contains(s.Stakes, "TOW3") }))
	s := w.placed()
	assert.False(t, s.Saved)
	assert.Equal(t, []string{"Budget: 800, was 200"}, s.Unsaved)
	s = post[shown](w, "/api/undo", changes{})
	assert.True(t, s.Saved, "undo takes the budget back and leaves the plants")
	now, err := os.ReadFile(planted)
	require.NoError(t, err)
	assert.Equal(t, string(after), string(now))

	post[shown](w, "/api/move", changes{"stake": swap[0], "x_m": 3, "y_m": 2})
	m = get[plan](w, "/api/moves")
	if len(m.Moves) > 0 {
		group := m.Moves[0].Group
		var all []string
		for _, move := range m.Moves {
			if move.Group == group {
				all = append(all, move.Stake)
			}
		}
		f := w.refused(http.StatusConflict, "/api/moves/apply", changes{"accepted": all, "revision": m.Revision})
		assert.Contains(t, f.Error, "save them first")
	}
}

// Whatever of planted.csv the page writes, the gardener's own columns stay, each
// cell with its plant.
func TestOwnColumnsStay(t *testing.T) {
	t.Parallel()
	g, dir := grownFolder(t)
	text, err := fs.ReadFile(data.Season(), "planted.csv")
	require.NoError(t, err)
	labelled := "label," + string(text)
	rows := strings.Split(strings.TrimSpace(string(text)), "\n")
	for _, row := range rows[1:] {
		labelled = strings.Replace(labelled, "\n"+row, "\ntag of "+row[:strings.Index(row, ",")+1]+row, 1)
	}
	planted := filepath.Join(dir, "planted.csv")
	require.NoError(t, os.WriteFile(planted, []byte(labelled), 0o644))
	w := call(t, g)
	stay := func() {
		t.Helper()
		text, err := os.ReadFile(planted)
		require.NoError(t, err)
		now := strings.Split(strings.TrimSpace(string(text)), "\n")
		assert.Regexp(t, `^label,stake,id,x_m,y_m,planted,zone(,drift)?$`, now[0])
		stakes := map[string]bool{}
		for _, row := range now[1:] {
			cells := strings.Split(row, ",")
			stakes[cells[1]] = true
			if cells[0] != "" || slices.ContainsFunc(rows, func(r string) bool { return strings.HasPrefix(r, cells[1]+",") }) {
				assert.Equal(t, "tag of "+cells[1], cells[0])
			}
		}
		assert.GreaterOrEqual(t, len(stakes), len(rows)-1)
	}
	s := w.placed()
	post[shown](w, "/api/move", changes{"stake": s.Plants[3].Stake, "x_m": 3.05, "y_m": 2.1})
	s = w.placed()
	s = post[shown](w, "/api/save", changes{"revision": s.Revision})
	stay()
	m := get[plan](w, "/api/moves")
	require.NotEmpty(t, m.Moves)
	var group []string
	for _, move := range m.Moves {
		if move.Group == m.Moves[0].Group {
			group = append(group, move.Stake)
		}
	}
	require.Contains(t, []string{"move", "swap"}, m.Moves[0].Action, "no stake goes")
	post[plan](w, "/api/moves/apply", changes{"accepted": group, "revision": m.Revision})
	stay()
	w.placed()
	post[shown](w, "/api/keep", changes{})
	s = w.placed()
	post[shown](w, "/api/save", changes{"revision": s.Revision})
	stay()
}

// A garden in which nothing stands says what to do; keeping the proposed places
// makes planted.csv, and the season begins. Files with nothing in them are as
// good as none.
func TestKeep(t *testing.T) {
	t.Parallel()
	for _, empty := range []bool{false, true} {
		g, dir := folderGarden(t)
		for _, name := range []string{"planted.csv", "season.csv"} {
			if empty {
				require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o644))
			}
		}
		keep(t, g, dir)
	}
}

func keep(t *testing.T, g page.Garden, dir string) {
	w := call(t, g)
	s := get[noted](w, "/api/season")
	assert.False(t, s.Ready)
	assert.Contains(t, s.Words, "Keep the places")
	assert.False(t, get[plan](w, "/api/moves").Ready)
	before := w.placed()
	post[shown](w, "/api/keep", changes{})
	kept := w.placed()
	assert.Equal(t, []string{"places of the plants (planted.csv)"}, kept.Unsaved)
	require.Len(t, kept.Plants, len(before.Plants))
	for _, p := range kept.Plants {
		assert.True(t, p.Stayed)
	}
	post[shown](w, "/api/save", changes{"revision": kept.Revision})
	assert.FileExists(t, filepath.Join(dir, "planted.csv"))
	s = get[noted](w, "/api/season")
	assert.True(t, s.Ready)
	assert.Len(t, s.Plants, len(before.Plants))
	s = post[noted](w, "/api/note", changes{"stake": s.Plants[0].Stake, "date": "2024-09-01", "vigour": 3})
	assert.Len(t, s.Plants[0].Notes, 1)
}

// A stake of which the record tells is not proposed for another plant.
func TestStakesOfThoseThatAreGone(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	text := "date,stake,kind,id\n2024-05-02,TWI1,removed,twilight-pennymurk\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "season.csv"), []byte(text), 0o644))
	var stakes []string
	for _, p := range call(t, g).placed().Plants {
		stakes = append(stakes, p.Stake)
	}
	assert.Contains(t, stakes, "TWI2")
	assert.NotContains(t, stakes, "TWI1")
}

// A file with a line torn off, or that cannot be read, is told, and the page lives on.
func TestSeasonTorn(t *testing.T) {
	t.Parallel()
	w, dir := grownGarden(t)
	file := filepath.Join(dir, "season.csv")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, append(text, "9999,2024-09-01,AMP1,se"...), 0o644))
	assert.Contains(t, fmt.Sprint(get[plan](w, "/api/moves").After), "season.csv:", "the torn line is told")
	f := w.refused(http.StatusUnprocessableEntity, "/api/note", changes{"stake": "AMP1", "vigour": 3})
	assert.Contains(t, f.Error, "season.csv:")
	require.NoError(t, os.WriteFile(file, []byte("date,nosuch\n2024-09-01,x\n"), 0o644))
	status, body := w.ask("GET", "/api/season", "")
	assert.Equal(t, http.StatusUnprocessableEntity, status)
	assert.Contains(t, string(body), "season.csv:1:")
	get[shown](w, "/api/state")
}
