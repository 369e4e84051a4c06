package report

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/cmd/hollowbed/doc"
)

// What a processor with fused steps and one without make of the same sum is
// printed alike.
func TestSteady(t *testing.T) {
	for in, want := range map[string]string{
		"0": "0", "-12": "-12", "12345678901234567890": "12345678901234567890", "0.5": "0.5", "-0.0": "0",
		"16.455867798783128": "16.4558677988", "16.45586779878313": "16.4558677988",
		"8.403877006677766e-14": "0", "1.925929944387236e-34": "0", "-1e-20": "0",
		"-8.959726205848284e-06": "-0.000008959726", "-8.95972620562624e-06": "-0.000008959726",
		"123456789012.345": "123456789012", "1e+300": "1e+300", "0.999999999999999": "1", "1e-12": "1e-12",
	} {
		assert.Equal(t, want, string(steady([]byte(in))), in)
	}
}

// Numbers come back within half of the last digit kept; all else as it was,
// whatever letters stand in it.
func TestEncodedRoundTrip(t *testing.T) {
	type sample struct {
		S string
		F []float64
		M map[string]int
	}
	rapid.Check(t, func(t *rapid.T) {
		in := sample{rapid.String().Draw(t, "s"), rapid.SliceOf(rapid.Float64Range(-1e15, 1e15)).Draw(t, "f"), map[string]int{}}
		in.S = strings.ToValidUTF8(in.S, "?")
		in.M[strings.ToValidUTF8(rapid.String().Draw(t, "key"), "?")+`"-1.5e3\`] = rapid.Int().Draw(t, "n")
		for _, indent := range []string{"", "  "} {
			text, err := encoded(in, indent)
			require.NoError(t, err)
			var out sample
			require.NoError(t, json.Unmarshal(text, &out), "%s", text)
			assert.Equal(t, in.S, out.S)
			assert.Equal(t, in.M, out.M)
			require.Len(t, out.F, len(in.F))
			for i, v := range in.F {
				assert.InDelta(t, v, out.F[i], 0.50001*max(1e-12, math.Abs(v)*1e-11))
			}
			assert.Equal(t, indent == "", strings.Count(string(text), "\n") == 1)
			for _, r := range string(text) {
				assert.False(t, r != '\n' && doc.Disturbs(r), "%q", r)
			}
		}
	})
}

// The noise is taken off in documents, not only in the function for it.
func TestEncodedIsSteady(t *testing.T) {
	tenth := 0.1
	text, err := JSONLine(map[string]any{"v": tenth + 0.2, "s": "0.30000000000000004"})
	require.NoError(t, err)
	assert.Equal(t, `{"s":"0.30000000000000004","v":0.3}`+"\n", string(text))
}
