package draw

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/inlet"
)

// handRoute is a pipe with figures to check by hand.
func handRoute() RouteIn {
	return RouteIn{
		Sheet: Sheet{Units: metric()}, Kind: "pipe", Foundation: "basement", MeasuredM: []float64{0, 2, 4}, ReachM: 1.8,
		Stations: []RouteStation{
			{0, 400, 200, 310, 150, 400}, {2, 250, 120, 230, 70, 480}, {4, 50, 20, 130, -30, 180}, {4.5, 0, 0, 110, -50, 110},
		},
		BedEdgeM: 4, OutletM: 4.5, RimMM: 50, RimWidthM: 0.5, SideRun: 3, BottomMM: -200,
		Fall: 0.0444, CoverMM: 250, LeastCoverMM: 90, LeastCoverAtM: 0, DaylightM: 3.2,
	}
}

// drawn gives the corners of the first path or line in the group of a name.
func drawnIn(t *testing.T, svg []byte, group string) [][2]float64 {
	all := read(t, svg)
	for i, e := range all {
		if e.name != "title" || e.text != group {
			continue
		}
		next := all[i+1]
		if next.name == "line" {
			return [][2]float64{{next.mm(t, "x1"), next.mm(t, "y1")}, {next.mm(t, "x2"), next.mm(t, "y2")}}
		}
		var out [][2]float64
		for _, cmd := range split(next.attr["d"]) {
			if n := numbers(t, cmd[1:]); cmd[0] == 'M' || cmd[0] == 'L' {
				out = append(out, [2]float64{n[0] / 10, n[1] / 10})
			}
		}
		return out
	}
	require.Fail(t, "no group", group)
	return nil
}

// stated are scale and stretch as the picture says them.
func stated(t *testing.T, svg []byte) (ratio, stretch float64) {
	ratio, stretch = statedRatio(t, string(svg)), 1
	if m := regexp.MustCompile(`stretched ([0-9.]+) times`).FindStringSubmatch(string(svg)); m != nil {
		_, err := fmt.Sscan(m[1], &stretch)
		require.NoError(t, err)
	}
	return ratio, stretch
}

// Ground, pipe, trench, berm and bed lie where their stations and levels say,
// at the scale and the stretch that the picture states, counted from its own
// spill line and downspout.
func TestRouteIsToScale(t *testing.T) {
	for _, u := range []Units{us(), metric()} {
		in := handRoute()
		in.Units = u
		svg := Route(in).SVG()
		ratio, stretch := stated(t, svg)
		y0 := drawnIn(t, svg, "spill level")[0][1]
		x0 := drawnIn(t, svg, "old ground")[0][0]
		want := func(group string, at ...[2]float64) {
			t.Helper()
			got := drawnIn(t, svg, group)
			require.Len(t, got, len(at), group)
			for i, p := range at {
				assert.InDelta(t, x0+p[0]*1000/ratio, got[i][0], 0.01, "%s %v", group, p)
				assert.InDelta(t, y0-p[1]/ratio*stretch, got[i][1], 0.01, "%s %v", group, p)
			}
		}
		want("old ground", [2]float64{0, 400}, [2]float64{2, 250}, [2]float64{4, 50})
		want("pipe, from its invert to its crown", [2]float64{0, 310}, [2]float64{2, 230}, [2]float64{4, 130}, [2]float64{4.5, 110},
			[2]float64{4.5, 0}, [2]float64{4, 20}, [2]float64{2, 120}, [2]float64{0, 200})
		want("berm over the pipe", [2]float64{0, 400}, [2]float64{2, 480}, [2]float64{4, 180}, [2]float64{4.5, 110},
			[2]float64{4.5, 0}, [2]float64{4, 50}, [2]float64{2, 250}, [2]float64{0, 400})
		// The side of 3:1 goes 200 mm down over 0.6 m.
		want("rim and side of the bed beside the way", [2]float64{4, 50}, [2]float64{4, 50}, [2]float64{4.5, 0}, [2]float64{5.1, -200}, [2]float64{5.1 * 1.08, -200})
		want("bed", [2]float64{4.5, 0}, [2]float64{5.1, -200}, [2]float64{5.1 * 1.08, -200})
	}
}

// column gives the words of the table above and below one that is only there.
func column(t *testing.T, svg []byte, anchor string) []string {
	var x string
	all := read(t, svg)
	for _, e := range all {
		if e.name == "text" && e.text == anchor && e.attr["text-anchor"] == "middle" && e.attr["font-weight"] != "" {
			x = e.attr["x"]
		}
	}
	require.NotEmpty(t, x, anchor)
	var out []string
	for _, e := range all {
		if e.name == "text" && e.inside("g") && e.attr["x"] == x {
			out = append(out, e.text)
		}
	}
	return out
}

