package main

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/data"
)

// clay is the demo on ground that takes 1 mm/h: even 40 mm of water, the
// shallowest pond that sizing proposes, stands for 80 h with the safety factor.
func clay(t *testing.T) map[string]string {
	t.Helper()
	text := demoFile(t, "garden.yaml")
	from, to := strings.Index(text, "\nsoil:"), strings.Index(text, "\nmix:")
	require.Less(t, 0, from)
	require.Less(t, from, to)
	return map[string]string{"garden.yaml": text[:from] + "\nsoil:\n  texture: clay\n  rate: 1 mm/h\n" + text[to:]}
}

const undrained = "no bed drains in time on this ground: at 0.02 in/h even 1.6 in of water would stand for 3.3 d, at most 24 h wanted. No plant makes up for that: a licensed person would consider an underdrain with somewhere to go, a larger or shallower bed, or another place. A soak test on the spot comes first"

// On bare ground in clay nothing is offered, and the reason comes first; what
// looks at bed and water still works.
func TestClayOffersNoPlants(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, clay(t))
	for _, args := range []string{"choose", "choose --why amphibious-otterveil", "place", "care", "report"} {
		var out bytes.Buffer
		status, errs := runInto(&out, append(strings.Fields(args), "--garden", dir)...)
		assert.Equal(t, 1, status, args)
		assert.Empty(t, out.String(), args)
		assert.Equal(t, "hollowbed: "+undrained+"\n", errs, args)
	}
	assert.NoFileExists(t, filepath.Join(dir, "planted.csv"))
	for _, args := range []string{"zones", "basin --size"} {
		var out bytes.Buffer
		status, errs := runInto(&out, append(strings.Fields(args), "--garden", dir)...)
		assert.Zero(t, status, errs)
	}
	rows := filepath.Join(t.TempDir(), "rows.csv")
	require.NoError(t, os.WriteFile(rows, []byte("id,soil.rate\na,1 mm/h\nb,20 mm/h\n"), 0o600))
	var out bytes.Buffer
	status, _ := runInto(&out, "batch", rows, "--garden", dir, "--what", "choose")
	assert.Equal(t, exitBad, status)
	var line struct{ Error []string }
	first, second, _ := strings.Cut(out.String(), "\n")
	require.NoError(t, json.Unmarshal([]byte(first), &line))
	require.Len(t, line.Error, 1)
	assert.Contains(t, line.Error[0], undrained)
	assert.NotContains(t, second, undrained)
}

// Where plants stand already, care and move work, and warn.
func TestClayWithPlantsStandingWarns(t *testing.T) {
	t.Parallel()
	files := clay(t)
	for _, name := range []string{"planted.csv", "season.csv"} {
		text, err := fs.ReadFile(data.Season(), name)
		require.NoError(t, err)
		files[name] = string(text)
	}
	dir := gardenWith(t, files)
	for _, args := range []string{"care", "care --json", "move --date 2024-10-05", "choose"} {
		var out bytes.Buffer
		status, errs := runInto(&out, append(strings.Fields(args), "--garden", dir)...)
		assert.Zero(t, status, errs)
		assert.Contains(t, strings.Join(strings.Fields(out.String()), " "), "warning: "+undrained, args)
	}
}
