package zones

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// around is the little garden with north told and a list of obstacles.
func around(entries ...string) string {
	return strings.Replace(little, "  time_zone", "  north: 20\n  time_zone", 1) + "obstacles:\n  - " + strings.Join(entries, "\n  - ") + "\n"
}

func TestObstaclesAreRead(t *testing.T) {
	g, err := read(around(
		"{wall: [[0 ft, -6 ft], [20 ft, -6 ft]], height: 9 ft}",
		"{fence: [[-2 m, 0 m], [-2 m, 9 m], [5 m, 9 m]], height: 180 cm, light: 30 %}",
		"{house: [[0 m, -9 m], [8 m, -9 m], [8 m, -3 m], [0 m, -3 m]], height: 5.5 m}",
		"{tree: [4 m, 9 m], crown: 6 m, base: 2 m, top: 9 m, leaf: {from: May, to: 11}, light_in_leaf: 5 %, light_bare: 60 %}",
		"{tree: [-4 m, 9 m], crown: 6 m, base: 0 m, top: 9 m, leaf: All  year, light_in_leaf: 5 %, light_bare: 60 %}",
		"tree: [1 m, 12 m]\n    crown: 3 m\n    base: 1 m\n    top: 4 m",
	))
	require.NoError(t, err)
	assert.Equal(t, 20.0, g.Site.NorthDeg)
	require.Len(t, g.Obstacles, 6)
	for _, o := range g.Obstacles {
		assert.NoError(t, o.Check())
	}
	assert.InDelta(t, -1.8288, g.Obstacles[0].PointsM[1][1], 1e-12)
	assert.InDelta(t, 2.7432, g.Obstacles[0].HeightM, 1e-12)
	assert.Equal(t, site.Obstacle{Kind: site.Fence, PointsM: [][2]float64{{-2, 0}, {-2, 9}, {5, 9}}, HeightM: 1.8, Light: 0.3}, g.Obstacles[1])
	assert.Equal(t, site.House, g.Obstacles[2].Kind)
	assert.Equal(t, site.Obstacle{Kind: site.Tree, PointsM: [][2]float64{{4, 9}}, CrownM: 6, BaseM: 2, HeightM: 9, LeafFrom: 5, LeafTo: 11,
		LightInLeaf: 0.05, LightBare: 0.6}, g.Obstacles[3])
	assert.Equal(t, [2]int{1, 12}, [2]int{g.Obstacles[4].LeafFrom, g.Obstacles[4].LeafTo})
	assert.Equal(t, [2]int{4, 10}, [2]int{g.Obstacles[5].LeafFrom, g.Obstacles[5].LeafTo})
	assert.InDelta(t, 0.1, g.Obstacles[5].LightInLeaf, 1e-12)
	assert.InDelta(t, 0.7, g.Obstacles[5].LightBare, 1e-12)
	assert.Subset(t, g.Assumed, []string{"obstacles[6].leaf: April to October", "obstacles[6].light_in_leaf: 10 %", "obstacles[6].light_bare: 70 %"})

	south, err := read(strings.Replace(around("{tree: [4 m, 9 m], crown: 6 m, base: 2 m, top: 9 m}"), "41.5", "-41.5", 1))
	require.NoError(t, err)
	assert.Equal(t, [2]int{10, 4}, [2]int{south.Obstacles[0].LeafFrom, south.Obstacles[0].LeafTo})
	assert.Contains(t, south.Assumed, "obstacles[1].leaf: October to April")

	open, err := read(strings.Replace(little, "  time_zone", "  open: yes\n  time_zone", 1))
	require.NoError(t, err)
	assert.True(t, open.Site.Open)
	assert.Empty(t, open.Obstacles)
}

