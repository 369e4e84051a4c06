package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
)

// The scripts in testdata/script run the real main, one case a file.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"hollowbed": main})
}

func TestScripts(t *testing.T) {
	repo, err := filepath.Abs("../..")
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("REPO", repo)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
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

// ask runs one command line in this process.
func ask(t testing.TB, input string, args ...string) (status int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status = run(args, world{
		in: strings.NewReader(input), out: &stdout, err: &stderr,
		getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC) },
		terminal: input != "",
	})
	return status, stdout.String(), stderr.String()
}

// A schema that let everything pass would be no check: each must refuse its
// own document with a key taken away, and one with a key too many.
func TestSchemasRefuse(t *testing.T) {
	for name, args := range map[string][]string{
		"basin":  {"basin", "--size", "--json"},
		"zones":  {"zones", "--json"},
		"trace":  {"zones", "--explain", "slope", "--json"},
		"choose": {"choose", "--json"},
		"find":   {"find", "--json", "--wet", "5000", "--count", "zone"},
		"place":  {"place", "--json"},
		"why":    {"choose", "--json", "--why", "low-brindlewisp"},
	} {
		status, out, errs := ask(t, "", args...)
		require.Zero(t, status, errs)
		require.NoError(t, validate(name, []byte(out)), name)
		var doc map[string]any
		require.NoError(t, json.Unmarshal([]byte(out), &doc))
		for key := range doc {
			if slices.Contains([]string{"size", "dig_m3", "mix_m3", "drain_dry_soil_hours", "no_hit", "unknown"}, key) {
				continue // may be absent
			}
			less := map[string]any{}
			for k, v := range doc {
				if k != key {
					less[k] = v
				}
			}
			text, err := json.Marshal(less)
			require.NoError(t, err)
			require.Error(t, validate(name, text), "%s without %s", name, key)
		}
		doc["surplus"] = 1
		text, err := json.Marshal(doc)
		require.NoError(t, err)
		require.Error(t, validate(name, text), "%s with a key too many", name)
	}
}
