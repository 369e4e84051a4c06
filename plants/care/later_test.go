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
	got := Laters(north, []time.Month{4, 5, 9}, stands, Noted{})
	plants := map[string][]string{}
	for _, l := range got {
		plants[l.ID] = l.Plants
		assert.NotEmpty(t, l.Source)
		assert.True(t, slices.IsSorted(l.Months) && len(l.Months) > 0, l.ID)
		assert.True(t, slices.Min(l.Years) >= 2 && slices.Max(l.Years) <= 5, l.ID)
	}
	assert.Equal(t, map[string][]string{"drain-time": nil, "repair-inlet": nil, "bare-ground": nil, "thin": {"Bulb", "Runner"}, "divide": {"Runner", "Sedge"}, "bulbs": {"Bulb"}}, plants)
	for i, l := range Laters(south, []time.Month{10, 11, 3}, stands, Noted{}) {
		var moved []time.Month
		for _, m := range got[i].Months {
			moved = append(moved, after(m, 6))
		}
		assert.ElementsMatch(t, moved, l.Months, l.ID)
	}
	shrub := Laters(north, []time.Month{5}, []Stand{{Groups: []Group{group("Shrub", "shrub", "no")}}}, Noted{})
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

// Notes put what they ask for first, into the year that comes, say what they saw beside
// the rest, and are done with once the years looked ahead to are over.
func TestLatersByNotes(t *testing.T) {
	s := SeasonsOf(byMonth(time.January), 45)
	of := func(n Noted) map[string]Later {
		out := map[string]Later{}
		for _, l := range Laters(s, []time.Month{4, 5, 9}, nil, n) {
			out[l.ID] = l
		}
		return out
	}
	assert.NotContains(t, of(Noted{}), "died")
	assert.Empty(t, of(Noted{})["drain-time"].Noted)
	n := Noted{Died: []string{"2 Sedge"}, Silted: []string{"1 Reed"}, Washed: []string{"3 Fern"}, Spread: []string{"1 Mint"}, Thrive: []string{"4 Aster"}, PondH: 30, PondOn: "2026-06-01", Year: 3}
	got := of(n)
	assert.Equal(t, []int{3}, got["died"].Years)
	assert.Equal(t, []time.Month{4, 9}, got["died"].Months)
	for id, want := range map[string]string{
		"died": "these died: 2 Sedge", "silt": "buried in silt: 1 Reed", "repair-inlet": "washed bare: 3 Fern", "thin": "spread too far: 1 Mint",
		"divide": "thrive, and give pieces first: 4 Aster", "drain-time": "stood 30 h (2026-06-01): loosen it",
	} {
		assert.Contains(t, got[id].Noted, want, id)
	}
	assert.Equal(t, "died", Laters(s, []time.Month{4}, nil, n)[0].ID)
	n.PondH = 24
	assert.Contains(t, of(n)["drain-time"].Noted, "gone in 24 h (2026-06-01): nothing to loosen")
	n.PondLeft = true
	assert.Contains(t, of(n)["drain-time"].Noted, "still stood after 24 h")
	n.Year = 6
	assert.NotContains(t, of(n), "died", "after the fifth year it is for each year's list")
}
