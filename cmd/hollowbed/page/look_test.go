package page_test

import (
	"encoding/json"
	"math"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// judged works the demo out without the page, as the other commands do.
func judged(t testing.TB) *plants.Judge {
	t.Helper()
	g := demoGarden(t)
	file, err := g.Files.Open("garden.yaml")
	require.NoError(t, err)
	defer file.Close()
	garden, err := zones.ReadGarden("garden.yaml", file)
	require.NoError(t, err)
	rain, err := g.Files.Open("rain.csv")
	require.NoError(t, err)
	defer rain.Close()
	rec, err := site.ReadRecord("rain.csv", rain, garden.Weather.Format, garden.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := zones.Prepare(garden, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	return plants.NewJudge(e)
}

type next struct {
	ID, Name, Risk, Level, Reason string
	Share                         float64 `json:"risk_share"`
}

// The page shows the list that choose prints, and the places that place gives.
func TestSameAsCommands(t *testing.T) {
	t.Parallel()
	w := call(t, demoGarden(t))
	s := w.placed()
	j := judged(t)
	table := demoGarden(t).Table
	planting, err := plants.Choose(j, table)
	require.NoError(t, err)
	require.Len(t, s.List.Lines, len(planting.Lines))
	for i, l := range planting.Lines {
		assert.Equal(t, l.Plant.ID, s.List.Lines[i].ID)
		assert.Equal(t, l.Count, s.List.Lines[i].Count)
	}
	placed, err := plants.Place(j, planting, table, plants.Grown{})
	require.NoError(t, err)
	require.Len(t, s.Plants, len(placed.Result.Plants))
	for i, p := range placed.Result.Plants {
		assert.Equal(t, p.Stake, s.Plants[i].Stake)
		assert.Equal(t, p.X, s.Plants[i].X)
		assert.Equal(t, p.Y, s.Plants[i].Y)
	}
	// What can replace a plant lives at its place, and is another.
	stands := placed.Result.Plants[0]
	spot, ok := j.SpotAt(stands.X, stands.Y)
	require.True(t, ok)
	for _, query := range []string{"replace " + strings.ToLower(stands.Stake), "replace " + stands.Stake + " but taller"} {
		found := post[finds](w, "/api/find", changes{"query": query})
		require.NotEmpty(t, found.Hits, query)
		assert.Contains(t, found.Before[0].Text.Words, "at the place of "+stands.Stake)
		for _, h := range found.Hits {
			p, ok := table.ByID(h.ID)
			require.True(t, ok)
			v := j.At(p, spot)
			assert.True(t, v.Lives(), h.ID)
			assert.NotEqual(t, stands.ID, h.ID)
		}
	}
}

// The rings that the page draws hold the ground of their bands: their areas add
// up to those of the zones, by the shoelace formula.
func TestPlanRings(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	j := judged(t)
	inner := map[int]float64{}
	for i, b := range s.Plan.Bands {
		for _, r := range b.Rings {
			inner[i] += math.Abs(shoelace(r))
		}
	}
	var got []float64
	for i := range s.Plan.Bands {
		got = append(got, inner[i]-inner[i+1])
	}
	n := len(got)
	for i, b := range j.Exposure.Bands {
		assert.InDelta(t, b.AreaM2, got[n-1-i], 0.02*s.areaOf(j), "band %d", i)
	}
}

func (s shown) areaOf(j *plants.Judge) float64 { return j.Exposure.Lot.Bed.Spec().Outline.AreaM2() }

func shoelace(r [][2]float64) float64 {
	sum := 0.0
	for i, a := range r {
		b := r[(i+1)%len(r)]
		sum += a[0]*b[1] - b[0]*a[1]
	}
	return sum / 2
}

// The page has the ways in and the first year in the blocks of the builders that
// basin, care and the printed report have them from.
func TestWaysInAndFirstYear(t *testing.T) {
	g := demoGarden(t)
	w := call(t, g)
	s := w.placed()
	j := judged(t)
	planting, err := plants.Choose(j, g.Table)
	require.NoError(t, err)
	first, err := report.FirstYearOf(planting, g.Table, nil, nil, g.On, "planted.csv")
	require.NoError(t, err)
	same := func(want doc.Blocks, got json.RawMessage) {
		text, err := json.Marshal(want)
		require.NoError(t, err)
		assert.JSONEq(t, string(text), string(got))
		assert.Greater(t, len(want), 3)
	}
	same(report.NewInlets(j.Exposure.Lot).Blocks, s.Way)
	head := report.NewGarden(j.Exposure.Lot.Garden, true)
	same(report.NewCare(head, *first).Whole(), get[struct{ Blocks json.RawMessage }](w, "/api/care").Blocks)
	w.try(1, map[string]string{"wishes.unwanted": planting.Lines[0].Plant.ID})
	w.placed()
	assert.NotContains(t, string(get[struct{ Blocks json.RawMessage }](w, "/api/care").Blocks), planting.Lines[0].Plant.VernacularName, "it is that of the draft")
}

// A place shows what the judge says of it, best plant first.
func TestPlace(t *testing.T) {
	t.Parallel()
	w := call(t, demoGarden(t))
	w.placed()
	j := judged(t)
	for _, at := range [][2]float64{{3, 2.1}, {0.2, 1.2}, {0.5, 1.2}, {5.2, 3}} {
		got := post[struct {
			Inside                             bool
			Zone, Ground, Wet, Dry, Sun, Words string
			Lives                              []next
			N                                  int `json:"lives_n"`
		}](w, "/api/place", changes{"x_m": at[0], "y_m": at[1]})
		spot, ok := j.SpotAt(at[0], at[1])
		require.Equal(t, ok, got.Inside, at)
		if !ok {
			continue
		}
		assert.Equal(t, spot.Zone, got.Zone)
		n := 0
		for _, p := range demoGarden(t).Table.Plants {
			if v := j.At(p, spot); v.Lives() {
				n++
			}
		}
		assert.Equal(t, n, got.N)
		for i := 1; i < len(got.Lives); i++ {
			assert.GreaterOrEqual(t, got.Lives[i].Share, 0.0)
		}
		best, ok := demoGarden(t).Table.ByID(got.Lives[0].ID)
		require.True(t, ok)
		assert.Contains(t, got.Lives[0].Reason, report.Reason(j.At(best, spot).Fit.Reason, zones.UnitsUS))
	}
	outside := post[struct {
		Inside bool
		Words  string
	}](w, "/api/place", changes{"x_m": -5, "y_m": 2})
	assert.False(t, outside.Inside)
	assert.Equal(t, report.OutsideBed, outside.Words)
}

// The risk of a plant that is dragged is that of the judge at every place, it
// says why, and names what it would stand too near to.
func TestRisk(t *testing.T) {
	t.Parallel()
	w := call(t, demoGarden(t))
	s := w.placed()
	j := judged(t)
	p, ok := demoGarden(t).Table.ByID(s.Plants[0].ID)
	require.True(t, ok)
	type drag struct {
		Inside                                  bool
		Zone, Risk, Level, Reason, Here, Change string
		Share                                   float64 `json:"risk_share"`
		Clash                                   []string
	}
	seen := map[string]bool{}
	for x := 0.1; x < 6; x += 0.2 {
		got := post[drag](w, "/api/risk", changes{"stake": s.Plants[0].Stake, "x_m": x, "y_m": 2.1})
		spot, in := j.SpotAt(x, 2.1)
		require.Equal(t, in, got.Inside)
		if !in {
			continue
		}
		v := j.At(p, spot)
		assert.Equal(t, spot.Zone, got.Zone)
		assert.InDelta(t, v.Fit.YearlyRisk, got.Share, 1e-12)
		assert.Contains(t, got.Reason, report.Reason(v.Fit.Reason, zones.UnitsUS))
		assert.NotEmpty(t, got.Here)
		seen[got.Zone] = true
	}
	assert.Len(t, seen, 3, "it went through all zones")
	other := s.Plants[1]
	near := post[drag](w, "/api/risk", changes{"stake": s.Plants[0].Stake, "x_m": other.X, "y_m": other.Y})
	assert.Contains(t, strings.Join(near.Clash, "; "), other.Stake)
	own := post[drag](w, "/api/risk", changes{"stake": s.Plants[0].Stake, "x_m": s.Plants[0].X, "y_m": s.Plants[0].Y})
	assert.Empty(t, own.Clash, "where it stands it is near to nothing")
	assert.Equal(t, "no better and no worse", own.Change)
	inlet := post[drag](w, "/api/risk", changes{"id": p.ID, "x_m": 0.3, "y_m": 2.13})
	assert.Contains(t, strings.Join(inlet.Clash, "; "), "inlet splash")
	w.refused(http.StatusUnprocessableEntity, "/api/risk", changes{"stake": "NO1", "x_m": 3, "y_m": 2})
	w.refused(http.StatusUnprocessableEntity, "/api/risk", changes{"id": "no-such", "x_m": 3, "y_m": 2})
}

// A plant, and two of them side by side.
func TestPlantAndCompare(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	a, b := s.List.Lines[0].ID, s.List.Lines[1].ID
	card := post[struct {
		Name, Says string
		Blocks     []struct {
			Text  *struct{ Lead, Level string }
			Facts []struct{ Label, Value string }
		}
	}](w, "/api/plant", changes{"id": a})
	heads, facts := 0, 0
	for _, b := range card.Blocks {
		facts += len(b.Facts)
		if b.Text != nil && b.Text.Level != "" {
			heads++
		}
	}
	assert.Equal(t, 3, heads, "a verdict for each zone")
	assert.Positive(t, facts)
	assert.Contains(t, card.Says, "bottom: would live here")
	pair := post[struct {
		Names  [2]string
		Blocks []struct {
			Table struct {
				Rows [][]struct{ Words, ID string }
			}
		}
	}](w, "/api/compare", changes{"a": a, "b": b})
	rows := pair.Blocks[0].Table.Rows
	assert.Equal(t, pair.Names, [2]string{rows[0][1].Words, rows[0][2].Words})
	assert.Equal(t, [2]string{a, b}, [2]string{rows[0][1].ID, rows[0][2].ID})
	assert.Equal(t, "harms", rows[1][0].Words, "what can hurt comes first")
	assert.Equal(t, "risk a year in the bottom", rows[2][0].Words)
	w.refused(http.StatusUnprocessableEntity, "/api/compare", changes{"a": a, "b": "no-such"})
	f := w.refused(http.StatusUnprocessableEntity, "/api/plant", changes{"id": "low-brindelwisp"})
	assert.Contains(t, f.Faults[0].Want, "low-brindlewisp")
}

type finds struct {
	Total  int
	Before []struct{ Text struct{ Words string } }
	Hits   []struct{ ID, Risk string }
	Facets []struct {
		Field  string
		Values []struct {
			Value, Query string
			Count        int
			On           bool
		}
	}
	After   []struct{ List struct{ Items []string } }
	Nearest string
}

// Each facet's query finds as many plants as it says, and the query of one that
// is picked drops it again.
func TestFindFacets(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	all := post[finds](w, "/api/find", changes{"query": "bees"})
	require.Positive(t, all.Total)
	tried := 0
	for _, f := range all.Facets {
		for _, v := range f.Values[:min(2, len(f.Values))] {
			picked := post[finds](w, "/api/find", changes{"query": v.Query})
			assert.Equal(t, v.Count, picked.Total, "%s: %s", f.Field, v.Query)
			for _, g := range picked.Facets {
				for _, x := range g.Values {
					if g.Field == f.Field && x.Value == v.Value {
						assert.True(t, x.On)
						assert.Equal(t, all.Total, post[finds](w, "/api/find", changes{"query": x.Query}).Total)
						tried++
					}
				}
			}
		}
	}
	assert.Greater(t, tried, 5)
	in := post[finds](w, "/api/find", changes{"query": "", "in": "rim", "limit": 3})
	assert.Contains(t, in.Before[0].Text.Words, "that would live in the rim")
	assert.Len(t, in.Hits, 3)
	tallest := post[finds](w, "/api/find", changes{"query": "zone:rim", "sort": "-height", "limit": 2})
	status, text := w.ask("GET", "/api/find.csv?query=zone%3Arim&sort=-height", "")
	require.Equal(t, http.StatusOK, status)
	rows := strings.Split(string(text), "\n")
	for i, h := range tallest.Hits {
		assert.True(t, strings.HasPrefix(rows[i+1], h.ID+","), "the table has the hits in their order: %s", rows[i+1])
	}
	nothing := post[finds](w, "/api/find", changes{"query": "wet>=9000"})
	assert.Zero(t, nothing.Total)
	assert.NotEmpty(t, nothing.After[0].List.Items)
	assert.NotEmpty(t, nothing.Nearest)
	for _, bad := range []changes{{"query": "height<"}, {"query": "wet:wide"}, {"query": "x", "in": "attic"}, {"query": "x", "sort": "charm"}, {"query": "replace NOSUCH"}, {"query": strings.Repeat("x", 600)}} {
		f := w.refused(http.StatusBadRequest, "/api/find", bad)
		assert.NotEmpty(t, f.Faults[0].Want)
	}
}

// The water that is played is that of the balance: the wettest week spills or
// fills, the ring drawn is the nearest below or above the level, and the driest
// spell has soil that dries.
func TestWater(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	type frame struct {
		At, Words string
		Level     float64 `json:"level_mm"`
		Ring      int
		Bands     []float64
	}
	type film struct {
		Title, Step string
		Frames      []frame
		Rings       []struct {
			MM    float64
			Rings [][][2]float64
		}
	}
	wet := get[film](w, "/api/water?play=wettest")
	assert.Len(t, wet.Frames, 7*24)
	highest := math.Inf(-1)
	step := wet.Rings[1].MM - wet.Rings[0].MM
	for _, f := range wet.Frames {
		assert.Len(t, f.Bands, len(s.Plan.Bands))
		highest = max(highest, f.Level)
		if f.Ring >= 0 && f.Ring > 0 {
			assert.InDelta(t, f.Level, wet.Rings[f.Ring].MM, step/2+1e-9)
		}
	}
	assert.InDelta(t, 0, highest, 5, "in the wettest week of 24 years the bed fills")
	dry := get[film](w, "/api/water?play=driest")
	assert.Equal(t, "day", dry.Step)
	least := 1.0
	for _, f := range dry.Frames {
		for _, b := range f.Bands {
			assert.True(t, b >= 0 && b <= 1)
			least = min(least, b)
		}
	}
	assert.Less(t, least, 0.5, "plants are short of water")
	status, _ := w.ask("GET", "/api/water?play=nosuch", "")
	assert.Equal(t, http.StatusBadRequest, status)
}

// The drawings are pictures without scripts.
func TestDrawings(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	for _, name := range []string{"plan", "section", "bloom", "climate"} {
		status, text := w.ask("GET", "/api/"+name+".svg", "")
		assert.Equal(t, http.StatusOK, status, name)
		assert.True(t, strings.HasPrefix(string(text), "<svg "), name)
		assert.NotContains(t, string(text), "<script")
	}
}

// Every field of the garden file has a group of the page to stand in, by name.
func TestEveryFieldHasAGroup(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	_, script := w.ask("GET", "/assets/lot.js", "")
	fields := get[struct{ Fields []struct{ Key, Group string } }](w, "/api/state").Fields
	require.NotEmpty(t, fields)
	for _, f := range fields {
		assert.Contains(t, string(script), "['"+f.Group+"', '", "lot.js has no group for %s", f.Key)
	}
}
