package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/maphash"
	"io"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/data"
	"hollowbed/plants/many"
)

// Real plants of a table of gardens are those of the state that each lies in,
// wherever the base garden does, and if that does not say where.
func TestBatchTakesPlantsOfEachState(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "base")
	status, _, errs := ask(t, "", "start", dir, "--near", "Duluth, MN", "--roof-area", "60 m2", "--soil", "10 mm/h")
	require.Zero(t, status, errs)
	for _, base := range []float64{-92.1, math.NaN()} {
		f, err := (&common{world: world{err: io.Discard}, garden: dir}).open()
		require.NoError(t, err)
		f.garden.Site.LongitudeDeg, f.garden.Weather.Station = base, ""
		var s many.Shared
		require.NoError(t, f.plantsOfAll(io.Discard, &s))
		for state, at := range map[string][2]float64{"AZ": {33.448, -112.074}, "ME": {44.8, -68.77}} {
			g := *f.garden
			g.Site.LatitudeDeg, g.Site.LongitudeDeg = at[0], at[1]
			here, err := s.State(&g)
			require.NoError(t, err)
			assert.Equal(t, state, here)
			assert.Equal(t, state, s.Plants(here, false).State)
		}
		g := *f.garden
		g.Site.LatitudeDeg, g.Site.LongitudeDeg = 51.5, 0 // London
		_, err = s.State(&g)
		assert.ErrorContains(t, err, "this lot lies elsewhere")
		assert.True(t, many.Faulty(err))
	}
}

// batchTables are the tables of gardens that the status cases name.
func batchTables(t testing.TB) map[string]string {
	tmp := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(tmp, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		return path
	}
	return map[string]string{
		"gardens": file("gardens.csv", "id,roof.area,soil.rate\nlot-1,900 sq ft,0.6 in/h\nlot-2,90 m2,\n"),
		"mixed":   file("mixed.csv", "id,roof.area,record\nlot-1,900 sq ft,\nlot-2,620,\nlot-3,,no/such.csv\n"),
		"badhead": file("head.csv", "id,rof.area\nlot-1,900 sq ft\n"), "norows": file("norows.csv", "id,roof.area\n"),
		"notours": file("notours.jsonl", "{\"a\":1}\n"),
	}
}

func batchCases() []statusCase {
	return []statusCase{
		{"zones --spread 3 --garden $good", 0, ``}, {"choose --robust --spread 3 --garden $good", 0, ``}, {"zones --spread 0", 2, `--spread: 0: want from 2`}, {"zones --spread many", 2, `--spread`},
		{"zones --spread 3 --roof-within=", 2, `--roof-within: "": want a value`}, {"zones --spread 3 --garden $dry", 2, `no weather record`}, {"zones --spread 3 --garden $plants", 2, `zones: "botom"`},
		{"choose --robust --garden $plants", 2, `zones: "botom"`}, {"choose --robust --soil-within 900", 2, `want a factor`}, {"choose --same-years", 2, `--same-years: want --robust`},
		{"place --robust --spread 3 --garden $good", 0, ``}, {"report --robust --spread 3 --garden $good", 0, ``}, {"place --soil-within 2", 2, `--soil-within: want --robust`}, {"report --spread 3", 2, `--spread: want --robust`},
		{"batch $gardens", 0, `invented demo garden`}, {"batch $gardens --garden $good --what basin --shard 2/2 --cores 1", 0, `^$`}, {"batch --help", 0, `^$`},
		{"batch", 2, `accepts 1 arg.*want hollowbed batch FILE`}, {"batch a b", 2, `accepts 1 arg`}, {"batch $gardens --nosuch", 2, `unknown flag`},
		{"batch $none", 2, `no such file: want a table of gardens`}, {"batch $good", 2, `is a folder`}, {"batch $norows", 2, `no rows: want a row`},
		{"batch $badhead", 2, `head.csv:1:4: rof: not a key of a garden file; did you mean roof\?`}, {"batch -", 2, `standard input:1:1: the file is empty: want a header line`},
		{"batch $gardens --what all", 2, `--what: "all": want basin, zones or choose`}, {"batch $gardens --cores 0", 2, `--cores: 0: want 1 or more`},
		{"batch $gardens --shard 3/2", 2, `--shard: "3/2": want i/n`}, {"batch $gardens --shard 0/2", 2, `want i/n`}, {"batch $gardens --shard x", 2, `want i/n`},
		{"batch $gardens --shard=", 2, `--shard: "": want a value`}, {"batch $gardens --what=", 2, `--what: "": want a value`}, {"batch $gardens --out=", 2, `--out: "": want a value`},
		{"batch $gardens --resume=", 2, `--resume: "": want a value`}, {"batch $gardens --garden=", 2, `--garden: "": want a value`},
		{"batch $gardens --out $out --resume $out", 2, `--out and --resume: want only one`}, {"batch $gardens --out $taken", 2, `is there already.*--resume`},
		{"batch $gardens --resume $notours --garden $good", 2, `notours.jsonl:1: want a line that batch wrote`}, {"batch $gardens --resume $demo", 2, `--resume: .*plants.csv: is a file of the garden in .*expected another name`},
		{"batch $gardens --garden $yaml", 2, `bed.length: "20": want`}, {"batch $gardens --garden $plants", 2, `zones: "botom"`}, {"batch $gardens --garden $folder", 2, `garden.yaml: is a folder`},
		{"batch $gardens --out $below --garden $good", 1, `below`}, {"batch $gardens --resume $below --garden $good", 1, `below`}, {"batch $below", 1, `below`},
		{"batch $gardens --what basin --out $new/b.jsonl --garden $good", 0, `lines for 2 gardens`}, {"batch $gardens --what basin --resume $new/b.jsonl --garden $good", 0, `going on`},
		{"batch $mixed --garden $good", 2, `(?s)mixed.csv:3:7: roof.area: "620": want.*mixed.csv:4:8: record: "no/such.csv": no such file.*2 of 3 rows left out`},
		{"batch $gardens --garden $rain --what zones", 2, `rain.csv:3:\d+: rain_mm: "wide"`}, {"batch $gardens --garden $dry --what zones", 2, `no weather record`},
		{"batch $gardens --garden $dry --what basin", 0, ``},
	}
}

