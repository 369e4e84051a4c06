package zones

import (
	"bytes"
	"errors"
	"os"
	"regexp"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// little is the shortest garden file that is whole.
const little = `hollowbed: 1
site:
  latitude: 41.5
  time_zone: America/Chicago
roof:
  area: 620 sq ft
soil:
  texture: loam
bed:
  shape: rectangle
  length: 18 ft
  width: 12 ft
  ponding_depth: 6 in
`

func read(text string) (*Garden, error) { return ReadGarden("garden.yaml", strings.NewReader(text)) }

func TestLittleGarden(t *testing.T) {
	g, err := read(little)
	require.NoError(t, err)
	assert.Equal(t, UnitsUS, g.Units)
	assert.InDelta(t, 57.5998848, g.Roof.AreaM2, 1e-9)
	assert.InDelta(t, 5.4864, g.Bed.LengthM, 1e-12)
	assert.InDelta(t, 152.4, g.Bed.PondingDepthMM, 1e-12)
	assert.Equal(t, 3.0, g.Bed.SideSlope)
	assert.Equal(t, "sandy loam", g.Mix.Texture)
	assert.Equal(t, "America/Chicago", g.Site.Location.String())
	assert.Equal(t, []string{
		"units: us", "roof.share: 100 %", "roof.coefficient: 0.95", "roof.initial_loss: 1 mm",
		"soil.safety_factor: 2", "mix.texture: sandy loam", "mix.depth: 12 in", "mix.organic_matter: 2.5 %",
		"bed.side_slope: 3:1", "bed.rim_width: 1 ft", "bed.freeboard: 2 in", "bed.kc: 1.0",
		"target.capture: 80 %", "target.drain_within: 24 h", "weather.file: rain.csv",
		"wishes.share_cap: 25 %", "wishes.smallest_group: 3", "wishes.yearly_risk_max: 15 %", "wishes.seed: 1",
		"layout.splash: 45 cm", "layout.overflow_free: 30 cm", "layout.overlap: 10 %", "layout.margin: 0 cm",
	}, g.Assumed)
	for name, v := range map[string]float64{
		"ground slope": g.Site.GroundSlope, "foundation": g.Site.FoundationDistanceM, "rate": g.Soil.RateMMH,
		"event": g.Target.EventMM, "sun": g.Sun.RimH, "budget": g.Wishes.Budget, "height": g.Wishes.HeightMaxCM.Slope,
	} {
		assert.True(t, v != v, "%s is left out and reads %v", name, v)
	}
}

// Both systems say the same thing.
func TestMetricGardenIsTheSame(t *testing.T) {
	metric := strings.NewReplacer("620 sq ft", "57.5998848 m2", "18 ft", "548.64 cm", "12 ft", "3.6576 m", "6 in", "152.4 mm").Replace(little)
	a, err := read(little)
	require.NoError(t, err)
	b, err := read("units: metric\n" + metric)
	require.NoError(t, err)
	assert.Equal(t, UnitsMetric, b.Units)
	assert.InDelta(t, a.Roof.AreaM2, b.Roof.AreaM2, 1e-9)
	assert.InDelta(t, a.Bed.LengthM, b.Bed.LengthM, 1e-9)
	assert.InDelta(t, a.Bed.WidthM, b.Bed.WidthM, 1e-9)
	assert.InDelta(t, a.Bed.PondingDepthMM, b.Bed.PondingDepthMM, 1e-9)
}

// Every fault a person can make with one line: the line given replaces the one
// with its key, or is put below the section named.
func TestFaultsOfOneLine(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"  length: 18 ft", "  length: 18", `garden.yaml:11:11: bed.length: "18": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"  length: 18 ft", "  length: 18 sq ft", `garden.yaml:11:11: bed.length: "18 sq ft": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"  length: 18 ft", "  length: -18 ft", `garden.yaml:11:11: bed.length: "-18 ft": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft), not below zero`},
		{"  length: 18 ft", "  length: .nan", `garden.yaml:11:11: bed.length: ".nan": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"  length: 18 ft", "  length: 4000 m", `garden.yaml:11:11: bed.length: "4000 m": too large: want at most 328 ft`},
		{"  length: 18 ft", "  length: 1 mm", `garden.yaml:11:11: bed.length: "1 mm": too small: want at least 19.5 in`},
		{"  length: 18 ft", "  length: 5,5 m", `garden.yaml:11:11: bed.length: "5,5 m": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft), without commas: a point for decimals, nothing between thousands`},
		{"  length: 18 ft", "  length:", `garden.yaml:11:10: bed.length: no value: want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft), or remove the line`},
		{"  length: 18 ft", "  length: [18 ft]", `garden.yaml:11:11: bed.length: want a single value here: want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"  length: 18 ft", "  lenght: 18 ft", "garden.yaml:9:1: bed.length: missing: want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)\n" +
			`garden.yaml:11:3: bed.lenght: not a key of a garden file; did you mean length?`},
		{"  length: 18 ft", "  length: 18 ft\n  length: 19 ft", `garden.yaml:12:3: bed.length: given twice: keep one of them; the first is on line 11`},
		{"  length: 18 ft", "  length: 18 ft\n  points: [[0 ft, 0 ft]]", `garden.yaml:12:11: bed.points: only a polygon has points: want length and width, or shape: polygon`},
		{"  length: 18 ft", "\tlength: 18 ft", `garden.yaml:11:1: begin the line with spaces: YAML does not take tabs there`},
		{"  length: 18 ft", "   length: 18 ft", `garden.yaml:10:10: want one key and one value on a line, each key as far in as its neighbours; put quotes around a text that holds a colon and a space`},
		{"  shape: rectangle", "  shape: rectangel", `garden.yaml:10:10: bed.shape: "rectangel": want one of: rectangle, oval, polygon; did you mean rectangle?`},
		{"  ponding_depth: 6 in", "  ponding_depth: 6 in\n  side_slope: 3", `garden.yaml:14:15: bed.side_slope: "3": want the slope of the sides, run to rise, such as 3:1`},
		{"  ponding_depth: 6 in", "  ponding_depth: 6 in\n  side_slope: 100:1", `garden.yaml:14:15: bed.side_slope: "100:1": want from 0.5:1 (steep) to 20:1 (gentle)`},
		{"  ponding_depth: 6 in", "  ponding_depth: 6 in\n  colour: blue", `garden.yaml:14:3: bed.colour: not a key of a garden file; want one of: freeboard, kc, length, points, ponding_depth, rim_width, shape, side_slope, width`},
		{"  latitude: 41.5", "  latitude: 41.5 N", `garden.yaml:3:13: site.latitude: "41.5 N": want degrees north of the equator, south below zero, from -90 to 90`},
		{"  latitude: 41.5", "  latitude: 141.5", `garden.yaml:3:13: site.latitude: "141.5": want degrees north of the equator, south below zero, from -90 to 90`},
		{"  latitude: 41.5", "  latitude: 0x29", `garden.yaml:3:13: site.latitude: "0x29": want degrees north of the equator, south below zero, from -90 to 90`},
		{"  time_zone: America/Chicago", "  time_zone: Middle/Earth", `garden.yaml:4:14: site.time_zone: "Middle/Earth": want a time zone by region and town, such as America/Chicago`},
		{"  time_zone: America/Chicago", "  time_zone: Local", `garden.yaml:4:14: site.time_zone: "Local": want a time zone by region and town, such as America/Chicago`},
		{"  time_zone: America/Chicago", "  time_zone: ../../etc/passwd", `garden.yaml:4:14: site.time_zone: "../../etc/passwd": want a time zone by region and town, such as America/Chicago`},
		{"  area: 620 sq ft", "  area: 620 sq ft\n  share: 50", `garden.yaml:7:10: roof.share: "50": want a share in percent, such as 5 % (accepted: %); did you mean 50 %?`},
		{"  area: 620 sq ft", "  area: 620 sq ft\n  share: 150 %", `garden.yaml:7:10: roof.share: "150 %": too large: want at most 100 %`},
		{"  area: 620 sq ft", "  area: 620 sq ft\n  also: [driveway]", `garden.yaml:7:10: roof.also[1]: "driveway": want a list of other ground that drains to the bed, each with surface and area`},
		{"  area: 620 sq ft", "  area: 620 sq ft\n  also:\n    - {surface: pavment, area: 5 m2}", `garden.yaml:8:17: roof.also[1].surface: "pavment": want one of: pavement, gravel, dirt, good lawn, fair lawn, poor lawn; did you mean pavement?`},
		{"  texture: loam", "  safety_factor: 3", `garden.yaml:7:1: soil: missing: want at least one of texture, rate, soak_test; a soak test on the spot is the best of them`},
		{"  texture: loam", "  texture: silt", `garden.yaml:8:12: soil.texture: "silt": no infiltration rate is published for silt: want a rate or a soak_test as well`},
		{"  texture: loam", "  rate: 0.5 in", `garden.yaml:8:9: soil.rate: "0.5 in": want a rate with its unit, such as 0.5 in/h or 12 mm/h (accepted: mm/h, cm/h, in/h)`},
		{"hollowbed: 1", "hollowbed: 2", `garden.yaml:1:12: hollowbed: "2": want the version of the file format from 1 to 1`},
		{"hollowbed: 1", "hollowbed: 1\nunits: imperial", `garden.yaml:2:8: units: "imperial": want one of: us, metric`},
		{"hollowbed: 1", "hollowbed: 1\nname: \"a\\u001b[31mb\"", `garden.yaml:2:7: name: "a\x1b[31mb": want plain text on one line, without control characters`},
		{"hollowbed: 1", "hollowbed: 1\nsun: 6", `garden.yaml:2:6: sun: "6": want a time with its unit, such as 24 h or 10 min (accepted: min, h, d); did you mean 6 h?`},
		{"hollowbed: 1", "hollowbed: 1\nsun: 25 h", `garden.yaml:2:6: sun: "25 h": too large: want at most 24 h`},
		{"hollowbed: 1", "hollowbed: 1\nsun: {bottom: 6 h, edge: 5 h}", `garden.yaml:2:20: sun.edge: not a key of a garden file; want one of: bottom, rim, slope`},
		{"hollowbed: 1", "hollowbed: 1\nmix: sandy", `garden.yaml:2:6: mix: "sandy": want keys with values below this, each on its own line and two spaces further in`},
		{"hollowbed: 1", "hollowbed: 1\nmix: {wilting_point: 8 %, field_capacity: 18 %}", `garden.yaml:2:1: mix.saturation: missing: want all three of wilting_point, field_capacity and saturation, or none; want a share in percent, such as 5 % (accepted: %)`},
		{"hollowbed: 1", "hollowbed: 1\nmix: {wilting_point: 28 %, field_capacity: 18 %, saturation: 45 %}", `garden.yaml:2:22: mix.wilting_point: "28 %": want less than field_capacity`},
		{"hollowbed: 1", "hollowbed: 1\nweather: {file: ../rain.csv}", `garden.yaml:2:17: weather.file: "../rain.csv": want the name of a file in the folder of the garden, such as rain.csv`},
		{"hollowbed: 1", "hollowbed: 1\nweather: {step: weekly}", `garden.yaml:2:17: weather.step: "weekly": want one of hourly, daily`},
		{"hollowbed: 1", "hollowbed: 1\nweather: {columns: {rainfall: precip}}", `garden.yaml:2:31: weather.columns.rainfall: "rainfall": want one of time, date, year, month, day, yday, rain, tmin, tmax, temp, et0`},
		{"hollowbed: 1", "hollowbed: 1\nweather: {et0_by_month: [1 mm/d]}", `garden.yaml:2:25: weather.et0_by_month: "1 values": want twelve values, January first, such as [0.4 mm/d, 0.7 mm/d, ...]`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {wanted: [a, b, a]}", `garden.yaml:2:25: wishes.wanted[3]: "a": given twice: keep one of them`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {wanted: [a], unwanted: [a]}", `garden.yaml:2:33: wishes.unwanted: "a": this plant is also wanted: remove it from one of the two lists`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {layers: {matrix: 70 %, seasonal: 40 %}}", `garden.yaml:2:10: wishes.layers: "110 % in all": expected shares that come to at most 100 %, such as {matrix: 50 %, structure: 10 %, seasonal: 25 %}`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {no_toxic_to: [dogs]}", `garden.yaml:2:24: wishes.no_toxic_to[1]: "dogs": want one of: people, pets, livestock, skin`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {no_runners: maybe}", `garden.yaml:2:22: wishes.no_runners: "maybe": want one of: yes, no, true, false`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {smallest_group: 2.5}", `garden.yaml:2:26: wishes.smallest_group: "2.5": want a number of plants, a whole number`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {bloom: {from: Maytember, to: 9}}", `garden.yaml:2:24: wishes.bloom.from: "Maytember": want a month, such as April or 4`},
		{"hollowbed: 1", "hollowbed: 1\nwishes: {bloom: {from: May}}", `garden.yaml:2:10: wishes.bloom: want both from and to, such as {from: April, to: October}`},
		{"hollowbed: 1", "hollowbed: 1\n<<: {name: x}", `garden.yaml:2:1: merge keys (<<) are not used in a garden file; write the keys out`},
		{"hollowbed: 1", "hollowbed: 1\nname: &x y", `garden.yaml:2:7: anchors (&) are not used in a garden file; write the value out where it is needed`},
		{"hollowbed: 1", "hollowbed: 1\nname: *x", `garden.yaml:2:7: aliases (*) are not used in a garden file; write the value out, or put quotes around a text that begins with a star`},
		{"hollowbed: 1", "hollowbed: 1\nname: !!str 5", `garden.yaml:2:7: tags (!) are not used in a garden file; write the value alone`},
		{"hollowbed: 1", "hollowbed: 1\nname: |\n  two\n  lines", `garden.yaml:2:7: want the text on one line, without | or >`},
		{"hollowbed: 1", "hollowbed: 1\nname: [", `garden.yaml:2:7: not readable as YAML: sequence end token ']' not found`},
		{"hollowbed: 1", "%YAML 1.2\n---\nhollowbed: 1", `garden.yaml:1:1: directives (%) are not used in a garden file; remove the line`},
	} {
		require.Equal(t, 1, strings.Count(little, c.old+"\n"), c.old)
		g, err := read(strings.Replace(little, c.old+"\n", c.new+"\n", 1))
		require.Error(t, err, c.new)
		assert.Equal(t, c.want, err.Error(), c.new)
		assert.Nil(t, g)
		var faults table.Faults
		require.ErrorAs(t, err, &faults)
		assert.True(t, faults.BadInput())
	}
}

