package water

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

// tub is a bed with upright sides and no rim: one band, in which depth and
// volume are one and the same.
func tub(t testing.TB, pondingMM, mixMMH, nativeMMH float64) Setup {
	t.Helper()
	bed, err := basin.New(basin.Spec{Outline: box(2, 1), PondingMM: pondingMM})
	require.NoError(t, err)
	require.Len(t, bed.Bands(), 1)
	return Setup{
		Bed: bed, InletM3H: math.Inf(1), MixFC: 0.2, MixWP: 0.1, MixSat: 0.45, MixDepthMM: 400,
		MixKMMH: mixMMH, NativeKMMH: nativeMMH, Kc: 1, PTab: 0.5, LatitudeDeg: 45, StepsPerH: 1,
	}
}

// fill makes the pond and the mix full.
func fill(st *state) {
	for i := range st.places {
		st.places[i].heldMM = st.mix.satMM
	}
	st.pondM3, st.levelMM = st.spillM3, 0
	st.begin()
}

// made returns a record of so many days without temperature limits, with the
// rain of one hour.
func made(days, rainHour int, rainMM, et0MM float64) *site.Record {
	rec := &site.Record{
		Source: "made", Start: time.Date(2012, 1, 1, 0, 0, 0, 0, time.UTC), Step: "hourly",
		RainMM: make([]float64, 24*days), Missing: make([]bool, 24*days), Days: make([]site.Day, days),
	}
	rec.RainMM[rainHour] = rainMM
	for d := range rec.Days {
		rec.Days[d] = site.Day{TMinC: 10, TMaxC: 20, ET0MM: et0MM}
	}
	return rec
}

// A full pond over wet ground of constant K drains in d / K: 12 in at 0.5 in/h
// in 24 h (drain time as handbooks reckon it), whichever of mix and native
// soil is the slower, and as fast at any number of steps.
func TestFullPondDrainsInDepthOverRate(t *testing.T) {
	const inch = 25.4
	for _, rates := range [][2]float64{{1000, 0.5 * inch}, {0.5 * inch, 0.5 * inch}} {
		for _, steps := range []int{1, 3} {
			s := tub(t, 12*inch, rates[0], rates[1])
			s.StepsPerH = steps
			st := newState(s)
			fill(st)
			for h := 1; h < 24; h++ {
				st.hour(0, 0, 0.5)
				assert.InDelta(t, -0.5*inch*float64(h), st.levelMM, 1e-6, "level after %d h", h)
			}
			require.True(t, st.hasPond(), "after 23 h")
			st.hour(0, 0, 0.5)
			assert.False(t, st.hasPond(), "after 24 h")
			assert.InDelta(t, 12*inch, 1000*st.volumes().InfiltratedM3/2, 1e-3)
		}
	}
	// A mix tighter than the ground below: held back by the mix.
	st := newState(tub(t, 100, 5, 50))
	fill(st)
	for range 10 {
		st.hour(0, 0, 0.5)
	}
	assert.InDelta(t, -50, st.levelMM, 1e-6)
}

// In a cloudburst on full, tight ground all but the room in the pond leaves:
// overflow = inflow + rain - capacity.
func TestFlashEventSpillsWhatThePondCannotHold(t *testing.T) {
	s := roughLot(t, 0, 45)
	s.MixKMMH = 0
	st := newState(s)
	st.hour(40, 0, 0.5)
	const roofM3, bedM3 = (40 - 1) * 0.95 * 100 / 1000, 40 * 12.0 / 1000
	// Closed form: the frustum from 3.4 x 2.4 m at the spill down to 2.5 x 1.5 m
	// at 150 mm, by the prismatoid rule.
	const capacityM3 = 0.15 / 6 * (3.4*2.4 + 4*(2.95*1.95) + 2.5*1.5)
	v := st.volumes()
	assert.InDelta(t, roofM3, v.RunoffM3, 1e-9, "(P - loss) C A")
	assert.InDelta(t, roofM3+bedM3-capacityM3, v.OverflowM3, 1e-6)
	assert.InDelta(t, capacityM3, st.pondM3, 1e-6)
}

// Rain faster than the mix takes it stands, though the mix has room: 30 mm in
// an hour on a mix of 5 mm/h leaves 25 mm.
func TestMixRateHoldsRainUp(t *testing.T) {
	st := newState(tub(t, 100, 5, 50))
	st.hour(30, 0, 0.5)
	assert.InDelta(t, 5, st.places[0].intakeMM, 1e-9)
	assert.InDelta(t, -100+25, st.levelMM, 1e-6)
}

