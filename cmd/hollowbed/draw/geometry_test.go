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

	"hollowbed/testdata/testenv"
	"hollowbed/zones/basin"
)

// checkPicture is what holds for every picture: well-formed, named for screen
// readers, nothing outside the page, no negative sizes, no text under 8 pt and
// no text over another.
func checkPicture(t *testing.T, name string, svg []byte) {
	t.Helper()
	all := read(t, svg)
	root := all[0]
	assert.Equal(t, "img", root.attr["role"], name)
	assert.Contains(t, []string{"180mm", "62mm"}, root.attr["width"], name) // a page, or the strip beside a plan
	ids := map[string]string{}
	for _, e := range all {
		if id := e.attr["id"]; id != "" {
			assert.NotContains(t, ids, id, name)
			ids[id] = e.name
		}
	}
	for i, id := range strings.Fields(root.attr["aria-labelledby"]) {
		assert.Equal(t, []string{"title", "desc"}[i], ids[id], name)
	}
	for _, m := range regexp.MustCompile(`url\(#([^)]*)\)`).FindAllStringSubmatch(string(svg), -1) {
		assert.Contains(t, ids, m[1], name)
	}
	view := numbers(t, root.attr["viewBox"])
	page := box{0, 0, view[2] / 10, view[3] / 10}
	assert.Equal(t, root.attr["width"], figure(page.x1, 2)+"mm", name)
	clipped := clippedOnes(all)
	var texts []box
	var words []string
	for _, e := range all {
		for _, size := range []string{"width", "height", "r", "font-size", "stroke-width"} {
			if e != root && e.attr[size] != "" {
				assert.GreaterOrEqual(t, e.mm(t, size), 0.0, "%s: %s of %v", name, size, e)
			}
		}
		if e.inside("defs") {
			continue
		}
		b, ok := e.box(t)
		if !ok {
			continue
		}
		if !clipped[e] {
			assert.True(t, page.grown(1e-6).holds(b), "%s: %s %v off the page: %v", name, e.name, e.attr, b)
		}
		if e.name != "text" {
			continue
		}
		// 8 pt of 1/72 in; the page is shown 180 mm wide.
		assert.GreaterOrEqual(t, e.mm(t, "font-size"), 8*25.4/72, "%s: %q", name, e.text)
		for i, o := range texts {
			assert.False(t, o.grown(-0.01).meets(b), "%s: %q on %q", name, e.text, words[i])
		}
		texts, words = append(texts, b), append(words, e.text)
	}
}

// clippedOnes are the elements in the group that is cut off at the frame.
func clippedOnes(all []*element) map[*element]bool {
	out := map[*element]bool{}
	depth := -1
	for _, e := range all {
		if e.attr["clip-path"] != "" {
			depth = len(e.in)
		} else if depth >= 0 && len(e.in) <= depth {
			depth = -1
		}
		out[e] = depth >= 0
	}
	return out
}

func TestPictures(t *testing.T) {
	for name, svg := range pictures(t) {
		checkPicture(t, name, svg)
	}
}

// All labels of the plans of usual size find room, and every species is named.
func TestEveryGroupIsNamed(t *testing.T) {
	for name, in := range plans(t) {
		svg := string(Plan(in).SVG())
		assert.NotContains(t, svg, "found no room", name)
		for i, n := range (&planDraw{in: in}).counts() {
			if n > 0 {
				assert.Regexp(t, `>`+in.Species[i].Key+`\d*</text>`, svg, name)
			}
		}
	}
}

// Circles measure their spread and stand in their places at the scale that the
// picture states, in both systems. The bed's own outline is the yardstick for
// places.
func TestPlanIsToScale(t *testing.T) {
	for _, u := range []Units{us(), metric()} {
		for _, spread := range []float64{0.25, 0.6, 1.3} {
			in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 7.3, WidthM: 3.9}, u, 5, 30, spread)
			for i := range in.Species {
				in.Species[i].Form = "forb" // the only circle of a plant of that form is its spread
			}
			svg := Plan(in).SVG()
			ratio := statedRatio(t, string(svg))
			edge := outlineOf(t, svg)
			onPaper := func(m float64) float64 { return m * 1000 / ratio }
			assert.InEpsilon(t, onPaper(7.3), edge.x1-edge.x0, 0.005)
			assert.InEpsilon(t, onPaper(3.9), edge.y1-edge.y0, 0.005)
			found := 0
			for _, p := range in.Plants {
				x, y, r := edge.x0+onPaper(p.At.X), edge.y1-onPaper(p.At.Y), onPaper(in.Species[p.Species].SpreadM/2)
				for _, e := range read(t, svg) {
					if e.name == "circle" && math.Hypot(e.mm(t, "cx")-x, e.mm(t, "cy")-y) < 0.02 && math.Abs(e.mm(t, "r")/r-1) < 0.005 {
						found++
						break
					}
				}
			}
			assert.Equal(t, len(in.Plants), found, "spread %g m, 1:%g", spread, ratio)
			assert.NotZero(t, found)
		}
	}
}

