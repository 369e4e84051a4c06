package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

func helpOf(t *testing.T, words ...string) string {
	t.Helper()
	var out bytes.Buffer
	status, errs := runInto(&out, append([]string{"help"}, words...)...)
	require.Zero(t, status, errs)
	for line := range strings.Lines(out.String()) {
		assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimRight(line, "\n")), 80, line)
	}
	return strings.Join(strings.Fields(out.String()), " ")
}

// Help leaves out no key, column or header, in 80 columns, and answers to every
// name that it lists.
func TestHelpExplainsFiles(t *testing.T) {
	t.Parallel()
	all := helpOf(t, "garden-file", "all")
	for _, k := range zones.Keys() {
		if k.Writing() != "keys below it" {
			assert.Contains(t, all, k.Path+": "+strings.Join(strings.Fields(k.Writing()), " "))
		}
	}
	all = helpOf(t, "weather-file", "all")
	for _, c := range site.RecordColumns() {
		assert.Contains(t, all, c.Name+": "+c.Meaning+". Headers: "+strings.Join(c.Headers, ", ")+".")
	}
	all = helpOf(t, "plant-table", "all")
	for _, f := range catalogue.Schema().Fields {
		meaning := regexp.MustCompile(`, (in|with \|) .*`).ReplaceAllString(f.Description, "")
		assert.Contains(t, all, f.Name+": "+meaning)
	}
	for _, topic := range topics() {
		assert.LessOrEqual(t, strings.Count(helpOf(t, topic.name), "\n"), 45, topic.name)
		for _, name := range topic.names() {
			assert.NotEmpty(t, helpOf(t, topic.name, name))
		}
	}
}

// The record that help shows is one.
func TestHelpShowsARecord(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	status, _ := runInto(&out, "help", "weather-file")
	require.Zero(t, status)
	lines := regexp.MustCompile(`(?m)^  (date,.*|2024-.*)$`).FindAllString(out.String(), -1)
	require.Len(t, lines, 2)
	r, err := site.ReadRecord("rain.csv", strings.NewReader(strings.ReplaceAll(strings.Join(lines, "\n"), "  ", "")), site.Format{}, 45)
	require.NoError(t, err)
	sum := 0.0
	for _, mm := range r.RainMM {
		sum += mm
	}
	assert.InDelta(t, 12.5, sum, 1e-9)
}
