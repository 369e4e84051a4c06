package catalogue

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestReadTableFor: only what the map uses is kept, and the import is the same.
func TestReadTableFor(t *testing.T) {
	for _, name := range []string{"plant-characteristics-2162.csv plant-characteristics.yaml", "wetland-indicator-status-2016.csv wetland-status.yaml"} {
		file, yaml, _ := strings.Cut(name, " ")
		m := openMap(t, yaml)
		whole := openTable(t, file)
		f, err := os.Open(filepath.Join(testdata, "records", file))
		require.NoError(t, err)
		defer f.Close()
		narrow, err := ReadTableFor(file, f, m)
		require.NoError(t, err)
		assert.Less(t, len(narrow.Header), len(whole.Header))
		for _, h := range narrow.Header {
			assert.True(t, m.uses(h), h)
		}
		want, r, err := Import(whole, m)
		require.NoError(t, err)
		got, s, err := Import(narrow, m)
		require.NoError(t, err)
		require.Len(t, got, len(want))
		for i := range got {
			same(t, want[i], got[i])
			require.Equal(t, want[i].Line, got[i].Line)
		}
		assert.Equal(t, r, s)
	}

	// Places are those of the file, whatever is passed over.
	m, err := ReadMap("m.yaml", strings.NewReader(smallMap+"  wet_h: {from: w}\n"))
	require.NoError(t, err)
	table, err := ReadTableFor("t.csv", strings.NewReader("x,n,y,w\n\"1\n2\",a,ü,bad\n\"3\n4\",b,,5\n"), m)
	require.NoError(t, err)
	_, _, err = Import(table, m)
	assert.EqualError(t, err, `t.csv:3:8: wet_h: "bad": want a number of hours`)
	table, err = ReadTableFor("t.csv", strings.NewReader("x,n,y,w\n\"1\n2\",a,ü,4\n\"3\n4\",b,,5\n"), m)
	require.NoError(t, err)
	_, r, err := Import(table, m)
	require.NoError(t, err)
	assert.Equal(t, "t.csv:2:1: spread_cm: cannot be placed on a list until its spread is known", r.Warnings[0].String())
	_, err = ReadTableFor("t.csv", strings.NewReader("x,x,n,w\n1,a,b\n"), m)
	assert.EqualError(t, err, "t.csv:1:3: x: this column stands twice in the header: want it once\nt.csv:2:1: want 4 cells as in the header, not 3")
	m.Columns["wet_h"] = from{From: "wett"}
	table, err = ReadTableFor("t.csv", strings.NewReader("x,n,wetty\n1,a,2\n"), m)
	require.NoError(t, err)
	_, _, err = Import(table, m)
	assert.ErrorContains(t, err, `"wett": want a column of t.csv; did you mean wetty?`)
}
