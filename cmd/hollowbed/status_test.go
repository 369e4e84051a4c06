package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/data"
	"hollowbed/testdata/testenv"
)

// runInto runs one command line in this process with a given standard output.
func runInto(out io.Writer, args ...string) (status int, errs string) {
	var stderr bytes.Buffer
	status = run(args, world{
		in: strings.NewReader(""), out: out, err: &stderr,
		getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC) },
	})
	return status, stderr.String()
}

// gardenWith copies the demo garden to a new folder, with the last four years of
// its record and a few plants alone: these do, in a fifth of the time, where
// figures are not what is looked at. files replace or add to it by name.
func gardenWith(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	all := small(t)
	maps.Copy(all, files)
	for name, text := range all {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	return dir
}

// small are the files of a garden that takes little to work out.
func small(t testing.TB) map[string]string {
	t.Helper()
	files := spoilt(t, "garden.yaml", "budget: 900", "budget: 200")
	files["plants.csv"], files["rain.csv"] = demoFile(t, "plants.csv"), lately()
	return files
}

func demoFile(t testing.TB, name string) string {
	t.Helper()
	text, err := fs.ReadFile(data.Files(), name)
	require.NoError(t, err)
	return string(text)
}

// lately is the last four years of the demo's record.
var lately = sync.OnceValue(func() string {
	text, err := fs.ReadFile(data.Files(), "rain.csv")
	if err != nil {
		panic(err) // embedded: our mistake
	}
	head, _, _ := bytes.Cut(text, []byte("\n"))
	return string(head) + string(text[bytes.Index(text, []byte("\n2021-01-01")):])
})

// spoilt is a demo file with one text in it replaced.
func spoilt(t testing.TB, name, good, bad string) map[string]string {
	t.Helper()
	text := demoFile(t, name)
	require.Contains(t, text, good)
	return map[string]string{name: strings.Replace(text, good, bad, 1)}
}

// statusCase is a command line with the status it must end with.
type statusCase struct {
	line   string // arguments between blanks; $X stands for a path
	status int
	errs   string // pattern that stderr must match
}

const nurseryMap = "source: an invented list\ncolumns:\n  id: {from: code}\n  vernacularName: {from: name}\n"

// statusPaths are the folders and files that the cases name.
func statusPaths(t testing.TB) map[string]string {
	tmp := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(tmp, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		return path
	}
	asFolder := gardenWith(t, nil)
	require.NoError(t, os.Remove(filepath.Join(asFolder, "garden.yaml")))
	require.NoError(t, os.Mkdir(filepath.Join(asFolder, "garden.yaml"), 0o755))
	noRecord := gardenWith(t, nil)
	require.NoError(t, os.Remove(filepath.Join(noRecord, "rain.csv")))
	paths := map[string]string{
		"good": gardenWith(t, nil), "new": filepath.Join(tmp, "new"), "out": filepath.Join(tmp, "out"), "none": filepath.Join(tmp, "none"),
		"yaml": gardenWith(t, spoilt(t, "garden.yaml", "length: 20 ft", "length: 20")),
		"rain": gardenWith(t, spoilt(t, "rain.csv", "2001-01-02,0.0", "2001-01-02,wide")), "plants": gardenWith(t, spoilt(t, "plants.csv", "bottom|slope", "bottom|botom")),
		"planted": gardenWith(t, map[string]string{"planted.csv": "stake,id,x_m,y_m,planted,zone\nA1,low-brindlewisp,wide,1,,bottom\n"}),
		"folder":  asFolder, "dry": noRecord, "empty": t.TempDir(),
		"below": filepath.Join(file("file", "a file"), "below"), // cannot be made, by anybody
		"demo":  filepath.Join(repo, "data/plants.csv"),
		"table": file("table.csv", "code,name\na1,First Madeup\n"), "map": file("map.yaml", nurseryMap), "badmap": file("bad.yaml", "columns:\n  id: {frm: code}\n"),
		"badtable": file("bad.csv", "id,vernacularName,spred_cm\none,One,1\n"), "taken": file("taken.csv", "mine"),
	}
	maps.Copy(paths, batchTables(t))
	maps.Copy(paths, notePaths(t))
	return paths
}

const startLine = " --latitude 41.5 --time-zone UTC --roof-area 90m2"

// statusCases has for every command what goes well, what the user can mend
// and what the machine refuses; a failed write of the output is tested below.
func statusCases() []statusCase {
	cases := careCases()
	cases = append(cases,
		statusCase{"weather ../../testdata/records/daymet-mn214026-2011-2013.csv", 0, ``},
		statusCase{"weather --near IL116711", 0, ``},
		statusCase{"weather --near Nosuchtown,MN", 2, `Nosuchtown`},
		statusCase{"weather $none", 2, `no such file: want a file of weather`},
		statusCase{"weather", 2, `want|expected`},
		statusCase{"report --date 1.5.2026", 2, `--date: "1.5.2026"`},
		statusCase{"start $new --near Nosuchtown,MN" + " --roof-area 90m2", 2, `Nosuchtown`})
	for _, cmd := range []string{"basin", "zones", "find", "choose", "place", "report"} {
		cases = append(cases,
			statusCase{cmd, 0, "invented demo garden"},
			statusCase{cmd + " --garden $good", 0, ``},
			statusCase{cmd + " --help", 0, `^$`},
			statusCase{cmd + " --nosuch", 2, `unknown flag: --nosuch: see hollowbed ` + cmd + ` --help`},
			statusCase{cmd + " --units", 2, `needs an argument`},
			statusCase{cmd + " --units yards", 2, `--units: "yards": want us or metric`},
			statusCase{cmd + " --units=", 2, `--units: "": want a value`},
			statusCase{cmd + " --garden=", 2, `--garden: "": want a value`},
			statusCase{cmd + " --garden $taken", 2, `want a folder that holds a garden.yaml`},
			statusCase{cmd + " --garden $empty", 2, `garden.yaml: no such file; hollowbed start`},
			statusCase{cmd + " --garden $yaml", 2, `garden.yaml:\d+:\d+: bed.length: "20": want`},
			statusCase{cmd + " --garden $folder", 2, `garden.yaml: is a folder`})
	}
	for _, cmd := range []string{"basin", "basin --size", "zones", "zones --explain rim", "find --in rim", "choose", "choose --why low-brindlewisp", "place", "report"} {
		cases = append(cases, statusCase{cmd + " --garden $rain", 2, `rain.csv:3:\d+: rain_mm: "wide"`})
	}
	for _, cmd := range []string{"zones", "zones --bands", "find --in rim", "choose", "choose --why low-brindlewisp", "place"} {
		cases = append(cases, statusCase{cmd + " --garden $dry", 2, `no weather record: put one at`})
	}
	for _, cmd := range []string{"find", "choose", "choose --why low-brindlewisp", "place", "report"} {
		cases = append(cases, statusCase{cmd + " --garden $plants", 2, `plants.csv:2:\d+: zones: "botom"`})
	}
	for _, cmd := range []string{"place", "report"} {
		cases = append(cases, statusCase{cmd + " --garden $planted", 2, `planted.csv:2:\d+: x_m: "wide"`})
	}
	for _, cmd := range []string{"basin", "zones", "choose", "place", "report", "catalogue", "catalogue schema"} {
		cases = append(cases, statusCase{cmd + " surplus", 2, `surplus.*want hollowbed ` + cmd})
	}
	cases = append(cases, batchCases()...)
	// note first: place writes to the folder in which nothing stands yet
	return slices.Concat(noteCases(), cases, queryCases(), tableCases(), openCases())
}

func queryCases() []statusCase {
	return []statusCase{
		{"", 0, `^$`}, {"--help", 0, `^$`}, {"--version", 0, `^$`},
		{"nosuch", 2, `unknown command "nosuch": see hollowbed --help`}, {"chose", 2, `did you mean choose`}, {"--nosuch", 2, `unknown flag`},
		{"basin --garden $dry", 0, ``}, {"report --garden $dry", 0, ``}, // what can be said without a record
		{"zones --years --bands", 2, `--years and --bands: want only one`}, {"zones --bands --explain rim", 2, `want only one`},
		{"zones --explain botom --garden $good", 2, `want a zone of this bed`}, {"zones --explain=", 2, `--explain: "": want a value`},
		{"choose --csv --json", 2, `want only one`}, {"choose --why x --csv", 2, `want only one`}, {"choose --alternatives --csv", 0, ``}, {"choose --alternatives --why x", 2, `want only one`}, {"choose --csv --reserve 10%", 0, ``}, {"choose --reserve 10%", 2, `--reserve: expected --csv with it`}, {"choose --csv --reserve many", 2, `--reserve: "many": expected a share`}, {"choose --csv --reserve 200%", 2, `at most 100 %`},
		{"choose --why nosuch", 2, `want the name or id of a plant`}, {"choose --why=", 2, `want the name or id of a plant`},
		{"find wett>=4", 2, `wet`}, {"find --wet wide", 2, `wide`}, {"find --wet=", 2, `--wet: "": want a value`},
		{"find --in nosuch --garden $good", 2, `want a zone of this bed`}, {"find --in=", 2, `--in: "": want a value`}, {"find --at=", 2, `--at: "": want a value`},
		{"find --at 4 --garden $good", 2, `want two lengths`}, {"find --in rim --at 1ft,1ft", 2, `in at`}, {"find --limit 0", 2, `want 1 or more`}, {"find --limit many", 2, `--limit`},
		{"find --count nosuch", 2, `want a field that can be counted`}, {"find --count=", 2, `--count: "": want a value`},
		{"find --plants $none", 2, `no such file`}, {"find --plants=", 2, `--plants: "": want a value`}, {"find --plants $badtable", 2, `bad.csv:1:`},
		{"find --plants $demo", 0, `^$`}, {"find --wet 5000", 0, ``}, // no hit is an answer
		{"place --plan=", 2, `--plan: "": want a value`}, {"place --section=", 2, `--section: "": want a value`},
		{"place --plan $out --garden $good", 0, `Wrote`}, {"place --plan $below --garden $good", 1, `below`}, {"place --section $below --garden $good", 1, `below`},
		{"report --out $out --garden $good", 0, `Wrote`}, {"report --out=", 2, `--out: "": want a value`}, {"report --out $below --garden $good", 1, `below`},
	}
}

func tableCases() []statusCase {
	return []statusCase{
		{"start $new" + startLine, 0, ``},
		{"start $new" + startLine, 2, `is there already`}, // from the line before
		{"start", 2, `accepts 1 arg.*want hollowbed start DIR`}, {"start a b", 2, `accepts 1 arg`}, {"start $none --nosuch", 2, `unknown flag`},
		{"start $none", 2, `(?s)--latitude.*--time-zone.*--roof-area`}, {"start $none" + startLine + " --length 20", 2, `length: "20": want a length with its unit`},
		{"start $below" + startLine, 1, `below`},
		{"catalogue", 0, `^$`}, {"catalogue nosuch", 2, `unknown command "nosuch"`},
		{"catalogue check $demo", 0, `^$`}, {"catalogue check", 2, `accepts 1 arg`}, {"catalogue check a b", 2, `accepts 1 arg`},
		{"catalogue check $none", 2, `no such file`}, {"catalogue check $badtable", 2, `bad.csv:1:\d+: spred_cm`}, {"catalogue check --nosuch x", 2, `unknown flag`},
		{"catalogue check $below", 1, `below`}, {"catalogue check --json $demo", 0, `^$`}, {"catalogue check --json $badtable", 2, `bad.csv:1:\d+: spred_cm`},
		{"catalogue import $table --map $map", 0, `Wrote 1 plant`}, {"catalogue import $table --map $map --out $new/p.csv", 0, `^$`},
		{"catalogue import", 2, `requires at least 1 arg`}, {"catalogue import $table", 2, `--map`}, {"catalogue import $table --map=", 2, `--map: "": want a value`},
		{"catalogue import $table --map $map --json", 2, `--json: want --out`}, {"catalogue import $table --map $none", 2, `no such file`},
		{"catalogue import $none --map $map", 2, `no such file`}, {"catalogue import $table --map $badmap", 2, `bad.yaml:2:`},
		{"catalogue import $table $table --map $map --map $map", 2, `join: missing`}, {"catalogue import $table --map $map --out $taken", 2, `is there already`},
		{"catalogue import $table --map $map --out $below", 1, `below`},
		{"catalogue sketch $demo", 0, `^$`}, {"catalogue sketch $none", 2, `no such file`}, {"catalogue sketch", 2, `accepts 1 arg`}, {"catalogue sketch $below", 1, `below`},
		{"catalogue schema", 0, `^$`}, {"catalogue schema --package $demo", 0, ``}, {"catalogue schema --package $none", 2, `no such file`},
		{"catalogue schema --package=", 2, `--package: "": want a value`}, {"catalogue schema --package $badtable", 2, `bad.csv:1:`}, {"catalogue schema --package $below", 1, `below`},
		{"man $new", 0, `^$`}, {"man", 2, `accepts 1 arg`}, {"man a b", 2, `accepts 1 arg`}, {"man --nosuch x", 2, `unknown flag`}, {"man $below", 1, `not a directory`},
		{"help choose", 0, `^$`}, {"help nosuch", 2, `no command is called "nosuch"`}, {"help catalogue nosuch", 2, `no command is called "catalogue nosuch"`},
		{"completion", 0, `^$`}, {"completion nosuch", 2, `unknown command "nosuch"`},
		{"completion bash", 0, `^$`}, {"completion bash --nosuch", 2, `unknown flag`}, {"completion zsh", 0, `^$`}, {"completion fish surplus", 2, `surplus`},
		{"completion fish", 0, `^$`}, {"completion powershell", 0, `^$`}, {"completion zsh surplus", 2, `surplus`}, {"completion powershell surplus", 2, `surplus`},
	}
}

// fields splits a line into arguments and fills in its paths.
func (c statusCase) fields(paths map[string]string) []string {
	args := strings.Fields(c.line)
	for i := range args {
		args[i] = os.Expand(args[i], func(name string) string { return paths[name] })
	}
	return args
}

// Every command ends with 0, 1 or 2 as README says; with 2 nothing stands on
// the standard output, so that a pipe gets no half answer. An ordinary run leaves
// out what TestGolden and the scripts do: answers from a whole garden.
func TestStatus(t *testing.T) {
	t.Parallel()
	paths := statusPaths(t)
	for _, c := range statusCases() {
		switch command, rest, _ := strings.Cut(c.line, " "); command {
		case "basin", "zones", "choose", "place", "report", "care", "move":
			if c.status == exitDone && rest != "--help" && !testenv.Heavy() {
				continue
			}
		}
		t.Run(c.line, func(t *testing.T) {
			var out bytes.Buffer
			status, errs := runInto(&out, c.fields(paths)...)
			assert.Equal(t, c.status, status, errs)
			assert.Regexp(t, regexp.MustCompile(c.errs), errs)
			switch {
			case status == 2 && strings.HasPrefix(c.line, "catalogue check --json"):
				assert.True(t, json.Valid(out.Bytes()), "faults as JSON: %s", &out)
			case status == 2 && strings.Contains(errs, "rows left out"):
				for line := range strings.Lines(out.String()) {
					assert.True(t, json.Valid([]byte(line)), "batch does all other rows: %s", line)
				}
			case status == 2, strings.HasPrefix(c.line, "care"):
				assert.Equal(t, status == 0, out.Len() > 0, "%s", &out)
			case status == 0 && !strings.Contains(c.line, "--out") && !strings.Contains(c.line, "--resume") && !strings.HasPrefix(c.line, "man "):
				assert.NotEmpty(t, out.String())
			}
			if status != 0 {
				assert.Equal(t, 1, strings.Count(errs, "hollowbed: "), "told once: %s", errs)
			}
		})
	}
	for _, name := range []string{"yaml", "rain", "plants", "dry"} {
		assert.NoFileExists(t, filepath.Join(paths[name], "planted.csv"), "after a failure nothing is written")
	}
	mine, err := os.ReadFile(paths["taken"])
	require.NoError(t, err)
	assert.Equal(t, "mine", string(mine))
}

// No command is left out of the cases: each is there with status 0 and with 2.
func TestStatusCoversAll(t *testing.T) {
	t.Parallel()
	var walk func(cmd *cobra.Command)
	walk = func(cmd *cobra.Command) {
		path := strings.TrimSpace(strings.TrimPrefix(cmd.CommandPath(), "hollowbed"))
		for _, want := range []int{exitDone, exitBad} {
			found := false
			for _, c := range statusCases() {
				if path == "" {
					found = found || c.status == want && strings.HasPrefix(c.line, "--")
					continue
				}
				found = found || c.status == want && (c.line == path || strings.HasPrefix(c.line, path+" "))
			}
			assert.True(t, found, "no case of %q that ends with %d", cmd.CommandPath(), want)
		}
		for _, sub := range cmd.Commands() {
			walk(sub)
		}
	}
	walk(newRoot(world{in: strings.NewReader(""), out: io.Discard, err: io.Discard}))
}

// full is a writer that takes some writes and refuses those after them, or
// only the next.
type full struct {
	takes, got int
	once       bool
}

func (f *full) Write(p []byte) (int, error) {
	f.got++
	if f.got > f.takes && (!f.once || f.got == f.takes+1) {
		return 0, errors.New("no space left")
	}
	return len(p), nil
}

// printing are command lines that print, one for every way of printing.
func printing() []string {
	lines := []string{
		"basin", "basin --json", "basin --size", "zones", "zones --years", "zones --bands", "zones --explain rim", "zones --json", "zones --spread 3", "find", "find --json",
		"choose", "choose --json", "choose --csv", "choose --alternatives", "choose --why low-brindlewisp", "choose --why low-brindlewisp --json",
		"place", "place --json", "note --list", "note --list --json", "move", "move --json", "move --plant COW1", "care", "care --json", "care --csv", "care --today", "care --checklist", "report", "batch $gardens",
	}
	for i, line := range lines {
		switch command, _, _ := strings.Cut(line, " "); command {
		case "note", "move":
			lines[i] += " --garden $grown"
		case "place": // on the demo, since it writes to a garden
		default:
			lines[i] += " --garden $good"
		}
	}
	return append(lines, "start $X"+startLine, "catalogue", "catalogue check $demo", "catalogue check --json $demo", "catalogue import $table --map $map",
		"catalogue import $table --map $map --out $X.csv", "catalogue schema", "catalogue sketch $demo", "help choose", "--help", "--version", "completion", "completion bash")
}

// A full disk and a closed pipe of the system itself.
func TestFailedWriteSystem(t *testing.T) {
	t.Parallel()
	r, w, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, r.Close())
	defer w.Close()
	status, errs := runInto(w, "basin")
	assert.Equal(t, exitFailed, status)
	assert.Contains(t, errs, "the output could not be written")

	device, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full on this machine")
	}
	defer device.Close()
	for _, args := range [][]string{{"choose", "--csv"}, {"zones", "--json"}, {"place"}} {
		status, errs := runInto(device, args...)
		assert.Equal(t, exitFailed, status, args)
		assert.Contains(t, errs, "the output could not be written", args)
	}
}

// Paper stays as wide as it is when its writes are watched.
func TestWatchKeepsWidth(t *testing.T) {
	t.Parallel()
	longest := func(columns int) int {
		var b bytes.Buffer
		status, errs := runInto(report.Paper{Writer: &b, Columns: columns}, "choose", "--why", "low-brindlewisp")
		require.Zero(t, status, errs)
		n := 0
		for line := range strings.Lines(b.String()) {
			if strings.Contains(line, "hardest place") || strings.Contains(line, "chance") {
				n = max(n, len(line)-1)
			}
		}
		return n
	}
	assert.LessOrEqual(t, longest(60), 60)
	assert.Greater(t, longest(100), 60)
	status, errs := runInto(report.Paper{Writer: &full{once: true}, Columns: 60}, "basin")
	assert.Equal(t, exitFailed, status)
	assert.Contains(t, errs, "the output could not be written")
}
