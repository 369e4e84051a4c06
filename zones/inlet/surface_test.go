package inlet

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A route along the wall needs liner for longer: the bed's edge is 8 ft from
// the wall and 16 ft along the route, so 6 ft are reached after 12.
func TestReachOfASlantingRoute(t *testing.T) {
	in := demo()
	in.FoundationM = 8 * footM
	_, _, surface := ways(t, in)
	assert.InDelta(t, 12, surface.ExtensionM/footM, 1e-9)
	in.FoundationM = 4 * footM
	p, err := Compare(in)
	require.NoError(t, err)
	assert.InDelta(t, 16, p.Ways[2].ExtensionM/footM, 1e-9)
	assert.Contains(t, strings.Join(p.Cautions, "\n"), "Move the bed")
}

func TestSurface(t *testing.T) {
	_, _, surface := ways(t, demo())
	require.True(t, surface.Possible)
	assert.InDelta(t, 6, surface.ExtensionM/footM, 1e-9)
	assert.Equal(t, 2*inch, surface.OutletMM)
	in := demo()
	in.Ground = []GroundPoint{{0, 200}, {3, 60}, {4, 80}, {4.8, 50}}
	_, _, surface = ways(t, in)
	assert.False(t, surface.Possible)
	rises, ok := has(surface, groundRises)
	require.True(t, ok)
	assert.Equal(t, 3.0, rises.AtM)
	assert.InDelta(t, -0.02, rises.Found, 1e-12)
	assert.True(t, math.IsNaN(surface.CapacityM3H), "a way refused carries nothing that could be used by mistake")

	in.Ground = []GroundPoint{{0, 200}, {4.8, -30}}
	_, _, surface = ways(t, in)
	low, ok := has(surface, edgeLow)
	require.True(t, ok)
	assert.Equal(t, 30.0, low.Change)

	in.Ground = []GroundPoint{{0, 60}, {4.8, 55}}
	_, _, surface = ways(t, in)
	assert.True(t, surface.Possible)
	_, flat := has(surface, flatLawn)
	assert.True(t, flat)
}

// Steep ground: gravel and lawn have their limits.
func TestFastWater(t *testing.T) {
	in := demo()
	in.Ground[0].LevelMM = 3000
	in.RoofM2, in.Downspout, in.LinerWidthM = 250, Downspout{DiameterMM: 200}, 1
	_, swale, surface := ways(t, in)
	fast, ok := has(swale, fastSwale)
	require.True(t, ok)
	assert.Greater(t, fast.Found, 4.0*footM)
	fast, ok = has(surface, fastLawn)
	require.True(t, ok)
	assert.InDelta(t, 2.5*footM, fast.Want, 1e-12)
	_, swale, surface = ways(t, demo())
	_, ok = has(swale, fastSwale)
	assert.False(t, ok)
	_, ok = has(surface, fastLawn)
	assert.False(t, ok)
}

// The demo's extension by hand: 6 in of elbow and 3 % over 6 ft; 2 x 3 in full
// by Manning with n 0.012. Ground that rises in front of the wall refuses it.
func TestExtension(t *testing.T) {
	_, _, surface := ways(t, demo())
	fall := (6 + 0.03*72) / 72
	want := 3600 * 6 * 0.0254 * 0.0254 * math.Pow(0.6*0.0254, 2.0/3) * math.Sqrt(fall) / 0.012
	assert.InEpsilon(t, want, surface.Capacity.ManningM3H, 1e-9)
	in := demo()
	in.Ground = []GroundPoint{{0, 100}, {6 * footM, 260}, {16 * footM, 60}}
	_, _, surface = ways(t, in)
	rises, ok := has(surface, groundRises)
	require.True(t, ok)
	assert.InDelta(t, 6*footM, rises.AtM, 1e-9)
	assert.InDelta(t, (100+6*inch-260)/1000/(6*footM), rises.Found, 1e-12)
}
