package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants/season"
)

const fewPlanted = "stake,id,x_m,y_m,planted,zone\nA1,low-brindlewisp,3.0,2.1,2024-05-01,bottom\nA2,low-brindlewisp,3.4,2.1,2024-05-01,bottom\n"

// noteCases are status cases of the command note.
func noteCases() []statusCase {
	cases := []statusCase{
		{"note --list", 0, `invented demo garden`}, {"note --list --json", 0, ``}, {"note --list COW1", 0, ``}, {"note --help", 0, `^$`},
		{"note", 2, `the demo stays as it is: want --garden DIR`}, {"note COW1 3", 2, `the demo stays as it is`},
		{"note A1 4 yellow --garden $stands", 0, `^$`}, {"note A1 3 soil soggy not eaten --json --garden $stands", 0, `^$`},
		{"note bottom --water 10L --garden $stands", 0, `^$`}, {"note A1 --remark odd --garden $stands", 0, `^$`},
		{"note A1 5 --corrects 1 --garden $stands", 0, `^$`}, {"note --strike 2 --garden $stands", 0, `^$`},
		{"note --from $notes --garden $stands", 0, `^$`},
		{"note --nosuch", 2, `unknown flag: --nosuch: see hollowbed note --help`},
		{"note --garden $stands", 2, `want the stake of the plant and how it does`},
		{"note A9 3 --garden $stands", 2, `"A9": want a stake of .*planted.csv`}, {"note A1 --garden $stands", 2, `vigour: want a vigour from 0 to 5, signs or a remark`},
		{"note A1 6 --garden $stands", 2, `vigour: "6": want a whole number from 0`}, {"note A1 3.5 --garden $stands", 2, `vigour: "3.5"`},
		{"note A1 not yellow, pale --garden $stands", 2, `signs: "pale": want a sign, such as yellow`}, {"note A1 yelow --garden $stands", 2, `signs: "yelow".*did you mean yellow`}, {"note bottom 3 --garden $stands", 2, `want the stake of one plant`},
		{"note A1 --water 10 --garden $stands", 2, `--water: "10": want an amount of water with its unit`},
		{"note A1 3 --water 10L --garden $stands", 2, `--water: want the stake alone with it`}, {"note A1 3 --date 12.5.2024 --garden $stands", 2, `--date: "12.5.2024": want a date`}, {"note A1 3 --date 2031-01-01 --garden $stands", 2, `lies ahead`},
		{"note --strike 99 --garden $stands", 2, `--strike: 99: want the number of an entry`}, {"note A1 3 --corrects 99 --garden $stands", 2, `corrects: "99"`},
		{"note --strike 1 A1 --garden $stands", 2, `--strike stands alone`}, {"note --from $notes A1 --garden $stands", 2, `--from stands alone`},
		{"note --list A1 A2", 2, `want one stake or none`}, {"note --water 10L --garden $stands", 2, `want the stake of the plant`},
		{"note --from $none --garden $stands", 2, `no such file`}, {"note --from $badnotes --garden $stands", 2, `badnotes.csv:2:\d+: vigour: "9"`},
		{"note --from $strange --garden $stands", 2, `strange.csv:2: stake: "Z1": want a stake of`},
		{"note A1 3 --garden $good", 2, `nothing is known to stand here: want a planted.csv`}, {"note A1 3 --garden $planted", 2, `planted.csv:2:\d+: x_m: "wide"`},
		{"note A1 3 --garden $none", 2, `want a folder that holds a garden.yaml`}, {"note --remark=", 2, `--remark: "": want a value`},
		{"note A1 3 --garden $torn", 2, `season.csv:3:1: .*this line is cut off`}, {"note A1 3 --garden $badseason", 2, `season.csv:2:\d+: vigour: "9"`},
	}
	return append(cases, moveCases()...)
}

