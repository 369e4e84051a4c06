package main

import (
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// feetIn finds figures in units of the United States. A number before "in" is one
// unless the next word says that it is the preposition.
func feetIn(text string) []string {
	var found []string
	for _, m := range regexp.MustCompile(`(?i)\S* ?\d ?(?:(?:sq |cu )?(?:ft|feet|foot)|inch|inches|in/h|gal|gallons?|yd|yards?|lbs?|mph|miles?|deg F|°F|F)\b|\S* ?\d["″]|\S* ?\d in\b(?: \S+)?`).FindAllString(text, -1) {
		_, next, _ := strings.Cut(m, " in ")
		if regexp.MustCompile(`^[0-9a-f]{8}$`).MatchString(m) { // a revision, the beginning of a digest
			continue
		}
		if !slices.Contains([]string{"all", "the", "place,", "place"}, strings.ToLower(next)) {
			found = append(found, m)
		}
	}
	return found
}

// texts are the texts of a page, one a line. What a document is quoted to say
// keeps the units of its author.
func texts(page string) string {
	page = regexp.MustCompile(`(?s)<script.*?</script>|<style.*?</style>`).ReplaceAllString(page, "")
	var out strings.Builder
	for _, words := range regexp.MustCompile(`<[^>]*>`).Split(page, -1) {
		if !regexp.MustCompile(`Univ\. of|US EPA|Extension|Commission|from memory`).MatchString(words) {
			out.WriteString(html.UnescapeString(words) + "\n")
		}
	}
	return out.String()
}

// A garden in metric units prints no inches, feet or gallons, whatever is asked;
// in units of the United States the same check finds them.
func TestMetricPrintsNoFeet(t *testing.T) {
	t.Parallel()
	season := func(name string) string {
		text, err := os.ReadFile(filepath.Join(repo, "data/season", name))
		require.NoError(t, err)
		return string(text)
	}
	dir := gardenWith(t, map[string]string{"planted.csv": season("planted.csv"), "season.csv": season("season.csv")})
	bare := filepath.Join(t.TempDir(), "bare")
	status, said, errs := ask(t, "", "start", bare, "--units", "metric", "--latitude", "47", "--time-zone", "UTC", "--roof-area", "60 m2", "--soil", "loam", "--length", "6 m", "--width", "5 m")
	require.Zero(t, status, errs)
	assert.Empty(t, feetIn(said))
	for i, line := range []string{
		"basin --size", "basin --all --inlets", "basin --route " + filepath.Join(t.TempDir(), "r.svg"), "zones --bands", "zones --explain bottom", "choose --alternatives", "choose --all --why low-brindlewisp",
		"place --all", "care --all --planted 2024-05-10", "zones --all", "choose --all", "find height:20..40 dry>=30 --limit 3", "find --all --show low-brindlewisp", "care --planted 2024-05-10", "care --planted 2024-05-10 --checklist", "care --planted 2024-05-10 --csv", "note --list", "move --plant MOD1 --date 2024-10-05", "report",
	} {
		for _, units := range []string{"metric", "us"} {
			if i%testenv.Of(3, 1) > 0 || units == "us" && i%testenv.Of(6, 1) > 0 {
				continue
			}
			status, out, errs := ask(t, "", append(strings.Fields(line), "--garden", dir, "--units", units)...)
			require.Zero(t, status, "%s: %s", line, errs)
			if line == "report" {
				out = texts(out)
			}
			switch found := feetIn(out); {
			case units == "metric":
				assert.Empty(t, found, line)
			case !strings.Contains(line, "csv"):
				assert.NotEmpty(t, found, line)
			}
		}
	}
	for _, line := range []string{"basin --garden " + bare, "weather --near 46.8,-92.1 --units metric", "weather " + filepath.Join(repo, "data/rain.csv") + " --units metric"} {
		status, out, errs := ask(t, "", strings.Fields(line)...)
		require.Zero(t, status, "%s: %s", line, errs)
		assert.Empty(t, feetIn(out), line)
	}
	files, err := filepath.Glob("testdata/golden/*-metric.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Empty(t, feetIn(string(text)), file)
	}
}
