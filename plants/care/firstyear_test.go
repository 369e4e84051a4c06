package care

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
)

// judged is the first year of a plant by itself in a zone, with the plan of its bed.
func judged(t testing.TB, b *Bed, f *fit.Bed, closed *Closed, p catalogue.Plant, zone string) (FirstYear, *Plan) {
	t.Helper()
	stands := []Stand{{Zone: zone, AreaM2: 50, Groups: []Group{{Plant: p, Count: 1}}}}
	b.Unaided(f, stands, may1())
	plans, err := b.Plans(stands, may1())
	require.NoError(t, err)
	y, ok := b.FirstYear(f, closed, stands[0], 0, plans[0], 6, may1())
	require.True(t, ok)
	b.Remedy(&y, f, closed, plans[0], may1(), []time.Month{time.May, time.October})
	return y, plans[0]
}

// Where nothing dries out, the first year is fit's own risk of the plant with
// halved limits, over the years that the record follows to rooted.
func TestFirstYearWetIsFitWithHalfLimits(t *testing.T) {
	rec := realRecord(t, "New York", 40.7)
	b, f := realBed(t, rec, 60, 8, 40.7)
	shut, shutFit := realBed(t, rec, 0, 8, 40.7)
	b.Shut = shut.Weather
	closed := &Closed{Fit: shutFit, Care: shut}
	p := plant(1e9, 90)
	p.PondMM = 20
	half := p
	half.WetH, half.PondMM = p.WetH/2, p.PondMM/2
	three := *f
	three.Use = f.Use[:3]
	for _, zone := range []string{"bottom", "slope", "rim"} {
		got, _ := judged(t, b, f, closed, p, zone)
		want, _ := three.InZone(half, zone, 6)
		assert.InDelta(t, want.YearlyRisk, got.Alone, 1e-12, zone)
		assert.InDelta(t, got.Alone, got.Planned, 1e-9, "water is no help against water")
		assert.True(t, math.IsNaN(got.KeptDry), "it is let in from the start")
	}
	got, _ := judged(t, b, f, closed, p, "bottom")
	assert.Equal(t, fit.TooDeep, got.Limit)
	assert.Greater(t, got.Alone, got.Established.YearlyRisk+0.05)
	_, ok := b.FirstYear(f, nil, Stand{Zone: "hedge", Groups: []Group{{Plant: p}}}, 0, &Plan{}, 6, may1())
	assert.False(t, ok)

	// Kept out to the end of the year it is fit's risk of the bed without a roof; let in
	// when they have rooted, that of grown plants too.
	b.ShutWeeks = 53
	got, _ = judged(t, b, f, closed, p, "bottom")
	threeShut := *shutFit
	threeShut.Use = three.Use
	dry, _ := threeShut.InZone(half, "bottom", 6)
	grown, _ := three.InZone(p, "bottom", 6)
	assert.InDelta(t, max(dry.YearlyRisk, grown.YearlyRisk), got.KeptDry, 0.02)
	assert.Less(t, got.KeptDry, got.Alone)
}

// The verdict is that of the schedule: each plant, walked by itself through the waterings
// that are printed, suffers in the driest band what it suffered when they were made, and
// two zones on one schedule are judged by the visits of both.
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		established, alone, planned, kept float64
		want                              Verdict
	}{
		{0.05, 0.05, 0.05, nan(), SafeFromStart},
		{0.05, 0.5, 0.05, nan(), SafeWatered},
		{0.05, 0.5, 0.05, 0.05, SafeKeptDry},
		{0.05, 0.5, 0.05, 0.5, SafeBridged},
		{0.05, 0.5, 0.5, 0.5, SafeLater},
		{0.05, 0.5, 0.5, nan(), SafeLater},
		{0.5, 0.05, 0.05, 0.05, NotSafe},
		{nan(), 0.05, 0.05, 0.05, NotKnown},
		{0.05, nan(), nan(), nan(), NotKnown},
	} {
		f := FirstYear{Plant: plant(20, 48), Established: fit.Fit{YearlyRisk: c.established}, Alone: c.alone, Planned: c.planned, KeptDry: c.kept}
		assert.Equal(t, c.want, f.verdict(0.10))
	}
}

