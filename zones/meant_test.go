package zones

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What people say is asked back with what a file takes. What is asked back is
// taken where it is typed.
func TestMeant(t *testing.T) {
	for _, c := range []struct{ key, said, back string }{
		{"soil.texture", "heavy clay", "did you mean clay?"},
		{"soil.texture", "Heavy Soil", "did you mean clay?"},
		{"soil.texture", "clay soil", "did you mean clay?"},
		{"soil.texture", "gumbo", "did you mean clay?"},
		{"soil.texture", "heavy loam", "did you mean clay loam?"},
		{"soil.texture", "red clay loam", "did you mean clay loam?"},
		{"soil.texture", "sandy", "did you mean sandy loam, loamy sand or sand?"},
		{"soil.texture", "sandy soil", "did you mean sandy loam, loamy sand or sand?"},
		{"soil.texture", "silty", "did you mean silt loam?"},
		{"mix.texture", "garden soil", "did you mean loam?"},
		{"soil.texture", "gravel", "expected a rate from a soak test"},
		{"soil.texture", "don't know", "a soak test tells; until then take clay loam, or clay"},
		{"soil.texture", "snady loam", "did you mean sandy loam?"}, // slips of the pen as before
		{"sun", "part shade", "part shade is 3 h to 6 h of direct sun a day: count the hours, or write 4 h until then"},
		{"sun", "Full-sun", "full sun is 6 h or more"},
		{"sun", "shade", "shade is under 3 h"},
		{"sun.rim", "6", "did you mean 6 h?"},
		{"roof.share", "100", "did you mean 100 %?"},
		{"roof.share", "0.5", "did you mean 50 % or 0.5 %?"},
		{"roof.share", "1", "did you mean 100 % or 1 %?"},
		{"roof.share", "half", "did you mean 50 %?"},
		{"roof.share", "1/3", "did you mean 33.3 %?"},
		{"site.ground_slope", "4", "did you mean 4 %?"},
		{"bed.shape", "L", "its corners under points, in order"},
		{"bed.shape", "L-shaped", "--shape L asks for lengths"},
		{"bed.shape", "kidney", "--shape kidney asks for lengths"},
		{"bed.shape", "round", "did you mean oval?"},
		{"bed.shape", "Square", "did you mean rectangle?"},
		{"bed.shape", "free form", "expected polygon for it, with its corners under points"},
		{"bed.shape", "rectange", "did you mean rectangle?"},
	} {
		text, err := EditKey(little, c.key, c.said)
		require.NoError(t, err)
		_, err = read(text)
		assert.ErrorContains(t, err, c.back, c.said)
	}
	// Nothing is asked back of what says nothing, or says no.
	for said, meant := range map[string]func(string) string{"purple": soilMeant, "no clay": soilMeant, "not sandy": soilMeant, "25": sunMeant, "no shade": sunMeant, "-1": sunMeant, "101": shareMeant, "none": shareMeant, "star": shapeMeant, "": shapeMeant} {
		assert.Empty(t, meant(said), said)
	}
	for _, said := range []string{"heavy clay", "silty", "gumbo", "good soil"} {
		_, word, _ := strings.Cut(strings.TrimSuffix(soilMeant(said), "?"), "mean ")
		assert.Contains(t, Textures(), word, said)
	}
	_, err := ParsePercent("100")
	assert.ErrorContains(t, err, "did you mean 100 %?")
}

// Whatever lengths are answered for an L or a kidney, the file is read, and the
// bed has the length and width that were asked for.
func TestShapesByLengths(t *testing.T) {
	examples := map[Units]Answers{UnitsUS: exampleAnswers(t, UnitsUS), UnitsMetric: exampleAnswers(t, UnitsMetric)}
	rapid.Check(t, func(t *rapid.T) {
		a := examples[rapid.SampledFrom([]Units{UnitsUS, UnitsMetric}).Draw(t, "units")]
		show := func(m float64) string { return plain(math.Round(100*m)/100) + " m" }
		l, w := rapid.Float64Range(1.1, 95).Draw(t, "length"), rapid.Float64Range(1.1, 95).Draw(t, "width")
		shape := rapid.SampledFrom([]string{"L", "kidney"}).Draw(t, "shape")
		part := func(whole float64) string { return show(rapid.Float64Range(0.05, whole).Draw(t, "part")) }
		for _, p := range [][2]string{{"shape", shape}, {"length", show(l)}, {"width", show(w)}, {"cut-length", part(l - 0.51)}, {"cut-width", part(w - 0.51)}, {"bay", part(w/2 - 0.01)}} {
			if err := a.Set(p[0], p[1]); err != nil {
				t.Fatalf("%v: %v", p, err)
			}
		}
		g, err := read(Template(a))
		if err != nil {
			t.Fatalf("%v\n%s", err, Template(a))
		}
		var xs, ys []float64
		for _, p := range g.Bed.PointsM {
			xs, ys = append(xs, p[0]), append(ys, p[1])
		}
		const rounding = 0.018 // half an inch, and the centimetres typed
		if slices.Min(xs) != 0 || slices.Min(ys) != 0 || math.Abs(slices.Max(xs)-l) > rounding || math.Abs(slices.Max(ys)-w) > rounding {
			t.Fatalf("%s %v by %v: %v", shape, l, w, g.Bed.PointsM)
		}
		if err := g.Outline().Check(); err != nil {
			t.Fatal(err)
		}
	})
}
