package main

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/testdata/testenv"
)

// The robust list can be planted: place and report take the very plants of
// choose --robust, which are others than those of choose.
func TestRobustIsPlanted(t *testing.T) {
	testenv.Sweep(t)
	t.Parallel()
	get := func(doc any, args ...string) {
		status, out, errs := ask(t, "", append(args, "--json")...)
		require.Zero(t, status, errs)
		require.NoError(t, json.Unmarshal([]byte(out), doc))
	}
	doubt := []string{"--robust", "--spread", "6", "--soil-within", "3"}
	var robust, plain report.Choose
	get(&robust, append([]string{"choose"}, doubt...)...)
	get(&plain, "choose")
	var placed report.Place
	get(&placed, append([]string{"place"}, doubt...)...)

	counts := func(lines []report.Line) map[string]int {
		of := map[string]int{}
		for _, l := range lines {
			of[l.Zone+" "+l.ID] += l.Count
		}
		return of
	}
	standing := map[string]int{}
	for _, p := range placed.Plants {
		standing[p.Zone+" "+p.ID]++
	}
	for _, l := range placed.Left {
		standing[l.Zone+" "+l.ID] += l.Count
	}
	assert.Equal(t, counts(robust.Lines), standing)
	assert.NotEqual(t, counts(plain.Lines), standing)
	require.NotNil(t, placed.Doubt)
	assert.Equal(t, *robust.Doubt, *placed.Doubt)

	status, page, errs := ask(t, "", append([]string{"report"}, doubt...)...)
	require.Zero(t, status, errs)
	for _, l := range robust.Lines {
		assert.Regexp(t, fmt.Sprintf(`%s <i class="latin">[^<]*</i></th><td class="n">%d</td>`, l.VernacularName, l.Count), page)
	}
	assert.Contains(t, page, "Plants that survive even if things differ from the plan are preferred. 6 cases: ")
	assert.Contains(t, page, "; robust: right in all 6 cases</td>")
	_, ordinary, _ := ask(t, "", "report")
	assert.NotContains(t, ordinary, "right in all")
}
