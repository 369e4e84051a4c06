package draw

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/zones/basin"
)

// A plan without moves says nothing of them; one with moves has an arrow for
// each, a cross for what is given up, and both in its legend.
func TestPlanMoves(t *testing.T) {
	in := scene(t, basin.Outline{Kind: "oval", LengthM: 6, WidthM: 4.2}, us(), 8, 40, 0.55)
	plain := string(Plan(in).SVG())
	assert.NotContains(t, plain, "moves")
	assert.NotContains(t, plain, "a plant that stays")
	in.Moves = []Move{{From: in.Plants[0].At, To: in.Plants[30].At, Words: "1"}}
	one := string(Plan(in).SVG())
	assert.Contains(t, one, "1 plant is to move or to be replaced")
	assert.Contains(t, one, "a plant that is to move")
	assert.NotContains(t, one, "to be replaced</text>")
	in.Moves = append(in.Moves, Move{From: in.Plants[5].At, GiveUp: true})
	two := string(Plan(in).SVG())
	assert.Contains(t, two, "a plant that is to be replaced")
	curves := func(picture string) int {
		moves := regexp.MustCompile(`(?s)<title>moves</title>.*?</g>`).FindString(picture)
		return len(regexp.MustCompile(`[0-9]Q-?[0-9]`).FindAllString(moves, -1))
	}
	assert.Equal(t, 2, curves(one), "an arrow and its white edge")
	assert.Equal(t, 2, curves(two), "no arrow for a plant that is given up")
	assert.Equal(t, 1, strings.Count(two, ">1 "+in.Plants[0].Stake+"</text>"), "the plant that moves is named")
	assert.Equal(t, 1, strings.Count(two, ">"+in.Plants[5].Stake+"</text>"), "so is the one that is given up")
	assert.NotContains(t, two, ">"+in.Plants[7].Stake+"</text>", "but none that stays")
	assert.Contains(t, two, "a plant that stays")
}
