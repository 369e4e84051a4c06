package draw

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

// turns are the strips of seasons of the golden files: an oval, and a swale so long
// that it gets the whole page.
func turns(t require.TestingT) map[string]SeasonsIn {
	of := func(o basin.Outline, n int, spreadM float64) SeasonsIn {
		in := scene(t, o, us(), 6, n, spreadM)
		year := SeasonsIn{Sheet: Sheet{Title: "Through the year"}, Outline: in.Bed.Outline, Species: in.Species, Plants: in.Plants}
		for i, name := range []string{"Spring, Mar to May", "Summer, Jun to Aug", "Winter, Dec to Feb"} {
			v := SeasonView{Name: name}
			for k := range in.Species {
				v.Looks = append(v.Looks, Look{Flowers: i < 2 && (k+i)%2 == 0, Colours: [][]string{{"blue", "white"}, {"yellow"}, nil}[k%3], Leaf: Leaf(i / 2 * (k % 3))})
			}
			year.Views = append(year.Views, v)
		}
		return year
	}
	return map[string]SeasonsIn{
		"seasons-oval":  of(basin.Outline{Kind: "oval", LengthM: 6, WidthM: 4}, 50, 0.5),
		"seasons-swale": of(basin.Outline{Kind: "rectangle", LengthM: 24.4, WidthM: 2.4}, 300, 0.4),
	}
}

// What flowers is known without colour: it has a ring of its own and a dot, and is named
// with its colour; what is bare has a dotted ring and no fill.
func TestSeasonsWithoutColour(t *testing.T) {
	in := turns(t)["seasons-oval"]
	for i, view := range in.Views {
		one := in
		one.Views = in.Views[i : i+1]
		flower, bare, unsure := 0, 0, 0
		for _, p := range in.Plants {
			switch l := view.Looks[p.Species]; {
			case l.Flowers:
				flower++
			case l.Leaf == Bare:
				bare++
			case l.Leaf == Unsure:
				unsure++
			}
		}
		svg := string(Seasons(one).SVG())
		assert.Equal(t, flower+1, strings.Count(svg, `stroke-width="`+num(0.45)+`"`), view.Name) // and the legend
		legend := 1                                                                              // bare, and what a question mark means where one stands
		if unsure > 0 {
			legend++
		}
		assert.Equal(t, bare+unsure+legend, strings.Count(svg, `stroke-dasharray`), view.Name)
		assert.Equal(t, unsure > 0, strings.Contains(svg, "leaves not known"), view.Name)
		for k, l := range view.Looks {
			assert.Equal(t, l.Flowers, strings.Contains(svg, strings.TrimSpace(in.Species[k].Name+" "+l.colour())), view.Name+" "+in.Species[k].Name)
		}
	}
	assert.Contains(t, string(Seasons(in).SVG()), "nothing in flower")
}

// Greys of leaves, paper and ink keep apart: 3:1 between rings and leaves (WCAG 2.2, 1.4.11).
func TestSeasonsInGrey(t *testing.T) {
	assert.GreaterOrEqual(t, contrast(t, ink, leafTone), 3.0)
	for _, colour := range []string{"white", "cream", "yellow", "orange", "red", "pink", "purple", "lavender", "blue", "green", "brown", ""} {
		assert.GreaterOrEqual(t, contrast(t, ink, Look{Flowers: true, Colours: []string{colour}}.Tone()), 3.0, colour)
	}
}

// Sizes and places that are not known still give a whole picture.
func TestSeasonsOdd(t *testing.T) {
	in := turns(t)["seasons-oval"]
	in.Species[0].SpreadM, in.Species[1].SpreadM = math.NaN(), -1
	in.Species[2].Key = strings.Repeat("Key ", 60)
	checkPicture(t, "seasons", Seasons(in).SVG())
	in.Plants, in.Views = nil, in.Views[:1]
	checkPicture(t, "seasons", Seasons(in).SVG())
}
