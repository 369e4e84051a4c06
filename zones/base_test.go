package zones

import (
	"errors"
	"math"
	"strings"
	"sync"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const baseGarden = `hollowbed: 1
name: Base
site: {latitude: 41.5, time_zone: America/Chicago}
roof: {area: 1000 sq ft, share: 50 %}
soil:
  texture: loam
  soak_test:
    hole_diameter: 8 in
    hole_depth: 12 in
    readings:
      - {at: 0 min, water: 10 in}
      - {at: 30 min, water: 8 in}
      - {at: 60 min, water: 6 1/4 in}
      - {at: 90 min, water: 5 in}
mix: {texture: loam, depth: 12 in, wilting_point: 10 %, field_capacity: 20 %, saturation: 45 %}
bed: {shape: oval, length: 20 ft, width: 14 ft, ponding_depth: 6 in}
sun: 6 h
wishes: {wanted: [first-madeup], share_cap: 25 %}
`

func baseOf(t testing.TB, text string) *Base {
	t.Helper()
	b, g, err := ReadBase("garden.yaml", strings.NewReader(text))
	require.NoError(t, err)
	require.NotNil(t, g)
	return b
}

// row makes the cells of a row from "key" and "text" in turn.
func row(pairs ...string) []Cell {
	var cells []Cell
	for i := 0; i < len(pairs); i += 2 {
		cells = append(cells, Cell{File: "table.csv", Line: 7, Col: 1 + 10*i/2, Key: pairs[i], Text: pairs[i+1]})
	}
	return cells
}

func TestBaseWith(t *testing.T) {
	b := baseOf(t, baseGarden)
	g, err := b.With(row("roof.area", "90 m2", "bed.length", "5 m", "site.latitude", "-33.5", "sun.bottom", "3 h",
		"wishes.wanted", "[a-one, a-two]", "wishes.bloom", `{"from": "May", "to": 9}`, "roof.share", "~", "weather.where.station", "Q1"))
	require.NoError(t, err)
	assert.Equal(t, 90.0, g.Roof.AreaM2)
	assert.Equal(t, 5.0, g.Bed.LengthM)
	assert.InDelta(t, 14*0.3048, g.Bed.WidthM, 1e-12, "as in the file")
	assert.Equal(t, -33.5, g.Site.LatitudeDeg)
	assert.Equal(t, 3.0, g.Sun.BottomH)
	assert.True(t, math.IsNaN(g.Sun.RimH), "sun: 6 h has made way for what is told by zone")
	assert.Equal(t, []string{"a-one", "a-two"}, g.Wishes.Wanted)
	assert.Equal(t, [2]int{5, 9}, [2]int{g.Wishes.BloomFrom, g.Wishes.BloomTo})
	assert.Equal(t, 1.0, g.Roof.Share, "left out, so the default")
	assert.Contains(t, g.Assumed, "roof.share: 100 %")
	assert.Equal(t, map[string]string{"station": "Q1"}, g.Weather.Where)

	again, err := b.With(nil)
	require.NoError(t, err)
	plain, err := read(baseGarden)
	require.NoError(t, err)
	assert.InDelta(t, 1000*0.3048*0.3048, again.Roof.AreaM2, 1e-9, "the base is as it was")
	assert.Equal(t, plain.Assumed, again.Assumed)
}

// A row and a file that says the same give the same garden.
func TestBaseIsTheFile(t *testing.T) {
	b := baseOf(t, baseGarden)
	rapid.Check(t, func(t *rapid.T) {
		area := rapid.IntRange(100, 5000).Draw(t, "area")
		depth := rapid.IntRange(6, 30).Draw(t, "depth")
		kc := rapid.SampledFrom([]string{"0.8", "1.0", "1.15"}).Draw(t, "kc")
		areaText, depthText := plain(float64(area))+" sq ft", plain(float64(depth))+" in"
		g, err := b.With(row("roof.area", areaText, "mix.depth", depthText, "bed.kc", kc))
		require.NoError(t, err)
		text := strings.NewReplacer("area: 1000 sq ft", "area: "+areaText, "depth: 12 in, wilting", "depth: "+depthText+", wilting",
			"ponding_depth: 6 in", "ponding_depth: 6 in, kc: "+kc).Replace(baseGarden)
		want, err := read(text)
		require.NoError(t, err)
		assert.Equal(t, want.Roof.AreaM2, g.Roof.AreaM2)
		assert.Equal(t, want.Mix.DepthMM, g.Mix.DepthMM)
		assert.Equal(t, want.Bed.Kc, g.Bed.Kc)
		assert.Equal(t, want.Assumed, g.Assumed)
	})
}

// What a row says counts, though the file says something that else counts
// before it.
func TestBaseSetsAside(t *testing.T) {
	b := baseOf(t, baseGarden)
	with := func(pairs ...string) *Garden {
		g, err := b.With(row(pairs...))
		require.NoError(t, err, pairs)
		return g
	}
	rate := func(g *Garden) float64 {
		n, err := nativeSoil(g.Soil)
		require.NoError(t, err)
		return n.RateMMH
	}
	assert.Equal(t, 7.0, rate(with("soil.rate", "14 mm/h")))
	assert.NotEqual(t, rate(with()), rate(with("soil.texture", "clay")))
	assert.Nil(t, with("soil.texture", "clay").Soil.SoakTest)
	assert.NotNil(t, with("soil.texture", "clay", "soil.soak_test.hole_diameter", "6 in").Soil.SoakTest, "the row speaks of it")
	assert.NotNil(t, with("soil.safety_factor", "3").Soil.SoakTest)
	assert.True(t, math.IsNaN(with("mix.texture", "sand").Mix.FieldCapacity))
	assert.Equal(t, "polygon", with("bed.shape", "polygon", "bed.points", "[[0 m, 0 m], [6 m, 0 m], [6 m, 4 m]]").Bed.Shape)
	assert.True(t, math.IsNaN(with("site.open", "yes").Sun.BottomH))
	assert.Equal(t, 6.0, with("site.open", "yes", "sun", "6 h").Sun.BottomH)

	polygon := baseOf(t, strings.Replace(baseGarden, "shape: oval, length: 20 ft, width: 14 ft", "shape: polygon, points: [[0 m, 0 m], [6 m, 0 m], [6 m, 4 m]]", 1))
	g, err := polygon.With(row("bed.shape", "rectangle", "bed.length", "5 m", "bed.width", "4 m"))
	require.NoError(t, err)
	assert.Equal(t, 5.0, g.Bed.LengthM)
}

// Faults stand at the cell that they come from, with the words of the garden
// file.
func TestBaseFaults(t *testing.T) {
	b := baseOf(t, baseGarden)
	for _, c := range []struct {
		cells []Cell
		want  string
	}{
		{row("roof.area", "620"), `^table.csv:7:1: roof.area: "620": want an area with its unit`},
		{row("bed.kc", "1", "roof.area", "1 sq m2"), `^table.csv:7:11: roof.area: "1 sq m2": `},
		{row("rof.area", "90 m2"), `^table.csv:7:1: rof: not a key of a garden file; did you mean roof\?`},
		{row("roof.coeficient", "1"), `^table.csv:7:1: roof.coeficient: not a key of a garden file; did you mean coefficient\?`},
		{row("wishes.wanted", "[a, a]"), `^table.csv:7:1: wishes.wanted\[2\]: "a": given twice`},
		{row("wishes.wanted", "[a, "), `^table.csv:7:1: wishes.wanted: .*YAML`},
		{row("wishes.wanted", "[a, *b]"), `^table.csv:7:1: wishes.wanted: .*aliases`},
		{row("wishes.wanted", strings.Repeat("[", 500)), `^table.csv:7:1: wishes.wanted: .*nested too deeply`},
		{row("roof.area", ""), `^table.csv:7:1: roof.area: no value`},
		{row("roof.area", "~"), `roof.area: missing: want an area`},
		{row("bed.shape", "polygon"), `bed.points`},
		{row("site", "41"), `^table.csv:7:1: site: "41": want keys with values below this`},
		{row("sun.bottom", "25 h"), `^table.csv:7:1: sun.bottom: "25 h": too large`},
	} {
		_, err := b.With(c.cells)
		require.Error(t, err, c.want)
		assert.Regexp(t, c.want, err.Error())
	}
	g, err := b.With(row("bed.length", "1 m"))
	require.NoError(t, err, "well formed")
	_, err = Prepare(g, nil)
	require.Error(t, err, "but no bed")
	assert.Regexp(t, `bed`, err.Error())

	faults := b.CheckKeys(row("roof.area", "", "rof.area", "", "", "", "weather.columns.rain", "", "soil.soak_test.hole_depth", "", "inlet.pipe", "",
		"bed.points", "", "bed.width", "", "wishes.weights.bloom", "", "wishes.weights.blom", "", "sun.rim", "", "height", ""))
	var got []string
	for _, f := range faults {
		got = append(got, f.Name)
		assert.Equal(t, "table.csv", f.File)
	}
	assert.Equal(t, []string{"rof", "", "wishes.weights.blom", "height"}, got)
}

// A misfit that only the bed shows is told at the cells of the bed.
func TestBaseMisfit(t *testing.T) {
	b := baseOf(t, baseGarden)
	g, err := b.With(row("bed.ponding_depth", "30 in"))
	require.NoError(t, err)
	_, err = Prepare(g, nil)
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	assert.Equal(t, [3]any{"table.csv", 7, 1}, [3]any{faults[0].File, faults[0].Line, faults[0].Column})
	_, err = g.bed()
	require.ErrorAs(t, err, &faults, "%v", err)
}

// Many rows at once from one base: the file's nodes are shared (run with the
// race detector).
func TestBaseAtOnce(t *testing.T) {
	b := baseOf(t, baseGarden)
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			for j := range 20 {
				area := plain(float64(100 + 20*i + j))
				g, err := b.With(row("roof.area", area+" m2", "wishes.wanted", "[x"+area+"]"))
				assert.NoError(t, err)
				assert.Equal(t, float64(100+20*i+j), g.Roof.AreaM2)
				assert.Equal(t, []string{"x" + area}, g.Wishes.Wanted)
			}
		})
	}
	wait.Wait()
}

