package many

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones"
	"hollowbed/zones/table"
)

func noneUnknown([]zones.Cell) table.Faults { return nil }

func readAll(t testing.TB, text string) []Row {
	t.Helper()
	table, err := OpenTable("t.csv", strings.NewReader(text), noneUnknown)
	require.NoError(t, err)
	var rows []Row
	for {
		row, err := table.Next()
		if errors.Is(err, io.EOF) {
			return rows
		}
		require.NoError(t, err)
		rows = append(rows, row)
	}
}

// The same gardens as CSV with each separator, with quotes and blank rows, and
// as JSON, flat and in sections.
func TestTableForms(t *testing.T) {
	for name, text := range map[string]string{
		"csv":       "id,roof.area,bed.length\nlot-1,90 m2,20 ft\nlot-2,,6 m\n",
		"semicolon": "id;roof.area;bed.length\nlot-1;90 m2;20 ft\nlot-2;;6 m",
		"tab":       "\ufeffid\troof.area\tbed.length\r\nlot-1\t90 m2\t20 ft\r\nlot-2\t\t6 m\r\n",
		"quoted":    "\"id\", roof.area ,bed.length\nlot-1,\" 90 m2\",\"20 ft\"\n\n,,\n lot-2 ,\"\",6 m\n",
		"json":      `{"id":"lot-1","roof.area":"90 m2","bed.length":"20 ft"}` + "\n\n" + `{"id": "lot-2", "roof.area": "", "bed.length":"6 m"}`,
		"sections":  `{"id":"lot-1","roof":{"area":"90 m2"},"bed":{"length":"20 ft"}}` + "\r\n" + `{"bed":{"length":"6 m"},"id":"lot-2"}` + "\n",
	} {
		rows := readAll(t, text)
		require.Len(t, rows, 2, name)
		for i, r := range rows {
			assert.Equal(t, i+1, r.Number, name)
			assert.Empty(t, r.Faults, name)
		}
		assert.Equal(t, "lot-1", rows[0].ID, name)
		assert.Equal(t, []string{"roof.area=90 m2", "bed.length=20 ft"}, stated(rows[0]), name)
		assert.Equal(t, []string{"bed.length=6 m"}, stated(rows[1]), name)
	}
}

func stated(r Row) []string {
	var out []string
	for _, c := range r.Cells {
		out = append(out, c.Key+"="+c.Text)
	}
	return out
}

// JSON values become what a garden file would have.
func TestTableValues(t *testing.T) {
	rows := readAll(t, `{"id":7,"record":"a/b.csv","bed":{"kc":0.90},"site":{"open":true},"roof.share":null,"wishes":{"wanted":["a","b"]},"soil.soak_test.readings":[{"at":"0 min","water":"9 in"}]}`)
	require.Len(t, rows, 1)
	assert.Empty(t, rows[0].Faults)
	assert.Equal(t, "7", rows[0].ID)
	assert.Equal(t, "a/b.csv", rows[0].Record.Text)
	assert.Equal(t, []string{"bed.kc=0.90", "site.open=true", "roof.share=~", `wishes.wanted=["a","b"]`, `soil.soak_test.readings=[{"at":"0 min","water":"9 in"}]`}, stated(rows[0]))
}

// Cells know their line and column, in characters, over quoted line ends and
// letters of several bytes.
func TestTablePlaces(t *testing.T) {
	rows := readAll(t, "id,name,roof.area\nä,\"Löt\nzwei\",90\n\nb,ößü,91\n")
	require.Len(t, rows, 2)
	at := func(c zones.Cell) [2]int { return [2]int{c.Line, c.Col} }
	assert.Equal(t, [2]int{2, 3}, at(rows[0].Cells[0]))
	assert.Equal(t, [2]int{3, 7}, at(rows[0].Cells[1]))
	assert.Equal(t, [2]int{5, 3}, at(rows[1].Cells[0]))
	assert.Equal(t, [2]int{5, 7}, at(rows[1].Cells[1]))
	rows = readAll(t, `{"id":"ä","roof":{"area": "90"}}`)
	assert.Equal(t, [2]int{1, 27}, at(rows[0].Cells[0]))
}

