package report

import (
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones"
)

// What is printed to be copied comes out of a shell as it went in.
func TestQuotedForAShell(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"Ann's yard", "a 'b' $HOME `x` \\", "plain"} {
		out, err := exec.Command("sh", "-c", "printf %s "+quoted(name)).Output()
		require.NoError(t, err)
		assert.Equal(t, name, string(out))
	}
}

// The shares are those of TestYoungBySizeInThePublishedOrder (plants/care), of sizes that are there.
func TestLessDroughtBySize(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "", less(zones.UnitsUS, []string{"", "gallon pot"}))
	assert.Equal(t, "; of drought, small pots 40 %", less(zones.UnitsUS, []string{"small pot", ""}))
	assert.Equal(t, "; of drought, plugs 30 % and small pots 40 %", less(zones.UnitsUS, []string{"small pot", "plug"}))
}