// moveCases are those of the command move, and of what it learned.
func moveCases() []statusCase {
	cases := []statusCase{
		{"move", 0, `invented demo garden`}, {"move --help", 0, `^$`}, {"move --json --garden $stands", 0, ``}, {"move --plant a1 --garden $stands", 0, ``}, {"move --seasons 1 --units metric --garden $stands", 0, ``},
		{"move --garden $stands --date 2024-10-01", 0, `^$`}, {"move --plan $out --garden $stands", 0, ``}, {"move --learn $out --garden $stands", 0, ``}, {"move --from $stands", 0, ``},
		{"move --nosuch", 2, `unknown flag: --nosuch: see hollowbed move --help`}, {"move surplus", 2, `surplus.*want hollowbed move`},
		{"move --seasons 0", 2, `--seasons: 0: want 1 to 20`}, {"move --seasons many", 2, `--seasons`}, {"move --only 1", 2, `--only: want --apply with it`},
		{"move --plant COW1 --learn $out", 2, `--plant only ranks places`}, {"move --plant XX1 --garden $stands", 2, `"XX1": want the stake of a plant`}, {"move --plant=", 2, `--plant: "": want a value`},
		{"move --apply", 2, `the demo stays as it is`}, {"move --date tomorrow", 2, `--date: "tomorrow": want a date`}, {"move --from $none", 2, `--from: .*want a folder`},
		{"move --from $stands --garden $stands", 2, `is this garden: want another`}, {"move --so-far $none --garden $stands", 2, `no such file`},
		{"move --garden $good", 2, `nothing is known to stand here`}, {"move --garden $planted", 2, `planted.csv:2:\d+: x_m: "wide"`}, {"move --garden $badseason", 2, `season.csv:2:\d+: vigour: "9"`},
		{"move --garden $none", 2, `want a folder that holds a garden.yaml`}, {"move --garden $torn --date 2024-10-01", 0, `this line is cut off`},
		{"move --plan $below --garden $stands", 1, `below`}, {"move --learn $below --garden $stands", 1, `below`},
	}
	for _, cmd := range []string{"choose", "find", "place", "care"} {
		cases = append(cases, statusCase{cmd + " --learned $none", 2, `none: no such file: want a file of learned limits`}, statusCase{cmd + " --learned $notes", 2, `notes.csv:1:`},
			statusCase{cmd + " --learned $learned --garden $good", 0, ``})
	}
	return append(cases, statusCase{"find --plants $demo --learned $learned", 2, `want no --plants with it`})
}

// notePaths are the folders and files that those name.
func notePaths(t testing.TB) map[string]string {
	tmp := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(tmp, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		return path
	}
	const head = "entry,date,stake,kind,vigour,signs\n"
	return map[string]string{
		"stands": gardenWith(t, map[string]string{"planted.csv": fewPlanted}),
		"torn":   gardenWith(t, map[string]string{"planted.csv": fewPlanted, "season.csv": head + "1,2024-06-01,A1,seen,3,\n2,2024-06-02,A2,se"}),

		"badseason": gardenWith(t, map[string]string{"planted.csv": fewPlanted, "season.csv": head + "1,2024-06-01,A1,seen,9,\n"}),
		"learned":   file("learned.csv", "id,limit,catalogue,learned,low,high,plants,gardens\nlow-brindlewisp,dry_d,20,40,30,50,3,1\n"),
		"notes":     file("notes.csv", "date,stake,vigour,signs\n2024-06-03,a1,2,yellow\n2024-06-03,a2,4,\n"),
		"badnotes":  file("badnotes.csv", "date,stake,vigour\n2024-06-03,A1,9\n"), "strange": file("strange.csv", "date,stake,vigour\n2024-06-03,Z1,2\n"),
	}
}

// A remark is some pages at most, whoever adds it, and nothing is written of a
// longer one.
func TestNoteRemarkBound(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, map[string]string{"planted.csv": fewPlanted})
	long, table := strings.Repeat("x", season.MostRemark+1), filepath.Join(t.TempDir(), "long.csv")
	require.NoError(t, os.WriteFile(table, []byte("date,stake,vigour,remark\n2024-06-03,A1,2,"+strings.Repeat("x", 900_000)+"\n"), 0o644))
	for place, args := range map[string][]string{"": {"A1", "--remark", long}, table + ":2: ": {"--from", table}} {
		status, _, errs := ask(t, "", append([]string{"note", "--garden", dir}, args...)...)
		assert.Equal(t, exitBad, status, args[0])
		assert.Contains(t, errs, "hollowbed: "+place+`remark: "xxxx`)
		assert.Contains(t, errs, "expected a remark of at most 4000 characters, not ")
		assert.Less(t, len(errs), 1000)
	}
	status, _, errs := ask(t, "A1\n3\n"+long+"\n\n", "note", "--garden", dir)
	assert.Zero(t, status)
	assert.Contains(t, errs, "not written: remark: ")
	assert.NoFileExists(t, filepath.Join(dir, "season.csv"))
	status, _, errs = ask(t, "", "note", "--garden", dir, "A1", "--remark", strings.Repeat("é", season.MostRemark))
	assert.Zero(t, status, errs)
}

