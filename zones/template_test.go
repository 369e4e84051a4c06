package zones

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// exampleAnswers answers every question with its example.
func exampleAnswers(t *testing.T, u Units) Answers {
	a := Answers{Units: string(u)}
	for _, q := range Questions(u) {
		if q.Key == "units" {
			continue
		}
		require.NoError(t, a.Set(q.Key, q.Example), q.Key)
	}
	return a
}

func TestTemplateReadsBack(t *testing.T) {
	for _, u := range []Units{UnitsUS, UnitsMetric} {
		g, err := read(Template(exampleAnswers(t, u)))
		require.NoError(t, err)
		assert.Equal(t, u, g.Units)
		assert.Equal(t, "oval", g.Bed.Shape)
		assert.Equal(t, "clay loam", g.Soil.Texture)
		assert.Equal(t, 6.0, g.Sun.Of("slope"))
	}
	for _, name := range []string{"null", "Null", "true", "007", ".inf", "it's", "a: b # c"} {
		a := exampleAnswers(t, UnitsUS)
		require.NoError(t, a.Set("name", name))
		g, err := read(Template(a))
		require.NoError(t, err, name)
		assert.Equal(t, name, g.Name)
	}
}

// Whatever was answered and passed, the file written from it says.
func TestTemplateKeepsAnswers(t *testing.T) {
	length := func(t *rapid.T, name string, lo, hi int) string {
		n := rapid.IntRange(lo, hi).Draw(t, name)
		return UnitsUS.Length(float64(n) * mPerIn)
	}
	rapid.Check(t, func(t *rapid.T) {
		a := Answers{Units: rapid.SampledFrom([]string{"us", "metric"}).Draw(t, "units")}
		for key, text := range map[string]string{
			"name":          rapid.StringMatching(`[A-Za-z0-9 .:'"#{}\[\]&*!|>%@,?~^-]{1,30}[a-z]`).Draw(t, "name"),
			"latitude":      rapid.StringMatching(`-?[0-8]?[0-9](\.[0-9]{1,3})?`).Draw(t, "latitude"),
			"time-zone":     rapid.SampledFrom([]string{"America/Chicago", "Europe/Berlin", "Australia/Hobart", "UTC"}).Draw(t, "zone"),
			"roof-area":     rapid.StringMatching(`[2-9][0-9]{1,2}(\.[0-9])? (sq ft|m2|m²)`).Draw(t, "roof"),
			"roof-share":    rapid.StringMatching(`[1-9][0-9]? ?%`).Draw(t, "share"),
			"soil":          rapid.SampledFrom([]string{"loam", "Silt Loam", "clay", "0.5 in/h", "12 mm/h", "1/2 in/h"}).Draw(t, "soil"),
			"shape":         rapid.SampledFrom([]string{"oval", "rectangle"}).Draw(t, "shape"),
			"length":        length(t, "length", 20, 800),
			"width":         rapid.SampledFrom([]string{`12' 6"`, "3.8 m", "12 ft 6 1/2 in", "380 cm"}).Draw(t, "width"),
			"ponding-depth": rapid.SampledFrom([]string{"6 in", "150 mm", "15 cm", `6"`}).Draw(t, "depth"),
			"sun":           rapid.SampledFrom([]string{"", "6 h", "6 h 30 min"}).Draw(t, "sun"),
		} {
			if err := a.Set(key, text); err != nil {
				t.Fatalf("%s %q: %v", key, text, err)
			}
		}
		g, err := read(Template(a))
		if err != nil {
			t.Fatalf("%v\n%s", err, Template(a))
		}
		number := func(v float64, err error) float64 {
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		latitude, _ := plainNumber(a.Latitude)
		for _, c := range []struct {
			name      string
			got, want any
		}{
			{"name", g.Name, strings.TrimSpace(a.Name)},
			{"units", string(g.Units), a.Units},
			{"latitude", g.Site.LatitudeDeg, latitude},
			{"time zone", g.Site.TimeZone, a.TimeZone},
			{"roof", g.Roof.AreaM2, number(parseAreaM2(a.RoofArea))},
			{"share", g.Roof.Share, number(ParsePercent(a.RoofShare))},
			{"shape", g.Bed.Shape, a.Shape},
			{"length", g.Bed.LengthM, number(ParseLengthM(a.Length))},
			{"width", g.Bed.WidthM, number(ParseLengthM(a.Width))},
			{"depth", g.Bed.PondingDepthMM, number(parseDepthMM(a.PondingDepth))},
		} {
			if c.got != c.want {
				t.Fatalf("%s: %v in the file, %v answered", c.name, c.got, c.want)
			}
		}
		if rate, err := parseRateMMH(a.Soil); err == nil {
			if g.Soil.RateMMH != rate || g.Soil.Texture != "" {
				t.Fatalf("soil %q reads %+v", a.Soil, g.Soil)
			}
		} else if g.Soil.Texture != strings.ToLower(a.Soil) {
			t.Fatalf("soil %q reads %+v", a.Soil, g.Soil)
		}
		if (a.Sun == "") != (g.needSun() != nil) {
			t.Fatalf("sun %q reads %+v", a.Sun, g.Sun)
		}
	})
}

// Every key that the template holds back as a comment is a key of the file
// with a good value: with all the # taken away the file still reads.
func TestTemplateCommentsAreKeys(t *testing.T) {
	text := Template(exampleAnswers(t, UnitsUS))
	text = regexp.MustCompile(`(?m)^  # points:.*\n`).ReplaceAllString(text, "")
	live := regexp.MustCompile(`(?m)^( *)# ( *(?:- \{|[a-z0-9_]+:(?: |$)).*)$`).ReplaceAllString(text, "$1$2")
	require.Greater(t, strings.Count(live, "\n  "), strings.Count(text, "\n  ")+20, "hardly anything was uncommented")
	g, err := read(live)
	require.NoError(t, err, live)
	assert.Empty(t, g.Assumed, "keys that the template does not show")
	assert.NotNil(t, g.Soil.SoakTest)
	assert.Len(t, g.Weather.ET0ByMonthMM, 12)
	assert.Equal(t, "Q1", g.Weather.Where["station"])
	assert.Len(t, g.Roof.Also, 1)
}

func TestAnswersRefused(t *testing.T) {
	for _, c := range []struct{ key, text, want string }{
		{"units", "imperial", `units: "imperial": want one of: us, metric`},
		{"latitude", "", `latitude: want an answer, such as 41.5`},
		{"latitude", "north", `latitude: "north": want degrees north of the equator, south below zero, from -90 to 90`},
		{"time-zone", "Chicago", `time-zone: "Chicago": want a time zone by region and town, such as America/Chicago`},
		{"roof-area", "1240", `roof-area: "1240": want an area with its unit, such as 620 sq ft or 58 m2 (accepted: m2, sq ft)`},
		{"soil", "mud", `soil: "mud": want one of: sand, loamy sand, sandy loam, loam, silt loam, silt, sandy clay loam, clay loam, silty clay loam, sandy clay, silty clay, clay; or a measured rate such as 0.5 in/h`},
		{"soil", "5 in", `soil: "5 in": want a rate with its unit, such as 0.5 in/h or 12 mm/h (accepted: mm/h, cm/h, in/h)`},
		{"shape", "polygon", `shape: "polygon": expected rectangle, oval, L or kidney; for another shape take oval now, and draw a polygon in the file later`},
		{"length", "4 km", `length: "4 km": want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)`},
		{"width", "400 ft", `width: "400 ft": too large: want at most 328 ft`},
		{"name", "a\x1b[2Jb", `name: "a\x1b[2Jb": want plain text on one line`},
		{"sun", "6", `sun: "6": want a time with its unit, such as 24 h or 10 min (accepted: min, h, d); did you mean 6 h?`},
		{"pond", "6 in", `no question is called "pond"`},
	} {
		a := Answers{Units: "us"}
		err := a.Set(c.key, c.text)
		require.Error(t, err, c.key)
		assert.Equal(t, c.want, err.Error())
		assert.Equal(t, Answers{Units: "us"}, a, "a refused answer is not kept")
	}
}

func TestEmptyAnswersTakeDefaults(t *testing.T) {
	var a Answers
	require.NoError(t, a.Set("units", "metric"))
	require.NoError(t, a.Set("length", " "))
	require.NoError(t, a.Set("sun", ""))
	assert.Equal(t, "6 m", a.Length)
	assert.Equal(t, "", a.Sun)
	for _, q := range Questions(UnitsMetric) {
		assert.NotEmpty(t, q.Prompt)
		assert.True(t, q.Default == "" || a.Set(q.Key, q.Default) == nil, "default of %s", q.Key)
	}
}

// The template of a metric garden has metric samples, which read as values when
// the # is taken away. 10 ft = 3.048 m (NIST SP 811, Appendix B), rounded up.
func TestTemplateMetricSamples(t *testing.T) {
	a := Answers{Units: "metric"}
	for _, q := range Questions(UnitsMetric) {
		*a.field(q.Key) = q.Example
	}
	a.Units = "metric"
	_, rest, _ := strings.Cut(Template(a), "\n\n")
	for line := range strings.Lines(rest) {
		if !strings.Contains(line, "_unit: ") {
			assert.NotRegexp(t, `[0-9] (ft|in|sq ft|in/h)\b`, line)
		}
	}
	assert.Contains(t, rest, "keep at least 3.1 m;")
	assert.Contains(t, rest, "margin: 0 mm")
	for line := range strings.Lines(rest) {
		if key, value, ok := strings.Cut(strings.TrimLeft(line, "# "), ": "); ok && key == "well_distance" {
			assert.True(t, strings.HasPrefix(value, "30.5 m"), value)
		}
	}
}

// A small bed is not given water deeper than its sides leave room for: the sides of 3:1
// and the rim of 12 in of the template meet 4 in down in a bed 4 ft wide.
func TestUsualPonding(t *testing.T) {
	a := exampleAnswers(t, UnitsUS)
	for width, want := range map[string]string{"14 ft": "6 in", "6 ft": "6 in", "5 ft": "4 in", "4 ft": "3 in", "3 ft 6 in": "2 in"} {
		require.NoError(t, a.Set("width", width))
		a.PondingDepth = a.UsualPonding()
		assert.Equal(t, want, a.PondingDepth, width)
		require.NoError(t, a.Fits(), width)
	}
	require.NoError(t, a.Set("width", "4 ft"))
	a.PondingDepth = "6 in"
	assert.ErrorContains(t, a.Fits(), `ponding-depth: "6 in": the sides meet at a depth of 4 in, before the ponding depth of 6 in: want a depth less than 4 in`)
	require.NoError(t, a.Set("width", "2 ft"))
	a.PondingDepth = a.UsualPonding()
	assert.ErrorContains(t, a.Fits(), "fills the whole bed")
	m := exampleAnswers(t, UnitsMetric)
	require.NoError(t, m.Set("width", "1.2 m"))
	assert.Equal(t, "75 mm", m.UsualPonding())
}
