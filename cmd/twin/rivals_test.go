package main

import (
	"bytes"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who replants has as many plants each season as at first, no two at one place, none of
// the kind that died there the season before; and the gardens of the others stay as they
// were. Watering never harms a plant in the same place.
func TestRivals(t *testing.T) {
	w := smallWorld(t, 5)
	all := rivals{replants: true, waters: true}
	for _, b := range []rivals{{}, {replants: true}, {waters: true}, all} {
		for _, policy := range []string{byNothing, byOurs} {
			require.NoError(t, w.live(policy, b))
		}
	}
	bought := 0
	for _, policy := range []string{byNothing, byOurs} {
		r := w.runs[policy+rivals{replants: true}.String()]
		for i, g := range r.gardens {
			first := len(w.gardens[i].plants)
			bought += len(g.plants) - first
			assert.Len(t, w.gardens[i].born, first)
			for turn := range w.truth.Seasons {
				held := map[int]int{}
				for k, f := range r.fates[turn][i] {
					if f.cause == "" {
						continue
					}
					_, twice := held[r.stands[turn][i][k]]
					assert.False(t, twice)
					held[r.stands[turn][i][k]] = k
				}
				assert.Len(t, held, first, "%s, season %d", policy, turn)
				if turn == 0 {
					continue
				}
				for k, f := range r.fates[turn-1][i] {
					if now, ok := held[r.stands[turn-1][i][k]]; ok && f.dies && g.born[now] == turn {
						assert.NotEqual(t, g.species[k], g.species[now], "the kind that failed there")
					}
				}
			}
			var draws []int
			for k := range g.plants {
				draws = append(draws, g.draw(k))
			}
			slices.Sort(draws)
			assert.Len(t, slices.Compact(draws), len(g.plants), "each its own luck")
		}
	}
	assert.Greater(t, bought, 20)
	dry, watered := w.runs[byNothing], w.runs[byNothing+rivals{waters: true}.String()]
	spared := 0
	for i := range w.gardens {
		for k := range w.gardens[i].plants {
			if watered.fates[0][i][k].limits {
				assert.True(t, dry.fates[0][i][k].limits)
			} else if dry.fates[0][i][k].limits {
				spared++
			}
		}
	}
	assert.Positive(t, spared)
	var out bytes.Buffer
	small := w.truth
	small.Gardens = 2
	require.NoError(t, beside(small, w.table, &out))
	assert.Contains(t, out.String(), "ours + replant + water, if it pays")
}

// By hand: 3 plants of 20, one bought and set for 20 and 7 minutes at 20 an hour, two
// moves of 10 minutes: 60 - 22.33 - 6.67 = 31.
func TestMoney(t *testing.T) {
	assert.InDelta(t, 31, fared{alive: 3, bought: 1, moves: 2}.money(), 1e-9)
}