// Runoff of a roof is (P - loss) C A for each storm that finds it dry, the
// rest goes by once the inlet is full.
func TestRoofAndInlet(t *testing.T) {
	s := tub(t, 400, 20, 20)
	s.Catches = []Catch{{AreaM2: 80, Coefficient: 0.9, LossMM: 2}}
	s.InletM3H = 0.5
	v, err := Volumes(s, made(3, 30, 12, 4))
	require.NoError(t, err)
	assert.InDelta(t, (12-2)*0.9*80/1000, v.RunoffM3, 1e-12)
	assert.InDelta(t, 0.5, v.InflowM3, 1e-12)
	assert.InDelta(t, 0.72-0.5, v.BypassM3, 1e-12)
	assert.InDelta(t, 1-0.22/0.72, v.CapturedFraction(), 1e-12)

	s.InletM3H = 0
	v, err = Volumes(s, made(3, 30, 12, 4))
	require.NoError(t, err)
	assert.Zero(t, v.InflowM3)
	assert.Zero(t, v.CapturedFraction())
	s.Catches = nil
	v, err = Volumes(s, made(3, 30, 12, 4))
	require.NoError(t, err)
	assert.True(t, math.IsNaN(v.CapturedFraction()), "nothing ran off")
}

// Curve-number ground: the runoff of a one-day storm is that of TR-55 (USDA
// 1986), Table 2-1, whatever its course: P 2.0 in: CN 80 0.56, CN 90 1.09,
// CN 98 1.77 in; P 4.0 in: CN 70 1.33, CN 98 3.77 in.
func TestCurveNumberStorm(t *testing.T) {
	for _, pattern := range site.Patterns() {
		shares, _ := site.PatternShares(pattern)
		for _, row := range [][3]float64{{2, 80, 0.56}, {2, 90, 1.09}, {2, 98, 1.77}, {4, 70, 1.33}, {4, 98, 3.77}} {
			s := tub(t, 200, 20, 20)
			s.Catches = []Catch{{AreaM2: 1000, CurveNumber: row[1]}}
			_, runoff, err := EventOverflowM3(s, 25.4*row[0], shares)
			require.NoError(t, err)
			assert.InDelta(t, row[2], runoff/25.4, 0.005, "%s: P %g in, CN %g", pattern, row[0], row[1])
		}
	}
}

// Rain with less than half a day between is one storm, but no storm is longer
// than a day: a month of daily rain runs off as a month of days.
func TestStormsEnd(t *testing.T) {
	runoff := func(gapH int) float64 {
		c := catchState{Catch: Catch{AreaM2: 1000, CurveNumber: 80}}
		total := c.runoffM3(30, 0)
		for range gapH {
			total += c.runoffM3(0, 0)
		}
		return total + c.runoffM3(30, 0)
	}
	assert.InDelta(t, site.RunoffMM(60, 80), runoff(11), 1e-9)
	assert.InDelta(t, 2*site.RunoffMM(30, 80), runoff(12), 1e-9)

	shares, _ := site.PatternShares("type-ii")
	c, total := catchState{Catch: Catch{AreaM2: 1000, CurveNumber: 80}}, 0.0
	for range 30 {
		for _, share := range shares {
			total += c.runoffM3(40*share, 0)
		}
	}
	assert.InDelta(t, 30*site.RunoffMM(40, 80), total, 1e-9)
}

// A pond that cannot soak away loses Kc ET0, no more and no less.
func TestFullPondEvaporatesAtDemand(t *testing.T) {
	s := tub(t, 100, 10, 0)
	s.Kc = 0.8
	st := newState(s)
	fill(st)
	for range 24 {
		st.hour(0, 0.25, 0.5)
	}
	assert.InDelta(t, -0.8*6, st.levelMM, 1e-9)
	assert.InDelta(t, 0.8*6*2/1000, st.volumes().EvaporatedM3, 1e-12)
	assert.Zero(t, st.volumes().InfiltratedM3)
	assert.InDelta(t, st.mix.satMM, st.places[0].heldMM, 1e-9, "the mix below stays full")
	// Dried up, the demand goes on from the mix.
	for range 24 * 30 {
		st.hour(0, 0.25, 0.5)
	}
	assert.InDelta(t, 0.8*0.25*24*31*2/1000, st.volumes().EvaporatedM3, 1e-9)
}

// A trickle that the bottom takes as it comes wets nothing else and makes no
// pond: roof water at 10 mm/h over the bottom, into a mix of 50 mm/h.
func TestTrickleWetsTheBottomAlone(t *testing.T) {
	s := roughLot(t, 100, 45)
	bottomM2 := s.Bed.Bands()[0].AreaM2
	s.Catches = []Catch{{AreaM2: 10 * bottomM2, Coefficient: 1}}
	st := newState(s)
	for range 5 {
		st.hour(1, 0, 0.5)
		assert.False(t, st.hasPond())
		assert.InDelta(t, 11, st.places[0].intakeMM, 1e-9)
		assert.InDelta(t, 1, st.places[1].intakeMM, 1e-9)
	}
}

// Water of a year is booked to its year, to the hour: rain in the last hour of
// 2012 and in the first of 2013.
func TestYearsEndAtMidnight(t *testing.T) {
	rec := made(400, 366*24-1, 5, 2)
	rec.RainMM[366*24] = 7
	s := roughLot(t, 6, 45)
	r, err := Run(s, rec)
	require.NoError(t, err)
	require.Len(t, r.ByYear, 2)
	assert.InDelta(t, 5*12.0/1000, r.ByYear[0].RainOnBedM3, 1e-9)
	assert.InDelta(t, 7*12.0/1000, r.ByYear[1].RainOnBedM3, 1e-9)
	for _, y := range r.ByYear {
		assert.Less(t, y.Closure(), 1e-9, "each year closes by itself")
	}
}

