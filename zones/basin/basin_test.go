package basin

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/table"
)

func mustNew(t require.TestingT, s Spec) *Basin {
	b, err := New(s)
	require.NoError(t, err)
	return b
}

// volumeM3 is the water held between the ground and a level: the integral of
// AreaAtOrBelowM2 from the bottom up. Below the bottom it is 0, and above the
// spill level it stays at SpillVolumeM3, for water above it leaves.
func (b *Basin) volumeM3(levelMM float64) float64 {
	switch {
	case math.IsNaN(levelMM):
		return math.NaN()
	case levelMM <= -b.spec.PondingMM:
		return 0
	case levelMM >= 0:
		return b.SpillVolumeM3()
	}
	c, u := b.levels.at(levelMM)
	return c.v + c.h*u*(c.a+u*(c.p/2+u*c.q/3))
}

// inradiusM is the largest distance inward that any spot has: the radius of
// the largest circle that fits inside.
func (o Outline) inradiusM() float64 { return o.shape().inradiusM() }

// A pond of a rectangular bed is a prismatoid: volume = h/6 (top + 4 middle +
// bottom). Source: Newton's prismatoid formula, any handbook of mensuration.
func TestRectanglePondIsPrismatoid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, w := rapid.Float64Range(1, 20).Draw(t, "l"), rapid.Float64Range(1, 20).Draw(t, "w")
		rim := rapid.Float64Range(0, .2).Draw(t, "rim")
		run := rapid.Float64Range(0, 1.5).Draw(t, "run")
		b := mustNew(t, Spec{Outline{Kind: "rectangle", LengthM: l, WidthM: w}, 150, run, rim, 50})
		at := func(d float64) float64 { return (l - 2*d) * (w - 2*d) }
		in := run * .150
		want := 0.150 / 6 * (at(rim) + 4*at(rim+in/2) + at(rim+in))
		assert.InEpsilon(t, want, b.SpillVolumeM3(), 1e-12)
		assert.InEpsilon(t, want, b.exactVolumeM3(0), 1e-12)
		half := 0.075 / 6 * (at(rim+in/2) + 4*at(rim+in*.75) + at(rim+in))
		assert.InEpsilon(t, half, b.volumeM3(-75), 1e-12)
	})
}

// A pond of a round bed is a frustum of a cone: volume = pi h/3 (R^2 + R r +
// r^2). Source: any handbook of mensuration.
func TestRoundPondIsFrustum(t *testing.T) {
	b := mustNew(t, Spec{Outline{Kind: "oval", LengthM: 5, WidthM: 5}, 200, 4, .25, 100})
	top, bottom := 2.25, 2.25-.8
	want := math.Pi * .2 / 3 * (top*top + top*bottom + bottom*bottom)
	assert.InEpsilon(t, want, b.exactVolumeM3(0), 1e-10)
	assert.InEpsilon(t, want, b.SpillVolumeM3(), 1e-9)
}

// An L-shaped pond, by integrating the inset worked by hand in
// TestInsetAreaClosedForms: A(d) = (4-2d)^2 - 4 + d^2 (1 - pi/4).
func TestLPondByHand(t *testing.T) {
	o := polygonOf([2]float64{0, 0}, [2]float64{4, 0}, [2]float64{4, 2}, [2]float64{2, 2}, [2]float64{2, 4}, [2]float64{0, 4})
	b := mustNew(t, Spec{o, 150, 3, .3, 50})
	whole := func(d float64) float64 { return 12*d - 8*d*d + (4+1-math.Pi/4)*d*d*d/3 }
	want := (whole(.75) - whole(.3)) / 3
	assert.InEpsilon(t, want, b.SpillVolumeM3(), 1e-12)
}

// A clean-water utility's worked example: a basin 1 ft deep with a bottom of 4
// by 10 ft and 3:1 sides holds 100 cu ft by average end area. The exact solid
// is 0.5 (40 + 160) less the prismatoid's correction: (40 + 4 x 91 + 160)/6 =
// 94.0 cu ft.
func TestUtilityExample(t *testing.T) {
	const ft = .3048
	b := mustNew(t, Spec{Outline{Kind: "rectangle", LengthM: 16 * ft, WidthM: 10 * ft}, 304.8, 3, 0, 0})
	ends := (b.AreaAtOrBelowM2(-304.8) + b.AreaAtOrBelowM2(0)) / 2 * ft
	assert.InDelta(t, 100, ends/(ft*ft*ft), 1e-9)
	assert.InDelta(t, 94.0, b.SpillVolumeM3()/(ft*ft*ft), 1e-9)
	assert.InDelta(t, 40, b.Bands()[0].AreaM2/(ft*ft), 1e-9)
}

