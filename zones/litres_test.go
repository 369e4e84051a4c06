package zones

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseLitres(t *testing.T) {
	for text, want := range map[string]float64{"10 L": 10, "2 gal": 2 * 3.785411784, "0.5l": 0.5, "1 1/2 gal": 1.5 * 3.785411784} { // US gallon: NIST, from memory
		v, err := ParseLitres(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, v, 1e-9, text)
	}
	for _, text := range []string{"", "10", "ten L", "-1 L", "0 L", "10 m", "1e9 L", "NaN L"} {
		_, err := ParseLitres(text)
		assert.ErrorContains(t, err, "want", text)
	}
}