// batchFile writes a table of n gardens, some of them faulty, and returns its
// name and the lines that one plain run gives.
func batchFile(t testing.TB, dir string, n int) (string, []string) {
	t.Helper()
	var text strings.Builder
	text.WriteString("id,roof.area,bed.length,soil.rate\n")
	for i := range n {
		area := fmt.Sprintf("%d m2", 40+7*i)
		if i%5 == 3 {
			area = "forty"
		}
		fmt.Fprintf(&text, "lot-%d,%s,%d ft,%d mm/h\n", i+1, area, 14+i%9, 5+i)
	}
	name := filepath.Join(dir, "table.csv")
	require.NoError(t, os.WriteFile(name, []byte(text.String()), 0o644))
	status, out, errs := ask(t, "", "batch", name, "--what", "basin", "--garden", shortGarden(t, dir))
	require.Equal(t, exitBad, status, errs)
	lines := strings.SplitAfter(strings.TrimSuffix(out, "\n"), "\n")
	require.Len(t, lines, n)
	lines[n-1] += "\n"
	return name, lines
}

// shortGarden is the demo with one year of rain, for speed.
func shortGarden(t testing.TB, dir string) string {
	t.Helper()
	garden := filepath.Join(dir, "garden")
	if _, err := os.Stat(garden); err == nil {
		return garden
	}
	require.NoError(t, os.Mkdir(garden, 0o755))
	for _, name := range []string{"garden.yaml", "rain.csv", "plants.csv"} {
		text, err := data.Files().Open(name)
		require.NoError(t, err)
		var all bytes.Buffer
		_, err = all.ReadFrom(text)
		require.NoError(t, err)
		content := all.String()
		if name == "rain.csv" {
			content = strings.Join(strings.SplitAfter(content, "\n")[:367], "")
		}
		require.NoError(t, os.WriteFile(filepath.Join(garden, name), []byte(content), 0o644))
	}
	return garden
}

