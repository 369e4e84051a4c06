package season

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A garden whose ponds were watched is held to differ from what was computed by what
// they left open, and not more: what all its plants show goes to their kinds, then.
func TestWatchedPondsNarrowTheGround(t *testing.T) {
	m, table := Default(), demoTable(t)
	wet := func(ground float64) *Learned {
		var cases []Case
		for k := range 6 {
			c := calm()
			c.Species, c.Plant, c.GroundSD = fmt.Sprintf("s%d", k), fmt.Sprintf("P%d", k), ground
			c.Dose[0].Severity = 0.6
			c.Notes = []Note{{Vigour: 1, Seen: []Sign{"soil soggy", "yellow", "roots brown"}}}
			cases = append(cases, c)
		}
		return m.Learn(table, cases)
	}
	of := func(l *Learned) gardenFactor { g, _ := l.Garden("g"); return g }
	tested, watched := of(wet(0)), of(wet(0.12))
	assert.Greater(t, tested.Wet, 1.2)
	assert.Less(t, watched.Wet, 1+(tested.Wet-1)/2)
	assert.LessOrEqual(t, watched.WetBelief.SD, 0.12+1e-3)
	assert.Equal(t, of(wet(0)), of(wet(5)), "what is known worse than the program takes it to be changes nothing")
	c := calm()
	c.GroundSD = 0.12
	assert.InDelta(t, math.Sqrt(0.4*0.4+0.2*0.2+0.12*0.12), m.Unlearned(c)[0].SD, 1e-12)
	assert.Equal(t, m.Unlearned(calm())[1], m.Unlearned(c)[1], "too deep goes by no ground")
}
