package page_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/page"
	"hollowbed/plants"
)

// A plant has one risk on the plan, whether it is looked at, picked or held: that of
// its very place, sun included.
func TestOneRiskOnThePlan(t *testing.T) {
	t.Parallel()
	w := call(t, demoGarden(t))
	s := w.placed()
	type held struct {
		Risk, Here string
		Share      float64 `json:"risk_share"`
	}
	for _, p := range s.Plants {
		got := post[held](w, "/api/risk", changes{"stake": p.Stake, "x_m": p.X, "y_m": p.Y})
		assert.InDelta(t, p.Share, got.Share, 1e-12, p.Stake)
		assert.Equal(t, p.Risk, got.Risk, p.Stake)
		assert.Equal(t, p.Risk, got.Here, p.Stake)
	}
	j, tried := judged(t), 0
	spot, ok := j.SpotAt(s.Plants[0].X, s.Plants[0].Y)
	require.True(t, ok)
	for _, p := range demoGarden(t).Table.Plants {
		if v := j.At(p, spot); v.Fit.SunLoss > 0 && v.Bar != plants.BarUnknown && tried < 5 {
			tried++
			got := post[held](w, "/api/risk", changes{"id": p.ID, "x_m": spot.X, "y_m": spot.Y})
			assert.InDelta(t, 1-v.Fit.Survival(), got.Share, 1e-12, p.ID)
		}
	}
	assert.Positive(t, tried, "what too much or too little sun takes is in it")
}

// The plan on the page shows the kinds, tints, figures and drifts of the printed one.
func TestOnePlan(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	type shape struct {
		Plants []struct{ ID, Drift string }
		Kinds  []struct {
			ID, Key, Name, Tint, Figure string
			Count                       int
		}
		Drifts []struct {
			Kind    int
			Members []int
			Links   [][2]int
			Words   string
			Letter  string
		}
	}
	w.placed()
	s := get[shape](w, "/api/state")
	status, svg := w.ask(http.MethodGet, "/api/plan.svg", "")
	require.Equal(t, http.StatusOK, status)
	tints := map[string]bool{}
	for _, k := range s.Kinds {
		n := 0
		for _, p := range s.Plants {
			if p.ID == k.ID {
				n++
			}
		}
		assert.Equal(t, n, k.Count, k.Name)
		assert.Equal(t, n+1, strings.Count(string(svg), ` fill="`+k.Tint+`" stroke="#22302a"`), "%s: its plants and the legend", k.Name)
		assert.NotEmpty(t, k.Figure)
		tints[k.Tint] = true
	}
	require.Greater(t, len(s.Kinds), 2)
	assert.Len(t, tints, len(s.Kinds), "a tint for each kind")
	of, lettered, drawn := make([]int, len(s.Plants)), map[string]bool{}, 0
	for _, d := range s.Drifts {
		assert.Len(t, d.Links, len(d.Members)-1)
		assert.Contains(t, d.Words, s.Kinds[d.Kind].Key)
		for _, m := range d.Members {
			of[m]++
			assert.Equal(t, s.Kinds[d.Kind].ID, s.Plants[m].ID)
			assert.Equal(t, d.Letter, s.Plants[m].Drift, "the outline is that of the letter")
		}
		assert.Equal(t, len(d.Members) >= 3, d.Letter != "", "%s", d.Words)
		assert.Equal(t, d.Letter != "", strings.HasPrefix(d.Words, d.Letter+": ") && d.Letter != "")
		lettered[d.Letter] = lettered[d.Letter] || d.Letter != ""
		drawn += len(d.Letter)
	}
	for _, n := range of {
		assert.Equal(t, 1, n, "each plant stands in one drift")
	}
	delete(lettered, "")
	assert.Len(t, lettered, drawn, "a letter for each drift")
	assert.NotEmpty(t, lettered)
}