func TestSoakTestFaults(t *testing.T) {
	soak := func(lines string) error {
		_, err := read(strings.Replace(little, "  texture: loam\n", "  soak_test:\n    hole_diameter: 8 in\n    hole_depth: 12 in\n"+lines, 1))
		return err
	}
	require.NoError(t, soak("    readings: [{at: 0 min, water: 10 in}, {at: 30 min, water: 9 in}, {at: 1 h, water: 8 in}]\n"))
	assert.EqualError(t, soak(""), "garden.yaml:8:3: soil.soak_test.readings: missing: want a list of readings, such as - {at: 10 min, water: 11 in}")
	assert.EqualError(t, soak("    readings:\n      - {at: 0 min, water: 14 in}\n      - {at: 10, water: 9 in}\n      - {at: 5 min, water: 8 in}\n      - {at: 5 min, water: 8 in}\n"),
		`garden.yaml:12:28: soil.soak_test.readings[1].water: "14 in": want the depth of water over the bottom of the hole, at most the depth of the hole`+"\n"+
			`garden.yaml:13:14: soil.soak_test.readings[2].at: "10": want a time with its unit, such as 24 h or 10 min (accepted: min, h, d)`+"\n"+
			`garden.yaml:15:14: soil.soak_test.readings[4].at: "5 min": want readings in order of time, each later than the one before`)
	assert.ErrorContains(t, soak("    readings: [{at: 0 min, water: 10 in}]\n"), "garden.yaml:9:5: soil.soak_test: ")
}

