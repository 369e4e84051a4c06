package care

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// Seattle's rain falls from October to March (about three quarters of the
// year's, climate normals of NOAA, from memory); New York's falls all year.
func TestWettestHalf(t *testing.T) {
	w := WettestHalf(realRecord(t, "Seattle", 47.6))
	assert.Equal(t, time.October, w.From)
	assert.InDelta(t, 0.75, w.Share, 0.05)
	assert.True(t, w.Marked)
	w = WettestHalf(realRecord(t, "New York", 40.7))
	assert.False(t, w.Marked)
	assert.GreaterOrEqual(t, w.Share, 0.5)
	even := shortRecord("even", time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC), 365, 1)
	assert.InDelta(t, 0.5, WettestHalf(even).Share, 1e-9)
	// A month that lost its rainless hours is judged by its whole days.
	for h := 24 * 60; h < 24*85; h += 24 {
		even.Missing[h] = true
		even.RainMM[h+1] = 50
	}
	assert.InDelta(t, 0.5, WettestHalf(even).Share, 1e-9)
	assert.Equal(t, WetSeason{From: time.January}, WettestHalf(shortRecord("dry", even.Start, 365, 0)))
}

// Four days a year reach the threshold: counted over the record.
func TestHeavyRain(t *testing.T) {
	for city, lat := range map[string]float64{"New York": 40.7, "Seattle": 47.6} {
		rec := realRecord(t, city, lat)
		mm := HeavyRainMM(rec)
		assert.Len(t, HeavyDays(rec, mm, 0, len(rec.Days)), 16, "%s: 4 a year in 4 years", city)
		assert.Less(t, len(HeavyDays(rec, mm+0.05, 0, len(rec.Days))), 16)
		assert.Empty(t, HeavyDays(rec, nan(), 0, len(rec.Days)))
	}
	assert.True(t, math.IsNaN(HeavyRainMM(shortRecord("dry", time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC), 365, 0))))
}

// byMonth is three years of a climate given by its monthly means, deg C, with
// January's in the month named.
func byMonth(january time.Month) *site.Record {
	means := [12]float64{-3, -1, 3, 9, 15, 20, 23, 22, 17, 11, 7, 0}
	rec := shortRecord("made", time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC), 3*365, 1)
	for d := range rec.Days {
		m := (int(rec.Start.AddDate(0, 0, d).Month()) - int(january) + 12) % 12
		rec.Days[d].TMinC, rec.Days[d].TMaxC = means[m]-5, means[m]+5
	}
	return rec
}

// The months follow the cold; the same climate half a year on, as the south
// has it, moves every task by half a year.
func TestSeasonsFollowTheClimate(t *testing.T) {
	rec := realRecord(t, "New York", 40.7)
	north := SeasonsOf(rec, 40.7)
	assert.Equal(t, time.April, north.Wake)
	assert.Equal(t, []time.Month{time.November, time.December}, north.LeafFall)

	north, south := SeasonsOf(byMonth(time.January), 45), SeasonsOf(byMonth(time.July), -45)
	assert.Equal(t, Seasons{Growing: []time.Month{4, 5, 6, 7, 8, 9, 10, 11}, Wake: time.April, LeafFall: []time.Month{time.October, time.November}, Dormant: true}, north)
	assert.Equal(t, time.October, south.Wake)
	assert.Equal(t, []time.Month{time.April, time.May}, south.LeafFall)
	for i, task := range Standing(north, 30, []time.Month{4, 5, 9}) {
		var moved []time.Month
		for _, m := range task.Months {
			moved = append(moved, after(m, 6))
		}
		assert.ElementsMatch(t, moved, Standing(south, 30, []time.Month{10, 11, 3})[i].Months, task.ID)
	}
	// Where it grows all year the coldest month decides: Seattle's January.
	mild := SeasonsOf(realRecord(t, "Seattle", 47.6), 47.6)
	assert.False(t, mild.Dormant)
	assert.Equal(t, []time.Month{time.November, time.December}, mild.LeafFall)
	assert.Equal(t, time.February, mild.Wake)
	// Without temperatures the latitude decides.
	bare := shortRecord("bare", rec.Start, 366, 1)
	for d := range bare.Days {
		bare.Days[d].TMinC, bare.Days[d].TMaxC = nan(), nan()
	}
	s := SeasonsOf(bare, 20)
	assert.True(t, s.Assumed && !s.Dormant)
	assert.Equal(t, []time.Month{time.November, time.December}, s.LeafFall)
	assert.Equal(t, []time.Month{time.May, time.June}, SeasonsOf(bare, -20).LeafFall)
	assert.Equal(t, time.August, SeasonsOf(bare, -20).Wake)
	assert.Equal(t, []time.Month{11, 12, 1}, []time.Month{after(1, -2), after(12, 0), after(12, 1)})
}

