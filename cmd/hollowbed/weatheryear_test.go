package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// newYorkDays are days of the real record of New York, as date,rain_mm,tmax_c,
// tmin_c; without the zero months' rain.
func newYorkDays(t *testing.T, from, to string, zero ...string) string {
	t.Helper()
	in, err := os.Open(filepath.Join(repo, "testdata/records", dailyFile))
	require.NoError(t, err)
	defer in.Close()
	rows, err := csv.NewReader(in).ReadAll()
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("date,rain_mm,tmax_c,tmin_c\n")
	for _, row := range rows {
		if row[0] != "New York" || row[1] < from || row[1] > to {
			continue
		}
		if slices.Contains(zero, row[1][:7]) {
			row[2] = "0.0"
		}
		fmt.Fprintln(&b, strings.Join(row[1:5], ","))
	}
	return b.String()
}

// One year from July to June is a year, for every command that rests on one.
func TestOneYearFromJulyWillDo(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, map[string]string{"rain.csv": newYorkDays(t, "2012-07-01", "2013-06-30")})
	page := filepath.Join(t.TempDir(), "page.html")
	for _, args := range [][]string{{"zones", "--all"}, {"zones", "--years"}, {"choose"}, {"place"}, {"care", "--planted", "2013-04-10"}, {"report", "--out", page}} {
		var out bytes.Buffer
		status, errs := runInto(&out, append(args, "--garden", dir)...)
		assert.Zero(t, status, "%s: %s", args[0], errs)
		switch args[len(args)-1] {
		case "--all":
			assert.Contains(t, out.String(), "1 whole year,")
			assert.Contains(t, out.String(), "years are counted from 1 July, the day on which the record begins")
		case "--years":
			assert.Contains(t, out.String(), "\n2012/13 ")
		}
	}
}

// Two winters of zeros among four years: told with their dates and taken as
// missing, in zones, its JSON and weather; real where the garden file says so.
func TestWinterOfZerosIsMissing(t *testing.T) {
	t.Parallel()
	files := map[string]string{"rain.csv": newYorkDays(t, "2012-01-01", "2015-12-31", "2013-12", "2014-01", "2014-02")}
	dir := gardenWith(t, files)
	const told = "no rain at all from 2013-11-28 to 2014-03-02, 95 days"
	var out bytes.Buffer
	status, errs := runInto(&out, "zones", "--garden", dir)
	require.Zero(t, status, errs)
	words := strings.Join(strings.Fields(out.String()+errs), " ")
	assert.Contains(t, words, told)
	assert.NotContains(t, words, "none missing")
	out.Reset()
	status, _ = runInto(&out, "weather", filepath.Join(dir, "rain.csv"), "--garden", dir, "--set", "zeros=real")
	require.Zero(t, status)
	assert.NotContains(t, out.String(), told[:20])
	assert.Contains(t, out.String(), "  zeros: real\n")
}
