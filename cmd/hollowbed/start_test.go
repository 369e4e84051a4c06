package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
	"hollowbed/zones"
)

// naughtyStrings are strings that break programs: the Big List of Naughty
// Strings, see testdata/naughty-strings.
func naughtyStrings(t testing.TB) []string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(repo, "testdata/naughty-strings/blns.json"))
	require.NoError(t, err)
	var all []string
	require.NoError(t, json.Unmarshal(raw, &all))
	require.Greater(t, len(all), 400)
	return all
}

// typed answers the questions of start on a terminal, in a new folder, and
// reads the garden file that comes of it.
func typed(t *testing.T, lines ...string) (g *zones.Garden, errs string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "lot")
	status, out, errs := ask(t, strings.Join(lines, "\n")+"\n", "start", dir)
	require.Zero(t, status, errs)
	require.Contains(t, out, "Wrote "+filepath.Join(dir, "garden.yaml"))
	return readBack(t, dir), errs
}

func readBack(t testing.TB, dir string) *zones.Garden {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "garden.yaml"))
	require.NoError(t, err)
	g, err := zones.ReadGarden("garden.yaml", bytes.NewReader(text))
	require.NoError(t, err, string(text))
	return g
}

// Lengths and areas below are by the exact inch: 25.4 mm, and so 1 ft = 0.3048
// m, 1 sq ft = 0.09290304 m2 (international yard and pound agreement, 1959).
func TestStartAsksAgain(t *testing.T) {
	t.Parallel()
	g, errs := typed(t,
		"furlongs", "us",
		"Pond\tStreet", "Pond Street: 'the hollow' # 1",
		"", "north", "95", "-33.9",
		"Mars/Olympus", "Australia/Sydney",
		"900", "0 sq ft", "1,000 sq ft", "1000 sq ft",
		"half", "45 %",
		"mud", "sandy loam",
		"polygon", "star", "rectangle",
		"20", "-3 ft", "20 ft 6 in",
		"wide", "12 1/2 ft",
		"deep", "7 in",
		"25 h", "5.5 h")
	assert.Equal(t, "Pond Street: 'the hollow' # 1", g.Name)
	assert.Equal(t, zones.UnitsUS, g.Units)
	assert.Equal(t, -33.9, g.Site.LatitudeDeg)
	assert.Equal(t, "Australia/Sydney", g.Site.TimeZone)
	assert.InDelta(t, 92.90304, g.Roof.AreaM2, 1e-9)
	assert.InDelta(t, 0.45, g.Roof.Share, 1e-12)
	assert.Equal(t, "sandy loam", g.Soil.Texture)
	assert.Equal(t, "rectangle", g.Bed.Shape)
	assert.InDelta(t, 20.5*0.3048, g.Bed.LengthM, 1e-9)
	assert.InDelta(t, 12.5*0.3048, g.Bed.WidthM, 1e-9)
	assert.InDelta(t, 7*25.4, g.Bed.PondingDepthMM, 1e-9)
	for _, zone := range []string{"bottom", "slope", "rim"} {
		assert.Equal(t, 5.5, g.Sun.Of(zone))
	}
	for _, refused := range []string{
		`units: "furlongs": want one of: us, metric`, `latitude: want an answer`, `latitude: "north"`, `latitude: "95"`, `time-zone: "Mars/Olympus"`,
		`roof-area: "900": want an area with its unit`, `roof-area: "0 sq ft"`, `roof-area: "1,000 sq ft"`, `roof-share: "half": want a share in percent`, `soil: "mud"`,
		`shape: "polygon": expected rectangle, oval, L or kidney`, `shape: "star"`, `length: "20": want a length with its unit`, `length: "-3 ft"`,
		`width: "wide"`, `ponding-depth: "deep"`, `sun: "25 h"`,
	} {
		assert.Equal(t, 1, strings.Count(errs, refused), "%s in\n%s", refused, errs)
	}
	for _, q := range zones.Questions(zones.UnitsUS) {
		assert.Contains(t, errs, q.Prompt)
	}
}