func notes(t testing.TB, dir string) *season.Notes {
	t.Helper()
	file, err := os.Open(filepath.Join(dir, "season.csv"))
	require.NoError(t, err)
	defer file.Close()
	rec, err := season.Read("season.csv", file)
	require.NoError(t, err)
	return rec
}

// On a terminal it asks; each entry is written before the next is asked for,
// and what cannot be is told and asked again.
func TestNoteAsks(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, map[string]string{"planted.csv": fewPlanted})
	status, out, errs := ask(t, "A1\n2 yellow soil soggy\nby the pipe\nA7\nA2\n8\n4\n\na1 3, wilted\n\n\n", "note", "--garden", dir, "--date", "2024-06-01")
	require.Zero(t, status, errs)
	assert.Contains(t, errs, `not written: "A7": want a stake`)
	assert.Contains(t, errs, `vigour: "8": want a whole number`)
	assert.Contains(t, out, "Wrote 3 entries")
	rec := notes(t, dir).Current()
	require.Len(t, rec, 3)
	assert.Equal(t, "A1", rec[0].Stake)
	assert.Equal(t, []season.Sign{"yellow", "soil soggy"}, rec[0].Signs)
	assert.Equal(t, "by the pipe", rec[0].Remark)
	assert.Equal(t, 4, rec[1].Vigour)
	assert.Equal(t, []season.Sign{"wilted"}, rec[2].Signs, "all in one line")

	// The input ends after an entry that cannot be: what was told before is kept.
	status, _, errs = ask(t, "A1\n1 dead\n", "note", "--garden", dir)
	assert.Zero(t, status)
	assert.Contains(t, errs, "not written")
	assert.Len(t, notes(t, dir).Current(), 3)

	// It ends behind the last word, without a line end: what was told is kept.
	status, _, errs = ask(t, "A2 2 yellow", "note", "--garden", dir)
	assert.Zero(t, status, errs)
	assert.Len(t, notes(t, dir).Current(), 4)
}

// A correction stands in place of its entry, a struck one is gone, and the file
// still holds all that was ever written.
func TestNoteCorrects(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, map[string]string{"planted.csv": fewPlanted})
	for _, line := range []string{"A1 2 yellow", "A2 3", "A1 4 --corrects 1", "--strike 2"} {
		status, _, errs := ask(t, "", append([]string{"note", "--garden", dir, "--date", "2024-06-01"}, strings.Fields(line)...)...)
		require.Zero(t, status, "%s: %s", line, errs)
	}
	rec := notes(t, dir)
	assert.Len(t, rec.Entries, 4)
	require.Len(t, rec.Current(), 1)
	assert.Equal(t, 4, rec.Current()[0].Vigour)
}

// Many at once lose nothing.
func TestNoteAtOnce(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, map[string]string{"planted.csv": fewPlanted})
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			status, errs := runInto(&strings.Builder{}, "note", "A1", "3", "--garden", dir)
			assert.Zero(t, status, errs)
		})
	}
	all.Wait()
	assert.Len(t, notes(t, dir).Entries, 8)
}

// The same table twice adds its entries once.
func TestNoteFromTwice(t *testing.T) {
	t.Parallel()
	paths := notePaths(t)
	for i, want := range []string{"Wrote 2 entries", "2 entries stood there already"} {
		status, out, errs := ask(t, "", "note", "--garden", paths["stands"], "--from", paths["notes"])
		require.Zero(t, status, errs)
		assert.Contains(t, out, want, i)
	}
	assert.Len(t, notes(t, paths["stands"]).Entries, 2)
}

// On a phone of 40 columns nothing that note and move say is wider.
func TestPhone(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{{"note", "--list"}, {"move"}, {"move", "--plant", "COW1"}} {
		var b bytes.Buffer
		status, errs := runInto(report.Paper{Writer: &b, Columns: 40}, args...)
		require.Zero(t, status, errs)
		for line := range strings.Lines(b.String()) {
			assert.LessOrEqual(t, len(strings.TrimSuffix(line, "\n")), 40, "%s: %s", args, line)
		}
	}
}
