package moves

import (
	"os"
	"os/exec"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The plan takes the same steps on every processor: no product is fused with
// a sum where the processor could (see the package comment). What the compiler
// for arm64 makes of this package says so.
func TestNothingIsFused(t *testing.T) {
	if testing.Short() {
		t.Skip("builds for another processor")
	}
	cmd := exec.Command("go", "build", "-gcflags=-S", ".")
	cmd.Env = append(os.Environ(), "GOOS=linux", "GOARCH=arm64", "CGO_ENABLED=0")
	listing, err := cmd.CombinedOutput()
	require.NoError(t, err)
	require.Regexp(t, `\sFMULD\s`, string(listing), "it is the listing that was asked for")
	assert.Empty(t, regexp.MustCompile(`.*\sFN?M(ADD|SUB)[DS]\s.*`).FindAllString(string(listing), -1), "write float64(x*y) where a product is added to or subtracted from")
}
