package report

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/testdata/testenv"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// demoIn gathers what the page of the demo garden is made from.
func demoIn(t *testing.T) PageIn {
	t.Helper()
	read := func(name string) *bytes.Reader {
		text, err := os.ReadFile(filepath.Join("../../../data", name))
		require.NoError(t, err)
		return bytes.NewReader(text)
	}
	g, err := zones.ReadGarden("garden.yaml", read("garden.yaml"))
	require.NoError(t, err)
	rec, err := site.ReadRecord("rain.csv", read("rain.csv"), g.Weather.Format, g.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := zones.Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	table, err := catalogue.Read("plants.csv", read("plants.csv"))
	require.NoError(t, err)
	judge := plants.NewJudge(e)
	planting, err := plants.Choose(judge, table)
	require.NoError(t, err)
	placed, err := plants.Place(judge, planting, table, plants.Grown{})
	require.NoError(t, err)
	performance, err := e.Perform()
	require.NoError(t, err)
	head := NewGarden(g, true)
	head.Inputs = []FileDigest{{"garden.yaml", strings.Repeat("0f", 32)}}
	return PageIn{
		Garden: head, Lot: lot, Performance: performance, Exposure: e, Catalogue: "plants.csv", Planting: planting, Placed: placed,
		Version: "v1",
	}
}

func written(t *testing.T, in PageIn) string {
	t.Helper()
	p, err := NewPage(in)
	require.NoError(t, err)
	return writtenPage(t, p)
}

func writtenPage(t *testing.T, p Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, p.HTML(&b))
	return b.String()
}

// The page needs nothing but itself: no address in it leads anywhere but to a
// place in the page, and nothing in it runs.
func TestPageStandsAlone(t *testing.T) {
	text := written(t, demoIn(t))
	assert.Contains(t, text, `content="default-src 'none'; style-src 'unsafe-inline'"`)
	assert.False(t, regexp.MustCompile(`url\([^#]|@import|@font-face`).MatchString(text))
	ids := map[string]bool{}
	root := parsed(t, text)
	root.walk(func(n *node) {
		if id := n.attrs["id"]; id != "" {
			assert.False(t, ids[id], "id %s stands twice", id)
			ids[id] = true
		}
	})
	root.walk(func(n *node) {
		assert.Contains(t, pageElements(), n.name)
		for name, value := range n.attrs {
			assert.False(t, strings.HasPrefix(name, "on"), "%s on a %s", name, n.name)
			assert.NotContains(t, []string{"src", "srcset", "action", "data", "style", "ping", "background"}, name)
			if name == "href" {
				assert.True(t, strings.HasPrefix(value, "#") && ids[value[1:]], "href %q leads nowhere in the page", value)
			}
			if name == "aria-labelledby" {
				for _, id := range strings.Fields(value) {
					assert.True(t, ids[id], "aria-labelledby %q: no such id", id)
				}
			}
			if name != "xmlns" {
				assert.NotContains(t, value, "://")
			}
		}
	})
}

// pageElements are all that a page is built from.
func pageElements() []string {
	return strings.Fields(`html head meta title style body a header p h1 h2 h3 strong code nav ol ul li main section dl div dt dd span
		sup table caption thead tbody tr th td i b figure figcaption footer
		svg desc defs clipPath pattern path rect circle line g text tspan polygon polyline ellipse use`)
}

// One h1, no level of heading left out, every table with a caption and heads
// that say what they head, every drawing with a name.
func TestPageStructure(t *testing.T) {
	text := written(t, demoIn(t))
	root := parsed(t, text)
	assert.Equal(t, "en", root.find("html")[0].attrs["lang"])
	assert.Len(t, root.find("h1"), 1)
	assert.Equal(t, "The corner lot, Quillmere", root.find("h1")[0].words())
	level := 1
	root.walk(func(n *node) {
		if len(n.name) == 2 && n.name[0] == 'h' && n.name[1] >= '1' && n.name[1] <= '6' {
			next := int(n.name[1] - '0')
			assert.LessOrEqual(t, next, level+1, "%s after h%d", n.words(), level)
			level = next
		}
	})
	tables := root.find("table")
	assert.Len(t, tables, 6) // checks, zones, three lists, stakes
	for _, table := range tables {
		assert.Len(t, table.find("caption"), 1)
		for _, th := range table.find("th") {
			assert.Contains(t, []string{"col", "row", "rowgroup"}, th.attrs["scope"])
		}
	}
	for _, f := range root.find("figure") {
		assert.Len(t, f.find("figcaption"), 1)
		drawing := f.find("svg")[0]
		assert.Equal(t, "img", drawing.attrs["role"])
		assert.NotEmpty(t, drawing.find("title")[0].words())
	}
	assert.Len(t, root.find("figure"), 6)
	assert.Contains(t, text, "This garden is invented:")
}