// Heights of a bed by hand, along a line inward from the middle of a long side.
func TestHeight(t *testing.T) {
	b := mustNew(t, Spec{Outline{Kind: "rectangle", LengthM: 6, WidthM: 3}, 150, 3, .3, 50})
	for _, c := range []struct {
		y, want float64
		zone    string
	}{{0, 50, Rim}, {.15, 25, Rim}, {.3, 0, Slope}, {.6, -100, Slope}, {.75, -150, Bottom}, {1.5, -150, Bottom}, {2.85, 25, Rim}} {
		h, inside := b.HeightMM(3, c.y)
		assert.True(t, inside)
		assert.InDelta(t, c.want, h, 1e-9, "y=%g", c.y)
		assert.Equal(t, c.zone, b.ZoneAt(3, c.y), "y=%g", c.y)
	}
	_, inside := b.HeightMM(3, -.01)
	assert.False(t, inside)
	assert.Equal(t, "", b.ZoneAt(3, -.01))
}

// drawBasin makes any bed with some bottom left.
func drawBasin(t *rapid.T) *Basin {
	o := drawOutline(t)
	r := o.inradiusM()
	share := rapid.Float64Range(.02, .97).Draw(t, "share")
	rim := share * r * rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 1)).Draw(t, "rim")
	depth := rapid.Float64Range(30, 400).Draw(t, "depth")
	return mustNew(t, Spec{o, depth, (share*r - rim) / depth * 1000, rim, rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 150)).Draw(t, "freeboard")})
}

func TestLevelsVolumesAndBandsAgree(t *testing.T) {
	worstVolume, worstArea := 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBasin(t)
		s, bed := b.Spec(), b.Spec().Outline.AreaM2()
		at := rapid.Float64Range(-s.PondingMM, 0)
		lo, hi := at.Draw(t, "one"), at.Draw(t, "other")
		lo, hi = math.Min(lo, hi), math.Max(lo, hi)

		assert.LessOrEqual(t, b.volumeM3(lo), b.volumeM3(hi))
		assert.LessOrEqual(t, b.AreaAtOrBelowM2(lo), b.AreaAtOrBelowM2(hi)*(1+1e-12))
		assert.InDelta(t, lo, b.LevelMM(b.volumeM3(lo)), 1e-9*s.PondingMM)
		v := rapid.Float64Range(0, b.SpillVolumeM3()).Draw(t, "volume")
		assert.InDelta(t, v, b.volumeM3(b.LevelMM(v)), 1e-12*b.SpillVolumeM3())

		// Water is conserved: the volume between two levels is the integral of
		// the area between them, taken here by the midpoint rule.
		const n = 2000
		sum := 0.0
		for i := range n {
			sum += b.AreaAtOrBelowM2(lo+(float64(i)+.5)/n*(hi-lo)) * (hi - lo) / n / 1000
		}
		assert.InDelta(t, sum, b.volumeM3(hi)-b.volumeM3(lo), 1e-6*b.SpillVolumeM3())

		// The table against the exact quadrature and the exact area.
		dv := math.Abs(b.exactVolumeM3(hi)-b.volumeM3(hi)) / b.SpillVolumeM3()
		da := math.Abs(b.exactAreaM2(lo)-b.AreaAtOrBelowM2(lo)) / bed
		assert.Less(t, dv, 1e-8)
		assert.Less(t, da, 1e-6)
		worstVolume, worstArea = math.Max(worstVolume, dv), math.Max(worstArea, da)

		sumBands, sumZones, below := 0.0, 0.0, -s.PondingMM
		for _, d := range b.Bands() {
			assert.GreaterOrEqual(t, d.AreaM2, -1e-10*bed)
			if d.Zone == Rim && below < 0 {
				below = 0 // upright sides
			}
			assert.Equal(t, below, d.FootMM, "each band stands on the one before")
			below = d.TopMM
			sumBands += d.AreaM2
		}
		for _, z := range b.Zones() {
			sumZones += z.AreaM2
		}
		assert.InEpsilon(t, bed, sumBands, 1e-12)
		assert.InEpsilon(t, bed, sumZones, 1e-12)
		assert.LessOrEqual(t, len(b.Bands()), 12)
	})
	t.Logf("largest error of the level table: volume %.1e of the pond, area %.1e of the bed", worstVolume, worstArea)
}

