package draw

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/zones/basin"
)

// Same input, same bytes.
func TestSameBytes(t *testing.T) {
	first, second := pictures(t), pictures(t)
	for name := range first {
		assert.Equal(t, string(first[name]), string(second[name]), name)
	}
}

// What a checked garden can't hold is our mistake and said so at once.
func TestPanics(t *testing.T) {
	in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 5, WidthM: 3}, metric(), 2, 3, 0.5)
	bad := in
	bad.Bed.Outline = bad.Bed.Outline[:2]
	assert.Panics(t, func() { Plan(bad) })
	bad = in
	bad.Plants = append([]Plant{{Species: 7}}, in.Plants...)
	assert.Panics(t, func() { Plan(bad) })
	bad.Plants = []Plant{{At: Point{math.NaN(), 0}}}
	assert.Panics(t, func() { Section(section(bad)) })
	bad = in
	bad.Bed.Height = nil
	assert.Panics(t, func() { Plan(bad) })
}

// Ids begin with the prefix, so that two plans can stand in one page.
func TestPrefix(t *testing.T) {
	in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 5, WidthM: 3}, metric(), 2, 3, 0.5)
	in.Prefix = "north-bed"
	for _, e := range read(t, Plan(in).SVG()) {
		if id := e.attr["id"]; id != "" {
			assert.True(t, strings.HasPrefix(id, "north-bed-"), id)
		}
	}
	assert.Equal(t, "plan", idPrefix("1 \"x", "plan"))
}

// Sizes and places that are not known, or odd, still give a whole picture.
func TestOddFigures(t *testing.T) {
	in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 5, WidthM: 3}, us(), 4, 9, 0.5)
	in.Species[0].SpreadM, in.Species[1].SpreadM, in.Species[2].HeightM, in.Species[3].HeightM = 0, math.NaN(), math.NaN(), -1
	in.NorthDeg, in.Inlet.SplashM, in.Inlet.Flow, in.Overflow.Flow = math.NaN(), -1, Point{}, Point{3, math.NaN()}
	in.A.At.X = math.Inf(1)
	in.KeepOuts = append(in.KeepOuts, Area{Name: "nothing"})
	in.Obstacles = append(in.Obstacles, Obstacle{Kind: "fence", Area: Area{Name: "fence", Corners: []Point{{-1, -0.5}, {7, -0.5}}}}, Obstacle{Kind: "wall", Area: Area{At: Point{2, 4}, RadiusM: 0.4}}, Obstacle{})
	checkPicture(t, "plan", Plan(in).SVG())
	sec := section(in)
	sec.MixDepthMM, sec.Levels[2].MM = math.NaN(), math.Inf(-1)
	checkPicture(t, "section", Section(sec).SVG())
	checkPicture(t, "bloom", BloomChart(BloomIn{WantedFrom: 13, FirstMonth: -4, Blooms: []Bloom{{From: 15, To: 2}, {From: 3, To: 0, Colours: []string{"a", "b", "c", "d"}}}}).SVG())
}

// Beds from a pot to a park, with none, few and many plants.
func TestSizes(t *testing.T) {
	for _, size := range []float64{2.6, 5, 17, 60, 300} {
		for _, u := range []Units{us(), metric()} {
			for _, n := range []int{0, 3, 200} {
				in := scene(t, basin.Outline{Kind: "oval", LengthM: size * 0.9, WidthM: size}, u, 5, n, math.Max(0.3, size/40))
				if n == 0 {
					in.Plants = nil
				}
				checkPicture(t, "plan", Plan(in).SVG())
				checkPicture(t, "section", Section(section(in)).SVG())
			}
		}
	}
}

// Words for heights and lists.
func TestWords(t *testing.T) {
	u := metric()
	assert.Equal(t, "150 mm below spill", u.aboveSpill(-150))
	assert.Equal(t, "50 mm above spill", u.aboveSpill(50))
	assert.Equal(t, "spill level", u.aboveSpill(0.2))
	assert.Equal(t, "a, b and c", list([]string{"a", "b", "c"}))
	assert.Equal(t, "May to Jul, blue and white", bloomWords(Bloom{From: 5, To: 7, Colours: []string{"blue", "white"}}))
	assert.Equal(t, []string{"one two", "three\u2026"}, wrap("one two three four", 1, textWidth("three fou", 1), 2))
	assert.Equal(t, "a b", clean("a\nb\u202e"))
}
