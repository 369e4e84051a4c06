package season

import (
	"bytes"
	"errors"
	"os"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/require"
)

// Whatever the bytes: no panic, and what is read is written and read again the
// same.
func FuzzReadLearned(f *testing.F) {
	f.Add([]byte("id,limit,catalogue,learned,low,high,plants,gardens\nlow-brindlewisp,wet_h,48,60,40,90,5,2\n"))
	f.Add([]byte("id,limit\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		limits, err := ReadLearned("learned.csv", bytes.NewReader(text))
		if err != nil {
			var faults table.Faults
			require.True(t, errors.As(err, &faults), "%v", err)
			return
		}
		var out bytes.Buffer
		require.NoError(t, WriteLearned(&out, limits))
		if len(limits) == 0 {
			return
		}
		again, err := ReadLearned("learned.csv", bytes.NewReader(out.Bytes()))
		require.NoError(t, err, "%s", out.String())
		require.Len(t, again, len(limits))
		for i := range limits {
			require.Equal(t, limits[i].ID, again[i].ID)
			require.Equal(t, limits[i].Limit, again[i].Limit)
		}
	})
}

// Whatever the bytes: no panic, and a wrong table of signs is told by place.
func FuzzReadTable(f *testing.F) {
	demo, err := os.ReadFile("../../data/signs.csv")
	require.NoError(f, err)
	f.Add(demo)
	f.Add(demo[:len(demo)/2])
	f.Fuzz(func(t *testing.T, text []byte) {
		signs, err := ReadTable("signs.csv", bytes.NewReader(text))
		if err == nil {
			require.NotNil(t, signs)
			return
		}
		var faults table.Faults
		require.True(t, errors.As(err, &faults), "%v", err)
	})
}
