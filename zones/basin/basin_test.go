package basin

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A pond of a rectangular bed is a prismatoid: volume = h/6 (top + 4 middle +
// bottom). Source: Newton's prismatoid formula, any handbook of mensuration.
func TestRectanglePondIsPrismatoid(t *testing.T) {
	s := Spec{Outline{Kind: "rectangle", LengthM: 6, WidthM: 3}, 150, 3, 0.3, 50}
	b, err := New(s)
	require.NoError(t, err)
	top, middle, bottom := 5.4*2.4, (5.4-.45)*(2.4-.45), (5.4-.9)*(2.4-.9)
	want := 0.150 / 6 * (top + 4*middle + bottom)
	assert.InEpsilon(t, want, b.SpillVolumeM3(), 1e-12)
	assert.InEpsilon(t, want, b.ExactVolumeM3(0), 1e-12)
}