// FuzzBaseWith: whatever stands in two cells, a garden comes of it or faults
// with a real place, at the cells or in the file.
func FuzzBaseWith(f *testing.F) {
	b := baseOf(f, baseGarden)
	lines := strings.Count(baseGarden, "\n")
	for _, seed := range [][4]string{
		{"roof.area", "90 m2", "bed.shape", "polygon"}, {"wishes", "{wanted: [a]}", "wishes.wanted", "~"}, {"soil.soak_test", "[1]", "soil.soak_test.readings", "[{at: 1 min}]"},
		{"sun.bottom", "3 h", "sun", "~"}, {"roof.also.x", "1", "obstacles", "[{tree: {height: 5 m}}]"}, {"hollowbed", "2", "", ""}, {"weather.columns.a", "b: c", "weather", "x"}, {"bed", "~", "site", "{latitude: 1"},
	} {
		f.Add(seed[0], seed[1], seed[2], seed[3])
	}
	f.Fuzz(func(t *testing.T, key, text, key2, text2 string) {
		g, err := b.With(row(key, text, key2, text2))
		if err == nil {
			require.NotNil(t, g)
			_, err = Prepare(g, nil)
		}
		again, wrong := b.With(nil)
		require.NoError(t, wrong, "the base stays as it is")
		require.Equal(t, 0.5, again.Roof.Share)
		var faults table.Faults
		errors.As(err, &faults)
		for _, f := range faults {
			switch f.File {
			case "table.csv":
				require.Equal(t, 7, f.Line, "%v", f)
			default:
				require.True(t, f.Line >= 0 && f.Line <= lines, "%v", f)
			}
		}
	})
}