// An empty line takes what stands between the brackets, in the units chosen;
// a rate in place of a texture is kept as a rate.
func TestStartDefaults(t *testing.T) {
	t.Parallel()
	g, errs := typed(t, "metric", "", "52.5", "Europe/Berlin", "110 m2", "", "12 mm/h", "", "", "", "", "")
	for _, q := range zones.Questions(zones.UnitsMetric) {
		if q.Default != "" && q.Key != "units" {
			assert.Contains(t, errs, q.Prompt+" ["+q.Default+"]")
		}
	}
	assert.Equal(t, "My garden", g.Name)
	assert.Equal(t, zones.UnitsMetric, g.Units)
	assert.Equal(t, 110.0, g.Roof.AreaM2)
	assert.Equal(t, 0.5, g.Roof.Share)
	assert.Equal(t, 12.0, g.Soil.RateMMH)
	assert.Empty(t, g.Soil.Texture)
	assert.Equal(t, "oval", g.Bed.Shape)
	assert.Equal(t, [3]float64{6, 4.2, 150}, [3]float64{g.Bed.LengthM, g.Bed.WidthM, g.Bed.PondingDepthMM})
	for _, zone := range []string{"bottom", "slope", "rim"} {
		assert.NotEqual(t, g.Sun.Of(zone), g.Sun.Of(zone), "no sun given is not known")
	}
	g, _ = typed(t, "", "", "41.5", "UTC", "1200 sq ft", "", "", "", "", "", "", "")
	assert.Equal(t, zones.UnitsUS, g.Units)
	assert.Equal(t, "clay loam", g.Soil.Texture)
	assert.InDelta(t, 20*0.3048, g.Bed.LengthM, 1e-9)
	assert.InDelta(t, 14*0.3048, g.Bed.WidthM, 1e-9)
	assert.InDelta(t, 6*25.4, g.Bed.PondingDepthMM, 1e-9)
}

// Where the input ends before the last answer, no garden file is written, and
// where it ends before the first not even the folder; a last line without a line
// feed counts.
func TestStartStops(t *testing.T) {
	t.Parallel()
	answers := []string{"us", "Pond Street", "41.5", "UTC", "900 sq ft", "50 %", "loam", "oval", "20 ft", "14 ft", "6 in", "6 h"}
	questions := zones.Questions(zones.UnitsUS)
	require.Len(t, answers, len(questions))
	for n := range answers {
		dir := filepath.Join(t.TempDir(), "lot")
		input := strings.Join(answers[:n], "\n") + "\n"
		if n == 0 {
			input = "neither\n" // refused, and then no more
		}
		status, out, errs := ask(t, input, "start", dir)
		assert.Equal(t, exitBad, status)
		assert.Empty(t, out)
		assert.Contains(t, errs, fmt.Sprintf("hollowbed: stopped at %q: ", questions[n].Prompt))
		assert.NoFileExists(t, filepath.Join(dir, "garden.yaml"))
		if n == 0 {
			assert.Contains(t, errs, "nothing was written")
			assert.NoDirExists(t, dir)
		}
	}
	dir := filepath.Join(t.TempDir(), "lot")
	status, _, errs := ask(t, strings.Join(answers, "\n"), "start", dir)
	require.Zero(t, status, errs)
	assert.Equal(t, 6.0, readBack(t, dir).Sun.Of("rim"))
}

// What an option states is not asked for; the rest is.
func TestStartOptionsAndQuestions(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "lot")
	status, _, errs := ask(t, "us\n41.5\n900 sq ft\n\n\n\n\n\n\n", "start", dir, "--name", "Given", "--time-zone", "UTC", "--sun", "7 h")
	require.Zero(t, status, errs)
	g := readBack(t, dir)
	assert.Equal(t, "Given", g.Name)
	assert.Equal(t, "UTC", g.Site.TimeZone)
	assert.Equal(t, 7.0, g.Sun.Of("rim"))
	assert.NotContains(t, errs, "What do you call the garden?")
	assert.NotContains(t, errs, "Time zone")
	assert.Contains(t, errs, "Latitude in degrees")
}

// A name stands in the file as it was typed, or is refused, and then it is
// too long or holds a character that cannot be seen or that moves a cursor; it
// never breaks the file, and comes to no terminal bare.
func TestStartNaughtyNames(t *testing.T) {
	t.Parallel()
	kept, refused := 0, 0
	for i, name := range naughtyStrings(t) {
		name, _, _ = strings.Cut(name, "\n")
		trimmed := strings.TrimSpace(name)
		want, why := trimmed, ""
		switch {
		case trimmed == "":
			want = "My garden"
		case strings.ContainsFunc(trimmed, unseen):
			want, why = "Fallback", "want plain text on one line"
		case utf8.RuneCountInString(trimmed) > 80:
			want, why = "Fallback", "want at most 80 letters"
		}
		if why == "" {
			kept++
		} else {
			refused++
		}
		var a zones.Answers
		require.NoError(t, a.Set("units", "us"))
		err := a.Set("name", name)
		assert.Equal(t, why == "", err == nil, "%q: %v", name, err)
		if i%testenv.Of(32, 8) != 0 && why == "" {
			continue // each file is synced to the disk, which takes its time
		}
		// If the name is taken, "Fallback" meets the latitude and is refused.
		g, errs := typed(t, "us", name, "Fallback", "41.5", "UTC", "900 sq ft", "", "", "", "", "", "", "")
		assert.Equal(t, want, g.Name)
		assert.Contains(t, errs, why)
		assert.False(t, strings.ContainsFunc(strings.ReplaceAll(errs, "\n", ""), unseen), "%q", errs)
	}
	t.Logf("%d names kept, %d refused", kept, refused)
	assert.Greater(t, kept, 400)
	assert.Greater(t, refused, 5)
}

