package catalogue

import (
	"compress/gzip"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/table"
)

// Ranges, units in the cell, months in words and texts left out, as nurseries
// write them. The inch is 2.54 cm and the foot 30.48 cm exactly (international
// yard and pound agreement of 1959); -20 deg F is -28.9 deg C.
func TestCellsAsNurseriesWriteThem(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ column, from, cell, want string }{
		{"height_cm", "take: larger", "10-30 cm", "30"},
		{"height_cm", "take: smaller", "10-30 cm", "10"},
		{"height_cm", "take: mean", "10 – 30 cm", "20"},
		{"height_cm", "take: mean", "3'-6'", "137.2"},
		{"height_cm", "take: larger", "3-6 ft", "182.9"},
		{"height_cm", "take: smaller", "3-6 ft.", "91.4"},
		{"height_cm", "take: larger", "18 in to 2 ft", "61"},
		{"height_cm", "take: larger, unit: ft", "2-3", "91.4"},
		{"height_cm", "take: larger, unit: ft", "2", "61"},
		{"height_cm", "take: larger, unit: ft", "60 cm", "60"},
		{"height_cm", "unit: ft", "1.5 m", "150"},
		{"height_cm", "unit: m", `2' 6"`, "76.2"},
		{"height_cm", "unit: m", `2 ft 6 in`, "76.2"},
		{"height_cm", "take: larger", `3'-6"`, "106.7"},
		{"height_cm", "take: larger", `1'-18"`, "45.7"},
		{"height_cm", "take: larger", "3 ft - 6", "182.9"},
		{"height_cm", "unit: ft, strip: [up to, '*']", "up to 2*", "61"},
		{"height_cm", `take: mean, separator: ";"`, "10; 20;30 cm", "20"},
		{"lowest_c", "take: smaller", "-20 to -10 F", "-28.9"},
		{"lowest_c", "unit: F", "-20", "-28.9"},
		{"dry_d", "take: smaller", "2-3 weeks", "14"},
		{"wet_h", "take: smaller", "1-2 days", "24"},
		{"sun_min_h", `take: smaller, separator: ",", classes: {full sun: 6, part shade: 3}, basis: a guess`, "full sun, part shade", "3"},
		{"flower_from", "", "May-June", "5"},
		{"flower_to", "", "May-June", "6"},
		{"flower_from", "", "late Sept. through early Nov", "9"},
		{"flower_to", "", "late Sept. through early Nov", "11"},
		{"flower_from", "", "November to February", "11"},
		{"flower_to", "", "November to February", "2"},
		{"flower_to", "", "7", "7"},
		{"zones", `separator: "/", translate: {low: bottom, mid: slope}`, "low/mid", "bottom|slope"},
		{"flower_colour", `separator: " and "`, "blue and white", "blue|white"},
		{"form", `translate: {Perennial: forb}, otherwise: ""`, "Moss", ""},
		{"toxic", `separator: ",", translate: {no: none, dogs: pets, "?": ""}, otherwise: ""`, "no", "none"},
		{"toxic", `separator: ",", translate: {no: none, dogs: pets, "?": ""}, otherwise: ""`, "no, sap burns", ""},
		{"toxic", `separator: ",", translate: {no: none, dogs: pets, "?": ""}, otherwise: ""`, "no, ?", ""},
		{"toxic", `separator: ",", translate: {no: none, dogs: pets, "?": ""}, otherwise: ""`, "dogs, sap burns", "pets"},
		{"form", `translate: {Perennial: forb}, otherwise: groundcover`, "Moss", "groundcover"},
	} {
		other, text := "", c.cell
		if c.column == "flower_from" || c.column == "flower_to" { // both months or none
			other = map[string]string{"flower_from": "flower_to", "flower_to": "flower_from"}[c.column] + ": {from: it}\n  "
		}
		plants, _, err := importText(t, "Name\tit\nLow Brindlewisp\t"+text+"\n", "source: the test\ncolumns:\n  id: {from: Name}\n  vernacularName: {from: Name}\n  "+other+c.column+": {from: it"+strings.TrimSuffix(", "+c.from, ", ")+"}\n")
		if assert.NoError(t, err, "%s %s", c.cell, c.from) {
			r := rowOf(&plants[0])
			got := map[string]func() (string, error){
				"height_cm": r.HeightCM.MarshalCSV, "lowest_c": r.LowestC.MarshalCSV, "dry_d": r.DryD.MarshalCSV, "wet_h": r.WetH.MarshalCSV, "sun_min_h": r.SunMinH.MarshalCSV,
				"flower_from": r.FlowerFrom.MarshalCSV, "flower_to": r.FlowerTo.MarshalCSV, "zones": r.Zones.MarshalCSV, "flower_colour": r.FlowerColour.MarshalCSV, "form": r.Form.MarshalCSV, "toxic": r.Toxic.MarshalCSV,
			}[c.column]
			text, _ := got()
			assert.Equal(t, c.want, text, "%s: %s, %s", c.column, c.cell, c.from)
		}
	}
}

