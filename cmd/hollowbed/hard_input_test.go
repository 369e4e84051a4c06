package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// reading are command lines that read one file each, $file, in whatever format.
func reading(t *testing.T) map[string]func(file string) []string {
	good := gardenWith(t, nil)
	table := filepath.Join(good, "plants.csv")
	in := func(name string) func(string) []string { // in a garden whose own file is a link to the bad one
		return func(file string) []string {
			dir := gardenWith(t, nil)
			_ = os.Remove(filepath.Join(dir, name))
			require.NoError(t, os.Link(file, filepath.Join(dir, name)))
			if name == "season.csv" {
				return []string{"note", "--list", "--garden", dir}
			}
			return []string{"place", "--garden", dir}
		}
	}
	named := func(words ...string) func(string) []string {
		return func(file string) []string {
			line := strings.NewReplacer("$file", file, "$good", good, "$table", table).Replace(strings.Join(words, "\x00"))
			return strings.Split(line, "\x00")
		}
	}
	return map[string]func(string) []string{
		"garden.yaml": in("garden.yaml"), "rain.csv": in("rain.csv"), "plants.csv": in("plants.csv"), "planted.csv": in("planted.csv"), "season.csv": in("season.csv"),
		"check":    named("catalogue", "check", "$file"),
		"import":   named("catalogue", "import", "$file", "--map", "$file"),
		"map":      named("catalogue", "import", "$table", "--map", "$file"),
		"learned":  named("choose", "--learned", "$file"),
		"notes":    named("note", "--from", "$file", "--garden", "$good"),
		"weather":  named("weather", "$file"),
		"batch":    named("batch", "$file", "--what", "basin"),
		"find":     named("find", "blue", "--plants", "$file"),
		"so-far":   named("care", "--garden", "$good", "--planted", "2024-10-01", "--so-far", "$file"),
		"forecast": named("care", "--garden", "$good", "--planted", "2024-10-01", "--so-far", filepath.Join(good, "rain.csv"), "--forecast", "$file"),
	}
}

// hostile are files that cost more than a moment to take at their word.
func hostile(t *testing.T) map[string]string {
	dir := t.TempDir()
	files := map[string]string{}
	add := func(name string, write func(w io.Writer)) {
		path := filepath.Join(dir, name)
		f, err := os.Create(path)
		require.NoError(t, err)
		defer f.Close()
		write(f)
		files[name] = path
	}
	text := func(name, s string) { add(name, func(w io.Writer) { io.WriteString(w, s) }) }
	add("1 GB", func(w io.Writer) { require.NoError(t, w.(*os.File).Truncate(1<<30)) }) // no bytes on the disk
	text("nothing", "")
	text("a byte order mark", "\xef\xbb\xbf")
	text("zeros", strings.Repeat("\x00", 1<<20))
	text("aliases", "a: &a [x, x, x, x, x, x, x, x, x]\n"+func() string {
		var b strings.Builder
		for i := range 20 {
			fmt.Fprintf(&b, "%c: &%c [%s]\n", 'b'+i, 'b'+i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*%c, ", 'a'+i), 9), ", "))
		}
		return b.String()
	}())
	text("a merge of itself", "a: &a\n  <<: *a\n")
	text("deep brackets", "name: "+strings.Repeat("[", 200_000))
	text("deep braces", "name: "+strings.Repeat("{a: ", 200_000))
	text("deep dashes", strings.Repeat("- ", 100_000)+"x")
	text("deep question marks", strings.Repeat("? ", 100_000)+"x")
	text("deep indents", func() string {
		var b strings.Builder
		for i := range 1000 {
			fmt.Fprintf(&b, "%*sa:\n", i, "")
		}
		return b.String()
	}())
	text("many documents", strings.Repeat("---\nname: x\n", 50_000))
	text("one long line", strings.Repeat("a", 2<<20))
	text("one long quote", `"`+strings.Repeat("a\n", 1<<20))
	text("many columns", strings.Repeat("a,", 1<<20)+"\n"+strings.Repeat("1,", 1<<20))
	text("many quotes", strings.Repeat(`"`, 1<<20))
	text("many lines", "date,rain_mm\n"+strings.Repeat("\n", 1<<20))
	text("many faults", "id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm\n"+strings.Repeat("x,x,x,x,x,x,x\n", testenv.Of(20_000, 100_000)))
	text("another alphabet", "\xff\xfe"+strings.Repeat("d\x00a\x00", 1000))
	text("a picture", "\x89PNG\r\n\x1a\n"+strings.Repeat("\x00\xff\x13", 10_000))
	text("a million digits", "date,rain_mm\n2001-01-01,"+strings.Repeat("9", 1<<20)+"\n")
	return files
}

// Whatever is put in place of a file is refused with what would be right, in
// words that fit a screen. A run tries a third of the pairs of file and line, an
// ordinary one a thirtieth.
func TestHostileFiles(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	lines, files := reading(t), hostile(t)
	var pairs [][2]string
	for what := range files {
		for name := range lines {
			if what != "nothing" || name != "season.csv" { // a record that is yet to begin
				pairs = append(pairs, [2]string{what, name})
			}
		}
	}
	slices.SortFunc(pairs, func(a, b [2]string) int { return slices.Compare(a[:], b[:]) })
	for _, p := range testenv.Drawn(pairs, len(pairs)/testenv.Of(30, 3)) {
		what, name := p[0], p[1]
		t.Run(what+", "+name, func(t *testing.T) {
			t.Parallel()
			status, out, errs := ask(t, "", lines[name](files[what])...)
			assert.Equal(t, exitBad, status, "%.300s", errs)
			if name != "batch" { // which tells of a row where its result would stand
				assert.Empty(t, out)
			}
			assert.Less(t, strings.Count(errs, "\n"), 60, "%.3000s", errs)
			for line := range strings.Lines(errs) {
				assert.Less(t, utf8.RuneCountInString(line), 600, "%.200s ...", line)
			}
		})
	}
}

// A file that is written to while it is read is told, not taken half old and
// half new; so is one that holds something else when it is read again.
func TestWrittenToWhileRead(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "rain.csv")
	require.NoError(t, os.WriteFile(path, []byte("date,rain_mm\n"), 0o644))
	take := func(n *inputs, meanwhile func()) error {
		file, err := os.Open(path)
		require.NoError(t, err)
		defer file.Close()
		return n.read(file, "rain.csv", path, func(r io.Reader) error {
			_, err := io.ReadAll(r)
			meanwhile()
			return err
		})
	}
	var n inputs
	require.NoError(t, take(&n, func() {}))
	require.NoError(t, take(&n, func() {}))
	assert.Len(t, n, 1)
	var changed *changedInput
	grow := func() {
		f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
		require.NoError(t, err)
		_, err = f.WriteString("2001-01-01,1\n")
		require.NoError(t, err)
		require.NoError(t, f.Close())
	}
	require.ErrorAs(t, take(new(inputs), grow), &changed)
	require.EqualError(t, changed, path+": was written to while it was read: run again when that is done")
	require.ErrorAs(t, take(&n, func() {}), &changed, "another than before")
	require.NoError(t, take(new(inputs), func() {}))
}