func TestPolygon(t *testing.T) {
	bed := func(points string) (*Garden, error) {
		return read(strings.NewReplacer("rectangle", "polygon", "  length: 18 ft\n", points, "  width: 12 ft\n", "").Replace(little))
	}
	g, err := bed("  points:\n    - [0 ft, 0 ft]\n    - [18 ft, -1 ft]\n    - [12 ft 6 in, 14 ft]\n")
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{0, 0, 5.4864, -0.3048, 3.81, 4.2672},
		[]float64{g.Bed.PointsM[0][0], g.Bed.PointsM[0][1], g.Bed.PointsM[1][0], g.Bed.PointsM[1][1], g.Bed.PointsM[2][0], g.Bed.PointsM[2][1]}, 1e-12)

	const want = "want the corners in order, each as - [12 ft, 3 ft 6 in]: how far along and how far across from one fixed spot"
	_, err = bed("  points: [[0 ft, 0 ft], [18 ft, 0]]\n  width: 3 ft\n")
	assert.EqualError(t, err, "garden.yaml:11:11: bed.points: want at least 3 corners\n"+
		`garden.yaml:11:34: bed.points[2]: "0": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`+"\n"+
		"garden.yaml:12:10: bed.width: a polygon has points instead; remove this line")
	_, err = bed("  points: [[0 ft, 0 ft], 18 ft, [1 ft]]\n")
	assert.EqualError(t, err, `garden.yaml:11:26: bed.points[2]: "18 ft": `+want+"\n"+"garden.yaml:11:33: bed.points[3]: "+want)
	_, err = bed("")
	assert.EqualError(t, err, "garden.yaml:9:1: bed.points: missing: "+want)
}