// Every table, drawing and figure of a list leads to how it is known, and every
// line of how we know is led to.
func TestPageHowWeKnow(t *testing.T) {
	in := withSeason(t, demoIn(t))
	p, err := NewPage(in)
	require.NoError(t, err)
	root := parsed(t, writtenPage(t, p))
	digit := regexp.MustCompile(`\d`)
	leads := func(n *node) bool {
		for _, a := range n.find("a") {
			if strings.HasPrefix(a.attrs["href"], "#know-") {
				return true
			}
		}
		return false
	}
	for _, table := range root.find("table") {
		heads := table.find("thead")[0].find("th")
		caption := table.find("caption")[0]
		if leads(caption) {
			continue
		}
		for _, column := range numberColumns(table, digit) {
			assert.True(t, leads(heads[column]) || heads[column].words() == "Years past limit", "%q, column %q", caption.words(), heads[column].words())
		}
	}
	for _, f := range root.find("figcaption") {
		assert.True(t, leads(f), f.words())
	}
	for _, d := range root.find("dl") {
		if d.attrs["class"] == "digests" {
			continue // its heading leads there
		}
		for _, row := range d.find("div") {
			assert.True(t, leads(row.find("dt")[0]), row.words())
		}
	}
	var lines []string
	for _, li := range root.find("ol")[2].find("li") {
		lines = append(lines, li.find("b")[0].words())
		assert.NotEmpty(t, li.find("span")[0].words(), "%s has no source", li.words())
	}
	var all []string
	for _, k := range p.know() {
		all = append(all, k.What)
	}
	slices.Sort(all)
	slices.Sort(lines)
	assert.Equal(t, all, lines)
}

// numberColumns are the columns of a table that hold figures.
func numberColumns(table *node, digit *regexp.Regexp) []int {
	var out []int
	for _, row := range table.find("tr")[1:] {
		cells := slices.DeleteFunc(slices.Clone(row.children), func(n *node) bool { return n.name == "" })
		if len(cells) != len(table.find("thead")[0].find("th")) {
			continue // a group, or a line under one
		}
		for i, c := range cells {
			if c.name == "td" && digit.MatchString(c.words()) && !slices.Contains(out, i) {
				out = append(out, i)
			}
		}
	}
	return out
}

