package table

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const testdata = "../../testdata"

// TestCSVSpectrum reads every table of the csv-spectrum corpus
// (testdata/csv-spectrum, see its readme.md) and compares it with the rows
// that the corpus publishes beside it.
func TestCSVSpectrum(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(testdata, "csv-spectrum/csvs/*.csv"))
	require.NoError(t, err)
	require.Len(t, files, 12)
	for _, file := range files {
		base := strings.TrimSuffix(filepath.Base(file), ".csv")
		t.Run(base, func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			table, err := Read(file, bytes.NewReader(data))
			require.NoError(t, err)
			got := asObjects(table)
			published, err := os.ReadFile(filepath.Join(testdata, "csv-spectrum/json", base+".json"))
			require.NoError(t, err)

			if base == "location_coordinates" {
				// The published JSON of this one is not of its CSV: it is one
				// object and no list, has another telephone number and lacks
				// the last column. So the two cells that are in both are
				// compared, and the other two with the text of the CSV.
				var want map[string]string
				require.NoError(t, json.Unmarshal(published, &want))
				require.NotEqual(t, want["Contact Phone Number"], got[0]["Contact Phone Number"], "the corpus has been put right: compare it whole")
				require.Len(t, got, 1)
				assert.Equal(t, want["Cities"], got[0]["Cities"])
				assert.Equal(t, want["Location Coordinates"], got[0]["Location Coordinates"])
				assert.Equal(t, "2095257564", got[0]["Contact Phone Number"])
				assert.Equal(t, "Stanislaus", got[0]["Counties"])
				return
			}
			var want []map[string]string
			require.NoError(t, json.Unmarshal(published, &want))
			assert.Equal(t, want, got)
		})
	}
}

func asObjects(t *Table) []map[string]string {
	var out []map[string]string
	for _, row := range t.Rows {
		m := map[string]string{}
		for i, h := range t.Header {
			m[h] = row[i]
		}
		out = append(out, m)
	}
	return out
}

func TestSeparatorIsFound(t *testing.T) {
	for _, sep := range []string{",", ";", "\t", "|"} {
		text := strings.ReplaceAll("a~\"b,;|\t\"~c\n1~2~3\n", "~", sep)
		table, err := Read("t.csv", strings.NewReader(text))
		require.NoError(t, err, "separator %q", sep)
		assert.Equal(t, []string{"a", "b,;|", "c"}, table.Header, "separator %q", sep)
		assert.Equal(t, [][]string{{"1", "2", "3"}}, table.Rows)
	}
	table, err := Read("t.csv", strings.NewReader("only\none; and two\n"))
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"one; and two"}}, table.Rows)
}

// TestPositions holds cells behind line ends in quotes, letters of several
// bytes and a byte order mark to the line and character an editor shows.
func TestPositions(t *testing.T) {
	table, err := Read("t.csv", strings.NewReader("\ufeffa,b,c\r\n\"x\r\ny\",éé,3\r\n\r\nü,5,6\r\n"))
	require.NoError(t, err)
	require.Len(t, table.Rows, 2)
	assert.Equal(t, "x\r\ny", table.Rows[0][0])
	for _, c := range []struct{ row, col, line, column int }{
		{-1, 0, 1, 1}, {-1, 2, 1, 5},
		{0, 0, 2, 1}, {0, 1, 3, 4}, {0, 2, 3, 7},
		{1, 0, 5, 1}, {1, 1, 5, 3}, {1, 2, 5, 5},
		{2, 0, 0, 0}, {-2, 0, 0, 0},
	} {
		line, column := table.Position(c.row, c.col)
		assert.Equal(t, [2]int{c.line, c.column}, [2]int{line, column}, "row %d column %d", c.row, c.col)
	}
}