// Ground that is kept free is not offered to plants, and a bed that is made longer
// without its spill says so among the checks.
func TestKeptFreeAndLeftBehind(t *testing.T) {
	t.Parallel()
	w := call(t, demoGarden(t))
	s := w.placed()
	type place struct {
		Inside      bool
		Words, Kept string
		Lives       []next
		N           int `json:"lives_n"`
	}
	for kind, at := range map[string][2]float64{"boulder": {14 * 0.3048, 3.5 * 0.3048}, "inlet splash": {0.2, 7 * 0.3048}, "overflow": {19.5 * 0.3048, 7 * 0.3048}} {
		got := post[place](w, "/api/place", changes{"x_m": at[0], "y_m": at[1]})
		assert.True(t, got.Inside, kind)
		assert.Equal(t, kind, got.Kept)
		assert.Contains(t, got.Words, "kept free of plants ("+kind+")")
		assert.Empty(t, got.Lives)
		assert.Zero(t, got.N)
	}
	assert.Empty(t, post[place](w, "/api/place", changes{"x_m": 3, "y_m": 2.1}).Kept)

	const inPond = "spill inside the pond"
	_, before := w.ask("GET", "/api/state", "")
	assert.NotContains(t, string(before), inPond)
	w.try(s.Version, map[string]string{"bed.length": "24 ft"})
	_, longer := w.ask("GET", "/api/state", "")
	assert.Contains(t, string(longer), inPond)
}

// Who opens an address without its key reads words, not JSON; a program is answered as
// before.
func TestTurnedAwayInWords(t *testing.T) {
	t.Parallel()
	p, err := page.New(t.Context(), demoGarden(t), 4321)
	require.NoError(t, err)
	for _, path := range []string{"/", "/?key=other", "/api/state"} {
		for _, accept := range []string{"text/html,application/xhtml+xml", "*/*"} {
			r := httptest.NewRequest("GET", "http://127.0.0.1:4321"+path, nil)
			r.Header.Set("Accept", accept)
			w := httptest.NewRecorder()
			p.Handler().ServeHTTP(w, r)
			assert.Equal(t, http.StatusForbidden, w.Code)
			html := strings.HasPrefix(accept, "text/html")
			assert.Equal(t, html, strings.HasPrefix(w.Header().Get("Content-Type"), "text/html"), path)
			assert.Equal(t, !html, json.Valid(w.Body.Bytes()))
			assert.Contains(t, w.Body.String(), "hollowbed open has printed last")
		}
	}
}

// A field of the soil that does nothing beside a soak test or a rate says so, and it is
// true: the bed is the same with it.
func TestIdleSoilFieldsSaySo(t *testing.T) {
	t.Parallel()
	hint := func(s shown, key string) string {
		for _, f := range s.Fields {
			if f.Key == key {
				return f.Hint
			}
		}
		return "no field " + key
	}
	same := func(a, b shown) bool { return assert.ObjectsAreEqual(a.Short, b.Short) }
	w := call(t, demoGarden(t))
	s := w.placed()
	assert.Contains(t, hint(s, "soil.rate"), "no effect: the soak test")
	assert.Contains(t, hint(s, "soil.texture"), "of the soak test")
	assert.NotContains(t, hint(s, "soil.safety_factor"), "no effect")
	assert.True(t, same(s, w.try(s.Version, map[string]string{"soil.rate": "9 in/h"})))

	g, dir := folderGarden(t)
	file := filepath.Join(dir, "garden.yaml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	before, test, _ := strings.Cut(string(text), "  soak_test:")
	_, after, found := strings.Cut(test, "\nmix:")
	require.True(t, found)
	require.NoError(t, os.WriteFile(file, []byte(before+"mix:"+after), 0o644))
	w = call(t, g)
	s = w.placed()
	assert.NotContains(t, hint(s, "soil.rate"), "no effect")
	assert.Contains(t, hint(s, "soil.safety_factor"), "no effect")
	assert.True(t, same(s, w.try(s.Version, map[string]string{"soil.safety_factor": "4"})))
	s = w.try(s.Version+1, map[string]string{"soil.rate": "0.3 in/h"})
	assert.Contains(t, hint(s, "soil.texture"), "of the measured rate")
	assert.NotContains(t, hint(s, "soil.safety_factor"), "no effect")
	assert.False(t, same(s, w.try(s.Version, map[string]string{"soil.rate": "3 in/h"})), "a rate counts without a soak test")
}
