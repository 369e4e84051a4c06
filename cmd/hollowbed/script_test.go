package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/testdata/testenv"
)

func TestMain(m *testing.M) {
	if strings.TrimSuffix(filepath.Base(os.Args[0]), ".exe") == "hollowbed" {
		main()
	}
	testscript.Main(onPath{m}, map[string]func(){"hollowbed-save": saveByPage})
}

// onPath runs tests with the program on the path, which is the file of the tests
// by another name: for what needs a process. Scripts run it within theirs, since
// testscript would start it for each of their lines if it knew of it.
type onPath struct{ *testing.M }

func (m onPath) Run() int {
	dir, err := os.MkdirTemp("", "hollowbed-test-*")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	self, err := os.Executable()
	if err != nil {
		panic(err)
	}
	name := "hollowbed" + filepath.Ext(strings.TrimSuffix(self, ".test"))
	if err := os.Symlink(self, filepath.Join(dir, name)); err != nil {
		panic(err)
	}
	os.Setenv("PATH", dir+string(os.PathListSeparator)+os.Getenv("PATH"))
	return m.M.Run()
}

// oneByOne runs scripts in turn: the folder in which a command runs is that of
// the whole process.
type oneByOne struct{ *testing.T }

func (oneByOne) Parallel()     {}
func (oneByOne) Verbose() bool { return testing.Verbose() }
func (o oneByOne) Run(name string, f func(testscript.T)) {
	o.T.Run(name, func(t *testing.T) { f(oneByOne{t}) })
}

// The scripts in testdata/script, one case a file, run commands as the program
// does; with exec, in a process. The folder few holds a garden of few plants. An
// ordinary run does little: TestGolden and TestReadme run the three uses.
func TestScripts(t *testing.T) {
	repo, err := filepath.Abs("../..")
	require.NoError(t, err)
	few := gardenWith(t, nil)
	files, err := filepath.Glob("testdata/script/*.txtar")
	require.NoError(t, err)
	if !testenv.Heavy() {
		files = slices.DeleteFunc(files, func(file string) bool {
			return !slices.Contains([]string{"choose_bad", "find_bad", "note", "place_bad"}, strings.TrimSuffix(filepath.Base(file), ".txtar"))
		})
	}
	testscript.RunT(oneByOne{t}, testscript.Params{
		Files: files,
		Setup: func(env *testscript.Env) error {
			env.Setenv("REPO", repo)
			return os.CopyFS(filepath.Join(env.WorkDir, "few"), os.DirFS(few))
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"hollowbed": func(ts *testscript.TestScript, neg bool, args []string) {
				here, err := os.Getwd()
				ts.Check(err)
				ts.Check(os.Chdir(ts.MkAbs(".")))
				status := run(args, world{
					in: strings.NewReader(""), out: report.Paper{Writer: ts.Stdout(), Columns: 92}, err: ts.Stderr(), getenv: ts.Getenv, now: time.Now, build: thisBuild,
				})
				ts.Check(os.Chdir(here))
				if neg == (status == exitDone) {
					ts.Fatalf("ended with status %d", status)
				}
			},
			"schema": func(ts *testscript.TestScript, neg bool, args []string) {
				if neg || len(args) != 2 {
					ts.Fatalf("usage: schema NAME FILE")
				}
				ts.Check(validate(args[0], []byte(ts.ReadFile(args[1]))))
			},
		},
		UpdateScripts: os.Getenv("UPDATE_GOLDEN") != "",
	})
}

// validate checks a document against data/schema/NAME.json.
func validate(name string, doc []byte) error {
	schema, err := jsonschema.NewCompiler().Compile("../../data/schema/" + name + ".json")
	if err != nil {
		return err
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
	if err != nil {
		return err
	}
	return schema.Validate(value)
}

// thisBuild reads the file of the tests, of many megabytes, once.
var thisBuild = sync.OnceValue(program)

// ask runs one command line in this process.
func ask(t testing.TB, input string, args ...string) (status int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status = run(args, world{
		in: strings.NewReader(input), out: &stdout, err: &stderr,
		getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC) },
		terminal: input != "", build: thisBuild,
	})
	return status, stdout.String(), stderr.String()
}