// All faults come at once, in the order of the file, and no more than 50 are
// written out.
func TestAllFaultsAtOnce(t *testing.T) {
	_, err := read("hollowbed: 1\nbed: {shape: oval, length: 18, width: 4}\nroof: {area: 5}\nsite: {}\n")
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	var names []string
	for _, f := range faults {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"soil", "bed.ponding_depth", "bed.length", "bed.width", "roof.area", "site.latitude", "site.time_zone"}, names)

	var many strings.Builder
	many.WriteString(little)
	for range 70 {
		many.WriteString("zz: 1\n")
	}
	_, err = read(many.String())
	require.Error(t, err)
	assert.Len(t, strings.Split(err.Error(), "\n"), 51)
	assert.True(t, strings.HasSuffix(err.Error(), "and 20 more"), err.Error())
}

// Files that are not garden files at all, and files made to hurt.
func TestWholeFileFaults(t *testing.T) {
	bomb := "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\n"
	for _, c := range []struct{ text, want string }{
		{"", "garden.yaml: empty: want a garden file; begin one with: hollowbed start"},
		{"# nothing yet\n", "garden.yaml: empty: want a garden file; begin one with: hollowbed start"},
		{"hello\n", `garden.yaml:1:1: want keys with values, such as units: us`},
		{"- a\n", `garden.yaml:1:1: want keys with values, such as units: us`},
		{"name: x\n", "garden.yaml:1:1: hollowbed: missing: want the version of the file format from 1 to 1"},
		{little + "---\n" + little, `garden.yaml:14:1: "---": want one document in the file; remove this line and what follows it`},
		{little + "...\nmore", `garden.yaml:15:1: not readable as YAML: unexpected end content`},
		{"a: \xff\xfe\n", "garden.yaml:1: want text in UTF-8; save the file again with that encoding"},
		{"a: 1\r\nb: \x80\r\n", "garden.yaml:2: want text in UTF-8; save the file again with that encoding"},
		{strings.Repeat("#", 1<<20+1), "garden.yaml: too large: want a garden file of at most 1 MB"},
		{strings.Repeat("[", 1<<20), "garden.yaml:1: nested too deeply for a garden file"},
		{strings.Repeat("{a: ", 100_000), "garden.yaml:1: nested too deeply for a garden file"},
		{strings.Repeat("- ", 500_000), "garden.yaml:1: nested too deeply for a garden file"},
		{strings.Repeat("? ", 500_000), "garden.yaml:1: nested too deeply for a garden file"},
		{deep(100), "garden.yaml:80: want keys further to the left: this is nested too deeply for a garden file"},
		{strings.Repeat("a: 1\n", 200_000), "garden.yaml:6667: too many keys and values for a garden file"},
	} {
		_, err := read(c.text)
		require.Error(t, err)
		assert.Equal(t, c.want, err.Error())
	}
	_, err := read(bomb)
	assert.ErrorContains(t, err, "garden.yaml:1:4: anchors (&) are not used in a garden file")
	_, err = ReadGarden("garden.yaml", brokenReader{})
	assert.ErrorIs(t, err, errBroken)
	assert.False(t, errors.As(err, new(table.Faults)), "a broken disk is not bad input")
}

