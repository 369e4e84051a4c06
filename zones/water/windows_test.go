package water

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// Windows that are the calendar years find what Run finds.
func TestWindowsOfYearsAreYears(t *testing.T) {
	rec := readReal(t, "seattle-newyork-daily-2012-2015.csv", "location", "Seattle", 47.6)
	lot := roughLot(t, 6, 47.6)
	by, err := Run(lot, rec)
	require.NoError(t, err)
	var cuts []int
	for _, y := range rec.Years(47.6) {
		cuts = append(cuts, y.FromDay)
	}
	windows := Windows(rec, cuts)
	assert.Equal(t, by.Years, windows)
	got, err := RunWindows(lot, rec, windows)
	require.NoError(t, err)
	assert.Equal(t, by, got)
}

// The most met over windows is the most met over all of them together, however
// they are cut.
func TestMostOverWindows(t *testing.T) {
	rec := readReal(t, "seattle-newyork-daily-2012-2015.csv", "location", "Seattle", 47.6)
	lot := roughLot(t, 6, 47.6)
	whole, err := RunWindows(lot, rec, Windows(rec, nil))
	require.NoError(t, err)
	require.Len(t, whole.Years, 1)
	cut, err := RunWindows(lot, rec, Windows(rec, []int{40, 333, 334, 700, 1200, 1201, 9999, -3}))
	require.NoError(t, err)
	require.Len(t, cut.Years, 7)
	root := RootZone{TAWMM: 50, PTab: 0.5}
	for b := range whole.Bands {
		var most YearExposure
		wet, load := 0, 0.0
		for w := range cut.Years {
			e := cut.Exposure[b][w]
			most.Wet.Hours = max(most.Wet.Hours, e.Wet.Hours)
			most.Dry.Hours = max(most.Dry.Hours, e.Dry.Hours)
			most.DeepestMM = max(most.DeepestMM, e.DeepestMM)
			most.AirPoorH = max(most.AirPoorH, e.AirPoorH)
			most.WetGrowing.GrowingHours = max(most.WetGrowing.GrowingHours, e.WetGrowing.GrowingHours)
			wet += e.WetHours
			load = max(load, cut.Droughts(root, b)[0][w].Load)
		}
		e := whole.Exposure[b][0]
		assert.Equal(t, e.Wet.Hours, most.Wet.Hours)
		assert.Equal(t, e.Dry.Hours, most.Dry.Hours)
		assert.Equal(t, e.DeepestMM, most.DeepestMM)
		assert.Equal(t, e.AirPoorH, most.AirPoorH)
		assert.GreaterOrEqual(t, e.AirPoorH, e.Wet.Hours, "wet ground is short of air too")
		assert.Equal(t, e.WetGrowing.GrowingHours, most.WetGrowing.GrowingHours)
		assert.Equal(t, e.WetHours, wet)
		assert.Equal(t, whole.Droughts(root, b)[0][0].Load, load)
	}
	for k := range whole.LevelsMM {
		most := 0.0
		for w := range cut.Years {
			most = max(most, cut.Above[k][w])
		}
		assert.InDelta(t, whole.Above[k][0], most, 1e-9)
	}
}

// A full tub of 200 mm that loses 4 mm/h stands for 50 h from the evening
// before the third day. A window that ends with that day has the 26 h that the
// spell has reached by then, the next one all of it.
func TestWindowInsideASpell(t *testing.T) {
	lot := tub(t, 200, 1000, 4)
	rec := made(10, 24*1+22, 1000, 0)
	r, err := RunWindows(lot, rec, Windows(rec, []int{3}))
	require.NoError(t, err)
	first, second := r.Exposure[0][0].Wet, r.Exposure[0][1].Wet
	assert.Equal(t, 24*1+22, first.FromHour)
	assert.Equal(t, 24*3-first.FromHour, first.Hours)
	assert.Equal(t, first.FromHour, second.FromHour)
	assert.Greater(t, second.Hours, first.Hours)
	whole, err := RunWindows(lot, rec, Windows(rec, nil))
	require.NoError(t, err)
	assert.Equal(t, whole.Exposure[0][0].Wet, second)
}

func TestWindowsHaveToFollow(t *testing.T) {
	lot := tub(t, 200, 1000, 4)
	rec := made(10, 30, 10, 1)
	for _, windows := range [][]site.Year{
		nil, {{FromDay: 0, ToDay: 9}}, {{FromDay: 1, ToDay: 10}}, {{FromDay: 0, ToDay: 5}, {FromDay: 6, ToDay: 10}},
		{{FromDay: 0, ToDay: 5}, {FromDay: 5, ToDay: 5}, {FromDay: 5, ToDay: 10}}, {{FromDay: 0, ToDay: 11}},
	} {
		_, err := RunWindows(lot, rec, windows)
		assert.ErrorContains(t, err, "window")
	}
}

// A wet spell counts in the windows that it touches and in no other, also where
// it ends with the last hour of one: here at a gap that begins with a day.
func TestWetSpellsStayInTheirWindows(t *testing.T) {
	rec := made(30, 24*10, 1000, 3)
	for h := range gapH {
		rec.Missing[24*12+h] = true
	}
	var cuts []int
	for d := range rec.Days {
		cuts = append(cuts, d)
	}
	r, err := RunWindows(tub(t, 300, 1000, 4), rec, Windows(rec, cuts))
	require.NoError(t, err)
	spell := r.Exposure[0][11].Wet
	require.Equal(t, 24*12, spell.FromHour+spell.Hours, "ends with its day")
	require.Positive(t, r.Exposure[0][12].WetHours, "and is wet after the gap")
	for w, e := range r.Exposure[0] {
		assert.Equal(t, e.WetHours > 0, e.Wet.Hours > 0, "day %d", w)
		if e.Wet.Hours > 0 {
			assert.Greater(t, e.Wet.FromHour+e.Wet.Hours, 24*w, "day %d", w)
		}
	}
}