// Every JSON document names what it rests on, by the digest that sha256sum
// tells, and a change of one byte shows.
func TestInputsDigest(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, nil)
	status, _, errs := ask(t, "", "place", "--garden", dir)
	require.Zero(t, status, errs)
	digests := func(args ...string) map[string]string {
		status, out, errs := ask(t, "", args...)
		require.Zero(t, status, errs)
		return digestsIn(t, out)
	}
	for _, c := range []struct {
		line  string
		files []string
	}{
		{"basin", []string{"garden.yaml", "rain.csv"}}, {"zones", []string{"garden.yaml", "rain.csv"}}, {"zones --explain rim", []string{"garden.yaml", "rain.csv"}},
		{"choose", []string{"garden.yaml", "plants.csv", "rain.csv"}}, {"choose --why low-brindlewisp", []string{"garden.yaml", "plants.csv", "rain.csv"}},
		{"find blue", []string{"garden.yaml", "plants.csv"}}, {"find --in rim", []string{"garden.yaml", "plants.csv", "rain.csv"}},
		{"place", []string{"garden.yaml", "plants.csv", "rain.csv", "planted.csv"}}, {"care --planted 2026-10-10", []string{"garden.yaml", "plants.csv", "rain.csv", "planted.csv"}},
	} {
		args := append(strings.Fields(c.line), "--json", "--garden", dir)
		before := digests(args...)
		want := map[string]string{}
		for _, name := range c.files {
			want[name] = sha256Of(t, filepath.Join(dir, name))
		}
		assert.Equal(t, want, before, c.line)
		for _, name := range c.files {
			file := filepath.Join(dir, name)
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(file, append(bytes.Clone(text), '\n'), 0o644))
			after := digests(args...)
			assert.NotEqual(t, before[name], after[name], "%s: %s", c.line, name)
			after[name] = before[name]
			assert.Equal(t, before, after)
			require.NoError(t, os.WriteFile(file, text, 0o644))
		}
	}
	table := filepath.Join(dir, "plants.csv")
	assert.Equal(t, map[string]string{"garden.yaml": sha256Of(t, filepath.Join(dir, "garden.yaml")), table: sha256Of(t, table)},
		digests("find", "blue", "--json", "--garden", dir, "--plants", table))
	assert.Equal(t, map[string]string{table: sha256Of(t, table)}, digests("catalogue", "check", "--json", table))
	assert.Equal(t, sha256Of(t, filepath.Join(repo, "data/plants.csv")), digests("choose", "--json")["plants.csv"], "the demo's")
	require.NoError(t, os.Remove(table))
	garden := filepath.Join(dir, "garden.yaml")
	text, err := os.ReadFile(garden)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(garden, append(text, "\nplants: demo\n"...), 0o644))
	assert.Contains(t, digests("choose", "--json", "--garden", dir), "plants.csv (demo, invented)")
}

func digestsIn(t *testing.T, doc string) map[string]string {
	t.Helper()
	type list []struct{ File, SHA256 string }
	var in struct {
		Garden struct{ Inputs list }
		Inputs list
	}
	require.NoError(t, json.Unmarshal([]byte(doc), &in))
	out := map[string]string{}
	for _, f := range append(in.Garden.Inputs, in.Inputs...) {
		out[f.File] = f.SHA256
	}
	return out
}

func sha256Of(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
