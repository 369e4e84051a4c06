package care

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// What later years ask for goes by what stands: nothing of shrubs, runners or
// bulbs where there are none, each by its name once, half a year on in the south.
func TestLaters(t *testing.T) {
	group := func(name, form, spreads string) Group {
		return Group{Plant: catalogue.Plant{VernacularName: name, Form: form, Spreads: spreads}, Count: 1}
	}
	stands := []Stand{
		{Zone: "bottom", Groups: []Group{group("Sedge", "grass-like", "no"), group("Runner", "forb", "runs")}},
		{Zone: "rim", Groups: []Group{group("Sedge", "grass-like", "no"), group("Bulb", "bulb", "seeds")}},
	}
	north, south := SeasonsOf(byMonth(time.January), 45), SeasonsOf(byMonth(time.July), -45)
	got := Laters(north, []time.Month{4, 5, 9}, stands)
	plants := map[string][]string{}
	for _, l := range got {
		plants[l.ID] = l.Plants
		assert.NotEmpty(t, l.Source)
		assert.True(t, slices.IsSorted(l.Months) && len(l.Months) > 0, l.ID)
		assert.True(t, slices.Min(l.Years) >= 2 && slices.Max(l.Years) <= 5, l.ID)
	}
	assert.Equal(t, map[string][]string{"drain-time": nil, "repair-inlet": nil, "bare-ground": nil, "thin": {"Bulb", "Runner"}, "divide": {"Runner", "Sedge"}, "bulbs": {"Bulb"}}, plants)
	for i, l := range Laters(south, []time.Month{10, 11, 3}, stands) {
		var moved []time.Month
		for _, m := range got[i].Months {
			moved = append(moved, after(m, 6))
		}
		assert.ElementsMatch(t, moved, l.Months, l.ID)
	}
	shrub := Laters(north, []time.Month{5}, []Stand{{Groups: []Group{group("Shrub", "shrub", "no")}}})
	assert.Equal(t, "old-wood", shrub[0].ID)
	assert.Equal(t, []time.Month{3}, shrub[0].Months, "before growth")
	assert.Equal(t, []time.Month{4, 9}, starts([]time.Month{4, 5, 9, 10}))
	assert.Len(t, starts(allMonths()), 1)
}

// Each month of each year once, in the year of the bed's life that it lies in:
// the calendar, by hand.
func TestLaterDates(t *testing.T) {
	l := Later{Years: []int{2, 4}, Months: []time.Month{time.March, time.October}}
	for planted, want := range map[string][]string{
		"2024-10-20": {"2026-03-15", "2026-10-15", "2028-03-15", "2028-10-15"},
		"2024-10-15": {"2025-10-15", "2026-03-15", "2027-10-15", "2028-03-15"},
		"2024-02-29": {"2025-03-15", "2025-10-15", "2027-03-15", "2027-10-15"},
	} {
		day, err := time.Parse(time.DateOnly, planted)
		require.NoError(t, err)
		var got []string
		for _, d := range l.Dates(day) {
			got = append(got, d.Format(time.DateOnly))
		}
		assert.Equal(t, want, got, planted)
	}
}
