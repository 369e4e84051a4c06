package care

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
)

// Where nothing dries out, the first year is fit's own risk of the plant with
// halved limits, over the years that the record follows to rooted.
func TestFirstYearWetIsFitWithHalfLimits(t *testing.T) {
	rec := realRecord(t, "New York", 40.7)
	b, f := realBed(t, rec, 60, 8, 40.7)
	p := plant(1e9, 90)
	p.PondMM = 20
	half := p
	half.WetH, half.PondMM = p.WetH/2, p.PondMM/2
	three := *f
	three.Use = f.Use[:3]
	for _, zone := range []string{"bottom", "slope", "rim"} {
		got, ok := b.FirstYear(f, nil, p, zone, 6, may1(), 7)
		require.True(t, ok)
		want, _ := three.InZone(half, zone, 6)
		assert.InDelta(t, want.YearlyRisk, got.Alone, 1e-12, zone)
		assert.InDelta(t, got.Alone, got.Watered, 1e-9, "water is no help against water")
		assert.True(t, math.IsNaN(got.KeptDry), "not asked")
	}
	got, _ := b.FirstYear(f, nil, p, "bottom", 6, may1(), 7)
	assert.Equal(t, fit.TooDeep, got.Limit)
	assert.Greater(t, got.Alone, got.Established.YearlyRisk+0.05)
	_, ok := b.FirstYear(f, nil, p, "hedge", 6, may1(), 7)
	assert.False(t, ok)
}

// By drought alone: the young year is the drought of the growing roots against
// half of dry_d, by the seasons walked for the plan; watering and closing the
// inlet each help against their own trouble only.
func TestFirstYearOfRealBeds(t *testing.T) {
	rec := realRecord(t, "New York", 40.7)
	b, f := realBed(t, rec, 40, 15, 40.7)
	shut, shutFit := realBed(t, rec, 0, 15, 40.7)
	closed := &Closed{Fit: shutFit, Care: shut}

	dry, ok := b.FirstYear(f, closed, plant(40, 1e9), "rim", 6, may1(), 7)
	require.True(t, ok)
	var years []fit.Year
	for _, s := range b.seasons(b.Weather.driest("rim"), 40, "", NoWatering, 7, may1()) {
		years = append(years, fit.Year{Wet: 0, Deep: 0, Cold: 0, Dry: fit.NewReference(40).Days(s.Drought) / 20})
	}
	assert.InDelta(t, fit.DefaultPredictor().YearlyRisk(years, nil), dry.Alone, 0.01, "both bands of the rim are nearly alike")
	assert.Equal(t, fit.TooDry, dry.Limit)
	assert.Equal(t, SafeWatered, dry.Verdict)
	assert.Less(t, dry.Watered, dry.Alone)
	assert.InDelta(t, dry.Alone, dry.KeptDry, 1e-3, "the rim hardly sees the roof's water")

	wet, _ := b.FirstYear(f, closed, plant(40, 48), "bottom", 6, may1(), 7)
	assert.Equal(t, SafeBridged, wet.Verdict)
	assert.LessOrEqual(t, wet.Bridged, wet.Watered)
	hopeless, _ := b.FirstYear(f, closed, plant(8, 2), "bottom", 6, may1(), 7)
	assert.Equal(t, NotSafe, hopeless.Verdict)
	for _, p := range []catalogue.Plant{plant(nan(), 96), plant(40, nan())} {
		unknown, _ := b.FirstYear(f, closed, p, "rim", 6, may1(), 7)
		assert.Equal(t, NotKnown, unknown.Verdict, "what is not known is not counted as fine")
	}
}

// What one plant takes is what the plan gives a zone with that one plant.
func TestBridgingLitres(t *testing.T) {
	b, f := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	p := plant(30, 96)
	one := Stand{Zone: "slope", AreaM2: 50, Groups: []Group{{p, 1}}}
	plan, err := b.Plan(one, may1())
	require.NoError(t, err)
	got, _ := b.FirstYear(f, nil, p, "slope", 6, may1(), plan.GapDays)
	assert.InDelta(t, plan.of(ByDepletion).TypicalLitres, got.TypicalLitres, 1e-9)
	assert.InDelta(t, plan.of(ByDepletion).DryLitres, got.DryLitres, 1e-9)
	assert.Greater(t, got.TypicalLitres, 5.0)
}

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		established, alone, watered, kept, bridged float64
		want                                       Verdict
	}{
		{0.05, 0.05, 0.05, nan(), nan(), SafeFromStart},
		{0.05, 0.5, 0.05, 0.5, 0.05, SafeWatered},
		{0.05, 0.5, 0.5, 0.05, 0.05, SafeKeptDry},
		{0.05, 0.5, 0.5, 0.5, 0.05, SafeBridged},
		{0.05, 0.5, 0.5, 0.5, 0.5, SafeLater},
		{0.05, 0.5, 0.5, nan(), nan(), SafeLater},
		{0.5, 0.05, 0.05, 0.05, 0.05, NotSafe},
		{nan(), 0.05, 0.05, 0.05, 0.05, NotKnown},
		{0.05, nan(), nan(), nan(), nan(), NotKnown},
	} {
		f := FirstYear{Plant: plant(20, 48), Established: fit.Fit{YearlyRisk: c.established}, Alone: c.alone, Watered: c.watered, KeptDry: c.kept, Bridged: c.bridged}
		assert.Equal(t, c.want, f.verdict(0.10))
	}
}