func deep(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

var errBroken = errors.New("broken")

type brokenReader struct{}

func (brokenReader) Read([]byte) (int, error) { return 0, errBroken }

// Line ends of Windows and a byte order mark make no difference.
func TestLineEndsAndMark(t *testing.T) {
	a, err := read(little)
	require.NoError(t, err)
	b, err := read("\ufeff" + strings.ReplaceAll(little, "\n", "\r\n"))
	require.NoError(t, err)
	assert.Equal(t, a.Bed.LengthM, b.Bed.LengthM)
	assert.Equal(t, a.at, b.at)
}

func TestWishesAndSunRead(t *testing.T) {
	g, err := read(little + `sun: 6 h 30 min
wishes:
  height_max: 3 ft
  no_toxic_to: pets
  no_runners: yes
  wanted: [blue-sedge, 'tall aster']
  bloom: {from: sept, to: 2}
  weights: {native: 0.5}
  seed: 7
weather:
  columns: {rain: precip_in, date: day}
  rain_unit: 0.01 in
  missing: [-9999, M]
  clock: local
  where: {station: Q1}
  et0_by_month: [0.4 mm/d, 0.7 mm/d, 1.5 mm/d, 2.8 mm/d, 4 mm/d, 5 mm/d, 5.3 mm/d, 4.6 mm/d, 3.3 mm/d, 1.9 mm/d, 0.9 mm/d, 0.1 in/d]
roof2: 1
`)
	assert.Nil(t, g)
	require.EqualError(t, err, "garden.yaml:30:1: roof2: not a key of a garden file; did you mean roof?")
	g, err = read(little + "sun: 6 h 30 min\nwishes: {height_max: {rim: 3 ft}, no_toxic_to: pets, no_runners: yes, bloom: {from: sept, to: 2}, wanted: [x], seed: 7}\n" +
		"weather: {columns: {rain: precip_in}, missing: [-9999, M], clock: local, where: {station: Q1}}\n")
	require.NoError(t, err)
	assert.Equal(t, Sun{6.5, 6.5, 6.5}, g.Sun)
	assert.NoError(t, g.needSun())
	assert.InDelta(t, 91.44, g.Wishes.HeightMaxCM.Of("rim"), 1e-12)
	assert.True(t, g.Wishes.HeightMaxCM.Bottom != g.Wishes.HeightMaxCM.Bottom)
	assert.Equal(t, []string{"pets"}, g.Wishes.NoToxicTo)
	assert.True(t, g.Wishes.NoRunners)
	assert.Equal(t, [2]int{9, 2}, [2]int{g.Wishes.BloomFrom, g.Wishes.BloomTo})
	assert.Equal(t, int64(7), g.Wishes.Seed)
	assert.Equal(t, map[string]string{"rain": "precip_in"}, g.Weather.Columns)
	assert.Equal(t, []string{"-9999", "M"}, g.Weather.Missing)
	assert.Equal(t, map[string]string{"station": "Q1"}, g.Weather.Where)
	assert.Empty(t, g.Weather.Check())
}

func TestNeedSunSaysHowToCount(t *testing.T) {
	g, err := read(little + "sun: {bottom: 5 h}\n")
	require.NoError(t, err)
	err = g.needSun()
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "\n", "one line for all zones")
	assert.Regexp(t, `garden.yaml:\d+:\d+: sun: missing for slope, rim: want hours of direct sun a day in the growing season, such as sun: 6 h`, err.Error())
	assert.Contains(t, err.Error(), "and count")
}

