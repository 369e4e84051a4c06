package inlet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const (
	cfs    = 0.3048 * 0.3048 * 0.3048            // m3/s
	gpmM3H = 60 * 231 * 0.0254 * 0.0254 * 0.0254 // m3/h
	gpmM3S = gpmM3H / 3600
)

// Full bore, n 0.010, 1/8 in per foot: 3 in 52.6 gpm, 4 in 113.3 gpm
// (arithmetic of the US form with 1.486). A published exercise: 0.5 ft, 5 %,
// n 0.02: 0.82 cfs (engineeringprep.com, problem 472). An 8 in pipe, n 0.013,
// 0.5 %: 0.854 cfs and 2.448 ft/s (civiltoolbox.com, with 1.49 for 1.486 and
// the diameter as 0.667 ft).
func TestFullBore(t *testing.T) {
	assert.InDelta(t, 52.6, fullM3S(0.010, 3*0.0254, 1.0/96)/gpmM3S, 0.1)
	assert.InDelta(t, 113.3, fullM3S(0.010, 4*0.0254, 1.0/96)/gpmM3S, 0.15)
	assert.InDelta(t, 0.82, fullM3S(0.02, 0.5*footM, 0.05)/cfs, 0.005)
	assert.InEpsilon(t, 0.854, fullM3S(0.013, 8*0.0254, 0.005)/cfs, 0.004)
	assert.InEpsilon(t, 2.448*footM, velocityMS(0.013, 2*0.0254, 0.005), 0.004)
}

// Hydraulic elements of a circular section, n constant: ratios to the full pipe
// of area, hydraulic radius, velocity and flow. Chow 1959, Open-channel
// hydraulics, Appendix A and Fig. 6-5, from memory; half full is exact. The
// most flow 1.076 at 0.938, the most velocity 1.140 at 0.81.
func TestHydraulicElements(t *testing.T) {
	const d = 0.1
	full, _, _ := roundSection(d, d)
	fullQ := fullM3S(0.01, d, 0.01)
	for _, c := range []struct{ depth, area, radius, velocity, flow float64 }{
		{0.1, 0.0520, 0.254, 0.401, 0.0209},
		{0.2, 0.1424, 0.482, 0.615, 0.0876},
		{0.3, 0.2523, 0.684, 0.776, 0.1958},
		{0.5, 0.5, 1, 1, 0.5},
		{0.7, 0.7477, 1.185, 1.120, 0.8372},
		{0.8, 0.8576, 1.217, 1.140, 0.9775},
		{0.9, 0.9480, 1.192, 1.124, 1.0658},
		{1, 1, 1, 1, 1},
	} {
		area, perimeter, _ := roundSection(d, c.depth*d)
		assert.InDelta(t, c.area, area/full, 6e-4, "area at %g", c.depth)
		assert.InDelta(t, c.radius, area/perimeter/(d/4), 6e-4, "radius at %g", c.depth)
		q := partFullM3S(0.01, d, 0.01, c.depth*d)
		assert.InDelta(t, c.flow, q/fullQ, 6e-4, "flow at %g", c.depth)
		assert.InDelta(t, c.velocity, q/area/(fullQ/full), 6e-4, "velocity at %g", c.depth)
	}
	mostQ, atQ, mostV, atV := 0.0, 0.0, 0.0, 0.0
	for y := 0.001; y <= 1; y += 0.001 {
		q := partFullM3S(0.01, d, 0.01, y*d) / fullQ
		area, _, _ := roundSection(d, y*d)
		v := q / (area / full)
		if q > mostQ {
			mostQ, atQ = q, y
		}
		if v > mostV {
			mostV, atV = v, y
		}
	}
	assert.InDelta(t, 1.076, mostQ, 0.0005)
	assert.InDelta(t, 0.938, atQ, 0.0015)
	assert.InDelta(t, 1.140, mostV, 0.0005)
	assert.InDelta(t, 0.81, atV, 0.005)
}

// Normal depths printed elsewhere: a trapezoid 20 ft wide, 2:1, fall 0.0016,
// n 0.025, 400 cfs: 3.36 ft and 4.46 ft/s (Chow 1959, Example 6-2, from
// memory); a rectangle 4 ft wide, n 0.013, fall 0.00084, 18 cfs: 1.50 ft
// (Bengtson, The Manning equation for partially full pipe flow, read).
func TestNormalDepth(t *testing.T) {
	chow := trapezoid{20 * footM, 2}
	y := chow.depthM(0.025, 0.0016, 400*cfs)
	assert.InDelta(t, 3.36, y/footM, 0.005)
	assert.InDelta(t, 4.46, 400*cfs/chow.areaM2(y)/footM, 0.01)
	assert.InDelta(t, 1.50, trapezoid{4 * footM, 0}.depthM(0.013, 0.00084, 18*cfs)/footM, 0.005)
}