// Patterns are made once for all cells of a table: making them anew takes hundreds of
// allocations a cell.
func TestCellsAreReadInFewSteps(t *testing.T) {
	col := tableColumns()[slices.IndexFunc(tableColumns(), func(c column) bool { return c.Name == "height_cm" })]
	r := reader{m: &Map{}, f: from{Take: "larger"}, col: col, decimal: func(s string) string { return s }, amounts: newAmounts()}
	assert.Less(t, testing.AllocsPerRun(20, func() { _, _, _ = r.cell("18 in to 2 ft") }), 40.0)
}

// Whatever stands in a cell, it is refused or a number, the same with every take
// but for a range, of which the mean lies between its ends; months are months.
func FuzzCell(f *testing.F) {
	for _, s := range []string{"10-30 cm", `3'-6"`, "-20 to -10 F", "2 ft 6 in", "1 1/2 ft", "1e9", "May-June", "-", "3–6 ft.", "1,200 mm", "30-10 cm"} {
		f.Add(s)
	}
	col := func(name string) column {
		return tableColumns()[slices.IndexFunc(tableColumns(), func(c column) bool { return c.Name == name })]
	}
	height, cold, words := col("height_cm"), col("lowest_c"), newAmounts()
	f.Fuzz(func(t *testing.T, s string) {
		for _, c := range []column{height, cold} {
			var got []float64
			for _, take := range []string{"smaller", "mean", "larger"} {
				r := reader{m: &Map{}, f: from{Take: take}, col: c, decimal: func(s string) string { return s }, amounts: words}
				cell, _, want := r.cell(s)
				if want != "" {
					require.Empty(t, cell)
					continue
				}
				v, ok, _ := parseNumber(cell)
				require.True(t, ok, cell)
				got = append(got, v)
			}
			require.True(t, len(got) == 0 || len(got) == 3, "%v", got)
			if len(got) == 3 && !math.IsNaN(got[0]) {
				require.LessOrEqual(t, got[0], got[1]+0.05+1e-9*math.Abs(got[1]))
				require.LessOrEqual(t, got[1], got[2]+0.05+1e-9*math.Abs(got[1]))
			}
		}
		if text, want := month(s, false); want == "" {
			n, err := strconv.Atoi(text)
			require.NoError(t, err)
			require.True(t, n >= 1 && n <= 12, text)
		}
	})
}

