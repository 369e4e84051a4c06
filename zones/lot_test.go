package zones

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Ground that drains to the bed gets its curve number by the soil of the lot:
// sand and clay must not come out alike (TR-55, Table 2-2a: lawn in good
// condition 39 for group A, 80 for group D).
func TestSoilGroupOfOtherGround(t *testing.T) {
	number := func(soil, depth string) (float64, string) {
		text := strings.Replace(little, "  time_zone", depth+"  time_zone", 1)
		text = strings.Replace(text, "roof:", "roof:\n  also: [{surface: good lawn, area: 50 m2}]", 1)
		text = soilLine(t, text, soil)
		g, err := read(text)
		require.NoError(t, err, text)
		l, err := Prepare(g, nil)
		require.NoError(t, err)
		require.Len(t, l.SurfaceWhy, 1)
		return l.Catches[1].CurveNumber, l.SurfaceWhy[0]
	}
	sand, why := number("{texture: sand}", "")
	assert.Equal(t, 39.0, sand, "TR-55 Table 2-2a, open space good, group A")
	assert.Contains(t, why, "ground taken as deep")
	clay, _ := number("{texture: clay}", "")
	assert.Greater(t, clay, sand)
	shallow, why := number("{texture: sand}", "  groundwater_depth: 40 cm\n")
	assert.Equal(t, 80.0, shallow, "water within half a metre makes group D of any soil")
	assert.NotContains(t, why, "taken as deep")
	slow, _ := number("{rate: 0.5 mm/h, texture: sand}", "")
	assert.Greater(t, slow, sand, "a measured rate counts before the texture")
}

// soilLine puts another soil section into a garden file.
func soilLine(t *testing.T, text, soil string) string {
	t.Helper()
	var out []string
	skip := false
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "soil:") {
			out = append(out, "soil: "+soil)
			skip = true
			continue
		}
		if skip && strings.HasPrefix(line, " ") {
			continue
		}
		skip = false
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// Silt has no published infiltration rate, but with a measured one it is a
// soil like any other.
func TestSiltWithARate(t *testing.T) {
	g, err := read(soilLine(t, little, "{rate: 8 mm/h, texture: silt}"))
	require.NoError(t, err)
	l, err := Prepare(g, nil)
	require.NoError(t, err)
	assert.Equal(t, 4.0, l.Native.RateMMH)
}
