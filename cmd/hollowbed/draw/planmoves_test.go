package draw

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/zones/basin"
)

// A plan without moves says nothing of them; one with moves has an arrow for
// each, a cross for what is given up, and both in its legend.
func TestPlanMoves(t *testing.T) {
	in := scene(t, basin.Outline{Kind: "oval", LengthM: 6, WidthM: 4.2}, us(), 8, 40, 0.55)
	plain := string(Plan(in))
	assert.NotContains(t, plain, "moves")
	in.Moves = []Move{{From: in.Plants[0].At, To: in.Plants[30].At, Words: "1"}}
	one := string(Plan(in))
	assert.Contains(t, one, "1 plant is to move or to be replaced")
	assert.Contains(t, one, "a plant that is to move")
	assert.NotContains(t, one, "to be replaced</text>")
	in.Moves = append(in.Moves, Move{From: in.Plants[5].At, GiveUp: true})
	two := string(Plan(in))
	assert.Contains(t, two, "a plant that is to be replaced")
	assert.Equal(t, 2, strings.Count(one, "Q")-strings.Count(plain, "Q"), "an arrow and its white edge")
	assert.Equal(t, 2, strings.Count(two, "Q")-strings.Count(plain, "Q"), "no arrow for a plant that is given up")
}