func TestTableFaults(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"empty":          {"", "t.csv:1:1: the file is empty: want a header line with the names of the columns"},
		"only a mark":    {"\ufeff\n\n", "t.csv:1:1: the file is empty: want a header line with the names of the columns"},
		"zero bytes":     {"a\x00b\x00\n\x00", "t.csv:1:1: the file holds zero bytes: want UTF-8 text, in a spreadsheet saved as CSV UTF-8"},
		"not utf-8":      {"a,b\nü,\xe9\n", "t.csv:2:3: a byte here is not UTF-8: want UTF-8, in a spreadsheet saved as CSV UTF-8"},
		"carriage":       {"a,b\r1,2\r", "t.csv:1:1: the lines end in a carriage return alone: want a line feed, or both"},
		"short row":      {"a,b\n1,2\n3\n", "t.csv:3:1: want 2 cells as in the header, not 1"},
		"long row":       {"a,b\n1,2,3\n", "t.csv:2:1: want 2 cells as in the header, not 3"},
		"twice":          {"a,b,a\n1,2,3\n", "t.csv:1:5: a: this column stands twice in the header: want it once"},
		"quote open":     {"a,b\n1,2\nü,\"x\n2,3\n", "t.csv:3:3: this quote is never closed: want a closing quote, and quotes inside the cell doubled"},
		"quote behind":   {"a,b\n1,\"x\"y\n", "t.csv:2:6: text behind a closing quote: want quotes inside a cell doubled"},
		"blank quote":    {"a,b\n1, \"x\"\n", "t.csv:2:4: a quote behind blank space: want the quote first in its cell"},
		"rows before":    {"a,b\n1\n2,3\n4,\"x\"y\n5\n", "t.csv:2:1: want 2 cells as in the header, not 1\nt.csv:4:6: text behind a closing quote: want quotes inside a cell doubled\nt.csv:5:1: want 2 cells as in the header, not 1"},
		"several":        {"a,b\n1\n2,3\n4,5,6\n", "t.csv:2:1: want 2 cells as in the header, not 1\nt.csv:4:1: want 2 cells as in the header, not 3"},
		"a row too big":  {"a,b\n1," + strings.Repeat("x", 300) + "\n2,3\n", "t.csv:2:1: want a row of at most 300 bytes"},
		"a line of rows": {"a,b\n1," + strings.Repeat("x", 1<<17) + "\n2\n", "t.csv:2:1: want a row of at most 300 bytes\nt.csv:3:1: want 2 cells as in the header, not 1"},
		"quotes too big": {"a,b\n1,\"" + strings.Repeat("x\n", 300) + "\"\n2\n", "t.csv:2:1: want a row of at most 300 bytes\nt.csv:303:1: want 2 cells as in the header, not 1"},
		"never, too big": {"a,b\n1,\"" + strings.Repeat("x\n", 300), "t.csv:2:3: this quote is never closed: want a closing quote, and quotes inside the cell doubled"},
	} {
		t.Run(name, func(t *testing.T) {
			lim := DefaultLimits()
			lim.RowBytes = 300
			_, err := ReadWithin("t.csv", strings.NewReader(c.text), lim)
			require.Error(t, err)
			assert.Equal(t, c.want, err.Error())
			var faults Faults
			require.ErrorAs(t, err, &faults)
			assert.True(t, faults.BadInput())
		})
	}
	for n, want := range map[int64]string{7: "7 bytes", 1500: "1500 bytes", 64000: "64 kB", 256_000_000: "256 MB", 1_000_500: "1000500 bytes", 0: "0 bytes"} {
		assert.Equal(t, want, InBytes(n))
	}
	_, err := ReadWithin("t.csv", strings.NewReader("a,b\n1,2\n"), Limits{FileBytes: 7, RowBytes: 100})
	assert.EqualError(t, err, "t.csv: want a file of at most 7 bytes")
	_, err = ReadWithin("t.csv", strings.NewReader("a,b\n1,2\n"), Limits{FileBytes: 8, RowBytes: 100})
	assert.NoError(t, err)
}

// TestDigest: SHA-256 of "abc", from FIPS 180-2, Appendix B.1.
func TestDigest(t *testing.T) {
	table, err := Read("t.csv", strings.NewReader("abc"))
	require.NoError(t, err)
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", table.Digest)
}