// unseen tells a character that has no shape of its own: control, format,
// private, not assigned, and all white space but the common blank.
func unseen(r rune) bool {
	shape := unicode.In(r, unicode.L, unicode.M, unicode.N, unicode.P, unicode.S)
	return !shape && r != ' '
}

// Every other answer may be naughty too: it is refused where it is no answer.
func TestStartNaughtyAnswers(t *testing.T) {
	t.Parallel()
	good := []string{"us", "Pond Street", "41.5", "UTC", "900 sq ft", "50 %", "loam", "oval", "20 ft", "14 ft", "6 in", "6 h"}
	all := naughtyStrings(t)
	rapid.Check(t, func(rt *rapid.T) {
		at := rapid.IntRange(2, len(good)-1).Draw(rt, "question")
		bad, _, _ := strings.Cut(rapid.SampledFrom(all).Draw(rt, "answer"), "\n")
		if strings.TrimSpace(bad) == "" || strings.ContainsFunc(bad, unicode.IsDigit) {
			return // may be an answer
		}
		lines := append(append(append([]string{}, good[:at]...), bad), good[at:]...)
		g, errs := typed(t, lines...)
		key := zones.Questions(zones.UnitsUS)[at].Key
		if !strings.Contains(errs, "  "+key+": ") {
			rt.Fatalf("%q was taken as %s", bad, key)
		}
		if g.Bed.Shape != "oval" || g.Soil.Texture != "loam" || g.Sun.Of("rim") != 6 || g.Site.LatitudeDeg != 41.5 {
			rt.Fatalf("%q at %s changed another answer", bad, key)
		}
	})
}

// Ctrl-D ends the input. What was answered by then, and by options, is kept, and
// the same command goes on from there.
func TestStartKeepsAnswers(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "new lot")
	status, out, errs := ask(t, "metric\nThe hollow\n\n52.5\n", "start", dir, "--roof-area", "110 m2", "--sun", "7 h")
	assert.Equal(t, exitBad, status)
	assert.Empty(t, out)
	assert.Contains(t, errs, `stopped at "Time zone, by region and town?": the answers so far are kept in `+filepath.Join(dir, answersFile)+"; hollowbed start '"+dir+"' goes on from there")
	assert.NoFileExists(t, filepath.Join(dir, "garden.yaml"))

	status, _, errs = ask(t, "Europe/Berlin\n", "start", dir) // and stops again
	assert.Equal(t, exitBad, status)
	assert.Contains(t, errs, "Latitude in degrees (south of the equator below zero)? 52.5 (kept)")
	status, _, errs = ask(t, "\nloam\n\n\n\n\n", "start", dir, "--name", "Another")
	require.Zero(t, status, errs)
	assert.NotContains(t, errs, "Time zone, by region and town? (such as")
	g := readBack(t, dir)
	assert.Equal(t, "Another", g.Name, "an option counts before what was kept")
	assert.Equal(t, zones.UnitsMetric, g.Units)
	assert.Equal(t, [2]float64{52.5, 110}, [2]float64{g.Site.LatitudeDeg, g.Roof.AreaM2})
	assert.Equal(t, "Europe/Berlin", g.Site.TimeZone)
	assert.Equal(t, 7.0, g.Sun.Of("rim"))
	assert.NoFileExists(t, filepath.Join(dir, answersFile))
}

// What was kept on a terminal counts off one too, where options state the rest.
func TestStartTakesKeptAnswersAnywhere(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "lot")
	status, _, errs := ask(t, "metric\nThe hollow\n\n52.5\n", "start", dir)
	require.Equal(t, exitBad, status, errs)
	status, _, errs = ask(t, "", "start", dir, "--time-zone", "Europe/Berlin", "--roof-area", "110 m2")
	require.Zero(t, status, errs)
	assert.Contains(t, errs, "52.5 (kept)")
	g := readBack(t, dir)
	assert.Equal(t, "The hollow", g.Name)
	assert.Equal(t, zones.UnitsMetric, g.Units)
	assert.Equal(t, 52.5, g.Site.LatitudeDeg)
	assert.NoFileExists(t, filepath.Join(dir, answersFile))
}

