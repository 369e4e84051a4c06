package main

import (
	"maps"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// For a place where a plant died nothing is recommended that passes the risk that
// the garden file puts up with: it is named, and that it is too much.
func TestRiskyPlaceIsLeft(t *testing.T) {
	t.Parallel()
	files := map[string]string{
		"rain.csv":    demoFile(t, "rain.csv"),
		"planted.csv": "stake,id,x_m,y_m,planted,zone\nA3,common-wespil,2,2.5,2024-08-10,bottom\nA4,common-wespil,2.5,2,2024-08-10,bottom\n",
		"season.csv":  "date,stake,vigour,signs\n2024-08-15,A3,0,dead\n2024-08-15,A4,1,small but green\n",
	}
	place := func(most string) string {
		maps.Copy(files, spoilt(t, "garden.yaml", "yearly_risk_max: 15 %", "yearly_risk_max: "+most))
		status, out, errs := ask(t, "", "move", "--all", "--date", "2024-10-05", "--garden", gardenWith(t, files))
		require.Zero(t, status, errs)
		return strings.Join(strings.Fields(out), " ")
	}
	assert.Contains(t, place("1 %"), "a year, more than you wished to risk: leave it bare for now")
	usual := place("90 %")
	assert.Contains(t, usual, "A3 (Common Wespil), bottom, died: buy ")
	assert.NotContains(t, usual, "leave it bare")
}