// wide is a row of one key more than a table may have.
func wide(form string) string {
	var cells []string
	for i := range maxKeys + 1 {
		cells = append(cells, fmt.Sprintf(form, i))
	}
	return strings.Join(cells, ",")
}

// A faulty row is told with its place, and the rows after it are read.
func TestTableFaultyRows(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"id,a\nx,1\ny\nz,3\n", `^t.csv:3:1: want 2 cells as in the header, not 1`},
		{"id,a\nx,1\ny,1,2\nz,3\n", `^t.csv:3:1: want 2 cells as in the header, not 3`},
		{"id,a\nx,1\ny,\"5\" pot\nz,3\n", `^t.csv:3:6: text behind a closing quote`},
		{"id,a\nx,ü\ny,\xff\nz,3\n", `^t.csv:3:3: a byte here is not UTF-8`},
		{"{\"id\":\"x\"}\n{\"id\":}\n{\"id\":\"z\"}\n", `^t.csv:2:\d+: this line is no JSON`},
		{"{\"id\":\"x\"}\n[1]\n{\"id\":\"z\"}\n", `^t.csv:2:1: want one JSON object a line`},
		{"{\"id\":\"x\"}\n{\"id\":\"y\"} {}\n{\"id\":\"z\"}\n", `^t.csv:2:11: want one JSON object a line, and nothing after`},
		{"{\"id\":\"x\"}\n{\"a\":1,\"a\":2}\n{\"id\":\"z\"}\n", `^t.csv:2:12: a: given twice`},
		{"{\"id\":\"x\"}\n{\"a\":{\"b\":1},\"a.b\":2}\n{\"id\":\"z\"}\n", `given twice`},
		{"{\"id\":\"x\"}\n" + strings.Repeat(`{"a":`, 50) + "1" + strings.Repeat("}", 50) + "\n{\"id\":\"z\"}\n", `nested too deeply`},
		{"{\"id\":\"x\"}\n{\"ID\":\"y\"}\n{\"id\":\"z\"}\n", `^t.csv:2:7: ID: not a key of a garden file; did you mean id\?`},
		{"{\"id\":\"x\"}\n{\"a\":{\"b\":\n{\"id\":\"z\"}\n", `no JSON`},
		{"{\"id\":\"x\"}\n{" + wide(`"k%d":1`) + "}\n{\"id\":\"z\"}\n", `^t.csv:2:\d+: k1000: over 1000 keys`},
		{"{\"id\":\"x\"}\n{\"a\":\"" + strings.Repeat("y", maxRowBytes) + "\"}\n{\"id\":\"z\"}\n", `a row of over 1 MB`},
	} {
		rows := readAll(t, c.text)
		require.Len(t, rows, 3, c.want)
		assert.Empty(t, rows[0].Faults)
		require.Len(t, rows[1].Faults, 1, c.want)
		assert.Regexp(t, c.want, rows[1].Faults.Error())
		assert.Empty(t, rows[2].Faults, c.want)
		assert.Equal(t, "z", rows[2].ID)
	}
	rows := readAll(t, "id,a\nx,1\ny,\"2\nz,3\n")
	require.Len(t, rows, 2)
	assert.Regexp(t, `^t.csv:3:3: this quote is never closed`, rows[1].Faults.Error())
	rows = readAll(t, "id,a\nx,1\ny,\""+strings.Repeat("y,1\n", maxRowBytes/2))
	require.Len(t, rows, 2, "no more than a megabyte is held for a quote that never closes")
	assert.Regexp(t, `^t.csv:3:3: this quote is never closed`, rows[1].Faults.Error())
	rows = readAll(t, "id,a\nx,1\ny,\""+strings.Repeat("y,1\n", maxRowBytes/2)+"\"\nz,3\n")
	require.Len(t, rows, 3, "rows behind one that is too long are read")
	assert.Equal(t, "t.csv:3:1: want a row of at most 1 MB", rows[1].Faults.Error())
	assert.Equal(t, "z", rows[2].ID)
	rows = readAll(t, "id,a\nx,5\" pot\n")
	assert.Equal(t, []string{`a=5" pot`}, stated(rows[0]), "a quote within a cell is a letter")
}