// Where nothing was answered nothing is kept; what is no kept answer is told.
func TestStartKeepsNothing(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "lot")
	status, _, errs := ask(t, "\x04", "start", dir) // no answer, and the end
	assert.Equal(t, exitBad, status)
	assert.Contains(t, errs, "nothing was written")
	assert.NoDirExists(t, dir)
	require.NoError(t, os.Mkdir(dir, 0o755))
	for _, text := range []string{"units", "null"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, answersFile), []byte(text), 0o644))
		status, _, errs = ask(t, "us\n", "start", dir)
		assert.Equal(t, exitBad, status)
		assert.Contains(t, errs, answersFile+": expected answers that hollowbed start kept; remove the file to begin anew", text)
	}
}

// An L and a kidney are asked for by lengths, and stand in the file as polygons.
func TestStartMakesShapes(t *testing.T) {
	t.Parallel()
	g, errs := typed(t, "metric", "", "52.5", "UTC", "110 m2", "", "loam", "L-shape", "7 m", "5 m", "6.8 m", "4 m", "wide", "2.5 m", "", "")
	assert.Contains(t, errs, "Corner left out of the L: how much of the length? [3 m]")
	assert.Contains(t, errs, `cut-length: "6.8 m": expected more than 0 and at most 6.5 m, of 7 m`)
	assert.Contains(t, errs, `cut-width: "wide": want a length`)
	assert.Equal(t, "polygon", g.Bed.Shape)
	assert.Equal(t, [][2]float64{{0, 0}, {7, 0}, {7, 2.5}, {3, 2.5}, {3, 5}, {0, 5}}, g.Bed.PointsM)

	g, errs = typed(t, "us", "", "41.5", "UTC", "900 sq ft", "", "loam", "kidney", "20 ft", "12 ft", "7 ft", "4 ft", "", "")
	assert.Contains(t, errs, `bay: "7 ft": expected more than 0 and at most 6 ft, of 12 ft`)
	assert.Equal(t, "polygon", g.Bed.Shape)
	low, high, bay := g.Bed.PointsM[0], g.Bed.PointsM[0], 0.0
	for _, p := range g.Bed.PointsM {
		low, high = [2]float64{min(low[0], p[0]), min(low[1], p[1])}, [2]float64{max(high[0], p[0]), max(high[1], p[1])}
		if math.Abs(p[0]-10*0.3048) < 1e-9 && p[1] < 6*0.3048 {
			bay = p[1]
		}
	}
	assert.InDeltaSlice(t, []float64{0, 0, 20 * 0.3048, 12 * 0.3048, 4 * 0.3048}, []float64{low[0], low[1], high[0], high[1], bay}, 1e-9)

	status, _, errs := ask(t, "", "start", filepath.Join(t.TempDir(), "lot"), "--latitude", "41.5", "--time-zone", "UTC", "--roof-area", "90 m2", "--bay", "2 ft")
	assert.Equal(t, exitBad, status)
	assert.Contains(t, errs, "--bay: expected --shape kidney with it")
}

// Whether plants may be listed of which nobody knows if they harm is asked where
// real plants are listed, and nowhere else.
func TestStartAsksOfHarm(t *testing.T) {
	t.Parallel()
	options := []string{"--near", "Duluth, MN", "--units", "metric", "--name", "x", "--roof-area", "60 m2", "--roof-share", "50 %", "--soil", "loam", "--shape", "oval", "--length", "5 m", "--width", "4 m", "--ponding-depth", "100 mm", "--sun", "6 h"}
	for _, c := range []struct{ typed, want string }{{"no\nleave out\n", "leave out"}, {"\n", "allow"}} {
		dir := filepath.Join(t.TempDir(), "lot")
		status, _, errs := ask(t, c.typed, append([]string{"start", dir}, options...)...)
		require.Zero(t, status, errs)
		assert.Contains(t, errs, "whether they harm people or animals")
		assert.Equal(t, strings.HasPrefix(c.typed, "no"), strings.Contains(errs, `harm-unknown: "no": expected allow or leave out`))
		assert.Equal(t, c.want, readBack(t, dir).Wishes.HarmUnknown)
	}
	dir := filepath.Join(t.TempDir(), "lot")
	status, _, errs := ask(t, "", "start", dir, "--latitude", "41.5", "--time-zone", "UTC", "--roof-area", "90 m2", "--harm-unknown", "allow")
	assert.Equal(t, exitBad, status)
	assert.Contains(t, errs, "--harm-unknown: expected --near with it")
}
