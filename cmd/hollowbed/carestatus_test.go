package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// careCases are command lines of care with the status they end with.
func careCases() []statusCase {
	return []statusCase{
		{"care", 0, `invented demo garden`}, {"care --garden $good", 0, ``}, {"care --help", 0, `^$`},
		{"care --planted 2026-05-01 --hose 15L/min --csv --garden $good", 0, ``}, {"care --today --ics $out --garden $good", 0, `Wrote`}, {"care --checklist --garden $good", 0, ``},
		{"care --nosuch", 2, `unknown flag: --nosuch: see hollowbed care --help`}, {"care surplus", 2, `surplus.*want hollowbed care`},
		{"care --units yards", 2, `--units: "yards": want us or metric`}, {"care --units=", 2, `--units: "": want a value`}, {"care --garden=", 2, `--garden: "": want a value`},
		{"care --garden $taken", 2, `want a folder`}, {"care --garden $empty", 2, `garden.yaml: no such file`}, {"care --garden $yaml", 2, `bed.length: "20": want`},
		{"care --garden $folder", 2, `garden.yaml: is a folder`}, {"care --garden $rain", 2, `rain.csv:3:\d+: rain_mm: "wide"`}, {"care --garden $dry", 2, `no weather record: put one at`},
		{"care --garden $plants", 2, `plants.csv:2:\d+: zones: "botom"`}, {"care --garden $planted", 2, `planted.csv:2:\d+: x_m: "wide"`},
		{"care --planted=", 2, `--planted: "": want a value`}, {"care --planted 1.5.2026", 2, `--planted: "1.5.2026": want a date`}, {"care --planted 0001-01-01", 2, `--planted`},
		{"care --hose=", 2, `--hose: "": want a value`}, {"care --hose 15", 2, `--hose: "15": want`}, {"care --hose 9999L/min", 2, `hose`},
		{"care --so-far=", 2, `--so-far: "": want a value`}, {"care --so-far $none --planted 2026-05-01 --garden $good", 2, `no such file`}, {"care --so-far $demo --planted 2026-05-01 --garden $good", 2, `plants.csv`},
		{"care --so-far $good --planted 2026-05-01 --garden $good", 2, `--so-far: .*: is a folder`},
		{"care --forecast=", 2, `--forecast: "": want a value`}, {"care --forecast $demo", 2, `want --so-far too`},
		{"care --ics=", 2, `--ics: "": want a value`}, {"care --ics $below --garden $good", 1, `below`},
		{"care --json --csv", 2, `want only one`}, {"care --csv --today", 2, `want only one`}, {"care --today --checklist", 2, `want only one`}, {"care --json --checklist", 2, `want only one`},
	}
}

// A record too short for a first year is followed by itself, and says so; one
// that is barely long enough says on how little it rests.
func TestCareShortRecord(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join(repo, "data/rain.csv"))
	require.NoError(t, err)
	years := func(names ...string) string {
		out := "date,rain_mm,tmin_c,tmax_c\n"
		for line := range strings.Lines(string(text)) {
			if slices.Contains(names, line[:4]) {
				out += line
			}
		}
		return gardenWith(t, map[string]string{"rain.csv": out})
	}
	status, out, errs := careAt(t, march(), "--all", "--garden", years("2010"))
	require.Zero(t, status, errs)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "the record is followed by itself, since it ends before the first year does")
	status, out, errs = careAt(t, march(), "--all", "--garden", years("2010", "2011"))
	require.Zero(t, status, errs)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "this rests on 1 planting year")
	assert.NotContains(t, out, "followed by itself")
	_, out, _ = careAt(t, march(), "--all")
	assert.NotContains(t, out, "this rests on")
}

// The schema refuses a document with a key less or a key too many.
func TestCareSchemaRefuses(t *testing.T) {
	t.Parallel()
	_, out, _ := careAt(t, march(), "--json")
	require.NoError(t, validate("care", []byte(out)))
	var doc map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &doc))
	refused := func(what string) {
		text, err := json.Marshal(doc)
		require.NoError(t, err)
		assert.Error(t, validate("care", text), what)
	}
	for key, value := range doc {
		delete(doc, key)
		refused("without " + key)
		doc[key] = value
	}
	doc["surplus"] = 1
	refused("with a key too many")
	delete(doc, "surplus")
	doc["planted"] = "May 2026"
	refused("with a date that is none")
}