// A line says the same of a garden as the commands for one garden do.
func TestBatchIsTheSingleCommands(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table := filepath.Join(dir, "one.csv")
	require.NoError(t, os.WriteFile(table, []byte("id,roof.area,bed.length,mix.depth\nlot-1,1000 sq ft,22 ft,14 in\n"), 0o644))
	status, out, errs := ask(t, "", "batch", table)
	require.Zero(t, status, errs)
	var line report.BatchLine
	require.NoError(t, json.Unmarshal([]byte(out), &line))

	files := spoilt(t, "garden.yaml", "area: 1240 sq ft", "area: 1000 sq ft")
	files["rain.csv"] = demoFile(t, "rain.csv") // all of it, as the batch has
	garden := gardenWith(t, files)
	for _, change := range [][2]string{{"length: 20 ft", "length: 22 ft"}, {"depth: 18 in", "depth: 14 in"}} {
		file := filepath.Join(garden, "garden.yaml")
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Contains(t, string(text), change[0])
		require.NoError(t, os.WriteFile(file, bytes.Replace(text, []byte(change[0]), []byte(change[1]), 1), 0o644))
	}
	get := func(doc any, args ...string) {
		status, out, errs := ask(t, "", append(args, "--json", "--garden", garden)...)
		require.Zero(t, status, errs)
		require.NoError(t, json.Unmarshal([]byte(out), doc))
	}
	var bed report.Basin
	get(&bed, "basin")
	assert.Equal(t, bed.BedAreaM2, line.Basin.BedAreaM2)
	assert.Equal(t, bed.Captured, line.Basin.Captured)
	require.Len(t, line.Basin.Checks, len(bed.Checks))
	for i, c := range bed.Checks {
		assert.Equal(t, report.BatchCheck{Name: c.Name, Known: c.Known, OK: c.OK, Found: c.Found, Wanted: c.Wanted}, line.Basin.Checks[i])
	}
	var zones report.Zones
	get(&zones, "zones")
	for i, z := range zones.Zones {
		assert.Equal(t, z.Wet.OneYearInTenH, line.Zones[i].WetH, z.Zone)
		assert.Equal(t, z.Dry.OneYearInTenD, line.Zones[i].DryD, z.Zone)
	}
	var list report.Choose
	get(&list, "choose")
	for _, note := range append(list.Notes, list.Cautions...) {
		if strings.HasPrefix(note, "layers (wishes.layers) cost") {
			continue // takes a second list, which is not made for hundreds of lots
		}
		assert.Contains(t, line.Notes, note)
	}
	require.Len(t, line.Planting.Lines, len(list.Lines))
	for i, l := range list.Lines {
		assert.Equal(t, report.BatchItem{Zone: l.Zone, ID: l.ID, Count: l.Count, YearlyRisk: l.YearlyRisk}, line.Planting.Lines[i])
	}
}

