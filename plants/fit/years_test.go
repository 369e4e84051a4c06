package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The pond stood above each level for so many hours: 40 over the bottom, then
// 10 fewer for each 25 mm, none over the spill. Over a foot at the bottom, d
// mm deep stood 40 (1 - d / 100) h.
func TestDepthForHours(t *testing.T) {
	b := fourYears()
	for k, hours := range []float64{40, 30, 20, 10} {
		b.Run.Above[k][0] = hours
	}
	for _, c := range []struct {
		name       string
		band       int
		wetH, want float64
	}{
		{"bears 10 h: 75 mm stood that long", 0, 10, 75},
		{"bears 16 h: 60 mm, between the levels", 0, 16, 60},
		{"bears 20 h: 50 mm", 0, 20, 50},
		{"bears 40 h: 50 mm stood half of that", 0, 40, 25},
		{"bears 400 h: the same at a twentieth", 0, 400, 2.5},
		{"bears nothing: all that stood an hour", 0, 0, 97.5},
		{"half way up, bears 10 h", 1, 10, 25},
		{"half way up, bears 40 h: 25 mm stood 10 h", 1, 40, 6.25},
		{"on the rim nothing stood", 2, 10, 0},
	} {
		depth, _ := b.depthMM(c.band, 0, c.wetH)
		assert.InDelta(t, c.want, depth, 1e-9, c.name)
	}
	none, _ := b.depthMM(0, 1, 10)
	assert.Equal(t, 0.0, none, "a year without a pond")
	// Where the hours fall off faster higher up, depth times hours may be
	// largest between two levels: (25 + u) (44 - 1.28 u) over the second, at u
	// = 4.6875 mm.
	for k, hours := range []float64{44, 44, 12, 0} {
		b.Run.Above[k][2] = hours
	}
	depth, _ := b.depthMM(0, 2, 50)
	assert.InDelta(t, 29.6875*38/50, depth, 1e-9)
}

// How much of what a plant bears of wetness counts for depth is the slope of
// depth over hours borne, both as logarithms: against differences of the depth
// itself.
func TestDepthByWet(t *testing.T) {
	b := fourYears()
	for k, hours := range []float64{40, 30, 20, 10} {
		b.Run.Above[k][0] = hours
	}
	for k, hours := range []float64{44, 44, 12, 0} {
		b.Run.Above[k][2] = hours
	}
	for _, year := range []int{0, 2} {
		for wetH := 3.05; wetH < 90; wetH += 0.7 { // between the kinks
			const h = 1e-6
			less, _ := b.depthMM(0, year, wetH*math.Exp(-h))
			more, _ := b.depthMM(0, year, wetH*math.Exp(h))
			_, byWet := b.depthMM(0, year, wetH)
			assert.InDelta(t, math.Log(less/more)/(2*h), byWet, 1e-3, "year %d, bears %g h", year, wetH)
		}
	}
	_, byWet := b.depthMM(0, 1, 10)
	assert.Zero(t, byWet, "a year without a pond")
}

// A flood that lasts as long everywhere: the depth is that of the water.
func TestDepthOfAFullPond(t *testing.T) {
	b := fourYears()
	for k := range b.Run.Above {
		b.Run.Above[k][0] = 48
	}
	for wetH, want := range map[float64]float64{24: 75 + 25*24.0/48 /* falls off to the spill over the last step */, 48: 75, 96: 37.5} {
		depth, _ := b.depthMM(0, 0, wetH)
		assert.InDelta(t, want, depth, 1e-9)
	}
}

// A pond_mm of its own: a plant that bears the hours may still be drowned.
func TestDepthHarmsBeforeTheHours(t *testing.T) {
	b := fourYears()
	for k, hours := range []float64{40, 30, 20, 10} {
		b.Run.Above[k][0] = hours
	}
	p := plant()
	p.WetH, p.PondMM = 60, 15
	y := b.years(p, 0)[0]
	assert.Less(t, y.Wet, 1.0)
	assert.InDelta(t, 50*20.0/60/15, y.Deep, 1e-9)
	limit, _ := y.Worst()
	assert.Equal(t, TooDeep, limit)
}

// At looks at any year, in use or not, and finds what the fit of that year has.
func TestAtIsTheYearOfTheFit(t *testing.T) {
	b := fourYears()
	all := b.InBand(plant(), 0, math.NaN()).ByYear
	for i, y := range b.Use {
		assert.Equal(t, all[i], b.At(plant(), 0, y))
	}
	b.Use = b.Use[:1]
	assert.Equal(t, all[2], b.At(plant(), 0, 2))
	for _, l := range []Limit{TooWet, TooDeep, TooDry, TooCold} {
		assert.False(t, math.IsNaN(all[0].Severity(l)), l)
	}
	assert.True(t, math.IsNaN(all[0].Severity(TooDim)))
}

// Twice the severity borne is twice the hours or days; a factor e of cold is one
// hardiness zone of 10 deg F lower.
func TestScaled(t *testing.T) {
	assert.Equal(t, 96.0, TooWet.Scaled(48, 2))
	assert.Equal(t, 50.0, TooDeep.Scaled(100, 0.5))
	assert.Equal(t, 30.0, TooDry.Scaled(20, 1.5))
	assert.InDelta(t, -20-50.0/9, TooCold.Scaled(-20, math.E), 1e-12)
	y := Year{Cold: math.Exp((-20 - -25) / coldScaleC)}
	moved := Year{Cold: math.Exp((TooCold.Scaled(-20, 2) - -25) / coldScaleC)}
	assert.InDelta(t, y.Cold/2, moved.Cold, 1e-12, "what is borne twice is half as hard")
}
