package plants

import (
	"math"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// demo is the judge, the catalogue and the planting of the demo garden as it is
// set out.
func demo(t testing.TB) (*Judge, *catalogue.Catalogue, []placement.Planted) {
	t.Helper()
	open := func(name string) *os.File {
		f, err := os.Open("../data/" + name)
		require.NoError(t, err)
		t.Cleanup(func() { f.Close() })
		return f
	}
	g, err := zones.ReadGarden("garden.yaml", open("garden.yaml"))
	require.NoError(t, err)
	rec, err := site.ReadRecord("rain.csv", open("rain.csv"), g.Weather.Format, g.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := zones.Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	c, err := catalogue.Read("plants.csv", open("plants.csv"))
	require.NoError(t, err)
	j := NewJudge(e)
	return j, c, setOut(t, j, c)
}

// setOut chooses and places a planting.
func setOut(t testing.TB, j *Judge, c *catalogue.Catalogue) []placement.Planted {
	t.Helper()
	p, err := Choose(j, c)
	require.NoError(t, err)
	placed, err := Place(j, p, c, nil, nil)
	require.NoError(t, err)
	return placed.Rows("2023-10-10", nil)
}

func autumn() time.Time { return time.Date(2024, 9, 1, 0, 0, 0, 0, time.UTC) }

func mustRelocate(t testing.TB, in MoveInput) *Relocation {
	t.Helper()
	in.Model = season.Default()
	r, err := Relocate(in)
	require.NoError(t, err)
	return r
}

// muddled gives plants of the bottom the places of plants of the rim, as many as
// pairs, and the other way round.
func muddled(rows []placement.Planted, pairs int) []placement.Planted {
	out := append([]placement.Planted(nil), rows...)
	var low, high []int
	for i, r := range out {
		switch r.Zone {
		case "bottom":
			low = append(low, i)
		case "rim":
			high = append(high, i)
		}
	}
	for k := range min(pairs, len(low), len(high)) {
		a, b := &out[low[k]], &out[high[k]]
		a.X, a.Y, a.Zone, b.X, b.Y, b.Zone = b.X, b.Y, b.Zone, a.X, a.Y, a.Zone
	}
	return out
}

func TestRelocateDemo(t *testing.T) {
	j, c, rows := demo(t)
	start := time.Now()
	good := mustRelocate(t, MoveInput{Judge: j, Catalogue: c, Standing: rows, On: autumn()})
	t.Logf("set out well: %d plants, %d moves, %d new, objective %.2f, nothing %.2f m2, %v", len(rows), len(good.Moves), len(good.New), good.ObjectiveM2, good.NothingM2, time.Since(start))
	start = time.Now()
	bad := mustRelocate(t, MoveInput{Judge: j, Catalogue: c, Standing: muddled(rows, 10), On: autumn()})
	t.Logf("muddled: %d moves, %d new, objective %.2f, nothing %.2f m2, %v", len(bad.Moves), len(bad.New), bad.ObjectiveM2, bad.NothingM2, time.Since(start))
	for _, m := range bad.Moves {
		t.Logf("%s %s %s %s->%s%s risk %.3f -> %.3f loss %.2f -> %.2f disturb %.2f; %s %s; %+v; second %v %v %.3f", m.Stake, m.Plant.ID, m.Action, m.From.Zone, m.To.Zone, m.To.Stake,
			m.Before.YearlyRisk, m.After.YearlyRisk, m.LossNow, m.LossThen, m.Disturb, m.When.From.Format(time.DateOnly), m.When.Reason, m.How, m.Second.GiveUp, m.Second.To.Stake, m.Second.ExtraM2)
	}
	for _, n := range bad.New {
		t.Logf("new %s at %s %s risk %.3f benefit %.3f instead %s", n.Plant.ID, n.Place.Stake, n.Place.Zone, n.Outlook.YearlyRisk, n.BenefitM2, n.Instead)
	}
	assert.Less(t, bad.ObjectiveM2, bad.NothingM2)
	assert.False(t, math.IsNaN(bad.ObjectiveM2))
}
