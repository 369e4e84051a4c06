package zones

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A length below zero counts all of its parts: 3 ft 3 in are 39 in of 0.0254 m.
func TestBelowZeroInParts(t *testing.T) {
	text, err := os.ReadFile("../data/garden.yaml")
	require.NoError(t, err)
	g, err := ReadGarden("garden.yaml", strings.NewReader(strings.Replace(string(text), "inlet: [0 ft, 7 ft]", "inlet: [-3 ft 3 in, 7 ft]", 1)))
	require.NoError(t, err)
	assert.InDelta(t, -39*0.0254, g.Layout.InletM[0], 1e-12)
}

// Every handle, led a way and back, leaves the garden as it was; each changes its own
// keys alone, and is where it was led to, to the inch or the centimetre.
func TestHandlesComeBack(t *testing.T) {
	demo, err := os.ReadFile("../data/garden.yaml")
	require.NoError(t, err)
	bent := strings.Replace(strings.NewReplacer("shape: oval ", "shape: polygon\n  points: [[0 ft, 0 ft], [24 ft, 0 ft], [24 ft, 10 ft], [11 ft, 10 ft], [11 ft, 20 ft], [0 ft, 20 ft]] ", "  length: 20 ft\n", "", "  width: 14 ft\n", "").Replace(string(demo)),
		"    - {boulder: [14 ft, 3 ft 6 in], radius: 1 ft}", "    - {boulder: [14 ft, 3 ft 6 in], radius: 1 ft}\n    - {bench: [[4 ft, 2 ft], [8 ft, 2 ft], [8 ft, 4 ft]]}", 1)
	for name, text := range map[string]string{"oval": string(demo), "L": bent, "metric": strings.Replace(string(demo), "units: us", "units: metric", 1)} {
		lotOf := func(text string) *Lot {
			g, err := ReadGarden("garden.yaml", strings.NewReader(text))
			require.NoError(t, err, name)
			lot, err := Prepare(g, nil)
			require.NoError(t, err, name)
			return lot
		}
		lot := lotOf(text)
		for _, h := range lot.Handles() {
			to := [2]float64{h.At[0] + 0.305, h.At[1] + 0.2}
			changes, ok := lot.Drag(h.Name, to)
			require.True(t, ok)
			moved := text
			for key, value := range changes {
				moved, err = EditKey(moved, key, value)
				require.NoError(t, err, "%s %s: %s", name, h.Name, key)
			}
			at := map[string][2]float64{}
			for _, other := range lotOf(moved).Handles() {
				at[other.Name] = other.At
			}
			const inch = 0.0254
			if along := h.Name != "width"; along {
				assert.InDelta(t, to[0], at[h.Name][0], inch, "%s %s", name, h.Name)
			}
			if across := h.Name != "length"; across {
				assert.InDelta(t, to[1], at[h.Name][1], inch, "%s %s", name, h.Name)
			}
			for _, other := range lot.Handles() {
				if strings.HasPrefix(h.Name, "kept") || h.Name == "inlet" || h.Name == "spill" {
					if other.Name != h.Name {
						assert.Equal(t, other.At, at[other.Name], "%s %s moves %s", name, h.Name, other.Name)
					}
				}
			}
		}
		_, ok := lot.Drag("nothing", [2]float64{})
		assert.False(t, ok)
		for _, shape := range []string{"polygon", "rectangle", "oval"} {
			again := text
			for key, value := range lot.Reshaped(shape) {
				again, err = EditKey(again, key, value)
				require.NoError(t, err)
			}
			again, err = EditKey(again, "bed.shape", shape)
			require.NoError(t, err)
			x0, y0, x1, y1 := lot.Bed.Spec().Outline.Bounds()
			a0, b0, a1, b1 := lotOf(again).Bed.Spec().Outline.Bounds()
			assert.InDelta(t, 0, math.Abs(x1-x0-a1+a0)+math.Abs(y1-y0-b1+b0), 0.03, "%s as %s", name, shape)
		}
	}
}