// Quantities may have a decimal comma where another sign parts the cells; what
// may be thousands stays, for the reader of the quantity to refuse.
func TestTableDecimalCommas(t *testing.T) {
	rows := readAll(t, "id;a;b;c;d\n1,5;-0,25 m;12,5ft;1,500 m;[1,5]\n")
	assert.Equal(t, "1,5", rows[0].ID)
	assert.Equal(t, []string{"a=-0.25 m", "b=12.5ft", "c=1,500 m", "d=[1,5]"}, stated(rows[0]))
	rows = readAll(t, "id,a\nx,\"1,5\"\n")
	assert.Equal(t, []string{"a=1,5"}, stated(rows[0]))
}

// Text of a spreadsheet that does not write UTF-8.
func TestTableEncodings(t *testing.T) {
	for _, text := range []string{"id;b\nGr\xf6\xdfe;5 m\xb2\n", "\xff\xfei\x00d\x00;\x00b\x00\n\x00G\x00r\x00\xf6\x00\xdf\x00e\x00;\x005\x00 \x00m\x00\xb2\x00"} {
		rows := readAll(t, text)
		require.Len(t, rows, 1)
		assert.Equal(t, "Größe", rows[0].ID)
		assert.Equal(t, []string{"b=5 m²"}, stated(rows[0]))
	}
}

// A file that is no table is refused before any row.
func TestTableHeader(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", `^t.csv:1:1: the file is empty`}, {" \n\n", `empty`},
		{"id,a,a\n", `^t.csv:1:6: a: this column stands twice in the header`},
		{"Id,RECORD,a\nx,y,1\n", `^t.csv:1:1: Id: not a key of a garden file; did you mean id\?\nt.csv:1:4: RECORD: .*did you mean record\?`},
		{"[{\"id\":\"x\"}]\n", `^t.csv:1: want one JSON object a line, without a list`}, {"id,a\rx,1\ry,2\r", `^t.csv:1:1: the lines end in a carriage return alone`},
		{"id,ü\xff\n", `^t.csv:1:5: a byte here is not UTF-8`}, {"i\x00d\x00,\x00\n", `UTF-8`},
		{"id,\"a\nx,1\n", `^t.csv:1:4: this quote is never closed`},
		{wide("k%d") + "\n", `^t.csv:1: 1001 columns: want at most 1000`},
	} {
		_, err := OpenTable("t.csv", strings.NewReader(c.text), noneUnknown)
		require.Error(t, err, c.text)
		assert.Regexp(t, c.want, err.Error())
		assert.True(t, Faulty(err))
	}
	seen := 0
	_, err := OpenTable("t.csv", strings.NewReader("id,record,a,b\n"), func(cells []zones.Cell) table.Faults {
		seen = len(cells)
		return table.Faults{{Want: "no"}}
	})
	require.Error(t, err)
	assert.Equal(t, 2, seen, "id and record are no keys of a garden")
	_, err = OpenTable("t.csv", strings.NewReader(strings.Repeat("ä", 5000)+"\n"), noneUnknown)
	require.NoError(t, err, "the look ahead ends within a letter")
}

// FuzzTable: whatever the file, rows count up, places are real, and nothing
// breaks.
func FuzzTable(f *testing.F) {
	for _, text := range []string{"id,roof.area\na,90 m2\n", "a;b\n\"1\n2\";3\n", `{"id":"x","a":{"b":[1]}}`, "id\n\"", "{}\n{\"a\":null}", "\ufeffa\tb\n1\n"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		table, err := OpenTable("t.csv", strings.NewReader(text), noneUnknown)
		if err != nil {
			return
		}
		lines := strings.Count(text, "\n") + 2
		for n := 1; ; n++ {
			row, err := table.Next()
			if errors.Is(err, io.EOF) {
				return
			}
			require.NoError(t, err)
			require.Equal(t, n, row.Number)
			require.LessOrEqual(t, n, lines)
			require.GreaterOrEqual(t, row.Line, 1)
			for _, c := range row.Cells {
				require.True(t, c.Line >= 1 && c.Line <= lines && c.Col >= 1, "%+v", c)
				require.NotEmpty(t, c.Text)
			}
		}
	})
}