// The round holds all that such a bed asks for, in words without chemistry,
// each task with an id of its own and where it is from.
func TestStanding(t *testing.T) {
	tasks := Standing(SeasonsOf(realRecord(t, "New York", 40.7), 40.7), 38, []time.Month{4, 5, 9})
	var ids []string
	for _, task := range tasks {
		ids = append(ids, task.ID)
		assert.NotEmpty(t, task.Title)
		assert.NotEmpty(t, task.Do)
		assert.NotEmpty(t, task.Source)
		assert.True(t, task.RainMM > 0 || task.Day > 0 && len(task.Months) > 0, task.ID)
		assert.True(t, slices.IsSorted(task.Months), task.ID)
	}
	assert.Equal(t, []string{"gutters", "heavy-rain", "inlet", "erosion", "cut-back", "mulch", "weeds-young", "weeds", "replace"}, ids)
	assert.Equal(t, 38.0, tasks[1].RainMM)
	assert.Zero(t, Standing(SeasonsOf(realRecord(t, "New York", 40.7), 40.7), nan(), []time.Month{5})[1].RainMM)
}

// Dates of two years: each within its months, in order, weeds by hand every
// fortnight until the plants have rooted and monthly after.
func TestDated(t *testing.T) {
	tasks := Standing(SeasonsOf(realRecord(t, "New York", 40.7), 40.7), 38, []time.Month{4, 5, 9})
	from, rooted, to := time.Date(2026, 5, 10, 0, 0, 0, 0, time.UTC), time.Date(2027, 5, 10, 0, 0, 0, 0, time.UTC), time.Date(2028, 5, 10, 0, 0, 0, 0, time.UTC)
	dated := Dated(tasks, from, to, from, rooted)
	seen := map[string]int{}
	last := from
	for _, d := range dated {
		assert.False(t, d.Date.Before(last) || !d.Date.Before(to))
		last = d.Date
		if d.Task.ID == "water-in" {
			assert.Equal(t, from, d.Date, "on the day of planting")
			assert.Equal(t, d, dated[0])
		} else {
			assert.Contains(t, d.Task.Months, d.Date.Month(), d.Task.ID)
		}
		key := d.Task.ID
		if d.Task.ID == "weeds" || d.Task.ID == "weeds-young" {
			assert.Equal(t, d.Task.ID == "weeds-young", d.Date.Before(rooted), "%s", d.Date)
		}
		seen[key]++
	}
	// Growing months April to December: from 10 May, days 1 and 15 of each, less
	// 1 May: 15 left in 2026 and 3 in spring 2027.
	assert.Equal(t, map[string]int{"gutters": 6, "inlet": 4, "erosion": 4, "cut-back": 2, "mulch": 2, "weeds-young": 18, "weeds": 9, "replace": 4, "water-in": 1}, seen)
	assert.Empty(t, Dated(tasks, from, from, from, rooted))
	// Planted in August: September is too soon to call one dead.
	for _, d := range Dated(tasks, from, to, from.AddDate(0, 3, 0), rooted) {
		assert.False(t, d.Task.ID == "replace" && d.Date.Month() == time.September && d.Date.Year() == from.Year(), d.Date)
	}
}

