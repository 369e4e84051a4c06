package report

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants"
	"hollowbed/plants/placement"
)

// The page's first words are those of the commands, and what is not known never passes
// for safe.
func TestScreenVerdict(t *testing.T) {
	in := demoIn(t)
	bed := NewBasin(in.Garden, in.Lot, in.Performance, nil, nil)
	list := NewChoose(in.Garden, in.Catalogue, in.Planting, bed.Checks)
	fact := func(v ScreenVerdict, label string) screenFact {
		i := slices.IndexFunc(v.Facts, func(f screenFact) bool { return f.Label == label })
		require.GreaterOrEqual(t, i, 0, label)
		return v.Facts[i]
	}
	v := NewScreenVerdict(bed, list, in.Planting, in.Placed, false)
	assert.Equal(t, bed.Verdict[0], v.Words)
	assert.Equal(t, "ok", v.Look)
	assert.Equal(t, in.Garden.Units.Percent(in.Performance.Captured), fact(v, "roof water kept").Value)
	assert.Equal(t, in.Garden.Units.Duration(in.Performance.DrainH), fact(v, "soaks away in").Value)
	count, kinds, worst := 0, map[string]bool{}, 0.0
	for _, l := range in.Planting.Lines {
		count += l.Count
		kinds[l.Plant.ID] = true
	}
	assert.Equal(t, fmt.Sprintf("%d of %d kinds", count, len(kinds)), fact(v, "plants on the list").Value)
	assert.Equal(t, fmt.Sprintf("%.2f", in.Planting.Cost), fact(v, "price").Value)
	for _, s := range in.Placed.Result.Plants {
		worst = max(worst, s.Risk)
	}
	assert.Equal(t, risk(worst, false)+" a year", fact(v, "highest risk").Value)
	assert.Equal(t, "out", v.Step)
	assert.Contains(t, v.Next, "buried pipes and cables")
	assert.Equal(t, "year", NewScreenVerdict(bed, list, in.Planting, in.Placed, true).Step)

	// A plant of unknown risk beside safe ones.
	placed := *in.Placed
	placed.Result = &placement.Result{Plants: []placement.Standing{{Stake: "A1", Risk: 0.01}, {Stake: "B1", Risk: math.NaN()}}}
	f := fact(NewScreenVerdict(bed, list, in.Planting, &placed, true), "highest risk")
	assert.Equal(t, levelUnknown, f.Level)
	assert.Contains(t, f.Note, "not known of 1")
	placed.Result.Plants = placed.Result.Plants[1:]
	assert.Equal(t, "not known", fact(NewScreenVerdict(bed, list, in.Planting, &placed, true), "highest risk").Value)

	// What has no price is not free.
	list.Lines = slices.Clone(list.Lines)
	list.Lines[0].Price = Number(math.NaN())
	assert.Equal(t, "no price for 1 kind", fact(NewScreenVerdict(bed, list, in.Planting, nil, false), "price").Note)

	// A check that could not be made, or fails, comes before any digging.
	bed.Checks = slices.Clone(bed.Checks)
	bed.Checks[0].Known = false
	v = NewScreenVerdict(bed, list, in.Planting, in.Placed, true)
	assert.Equal(t, "unknown", v.Look)
	assert.Equal(t, "lot", v.Step)
	assert.Contains(t, v.Next, bed.Checks[0].Name)
	bed.Checks[0].Known, bed.Checks[0].OK = true, false
	v = NewScreenVerdict(bed, NewChoose(in.Garden, in.Catalogue, in.Planting, bed.Checks), in.Planting, in.Placed, true)
	assert.Equal(t, "fails", v.Look)
	assert.Equal(t, "lot", v.Step)
	assert.Contains(t, v.Next, "Mend the bed first: "+bed.Checks[0].Name)

	empty := list
	empty.Lines = nil
	v = NewScreenVerdict(NewBasin(in.Garden, in.Lot, in.Performance, nil, nil), empty, &plants.Planting{Exposure: in.Exposure}, nil, false)
	assert.Equal(t, "list", v.Step)
	assert.False(t, slices.ContainsFunc(v.Facts, func(f screenFact) bool { return f.Label == "highest risk" }))
}
