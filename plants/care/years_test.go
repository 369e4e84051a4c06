package care

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
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
	p, err := planOf(b, s)
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
		if d > from && (d-from)%7 == 0 && b.Weather.Growing[d] && float64(grown) < taken*b.Weather.GrowingDaysAYear {
			weeks++
		}
		if b.Weather.Growing[d] {
			grown++
		}
	}
	inch := b.course(s, p.Band, InchAWeek, 3)
	assert.InDelta(t, 4*inchMM*float64(weeks), inch.walk(from, from+366).Litres, 1e-6)
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

// Tender plants and small ones are watered more often, as often as they need and no more:
// with the hose each stays within the risk, while those that last a week call for no more
// than one visit in it, and those that live without it for none.
func TestVisitsGoByThePlants(t *testing.T) {
	b, f := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	visits := func(p catalogue.Plant) (n int, plan *Plan) {
		stands := []Stand{stand("rim", 4, p)}
		b.Unaided(f, stands, may1())
		plans, err := b.Plans(stands, may1())
		require.NoError(t, err)
		for _, y := range plans[0].Years {
			n += len(y.Waterings)
		}
		return n, plans[0]
	}
	last := math.MaxInt
	for _, dryD := range []float64{28, 32, 43, 64} {
		p := plant(dryD, 1e9)
		n, plan := visits(p)
		assert.LessOrEqual(t, n, last, "dry_d %g", dryD)
		last = n
		assert.LessOrEqual(t, plan.of(ByDepletion).Lost, b.Setting.RiskMax, "dry_d %g", dryD)
		assert.Equal(t, plan.GapDays[0] > 0 && plan.GapDays[0] < weekDays, len(plan.Sooner) > 0, "dry_d %g", dryD)
		p.SoldAs = "plug"
		small, often := visits(p)
		assert.Greater(t, small, n, "dry_d %g", dryD)
		assert.Equal(t, dryD > 28, often.of(ByDepletion).Lost <= b.Setting.RiskMax, "dry_d %g: no gap keeps the tenderest", dryD)
	}
	// Plugs of a usual plant: twice a week in dry weather (University of Wisconsin
	// Extension [S40]), so that two gaps come to a week; gallon pots once a week.
	p := plant(40, 1e9)
	_, pots := visits(p)
	assert.Equal(t, weekDays, pots.GapDays[0])
	p.SoldAs = "plug"
	_, plugs := visits(p)
	assert.InDelta(t, 3.5, float64(plugs.GapDays[0]), 0.5)
	assert.GreaterOrEqual(t, plugs.GapDays[1], plugs.GapDays[0], "roots grow")

	n, _ := visits(plant(400, 1e9))
	assert.Zero(t, n, "it lives without")
	n, plan := visits(plant(nan(), 96))
	assert.Positive(t, n, "not known: by the easy water alone")
	assert.Empty(t, plan.Sooner)
	assert.True(t, math.IsNaN(plan.of(NoWatering).Lost), "not known, which is no risk of 0")
}

// Loss by hand: one plant, one year at half of what it bears at planting and one at
// twice: fit's edge of the two.
func TestLostIsFitsRisk(t *testing.T) {
	years := []Season{{Plants: make([]Roots, 2)}, {Plants: make([]Roots, 2)}}
	var want []fit.Year
	for i, found := range []float64{0.5, 2} {
		years[i].Plants[0].Worst.Share, years[i].Plants[1].Worst.Share = found, nan()
		want = append(want, fit.Year{Wet: nan(), Deep: nan(), Cold: nan(), Dry: found})
	}
	assert.InDelta(t, fit.DefaultPredictor().YearlyRisk(want, nil), lostToDrought(stand("rim", 10, plant(20, 48)), years), 1e-12)
	assert.InDelta(t, fit.DefaultPredictor().YearlyRisk(want, nil), lostToDrought(stand("rim", 10, plant(20, 48), plant(nan(), 48)), years), 1e-12, "a plant that does not say is not counted as fine")
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
				c := b.course(stand(zone, 1, plant(30, 96)), b.Weather.driest(zone), ByDepletion, 3)
				for _, from := range b.starts(may1()) {
					litres += c.walk(from, from+b.span()).Litres
				}
				return litres
			}
			assert.Less(t, sum(wet), sum(dry), "%s, %s", city, zone)
		}
	}
}

func TestPlanRefusals(t *testing.T) {
	b := handBed(steady(300, 0), steady(300, 3))
	_, err := planOf(b, stand("rim", 4, plant(30, 96)))
	var short *shortRecordError
	require.ErrorAs(t, err, &short)
	assert.True(t, short.BadInput())
	_, err = planOf(b, stand("bottom", 4))
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
	dry, err := thisYear(b, s, b.Weather.date(0))
	require.NoError(t, err)
	require.NotEmpty(t, dry.Waterings)
	k := 2 // in the first two weeks; later a plant may not wait
	due := dry.Waterings[k].Day
	rain[due+1] = 30
	wet, err := thisYear(b, s, b.Weather.date(0))
	require.NoError(t, err)
	assert.Equal(t, dry.Waterings[:k], wet.Waterings[:k])
	for _, w := range wet.Waterings {
		assert.NotEqual(t, due, w.Day, "it waits")
	}
	// A rain that does not cover what is used until it falls and on its day.
	demand := 6 * (2 + dry.Waterings[k].Rooted) / 3
	rain[due+1] = demand / 2
	little, err := thisYear(b, s, b.Weather.date(0))
	require.NoError(t, err)
	assert.Equal(t, due, little.Waterings[k].Day, "too little to wait for")
	_, err = thisYear(b, s, b.Weather.date(-1))
	var outside *outsideError
	require.ErrorAs(t, err, &outside)
	assert.True(t, outside.BadInput())
	_, err = thisYear(b, s, b.Weather.date(40))
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
func thisYear(b *Bed, s Stand, planted time.Time) (Season, error) {
	all, err := b.ThisYear([]Stand{s}, 1, planted)
	if err != nil {
		return Season{}, err
	}
	return all[0], nil
}