// A range without a word on what to take of it, a unit that cannot be, months
// that are none, and what a map leaves out, one line for each class with its count.
func TestCellsThatCannotBeRead(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ column, cell, says string }{
		{"height_cm: {from: it}", "10-30 cm", "a range: expected take: larger, smaller or mean in the map"},
		{"height_cm: {from: it}", "3 acres", "want a number of centimetres, not of acres; expected one of the units cm, mm, m, in, ft"},
		{"height_cm: {from: it, take: larger}", "tall", "want a number of centimetres"},
		{"flower_from: {from: it}", "spring", "want a month from 1 to 12, or months such as May-June"},
		{"flower_from: {from: it}", "13", "want a month from 1 to 12"},
	} {
		_, _, err := importText(t, "Name,it\nLow Brindlewisp,"+c.cell+"\n", "source: the test\ncolumns:\n  id: {from: Name}\n  vernacularName: {from: Name}\n  "+c.column+"\n")
		if assert.Error(t, err, c.cell) {
			assert.Contains(t, err.Error(), c.says)
			assert.Contains(t, err.Error(), "t.csv:2:")
		}
	}
	const rows = "Name,wet\nA,High\nB,Hihg\nC,Hihg\nD,Mid\nE,Hihg\n"
	const columns = "source: the test\ncolumns:\n  id: {from: Name}\n  vernacularName: {from: Name}\n  wet_h: {from: wet, basis: a guess, classes: {High: 72}"
	_, _, err := importText(t, rows, columns+"}\n")
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 2)
	assert.Equal(t, `t.csv:3:3: wet_h: "Hihg": want one of the classes High; did you mean High?; the same in 2 more rows`, faults[0].String())
	assert.Equal(t, 5, faults[1].Line)

	plants, r, err := importText(t, rows, columns+", otherwise: 12}\n")
	require.NoError(t, err)
	assert.Equal(t, []float64{72, 12, 12, 12, 12}, []float64{plants[0].WetH, plants[1].WetH, plants[2].WetH, plants[3].WetH, plants[4].WetH})
	assert.Equal(t, []string{"wet_h"}, plants[1].Assumed)
	require.Len(t, r.Bases, 1)
	assert.Equal(t, "[1] wet_h from wet (High 72, otherwise 12): a guess", r.Bases[0].String())
	require.GreaterOrEqual(t, len(r.Warnings), 2)
	assert.Equal(t, `t.csv:3:3: wet_h: "Hihg": not in the map, and taken as 12; the same in 2 more rows`, r.Warnings[0].String())

	for _, bad := range []string{"take: most", `otherwise: "1"`, "separator: ;"} {
		_, err := ReadMap("m.yaml", strings.NewReader("source: x\ncolumns:\n  id: {from: a}\n  vernacularName: {from: a}\n  height_cm: {from: b, "+bad+"}\n"))
		assert.Error(t, err, bad)
	}
	_, err = ReadMap("m.yaml", strings.NewReader("source: x\ncolumns:\n  id: {from: a}\n  vernacularName: {from: a}\n  toxic: {from: b, translate: {Severe: people}, otherwise: none}\n"))
	assert.ErrorContains(t, err, "not known to be harmless")
}

// Several rows that speak of one plant make one: lists are joined, of numbers the
// map says which to take, months run from the first to the last; rows that where
// shuts out do not count.
func TestSeveralRowsForOnePlant(t *testing.T) {
	t.Parallel()
	const rows = "Name,place,tall,bloom,use\nLow Brindlewisp,bottom,30,May,y\nTall Tollow,rim,90,,y\nLow Brindlewisp,slope,40 cm,July,y\nLow Brindlewisp,rim,500,Dec,n\n"
	const columns = "source: the test\ngroup: Name\nwhere: [{column: use, in: [y]}]\ncolumns:\n  id: {from: Name}\n  vernacularName: {from: Name}\n  zones: {from: place}\n  flower_from: {from: bloom}\n  flower_to: {from: bloom}\n"
	plants, r, err := importText(t, rows, columns+"  height_cm: {from: tall, take: larger}\n")
	require.NoError(t, err)
	assert.Equal(t, [3]int{4, 2, 2}, [3]int{r.Read, r.Pivoted, r.Passed})
	require.Len(t, plants, 2)
	p := plants[0]
	assert.Equal(t, []string{"bottom", "slope"}, p.Zones)
	assert.Equal(t, 40.0, p.HeightCM)
	assert.Equal(t, [2]int{5, 7}, [2]int{p.FlowerFrom, p.FlowerTo})
	assert.Equal(t, 90.0, plants[1].HeightCM)

	_, _, err = importText(t, rows, columns+"  height_cm: {from: tall}\n")
	require.Error(t, err)
	assert.Contains(t, err.Error(), `t.csv:2:24: height_cm: "30 | 40 cm": several values, 30 and 40: expected one, or take: larger, smaller, mean in the map`)
	_, _, err = importText(t, "Name,place\n,bottom\n", "source: x\ngroup: Name\ncolumns:\n  id: {from: Name}\n  vernacularName: {from: Name}\n  zones: {from: place}\n")
	require.Error(t, err)
	assert.Contains(t, err.Error(), "what the rows of one plant have in common")
}