// The number of bands of each zone when a zone is missing.
func TestBandsAreReallocated(t *testing.T) {
	for _, c := range []struct {
		run, rim  float64
		slope, up int
	}{{3, .3, 9, 2}, {3, 0, 11, 0}, {0, .3, 0, 11}, {0, 0, 0, 0}} {
		b := mustNew(t, Spec{Outline{Kind: "oval", LengthM: 6, WidthM: 3}, 150, c.run, c.rim, 50})
		count := map[string]int{}
		for _, d := range b.Bands() {
			count[d.Zone]++
		}
		assert.Equal(t, [3]int{1, c.slope, c.up}, [3]int{count[Bottom], count[Slope], count[Rim]}, "%+v", c)
		assert.InDelta(t, 0, b.volumeM3(-150), 0)
		assert.Equal(t, b.SpillVolumeM3(), b.volumeM3(0))
	}
}

// The ground counted by height on a fine grid gives the same area by level as
// the inset.
func TestAreaByLevelAgainstHeights(t *testing.T) {
	b := mustNew(t, Spec{kidneyOutline(40), 150, 3, .3, 60})
	x0, y0, x1, y1 := b.Spec().Outline.Bounds()
	const n = 400
	levels := []float64{-151, -150, -100, -40, 0, 30, 60}
	counts := make([]int, len(levels))
	for i := range n {
		for j := range n {
			h, inside := b.HeightMM(x0+(float64(i)+.5)/n*(x1-x0), y0+(float64(j)+.5)/n*(y1-y0))
			for k, l := range levels {
				if inside && h <= l {
					counts[k]++
				}
			}
		}
	}
	for k, l := range levels {
		assert.InDelta(t, float64(counts[k])/n/n*(x1-x0)*(y1-y0), b.AreaAtOrBelowM2(l), 2e-3*b.Spec().Outline.AreaM2(), "level %g", l)
	}
}

func TestSidesThatMeet(t *testing.T) {
	s := Spec{Outline{Kind: "rectangle", LengthM: 6, WidthM: 1.2}, 150, 3, .3, 50}
	_, err := New(s)
	var meet *MeetError
	require.ErrorAs(t, err, &meet)
	// By hand: inradius 0.6; reach (0.6-0.3)/3 = 100 mm; run (0.6-0.3)/0.15 = 2;
	// rim 0.6-0.45 = 150 mm; growth 0.75/0.6 = 1.25.
	assert.EqualError(t, err, "the sides meet at a depth of 100 mm, before the ponding depth of 150 mm: want a depth less than 100 mm, or sides steeper than 2:1, or a rim narrower than 150 mm, or a bed more than 1.25 times as long and wide")
	assert.True(t, meet.BadInput())
	_, err = New(Spec{s.Outline, 150, 3, .7, 50})
	assert.ErrorContains(t, err, "the rim of 700 mm fills the whole bed")
}

// Each single change that the error names does work just past its limit, and
// does not just short of it.
func TestWaysOutOfMeeting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOutline(t)
		r := o.inradiusM()
		depth := rapid.Float64Range(50, 300).Draw(t, "depth")
		rim := r * rapid.Float64Range(0, .9).Draw(t, "rim")
		run := (r*rapid.Float64Range(1.01, 3).Draw(t, "over") - rim) / depth * 1000
		s := Spec{o, depth, run, rim, 50}
		_, err := New(s)
		var m *MeetError
		require.ErrorAs(t, err, &m)
		try := func(works bool, change func(*Spec)) {
			c := s
			change(&c)
			_, err := New(c)
			if works {
				assert.NoError(t, err)
			} else {
				assert.Error(t, err)
			}
		}
		for _, over := range []float64{.99, 1.01} {
			try(over < 1, func(c *Spec) { c.PondingMM = m.ReachMM * over })
			try(over < 1, func(c *Spec) { c.SideRun = m.MaxSideRun * over })
			if m.MaxRimM > 0.01*r {
				try(over < 1, func(c *Spec) { c.RimWidthM -= (rim - m.MaxRimM*over) })
			}
			try(over > 1, func(c *Spec) { c.Outline = o.Scaled(m.SizeFactor * over) })
		}
	})
}

