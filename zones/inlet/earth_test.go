package inlet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The cut of a trench and of a swale, and a berm, on ground where they can be
// written down: a pipe in level ground with full cover, by prisms.
func TestEarthByHand(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 500}, {10, 500}}
	in.RimWidthM, in.FreeboardMM = 0, 500
	in.BottomMM = -1
	pipe, swale, _ := ways(t, in)
	outM := in.PipeMM * 1.15 / 1000
	wall := in.PipeMM * 0.075
	mean := (500 - (pipe.StartMM+pipe.OutletMM)/2 + wall) / 1000 // ground to outside bottom, mid way
	width := outM + 8*0.0254
	assert.InEpsilon(t, 10*width*(mean+2*0.0254), pipe.Earth.CutM3, 1e-6)
	back := 10 * (width*mean - math.Pi*outM*outM/4)
	assert.InEpsilon(t, back, pipe.Earth.BackM3, 1e-6)
	assert.InEpsilon(t, 10*width*2*0.0254, pipe.Earth.GravelM3, 1e-6)

	// The swale's dug depth grows evenly from h to h + 10 fall: the prismoid rule
	// is exact for the trapezoid.
	h := swale.SwaleDepthMM / 1000
	deep := h + 10*swale.Fall
	area := func(y float64) float64 { return (8*0.0254 + 2*y) * y }
	assert.InEpsilon(t, 10.0/6*(area(h)+4*area((h+deep)/2)+area(deep)), swale.Earth.CutM3, 1e-6)
	assert.InDelta(t, 0, swale.Earth.MoundM3, 1e-9)

	assert.InDelta(t, 0.3*0.2+3*0.04, moundM2(0.3, 0.2), 1e-12)
	assert.Zero(t, moundM2(0.3, -1))
	e := earth{CutM3: 1, BackM3: 0.4, MoundM3: 2, BedM3: 0.5}.balanced()
	assert.InDelta(t, 2*1.15-1.1, e.ImportM3, 1e-12)
	assert.Zero(t, e.LeftM3)
}

// A low place: pipe and swale hang over it by what the straight line gives.
func TestLowPlace(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 197}, {2, -200}, {4.8768, 50.8}}
	in.SoilFromBedM3 = 0
	pipe, swale, surface := ways(t, in)
	hangs, ok := has(pipe, aboveGround)
	require.True(t, ok)
	assert.InDelta(t, 2, hangs.AtM, 1e-9)
	assert.InDelta(t, pipe.invertMM(2)+200, hangs.Found, 1e-9)
	short, ok := has(pipe, shortOfSoil)
	require.True(t, ok)
	assert.Equal(t, pipe.Earth.ImportM3, short.Change)
	hangs, ok = has(swale, aboveGround)
	require.True(t, ok)
	assert.InDelta(t, swale.invertMM(2)-2*inch+200, hangs.Found, 1e-9)
	assert.Positive(t, swale.Earth.MoundM3)
	_, ok = has(swale, shortOfSoil)
	assert.True(t, ok)
	assert.False(t, surface.Possible)
}

// The berm of a pipe that lies partly above the ground, against a sum of thin
// strips: the soil is what the berm measures less the pipe in it.
func TestBermLessThePipe(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 197}, {2, -60}, {4.8768, 50.8}}
	in.SoilFromBedM3 = 0
	pipe, _, _ := ways(t, in)
	j := job{Input: in.withUsual()}
	outM, topMM := in.PipeMM*1.15/1000, in.PipeMM*1.075
	width := outM + 8*0.0254
	const steps, strips = 1000, 200
	sum, inside := 0.0, 0.0
	for n := range steps {
		s := pipe.LengthM * (float64(n) + 0.5) / steps
		ground, top := in.groundMM(s)/1000, j.bermTopMM(pipe, topMM, s)/1000
		sum += width*(top-ground) + 3*(top-ground)*(top-ground)
		centre := (pipe.invertMM(s)+topMM)/1000 - outM/2
		for k := range strips {
			z := centre - outM/2 + outM*(float64(k)+0.5)/strips
			if z > ground && z < top {
				inside += 2 * math.Sqrt(outM*outM/4-(z-centre)*(z-centre)) * outM / strips
			}
		}
	}
	require.Greater(t, inside, 0.015*sum, "there is a good deal of pipe in this berm")
	assert.InEpsilon(t, (sum-inside)*pipe.LengthM/steps, pipe.Earth.MoundM3, 0.002)
}
