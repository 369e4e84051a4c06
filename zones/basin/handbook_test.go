package basin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Source: Univ. of Wisconsin-Extension and Wisconsin DNR 2003 (GWQ037), factor
// by soil and depth. "second hand": read in second-hand copies (sandy also in
// sizing slides of the Univ. of Rhode Island). "from memory": not seen again.
func TestHandbookFactors(t *testing.T) {
	for _, c := range []struct {
		soil   string
		inches float64
		want   float64
		origin string
	}{
		{"sandy", 3, .19, "second hand"}, {"sandy", 4, .19, "second hand"}, {"sandy", 5, .19, "second hand"},
		{"sandy", 6, .15, "second hand"}, {"sandy", 7, .15, "second hand"}, {"sandy", 8, .08, "second hand"},
		{"loam", 4, .34, "from memory"}, {"loam", 6, .25, "second hand"}, {"loam", 7, .25, "second hand"}, {"loam", 8, .16, "from memory"},
		{"clay", 5, .43, "from memory"}, {"clay", 6, .32, "from memory"}, {"clay", 8, .20, "from memory"},
	} {
		area, factor, err := HandbookAreaM2(c.soil, c.inches*25.4, 100)
		require.NoError(t, err)
		assert.Equal(t, c.want, factor, "%+v", c)
		assert.InDelta(t, 100*c.want, area, 1e-9, "%+v", c)
	}
}

// Sizing slides of the Univ. of Rhode Island, sandy soils: beds in sq ft for
// 200 to 1,000 sq ft of drained ground, 4, 6 and 8 in deep.
func TestHandbookTableForSand(t *testing.T) {
	for depth, beds := range map[float64][5]float64{4: {38, 76, 114, 152, 190}, 6: {30, 60, 90, 120, 150}, 8: {16, 32, 48, 64, 80}} {
		for i, want := range beds {
			area, _, err := HandbookAreaM2("sandy", depth*inchMM, float64(i+1)*200*sqftM2)
			require.NoError(t, err)
			assert.InDelta(t, want, area/sqftM2, 1e-9)
		}
	}
}

// Illinois DNR worked example: roof of 50 by 15 ft on loam, 6 to 7 in deep:
// 187.5 sq ft.
func TestIllinoisExample(t *testing.T) {
	area, _, err := HandbookAreaM2("loam", 6*inchMM, 50*15*sqftM2)
	require.NoError(t, err)
	assert.InDelta(t, 187.5, area/sqftM2, 1e-9)
}

func TestHandbookTellsAllFaults(t *testing.T) {
	_, _, err := HandbookAreaM2("peat", 500, -1)
	assert.EqualError(t, err, "soil group: \"peat\": want sandy, loam or clay\n"+
		"area that drains to the bed: -1 m2: want 0 or more\n"+
		"ponding depth: 500 mm: the handbook covers 3 to 8 in (76 to 203 mm)")
	_, _, err = HandbookAreaM2("clay", math.NaN(), 10)
	assert.Error(t, err)
}
