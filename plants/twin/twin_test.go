package twin

import (
	"bytes"
	"os"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/season"
)

func signTable(t testing.TB) *season.Table {
	t.Helper()
	f, err := os.Open("../../data/signs.csv")
	require.NoError(t, err)
	defer f.Close()
	table, err := season.ReadTable("signs.csv", f)
	require.NoError(t, err)
	return table
}

// One seed gives the same bytes on one core and on all, another gives others.
func TestSameBytes(t *testing.T) {
	table, truth := signTable(t), DefaultTruth()
	truth.Gardens = 6
	text := func(truth Truth) string {
		r, err := Run(truth, table)
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, r.Text(&out))
		return out.String()
	}
	many := text(truth)
	before := runtime.GOMAXPROCS(1)
	one := text(truth)
	runtime.GOMAXPROCS(before)
	assert.Equal(t, many, one)
	truth.Seed = 2
	assert.NotEqual(t, many, text(truth))
}