// One wrong entry each; it stands on line 16.
func TestFaultsOfObstacles(t *testing.T) {
	const pair = ": how far along and how far across from the same spot as the outline of the bed"
	for _, c := range []struct{ entry, want string }{
		{"{wal: [[0 ft, 0 ft], [1 ft, 0 ft]], height: 3 ft}", `garden.yaml:16:6: obstacles[1].wal: not one of: wall, fence, house, tree; did you mean wall?`},
		{"{hedge: [[0 ft, 0 ft], [1 ft, 0 ft]], height: 3 ft}", `garden.yaml:16:5: obstacles[1]: want one of: wall, fence, house, tree, with where it stands`},
		{"wall", `garden.yaml:16:5: obstacles[1]: "wall": want a list of what shades the bed, such as - {wall: [[0 ft, -6 ft], [20 ft, -6 ft]], height: 9 ft}`},
		{"{wall: [[0 ft, 0 ft], [1 ft, 0 ft]]}", `garden.yaml:16:5: obstacles[1].height: missing: want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"{wall: [[0 ft, 0 ft], [1 ft, 0 ft]], height: 3}", `garden.yaml:16:50: obstacles[1].height: "3": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"{wall: [[0 ft, 0 ft], [1 ft, 0 ft]], height: 900 ft}", `garden.yaml:16:50: obstacles[1].height: "900 ft": too large: want at most 492 ft`},
		{"{wall: [[0 ft, 0 ft], [1 ft, 0 ft]], heigth: 3 ft}", `garden.yaml:16:5: obstacles[1].height: missing: want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)
garden.yaml:16:42: obstacles[1].heigth: not a key of a garden file; did you mean height?`},
		{"{wall: [[0 ft, 0 ft]], height: 3 ft}", `garden.yaml:16:12: obstacles[1].wall: want at least 2 corners`},
		{"{wall: [], height: 3 ft}", `garden.yaml:16:12: obstacles[1].wall: want its ends, and its corners if it turns, each as [12 ft, -3 ft 6 in]` + pair},
		{"{house: [[0 ft, 0 ft], [1 ft, 0 ft]], height: 3 ft}", `garden.yaml:16:13: obstacles[1].house: want at least 3 corners`},
		{"{wall: [[0 ft, 0 ft], [1 ft, 0]], height: 3 ft}", `garden.yaml:16:34: obstacles[1].wall[2]: "0": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"{wall: [[0 ft, 0 ft], [1 km, 0 ft]], height: 3 ft}", `garden.yaml:16:28: obstacles[1].wall[2]: "1 km": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"{wall: [[0 ft, 0 ft], [900 m, 0 ft]], height: 3 ft}", `garden.yaml:16:28: obstacles[1].wall[2]: "900 m": want from -1640 ft to 1640 ft`},
		{"{fence: [[0 ft, 0 ft], [1 ft, 0 ft]], height: 3 ft, light: 0.3}", `garden.yaml:16:64: obstacles[1].light: "0.3": want a share in percent, such as 5 % (accepted: %); did you mean 30 % or 0.3 %?`},
		{"{wall: [[0 ft, 0 ft], [1 ft, 0 ft]], height: 3 ft, light: 30 %}", `garden.yaml:16:63: obstacles[1].light: only a fence lets light through: remove this, or make it a fence`},
		{"{wall: [[0 ft, 0 ft], [1 ft, 0 ft]], tree: [0 ft, 0 ft]}", `garden.yaml:16:48: obstacles[1].tree: want one thing in each entry: this one has wall and tree`},
		{"{tree: 4 m, crown: 6 m, base: 2 m, top: 9 m, leaf: all year}", `garden.yaml:16:12: obstacles[1].tree: "4 m": want where its trunk is, such as [12 ft, -3 ft 6 in]` + pair},
		{"{tree: [4 m, 9 m], crown: 6 m, base: 9 m, top: 9 m}", `garden.yaml:16:42: obstacles[1].base: "29 ft 6 in": want the base of the crown below its top`},
		{"{tree: [4 m, 9 m], crown: 6 m, base: 2 m, top: 9 m, leaf: summer}", `garden.yaml:16:63: obstacles[1].leaf: "summer": want {from: April, to: October}, or all year`},
		{"{tree: [4 m, 9 m], crown: 6 m, base: 2 m, top: 9 m, leaf: {from: April}}", `garden.yaml:16:57: obstacles[1].leaf.to: missing: want {from: April, to: October}, or all year`},
		{"{tree: [4 m, 9 m], crown: 6 m, base: 2 m, top: 9 m, leaf: {from: April, to: Frost}}", `garden.yaml:16:81: obstacles[1].leaf.to: "Frost": want a month, such as April or 4`},
	} {
		g, err := read(around(c.entry))
		assert.Nil(t, g)
		assert.EqualError(t, err, c.want, c.entry)
	}
	_, err := read(little + "obstacles:\n")
	assert.ErrorContains(t, err, "garden.yaml:14:1")
	wall := "{wall: [[0 ft, -6 ft], [20 ft, -6 ft]], height: 9 ft}"
	_, err = read(strings.Replace(around(wall), "  north: 20\n", "", 1))
	assert.EqualError(t, err, "garden.yaml:15:3: site.north: missing: want degrees from the y axis of the outline (across the bed) "+
		"round to true north, clockwise, such as north: 20; obstacles need it")
	_, err = read(strings.Replace(around(wall), "  north: 20", "  north: 20\n  open: yes", 1))
	assert.EqualError(t, err, `garden.yaml:5:9: site.open: "yes": yes says that nothing shades the bed: want either this or obstacles`)
	_, err = read(strings.Replace(around(wall), "north: 20", "north: NE", 1))
	assert.EqualError(t, err, `garden.yaml:4:10: site.north: "NE": want degrees from the y axis of the outline round to true north, clockwise, from -360 to 360`)
	_, err = read(around(strings.Split(strings.Repeat(wall+"\n", 101), "\n")[:101]...))
	assert.EqualError(t, err, `garden.yaml:16:3: obstacles: "101 of them": want at most 100`)
}
