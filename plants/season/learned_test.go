package season

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
)

func kinds() *catalogue.Catalogue {
	return &catalogue.Catalogue{Name: "plants.csv", Plants: []catalogue.Plant{
		{ID: "b", WetH: 48, PondMM: 100, DryD: math.NaN(), LowestC: -30, Assumed: []string{"wet_h", "notes"}},
		{ID: "a", WetH: 24, PondMM: 50, DryD: 20, LowestC: -20},
	}}
}

// Factors become values in the units of the table: half the hours, three halves
// of the days; for cold a factor e is one hardiness zone of 10 deg F, 50/9 deg C,
// so that 1.2 has -20 - 5.556 ln 1.2 = -21.013. Nobody reads more than four
// digits: 24 x 0.71234567 is 17.1. b states no dry_d: nothing is
// learned of it.
func TestLearnedInTheUnitsOfTheTable(t *testing.T) {
	l := &Learned{Species: []SpeciesLimit{
		{ID: "a", Limit: fit.TooWet, Factor: 0.5, Low: 0.4, High: 0.71234567, Plants: 7, Gardens: 3},
		{ID: "a", Limit: fit.TooDry, Factor: 1.5, Low: 1, High: 2, Plants: 4, Gardens: 2},
		{ID: "a", Limit: fit.TooCold, Factor: 1.2, Low: 0.8, High: 1.6, Plants: 1, Gardens: 1},
		{ID: "b", Limit: fit.TooDry, Factor: 1.5, Low: 1, High: 2, Plants: 4, Gardens: 2},
		{ID: "gone", Limit: fit.TooDry, Factor: 1.5, Low: 1, High: 2, Plants: 4, Gardens: 2},
	}}
	got := l.Limits(kinds())
	require.Len(t, got, 3)
	assert.Equal(t, LearnedLimit{ID: "a", Limit: fit.TooWet, Catalogue: 24, Learned: 12, Low: 9.6, High: 17.1, Plants: 7, Gardens: 3}, got[0])
	assert.Equal(t, 30.0, got[1].Learned)
	assert.Equal(t, -21.01, got[2].Learned)
	assert.Greater(t, got[2].Low, got[2].High, "low bears less: it is the warmer one")
	assert.Equal(t, []fit.Limit{fit.TooWet, fit.TooDry, fit.TooCold}, []fit.Limit{ByChange(got)[0].Limit, ByChange(got)[1].Limit, ByChange(got)[2].Limit})
}

func TestApply(t *testing.T) {
	c := kinds()
	limits := []LearnedLimit{
		{ID: "b", Limit: fit.TooWet, Catalogue: 48, Learned: 24, Low: 18, High: 30, Plants: 9, Gardens: 2},
		{ID: "b", Limit: fit.TooDry, Catalogue: 20, Learned: 30, Low: 20, High: 40, Plants: 9, Gardens: 2},
		{ID: "a", Limit: fit.TooCold, Catalogue: -20, Learned: -22, Low: -15, High: -25, Plants: 9, Gardens: 2},
		{ID: "a", Limit: fit.TooDeep, Catalogue: 100, Learned: 150, Low: 50, High: 400, Plants: 1, Gardens: 1},
		{ID: "gone", Limit: fit.TooDeep, Catalogue: 100, Learned: 150, Low: 100, High: 200, Plants: 1, Gardens: 1},
	}
	out, applied := Apply(c, limits)
	require.Len(t, applied, 3)
	assert.Equal(t, 24.0, out.Plants[0].WetH)
	assert.True(t, math.IsNaN(out.Plants[0].DryD), "not stated, and so not learned")
	assert.InDelta(t, -22, out.Plants[1].LowestC, 1e-9)
	assert.Equal(t, 75.0, out.Plants[1].PondMM, "the table has halved it since: half of 150")
	assert.Equal(t, 50.0, applied[2].Was)
	assert.Equal(t, []string{"notes"}, out.Plants[0].Assumed, "known as well as a stated one")
	assert.Equal(t, []string{"wet_h", "notes"}, c.Plants[0].Assumed, "the catalogue itself stays as it was")
	assert.Equal(t, 48.0, c.Plants[0].WetH)
	p, ok := out.ByID("b")
	assert.True(t, ok)
	assert.Equal(t, 24.0, p.WetH)

	limits[0].Low, limits[0].High = 8, 72 // a factor of 3 either way: no better than assumed
	out, _ = Apply(c, limits[:1])
	assert.Equal(t, []string{"wet_h", "notes"}, out.Plants[0].Assumed)
}

func TestLearnedRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seen := map[string]bool{}
		var want []LearnedLimit
		for range rapid.IntRange(0, 6).Draw(rt, "rows") {
			l := LearnedLimit{
				ID:     rapid.StringMatching(`[a-z=+@][a-z0-9-]{0,8}`).Draw(rt, "id"),
				Limit:  Limits()[rapid.IntRange(0, 3).Draw(rt, "limit")],
				Plants: rapid.IntRange(1, 1e6).Draw(rt, "plants"), Gardens: rapid.IntRange(1, 1000).Draw(rt, "gardens"),
			}
			if seen[l.ID+string(l.Limit)] {
				continue
			}
			seen[l.ID+string(l.Limit)] = true
			l.Catalogue = rapid.Float64Range(0.01, 1e4).Draw(rt, "catalogue")
			if l.Limit == fit.TooCold {
				l.Catalogue = -l.Catalogue / 100
			}
			f := rapid.Float64Range(0.2, 5).Draw(rt, "factor")
			l.Learned, l.Low, l.High = l.Limit.Scaled(l.Catalogue, f), l.Limit.Scaled(l.Catalogue, f/2), l.Limit.Scaled(l.Catalogue, f*2)
			want = append(want, l)
		}
		var text bytes.Buffer
		require.NoError(rt, WriteLearned(&text, want))
		got, err := ReadLearned("learned.csv", bytes.NewReader(text.Bytes()))
		require.NoError(rt, err)
		require.Equal(rt, want, got)
	})
}

func TestReadLearnedFaults(t *testing.T) {
	const head = "id,limit,catalogue,learned,low,high,plants,gardens\n"
	for _, c := range []struct{ text, want string }{
		{"id,limit\n", "learned.csv:1:1: catalogue: the header lacks this column"},
		{head + ",wet_h,48,24,18,30,9,2\n", "learned.csv:2:1: id: want the id of a plant in the plant table"},
		{head + "b,wet,48,24,18,30,9,2\n", `learned.csv:2:3: limit: "wet": want wet_h, pond_mm, dry_d or lowest_c`},
		{head + "b,wet_h,48,24,18,30,9,2\nb,wet_h,48,24,18,30,9,2\n", `learned.csv:3:1: id: "b": want each limit of a plant once`},
		{head + "b,wet_h,much,24,18,30,9,2\n", `learned.csv:2:9: catalogue: "much": want a number in the unit of wet_h`},
		{head + "b,wet_h,48,,18,30,9,2\n", `learned: want a number in the unit of wet_h`},
		{head + "b,wet_h,0,24,18,30,9,2\n", `catalogue: "0": want a number`},
		{head + "b,wet_h,48,24,25,30,9,2\n", `learned.csv:2:12: learned: "24": want a number between low and high`},
		{head + "b,lowest_c,-20,-22,-15,-21,9,2\n", `learned: "-22": want a number between low and high`},
		{head + "b,wet_h,48,24,18,30,none,2\n", `plants: "none": want a whole number from 1`},
		{head + "b,wet_h,48,24,18,30,9,0\n", `gardens: "0": want a whole number from 1`},
	} {
		_, err := ReadLearned("learned.csv", strings.NewReader(c.text))
		var bad interface{ BadInput() bool }
		if assert.ErrorAs(t, err, &bad, c.text) {
			assert.ErrorContains(t, err, c.want)
		}
	}
	got, err := ReadLearned("learned.csv", strings.NewReader(head+"b,lowest_c,-20,-22,-15,-25,9,2\n"))
	require.NoError(t, err)
	assert.Equal(t, -25.0, got[0].High)
}

// What is written is in the words of the table's columns.
func TestWriteLearned(t *testing.T) {
	var text bytes.Buffer
	require.NoError(t, WriteLearned(&text, []LearnedLimit{{ID: "b", Limit: fit.TooWet, Catalogue: 48, Learned: 24.5, Low: 18, High: 30, Plants: 9, Gardens: 2}}))
	assert.Equal(t, "id,limit,catalogue,learned,low,high,plants,gardens\nb,wet_h,48,24.5,18,30,9,2\n", text.String())
}
