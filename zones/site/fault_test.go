package site

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFaultSaysWhereWhatAndWhatIsRight(t *testing.T) {
	assert.Equal(t, `plants.csv:14:6: spread_cm: "wide": want a number`, Fault{"plants.csv", 14, 6, "spread_cm", "wide", "want a number"}.Error())
	assert.Equal(t, "a.csv: empty", Fault{File: "a.csv", Want: "empty"}.Error())
	assert.Equal(t, "a.csv:3: odd", Fault{File: "a.csv", Line: 3, Want: "odd"}.Error())
	assert.Equal(t, `clock: "x": want utc`, Fault{Name: "clock", Value: "x", Want: "want utc"}.Error())
	long := Fault{Value: strings.Repeat("\u00e9", 3000), Want: "short"}.Error()
	assert.Less(t, len(long), 80, "a padded cell does not fill the screen")
	assert.Contains(t, long, "...")
}

func TestFaultsListFiftyAndCountTheRest(t *testing.T) {
	faults := make(Faults, 53)
	for i := range faults {
		faults[i] = Fault{File: "a.csv", Line: i + 1, Want: "odd"}
	}
	lines := strings.Split(faults.Error(), "\n")
	assert.Len(t, lines, 51)
	assert.Equal(t, "a.csv:50: odd", lines[49])
	assert.Equal(t, "and 3 more", lines[50])
	assert.Len(t, strings.Split(faults[:50].Error(), "\n"), 50)
	assert.True(t, faults.BadInput())
}
