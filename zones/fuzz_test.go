package zones

import (
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/require"
)

// Whatever the letters: no panic, and what is taken is a finite number.
func FuzzQuantities(f *testing.F) {
	for _, s := range []string{"12 ft", "6 in", "0.5 in/h", "150 mm", "2 m", "620 sq ft", "5 ft 6 in", "50 %", "3:1", "-20 C", "2 gal", "48 h", "1e999 m", "\u00bd in", "", "ft", "1,5 m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, parse := range []func(string) (float64, error){
			ParseLengthM, parseDepthMM, parseAreaM2, parseRateMMH, parseTempC, ParsePercent, parseHours, slopeOf, ParseLitres, ParseHoseLMin,
		} {
			v, err := parse(s)
			if err != nil {
				require.NotEmpty(t, err.Error())
				continue
			}
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%q is %g", s, v)
		}
	})
}

// Whatever file, key and value: an edit is refused, or the file has the value
// then, and has it once.
func FuzzEditKey(f *testing.F) {
	demo, err := os.ReadFile("../data/garden.yaml")
	require.NoError(f, err)
	demo = demo[:bytes.Index(demo, []byte("\nroof:"))+1] // the whole makes a fuzzer slow
	f.Add(string(demo), "name", "Other")
	f.Add("name: x\nbed: # of the porch\n  length: 20 ft # long\n", "bed.length", "21 ft")
	f.Add("name: x\n", "name", "a: [b] # c")
	f.Add("bed: {length: 2 m}\r\n", "bed.length", "")
	f.Add("a: 'x'\n", "a", "'")
	f.Fuzz(func(t *testing.T, text, key, value string) {
		out, err := EditKey(text, key, value)
		if err != nil {
			var faults table.Faults
			require.True(t, errors.As(err, &faults) || errors.Is(err, errNotEdited), "%v", err)
			return
		}
		now, err := KeyTexts(out)
		require.NoError(t, err, "%q", out)
		require.Equal(t, strings.TrimSpace(value), now[key])
		again, err := EditKey(out, key, value)
		require.NoError(t, err)
		require.Equal(t, out, again, "once more changes nothing")
	})
}