// What a person is told of one garden is in its line too: that the record may be
// wrong or has holes, what the list lacks, and which plants harm or run.
func TestBatchNotes(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	rain, err := os.ReadFile(filepath.Join(shortGarden(t, dir), "rain.csv"))
	require.NoError(t, err)
	days := strings.SplitAfter(string(rain), "\n")
	for i := 1; i < len(days) && days[i] != ""; i++ {
		cells := strings.Split(days[i], ",")
		cells[1] = "0"
		days[i] = strings.Join(cells, ",")
	}
	holes := append(strings.SplitAfter(string(rain), "\n")[:100:100], strings.SplitAfter(string(rain), "\n")[103:]...)
	table := filepath.Join(dir, "t.csv")
	for name, text := range map[string]string{
		"dry.csv": strings.Join(days, ""), "holes.csv": strings.Join(holes, ""),
		"t.csv": "id,record,site.latitude,wishes.no_toxic_to,wishes.no_runners\nplain,,,,\ndry,dry.csv,,,\nholes,holes.csv,,,\nsouth,,-35,,\nharm,,,[],no\nfolder,.,,,\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	status, out, errs := ask(t, "", "batch", table, "--garden", gardenWith(t, nil))
	assert.Equal(t, exitBad, status)
	assert.Contains(t, errs, "t.csv:7: "+dir+": is a folder: want a plain file")
	notes := map[string]string{}
	for line := range strings.Lines(out) {
		var doc report.BatchLine
		require.NoError(t, json.Unmarshal([]byte(line), &doc))
		notes[doc.ID] = strings.Join(doc.Notes, "\n")
	}
	assert.NotRegexp(t, "warning|8784|flower months|harmful|runners", notes["plain"])
	assert.Contains(t, notes["dry"], "warning: no rain at all in 366 days")
	assert.Contains(t, notes["holes"], "72 hours of 8784 missing from the record; spells end there")
	assert.Contains(t, notes["south"], "flower months are those of the plant table")
	assert.Regexp(t, "harmful to|spreads by runners", notes["harm"])
}

// Any split into shares gives, put in order again by the number each line
// begins with, the bytes of one run; and so does any number of cores.
func TestBatchShares(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table, want := batchFile(t, dir, 23)
	for _, n := range []int{1, 2, 3, 7, 30} {
		var got []string
		for i := 1; i <= n; i++ {
			status, out, errs := ask(t, "", "batch", table, "--what", "basin", "--garden", filepath.Join(dir, "garden"), "--shard", fmt.Sprintf("%d/%d", i, n), "--cores", strconv.Itoa(1+i%3))
			require.Contains(t, []int{exitDone, exitBad}, status, errs)
			got = append(got, strings.SplitAfter(out, "\n")...)
		}
		got = withoutEmpty(got)
		require.Len(t, got, len(want), "shares of %d: none twice, none left out", n)
		sort.Slice(got, func(a, b int) bool { return rowOf(t, got[a]) < rowOf(t, got[b]) })
		assert.Equal(t, want, got)
	}
}

func withoutEmpty(lines []string) []string {
	var out []string
	for _, l := range lines {
		if l != "" {
			out = append(out, l)
		}
	}
	return out
}

func rowOf(t testing.TB, line string) int {
	var has struct{ Row int }
	require.NoError(t, json.Unmarshal([]byte(line), &has), line)
	return has.Row
}

// The bar is for people at a terminal, and for them only.
func TestBatchBar(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table, _ := batchFile(t, dir, 6)
	for _, terminal := range []bool{true, false} {
		var out, errs bytes.Buffer
		run([]string{"batch", table, "--what", "basin", "--garden", filepath.Join(dir, "garden")}, world{
			in: strings.NewReader(""), out: &out, err: &errs, getenv: func(string) string { return "" }, now: time.Now, terminal: terminal,
		})
		assert.Equal(t, terminal, strings.Contains(errs.String(), "/6"), errs.String())
	}
}

// A full disk ends the run at once, and says how to go on.
func TestBatchFullDisk(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table, _ := batchFile(t, dir, 30)
	f := &full{takes: 3}
	status, errs := runInto(f, "batch", table, "--what", "basin", "--garden", filepath.Join(dir, "garden"))
	assert.Equal(t, exitFailed, status)
	assert.Contains(t, errs, "the output could not be written: no space left")
	assert.Less(t, f.got, 10, "the other rows are not worked out for nobody")
}

// Of a table without end no more than so many ids are kept.
func TestBatchForgetsIDs(t *testing.T) {
	t.Parallel()
	var errs bytes.Buffer
	rows := sharedRows{name: "t.csv", part: share{1, 1}, warn: &errs, lines: map[uint64]int{}, seed: maphash.MakeSeed()}
	for i := range 2*mostIDs + 10 {
		rows.twice(many.Row{Number: i + 1, Line: i + 2, ID: strconv.Itoa(i)})
		require.LessOrEqual(t, len(rows.lines), mostIDs)
	}
	require.Empty(t, errs.String())
	rows.twice(many.Row{Number: 1, Line: 9, ID: strconv.Itoa(2*mostIDs + 9)})
	assert.Contains(t, errs.String(), "t.csv:9: id: \"200009\": stands in line 200011 already")
}

// writesTo is an output by whose first line somebody writes to the table.
type writesTo struct {
	t     *testing.T
	table string
	once  bool
}

func (w *writesTo) Write(p []byte) (int, error) {
	if !w.once {
		f, err := os.OpenFile(w.table, os.O_APPEND|os.O_WRONLY, 0)
		require.NoError(w.t, err)
		_, err = f.WriteString("late,50 m2,14 ft,5 mm/h\n")
		require.NoError(w.t, errors.Join(err, f.Close()))
		w.once = true
	}
	return len(p), nil
}

// A table that is written to while it is worked out is told at the end.
func TestBatchTableChanges(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table := filepath.Join(dir, "t.csv")
	require.NoError(t, os.WriteFile(table, []byte("id,roof.area,bed.length,soil.rate\na,50 m2,14 ft,5 mm/h\n"), 0o644))
	status, errs := runInto(&writesTo{t: t, table: table}, "batch", table, "--what", "basin", "--garden", shortGarden(t, dir))
	assert.Equal(t, exitFailed, status)
	assert.Contains(t, errs, table+": was written to while it was read: run again when that is done")
}

// What stands in a table or in an id cannot disturb a terminal.
func TestBatchNaughty(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table := filepath.Join(dir, "t.csv")
	require.NoError(t, os.WriteFile(table, []byte("id,roof.area\n\x1b[31mred\u202e,\x1b[2J\n"), 0o644))
	status, out, errs := ask(t, "", "batch", table, "--what", "basin")
	assert.Equal(t, exitBad, status)
	assert.NotContains(t, out+errs, "\x1b")
	assert.NotContains(t, out, "\u202e")
	var line report.BatchLine
	require.NoError(t, json.Unmarshal([]byte(out), &line))
	assert.Equal(t, "\x1b[31mred\u202e", line.ID, "a reader gets it back")
}