func TestFaultFindsItsPlace(t *testing.T) {
	g, err := read(little)
	require.NoError(t, err)
	assert.EqualError(t, g.Fault("bed.ponding_depth", "6 in", "want at most 4 in"), `garden.yaml:13:18: bed.ponding_depth: "6 in": want at most 4 in`)
	assert.EqualError(t, g.Fault("mix.depth", "", "want more"), `garden.yaml: mix.depth: want more`)
}

// Whatever the bytes, reading gives a garden or faults that say where and
// what, and never both; a garden is read alike twice.
func FuzzReadGarden(f *testing.F) {
	demo, err := os.ReadFile("../data/garden.yaml")
	require.NoError(f, err)
	f.Add(demo)
	f.Add([]byte(little))
	f.Add([]byte("hollowbed: 1\nbed: {shape: polygon, points: [[0 ft, 1'], [2 m, 3/4 in]]}\n"))
	f.Add([]byte(around("{wall: [[0 ft, -6 ft], [2 m, 1 ft]], height: 9 ft}", "{tree: [4 m, 9 m], crown: 6 m, base: 2 m, top: 9 m, leaf: all year}")))
	f.Add([]byte("a: &x [*x]\n? b\n: <<\n--- |\n x\n"))
	f.Add([]byte("sun: \"\\x00\"\nname: '\t'\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		g, err := ReadGarden("garden.yaml", bytes.NewReader(text))
		if (g == nil) == (err == nil) {
			t.Fatalf("garden %v and error %v", g, err)
		}
		if err == nil {
			again, err := ReadGarden("garden.yaml", bytes.NewReader(text))
			require.NoError(t, err)
			assert.Equal(t, g.Assumed, again.Assumed)
			return
		}
		var faults table.Faults
		require.ErrorAs(t, err, &faults)
		require.NotEmpty(t, faults)
		lines := bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 1 // YAML ends lines with either
		for _, fault := range faults {
			if fault.Want == "" || fault.Line < 0 || fault.Line > lines+1 {
				t.Fatalf("fault %+v in a file of %d lines", fault, lines)
			}
			if s := fault.Error(); strings.ContainsAny(s, "\x1b\x00\n") {
				t.Fatalf("fault %q would disturb a terminal", s)
			}
		}
	})
}

