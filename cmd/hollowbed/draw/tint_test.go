package draw

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

// seen are ways to see a colour, as matrices over linear sRGB: as it is, and by the
// simulation of full protanopia, deuteranopia and tritanopia of Machado, Oliveira and
// Fernandes 2009, IEEE Transactions on Visualization and Computer Graphics 15(6):1291,
// table at severity 1.0.
func seen() map[string][3][3]float64 {
	return map[string][3][3]float64{
		"as it is":     {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
		"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
		"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	}
}

// linear is a colour in linear sRGB (IEC 61966-2-1).
func linear(t require.TestingT, colour string) (out [3]float64) {
	for i := range out {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		require.NoError(t, err)
		if c := float64(n) / 255; c <= 0.04045 {
			out[i] = c / 12.92
		} else {
			out[i] = math.Pow((c+0.055)/1.055, 2.4)
		}
	}
	return out
}

// lab is CIELAB of CIE 15:2004 under D65, of a colour of linear sRGB seen in a way.
func lab(c [3]float64, way [3][3]float64) (out [3]float64) {
	var rgb, xyz [3]float64
	for i := range 3 {
		for k := range 3 {
			rgb[i] += way[i][k] * c[k]
		}
		rgb[i] = max(0, min(1, rgb[i]))
	}
	white := [3]float64{0.95047, 1, 1.08883}
	for i, row := range [3][3]float64{{0.4124564, 0.3575761, 0.1804375}, {0.2126729, 0.7151522, 0.0721750}, {0.0193339, 0.1191920, 0.9503041}} {
		v := (row[0]*rgb[0] + row[1]*rgb[1] + row[2]*rgb[2]) / white[i]
		if v > 216.0/24389 {
			xyz[i] = math.Cbrt(v)
		} else {
			xyz[i] = (24389.0/27*v + 16) / 116
		}
	}
	return [3]float64{116*xyz[1] - 16, 500 * (xyz[0] - xyz[1]), 200 * (xyz[1] - xyz[2])}
}

// Red of sRGB is L* 53.24, a* 80.09, b* 67.20, from memory; and a simulation leaves white
// and greys as they are, by its definition.
func TestColourFormulas(t *testing.T) {
	assert.InDeltaSlice(t, []float64{53.24, 80.09, 67.20}, list3(lab(linear(t, "#ff0000"), seen()["as it is"])), 0.02)
	for name, way := range seen() {
		for _, grey := range []string{"#ffffff", "#808080"} {
			assert.InDeltaSlice(t, list3(lab(linear(t, grey), seen()["as it is"])), list3(lab(linear(t, grey), way)), 0.01, name)
		}
	}
}

func list3(v [3]float64) []float64 { return v[:] }

// Any two tints keep apart to every eye: by 12 or more in CIELAB, five times what is just
// noticed (2.3, Mahy and others 1994, Color Research and Application 19:105). In grey the
// steps keep apart by 9. Letters and figures stand out on each by 4.5:1 (WCAG 2.2).
func TestTintsKeepApart(t *testing.T) {
	all := tints()
	for name, way := range seen() {
		for i, a := range all {
			p := lab(linear(t, a), way)
			for _, b := range all[:i] {
				q := lab(linear(t, b), way)
				assert.GreaterOrEqual(t, math.Sqrt((p[0]-q[0])*(p[0]-q[0])+(p[1]-q[1])*(p[1]-q[1])+(p[2]-q[2])*(p[2]-q[2])), 12.0, "%s: %s beside %s", name, a, b)
			}
		}
	}
	for i, a := range all {
		assert.GreaterOrEqual(t, contrast(t, ink, a), 4.5, a)
		for k, b := range all {
			if i/perStep != k/perStep {
				apart := math.Abs(lab(linear(t, a), seen()["as it is"])[0] - lab(linear(t, b), seen()["as it is"])[0])
				assert.GreaterOrEqual(t, apart, 9.0, "in grey: %s beside %s", a, b)
			}
		}
	}
}

// Kinds side by side have tints of their own, and are of another lightness, even where
// all are of one form, in nineteen of twenty places.
func TestTintsOfNeighbours(t *testing.T) {
	for name, in := range plans(t) {
		var order []int // in which kinds of one lightness would lie side by side, were they given in turn
		for start := range 4 {
			for i := start; i < len(in.Species); i += 4 {
				order = append(order, i)
				in.Species[i].Form = "forb"
			}
		}
		for i := range in.Plants {
			in.Plants[i].Species = order[in.Plants[i].Species]
		}
		of, touch := Tints(in.Species, in.Plants), contacts(in.Species, in.Plants)
		step := map[string]int{}
		for i, c := range tints() {
			step[c] = i / perStep
		}
		all, same := 0, 0
		for i := range of {
			for k := range i {
				all += touch[i][k]
				if touch[i][k] > 0 {
					assert.NotEqual(t, of[i], of[k], "%s: %s and %s", name, in.Species[i].Name, in.Species[k].Name)
				}
				if step[of[i]] == step[of[k]] {
					same += touch[i][k]
				}
			}
		}
		assert.LessOrEqual(t, 20*same, all, name)
		if len(of) <= 12 {
			assert.Len(t, step, 12)
			distinct := map[string]bool{}
			for _, c := range of {
				distinct[c] = true
			}
			assert.Len(t, distinct, len(of), name)
		}
	}
}

// What is past the accepted risk, or not known, is marked by shape, and told in the legend.
func TestBadges(t *testing.T) {
	in := plans(t)["plan-oval-40"]
	plain := string(Plan(in).SVG())
	assert.NotContains(t, plain, Past.words())
	assert.NotContains(t, plain, Unknown.words())
	in.Plants[3].Badge, in.Plants[5].Badge = Past, Unknown
	svg := Plan(in).SVG()
	assert.Contains(t, string(svg), ">"+Past.words()+"</text>")
	assert.Contains(t, string(svg), ">"+Unknown.words()+"</text>")
	checkPicture(t, "badges", svg)
}

// A grid of a foot or of 25 cm, and a coarser one that says so where its lines would lie
// closer than 3 mm.
func TestGridStep(t *testing.T) {
	for _, c := range []struct {
		ratio  float64
		metric bool
		m      float64
		words  string
	}{{48, false, 0.3048, "1 ft"}, {101, false, 0.3048, "1 ft"}, {102, false, 1.524, "5 ft"}, {50, true, 0.25, "25 cm"}, {100, true, 1, "1 m"}} {
		m, words := gridStep(scale{ratio: c.ratio}, c.metric)
		assert.InDelta(t, c.m, m, 1e-9, "%g", c.ratio)
		assert.Equal(t, c.words, words)
	}
}

// A swale of 80 ft with a thousand plants is a map: nothing stands over another, and the
// title block says whose it is.
func TestLongSwale(t *testing.T) {
	in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 24.4, WidthM: 3}, us(), 16, 1000, 0.25)
	assert.Greater(t, len(in.Plants), 900)
	in.Block = TitleBlock{Garden: "The long lot", Date: "2024-05-04", Revision: "1a2b3c4d"}
	svg := Plan(in).SVG()
	checkPicture(t, "swale", svg)
	for _, words := range []string{"The long lot", "2024-05-04", "1a2b3c4d", "Drawn by"} {
		assert.Contains(t, string(svg), ">"+words+"</text>")
	}
}

