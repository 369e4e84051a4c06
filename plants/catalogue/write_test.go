package catalogue

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/table"
)

// same compares plants as Write and Read should keep them: NaN is NaN, an
// empty list is no list, the line does not count.
func same(t require.TestingT, want, got Plant) {
	want.Line, got.Line = 0, 0
	w, g := reflect.ValueOf(want), reflect.ValueOf(got)
	for i := range w.NumField() {
		a, b := w.Field(i), g.Field(i)
		switch {
		case a.Kind() == reflect.Float64 && math.IsNaN(a.Float()) && math.IsNaN(b.Float()):
		case a.Kind() == reflect.Slice && a.Len() == 0 && b.Len() == 0:
		default:
			require.Equal(t, a.Interface(), b.Interface(), w.Type().Field(i).Name)
		}
	}
}

func unknown() Plant {
	n := math.NaN()
	return Plant{SunMinH: n, SunMaxH: n, WetH: n, PondMM: n, DryD: n, LowestC: n, RootCM: n, HeightCM: n, SpreadCM: n, Price: n}
}

func drawPlant(t *rapid.T, id string) Plant {
	p := unknown()
	p.ID = id
	cols := map[string]column{}
	for _, c := range tableColumns() {
		cols[c.Name] = c
	}
	num := func(name string) float64 {
		if rapid.Bool().Draw(t, name+" unknown") {
			return math.NaN()
		}
		c := cols[name]
		v := rapid.Float64Range(c.Low, c.High).Draw(t, name)
		if c.Above && v == c.Low {
			return math.NaN()
		}
		return v
	}
	free := rapid.StringOf(rapid.RuneFrom([]rune("=+-@\t\r\n'\",;| aZéÜ世\u200d\ufeff😀0")))
	word := func(name string) string {
		return rapid.SampledFrom(append(valueNames(cols[name].Choices), "")).Draw(t, name)
	}
	some := func(name string, from []string) []string {
		return rapid.SliceOfNDistinct(rapid.SampledFrom(from), 0, len(from), rapid.ID[string]).Draw(t, name)
	}
	tag := rapid.StringMatching(`[A-Za-zé][A-Za-z0-9é .'_-]{0,8}[a-z0-9]`)
	p.ScientificName, p.Notes, p.Source = free.Draw(t, "scientificName"), free.Draw(t, "notes"), free.Draw(t, "source")
	p.VernacularName = free.Filter(func(s string) bool { return strings.TrimSpace(s) != "" }).Draw(t, "vernacularName")
	p.Form, p.Evergreen, p.Spreads = word("form"), word("evergreen"), word("spreads")
	p.Zones = some("zones", valueNames(Zones()))
	p.Toxic = some("toxic", valueNames(toxicities())[1:])
	p.Assumed = some("assumed", columnNames(tableColumns()))
	p.FlowerColour = rapid.SliceOfNDistinct(tag, 0, 4, rapid.ID[string]).Draw(t, "flower_colour")
	p.NativeTo = rapid.SliceOfNDistinct(tag, 0, 4, rapid.ID[string]).Draw(t, "native_to")
	p.Tags = rapid.SliceOfNDistinct(tag, 0, 4, rapid.ID[string]).Draw(t, "tags")
	p.SunMinH, p.SunMaxH = num("sun_min_h"), num("sun_max_h")
	if p.SunMinH > p.SunMaxH {
		p.SunMinH, p.SunMaxH = p.SunMaxH, p.SunMinH
	}
	p.WetH, p.DryD, p.LowestC, p.RootCM = num("wet_h"), num("dry_d"), num("lowest_c"), num("root_cm")
	if p.PondMM = num("pond_mm"); p.WetH == 0 && p.PondMM > 0 {
		p.PondMM = 0
	}
	p.HeightCM, p.SpreadCM, p.Price = num("height_cm"), num("spread_cm"), num("price")
	if rapid.Bool().Draw(t, "blooms") {
		p.FlowerFrom, p.FlowerTo = rapid.IntRange(1, 12).Draw(t, "from"), rapid.IntRange(1, 12).Draw(t, "to")
	}
	return p
}

// TestRoundTrip: what Write writes, Read reads back the same, and it is
// written again byte for byte.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var plants []Plant
		for i := range rapid.IntRange(1, 5).Draw(t, "rows") {
			plants = append(plants, drawPlant(t, fmt.Sprintf("p-%d", i)))
		}
		var first, second bytes.Buffer
		require.NoError(t, Write(&first, plants))
		c, err := Read("p.csv", bytes.NewReader(first.Bytes()))
		require.NoError(t, err)
		require.Len(t, c.Plants, len(plants))
		for i := range plants {
			same(t, plants[i], c.Plants[i])
		}
		require.NoError(t, Write(&second, c.Plants))
		require.Equal(t, first.String(), second.String())
	})
}

