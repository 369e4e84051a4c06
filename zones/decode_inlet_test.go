package zones

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/inlet"
)

const littleInlet = `inlet:
  ground: [{at: 0 ft, level: 1 in}, {at: 8 ft, level: -2 in}, {at: 16 ft, level: -0.5 ft}]
  downspout: [2 in, 3 in]
`

func TestInletRead(t *testing.T) {
	g, err := read(little)
	require.NoError(t, err)
	assert.Equal(t, Inlet{}, g.Inlet, "a file without the section says nothing, and nothing is assumed")
	_, ok, err := g.compareInlets(20, 1)
	assert.False(t, ok)
	require.NoError(t, err)

	g, err = read(little + littleInlet)
	require.NoError(t, err)
	i := g.Inlet
	assert.True(t, i.Given)
	assert.Empty(t, i.Way)
	require.Len(t, i.Ground, 3)
	for n, want := range []float64{25.4, -50.8, -152.4} {
		assert.InDelta(t, want, i.Ground[n].LevelMM, 1e-9)
		assert.InDelta(t, float64(n)*8*0.3048, i.Ground[n].StationM, 1e-12)
	}
	assert.Equal(t, inlet.Downspout{WidthMM: 2 * 25.4, DepthMM: 3 * 25.4}, inlet.Downspout{WidthMM: math.Round(i.Downspout.WidthMM*1e6) / 1e6, DepthMM: math.Round(i.Downspout.DepthMM*1e6) / 1e6})
	assert.InDelta(t, 101.6, i.PipeMM, 1e-9)
	assert.Equal(t, "pvc", i.Material)
	assert.InDelta(t, 304.8, i.CoverMM, 1e-9)
	assert.InDelta(t, 0.6096, i.LinerWidthM, 1e-12)
	for _, v := range []float64{i.SpillMM, i.LeastPipeFall, i.DesignMMH} {
		assert.True(t, math.IsNaN(v))
	}
	for _, key := range []string{"inlet.pipe: 4 in", "inlet.material: pvc", "inlet.cover: 12 in", "inlet.liner_width: 2 ft"} {
		assert.Contains(t, g.Assumed, key)
	}
	g, err = read(little + "inlet: {way: swale, spill: -1 ft, downspout: 3 in, pipe: 100 mm, material: Clay, pipe_fall: 2 %, cover: 20 cm, liner_width: 1 m, design_rain: 100 mm/h,\n" +
		"  ground: [{at: 0 m, level: 0 mm}, {at: 5 m, level: -10 cm}]}\n")
	require.NoError(t, err)
	i = g.Inlet
	assert.Equal(t, [2]string{"swale", "clay"}, [2]string{i.Way, i.Material})
	assert.InDeltaSlice(t, []float64{-304.8, 76.2, 100, 0.02, 200, 1, 100}, []float64{i.SpillMM, i.Downspout.DiameterMM, i.PipeMM, i.LeastPipeFall, i.CoverMM, i.LinerWidthM, i.DesignMMH}, 1e-9)
}

// Levels over any spot come out over the spill level: with none given the rim
// (2 in up by default) meets the ground at the edge of the bed.
func TestInletInput(t *testing.T) {
	g, err := read(little + littleInlet)
	require.NoError(t, err)
	in := g.inletInput(33, 1.5)
	assert.InDelta(t, 50.8, in.Ground[2].LevelMM, 1e-9)
	assert.InDelta(t, 50.8+177.8, in.Ground[0].LevelMM, 1e-9)
	assert.InDelta(t, 57.5998848, in.RoofM2, 1e-9)
	assert.Equal(t, [3]float64{0.95, 33, 1.5}, [3]float64{in.Coefficient, in.RecordMMH, in.SoilFromBedM3})
	assert.InDelta(t, -152.4, in.BottomMM, 1e-9)
	assert.Equal(t, "sandy loam", in.BareSoil)
	g.Roof.Share = 0.5
	assert.InDelta(t, 57.5998848/2, g.inletInput(33, 1.5).RoofM2, 1e-9)
	g.Inlet.SpillMM = -300
	assert.InDelta(t, 300-152.4, g.inletInput(33, 1.5).Ground[2].LevelMM, 1e-9)
	plan, ok, err := g.compareInlets(33, 1.5)
	require.NoError(t, err)
	assert.True(t, ok)
	assert.Len(t, plan.Ways, 3)
	g.Inlet.PipeMM = 1
	_, _, err = g.compareInlets(33, 1.5)
	assert.EqualError(t, err, "garden.yaml:15:3: inlet: pipe diameter: 1: want from 25 to 600 mm")
}

