package doc

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestNoCellIsAFormula: whatever string of the Big List of Naughty Strings
// (testdata/naughty-strings) stands in a cell, a spreadsheet does not run it
// (first characters after the OWASP page on CSV injection, from memory), and
// nothing but an apostrophe in front is added to it.
func TestNoCellIsAFormula(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var all []string
	require.NoError(t, json.Unmarshal(data, &all))
	require.Greater(t, len(all), 500)
	for _, first := range []string{"=", "+", "-", "@", "\t", "\n", "＝", "＋", "－", "＠", "'=", "''@"} {
		all = append(all, first+"1", first)
	}
	guarded := 0
	for _, s := range all {
		var out bytes.Buffer
		require.NoError(t, CSV(&out, Table{Columns: []Column{{Head: "head"}, {Head: "last"}}, Rows: [][]Cell{Cells(s, "x")}}))
		rows, err := csv.NewReader(&out).ReadAll()
		require.NoError(t, err, "%q", s)
		require.Len(t, rows, 2, "%q", s)
		got := rows[1][0]
		require.False(t, got != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(got)[0]), "%q", got)
		if want := strings.ReplaceAll(s, "\r\n", "\n"); got != want { // encoding/csv reads it so
			guarded++
			require.Equal(t, "'"+want, got)
		}
	}
	assert.GreaterOrEqual(t, guarded, 24)
}