// TestNaughtyStrings puts every string of the Big List of Naughty Strings
// (testdata/naughty-strings, MIT licence) into the names and the notes. All
// come back as they were, but for those with control characters, which both
// Write and Read refuse, and the blank ones, which are no name.
func TestNaughtyStrings(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(testdata, "naughty-strings/blns.json"))
	require.NoError(t, err)
	var all []string
	require.NoError(t, json.Unmarshal(data, &all))
	require.Greater(t, len(all), 500)
	refused, blank := 0, 0
	for _, s := range all {
		p := unknown()
		p.ID, p.VernacularName, p.ScientificName, p.Notes = "a", s, s, s
		var out bytes.Buffer
		err := Write(&out, []Plant{p})
		if table.WrongText(s) != "" {
			refused++
			require.ErrorContains(t, err, "vernacularName: ")
			require.ErrorContains(t, err, "notes: ")
			require.ErrorContains(t, err, "want text without control characters")
			cell := `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
			_, err = Read("p.csv", strings.NewReader(header+",notes\na,A,,,,,,"+cell+"\n"))
			require.ErrorContains(t, err, "want text without control characters", "%q", s)
			continue
		}
		if strings.TrimSpace(s) == "" {
			blank++
			require.ErrorContains(t, err, "vernacularName: ", "%q", s)
			p.VernacularName = "A"
			require.NoError(t, Write(&out, []Plant{p}))
		} else {
			require.NoError(t, err, "%q", s)
		}
		c, err := Read("p.csv", &out)
		require.NoError(t, err, "%q", s)
		same(t, p, c.Plants[0])
	}
	t.Logf("%d strings, %d refused for control characters, %d blank", len(all), refused, blank)
	// Counted in the corpus by Unicode category Cc less tab, CR and LF, and the
	// twelve of Bidi_Control, with Python 3 unicodedata.
	assert.Equal(t, 13, refused)
	assert.Equal(t, 2, blank, "the empty string and one of spaces alone")
}

// TestPythonReadsTheSame reads what Write writes with the csv module of Python
// 3, a reader that knows nothing of ours, and compares every cell.
func TestPythonReadsTheSame(t *testing.T) {
	python := testenv.Python(t)
	plants := demo(t).Plants
	data, err := os.ReadFile(filepath.Join(testdata, "naughty-strings/blns.json"))
	require.NoError(t, err)
	var all []string
	require.NoError(t, json.Unmarshal(data, &all))
	for i, s := range append(all, "a\r\nb", "\"", "\"\"\r\n\"", "a\rb") {
		if table.WrongText(s) == "" {
			p := unknown()
			p.ID, p.VernacularName, p.Notes = fmt.Sprintf("n-%d", i), "A", s
			plants = append(plants, p)
		}
	}
	var out bytes.Buffer
	require.NoError(t, Write(&out, plants))
	table, err := table.Read("p.csv", bytes.NewReader(out.Bytes()))
	require.NoError(t, err)
	cmd := exec.Command(python, "-c", `import csv,io,json,sys
print(json.dumps(list(csv.reader(io.StringIO(sys.stdin.buffer.read().decode("utf-8"),newline=""),strict=True))))`)
	cmd.Stdin = &out
	got, err := cmd.Output()
	require.NoError(t, err)
	var rows [][]string
	require.NoError(t, json.Unmarshal(got, &rows))
	require.Equal(t, append([][]string{table.Header}, table.Rows...), rows)
}

func TestInvalidTextIsNotWritten(t *testing.T) {
	p := unknown()
	p.ID, p.VernacularName, p.Line = "a", "A\xff", 7
	err := Write(&bytes.Buffer{}, []Plant{p})
	assert.EqualError(t, err, `7: vernacularName: "A\xff": want UTF-8 text`)
	p.VernacularName, p.SpreadCM, p.NativeTo = "A", math.Inf(1), []string{"a|b"}
	err = Write(&bytes.Buffer{}, []Plant{p})
	assert.ErrorContains(t, err, "spread_cm: \"+Inf\": want more than 0")
	assert.ErrorContains(t, err, `native_to: "a|b": want words`)
}

// TestFormulas: no free text is written so that a spreadsheet takes it for a
// formula, and numbers are left alone. The characters are those that the OWASP
// page on CSV injection lists (from memory).
func TestFormulas(t *testing.T) {
	for _, s := range []string{"=1+1", "+1", "-1", "@A1", "\t=1", "\r=1", "'=1", "''=1", "\n=1", "＝1"} {
		p := unknown()
		p.ID, p.VernacularName, p.Notes, p.LowestC = "a", "A", s, -5
		var out bytes.Buffer
		require.NoError(t, Write(&out, []Plant{p}))
		table, err := table.Read("p.csv", bytes.NewReader(out.Bytes()))
		require.NoError(t, err)
		assert.Equal(t, "'"+s, table.Rows[0][table.Column("notes")])
		assert.Equal(t, "-5", table.Rows[0][table.Column("lowest_c")])
		c, err := Read("p.csv", &out)
		require.NoError(t, err)
		assert.Equal(t, s, c.Plants[0].Notes)
	}
	// What cannot be a formula is not touched.
	for _, s := range []string{"'tis", "'", "''", "", "a=1", " =1"} {
		assert.Equal(t, s, table.Guard(s))
		assert.Equal(t, s, table.Unguard(s))
	}
}

// FuzzReadMap: no input makes ReadMap or Import panic.
func FuzzReadMap(f *testing.F) {
	for _, s := range []string{smallMap, smallMap + "  wet_h: {from: w, basis: b, classes: {H: {is: 3}, L: 2}}\n",
		"pivot: {row: n, across: r, value: w}\nwhere: [{column: X, not_in: ['']}]\n" + smallMap, "? {a: 1}\n: 2", "a: &b c", "[[", "%TAG", "source: !!int x"} {
		f.Add(s, "n,r,w\na,X,H\nb,Y,L\n")
	}
	f.Fuzz(func(t *testing.T, yaml, text string) {
		m, err := ReadMap("m.yaml", strings.NewReader(yaml))
		if err != nil {
			require.ErrorAs(t, err, &table.Faults{})
			return
		}
		table, err := table.Read("t.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		if plants, _, err := Import(table, m); err == nil && len(plants) > 0 {
			require.NoError(t, Write(&bytes.Buffer{}, plants))
		}
	})
}

// FuzzRead: no input makes Read panic, and what Read takes, Write and Read
// keep.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		header + "\na,A,rim,1,2,3,40\n", header + ",notes\na,A,,,,,,\"'=x\r\ny\"\n",
		"\ufeffid;vernacularName;zones;sun_min_h;wet_h;dry_d;spread_cm\na;\"\";;;;;\n", "\"", "a\r", "\xff\xfe",
		header + ",flower_from,flower_to,toxic\na,6' 2\" tall,rim|slope,0,0.5,3,1e3,12,1,pets|skin\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Read("f.csv", bytes.NewReader(data))
		if err != nil {
			var faults table.Faults
			require.ErrorAs(t, err, &faults)
			require.NotEmpty(t, faults.Error())
			return
		}
		require.NotEmpty(t, c.Plants)
		var out bytes.Buffer
		require.NoError(t, Write(&out, c.Plants))
		again, err := Read("f.csv", &out)
		require.NoError(t, err)
		require.Len(t, again.Plants, len(c.Plants))
		for i := range c.Plants {
			same(t, c.Plants[i], again.Plants[i])
		}
	})
}

// TestNothingComesOutAsFormula: whatever string of the Big List of Naughty
// Strings (testdata/naughty-strings) goes in, no cell that comes out begins
// with what a spreadsheet runs (OWASP page on CSV injection, from memory), and
// an apostrophe in front is all that has been added.
func TestNothingComesOutAsFormula(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(testdata, "naughty-strings/blns.json"))
	require.NoError(t, err)
	var all []string
	require.NoError(t, json.Unmarshal(data, &all))
	guarded := 0
	for _, s := range all {
		for _, s := range []string{s, "=" + s, "＠" + s, "\n" + s} {
			got := table.Guard(s)
			require.False(t, got != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(got)[0]), "%q", got)
			if got != s {
				guarded++
				require.Equal(t, "'"+s, got)
			}
			require.Equal(t, s, table.Unguard(got))
		}
	}
	assert.Greater(t, guarded, 3*len(all))
}

// TestWriteStopsWhereReadWould: nothing is written that cannot be read back.
func TestWriteStopsWhereReadWould(t *testing.T) {
	plants := demo(t).Plants
	var whole bytes.Buffer
	require.NoError(t, writeWithin(&whole, plants, megabyte))
	size := int64(whole.Len())
	var out bytes.Buffer
	require.NoError(t, writeWithin(&out, plants, size))
	_, err := readWithin("p.csv", &out, table.Limits{FileBytes: size, RowBytes: megabyte})
	require.NoError(t, err)
	err = writeWithin(&bytes.Buffer{}, plants, size-1)
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	assert.ErrorContains(t, err, fmt.Sprintf("want a plant table of at most %d bytes, since no more can be read back", size-1))

	// The longest row that may be written may be read.
	p := unknown()
	long := strings.Repeat("😀", longestText)
	p.ID, p.VernacularName, p.ScientificName, p.Notes, p.Source = "a", long, long, long, long
	for i := range longestText / 100 {
		tag := fmt.Sprintf("%s%d", strings.Repeat("é", 46), 1000+i)
		p.NativeTo, p.FlowerColour = append(p.NativeTo, tag), append(p.FlowerColour, tag)
	}
	out.Reset()
	require.NoError(t, Write(&out, []Plant{p}))
	require.Greater(t, out.Len(), 350*1000)
	c, err := Read("p.csv", &out)
	require.NoError(t, err)
	same(t, p, c.Plants[0])
}

func TestWriteNoPlants(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, Write(&out, nil))
	assert.Equal(t, strings.Join(columnNames(tableColumns()), ",")+"\n", out.String())
}
