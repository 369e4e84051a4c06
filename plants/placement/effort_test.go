package placement

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// On beds at full ground more effort never leaves out more plants, nor more
// ground, and where it leaves out as much it has no worse a score.
func TestMoreEffortIsNeverWorse(t *testing.T) {
	testenv.NotRaced(t) // TestRulesAreKept is
	gained := 0
	for _, name := range testenv.Of([]string{"rectangle"}, []string{"rectangle", "L", "oval"}) {
		t.Run(name, func(t *testing.T) {
			for seed := range testenv.Of(uint64(1), 2) {
				p := invented(bed(t, outlines()[name].Scaled(testenv.Of(0.48, 0.6))), seed, 1, 3, someSpreads)
				p.RandomRuns = 1
				var before attempt
				for effort := 1; effort <= 3; effort++ {
					p.Effort = effort
					now := newSolver(&p).run()
					if effort > 1 {
						assert.LessOrEqual(t, now.out, before.out, "seed %d, effort %d: more plants are left out", seed, effort)
						assert.LessOrEqual(t, now.left, before.left, "seed %d, effort %d: more ground is left out", seed, effort)
						if now.left == before.left {
							assert.LessOrEqual(t, now.score, before.score, "seed %d, effort %d", seed, effort)
						}
						if now.beats(before) {
							gained++
						}
					}
					before = now
				}
				t.Logf("seed %d: %d of %d left out at the end", seed, before.out, total(p))
			}
		})
	}
	require.Positive(t, gained, "more beginnings found nothing better")
}