// mayLack are the keys that a document has only where there is something to
// say. All others are always written, so that a program need not ask.
func mayLack(key string) bool {
	return slices.Contains([]string{
		"garden.assumed", "basin.handbook.note", "basin.size", "basin.inlets", // by file, soil and option
		"find.words", "find.also", "find.notes", "find.unknown", "find.no_hit", "find.no_hit.nearest", "find.hits.yearly_risk", "find.also.yearly_risk",
		"why.by", "why.found", "why.marks", "why.quote", "why.read_as", "why.unit", // of one reason of find
		"missed.by", "missed.found", "missed.unit",
		"batch.error", "batch.basin", "batch.zones", "batch.choose", "batch.notes", // by how the row fared and how far was asked
		"choose.watering", "choose.doubt", "lines.sure", "place.doubt", // with --robust
		"move.into", // with --into
		"import.tables.matched", "import.tables.assumptions.values", "import.tables.ambiguous",
	}, key)
}

// A schema that let everything pass would be no check: at every depth each
// must refuse its own document with a key taken away, with a key too many, and
// with a value of another kind; and no part of it may be left untried.
func TestSchemasRefuse(t *testing.T) {
	testenv.Sweep(t) // TestGolden holds each document to its schema
	t.Parallel()
	tried := map[string]map[string]bool{}
	for _, c := range schemaCases(t) {
		status, out, errs := ask(t, "", c.args...)
		require.Equal(t, c.status, status, errs)
		schema, err := jsonschema.NewCompiler().Compile("../../data/schema/" + c.schema + ".json")
		require.NoError(t, err)
		var doc map[string]any
		require.NoError(t, json.Unmarshal([]byte(out), &doc))
		require.NoError(t, schema.Validate(doc), "%s: %v", c.schema, c.args)
		if tried[c.schema] == nil {
			tried[c.schema] = map[string]bool{}
		}
		r := refuser{t, c.schema, func() bool { return schema.Validate(doc) == nil }, tried[c.schema]}
		r.walk(c.schema, doc)
	}
	files, err := filepath.Glob("../../data/schema/*.json")
	require.NoError(t, err)
	for _, file := range files {
		if strings.HasSuffix(file, "care.json") {
			continue // TestCareSchemaRefuses spoils that one
		}
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var schema map[string]any
		require.NoError(t, json.Unmarshal(text, &schema))
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		for _, path := range schemaPaths(name, schema) {
			if strings.Contains(path, "nearest.missed.") || strings.Contains(path, ".why.") {
				path = reasonPath(tried[name], path)
			}
			assert.True(t, tried[name][path], "%s: no document with %s was tried", file, path)
		}
	}
}

type schemaCase struct {
	schema string
	args   []string
	status int
}

func schemaCases(t *testing.T) []schemaCase {
	few, grown := gardenWith(t, nil), grownGarden(t)                                               // what is dear on the demo
	tight := gardenWith(t, spoilt(t, "garden.yaml", "overlap: 10 %", "overlap: 0 %"))              // some plants find no place
	deep := gardenWith(t, spoilt(t, "garden.yaml", "ponding_depth: 6 in", "ponding_depth: 12 in")) // no handbook knows it
	thirsty := gardenWith(t, spoilt(t, "garden.yaml", "seed: 1 ", "watering: weekly-in-drought #"))
	tmp := t.TempDir()
	for name, text := range map[string]string{
		"a.csv": "code,name\na1,First Madeup\na2,Other Madeup\n", "b.csv": "code,name,feet\nb1,First Madeup,2\nb2,Other Madeup,1\nb3,Other Madeup,3\n",
		"a.yaml": nurseryMap + "  wet_h: {from: name, basis: 'assumed, no source', classes: {First Madeup: 72, Other Madeup: 6}}\n", "b.yaml": "source: a second list\njoin: vernacularName\ncolumns:\n  id: {from: code}\n  vernacularName: {from: name}\n  height_cm: {from: feet, unit: ft}\n",
		"row.csv": "id,roof.area\nlot-1,90 m2\n", "badrow.csv": "id,roof.area\nlot-1,90\n", // a table of one row gives one document
		"bad.csv": "id,vernacularName,spred_cm\none,One,1\n", "odd.csv": "id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm\none,One,bottom,4,12,10,\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(tmp, name), []byte(text), 0o644))
	}
	in := func(name string) string { return filepath.Join(tmp, name) }
	var cases []schemaCase
	for _, line := range []string{
		"basin basin --size --json --garden " + few, "basin basin --inlets --json", "basin basin --json --garden " + deep,
		"zones zones --json", "trace zones --explain slope --json", "spread zones --spread 5 --json --garden " + few, "choose choose --robust --spread 5 --json --garden " + thirsty, "choose choose --json", "why choose --json --why low-brindlewisp", "show find --json --compare low-brindlewisp blue-skelver",
		"find find --json --wet 5000 --count zone", "find find --json --in rim bluw --height 60 --limit 3 --count zone",
		"find find --json --in rim blue july --limit 200", "find find --json nosuchword --count zone", "find find --json blue july dry>=10 --limit 200",
		"place place --json", "place place --robust --spread 5 --json --garden " + few, "place place --json --garden " + tight,
		"import catalogue import " + in("a.csv") + " " + in("b.csv") + " --map " + in("a.yaml") + " --map " + in("b.yaml") + " --out " + in("out.csv") + " --json",
		"note note --list --json", "move move --json --garden " + grown, "move move --json --garden " + grown + " --into " + few, "ranked move --plant COW1 --json --garden " + grown, "ranked move --plant HIL8 --json --garden " + grown,
		"check catalogue check --json " + in("odd.csv"),
		"climates weather --json --near IL116711", "weather weather --json ../../testdata/records/ghcn-daily-USC00106388-1998-1999.csv --garden " + tight,
	} {
		words := strings.Fields(line)
		cases = append(cases, schemaCase{words[0], words[1:], exitDone})
	}
	cases = append(cases, schemaCase{"batch", []string{"batch", in("row.csv")}, exitDone}, schemaCase{"batch", []string{"batch", in("badrow.csv")}, exitBad})
	return append(cases, schemaCase{"check", []string{"catalogue", "check", "--json", in("bad.csv")}, exitBad})
}

