package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/testdata/testenv"
)

// sixGardens are gardens unlike each other, by the answers of start; the demo has none.
func sixGardens() [][]string {
	ordinary := func(name, near, soil string, more ...string) []string {
		return append([]string{name, "--near", near, "--soil", soil, "--units", "metric", "--length", "5 m", "--width", "4 m"}, more...)
	}
	return [][]string{
		{"the demo"},
		ordinary("README's lot, Duluth", "Duluth, MN", "10 mm/h", "--roof-area", "60 m2"),
		{"L in clay, Columbus", "--near", "Columbus, OH", "--soil", "clay", "--units", "metric", "--roof-area", "100 m2", "--shape", "L", "--length", "8 m", "--width", "6 m", "--cut-length", "4 m", "--cut-width", "3 m"},
		ordinary("hot and dry, Phoenix", "Phoenix, AZ", "20 mm/h", "--roof-area", "100 m2"),
		ordinary("cold, International Falls", "International Falls, MN", "6 mm/h", "--roof-area", "100 m2"),
		ordinary("wet winter, Seattle", "Seattle, WA", "6 mm/h", "--roof-area", "100 m2"),
	}
}

// TestSixGardens holds the table in data/METHOD.md, so that a change of the water, of
// what plants bear or of how lists are made shows there in what it moved:
// HOLLOWBED_HEAVY=1 UPDATE_GOLDEN=1 go test ./cmd/hollowbed -run TestSixGardens
// writes it anew. An ordinary run takes the first two.
func TestSixGardens(t *testing.T) {
	testenv.NotRaced(t)
	text := "| garden | bottom: wet, short of air, dry | rim: dry | kept | kinds that fit bottom, slope, rim | list |\n| --- | --- | --- | --- | --- | --- |\n"
	for _, garden := range sixGardens()[:testenv.Of(2, 6)] {
		text += rowOfGarden(t, garden)
	}
	const file, begin, end = "../../data/METHOD.md", "<!-- six gardens: begin -->\n", "<!-- six gardens: end -->"
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(page), begin)
	require.True(t, ok)
	kept, after, ok := strings.Cut(rest, end)
	require.True(t, ok)
	if !testenv.Heavy() {
		assert.True(t, strings.HasPrefix(kept, text), "not as kept:\n%s", text)
		return
	}
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, []byte(before+begin+text+end+after), 0o644))
		return
	}
	assert.Equal(t, kept, text)
}

func rowOfGarden(t *testing.T, garden []string) string {
	var in []string
	if answers := garden[1:]; len(answers) > 0 {
		dir := filepath.Join(t.TempDir(), "lot")
		status, _, errs := ask(t, "", append([]string{"start", dir}, answers...)...)
		require.Zero(t, status, errs)
		in = []string{"--garden", dir}
	}
	status, out, errs := ask(t, "", append([]string{"zones", "--json"}, in...)...)
	require.Zero(t, status, errs)
	var z report.Zones
	require.NoError(t, json.Unmarshal([]byte(out), &z))
	require.Len(t, z.Zones, 3)
	bottom, rim := z.Zones[0], z.Zones[2]
	row := fmt.Sprintf("| %s | %.0f h, %.0f h, %.0f d | %.0f d | %.1f %% | ", garden[0], bottom.Wet.OneYearInTenH, bottom.Wet.AirPoorOneInTenH, bottom.Dry.OneYearInTenD, rim.Dry.OneYearInTenD, 100*z.Captured)

	status, out, errs = ask(t, "", append([]string{"choose", "--json"}, in...)...)
	if status == 1 && strings.Contains(errs, "no bed drains in time") {
		return row + "none is offered | no bed drains in time |\n"
	}
	require.Zero(t, status, errs)
	var c report.Choose
	require.NoError(t, json.Unmarshal([]byte(out), &c))
	kinds, plants, offered := map[string]bool{}, 0, []string{}
	for _, l := range c.Lines {
		kinds[l.ID] = true
		plants += l.Count
	}
	for _, f := range c.Zones {
		offered = append(offered, fmt.Sprint(f.Offered))
	}
	return row + fmt.Sprintf("%s | %d plants of %d kinds |\n", strings.Join(offered, ", "), plants, len(kinds))
}
