package draw

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pictures are all golden drawings by name.
func pictures(t require.TestingT) map[string][]byte {
	out := map[string][]byte{}
	for name, in := range plans(t) {
		out[name] = Plan(in).SVG()
	}
	for name, in := range sections(t) {
		out[name] = Section(in).SVG()
	}
	for name, in := range blooms() {
		out[name] = BloomChart(in).SVG()
	}
	for name, in := range climates() {
		out[name] = ClimateChart(in).SVG()
	}
	for name, in := range turns(t) {
		out[name] = Seasons(in).SVG()
	}
	for name, in := range routes(t) {
		out[name] = Route(in).SVG()
	}
	return out
}

// Golden files hold what was looked at and found good; UPDATE_GOLDEN=1 writes
// them anew.
func TestGolden(t *testing.T) {
	for name, got := range pictures(t) {
		file := filepath.Join("testdata", name+".svg")
		if os.Getenv("UPDATE_GOLDEN") == "1" {
			require.NoError(t, os.WriteFile(file, got, 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got), name)
	}
}
