package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The cut at the head draws the mix as deep as it is against the pond, an L where the
// line of the cut runs, and plants by their form.
func sectionToScale(t *testing.T, s stand) {
	folder := garden(t)
	file := filepath.Join(folder, "garden.yaml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	for name, change := range map[string][2]string{
		"deep mix": {"depth: 18 in", "depth: 18 in"}, "shallow mix": {"depth: 18 in", "depth: 9 in"},
		"L": {"shape: oval ", "shape: polygon\n  points: [[0 ft, 0 ft], [24 ft, 0 ft], [24 ft, 10 ft], [11 ft, 10 ft], [11 ft, 20 ft], [0 ft, 20 ft]] "},
	} {
		changed := strings.Replace(string(text), change[0], change[1], 1)
		if name == "L" {
			changed = strings.Replace(changed, "\n  length: 20 ft\n  width: 14 ft\n", "\n", 1)
		}
		require.NoError(t, os.WriteFile(file, []byte(changed), 0o644))
		for _, wide := range []int64{1280, 360} {
			w := s.look(t, s.serve(t, folder).address, looks{wide: wide, high: 740})
			w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
			got := ask[[]float64](w, `(() => { const box = (q) => document.querySelector('#section ' + q).getBBox(), mix = box('.mix'), turf = box('.turf'), spill = box('.spill');
				const low = turf.y + turf.height; return [mix.y + mix.height - low, low - spill.y, document.querySelectorAll('#section .tall').length, new Set([...document.querySelectorAll('#section .tall')].map(e => e.getAttribute('d').replace(/[-0-9.]+/g, ''))).size, spill.y + mix.height]; })()`)
			mixMM, pondMM := 18.0, 6.0
			if name == "shallow mix" {
				mixMM = 9
			}
			assert.InDelta(t, mixMM/pondMM, got[0]/got[1], 0.1, "%s: mix to pond", name)
			assert.Greater(t, got[2], 5.0, name)
			assert.GreaterOrEqual(t, got[3], 2.0, "%s: forms are told apart", name)
			w.shot(fmt.Sprintf("%s-%d", strings.ReplaceAll(name, " ", "-"), wide))
			assert.Zero(t, ask[int](w, `(() => { const box = (q) => [...document.querySelectorAll(q)].map(e => e.getBoundingClientRect()), names = box('.plan .words text');
				return box('.plan .labels rect').filter(a => names.some(b => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)).length; })()`), "%s: labels on names", name)
			w.within(name)
		}
	}
}
