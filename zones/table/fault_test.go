package table

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

func TestFaultSaysWhereWhatAndWhatIsRight(t *testing.T) {
	assert.Equal(t, `plants.csv:14:6: spread_cm: "wide": want a number`, Fault{"plants.csv", 14, 6, "spread_cm", "wide", "want a number"}.Error())
	assert.Equal(t, "a.csv: empty", Fault{File: "a.csv", Want: "empty"}.String())
	assert.Equal(t, "a.csv:3: odd", Fault{File: "a.csv", Line: 3, Want: "odd"}.String())
	assert.Equal(t, `clock: "x": want utc`, Fault{Name: "clock", Value: "x", Want: "want utc"}.String())
}

// 60 characters, however many bytes they take.
func TestFaultCutsALongValueBetweenCharacters(t *testing.T) {
	said := Fault{Value: strings.Repeat("é", 3000), Want: "short"}.String()
	assert.Equal(t, `"`+strings.Repeat("é", 60)+`...": short`, said)
	assert.Equal(t, `"`+strings.Repeat("é", 60)+`": short`, Fault{Value: strings.Repeat("é", 60), Want: "short"}.String())
	assert.True(t, utf8.ValidString(said))
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
	assert.NoError(t, Faults{}.Err())
}

func TestFaultsAlikeAreGatheredAndSorted(t *testing.T) {
	var faults Faults
	for line := 9; line > 2; line-- {
		faults = append(faults, Fault{Line: line, Column: 1, Name: "a", Want: "x"}, Fault{Line: line, Column: 2, Name: "b", Want: "y"})
	}
	got := append(faults, Fault{Line: 3, Column: 3, Want: "z"}).Sorted().Gathered()
	assert.Equal(t, "3:1: a: x\n3:2: b: y\n3:3: z\n4:1: a: x\n4:2: b: y\n"+
		"5:1: a: x; the same in 4 more rows\n5:2: b: y; the same in 4 more rows", got.Error())
}