// A trapezoid 8 ft wide, 3:1, 1 ft deep, fall 0.01, n 0.035: 11 sq ft, 14.325
// ft, 39.161 cfs (civiltoolbox.com, with 1.49 for 1.486). A canal in rock, n
// 0.030, 6.10 m wide, 1:1, 5.66 m3/s at 0.76 m/s: fall 0.000675 (a textbook's
// answer, quoted at physicsforums.com).
func TestTrapezoidFlow(t *testing.T) {
	// The page's section has sides of 3:1 over 1 ft of depth.
	c := trapezoid{8 * footM, 3}
	assert.InDelta(t, 11, c.areaM2(footM)/sqftM2, 1e-9)
	assert.InDelta(t, 14.325, c.perimeterM(footM)/footM, 0.0005)
	assert.InEpsilon(t, 39.161, c.flowM3S(0.035, 0.01, footM)/cfs, 0.004)

	canal := trapezoid{6.10, 1}
	depth := halve(0, 5, func(y float64) bool { return canal.areaM2(y) >= 5.66/0.76 })
	slope := halve(0, 0.1, func(s float64) bool { return canal.flowM3S(0.030, s, depth) >= 5.66 })
	assert.InDelta(t, 0.000675, slope, 0.000003)
}

// Depth and flow undo one another, and flow rises with size, fall and depth
// and falls with roughness.
func TestManningProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(0.008, 0.06).Draw(t, "n")
		d := rapid.Float64Range(0.03, 0.5).Draw(t, "diameter")
		s := rapid.Float64Range(0.001, 0.2).Draw(t, "slope")
		share := rapid.Float64Range(0.01, 0.99).Draw(t, "share")
		full := fullM3S(n, d, s)
		y, ok := roundDepthM(n, d, s, share*full)
		if !ok || math.Abs(partFullM3S(n, d, s, y)-share*full) > 1e-9*full {
			t.Fatalf("depth %g of %g carries %g, wanted %g", y, d, partFullM3S(n, d, s, y), share*full)
		}
		if !(fullM3S(n, d*1.1, s) > full) || !(fullM3S(n, d, s*1.1) > full) || !(fullM3S(n*1.1, d, s) < full) {
			t.Fatal("a larger, steeper or smoother pipe carries no more")
		}
		c := trapezoid{rapid.Float64Range(0, 2).Draw(t, "bottom"), rapid.Float64Range(0.1, 10).Draw(t, "run")}
		q := rapid.Float64Range(1e-5, 1).Draw(t, "flow")
		deep := c.depthM(n, s, q)
		if math.Abs(c.flowM3S(n, s, deep)/q-1) > 1e-9 || !(c.depthM(n, s, 1.1*q) > deep) {
			t.Fatalf("depth %g carries %g, wanted %g", deep, c.flowM3S(n, s, deep), q)
		}
	})
	_, ok := roundDepthM(0.01, 0.1, 0.01, 2*fullM3S(0.01, 0.1, 0.01))
	assert.False(t, ok)
	assert.True(t, math.IsInf(trapezoid{1, 1}.depthM(0.01, 0, 1), 1))
	assert.Zero(t, velocityMS(0.01, 0.1, -0.1))
	assert.Zero(t, partFullM3S(0.01, 0.1, 0.01, 0))
}

// Under a head a long pipe comes to Manning with the head's gradient, and one
// of no length to the loss factors alone: V = sqrt(2 g h / K).
func TestHead(t *testing.T) {
	long := headM3S(0.01, 0.1, 1e6, 1e4)
	assert.InEpsilon(t, fullM3S(0.01, 0.1, 0.01), long, 1e-5)
	area := math.Pi * 0.01 / 4
	assert.InEpsilon(t, area*math.Sqrt(2*9.81*0.5/2.1), headM3S(0.01, 0.1, 0, 0.5), 1e-12)
	assert.Zero(t, headM3S(0.01, 0.1, 5, -0.1))
}

// Rational method, published: C 0.11, 1.25 in/h, 30 acres: 4.125 cfs
// (engineeringprep.com, problem 79); C 0.4, 2.87 in/h, 0.2 square mile: 146.944
// cfs (an exercise at homeworksource.com); both leave out the exact factor
// 1.008. 1 in on 1,000 sq ft is 623 gal (extension handbooks). 1 in/h on 1 sq ft
// is 0.0104 gpm (2015 National Standard Plumbing Code, Appendix A).
func TestRoof(t *testing.T) {
	const acre = 43560 * sqftM2
	assert.InEpsilon(t, 4.125*1.00833, roofM3H(30*acre, 0.11, 1.25*25.4)/3600/cfs, 1e-4)
	assert.InEpsilon(t, 146.944*1.00833, roofM3H(128*acre, 0.4, 2.87*25.4)/3600/cfs, 1e-4)
	assert.InDelta(t, 623, roofM3H(1000*sqftM2, 1, 25.4)/gpmM3H*60, 0.5)
	assert.InDelta(t, 0.0104, roofM3H(sqftM2, 1, 25.4)/gpmM3H, 0.00005)
	require.True(t, math.IsNaN(roofM3H(10, 1, math.NaN())))
}
