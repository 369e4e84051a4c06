package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the commands print for the demo, word by word and in both systems of
// units, so that a change of wording or of a figure is seen in review.
// UPDATE_GOLDEN=1 go test ./cmd/hollowbed -run TestGolden writes them anew.
func TestGolden(t *testing.T) {
	t.Parallel()
	dir := filepath.Join("testdata", "golden")
	want := map[string]bool{}
	for _, line := range []string{
		"basin", "basin --all", "basin --size", "basin --inlets", "zones", "zones --all", "zones --bands", "choose", "choose --all", "choose --alternatives", "choose --why low-brindlewisp",
		"place", "place --all", "find blue july", "find blue july --all", "find --in bottom --limit 4", "find height:20..40 dry>=30 --limit 3", "find --wet 5000",
	} {
		for _, units := range []string{"us", "metric"} {
			name := strings.NewReplacer(" --", "-", " ", "-", ":", "-", "..", "-", ">=", "-").Replace(line) + "-" + units + ".txt"
			want[name] = true
			t.Run(name, func(t *testing.T) {
				status, out, errs := ask(t, "", append(strings.Fields(line), "--units", units)...)
				require.Zero(t, status, errs)
				path := filepath.Join(dir, name)
				if os.Getenv("UPDATE_GOLDEN") != "" {
					require.NoError(t, os.MkdirAll(dir, 0o755))
					require.NoError(t, os.WriteFile(path, []byte(out), 0o644))
					return
				}
				text, err := os.ReadFile(path)
				require.NoError(t, err)
				assert.Equal(t, string(text), out)
			})
		}
	}
	have, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, file := range have {
		assert.True(t, want[file.Name()], "%s is left over", file.Name())
	}
}
