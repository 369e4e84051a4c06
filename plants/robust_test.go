package plants

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/testdata/testenv"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// demoJudge is the demo garden under its first years, with its plants.
func demoJudge(t testing.TB, years int, change ...string) (*Judge, *catalogue.Catalogue) {
	t.Helper()
	read := func(name string) []byte {
		text, err := os.ReadFile(filepath.Join("../data", name))
		require.NoError(t, err)
		return text
	}
	g, err := zones.ReadGarden("garden.yaml", strings.NewReader(strings.NewReplacer(change...).Replace(string(read("garden.yaml")))))
	require.NoError(t, err)
	lines := bytes.SplitAfter(read("rain.csv"), []byte("\n"))
	rain := bytes.Join(lines[:min(len(lines), 1+366*years)], nil)
	rec, err := site.ReadRecord("rain.csv", bytes.NewReader(rain), g.Weather.Format, g.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := zones.Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	c, err := catalogue.Read("plants.csv", bytes.NewReader(read("plants.csv")))
	require.NoError(t, err)
	return NewJudge(e), c
}

// Robust plants keep their yearly risk under the limit in at least 95 % of
// cases that were not looked at when they were called robust.
func TestRobustHoldsInFreshCases(t *testing.T) {
	testenv.Sweep(t)
	j, c := demoJudge(t, 6)
	d := j.Exposure.Lot.UsualDoubt()
	years := len(j.Exposure.Whole)
	first, _, err := judgeCases(j, j.All(c), d, d.Samples(RobustCases, years, 1))
	require.NoError(t, err)
	const fresh = 160
	again, _, err := judgeCases(j, j.All(c), d, d.Samples(fresh, years, 99))
	require.NoError(t, err)
	robust, fragile := 0, 0
	for _, v := range j.All(c) {
		sure, ok := first.Of(v)
		assert.Equal(t, v.Bar == NoBar, ok, "followed if it is offered")
		if !ok {
			continue
		}
		later, _ := again.Of(v)
		assert.LessOrEqual(t, sure.Low, sure.High)
		assert.InDelta(t, float64(sure.Right)/RobustCases, float64(later.Right)/fresh, 0.2, "%s: four standard errors and more", v.Plant.ID)
		if first.Robust(v) {
			robust++
			assert.GreaterOrEqual(t, float64(later.Right)/fresh, 0.95, "%s in the %s", v.Plant.ID, v.Zone)
			assert.LessOrEqual(t, sure.High, 0.15, "the limit of the garden file")
		} else {
			fragile++
		}
	}
	assert.Greater(t, robust, 10, "there is something to check")
	for _, z := range j.Exposure.Zones {
		offered, always := 0.0, 0.0
		for _, v := range j.All(c) {
			if sure, ok := first.Of(v); ok && v.Zone == z.Zone {
				offered++
				if sure.Right == RobustCases {
					always++
				}
			}
		}
		r := first.Offered[z.Zone]
		assert.Equal(t, offered, r.Plan)
		assert.True(t, always <= r.Low && r.Low <= r.Middle && r.Middle <= r.High && r.High <= offered, "%+v, %g always", r, always)
	}
	assert.Greater(t, fragile, 10, "and it is told from the rest")
}

// Without doubt everything that is offered is robust, and the list is the same.
func TestRobustWithoutDoubt(t *testing.T) {
	j, c := demoJudge(t, 3)
	sure := zones.Doubt{SoilFactor: 1}
	samples := sure.Samples(4, len(j.Exposure.Whole), 1)
	plain, err := Choose(j, c)
	require.NoError(t, err)
	robust, err := ChooseRobust(j, c, sure, samples)
	require.NoError(t, err)
	require.Len(t, robust.Lines, len(plain.Lines))
	for i, l := range plain.Lines {
		got := robust.Lines[i]
		assert.Equal(t, [3]any{l.Zone, l.Plant.ID, l.Count}, [3]any{got.Zone, got.Plant.ID, got.Count})
		s, ok := robust.Sure.Of(got.Verdict)
		assert.True(t, ok)
		assert.Equal(t, Sure{Right: 4, Low: l.Fit.YearlyRisk, High: l.Fit.YearlyRisk}, s)
	}
	assert.Equal(t, plain.Objective, robust.Objective)
	assert.Nil(t, plain.Sure)
	assert.False(t, plain.Sure.Robust(plain.Lines[0].Verdict), "nobody asked")
}

// Where robust plants fill a zone nothing else is planted; where they do not,
// others come in and a note says so. The ground stays planted.
func TestChooseRobust(t *testing.T) {
	j, c := demoJudge(t, 4)
	d := j.Exposure.Lot.UsualDoubt()
	samples := d.Samples(30, len(j.Exposure.Whole), 1)
	plain, err := Choose(j, c)
	require.NoError(t, err)
	robust, err := ChooseRobust(j, c, d, samples)
	require.NoError(t, err)
	share := func(p *Planting) float64 {
		sum, all := 0.0, 0.0
		for _, l := range p.Lines {
			all += l.AreaM2
			sum += l.AreaM2 * robust.Sure.share(l.Verdict)
		}
		return sum / all
	}
	assert.Greater(t, share(robust), share(plain), "mean share of the cases in which a plant is right")
	notes := strings.Join(robust.Notes, " ")
	strict := 0
	for i, z := range robust.Zones {
		assert.GreaterOrEqual(t, z.PlantedM2, plain.Zones[i].PlantedM2-(lessRoom+0.05)*z.AreaM2, z.Zone)
		if strings.Contains(notes, "the "+z.Zone) {
			continue
		}
		strict++
		for _, l := range robust.Lines {
			if l.Zone == z.Zone {
				assert.True(t, robust.Sure.Robust(l.Verdict), "%s in the %s", l.Plant.ID, z.Zone)
			}
		}
	}
	assert.Positive(t, strict)
	for _, v := range robust.Verdicts {
		if v.Bar == BarUnsure {
			assert.Regexp(t, `right in \d+ of 30 cases`, v.Detail)
			assert.True(t, v.Lives(), "it lives as planned")
		}
	}

	fragile := ""
	for _, v := range plain.Verdicts {
		if s, ok := robust.Sure.Of(v); ok && s.Right < 20 {
			fragile = v.Plant.ID
		}
	}
	require.NotEmpty(t, fragile)
	j.Exposure.Lot.Garden.Wishes.Wanted = []string{fragile}
	wanted, err := ChooseRobust(j, c, d, samples)
	require.NoError(t, err)
	stands := false
	for _, l := range wanted.Lines {
		stands = stands || l.Plant.ID == fragile
	}
	assert.True(t, stands, "%s is wanted, robust or not", fragile)
	j.Exposure.Lot.Garden.Wishes.Wanted = []string{"no-such"}
	_, err = ChooseRobust(j, c, d, samples)
	require.Error(t, err)
}

// What is no longer wanted stops.
func TestRobustStops(t *testing.T) {
	j, c := demoJudge(t, 2)
	d := j.Exposure.Lot.UsualDoubt()
	j.Stop = func() bool { return true }
	_, err := ChooseRobust(j, c, d, d.Samples(4, len(j.Exposure.Whole), 1))
	require.ErrorIs(t, err, errStopped)
}

// BenchmarkRobust is how much longer the robust list takes than the plain one.
func BenchmarkRobust(b *testing.B) {
	j, c := demoJudge(b, 24)
	d := j.Exposure.Lot.UsualDoubt()
	for b.Loop() {
		_, err := ChooseRobust(j, c, d, d.Samples(RobustCases, len(j.Exposure.Whole), 1))
		require.NoError(b, err)
	}
}
