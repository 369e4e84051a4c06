package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hollowbed/zones"
	"hollowbed/zones/site"
)

const (
	dailyFile  = "seattle-newyork-daily-2012-2015.csv"
	hourlyFile = "newyork-hourly-2013.csv"
)

// TestTrust computes the table of data/TRUST.md anew:
// one lot under every real record, and one year by the hour and by the day.
func TestTrust(t *testing.T) {
	path := filepath.Join(repo, "data/TRUST.md")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(text), "<!-- trust: begin -->\n")
	require.True(t, ok)
	table, after, ok := strings.Cut(rest, "<!-- trust: end -->")
	require.True(t, ok)
	want := trustTable(t)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(path, []byte(before+"<!-- trust: begin -->\n"+want+"<!-- trust: end -->"+after), 0o644))
		return
	}
	require.Equal(t, want, table, "UPDATE_GOLDEN=1 go test ./cmd/hollowbed writes the table anew")
}

func trustTable(t *testing.T) string {
	t.Helper()
	newYork, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	daily := site.Format{RainUnit: "mm", TempUnit: "C"}
	var b strings.Builder
	b.WriteString("| record | years | bottom: wet, dry | top of the slope: wet, dry | rim: wet, dry | roof water kept |\n| --- | --- | --- | --- | --- | --- |\n")
	row := func(name string, rec *site.Record, lat float64) { b.WriteString(trustRow(t, name, rec, lat)) }

	daily.Where = map[string]string{"location": "Seattle"}
	row("Seattle, daily 2012-2015", readRecord(t, dailyFile, daily, 47.6, ""), 47.6)
	daily.Where = map[string]string{"location": "New York"}
	row("New York, daily 2012-2015", readRecord(t, dailyFile, daily, 40.7, ""), 40.7)
	row("New York, daily, 2013 alone", readRecord(t, dailyFile, daily, 40.7, "2013-"), 40.7)
	for _, airport := range []string{"JFK", "LGA", "EWR"} {
		rec := readHourly(t, airport, newYork)
		row(airport+", hourly 2013", rec, 40.7)
		if airport != "JFK" {
			continue
		}
		for _, pattern := range site.Patterns() {
			row("JFK 2013, the same rain by the day, spread by "+pattern, byDay(t, rec, pattern), 40.7)
		}
	}
	return b.String()
}

func readRecord(t *testing.T, file string, f site.Format, lat float64, year string) *site.Record {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(repo, "testdata/records", file))
	require.NoError(t, err)
	if year != "" {
		var kept []string
		for i, line := range strings.Split(string(text), "\n") {
			if i == 0 || strings.Contains(line, year) {
				kept = append(kept, line)
			}
		}
		text = []byte(strings.Join(kept, "\n"))
	}
	rec, err := site.ReadRecord(file, strings.NewReader(string(text)), f, lat)
	require.NoError(t, err)
	return rec
}

func readHourly(t *testing.T, airport string, zone *time.Location) *site.Record {
	return readRecord(t, hourlyFile, site.Format{
		Where: map[string]string{"origin": airport}, Clock: "utc", Zone: zone, Missing: []string{"NA"},
	}, 40.7, "")
}

// byDay sums an hourly record to days and reads it again as a daily one.
func byDay(t *testing.T, r *site.Record, pattern string) *site.Record {
	t.Helper()
	var b strings.Builder
	b.WriteString("date,rain_mm,tmin_c,tmax_c\n")
	for d, day := range r.Days {
		sum := 0.0
		for h := 24 * d; h < 24*d+24; h++ {
			sum += r.RainMM[h] // an hour without a value adds nothing here, as in a gauge read once a day
		}
		fmt.Fprintf(&b, "%s,%.4f,%.2f,%.2f\n", r.Start.AddDate(0, 0, d).Format("2006-01-02"), sum, day.TMinC, day.TMaxC)
	}
	out, err := site.ReadRecord("by day", strings.NewReader(b.String()), site.Format{Step: "daily", Pattern: pattern}, 40.7)
	require.NoError(t, err)
	return out
}

func trustRow(t *testing.T, name string, rec *site.Record, lat float64) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(repo, "testdata/trust/garden.yaml"))
	require.NoError(t, err)
	g, err := zones.ReadGarden("garden.yaml", strings.NewReader(string(text)))
	require.NoError(t, err)
	g.Site.LatitudeDeg = lat
	lot, err := zones.Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	cell := func(band int) string {
		x := e.Bands[band]
		return fmt.Sprintf("%.0f h, %.0f d", x.WetOneInTenH, x.DryOneInTenD)
	}
	top := 0
	for i, band := range e.Bands {
		if band.Zone == "slope" {
			top = i
		}
	}
	return fmt.Sprintf("| %s | %d | %s | %s | %s | %.0f %% |\n", name, e.Record.Years, cell(0), cell(top), cell(len(e.Bands)-1), 100*e.Run.Balance.CapturedFraction())
}