// A bad number is one message, which does not speak of NaN: each number of the
// demo's garden file in turn is none, or far too large.
func TestBadNumberIsOneMessage(t *testing.T) {
	text, err := os.ReadFile("../data/garden.yaml")
	require.NoError(t, err)
	number := regexp.MustCompile(`(?m)(^ *|[{,] ?|- )([a-z_]+): (-?\d[^,}#\n]*)`)
	all := number.FindAllSubmatchIndex(text, -1)
	require.Greater(t, len(all), 40)
	for _, at := range all {
		for _, bad := range []string{"wide", "1e400"} {
			key, value := string(text[at[4]:at[5]]), string(text[at[6]:at[7]])
			line := text[bytes.LastIndexByte(text[:at[0]+1], '\n')+1 : at[6]]
			if bytes.ContainsRune(line, '#') || key == "name" || strings.Contains(value, "-") && bad == "wide" {
				continue
			}
			_, err := read(string(text[:at[6]]) + bad + " " + string(text[at[7]:]))
			if !assert.Error(t, err, "%s: %s for %s", key, bad, value) {
				continue
			}
			assert.NotContains(t, err.Error(), "\n", "%s: %s for %s", key, bad, value)
			assert.NotContains(t, err.Error(), "NaN", key)
		}
	}
}
