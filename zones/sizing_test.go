package zones

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

// What --size proposes passes every check of its depth: 8 in of pond (GWQ037),
// 72 h until mosquitoes breed (US EPA, CDC), both from memory.
func TestSizeKeepsToTheDepths(t *testing.T) {
	for _, c := range []struct {
		rate    string
		deepMM  float64
		because string
		failing []string
	}{
		{"40 mm/h", 8 * 25.4, "lowered from 12 in, the most that the handbook allows", []string{"depth of the pond", "depth to the rim, for children"}},
		{"2 mm/h", 140, "lowered from 12 in, to be gone within 72 h, before mosquitoes breed", []string{"standing water, for mosquitoes", "depth of the pond", "depth to the rim, for children"}},
	} {
		text := strings.Replace(little, "ponding_depth: 6 in", "ponding_depth: 12 in", 1) + "target: {event: 10 mm, drain_within: 200 h}\n"
		l := prepared(t, soilLine(t, text, "{rate: "+c.rate+", safety_factor: 1}"), nil)
		p, err := l.Perform()
		require.NoError(t, err)
		assert.Equal(t, c.failing, failingDepths(l.Checks(p)))
		s, err := l.Smallest()
		require.NoError(t, err)
		require.True(t, s.Reached)
		assert.InDelta(t, c.deepMM, s.Spec.PondingMM, 1e-9)
		assert.Equal(t, c.because, s.Depth)
		l.Bed, err = basin.New(s.Spec)
		require.NoError(t, err)
		assert.Empty(t, failingDepths(l.Checks(s.Performs)))
	}
}

func failingDepths(checks []basin.Check) (out []string) {
	for _, k := range checks {
		if k.Known && !k.OK && k.Name != "capture" {
			out = append(out, k.Name)
		}
	}
	return out
}