// Stations to set out by stand in the table with their levels: half way from
// 2 m to 4 m they are half way between.
func TestRouteTable(t *testing.T) {
	in := handRoute()
	in.DaylightM = 3
	svg := Route(in).SVG()
	assert.Equal(t, []string{"downspout", "0", "400 mm", "400 mm", "310 mm", "200 mm", "150 mm", "90 mm"}, column(t, svg, "0"))
	assert.Equal(t, []string{"2 m", "250 mm", "480 mm", "230 mm", "120 mm", "70 mm", "250 mm"}, column(t, svg, "2 m"))
	assert.Equal(t, []string{"daylight", "3 m", "150 mm", "330 mm", "180 mm", "70 mm", "20 mm", "150 mm"}, column(t, svg, "3 m"))
	assert.Equal(t, []string{"bed edge", "4 m", "50 mm", "180 mm", "130 mm", "20 mm", "-30 mm", "50 mm"}, column(t, svg, "4 m"))
	assert.Equal(t, []string{"outlet", "4.5 m", "-", "110 mm", "110 mm", "0", "-50 mm", "0"}, column(t, svg, "4.5 m"))
	assert.NotContains(t, string(svg), "left out")
	for i := range 30 {
		in.MeasuredM = append(in.MeasuredM, 0.13*float64(i))
	}
	assert.Regexp(t, `>\d+ stations more are left out for want of room.<`, string(Route(in).SVG()))
	for _, must := range []string{"0", "3 m", "4 m", "4.5 m"} {
		column(t, Route(in).SVG(), must)
	}
}

// said is all that a picture says in words, line after line.
func said(t *testing.T, svg []byte) string {
	var out []string
	for _, e := range read(t, svg) {
		if e.name == "text" {
			out = append(out, e.text)
		}
	}
	return strings.Join(out, " ")
}

// Everything is named in words, in the picture and for screen readers.
func TestRouteNames(t *testing.T) {
	words := map[string][]string{
		"route-pipe":          {"buried pipe, falls ", "least cover ", "wanted 12 in", "comes to daylight from here on", "outlet", "rim, 2 in above spill", "House on a slab", "berm"},
		"route-swale":         {"lined swale, falls ", "liner at least to here", "gravel on a liner", "shoulders"},
		"route-surface":       {"ground, falls 3 % on the whole", "extension at least to here", "water arrives, 2 in above spill"},
		"route-steep-pipe":    {"House with a basement"},
		"route-flat-pipe":     {"House over a crawl space", "water arrives, 56 mm below spill"},
		"route-flat-swale":    {"House, foundation not known"},
		"route-long-pipe":     {"No building to keep dry", "berm"},
		"route-dip-swale":     {"fill under the swale"},
		"route-short-surface": {"ground, falls "},
	}
	for name, in := range routes(t) {
		svg := said(t, Route(in).SVG())
		for _, w := range append(words[name], "bed edge", "downspout", "spill level", "bottom of the bed, ", "soil as found", "Levels are from the spill level") {
			assert.Contains(t, svg, w, name)
		}
		assert.NotContains(t, svg, "NaN", name)
		assert.NotContains(t, svg, "No room", name)
		for _, w := range []string{"bed edge", "downspout"} { // once in the picture, once in the table
			assert.GreaterOrEqual(t, strings.Count(svg, w), 2, "%s: %s", name, w)
		}
		delete(words, name)
	}
	assert.Empty(t, words)
	desc := ""
	for _, e := range read(t, Route(handRoute()).SVG()) {
		if e.name == "desc" {
			desc = e.text
		}
	}
	for _, w := range []string{"a buried pipe", "At 4.5 m (outlet): finished top 110 mm", "Fall 4.4 %", "least cover 90 mm, wanted 250 mm", "200 mm below spill", "House with a basement", "stretched"} {
		assert.Contains(t, desc, w)
	}
}

// What is not there is not drawn, nor named.
func TestRouteWithout(t *testing.T) {
	in := handRoute()
	in.DaylightM, in.LeastCoverMM, in.Fall = math.NaN(), math.NaN(), math.NaN()
	for i := range in.Stations {
		in.Stations[i].CrownMM, in.Stations[i].TopMM = math.NaN(), math.NaN()
	}
	svg := string(Route(in).SVG())
	checkPicture(t, "without", []byte(svg))
	for _, w := range []string{"daylight", "least cover", "falls", "NaN", "berm<"} {
		assert.NotContains(t, svg, w)
	}
	in = handRoute()
	in.Stations[2].DugMM, in.Stations[1].InvertMM = math.NaN(), math.NaN()
	checkPicture(t, "gaps", Route(in).SVG())
	swale := string(Route(routes(t)["route-swale"]).SVG())
	for _, w := range []string{"pipe", "cover", "daylight"} {
		assert.NotContains(t, swale, w)
	}
	plain := handRoute()
	plain.Stations, plain.Kind = []RouteStation{{0, 9000, math.NaN(), math.NaN(), math.NaN(), math.NaN()}, {4, 0, math.NaN(), math.NaN(), math.NaN(), math.NaN()}}, "surface"
	svg = string(Route(plain).SVG())
	checkPicture(t, "plain", []byte(svg))
	assert.Contains(t, svg, "Heights as lengths, not stretched.")
}