func statedRatio(t *testing.T, svg string) float64 {
	m := regexp.MustCompile(`1:(\d+)`).FindStringSubmatch(svg)
	require.NotNil(t, m)
	var r float64
	_, err := fmt.Sscan(m[1], &r)
	require.NoError(t, err)
	return r
}

// outlineOf is the box of the first path in the group of the bed.
func outlineOf(t *testing.T, svg []byte) box {
	all := read(t, svg)
	for i, e := range all {
		if e.name == "title" && e.text == "the bed" {
			return pathBox(t, all[i+1].attr["d"])
		}
	}
	require.Fail(t, "no bed")
	return box{}
}

// The bar is as long as it says.
func TestScaleBar(t *testing.T) {
	for _, isMetric := range []bool{true, false} {
		for _, sc := range scales(isMetric) {
			s := &svg{}
			s.scaleBar(10, 10, 62, sc, isMetric)
			all := read(t, []byte("<svg>"+s.body.String()+"</svg>"))
			last := all[len(all)-1].text
			var n, unit float64
			var name string
			_, err := fmt.Sscan(last, &n, &name)
			require.NoError(t, err)
			unit = map[string]float64{"m": 1, "ft": 0.3048}[name]
			bar := emptyBox()
			for _, e := range all {
				if e.name == "rect" {
					b, _ := e.box(t)
					bar = bar.with(b.x0, b.y0).with(b.x1, b.y1)
				}
			}
			assert.InEpsilon(t, n*unit*1000/sc.ratio, bar.x1-bar.x0, 0.001, "%s: %s", sc.words, last)
			assert.LessOrEqual(t, bar.x1-bar.x0, 62.0)
			assert.Greater(t, bar.x1-bar.x0, 20.0)
		}
	}
}

// Strings that break things elsewhere (Big List of Naughty Strings, see
// testdata/naughty-strings) as every name at once.
func TestNaughtyNames(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var list []string
	require.NoError(t, json.Unmarshal(data, &list))
	require.Greater(t, len(list), 400)
	list = append(testenv.Some(list), "\x00\x01\ufffe", "\xff\xfe", "]]><script>", strings.Repeat("W", 500))
	for _, s := range list {
		head := Sheet{Title: s, Note: s, Prefix: s}
		blooms := []Bloom{{s, 3, 5, []string{s, s}, 2}, {s, 0, 0, nil, 0}}
		checkHarmless(t, "bloom", s, BloomChart(BloomIn{Sheet: head, Blooms: blooms}).SVG())
	}
	const most = 8
	in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 3, WidthM: 2}, metric(), most, 12, 0.3)
	for len(list) > 0 {
		s := list[:min(most, len(list))]
		list = list[len(s):]
		for i := range in.Species {
			k := s[i%len(s)]
			in.Species[i].Name, in.Species[i].Key, in.Species[i].Form = k, k, k
		}
		for i := range in.Plants {
			in.Plants[i].Stake = s[i%len(s)]
		}
		at := func(i int) string { return s[i%len(s)] }
		in.Sheet = Sheet{Title: at(0), Note: at(1), Prefix: at(2)}
		in.Inlet.Name, in.Overflow.Name, in.A.Name, in.B.Name = at(3), at(4), at(5), at(6)
		in.KeepOuts[0].Name, in.Obstacles[0].Name, in.Obstacles[1].Name = at(7), at(0), at(1)
		sec := section(in)
		sec.Levels[0].Name, sec.Levels[1].Name, sec.Levels[2].Name = at(5), at(6), at(7)
		what := strings.Join(s, "|")
		checkHarmless(t, "plan", what, Plan(in).SVG())
		checkHarmless(t, "section", what, Section(sec).SVG())
	}
}

// checkHarmless is checkPicture, and nothing in it runs.
func checkHarmless(t *testing.T, name, what string, svg []byte) {
	t.Helper()
	checkPicture(t, fmt.Sprintf("%s of %q", name, what), svg)
	for _, e := range read(t, svg) {
		assert.Contains(t, []string{"svg", "title", "desc", "defs", "pattern", "clipPath", "g", "rect", "circle", "line", "path", "text"}, e.name)
		for a := range e.attr {
			assert.False(t, strings.HasPrefix(a, "on") || a == "href" || a == "style", "%s", a)
		}
	}
}