// Whatever a garden or a plant table calls things, the page keeps its shape and
// shows every name as it stands.
func TestPageEscapes(t *testing.T) {
	text, err := os.ReadFile("../../../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var naughty []string
	require.NoError(t, json.Unmarshal(text, &naughty))
	require.Greater(t, len(naughty), 400)
	naughty = testenv.Some(naughty)
	in := demoIn(t)
	const each = 15 // names on one page
	tame := writtenPage(t, renamed(t, in, slices.Repeat([]string{"x"}, each)))
	shape := outside(parsed(t, tame))
	for names := range slices.Chunk(naughty, each) {
		for len(names) < each {
			names = append(names, "x")
		}
		page := writtenPage(t, renamed(t, in, names))
		root := parsed(t, page)
		require.Equal(t, shape, outside(root), "%q", names)
		all := root.text()
		for _, s := range names {
			require.Contains(t, all, doc.Shown(s))
			if strings.ContainsAny(s, "<>&") && !strings.Contains(tame, s) {
				require.NotContains(t, page, s)
			}
		}
	}
	bare := in
	bare.Exposure, bare.Planting, bare.Placed = nil, nil, nil // the garden's name, one at a time, where no drawing takes its while
	for _, s := range naughty {
		bare.Garden.Name = s
		root := parsed(t, written(t, bare))
		require.Equal(t, doc.Shown(s), root.find("h1")[0].text())
		require.Equal(t, doc.Shown(s)+": rain garden report", root.find("title")[0].text())
	}
}

// renamed gives everything on a page that a person named other names.
func renamed(t *testing.T, in PageIn, names []string) Page {
	t.Helper()
	in.Garden.Name, in.Catalogue, in.Version = names[0], names[1], names[2]
	in.Garden.Assume = names
	in.Garden.Inputs = nil
	for _, s := range names {
		in.Garden.Inputs = append(in.Garden.Inputs, FileDigest{s, "0"})
	}
	placed, planting := *in.Placed, *in.Planting
	placed.Planting = &planting
	placed.Plants, placed.Lines, planting.Lines = slices.Clone(placed.Plants), slices.Clone(placed.Lines), slices.Clone(planting.Lines)
	require.GreaterOrEqual(t, len(planting.Lines), len(names))
	for i := range placed.Plants {
		placed.Plants[i].VernacularName, placed.Lines[i].Name = names[i%len(names)], names[i%len(names)]
	}
	for i := range planting.Lines {
		planting.Lines[i].Plant.VernacularName, planting.Lines[i].Plant.ScientificName = names[i%len(names)], "S"+names[i%len(names)]
	}
	planting.Notes = names
	in.Placed, in.Planting = &placed, &planting
	exposure := *in.Exposure
	exposure.Record.Notes = names
	in.Exposure = &exposure
	p, err := NewPage(in)
	require.NoError(t, err)
	p.Record.Source = names[3]
	return p
}

// outside lists the elements of a page that are not within a drawing.
func outside(root *node) []string {
	var out []string
	var visit func(n *node)
	visit = func(n *node) {
		if n.name == "svg" && n.attrs["class"] != "bar" {
			return
		}
		if n.name != "" {
			out = append(out, n.name)
		}
		for _, c := range n.children {
			visit(c)
		}
	}
	visit(root)
	return out
}

// Where there is nothing to show the page says so, and shows no empty picture.
func TestPageEmpty(t *testing.T) {
	full := demoIn(t)
	for name, c := range map[string]struct {
		change  func(*PageIn)
		figures int
		says    string
	}{
		"no record": {func(in *PageIn) {
			lot, err := zones.Prepare(in.Lot.Garden, nil)
			require.NoError(t, err)
			in.Lot, in.Exposure, in.Planting, in.Placed = lot, nil, nil, nil
			in.Performance, err = lot.Perform()
			require.NoError(t, err)
		}, 0, "There is no weather record yet"},
		"nothing lives": {func(in *PageIn) {
			in.Planting.Lines = nil
			for i := range in.Planting.Zones {
				in.Planting.Zones[i].PlantedM2, in.Planting.Zones[i].Offered = 0, 0
				in.Planting.Zones[i].Refusal = &plants.Refusal{Zone: in.Planting.Zones[i].Zone, Ruled: []plants.RuledOut{{Bar: plants.BarToxic, Count: 3}}}
			}
			in.Placed.Result = &placement.Result{}
		}, 0, "Nothing can be planted here as it stands"},
		"no slope": {func(in *PageIn) {
			in.Planting.Lines = slices.DeleteFunc(in.Planting.Lines, func(l plants.Line) bool { return l.Zone == "slope" })
			in.Planting.Zones[1].AreaM2, in.Planting.Zones[1].PlantedM2 = 0, 0
		}, 5, "slope 0 sq ft rim"},
		"no place for some": {func(in *PageIn) {
			in.Placed.Result.Left = []placement.Left{{Line: 0, Count: 2, Why: placement.WhyFull}}
			in.Placed.Result.NeededOverlap = math.NaN()
		}, 5, "No place for: 2 "},
	} {
		in := full
		planting, placed, result := *full.Planting, *full.Placed, *full.Placed.Result
		planting.Lines, planting.Zones = slices.Clone(planting.Lines), slices.Clone(planting.Zones)
		placed.Planting, placed.Result = &planting, &result
		in.Planting, in.Placed = &planting, &placed
		c.change(&in)
		text := written(t, in)
		root := parsed(t, text)
		assert.Contains(t, root.words(), c.says, name)
		assert.Len(t, root.find("figure"), 1+c.figures, "%s: the way in, the weather, and what there is to draw", name)
		for _, table := range root.find("table") {
			assert.NotEmpty(t, table.find("tbody"), "%s: a table without rows: %s", name, table.words())
			for _, body := range table.find("tbody") {
				assert.NotEmpty(t, body.find("tr"), "%s: a table without rows: %s", name, table.words())
			}
		}
		for _, list := range append(root.find("ul"), root.find("dl")...) {
			assert.NotEmpty(t, list.children, "%s: an empty list", name)
		}
		assert.NotContains(t, text, "NaN", name)
	}
}

// The same garden gives the same page, byte for byte.
func TestPageSameBytes(t *testing.T) {
	assert.Equal(t, written(t, demoIn(t)), written(t, demoIn(t)))
}

// A drawing taller than the page is made smaller, says so, and keeps its shape.
func TestPicture(t *testing.T) {
	d := Drawing{WidthMM: 180, HeightMM: 285}
	p := picture(d, 228)
	assert.InDelta(t, 0.8, p.share, 1e-9) // 228 / 285
	assert.Contains(t, string(p.block("", "", "", "").(doc.Picture).SVG), `width="144mm" height="228mm"`)
	assert.Contains(t, scaled(p.share), "80 %")
	p = picture(d, 300)
	assert.Contains(t, string(p.block("", "", "", "").(doc.Picture).SVG), `width="180mm" height="285mm"`)
	assert.Empty(t, scaled(p.share))
}