// A plan of many plants is a map: each kind is named, in its drifts of three and more, and
// ones and twos are left to their colour. Small marks have no pattern.
func TestManyPlantsAreAMap(t *testing.T) {
	t.Parallel()
	bed := []Point{{0, 0}, {16, 0}, {16, 8}, {0, 8}}
	species := []Species{{Key: "AAA", Name: "A", SpreadM: 0.25}, {Key: "BBB", Name: "B", SpreadM: 0.25}, {Key: "CCC", Name: "C", SpreadM: 0.25}}
	var plants []Plant
	for i := range 1000 {
		p := Plant{At: Point{0.2 + 0.3*float64(i%50), 0.2 + 0.35*float64(i/50)}}
		if i%50 > 25 && i%7 == 0 && i/50%2 == 0 {
			p.Species = 1
		}
		if i == 555 {
			p.Species = 2
		}
		plants = append(plants, p)
	}
	svg := Seasons(SeasonsIn{Outline: bed, Species: species, Plants: plants, Views: []SeasonView{{Name: "Summer", Looks: make([]Look, 3)}}}).SVG()
	flowers := []Look{{Flowers: true, Colours: []string{"yellow"}}, {Flowers: true}, {Flowers: true}}
	inFlower := Seasons(SeasonsIn{Outline: bed, Species: species, Plants: plants, Views: []SeasonView{{Name: "Summer", Looks: flowers}}}).SVG()
	wide := []Species{{Key: "AAA", Name: "A", SpreadM: 1}, {Key: "BBB", Name: "B", SpreadM: 1}, {Key: "CCC", Name: "C", SpreadM: 1}}
	large := Seasons(SeasonsIn{Outline: bed, Species: wide, Plants: plants, Views: []SeasonView{{Name: "Summer", Looks: flowers}}}).SVG()
	assert.NotContains(t, string(svg)+string(inFlower)+string(large), "url(#")
	assert.Contains(t, string(inFlower), bloomWash("yellow").tone)

	in := scene(t, basin.Outline{Kind: "rectangle", LengthM: 16, WidthM: 8}, us(), 3, 10, 0.25)
	in.Species, in.Plants = species, plants
	plan := string(Plan(in).SVG())
	assert.Equal(t, 1, strings.Count(plan, ">CCC</text>")-1, "a kind of one plant is named, and in the table")
	assert.Equal(t, 1, strings.Count(plan, ">BBB</text>")-1, "one of many that stand alone")
}
