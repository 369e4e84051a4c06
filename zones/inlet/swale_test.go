package inlet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The demo's swale by hand: 24 in of liner over 8 in of bottom and 2:1 sides
// cover 16 / 2 / sqrt(5) = 3.578 in of depth; the gravel takes 2 of them.
func TestDemoSwale(t *testing.T) {
	_, swale, _ := ways(t, demo())
	require.True(t, swale.Possible)
	assert.InDelta(t, 3.578, swale.SwaleDepthMM/inch, 0.001)
	assert.InDelta(t, 7.76-1.578, swale.StartMM/inch, 0.001)
	assert.Zero(t, swale.OutletMM)
	assert.InDelta(t, 6.182/(17*12), swale.Fall, 1e-5)
	assert.InDelta(t, 7, swale.LinerLengthM/footM, 1e-9, "6 ft beyond a basement wall, and 1 ft turned up")
	in := demo()
	in.Foundation = "slab"
	_, swale, _ = ways(t, in)
	assert.InDelta(t, 3, swale.LinerLengthM/footM, 1e-9, "2 ft beyond a slab, and 1 ft turned up")
	in.Foundation = "none"
	_, swale, surface := ways(t, in)
	assert.Zero(t, swale.LinerLengthM)
	assert.Zero(t, surface.ExtensionM)
}

// Banks by hand: each a trapezoid 6 in wide on top with sides of 2:1 and 3:1.
func TestBanks(t *testing.T) {
	assert.Zero(t, bankM2(0.1, -0.1))
	assert.Zero(t, bankM2(0.1, -0.5))
	assert.InDelta(t, 2*(0.1524*0.04+0.04*0.04*2.5), bankM2(0.1, -0.06), 1e-12)
	base := 0.2032 + 2*(0.2+0.1524+0.3)
	assert.InDelta(t, 2*(0.1524*0.1+0.1*0.1*2.5)+base*0.2+3*0.04, bankM2(0.1, 0.2), 1e-12)
}

// International Residential Code R401.3: swales within 10 ft of a foundation
// fall 2 % at least (read). Where there is none, 1 %.
func TestLeastFallOfASwale(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 60}, {2.5, 60}}
	in.FoundationM = math.NaN()
	_, swale, _ := ways(t, in)
	assert.InDelta(t, 0.02, swale.Fall, 1e-12)
	backs, ok := has(swale, backsToWall)
	require.True(t, ok)
	assert.InDelta(t, 1000*(swale.LengthM-swale.BacksUpM), backs.Found, 1e-9)
	assert.InDelta(t, 0, swale.invertMM(backs.Found/1000), 1e-9, "there the gravel lies level with a full bed")
	in.FoundationM = 1.25
	_, swale, _ = ways(t, in)
	backs, ok = has(swale, backsToWall)
	require.True(t, ok)
	assert.InDelta(t, 500*(swale.LengthM-swale.BacksUpM), backs.Found, 1e-9, "the route leads away half as fast")
	in.Foundation = "none"
	_, swale, _ = ways(t, in)
	assert.InDelta(t, 0.01, swale.Fall, 1e-12)
	_, ok = has(swale, backsToWall)
	assert.False(t, ok)
}
