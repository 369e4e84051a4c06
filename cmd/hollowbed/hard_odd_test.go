package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// oddFiles are the files of a garden and a command line that reads each.
func oddFiles() map[string][]string {
	return map[string][]string{
		"garden.yaml": {"basin"}, "plants.csv": {"choose"}, "rain.csv": {"zones"}, "planted.csv": {"place"}, "season.csv": {"note", "--list"},
	}
}

// A folder or a link that leads in a circle in place of a file is bad input, and
// says which file; of the record also where the garden file names it.
func TestNoPlainFile(t *testing.T) {
	t.Parallel()
	for what, put := range map[string]func(file string) error{
		"a folder":                               func(file string) error { return os.Mkdir(file, 0o700) },
		"a symbolic link that leads in a circle": func(file string) error { return os.Symlink(filepath.Base(file), file) },
	} {
		for name, line := range oddFiles() {
			dir := gardenWith(t, nil)
			file := filepath.Join(dir, name)
			_ = os.Remove(file)
			require.NoError(t, put(file))
			status, out, errs := ask(t, "", append(line, "--garden", dir)...)
			assert.Equal(t, exitBad, status, "%s: %s", name, errs)
			assert.Empty(t, out)
			want := regexp.QuoteMeta(name) + ": is "
			if name == "rain.csv" {
				want = `garden.yaml:\d+:9: weather.file: "rain.csv": is `
			}
			assert.Regexp(t, want+what+": want a plain file", errs)
		}
	}
	for _, name := range []string{".", "sub", "round.csv"} {
		dir := gardenWith(t, spoilt(t, "garden.yaml", "file: rain.csv", "file: "+name))
		require.NoError(t, os.Mkdir(filepath.Join(dir, "sub"), 0o700))
		require.NoError(t, os.Symlink("round.csv", filepath.Join(dir, "round.csv")))
		status, _, errs := ask(t, "", "zones", "--garden", dir)
		assert.Equal(t, exitBad, status, errs)
		assert.Regexp(t, `garden.yaml:\d+:9: weather.file: "`+name+`": is a (folder|symbolic link that leads in a circle): want a plain file`, errs)
		for _, option := range []string{"--so-far", "--learned", "--plants"} {
			line := map[string][]string{"--so-far": {"care", "--planted", "2024-10-01"}, "--learned": {"choose"}, "--plants": {"find", "blue"}}[option]
			status, _, errs := ask(t, "", append(line, option, filepath.Join(dir, name))...)
			assert.Equal(t, exitBad, status, errs)
			assert.Regexp(t, `is a (folder|symbolic link that leads in a circle): want a`, errs)
		}
	}
}

// A header of 100,000 columns that nobody knows is answered in about a second,
// in a few short lines; it took over a minute to compare each with each.
func TestHeaderOfManyColumns(t *testing.T) {
	var b strings.Builder
	for i := range testenv.Of(20_000, 100_000) {
		fmt.Fprintf(&b, ",col%dx", i)
	}
	many := b.String()
	for name, line := range oddFiles() {
		if name == "garden.yaml" {
			continue
		}
		for _, head := range []string{"x", "id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm,date,rain_mm,stake,kind,x_m,y_m"} {
			dir := gardenWith(t, map[string]string{name: head + many + "\n"})
			quick(t, name, append(line, "--garden", dir)...)
		}
	}
	file := filepath.Join(t.TempDir(), "gardens.csv")
	require.NoError(t, os.WriteFile(file, []byte("id"+many+"\nx\n"), 0o600))
	quick(t, "gardens", "batch", file, "--what", "basin")
}

func quick(t *testing.T, name string, line ...string) {
	t.Helper()
	began := time.Now()
	status, _, errs := ask(t, "", line...)
	took := time.Since(began)
	assert.Equal(t, exitBad, status, "%s: %.300s", name, errs)
	assert.Less(t, len(errs), 2000, "%s: %.3000s", name, errs)
	assert.Less(t, took, 15*time.Second, name) // a second on an idle machine; 60 before
}

// A place far off and a day that cannot be meant are warned of; the plants are
// kept as they were.
func TestUnlikelyPlanted(t *testing.T) {
	t.Parallel()
	const rows = "stake,id,x_m,y_m,planted\nA1,amphibious-otterveil,3.05,2.1,1600-05-01\nA2,amphibious-otterveil,103,2.1,2099-05-01\nA3,amphibious-otterveil,4.2,2.6,2025-10-04\n"
	dir := gardenWith(t, map[string]string{"planted.csv": rows})
	status, _, errs := ask(t, "", "move", "--garden", dir)
	assert.Zero(t, status, errs)
	assert.Contains(t, errs, `planted.csv:2: planted: "1600-05-01": A1 was planted more than 100 years ago: is the year right?`)
	assert.Regexp(t, `planted.csv:3: x_m,y_m: "103,2.1": A2 is 9\d\.?\d* m outside the bed`, errs)
	assert.Contains(t, errs, `planted.csv:3: planted: "2099-05-01": A2 is planted more than a year ahead`)
	assert.NotContains(t, errs, "A3")
}

// The warm half of a year tells the hemisphere.
func TestRecordOfOtherHemisphere(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, spoilt(t, "garden.yaml", "latitude: 41.5", "latitude: -41.5"))
	status, out, errs := ask(t, "", "zones", "--garden", dir)
	assert.Zero(t, status, errs)
	assert.Regexp(t, `warm in the winter of\s+latitude -41.5`, out)
	_, out, _ = ask(t, "", "zones", "--garden", gardenWith(t, nil))
	assert.NotContains(t, out, "warm in the")
}