// Rows of another width than the header are faults, or passed over and counted
// where the map says so.
func TestRaggedRows(t *testing.T) {
	t.Parallel()
	const rows = "Name,tall\nLow Brindlewisp,30\nTall Tollow,90,extra\nShort\nLast Tollow,50\n"
	const columns = "source: the test\ncolumns:\n  id: {from: Name}\n  vernacularName: {from: Name}\n  height_cm: {from: tall}\n"
	read := func(yaml string) ([]Plant, Report, error) {
		m, err := ReadMap("m.yaml", strings.NewReader(yaml))
		require.NoError(t, err)
		raw, err := ReadTableFor("t.csv", strings.NewReader(rows), m)
		if err != nil {
			return nil, Report{}, err
		}
		return Import(raw, m)
	}
	_, _, err := read(columns)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "t.csv:3:1: want 2 cells as in the header, not 3")
	plants, r, err := read("ragged: skip\n" + columns)
	require.NoError(t, err)
	require.Len(t, plants, 2)
	assert.Equal(t, "t.csv:3:1: passed over, as ragged: skip says: want 2 cells as in the header, not 3; and 1 more rows of another width than the header", r.Warnings[0].String())
	_, err = ReadMap("m.yaml", strings.NewReader("ragged: keep\n"+columns))
	assert.ErrorContains(t, err, "expected ragged: skip")
}

// Tables are joined by name whatever authors stand behind it. Names as the USDA
// PLANTS Database and the National Wetland Condition Assessment print them.
func TestWithoutAuthors(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"Acer rubrum L.": "Acer rubrum",
		"Acer rubrum L. var. drummondii (Hook. & Arn. ex Nutt.) Sarg.": "Acer rubrum var. drummondii",
		"Abies amabilis (Douglas ex Loudon) Douglas ex Forbes":         "Abies amabilis",
		"Carex aquatilis Wahlenb. subsp. dives":                        "Carex aquatilis ssp. dives",
		"Acer × freemanii E. Murray":                                   "Acer ×freemanii",
		"Acer ×freemanii":                                              "Acer ×freemanii",
		"ACER RUBRUM VAR. TRILOBUM":                                    "ACER RUBRUM var. TRILOBUM",
		"Rosa L.":                                                      "Rosa",
		"Ilex":                                                         "Ilex",
		"":                                                             "",
	} {
		assert.Equal(t, want, withoutAuthors(name), name)
	}
}

// The maps of testdata go together: names with authors, characteristics by symbol,
// wetland status by name, of which 510 were counted with Python's csv and re. Red maple is FAC in the Northeast, and 165 ft is the height
// of Pacific silver fir (both tables).
func TestMapsOfTestdataJoin(t *testing.T) {
	t.Parallel()
	packed, err := os.Open(filepath.Join(testdata, "species", "us-plants-names.csv.gz"))
	require.NoError(t, err)
	defer packed.Close()
	text, err := gzip.NewReader(packed)
	require.NoError(t, err)
	m := openMap(t, "plant-names.yaml")
	raw, err := ReadTableFor("names.csv", text, m)
	require.NoError(t, err)
	plants, _, err := Import(raw, m)
	require.NoError(t, err)
	for _, other := range []struct {
		file, by string
		matched  int
	}{{"plant-characteristics-2162.csv", "plant-characteristics.yaml", 2159}, {"wetland-indicator-status-2016.csv", "wetland-status.yaml", 510}} {
		m := openMap(t, other.by)
		more, _, err := Import(openTable(t, other.file), m)
		require.NoError(t, err)
		var j Joining
		plants, j = Join(plants, more, m.Join)
		assert.Equal(t, len(plants), j.Of)
		assert.InDelta(t, other.matched, j.Matched, 1, other.file)
	}
	find := func(name string) Plant {
		i := slices.IndexFunc(plants, func(p Plant) bool { return withoutAuthors(p.ScientificName) == name })
		require.GreaterOrEqual(t, i, 0, name)
		return plants[i]
	}
	assert.Equal(t, []string{"slope"}, find("Acer rubrum").Zones)
	assert.Equal(t, 5029.2, find("Abies amabilis").HeightCM)
}
