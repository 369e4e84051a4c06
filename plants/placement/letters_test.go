package placement

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// driftsOf letters plants of 0.5 m along a line and returns what each got.
func driftsOf(taken []string, plants ...Standing) string {
	for i := range plants {
		plants[i].Stake, plants[i].SpreadCM = fmt.Sprintf("P%d", i+1), 50
	}
	letter(plants, taken)
	var out []string
	for _, p := range plants {
		out = append(out, p.Drift)
	}
	return strings.Join(out, ",")
}

func TestDriftLetters(t *testing.T) {
	at := func(id string, x float64, drift string) Standing { return Standing{ID: id, X: x, Drift: drift} }
	assert.Equal(t, "C,C,C,,,D,D,D", driftsOf(nil, at("a", 0, ""), at("a", 0.8, ""), at("a", 1.6, ""), at("a", 3, ""), at("a", 3.5, ""),
		at("b", 0, ""), at("b", 0.5, ""), at("b", 1, "")), "1.6 spreads join, more do not, two are no drift, kinds keep apart")
	assert.Equal(t, "E,E,E", driftsOf([]string{"c", "D"}, at("a", 0, ""), at("a", 0.5, ""), at("a", 1, "")), "no letter twice")
	assert.Equal(t, "C,,C,D", driftsOf(nil, at("a", 0, "C"), at("a", 9, ""), at("a", 0.5, ""), at("a", 1.8, "D")), "one that comes joins the nearest, one alone none")
	assert.Equal(t, "D,D,D", driftsOf(nil, at("a", 0, ""), at("a", 0.5, ""), at("a", 1, "D")), "what is lettered keeps it")
	seen := map[string]bool{}
	for n := range 500 {
		l := nthLetter(n)
		assert.False(t, seen[l], l)
		assert.Empty(t, WrongDrift(l))
		assert.NotContains(t, []string{"A", "B", "S", "T"}, l, "marks of the plan")
		seen[l] = true
	}
	assert.NotEmpty(t, WrongDrift("C3"))
}

// Without letters before, plants share one if and only if they hang together within
// 1.6 spreads, by threes and more: checked by walking from plant to plant.
func TestDriftLettersFollowReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var plants []Standing
		for i := range rapid.IntRange(0, 30).Draw(t, "plants") {
			plants = append(plants, Standing{Stake: fmt.Sprintf("P%d", i), ID: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "id"), SpreadCM: 40,
				X: rapid.Float64Range(0, 4).Draw(t, "x"), Y: rapid.Float64Range(0, 4).Draw(t, "y")})
		}
		letter(plants, nil)
		with := make([]map[int]bool, len(plants))
		for i := range plants {
			with[i] = map[int]bool{i: true}
			for todo := []int{i}; len(todo) > 0; todo = todo[1:] {
				p := plants[todo[0]]
				for j, q := range plants {
					if q.ID == p.ID && !with[i][j] && math.Hypot(p.X-q.X, p.Y-q.Y) <= 1.6*0.4 {
						with[i][j], todo = true, append(todo, j)
					}
				}
			}
		}
		for i, p := range plants {
			require.Equal(t, len(with[i]) >= 3, p.Drift != "", "%d of %d", i, len(plants))
			for j, q := range plants {
				if p.Drift != "" {
					require.Equal(t, with[i][j], p.Drift == q.Drift)
				}
			}
		}
	})
}
