package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The document of a table with faults, and the status; none of the faults is
// left out, however many the message leaves out.
func TestCheckAsJSON(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "bad.csv")
	text := "id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm\n"
	for i := range 60 {
		text += fmt.Sprintf("a-%d,\"Ü, %d\",rim,4,wide,10,30\n", i, i)
	}
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	status, out, errs := ask(t, "", "catalogue", "check", file, "--json")
	require.Equal(t, exitBad, status)
	require.NoError(t, validate("check", []byte(out)))
	assert.Contains(t, errs, "and 10 more")
	var doc struct {
		File   string
		Plants *int
		Faults []map[string]any
	}
	require.NoError(t, json.Unmarshal([]byte(out), &doc))
	assert.Equal(t, file, doc.File)
	assert.Nil(t, doc.Plants)
	require.Len(t, doc.Faults, 60)
	assert.Equal(t, map[string]any{"line": 61.0, "column": 20.0, "name": "wet_h", "value": "wide", "want": "want a number of hours"}, doc.Faults[59])
}

// The schemas of check and import refuse a document with a key taken away or
// one too many, wherever in it, and faults beside plants.
func TestCatalogueSchemasRefuse(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	write := func(name, text string) string {
		file := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		return file
	}
	const head = "id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm,shelf\n"
	bad := write("bad.csv", head+"a,A,rim,4,wide,10,30,\n")
	odd := write("odd.csv", head+"a,A,rim,4,5,10,30,\n")
	other := write("other.csv", "n,w,x\na,High,\n")
	m := write("m.yaml", "source: s\ncolumns:\n  id: {from: n}\n  vernacularName: {from: n}\n  wet_h: {from: w, basis: b, classes: {High: 9}}\n")
	for name, args := range map[string][]string{
		"bad check":  {"catalogue", "check", bad, "--json"},
		"odd check":  {"catalogue", "check", odd, "--json"},
		"the import": {"catalogue", "import", other, "--map", m, "--out", filepath.Join(dir, "out.csv"), "--json"},
	} {
		schema := strings.Fields(name)[1]
		_, out, errs := ask(t, "", args...)
		require.NoError(t, validate(schema, []byte(out)), errs)
		var doc any
		require.NoError(t, json.Unmarshal([]byte(out), &doc))
		objects := 0
		eachObject(doc, func(path string, o map[string]any) {
			objects++
			refused := func(how string) {
				text, err := json.Marshal(doc)
				require.NoError(t, err)
				require.Error(t, validate(schema, text), "%s: %s %s", name, path, how)
			}
			if strings.HasSuffix(path, ".values") {
				return // classes have any name
			}
			for key, v := range o {
				if key == "values" || key == "matched" || key == "ambiguous" {
					continue // may be absent
				}
				delete(o, key)
				refused("without " + key)
				o[key] = v
			}
			o["surplus"] = 1
			refused("with a key too many")
			delete(o, "surplus")
		})
		assert.Greater(t, objects, 1, name)
		if schema == "check" {
			fault := []any{map[string]any{"line": 1, "column": 1, "name": "", "value": "", "want": "x"}}
			for _, clash := range []map[string]any{
				{"file": "f", "plants": 1, "faults": fault, "warnings": []any{}},
				{"file": "f", "plants": nil, "faults": []any{}, "warnings": []any{}},
				{"file": "f", "plants": nil, "faults": fault, "warnings": fault},
			} {
				text, err := json.Marshal(clash)
				require.NoError(t, err)
				assert.Error(t, validate(schema, text), "%s", text)
			}
		}
	}
}

// eachObject calls f for every object in a document.
func eachObject(v any, f func(path string, o map[string]any)) {
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			f(path, v)
			for k, x := range v {
				walk(path+"."+k, x)
			}
		case []any:
			for i, x := range v {
				walk(fmt.Sprintf("%s[%d]", path, i), x)
			}
		}
	}
	walk("", v)
}

// A folder in place of a file is bad usage, not a failure.
func TestFolderInPlaceOfFile(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{
		{"catalogue", "check", "testdata"}, {"catalogue", "check", "testdata", "--json"},
		{"catalogue", "schema", "--package", "testdata"},
	} {
		status, out, errs := ask(t, "", args...)
		assert.Equal(t, exitBad, status, args)
		assert.Empty(t, out, args)
		assert.Contains(t, errs, "testdata: is a folder: want a plant table in CSV", args)
	}
}