// The demo garden's three ways all run, its pipe is in the code's table and still
// wants cover, and the swale that it takes is sound.
func TestDemoInlet(t *testing.T) {
	text, err := os.ReadFile("../data/garden.yaml")
	require.NoError(t, err)
	g, err := read(string(text))
	require.NoError(t, err)
	plan, ok, err := g.compareInlets(50, 2)
	require.NoError(t, err)
	require.True(t, ok)
	for _, w := range plan.Ways {
		assert.True(t, w.Possible, "%s: %+v", w.Kind, w.Troubles)
		assert.True(t, w.Capacity.DesignOK, w.Kind)
	}
	pipe, _ := plan.Way(inlet.Pipe)
	assert.True(t, pipe.Capacity.CodeListed)
	assert.Zero(t, pipe.OutletMM, "the pipe drains dry")
	assert.False(t, pipe.Sound)
	way, ok := plan.Way(g.Inlet.Way)
	require.True(t, ok)
	assert.True(t, way.Sound, "%+v", way.Troubles)
}

func TestInletFaults(t *testing.T) {
	const placed = "  ground: [{at: 0 ft, level: 1 in}, {at: 8 ft, level: -2 in}, {at: 16 ft, level: -0.5 ft}]"
	const spout = "  downspout: [2 in, 3 in]"
	const wantGround = "want the ground in order from the downspout to the edge of the bed, such as - {at: 0 ft, level: 6 in}, two places at least"
	const wantSpout = "want the inside of the downspout: width and depth as [2 in, 3 in], or the diameter of a round one"
	for _, c := range []struct{ old, new, want string }{
		{placed, "", "garden.yaml:14:1: inlet.ground: missing: " + wantGround},
		{placed, "  ground: 3 in", `garden.yaml:15:11: inlet.ground[1]: "3 in": ` + wantGround},
		{placed, "  ground: [{at: 0 ft, level: 1 in}]", `garden.yaml:15:11: inlet.ground: "1 places": ` + wantGround},
		{placed, "  ground: [{at: 1 ft, level: 1 in}, {at: 2 ft, level: 0 in}]", `garden.yaml:15:17: inlet.ground[1].at: "12 in": want the first place at the downspout: at: 0 ft`},
		{placed, "  ground: [{at: 0 ft, level: 1 in}, {at: 0 ft, level: 0 in}]", `garden.yaml:15:42: inlet.ground[2].at: "0 in": want the places in order, each further from the downspout than the one before`},
		{placed, "  ground: [{at: 0 ft, level: 1 in}, {at: 9 ft, level: 4}]", `garden.yaml:15:55: inlet.ground[2].level: "4": want a level with its unit, such as 6 in or -50 mm (accepted: mm, cm, m, in, ft)`},
		{placed, "  ground: [{at: 0 ft, level: 1 in}, {at: 9 ft, depth: 4 in, level: 0 in}]", `garden.yaml:15:48: inlet.ground[2].depth: not a key of a garden file; want one of: at, level`},
		{spout, "", "garden.yaml:14:1: inlet.downspout: missing: " + wantSpout},
		{spout, "  downspout: [2 in, 3 in, 4 in]", `garden.yaml:16:14: inlet.downspout: "3 figures": ` + wantSpout},
		{spout, "  downspout: 3", `garden.yaml:16:14: inlet.downspout: "3": want a depth with its unit, such as 6 in or 150 mm (accepted: mm, cm, m, in, ft)`},
		{spout, "  downspout: [2 in, 3 ft]", `garden.yaml:16:21: inlet.downspout: "3 ft": too large: want at most 16 in`},
		{spout, "  downspout:\n  cover: 12 in", `garden.yaml:16:13: inlet.downspout: ` + wantSpout},
		{spout, spout + "\n  way: canal", `garden.yaml:17:8: inlet.way: "canal": want one of: pipe, swale, surface`},
		{spout, spout + "\n  material: pcv", `garden.yaml:17:13: inlet.material: "pcv": want one of: pvc, smooth hdpe, corrugated hdpe, clay, cast iron, concrete; did you mean pvc?`},
		{spout, spout + "\n  pipe_fall: 8 %", `garden.yaml:17:14: inlet.pipe_fall: "8 %": too large: want at most 4 %`},
		{spout, spout + "\n  design_rain: 4 in", `garden.yaml:17:16: inlet.design_rain: "4 in": want a rate with its unit, such as 0.5 in/h or 12 mm/h (accepted: mm/h, cm/h, in/h)`},
		{spout, spout + "\n  spill: low", `garden.yaml:17:10: inlet.spill: "low": want a level with its unit, such as 6 in or -50 mm (accepted: mm, cm, m, in, ft)`},
		{spout, spout + "\n  colour: red", `garden.yaml:17:3: inlet.colour: not a key of a garden file; want one of: cover, design_rain, downspout, ground, liner_width, material, pipe, pipe_fall, spill, way`},
	} {
		require.Equal(t, 1, strings.Count(littleInlet, c.old+"\n"))
		lines := c.new
		if lines != "" {
			lines += "\n"
		}
		g, err := read(little + strings.Replace(littleInlet, c.old+"\n", lines, 1))
		require.Error(t, err, c.new)
		assert.Equal(t, c.want, err.Error(), c.new)
		assert.Nil(t, g)
	}
	_, err := read(little + "inlet:\n")
	assert.EqualError(t, err, "garden.yaml:14:1: inlet.ground: missing: "+wantGround+"\n"+"garden.yaml:14:1: inlet.downspout: missing: "+wantSpout)
}
