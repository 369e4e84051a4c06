package list

import (
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

// Four times the candidates are four times the work, not sixteen: what holds for
// the whole problem is not worked out anew for each alternative. Memory is
// counted, which no busy machine changes.
func TestAlternativesInProportion(t *testing.T) {
	allocated := func(species int) float64 {
		p := instance(shape{Species: species, Zones: 3, Share: 0.3, Group: 3, ZoneM2: 8, Fit: 0.7, Bloom: 0.3, Variety: 0.2, Native: 0.1}, 1)
		p.Effort = 1
		res, err := Solve(p)
		require.NoError(t, err)
		require.NotEmpty(t, res.Lines)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		Alternatives(p, res)
		runtime.ReadMemStats(&after)
		return float64(after.TotalAlloc-before.TotalAlloc) / float64(len(res.Lines))
	}
	require.Less(t, allocated(1600), 6*allocated(400))
}
