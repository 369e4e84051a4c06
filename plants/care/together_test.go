package care

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A zone that dries at the same pace is watered on the visits that the thirstiest
// asks for, from half of its easy water on; one that does not want it is left; no
// zone is worse off for going along, and a zone alone is watered as before.
func TestTogether(t *testing.T) {
	b := handBed(steady(800, 0), steady(800, 1.5))
	shallow, deep := plant(20, 100), plant(45, 100)
	shallow.RootCM, deep.RootCM = 20, 150
	thirsty, other := stand("rim", 10, shallow), stand("rim", 10, deep)
	one, err := b.Plan(thirsty, may1())
	require.NoError(t, err)
	two, err := b.Plan(other, may1())
	require.NoError(t, err)
	alone := [][]Season{one.Years, two.Years}
	b.Together([]Stand{thirsty}, []*Plan{one}, may1())
	assert.Equal(t, alone[0], one.Years)

	b.Together([]Stand{thirsty, other}, []*Plan{one, two}, may1())
	days := func(s Season) (out []int) {
		for _, w := range s.Waterings {
			out = append(out, w.Day)
		}
		return out
	}
	for y := range one.Years {
		visits := map[int]bool{}
		for _, d := range append(days(one.Years[y]), days(two.Years[y])...) {
			visits[d] = true
		}
		apart := map[int]bool{}
		for _, d := range append(days(alone[0][y]), days(alone[1][y])...) {
			apart[d] = true
		}
		assert.Less(t, len(visits), len(apart), "fewer times out")
		assert.Subset(t, days(one.Years[y]), days(two.Years[y]), "deep roots go by the shallow ones")
		assert.Less(t, len(days(two.Years[y])), len(days(one.Years[y])), "and are left where they have enough")
		assert.LessOrEqual(t, one.Years[y].Drought.Load, alone[0][y].Drought.Load)
		assert.LessOrEqual(t, two.Years[y].Drought.Load, alone[1][y].Drought.Load)
	}
	assert.Equal(t, one.Typical, two.Typical)
	assert.Equal(t, one.Dry, two.Dry)
	assert.Equal(t, b.sum(other, ByDepletion, two.Years), two.of(ByDepletion))
}