// refuser spoils one document, one thing at a time, and sets it right again.
type refuser struct {
	t     *testing.T
	name  string
	valid func() bool
	tried map[string]bool // paths of objects
}

func (r refuser) walk(path string, v any) {
	switch v := v.(type) {
	case []any:
		for i, item := range v {
			if object, ok := item.(map[string]any); ok && i > 0 && !r.news(path, object) {
				continue // of a list of one kind: the first, and those that show a key not seen yet
			}
			r.walk(path, item)
		}
	case map[string]any:
		r.tried[path] = true
		if !strings.HasSuffix(path, "assumptions.values") { // whose keys are the cells of somebody's table
			r.object(path, v)
		}
	}
}

func (r refuser) news(path string, object map[string]any) bool {
	for key := range object {
		if !r.tried[path+"."+key] {
			return true
		}
	}
	return false
}

func (r refuser) object(path string, object map[string]any) {
	owner := path[strings.LastIndex(path, ".")+1:]
	for key, v := range object {
		r.tried[path+"."+key] = true
		delete(object, key)
		lacks := mayLack(path+"."+key) || mayLack(owner+"."+key)
		assert.Equal(r.t, lacks, r.valid(), "%s without %s.%s: is it valid?", r.name, path, key)
		object[key] = map[string]any{"nothing": []any{"like it"}}
		assert.False(r.t, r.valid(), "%s with another kind of %s.%s", r.name, path, key)
		object[key] = v
		r.walk(path+"."+key, v)
	}
	object["surplus"] = 1
	assert.False(r.t, r.valid(), "%s with a key too many in %s", r.name, path)
	delete(object, "surplus")
	require.True(r.t, r.valid(), "set right again")
}

// reasonPath is where a key of a reason was tried: the reasons of hits, of
// hits for some of the words and of what was missed are one kind.
func reasonPath(tried map[string]bool, path string) string {
	key := path[strings.LastIndex(path, "."):]
	for _, at := range []string{"find.hits.why", "find.also.why", "find.no_hit.nearest.missed"} {
		if tried[at+key] {
			return at + key
		}
	}
	return path
}

// schemaPaths lists the keys that a schema describes, at every depth.
func schemaPaths(path string, schema map[string]any) []string {
	var out []string
	if properties, ok := schema["properties"].(map[string]any); ok {
		for key, sub := range properties {
			out = append(append(out, path+"."+key), schemaPaths(path+"."+key, sub.(map[string]any))...)
		}
	}
	if items, ok := schema["items"].(map[string]any); ok {
		out = append(out, schemaPaths(path, items)...)
	}
	for _, either := range []string{"anyOf", "oneOf"} {
		if all, ok := schema[either].([]any); ok {
			for _, sub := range all {
				out = append(out, schemaPaths(path, sub.(map[string]any))...)
			}
		}
	}
	return out
}
