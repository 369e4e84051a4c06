package care

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/basin"
)

// handInflow is a rim of loam over two years with its wet hours by day.
func handInflow(offered []float64, wet []int) Inflow {
	return Inflow{Weather: handBed(offered, steady(len(offered), 1)).Weather, WetH: [][]int{wet}}
}

func newYear() MonthDay { return MonthDay{time.January, 1} }

// By hand: 2021 is dry but for days 100 to 102, on which the roof keeps the
// rim wet for 10, 24 and 20 hours: one spell of 54 h. Plants of 1 January have
// come 103/365.25 of the way by its end and bear 0.641 of their 100 h. Let in
// after the spell it costs nothing; week 14 begins on day 98, week 15 on day
// 105. Day 101 to 102 would be 44 h: nothing of week 14 is cut.
func TestDrownedByHand(t *testing.T) {
	days := 730
	wet := make([]int, days)
	wet[100], wet[101], wet[102] = 10, 24, 20
	open, closed := handInflow(steady(days, 2), wet), handInflow(steady(days, 2), make([]int, days))
	b := handBed(steady(days, 2), steady(days, 1))
	l, err := b.LetWaterIn(open, closed, []Stand{stand("rim", 10, plant(30, 100))}, newYear(), WetSeason{})
	require.NoError(t, err)
	require.Equal(t, 1, l.Years)
	require.Len(t, l.Weeks, 53)
	felt := 54 / (0.5 + 0.5*103/365.25)
	want := fit.DefaultPredictor().YearlyRisk([]fit.Year{{Wet: felt / 100, Deep: nan(), Dry: nan(), Cold: nan()}}, nil)
	for _, w := range l.Weeks {
		if w.Week <= 14 {
			assert.InDelta(t, want, w.Drowned, 1e-9, "week %d", w.Week)
		} else {
			assert.InDelta(t, 0, w.Drowned, 1e-9, "week %d", w.Week)
		}
		assert.Less(t, w.Parched, 0.01, "2 mm a day is plenty")
	}
	assert.Equal(t, 15, l.Earliest)
	assert.Equal(t, 52, l.Latest)
	assert.Equal(t, 15, l.Best)
	assert.False(t, l.Clash)
	assert.InDelta(t, 70/365.25, l.Weeks[10].Rooted, 1e-12)

	// The same spell in the cold counts a third, and roots rest meanwhile.
	for d := 100; d <= 102; d++ {
		open.Weather.Growing[d] = false
	}
	l, err = b.LetWaterIn(open, closed, []Stand{stand("rim", 10, plant(30, 30))}, newYear(), WetSeason{})
	require.NoError(t, err)
	felt = 18 / (0.5 + 0.5*100/365.25)
	want = fit.DefaultPredictor().YearlyRisk([]fit.Year{{Wet: felt / 30, Deep: nan(), Dry: nan(), Cold: nan()}}, nil)
	assert.InDelta(t, want, l.Weeks[0].Drowned, 1e-9)

	// The roof's water of the day it is let in counts.
	wet = make([]int, days)
	wet[105] = 24
	open = handInflow(steady(days, 2), wet)
	l, err = b.LetWaterIn(open, closed, []Stand{stand("rim", 10, plant(30, 40))}, newYear(), WetSeason{})
	require.NoError(t, err)
	assert.Greater(t, l.Weeks[15].Drowned, 0.3)
	assert.Less(t, l.Weeks[16].Drowned, 0.01)
}

// Plants count, not species: nine that bear it and one that does not.
func TestDrownedCountsPlants(t *testing.T) {
	s := Stand{Groups: []Group{{Plant: plant(30, 1e6), Count: 9}, {Plant: plant(30, 1), Count: 1}, {Plant: plant(30, nan()), Count: 50}}}
	risk, plants := drownedShare(s, []float64{1000})
	assert.InDelta(t, 0.1, risk, 1e-6)
	assert.Equal(t, 10.0, plants, "those that say what they bear")
}