func TestFaultsAreAllTold(t *testing.T) {
	_, err := New(Spec{Outline{Kind: "rectangle", LengthM: -1, WidthM: 2}, math.NaN(), -1, math.Inf(1), -5})
	assert.EqualError(t, err, "length: -1 m: want a length above 0\n"+
		"ponding depth: NaN mm: want a depth above 0\n"+
		"side slope: -1:1: want a run per rise of 0 or more\n"+
		"rim width: +Inf m: want a width of 0 or more\n"+
		"freeboard: -5 mm: want a height of 0 or more")
	var f table.Faults
	require.True(t, errors.As(err, &f))
	assert.True(t, f.BadInput())
}

func benchmarkBasin(b *testing.B, o Outline) *Basin {
	s, err := New(Spec{o, 150, 3, .3, 50})
	require.NoError(b, err)
	return s
}

func BenchmarkNewRectangle(b *testing.B) {
	for b.Loop() {
		benchmarkBasin(b, Outline{Kind: "rectangle", LengthM: 6, WidthM: 3})
	}
}

func BenchmarkNewOval(b *testing.B) {
	for b.Loop() {
		benchmarkBasin(b, Outline{Kind: "oval", LengthM: 6, WidthM: 3})
	}
}

func BenchmarkNewKidney200(b *testing.B) {
	o := kidneyOutline(200)
	for b.Loop() {
		benchmarkBasin(b, o)
	}
}

func BenchmarkLevel(b *testing.B) {
	s := benchmarkBasin(b, kidneyOutline(200))
	v, i := s.SpillVolumeM3(), 0
	for b.Loop() {
		i++
		s.LevelMM(v * float64(i%1009) / 1009)
	}
}

func BenchmarkVolume(b *testing.B) {
	s := benchmarkBasin(b, kidneyOutline(200))
	i := 0
	for b.Loop() {
		i++
		s.volumeM3(-150 * float64(i%1009) / 1009)
	}
}

func BenchmarkArea(b *testing.B) {
	s := benchmarkBasin(b, kidneyOutline(200))
	i := 0
	for b.Loop() {
		i++
		s.AreaAtOrBelowM2(-150 * float64(i%1009) / 1009)
	}
}

func BenchmarkInsetKidney200(b *testing.B) {
	p := newPolygon(kidneyOutline(200).Points)
	for b.Loop() {
		p.insetAreaM2(.5)
	}
}

func BenchmarkDistanceOval(b *testing.B) {
	o := NewOval(6, 3)
	for b.Loop() {
		o.distanceM(1.2, .7)
	}
}

// A rim without freeboard lies flat at the spill level: it is no part of the
// pond, and counts as ground at or below 0 only at 0. Prismatoid by hand.
func TestFlatRimIsNoPond(t *testing.T) {
	b := mustNew(t, Spec{Outline{Kind: "rectangle", LengthM: 6, WidthM: 3}, 150, 3, .3, 0})
	assert.InEpsilon(t, .15/6*(5.4*2.4+4*4.95*1.95+4.5*1.5), b.SpillVolumeM3(), 1e-12)
	assert.InDelta(t, 5.4*2.4, b.AreaAtOrBelowM2(-1e-6), 1e-6)
	assert.InDelta(t, 18, b.AreaAtOrBelowM2(0), 1e-12)
	assert.Len(t, b.levels.cells, 32)
}

// Bands of a rectangle by hand: nine equal heights on the slope, two equal
// widths on the rim, each the ground between two rectangles.
func TestBandsByHand(t *testing.T) {
	b := mustNew(t, Spec{Outline{Kind: "rectangle", LengthM: 6, WidthM: 3}, 180, 3, .3, 50})
	at := func(d float64) float64 { return (6 - 2*d) * (3 - 2*d) }
	bands := b.Bands()
	assert.Equal(t, Band{Bottom, -180, -180, bands[0].AreaM2}, bands[0])
	for i := 1; i <= 9; i++ {
		foot := -180 + 20*float64(i-1)
		assert.InDelta(t, foot, bands[i].FootMM, 1e-9)
		assert.InDelta(t, foot+20, bands[i].TopMM, 1e-9)
		d := .3 - foot/1000*3
		assert.InDelta(t, at(d-.06)-at(d), bands[i].AreaM2, 1e-9)
	}
	assert.InDelta(t, at(.15)-at(.3), bands[10].AreaM2, 1e-9)
	assert.InDelta(t, at(0)-at(.15), bands[11].AreaM2, 1e-9)
	assert.InDelta(t, 25, bands[10].TopMM, 1e-9)
	assert.Equal(t, Slope, b.ZoneAt(3, .839), "the foot of the slope is at 0.84")
	assert.Equal(t, Bottom, b.ZoneAt(3, .841))
}
