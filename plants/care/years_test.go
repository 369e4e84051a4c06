package care

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/fit"
	"hollowbed/zones/site"
)

func may1() MonthDay { return MonthDay{time.May, 1} }

// New York 2012-2015 holds three first years from 1 May; the typical one has
// the median need, the dry one the largest (three years are too few for one in
// ten), and every sum is that of the years it stands for.
func TestPlanOfRealYears(t *testing.T) {
	b, _ := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	s := stand("rim", 4, plant(30, 96))
	p, err := b.Plan(s, may1())
	require.NoError(t, err)
	require.Len(t, p.Years, 3)
	litres := []float64{p.Years[0].Litres, p.Years[1].Litres, p.Years[2].Litres}
	slices.Sort(litres)
	own := p.of(ByDepletion)
	assert.Equal(t, litres[1], own.TypicalLitres)
	assert.Equal(t, litres[2], own.DryLitres)
	assert.Equal(t, litres[1], p.Years[p.Typical].Litres)
	assert.Equal(t, litres[2], p.Years[p.Dry].Litres)
	assert.Equal(t, 2012, p.Years[0].Year)
	assert.Equal(t, time.Date(2012, 5, 1, 0, 0, 0, 0, time.UTC).Format(time.DateOnly), p.Years[0].From.Format(time.DateOnly))
	assert.Equal(t, "rim", b.Weather.Run.Bands[p.Band].Zone)

	// Against the handbook rule of 25.4 mm a week on the growing days: litres by
	// counting the weeks.
	weeks := 0
	from := b.Weather.DayOf(p.Years[1].From)
	grown := 0
	for d := from; d < from+366; d++ {
		if d > from && (d-from)%7 == 0 && b.Weather.Growing[d] && float64(grown) < b.Weather.GrowingDaysAYear {
			weeks++
		}
		if b.Weather.Growing[d] {
			grown++
		}
	}
	assert.InDelta(t, 4*inchMM*float64(weeks), b.yearsOf(s, p.Band, p.RootCM, InchAWeek, 7, may1())[1].Litres, 1e-6)
	assert.InDelta(t, p.of(InchAWeek).TypicalLitres-own.TypicalLitres, p.Saved(InchAWeek), 1e-9)
	assert.Greater(t, p.Saved(InchLessRain), 0.0)
	assert.Greater(t, p.Saved(InchAWeek), p.Saved(InchLessRain))

	// Watering helps, and no watering costs nothing but plants.
	none := p.of(NoWatering)
	assert.Zero(t, none.TypicalLitres)
	assert.Greater(t, none.Lost, own.Lost+0.3)
	assert.LessOrEqual(t, own.Lost, b.Setting.RiskMax)
	assert.Equal(t, 3, none.PastYears)
	assert.Zero(t, own.PastYears)
	assert.Greater(t, none.DrySpellD, own.DrySpellD)
}

// The gap is the longest that the plants bear: tender plants are watered more
// often, and a day more between would cost more than is put up with.
func TestGapIsTheLongestBorne(t *testing.T) {
	b, _ := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	last := 0
	for _, dryD := range []float64{22, 26, 30, 60} {
		s := stand("rim", 4, plant(dryD, 96))
		p, err := b.Plan(s, may1())
		require.NoError(t, err)
		assert.GreaterOrEqual(t, p.GapDays, last)
		last = p.GapDays
		if p.GapDays < longestGap {
			more := b.lostToDrought(s, b.yearsOf(s, p.Band, p.RootCM, ByDepletion, p.GapDays+1, may1()))
			assert.Greater(t, more, b.Setting.RiskMax, "dry_d %g, gap %d", dryD, p.GapDays)
		}
	}
	assert.Equal(t, longestGap, last)
	p, err := b.Plan(stand("rim", 4, plant(22, 96)), may1())
	require.NoError(t, err)
	assert.Less(t, p.GapDays, longestGap, "this test has seen a shorter gap")
	p, err = b.Plan(Stand{Zone: "rim", AreaM2: 4}, may1())
	require.NoError(t, err)
	assert.Equal(t, longestGap, p.GapDays)
	assert.True(t, math.IsNaN(p.of(NoWatering).Lost), "not known, which is no risk of 0")
	b.Setting.GapDays = 5
	p, err = b.Plan(stand("rim", 4, plant(22, 96)), may1())
	require.NoError(t, err)
	assert.Equal(t, 5, p.GapDays)
}

// Loss by hand: one plant, one year at half its young limit and one at twice:
// fit's edge of the two.
func TestLostIsFitsRiskOfHalvedLimits(t *testing.T) {
	b := handBed(steady(10, 0), steady(10, 3))
	reference := fit.NewReference(40)
	years := []Season{{}, {}}
	years[0].Drought.Load, years[1].Drought.Load = 0.8, 4
	var want []fit.Year
	for _, y := range years {
		want = append(want, fit.Year{Wet: nan(), Deep: nan(), Cold: nan(), Dry: reference.Days(y.Drought) / 10})
	}
	assert.InDelta(t, fit.DefaultPredictor().YearlyRisk(want, nil), b.lostToDrought(stand("rim", 10, plant(20, 48)), years), 1e-12)
	unknown := plant(nan(), 48)
	assert.InDelta(t, fit.DefaultPredictor().YearlyRisk(want, nil), b.lostToDrought(stand("rim", 10, plant(20, 48), unknown), years), 1e-12, "a plant that does not say is not counted as fine")
}