func TestTodayInThreeLines(t *testing.T) {
	rain := steady(60, 0)
	rain[20] = 45
	b := handBed(rain, steady(60, 6))
	b.Weather.Known = 50
	stands := []Stand{stand("rim", 10, plant(30, 96))}
	season, err := thisYear(b, stands[0], b.Weather.date(0))
	require.NoError(t, err)
	task := Task{ID: "mulch", Title: "Top up the mulch"}
	dated := []Due{{task, b.Weather.date(30)}}
	on := func(day int) [3]string {
		return b.Today(b.Weather.date(day).Add(9*time.Hour), stands, []Season{season}, 38, dated).Lines(Metric())
	}
	visit := season.Waterings[len(season.Waterings)-1]
	require.Greater(t, visit.Day, 40)
	assert.Contains(t, on(visit.Day)[0], "Water: rim ")
	assert.Contains(t, on(visit.Day)[0], Metric().Litres(visit.Litres))
	assert.Equal(t, "Water: none today, next likely "+day(visit.Date)+".", on(visit.Day - 1)[0])
	assert.Equal(t, "Water: none through 1 March, as far as the weather is known.", on(59)[0])
	assert.Contains(t, on(60)[0], "not known")
	assert.Equal(t, "Look: no heavy rain lately.", on(19)[1])
	for _, d := range []int{20, 21, 22} {
		assert.Equal(t, "Look: 45 mm fell on 21 January. Is the inlet open, the water gone, soil and mulch in place?", on(d)[1])
	}
	assert.Equal(t, "Look: no heavy rain lately.", on(23)[1])
	assert.Equal(t, "Hands: nothing this week; next is top up the mulch, 31 January.", on(29)[2])
	assert.Equal(t, "Hands: top up the mulch.", on(30)[2])
	assert.Equal(t, "Hands: top up the mulch.", on(36)[2])
	assert.Equal(t, "Hands: nothing due.", on(37)[2])
	assert.Equal(t, "Water: nothing is planted.", Today{}.Lines(Metric())[0])
	b.Weather.GrowingDaysAYear = 10
	assert.Equal(t, "Water: none, the plants have rooted.", on(55)[0])
}

// A forecast's rain is no rain yet: it calls for no look.
func TestForecastRainCallsForNoLook(t *testing.T) {
	rain := steady(10, 0)
	rain[6] = 60
	b := handBed(rain, steady(10, 3))
	b.Weather.Known = 6
	assert.False(t, b.Weather.lookToday(b.Weather.date(6), 38).Now)
	b.Weather.Known = 7
	assert.True(t, b.Weather.lookToday(b.Weather.date(6), 38).Now)
	rain[5] = 80
	assert.Equal(t, look{Now: true, RainMM: 80, Fell: b.Weather.date(5)}, b.Weather.lookToday(b.Weather.date(6), 38), "the wettest of the days")
}

// Six hours without a rain value lose a day, as in the balance; five do not.
func TestLostDays(t *testing.T) {
	rec := realRecord(t, "New York", 40.7)
	for h := range 6 {
		rec.Missing[24*10+h*3] = true
		rec.Missing[24*20+h] = h < 5
	}
	b, _ := realBed(t, rec, 40, 15, 40.7)
	assert.True(t, b.Weather.Lost[10])
	assert.False(t, b.Weather.Lost[20] || b.Weather.Lost[11])
}

// A date means its own calendar day, whatever the clock's zone.
func TestDayOf(t *testing.T) {
	w := &Weather{Start: time.Date(2026, 1, 1, 0, 0, 0, 0, time.FixedZone("", -6*3600))}
	for _, zone := range []*time.Location{time.UTC, time.FixedZone("", 13*3600), time.FixedZone("", -11*3600)} {
		for _, hour := range []int{0, 12, 23} {
			assert.Equal(t, 31, w.DayOf(time.Date(2026, 2, 1, hour, 59, 0, 0, zone)))
		}
	}
	assert.Equal(t, -1, w.DayOf(time.Date(2025, 12, 31, 0, 0, 0, 0, time.UTC)))
}

// Nobody is told days later to water in; what can wait stays for a week.
func TestWateringInIsOfItsDay(t *testing.T) {
	on := time.Date(2026, 5, 15, 0, 0, 0, 0, time.UTC)
	dated := []Due{{Date: on, Task: Task{ID: waterInID}}, {Date: on, Task: Task{ID: "mulch"}}}
	due, _ := TasksToday(dated, on)
	assert.Len(t, due, 2)
	due, _ = TasksToday(dated, on.AddDate(0, 0, 5))
	assert.Equal(t, dated[1:], due)
}