// A long gap cuts wet and dry spells, which are marked; what went before it
// stays with the year it was in. A short gap is bridged, and marks too. The
// pond here stands for good.
func TestGapsCutSpells(t *testing.T) {
	lose := func(rec *site.Record, from, hours int) {
		for h := range hours {
			rec.Missing[from+h] = true
		}
	}
	s := tub(t, 300, 10, 0)
	rec := made(500, 24, 250, 0)
	gap := 366 * 24 // the first hours of the second year
	lose(rec, gap, gapH)
	lose(rec, gap+1000, gapH-1)
	r, err := Run(s, rec)
	require.NoError(t, err)
	first, second := r.Exposure[0][0], r.Exposure[0][1]
	assert.Equal(t, 366*24, first.Wet.FromHour+first.Wet.Hours)
	assert.True(t, first.Wet.Gap)
	assert.Equal(t, gap+gapH, second.Wet.FromHour)
	assert.Equal(t, (500-366)*24-gapH, second.Wet.Hours)
	assert.True(t, second.Wet.Gap)
	assert.Equal(t, second.Wet.Hours, second.WetHours)
	assert.Equal(t, second.Wet.Hours, second.AirPoorH)

	dry := made(500, 24, 0, 5)
	lose(dry, 50*24+3, gapH-1)
	lose(dry, 200*24+7, gapH)
	r, err = Run(s, dry)
	require.NoError(t, err)
	first, second = r.Exposure[0][0], r.Exposure[0][1]
	assert.Equal(t, 200*24, first.Dry.Hours, "before the gap, the longer part")
	assert.True(t, first.Dry.Gap)
	assert.Equal(t, 365, first.DryDays, "the day of the gap does not count")
	assert.Equal(t, 201*24, second.Dry.FromHour, "over the turn of the year")
	assert.Equal(t, 299*24, second.Dry.Hours)

	wet := made(500, 24, 250, 0) // nothing lost: unmarked once an end is no part of it
	wet.RainMM[24], wet.RainMM[100*24] = 0, 250
	s.NativeKMMH = 5
	r, err = Run(s, wet)
	require.NoError(t, err)
	assert.Positive(t, r.Exposure[0][0].Wet.Hours)
	assert.False(t, r.Exposure[0][0].Wet.Gap)
}

// Days of a trace add up to the run's volumes, band by band, and each day's
// water closes.
func TestTraceAddsUp(t *testing.T) {
	rec := readReal(t, "newyork-hourly-2013.csv", "origin", "JFK", 40.6)
	s := roughLot(t, 6, 40.6)
	r, err := Run(s, rec)
	require.NoError(t, err)
	var seeped, used, rain, inflow float64
	for b, band := range r.Bands {
		days, err := Trace(s, rec, b, 0, len(rec.Days))
		require.NoError(t, err)
		rain, inflow = 0, 0
		for d, day := range days {
			seeped += day.SeepedMM * band.AreaM2 / 1000
			used += day.UsedMM * band.AreaM2 / 1000
			rain += day.RainMM
			inflow += day.InflowM3
			if d > 0 {
				require.InDelta(t, days[d-1].HeldMM+day.IntakeMM-day.SeepedMM-day.UsedMM, day.HeldMM, 1e-6, "band %d, day %d", b, d)
			}
		}
		part, err := Trace(s, rec, b, 100, 130)
		require.NoError(t, err)
		require.Equal(t, days[100:130], part)
	}
	assert.InDelta(t, r.Balance.InfiltratedM3, seeped, 1e-9)
	assert.InDelta(t, r.Balance.EvaporatedM3, used, 1e-9)
	assert.InDelta(t, r.Balance.InflowM3, inflow, 1e-9)
	assert.InDelta(t, r.Balance.RainOnBedM3, rain*12/1000, 1e-9)
}

// Ground that drains to the bed does not pass the roof's inlet: with an inlet
// that carries nothing, the roof's water is lost and the ground's arrives.
func TestGroundComesBesideTheInlet(t *testing.T) {
	rec := readReal(t, "seattle-newyork-daily-2012-2015.csv", "location", "New York", 40.7)
	s := roughLot(t, 6, 40.7)
	s.Catches = append(s.Catches, Catch{AreaM2: 200, CurveNumber: 90})
	s.InletM3H = 0
	shut, err := Volumes(s, rec)
	require.NoError(t, err)
	s.Catches = s.Catches[1:]
	s.InletM3H = math.Inf(1)
	alone, err := Volumes(s, rec)
	require.NoError(t, err)
	assert.InDelta(t, alone.InflowM3, shut.InflowM3, 1e-9)
	assert.Greater(t, shut.InflowM3, 1.0)
	assert.Greater(t, shut.BypassM3, 100.0)
}