// Parched by hand: no rain but what the roof brings. Opened at once the rim
// has all it needs; each week longer is a longer drought from the day of
// planting, until the plants are lost.
func TestParchedByHand(t *testing.T) {
	days := 730
	wet := make([]int, days)
	open, closed := handInflow(steady(days, 2), wet), handInflow(steady(days, 0), wet)
	for _, in := range []Inflow{open, closed} {
		copy(in.Weather.Run.DemandMM, steady(days, 4))
	}
	copy(open.Weather.Run.OfferedMM[0], steady(days, 9))
	b := handBed(steady(days, 2), steady(days, 4))
	l, err := b.LetWaterIn(open, closed, []Stand{stand("rim", 10, plant(80, 100))}, newYear(), WetSeason{})
	require.NoError(t, err)
	assert.InDelta(t, 0, l.Weeks[0].Parched, 1e-2)
	assert.Equal(t, 0, l.Earliest)
	assert.Greater(t, l.Weeks[20].Parched, 0.6)
	// The last week that costs no more than is put up with is the last in which
	// the drought of so many days stays there.
	closedCourse := handCourse(&Bed{Weather: closed.Weather, Ground: b.Ground, Setting: b.Setting}, steady(days, 0), Stand{AreaM2: 1}, 40, NoWatering)
	last := -1
	for week := range 20 {
		s := closedCourse.walk(0, 7*week)
		y := fit.Year{Wet: nan(), Deep: nan(), Cold: nan(), Dry: s.Plants[0].Worst.Days / 40}
		if fit.DefaultPredictor().YearlyRisk([]fit.Year{y}, nil) <= 0.10 {
			last = week
		}
	}
	assert.Equal(t, last, l.Latest)
	assert.Greater(t, l.Latest, 0)
	assert.Greater(t, l.Weeks[20].Litres, l.Weeks[2].Litres)
	assert.Less(t, l.Weeks[20].Watered, l.Weeks[20].Parched)
}

// Drowned before they root, parched if kept waiting: a clash is told.
func TestClash(t *testing.T) {
	l := LetIn{Weeks: []LetInWeek{{Drowned: 0.5}, {Drowned: 0.5, Parched: 0.3}, {Drowned: 0.05, Parched: 0.6, Watered: 0.02}, {Drowned: 0.05, Parched: 0.7, Watered: 0.02}}}
	l.choose(0.10)
	assert.Equal(t, []int{2, 0, 2}, []int{l.Earliest, l.Latest, l.Best})
	assert.True(t, l.Clash)
	l = LetIn{Weeks: []LetInWeek{{Drowned: 0.05, Watered: 0.3}, {Drowned: 0.05, Watered: 0.1, Parched: 0.3}, {Drowned: 0.04, Watered: 0.105, Parched: 0.05}}}
	l.choose(0.10)
	assert.Equal(t, []int{1, 0, 1}, []int{l.Earliest, l.Latest, l.Best}, "what was too late once stays too late")
	assert.False(t, l.Clash)
	l = LetIn{Weeks: []LetInWeek{{Drowned: 0.09, Watered: 0.01}, {Drowned: 0.06}, {Drowned: 0.03}, {Drowned: 0.01}}}
	l.choose(0.10)
	assert.Equal(t, []int{1, 3, 3}, []int{l.Earliest, l.Latest, l.Best}, "6 in a hundred are at most 5 more than 1")
	l = LetIn{Weeks: []LetInWeek{{Drowned: 0.12}, {Drowned: 0.09, Watered: 0.2}}}
	l.choose(0.10)
	assert.Equal(t, 1, l.Earliest, "the best week drowns more than is put up with")
	l = LetIn{Weeks: []LetInWeek{{Drowned: 0.5}, {Drowned: 0.4}}}
	l.choose(0.10)
	assert.Equal(t, -1, l.Earliest, "waiting is no help")
	assert.True(t, l.Clash)
}

