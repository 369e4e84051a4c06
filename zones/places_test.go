package zones

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

// A bed that is made longer or shorter leaves its spill and inlet where they were: the
// checks say so.
func TestPlacesLeftBehind(t *testing.T) {
	check := func(length, layout string) (c basin.Check, ok bool) {
		text := strings.Replace(little, "length: 18 ft", "length: "+length, 1)
		require.Contains(t, text, "length: "+length)
		g, err := read(text + layout)
		require.NoError(t, err)
		lot, err := Prepare(g, nil)
		require.NoError(t, err)
		for _, c := range lot.Checks(Performance{}) {
			if c.Name == "place of inlet and spill" {
				return c, true
			}
		}
		return c, false
	}
	const given = "layout:\n  inlet: [0 ft, 6 ft]\n  overflow: [18 ft, 6 ft]\n"
	_, ok := check("18 ft", "")
	assert.False(t, ok, "places that follow the outline need no check")
	c, ok := check("18 ft", given)
	assert.True(t, ok && c.Known && c.OK, "%+v", c)
	c, _ = check("22 ft", given)
	assert.False(t, c.OK)
	assert.Equal(t, "spill inside the pond, on ground 6 in below the spill level", c.Found)
	c, _ = check("15 ft", given)
	assert.False(t, c.OK)
	assert.Equal(t, "spill 3 ft outside the bed", c.Found)
	c, _ = check("18 ft", strings.Replace(given, "[0 ft,", "[-4 ft,", 1))
	assert.Equal(t, "inlet 4 ft outside the bed", c.Found)
}
