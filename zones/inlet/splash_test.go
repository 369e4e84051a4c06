package inlet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Pads by their rules: HEC-14 takes (D + depth) / 2 for fast flow.
func TestPads(t *testing.T) {
	slow := roundPad(0.1, 0.002, 0.3, 0.09, 0.4572)
	assert.False(t, slow.Needed)
	assert.Equal(t, stoneMM(0.1, 0.002, math.NaN()), slow.StoneMM)
	fast := roundPad(0.1, 0.002, 2, 0.04, 0.4572)
	assert.True(t, fast.Needed)
	assert.Equal(t, stoneMM(0.07, 0.002, math.NaN()), fast.StoneMM)
	assert.Equal(t, 2*inch, fast.RockMM, "no rock under 2 in")
	assert.InDelta(t, 2, fast.LengthM/footM, 1e-12, "no pad under 2 ft")
	assert.InDelta(t, 4*inch, fast.DepthMM, 1e-9)
	assert.InDelta(t, 0.3+0.6096/3, fast.WidthM, 1e-12)
	large := roundPad(0.6, 0.6, 2, 0.6, 0.4572)
	assert.InDelta(t, 2.4, large.LengthM, 1e-12)
	assert.Equal(t, large.StoneMM, large.RockMM)
	assert.InDelta(t, 3.5*large.StoneMM, large.DepthMM, 1e-9)
	channel := channelPad(0.5, 1, 0.4572)
	assert.True(t, channel.Needed)
	assert.InDelta(t, 41.3, channel.StoneMM, 1e-9)
	assert.InDelta(t, 0.5*0.6096*3.5*0.0413, channel.RockM3, 1e-9)
	assert.False(t, channelPad(0.5, 0.4, 0.4572).Needed)
}
