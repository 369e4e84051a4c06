package plants

import (
	"os"
	"os/exec"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// The searches for a list and for moves take the same steps on every processor:
// no product is fused with a sum where the processor could (see the comments of
// these packages). What the compiler for arm64 makes of them says so.
func TestNothingIsFused(t *testing.T) {
	testenv.Sweep(t)
	testenv.NotRaced(t)
	for _, search := range []string{"./list", "./moves"} {
		cmd := exec.Command("go", "build", "-gcflags=-S", search)
		cmd.Env = append(os.Environ(), "GOOS=linux", "GOARCH=arm64", "CGO_ENABLED=0")
		listing, err := cmd.CombinedOutput()
		require.NoError(t, err, search)
		require.Regexp(t, `\sFMULD\s`, string(listing), "%s: it is the listing that was asked for", search)
		fused := regexp.MustCompile(`.*\sFN?M(ADD|SUB)[DS]\s.*`).FindAllString(string(listing), -1)
		assert.Empty(t, fused, "%s: write float64(x*y) where a product is added to or subtracted from", search)
	}
}