// On a real lot: the longer the inlet stays shut, the fewer drown and the more
// parch, and the hose has more to do in the end.
func TestLetInOverARealRecord(t *testing.T) {
	rec := realRecord(t, "New York", 40.7)
	b, _ := realBed(t, rec, 80, 6, 40.7)
	shut, _ := realBed(t, rec, 0, 6, 40.7)
	zones := []string{"bottom", "slope"}
	s, _ := setup(t, 80, 6, 40.7)
	open, err := WetHours(s, rec, zones)
	require.NoError(t, err)
	s.Catches = nil
	closed, err := WetHours(s, rec, zones)
	require.NoError(t, err)
	require.Nil(t, open[10], "the rim was not asked for")
	stands := []Stand{stand("bottom", 4, plant(30, 96)), stand("slope", 4, plant(30, 48))}
	l, err := b.LetWaterIn(Inflow{b.Weather, open}, Inflow{shut.Weather, closed}, stands, may1(), WettestHalf(rec))
	require.NoError(t, err)
	require.Equal(t, 3, l.Years)
	for i := 1; i < len(l.Weeks); i++ {
		assert.LessOrEqual(t, l.Weeks[i].Drowned, l.Weeks[i-1].Drowned+1e-12)
		assert.GreaterOrEqual(t, l.Weeks[i].Parched, l.Weeks[i-1].Parched-1e-6)
	}
	assert.Greater(t, l.Weeks[0].Drowned, l.Weeks[52].Drowned+0.1)
	assert.Greater(t, l.Weeks[52].Parched, l.Weeks[0].Parched)
	assert.Greater(t, l.Weeks[52].Litres, l.Weeks[0].Litres)
	// Shut to the end it is the plan of the bed without a roof.
	only, err := b.LetWaterIn(Inflow{b.Weather, open}, Inflow{shut.Weather, closed}, []Stand{stand("slope", 4, plant(24, 48))}, may1(), WettestHalf(rec))
	require.NoError(t, err)
	plan, err := planOf(shut, stand("slope", 4, plant(24, 48)))
	require.NoError(t, err)
	require.Less(t, plan.GapDays[0], weekDays)
	assert.InDelta(t, plan.of(ByDepletion).TypicalLitres, only.Weeks[52].Litres, 1e-6)
	assert.InDelta(t, plan.of(ByDepletion).Lost, only.Weeks[52].Watered, 1e-6)

	// The wet hours by day add up to those of the balance, year by year.
	sum := 0
	y := b.Weather.Run.Years[1]
	for _, h := range open[0][y.FromDay:y.ToDay] {
		sum += h
	}
	assert.Equal(t, b.Weather.Run.Exposure[0][1].WetHours, sum)

	_, err = b.LetWaterIn(Inflow{b.Weather, open}, Inflow{shut.Weather, make([][]int, 12)}, stands, may1(), WetSeason{})
	assert.Error(t, err)
	none := []Stand{{Zone: "bottom", AreaM2: 4, Groups: []Group{{Plant: catalogue.Plant{WetH: nan(), DryD: nan(), RootCM: nan(), SpreadCM: nan()}, Count: 5}}}}
	l, err = b.LetWaterIn(Inflow{b.Weather, open}, Inflow{shut.Weather, closed}, none, may1(), WetSeason{})
	require.NoError(t, err)
	assert.NotEqual(t, 0.0, l.Weeks[0].Drowned, "not known is not none")
	assert.Equal(t, -1, l.Earliest)
}

// Spells by the day are never shorter than those of the hours, and where every
// wet day is wet in one piece that touches midnight, just as long.
func TestWetRunAgainstHours(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		days := rapid.IntRange(1, 12).Draw(rt, "days")
		var run wetRun
		hourly, longest, felt := 0, 0, 0.0
		for range days {
			hours := 0
			for range 24 {
				if rapid.IntRange(0, 9).Draw(rt, "wet") > 0 {
					hours, hourly = hours+1, hourly+1
				} else {
					hourly = 0
				}
				longest = max(longest, hourly)
			}
			felt = max(felt, run.day(hours, 1))
		}
		require.GreaterOrEqual(rt, felt, float64(longest))
	})
	var run wetRun
	assert.Equal(t, []float64{10, 34, 58, 63, 8, 2}, []float64{run.day(10, 1), run.day(24, 1), run.day(24, 1), run.day(5, 1), run.day(3, 1), (&wetRun{}).day(2, 1)})
	run = wetRun{}
	assert.Equal(t, 8.0+4, run.day(24, 1.0/3)+run.day(4, 1)-8, "dormant hours count a third")
}

func TestDriestAndWettest(t *testing.T) {
	b, _ := realBed(t, realRecord(t, "New York", 40.7), 80, 6, 40.7)
	bands := b.Weather.Run.Bands
	assert.Equal(t, 0, b.Weather.driest(basin.Bottom))
	assert.Equal(t, 9, b.Weather.driest(basin.Slope), "the top of the slope")
	assert.Equal(t, 1, wettest(bands, basin.Slope), "its foot")
	assert.Equal(t, -1, b.Weather.driest("hedge"))
	assert.Equal(t, -1, wettest(bands, "hedge"))
}