// Odd figures still give a whole picture; what was never worked out is our
// mistake.
func TestRouteOddFigures(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e6}
	for _, v := range odd {
		in := handRoute()
		in.Fall, in.CoverMM, in.LeastCoverMM, in.LeastCoverAtM, in.DaylightM, in.ReachM = v, v, v, v, v, v
		in.MeasuredM = odd
		checkPicture(t, fmt.Sprint(v), Route(in).SVG())
		for _, kind := range []string{"swale", "surface"} {
			in.Kind = kind
			checkPicture(t, fmt.Sprint(kind, v), Route(in).SVG())
		}
	}
	in := handRoute()
	in.RimWidthM, in.SideRun, in.RimMM = 0, 0, 0
	checkPicture(t, "upright", Route(in).SVG())
	for _, spoil := range []func(*RouteIn){
		func(in *RouteIn) { in.Stations = in.Stations[:1] },
		func(in *RouteIn) { in.Stations[1].AtM = 0 },
		func(in *RouteIn) { in.Stations[1].GroundMM = math.NaN() },
		func(in *RouteIn) { in.BottomMM = math.NaN() },
		func(in *RouteIn) { in.OutletM = math.Inf(1) },
		func(in *RouteIn) { in.BedEdgeM = 0 },
	} {
		in := handRoute()
		spoil(&in)
		assert.Panics(t, func() { Route(in) })
	}
}

// Any ground that package inlet takes gives a whole picture of each way that
// can be.
func TestRouteOfAnyGround(t *testing.T) {
	drawn := 0
	rapid.Check(t, func(r *rapid.T) {
		in := wayInput()
		in.Ground = []inlet.GroundPoint{{StationM: 0, LevelMM: rapid.Float64Range(50, 3000).Draw(r, "wall")}}
		at := 0.0
		for range rapid.IntRange(1, 8).Draw(r, "points") {
			at += rapid.Float64Range(0.05, 20).Draw(r, "step")
			in.Ground = append(in.Ground, inlet.GroundPoint{StationM: at, LevelMM: rapid.Float64Range(-300, 1500).Draw(r, "level")})
		}
		in.Foundation = rapid.SampledFrom([]string{"slab", "crawl space", "basement", "none", ""}).Draw(r, "foundation")
		in.FoundationM = at
		in.BottomMM = -rapid.Float64Range(20, 900).Draw(r, "deep")
		plan, err := inlet.Compare(in)
		require.NoError(t, err)
		for _, w := range plan.Ways {
			if w.Possible {
				for _, u := range []Units{us(), metric()} {
					checkPicture(t, w.Kind, Route(wayOf(t, in, w.Kind, u)).SVG())
					drawn++
				}
			}
		}
	})
	assert.NotZero(t, drawn)
}

// Soil that is moved is told from soil as found, gravel, wall and water by its
// pattern alone.
func TestRoutePatternsDiffer(t *testing.T) {
	seen := map[string]string{}
	for _, w := range []wash{routeWash("refill"), routeWash("berm"), otherWash("earth"), otherWash("stones"), otherWash("wall"), otherWash("water"), otherWash("mix")} {
		s := &svg{prefix: "p"}
		s.define(w)
		marks := strings.Join(regexp.MustCompile(` (d|cx)="[^"]*"`).FindAllString(s.defs.String(), -1), "")
		assert.NotEmpty(t, marks)
		assert.Empty(t, seen[marks], w.name)
		seen[marks] = w.name
		assert.GreaterOrEqual(t, contrast(t, w.tone, w.mark), 1.25, w.name)
	}
	lines := map[string]bool{}
	for _, look := range []string{oldLook(), rimLook(), levelLook(0), stroke(ink, 0.9)} {
		lines[regexp.MustCompile(`#[0-9a-f]{6}`).ReplaceAllString(look, "")] = true
	}
	assert.Len(t, lines, 4)
}

// Naughty strings as names do no harm; see TestNaughtyNames.
func TestRouteNaughtyNames(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var list []string
	require.NoError(t, json.Unmarshal(data, &list))
	require.Greater(t, len(list), 400)
	for _, s := range append(testenv.Some(list), "\x00\x01\ufffe", "]]><script>", strings.Repeat("W", 500)) {
		in := handRoute()
		in.Sheet = Sheet{Title: s, Note: s, Prefix: s, Units: Units{Depth: func(float64) string { return s }, Length: func(float64) string { return s }}}
		in.Foundation, in.Kind = s, s
		checkHarmless(t, "route", s, Route(in).SVG())
	}
}

// Ids begin with the prefix.
func TestRoutePrefix(t *testing.T) {
	in := handRoute()
	in.Prefix = "way-in"
	for _, e := range read(t, Route(in).SVG()) {
		if id := e.attr["id"]; id != "" {
			assert.True(t, strings.HasPrefix(id, "way-in-"), id)
		}
	}
}

func BenchmarkRoute(b *testing.B) {
	in := routes(b)["route-long-pipe"]
	for b.Loop() {
		Route(in)
	}
}
