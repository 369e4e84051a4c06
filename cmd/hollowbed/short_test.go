package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/testdata/testenv"
)

// pondStreet is the lot of README's session.
func pondStreet(t *testing.T) string {
	dir := filepath.Join(t.TempDir(), "ps")
	status, _, errs := ask(t, "", "start", dir, "--name", "Pond Street", "--units", "metric", "--latitude", "47.6", "--time-zone", "America/Los_Angeles",
		"--roof-area", "100 m2", "--roof-share", "100 %", "--soil", "14 mm/h", "--shape", "rectangle", "--length", "5 m", "--width", "4 m", "--sun", "6 h")
	require.Zero(t, status, errs)
	record, err := os.ReadFile(filepath.Join(repo, "testdata", "records", "seattle-newyork-daily-2012-2015.csv"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "rain.csv"), record, 0o644))
	file := filepath.Join(dir, gardenFile)
	given, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, append(given, "plants: demo\nweather:\n  where: {location: Seattle}\n  rain_unit: mm\n  temp_unit: C\n"...), 0o644))
	return dir
}

// cautionsIn finds the lines of a text that name what can hurt somebody, with their
// titles, and the empty line after them.
func cautionsIn() *regexp.Regexp {
	return regexp.MustCompile(`(?m)^(Mind|Before you dig|Mend the bed first[^\n]*|Before bringing water in|Care):\n(  [^\n]*\n)+\n?|^Before you dig, [^\n]*\n|^  - (harms|not known whether)[^\n]*\n`)
}

// harmsNamed are words for what can hurt somebody.
func harmsNamed() []*regexp.Regexp {
	var out []*regexp.Regexp
	for _, s := range []string{"harms?\\b", "harmful to", "poison", "not known whether", "small children", "drown small", "mosquito", "buildings", "foundations", "basement", "neighbours' ground|and neighbours",
		"buried pipes", "cables", "septic", "wells", "steep", "slip", "runners", "seeds itself", "licensed", "sewer", "downspout", "fall in", "weeds somewhere"} {
		out = append(out, regexp.MustCompile(`(?i)\b(`+s+`)`))
	}
	return out
}

// What a command prints fits a screen of 24 lines by 80 columns, cautions apart,
// with the answer in its first three lines; its last line says how to have all.
// The figures are those of the issue that asked for it. It names every harm that
// the full text names, and each caution by its first sentence.
func TestFitsAScreen(t *testing.T) {
	t.Parallel()
	duluth := filepath.Join(t.TempDir(), "duluth")
	status, _, errs := ask(t, "", "start", duluth, "--near", "Duluth, MN", "--roof-area", "60 m2", "--length", "5 m", "--width", "4 m", "--soil", "10 mm/h")
	require.Zero(t, status, errs)
	gardens := [][]string{nil, {"--garden", pondStreet(t)}, {"--garden", duluth}}
	for i, garden := range gardens[:testenv.Of(1, len(gardens))] {
		harmful := [...]string{"snow-glassgill", "giant-murlip", "asclepias-incarnata"}[i]
		lines := map[string]string{
			"choose --why " + harmful: `^(Would live in|Not in|Not known of) the`, "find --show " + harmful: `^(Would live in|Not in|Not known of) the`,
			"choose": `^Plant \d+ plants`, "basin": `^This bed meets|checks could not be made|^Not yet`, "zones": `^One year in ten: up to`, "place": `^\d+ plants have their place`,
			"care": `^Planted \d{4}-\d\d-\d\d`, "find flower": `^\d+ plants in`, "find toxic": `^\d+ plants in`, "find --in bottom": `^\d+ plants in`,
		}
		if garden == nil { // the one with notes and a way in
			lines["move --plant MOD1"], lines["find --compare low-brindlewisp tall-lanternwick"] = `^Best: move it to`, `^plant  *Low Brindlewisp  *Tall Lanternwick`
			lines["move"], lines["basin --inlets"] = `^1 plant would do better elsewhere; \d+ plants stay`, `^Ways in: pipe not yet; swale yes \(taken\); surface yes`
		}
		for line, answer := range lines {
			at := line + " " + strings.Join(garden, " ")
			args := append(strings.Fields(line), garden...)
			status, short, errs := ask(t, "", args...)
			require.Zero(t, status, errs)
			status, full, errs := ask(t, "", append(args, "--all")...)
			require.Zero(t, status, errs)
			lines := strings.Split(strings.TrimSuffix(short, "\n"), "\n")
			for _, l := range lines {
				assert.LessOrEqual(t, text.StringWidthWithoutEscSequences(l), 80, "%s: %s", at, l)
			}
			assert.Regexp(t, "(?m)"+answer, strings.Join(lines[:3], "\n"), at)
			most := 24
			if strings.Contains(strings.Join(strings.Fields(short), " "), "not a record") {
				most = 30 // weather that is made says so on every screen
			}
			assert.LessOrEqual(t, strings.Count(cautionsIn().ReplaceAllString(short, ""), "\n"), most, "%s:\n%s", at, short)
			assert.Contains(t, lines[len(lines)-1], "--all", at)
			dropsNoHarm(t, at, short, full)
		}
	}
}

func dropsNoHarm(t *testing.T, at, short, full string) {
	words := strings.Join(strings.Fields(short), " ")
	for _, harm := range harmsNamed() {
		if harm.MatchString(full) {
			assert.Regexp(t, harm, words, at)
		}
	}
	for _, block := range cautionsIn().FindAllString(full, -1) {
		for _, item := range strings.Split(strings.Join(strings.Fields(block), " "), " - ")[1:] {
			first, _ := doc.First(item)
			assert.Contains(t, words, first, at)
		}
	}
	assert.Equal(t, strings.Count(full, "warning: "), strings.Count(short, "warning: "), at)
	hits := regexp.MustCompile(`(?m)^(  (?:- )?|.*: )(harms|not known whether it harms)\b`)
	assert.GreaterOrEqual(t, len(hits.FindAllString(short, -1)), len(hits.FindAllString(full, -1)), at)
}