// A record with a fifth more rain on every day asks for less water in all.
func TestWetterRecordAsksForLess(t *testing.T) {
	for city, lat := range map[string]float64{"New York": 40.7, "Seattle": 47.6} {
		rec := realRecord(t, city, lat)
		dry, _ := realBed(t, rec, 40, 15, lat)
		wetter := *rec
		wetter.RainMM = slices.Clone(rec.RainMM)
		for h := range wetter.RainMM {
			wetter.RainMM[h] *= 1.2
		}
		wet, _ := realBed(t, &wetter, 40, 15, lat)
		for _, zone := range []string{"bottom", "slope", "rim"} {
			sum := func(b *Bed) (litres float64) {
				for _, s := range b.yearsOf(Stand{Zone: zone, AreaM2: 1}, b.Weather.driest(zone), 40, ByDepletion, 7, may1()) {
					litres += s.Litres
				}
				return litres
			}
			assert.Less(t, sum(wet), sum(dry), "%s, %s", city, zone)
		}
	}
}

func TestPlanRefusals(t *testing.T) {
	b := handBed(steady(300, 0), steady(300, 3))
	_, err := b.Plan(stand("rim", 4, plant(30, 96)), may1())
	var short *shortRecordError
	require.ErrorAs(t, err, &short)
	assert.True(t, short.BadInput())
	_, err = b.Plan(stand("bottom", 4), may1())
	assert.ErrorContains(t, err, `no zone "bottom"`)
	for _, spoil := range []func(*Setting){
		func(s *Setting) { s.PotDepthCM = nan() }, func(s *Setting) { s.HoseLMin = 0 }, func(s *Setting) { s.ReachShare = 1.1 },
		func(s *Setting) { s.RootingYears = -1 }, func(s *Setting) { s.YoungUse = 0 }, func(s *Setting) { s.SettleGapDays = 0 },
	} {
		s := Default()
		spoil(&s)
		assert.Error(t, s.check())
	}
	assert.NoError(t, Default().check())
}

// This year: the record so far and a forecast. The waterings up to today are
// those of the record alone, and one waits for a rain foreseen for tomorrow.
func TestThisYearWaitsForForecastRain(t *testing.T) {
	rain := steady(40, 0)
	b := handBed(rain, steady(40, 6))
	s := stand("rim", 10, plant(30, 96))
	dry, err := thisYear(b, s, b.Weather.date(0), 3)
	require.NoError(t, err)
	require.NotEmpty(t, dry.Waterings)
	k := len(dry.Waterings) / 2
	due := dry.Waterings[k].Day
	rain[due+1] = 30
	wet, err := thisYear(b, s, b.Weather.date(0), 3)
	require.NoError(t, err)
	assert.Equal(t, dry.Waterings[:k], wet.Waterings[:k])
	for _, w := range wet.Waterings {
		assert.NotEqual(t, due, w.Day, "it waits")
	}
	// A rain that does not cover what is used until it falls and on its day.
	demand := 6 * (2 + wet.End.Rooted) / 3
	rain[due+1] = demand / 2
	little, err := thisYear(b, s, b.Weather.date(0), 3)
	require.NoError(t, err)
	assert.Equal(t, due, little.Waterings[k].Day, "too little to wait for")
	_, err = thisYear(b, s, b.Weather.date(-1), 3)
	var outside *outsideError
	require.ErrorAs(t, err, &outside)
	assert.True(t, outside.BadInput())
	_, err = thisYear(b, s, b.Weather.date(40), 3)
	assert.Error(t, err)
}

func shortRecord(name string, from time.Time, days int, mm float64) *site.Record {
	r := &site.Record{Source: name, Start: from, RainMM: steady(24*days, mm), Missing: make([]bool, 24*days)}
	for range days {
		r.Days = append(r.Days, site.Day{TMinC: 10, TMaxC: 20, ET0MM: mm})
	}
	return r
}

func TestJoin(t *testing.T) {
	zone := time.FixedZone("", -6*3600)
	first := time.Date(2026, 4, 1, 0, 0, 0, 0, zone)
	soFar := shortRecord("so-far.csv", first, 10, 1)
	joined, from, err := Join(soFar, shortRecord("forecast.csv", first.AddDate(0, 0, 8), 5, 2))
	require.NoError(t, err)
	assert.Equal(t, 10, from)
	require.Len(t, joined.Days, 13)
	assert.Equal(t, []float64{1, 2, 2, 2}, []float64{joined.RainMM[24*9], joined.RainMM[24*10], joined.RainMM[24*11], joined.RainMM[24*13-1]}, "the record comes first")
	assert.Len(t, joined.Missing, 13*24)
	assert.Len(t, soFar.Days, 10, "the record is left as it was")
	joined, from, err = Join(soFar, shortRecord("forecast.csv", first.AddDate(0, 0, 12), 5, 2))
	require.NoError(t, err)
	require.Len(t, joined.Days, 17)
	assert.Equal(t, 10, from)
	assert.Equal(t, []bool{false, true, true, false}, []bool{joined.Missing[24*10-1], joined.Missing[24*10], joined.Missing[24*12-1], joined.Missing[24*12]})
	assert.Equal(t, 2.0, joined.Days[12].ET0MM)
	for _, bad := range []*site.Record{
		shortRecord("f", first.AddDate(0, 0, 2), 8, 2), shortRecord("f", first.AddDate(0, 0, 60), 8, 2),
		shortRecord("f", first.AddDate(0, 0, -2), 30, 2), shortRecord("f", time.Date(2026, 4, 11, 0, 0, 0, 0, time.UTC), 8, 2),
	} {
		_, _, err = Join(soFar, bad)
		var join *joinError
		require.ErrorAs(t, err, &join)
		assert.True(t, join.BadInput())
	}
}

// thisYear is that of one zone alone.
func thisYear(b *Bed, s Stand, planted time.Time, gapDays int) (Season, error) {
	all, err := b.ThisYear([]Stand{s}, []*Plan{{GapDays: gapDays}}, planted)
	if err != nil {
		return Season{}, err
	}
	return all[0], nil
}