// The verdict is that of the schedule: each plant, walked by itself through the waterings
// that are printed, suffers in the driest band what it suffered when they were made; and
// nobody goes out two days running.
func TestVerdictsComeFromTheSchedule(t *testing.T) {
	b, f := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	plug, pot, shallow := plant(40, 1e9), plant(60, 1e9), plant(25, 1e9)
	plug.SoldAs, shallow.RootCM = "plug", 20
	stands := []Stand{stand("bottom", 4, shallow), stand("slope", 4, pot), stand("rim", 4, plug, pot)}
	b.Unaided(f, stands, may1())
	plans, err := b.Plans(stands, may1())
	require.NoError(t, err)
	visits := map[int]bool{}
	for i, s := range stands {
		for k, g := range s.Groups {
			years := b.youngYears(way{open: f, planted: may1(), helped: plans[i].Years}, g.Plant, plans[i].Band)
			require.Len(t, years, 3)
			for n, year := range years {
				assert.InDelta(t, plans[i].Years[n].Plants[k].Worst.Share, year.Dry, 1e-9)
				assert.Positive(t, year.Dry)
			}
		}
		for _, year := range plans[i].Years {
			for _, w := range year.Waterings {
				visits[w.Day] = true
			}
		}
	}
	for d := range visits {
		assert.False(t, visits[d+1], "day %d and the next", d)
	}
}

// By drought alone: the young year is the drought of the growing roots against half of
// dry_d; watering and closing the inlet each help against their own trouble only.
func TestFirstYearOfRealBeds(t *testing.T) {
	rec := realRecord(t, "New York", 40.7)
	b, f := realBed(t, rec, 40, 15, 40.7)
	shut, shutFit := realBed(t, rec, 0, 15, 40.7)
	b.Shut = shut.Weather
	closed := &Closed{Fit: shutFit, Care: shut}

	dry, plan := judged(t, b, f, closed, plant(40, 1e9), "rim")
	var years []fit.Year
	c := b.course(stand("rim", 1, plant(40, 1e9)), plan.Band, NoWatering, 3)
	for _, from := range b.starts(may1()) {
		years = append(years, fit.Year{Wet: 0, Deep: 0, Cold: 0, Dry: c.walk(from, from+b.span()).Plants[0].Worst.Days / 20})
	}
	assert.InDelta(t, fit.DefaultPredictor().YearlyRisk(years, nil), dry.Alone, 0.01, "both bands of the rim are nearly alike")
	assert.Equal(t, fit.TooDry, dry.Limit)
	assert.Equal(t, SafeWatered, dry.Verdict)
	assert.Less(t, dry.Planned, dry.Alone)

	wet, _ := judged(t, b, f, closed, plant(40, 48), "bottom")
	assert.Equal(t, SafeLater, wet.Verdict)
	require.NotEmpty(t, wet.Remedies)
	last := wet.Remedies[len(wet.Remedies)-1]
	assert.Positive(t, last.Weeks, "keep the roof water out")
	assert.Less(t, last.Risk, wet.Planned)
	b.ShutWeeks = last.Weeks
	wet, _ = judged(t, b, f, closed, plant(40, 48), "bottom")
	assert.Equal(t, SafeBridged, wet.Verdict)
	b.ShutWeeks = 0
	hopeless, _ := judged(t, b, f, closed, plant(8, 2), "bottom")
	assert.Equal(t, NotSafe, hopeless.Verdict)
	for _, p := range []catalogue.Plant{plant(nan(), 96), plant(40, nan())} {
		unknown, _ := judged(t, b, f, closed, p, "rim")
		assert.Equal(t, NotKnown, unknown.Verdict, "what is not known is not counted as fine")
	}
}

// What one plant takes is what the plan gives a zone with that one plant.
func TestLitresOfOnePlant(t *testing.T) {
	b, f := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	got, plan := judged(t, b, f, nil, plant(30, 1e9), "slope")
	assert.InDelta(t, plan.of(ByDepletion).TypicalLitres, got.TypicalLitres, 1e-9)
	assert.InDelta(t, plan.of(ByDepletion).DryLitres, got.DryLitres, 1e-9)
	assert.Greater(t, got.TypicalLitres, 5.0)
}
