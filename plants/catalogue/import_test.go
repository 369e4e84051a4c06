package catalogue

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func openTable(t testing.TB, name string) *table.Table {
	f, err := os.Open(filepath.Join(testdata, "records", name))
	require.NoError(t, err)
	defer f.Close()
	table, err := table.Read(name, f)
	require.NoError(t, err)
	return table
}

func openMap(t testing.TB, name string) *Map {
	f, err := os.Open(filepath.Join(testdata, "maps", name))
	require.NoError(t, err)
	defer f.Close()
	m, err := ReadMap(name, f)
	require.NoError(t, err)
	return m
}

// count counts the plants for which yes holds.
func count(plants []Plant, yes func(p *Plant) bool) int {
	n := 0
	for i := range plants {
		if yes(&plants[i]) {
			n++
		}
	}
	return n
}

// roundTrip writes plants and reads the same back.
func roundTrip(t *testing.T, plants []Plant) {
	var out bytes.Buffer
	require.NoError(t, Write(&out, plants))
	c, err := Read("out.csv", &out)
	require.NoError(t, err)
	require.Len(t, c.Plants, len(plants))
	for i := range plants {
		same(t, plants[i], c.Plants[i])
	}
}

// TestImportPlantCharacteristics imports all 2,162 rows of the USDA PLANTS
// characteristics (testdata/records/SOURCES-plants.md). The counts of classes
// were taken from the file with the csv module of Python 3.
func TestImportPlantCharacteristics(t *testing.T) {
	plants, r, err := Import(openTable(t, "plant-characteristics-2162.csv"), openMap(t, "plant-characteristics.yaml"))
	require.NoError(t, err)
	require.Len(t, plants, 2162)
	assert.Equal(t, [3]int{2162, 2162, 2162}, [3]int{r.Read, r.Pivoted, r.Passed})

	// anaerobic_tolerance: High 386, Medium 367, Low 413, None 943, empty 53.
	for hours, want := range map[float64]int{720: 386, 168: 367, 48: 413, 24: 943} {
		assert.Equal(t, want, count(plants, func(p *Plant) bool { return p.WetH == hours }), "%v h", hours)
	}
	assert.Equal(t, 53, count(plants, func(p *Plant) bool { return p.WetH != p.WetH }), "unknown stays unknown")
	// shade_tolerance: Intolerant 1031; drought_tolerance: None 279; toxicity:
	// None 1840, empty 86; leaf_retention: TRUE 354; bloom_period: empty 63 and
	// Indeterminate 82; root_depth_minimum: empty 17 and 0 22.
	assert.Equal(t, 1031, count(plants, func(p *Plant) bool { return p.SunMinH == 6 }))
	assert.Equal(t, 279, count(plants, func(p *Plant) bool { return p.DryD == 5 }))
	assert.Equal(t, 1840+86, count(plants, func(p *Plant) bool { return p.Toxic == nil }), "None is not known")
	assert.Equal(t, 354, count(plants, func(p *Plant) bool { return p.Evergreen == "yes" }))
	assert.Equal(t, 63+82, count(plants, func(p *Plant) bool { return p.FlowerFrom == 0 && p.FlowerTo == 0 }))
	assert.Equal(t, 17+22, count(plants, func(p *Plant) bool { return p.RootCM != p.RootCM }))
	// What the table lacks is left empty.
	assert.Equal(t, 2162, count(plants, func(p *Plant) bool {
		return p.SpreadCM != p.SpreadCM && p.PondMM != p.PondMM && p.SunMaxH != p.SunMaxH && p.Price != p.Price &&
			p.Form == "" && p.Zones == nil && p.NativeTo == nil && p.ScientificName == "" && p.Notes == ""
	}))

	// The first row of the file: 165 ft, -28 deg F, root depth 36 in.
	p := plants[0]
	assert.Equal(t, "abam", p.ID)
	assert.Equal(t, 5029.2, p.HeightCM) // 165 x 30.48
	assert.Equal(t, -33.3, p.LowestC)   // (-28 - 32) x 5/9, rounded
	assert.Equal(t, 91.4, p.RootCM)     // 36 x 2.54 = 91.44, rounded
	assert.Equal(t, []int{5, 5}, []int{p.FlowerFrom, p.FlowerTo})
	assert.Equal(t, []string{"sun_min_h", "wet_h", "dry_d", "root_cm", "flower_from", "flower_to", "spreads"}, p.Assumed)
	assert.Equal(t, "USDA, NRCS, The PLANTS Database; assumed by plant-characteristics.yaml [1 4 5 6 7 8 9]", p.Source)
	assert.Equal(t, 2, p.Line)
	// What is measured is not assumed; High and Low rest on sources of their own.
	var bases []string
	for _, b := range r.Bases {
		bases = append(bases, b.String())
	}
	assert.Equal(t, []string{
		"[1] sun_min_h from shade_tolerance (Intermediate 4, Intolerant 6, Tolerant 2): common practice, no source",
		"[2] wet_h from anaerobic_tolerance (High 720): 30 days, as Kansas State University has for moderately tolerant trees",
		"[3] wet_h from anaerobic_tolerance (Low 48): 2 days, as Michigan State University Extension has for most plants",
		"[4] wet_h from anaerobic_tolerance (Medium 168, None 24): assumed, no source",
		"[5] dry_d from drought_tolerance (High 42, Low 10, Medium 21, None 5): assumed, no source",
		"[6] root_cm from root_depth_minimum: least soil depth for good growth, taken as rooting depth",
	}, bases[:6])
	assert.Equal(t, []int{386, 413, 367 + 943}, []int{r.Bases[1].Plants, r.Bases[2].Plants, r.Bases[3].Plants})
	// Each column in Assumed has one mark in the source, and each mark is of
	// such a column.
	for _, p := range plants {
		_, marks, _ := strings.Cut(strings.TrimSuffix(p.Source, "]"), "[")
		var columns []string
		for _, mark := range strings.Fields(marks) {
			n, err := strconv.Atoi(mark)
			require.NoError(t, err, p.Source)
			require.Equal(t, n, r.Bases[n-1].Mark)
			columns = append(columns, r.Bases[n-1].Column)
		}
		require.Equal(t, p.Assumed, columns, p.ID)
	}

	// A class that is not said of whom harms pets too, as far as anybody knows:
	// toxicity Slight 136, Moderate 61, Severe 39.
	assert.Equal(t, 136+61+39, count(plants, func(p *Plant) bool { return slices.Equal(p.Toxic, []string{"people", "pets", "livestock"}) }))
	assert.Equal(t, 136+61+39, count(plants, func(p *Plant) bool { return slices.Contains(p.Assumed, "toxic") }))

	require.Len(t, r.Warnings, 3)
	assert.Equal(t, "plant-characteristics-2162.csv:4:1: spread_cm: cannot be placed on a list until its spread is known; the same in 2159 more rows", r.Warnings[2].String())
	assert.Contains(t, r.Unused, "salinity_tolerance")
	assert.Len(t, r.Unused, 81-12)
	roundTrip(t, plants)
}

// TestImportWetlandStatus imports the plants of one region of the wetland
// status table (testdata/records/SOURCES-plants.md). Counts as above: of the
// region NE OBL 427, FACW 299, FAC 217, FACU 301, UPL 118, UND 94, NOL 1.
func TestImportWetlandStatus(t *testing.T) {
	plants, r, err := Import(openTable(t, "wetland-indicator-status-2016.csv"), openMap(t, "wetland-status.yaml"))
	require.NoError(t, err)
	assert.Equal(t, [3]int{9584, 5042, 427 + 299 + 217 + 301 + 118}, [3]int{r.Read, r.Pivoted, r.Passed})
	require.Len(t, plants, r.Passed)
	for hours, want := range map[float64]int{720: 427, 336: 299, 96: 217, 48: 301, 24: 118} {
		assert.Equal(t, want, count(plants, func(p *Plant) bool { return p.WetH == hours }), "%v h", hours)
	}
	assert.Equal(t, 299, count(plants, func(p *Plant) bool { return slices.Equal(p.Zones, []string{"bottom", "slope"}) }))
	assert.Equal(t, "Abies balsamea", plants[0].ScientificName)
	assert.Equal(t, []string{"zones", "wet_h"}, plants[0].Assumed)
	i := slices.IndexFunc(plants, func(p Plant) bool { return p.ScientificName == "Acer ×freemanii" })
	require.GreaterOrEqual(t, i, 0)
	roundTrip(t, plants)
}

func importText(t *testing.T, text, yaml string) ([]Plant, Report, error) {
	tab, err := table.Read("t.csv", strings.NewReader(text))
	require.NoError(t, err)
	m, err := ReadMap("m.yaml", strings.NewReader(yaml))
	require.NoError(t, err)
	return Import(tab, m)
}

// TestImportCells: units, lists, words, classes, missing marks, cells padded
// with a thousand spaces, and a value for all.
func TestImportCells(t *testing.T) {
	pad := strings.Repeat(" ", 1000)
	plants, r, err := importText(t,
		"Name,tall,wide,cold,deep,wet,regions,hue,book\n"+
			"Low Brindlewisp"+pad+",6,2.5,-40,2,3,\"UM, SF\",Y,=page 7\n"+
			"Tall Tollow,NA,-9999,0,,low,,,\n"+
			"Left Out,1,1,1,1,1,,Y,no\n",
		`
source: the test
missing: [NA, "-9999"]
where:
  - {column: book, not_in: ["no"]}
  - {column: Name, in: [Low Brindlewisp, Tall Tollow]}
columns:
  id: {from: Name}
  vernacularName: {from: Name}
  height_cm: {from: tall, unit: ft}
  spread_cm: {from: wide, unit: in}
  lowest_c: {from: cold, unit: F}
  pond_mm: {from: deep, unit: in}
  wet_h: {from: wet, classes: {low: {is: 6, basis: a handbook}, "3": 72}, basis: "assumed, no source"}
  native_to: {from: regions, separator: ",", translate: {UM: Upper Marl, SF: Salt Fen}}
  flower_colour: {from: hue, translate: {Y: yellow}}
  notes: {value: "from another table"}
  source: {from: book}
`)
	require.NoError(t, err)
	require.Len(t, plants, 2)
	p, q := plants[0], plants[1]
	assert.Equal(t, "low-brindlewisp", p.ID)
	assert.Equal(t, "Low Brindlewisp", p.VernacularName)
	assert.Equal(t, 182.9, p.HeightCM) // 6 x 30.48 = 182.88
	assert.Equal(t, 6.4, p.SpreadCM)   // 2.5 x 2.54 = 6.35
	assert.Equal(t, -40.0, p.LowestC)  // the two scales meet there
	assert.Equal(t, 50.8, p.PondMM)
	assert.Equal(t, 72.0, p.WetH)
	assert.Equal(t, []string{"Upper Marl", "Salt Fen"}, p.NativeTo)
	assert.Equal(t, []string{"yellow"}, p.FlowerColour)
	assert.Equal(t, "from another table", p.Notes)
	assert.Equal(t, "=page 7; the test; assumed by m.yaml [1]", p.Source)
	assert.Equal(t, []string{"wet_h"}, p.Assumed)
	assert.Equal(t, -17.8, q.LowestC)
	assert.True(t, q.HeightCM != q.HeightCM && q.SpreadCM != q.SpreadCM)
	assert.Equal(t, "the test; assumed by m.yaml [2]", q.Source)
	assert.Equal(t, []Basis{
		{Mark: 1, Column: "wet_h", From: "wet", Values: []classValue{{"3", "72"}}, Text: "assumed, no source", Plants: 1},
		{Mark: 2, Column: "wet_h", From: "wet", Values: []classValue{{"low", "6"}}, Text: "a handbook", Plants: 1},
	}, r.Bases)
	assert.Equal(t, 3, q.Line)
	assert.Equal(t, [3]int{3, 3, 2}, [3]int{r.Read, r.Pivoted, r.Passed})
	assert.Equal(t, ColumnReport{Name: "wet_h", From: "wet", Filled: 2, Assumed: 2}, r.Columns[2])
	assert.Empty(t, r.Unused)
	roundTrip(t, plants)
}

const smallMap = "source: s\ncolumns:\n  id: {from: n}\n  vernacularName: {from: n}\n"

func TestImportFaults(t *testing.T) {
	for name, c := range map[string]struct{ table, yaml, want string }{
		"no such column": {"n,wet\na,1\n", smallMap + "  wet_h: {from: wett}\n",
			`m.yaml:5:11: columns.wet_h.from: "wett": want a column of t.csv; did you mean wet?`},
		"no such column in where": {"n\na\n", "where: [{column: m, in: [a]}]\n" + smallMap,
			`m.yaml:1:1: where: "m": want a column of t.csv`},
		"none passes": {"n\na\n", "where: [{column: n, in: [b]}]\n" + smallMap,
			`m.yaml:1:1: where: no row of t.csv passes: want conditions that some rows meet`},
		"no rows":         {"n\n", smallMap, `t.csv:2:1: want at least one row below the header`},
		"unknown class":   {"n,w\nüa,Hihg\n", smallMap + "  wet_h: {from: w, basis: b, classes: {High: 9, Low: 1}}\n", `t.csv:2:4: wet_h: "Hihg": want one of the classes High, Low; did you mean High?`},
		"unknown word":    {"n,c\na,Y\n", smallMap + "  flower_colour: {from: c, translate: {X: red}}\n", `t.csv:2:3: flower_colour: "Y": want one of X`},
		"no number":       {"n,w\na,\"1,5\"\n", smallMap + "  wet_h: {from: w}\n", `t.csv:2:3: wet_h: "1,5": want a number of hours with a point: 1.5`},
		"far too wide":    {"n,w\na,300\n", smallMap + "  spread_cm: {from: w, unit: ft}\n", `t.csv:2:3: spread_cm: "9144": want more than 0 and at most 6000 centimetres`},
		"class is wrong":  {"n,w\na,H\n", smallMap + "  zones: {from: w, basis: b, classes: {H: hollow}}\n", `t.csv:2:3: zones: "hollow": want any of bottom, slope, rim`},
		"ids collide":     {"n\nA B\na-b\n", smallMap, `t.csv:3:1: id: "a-b": this id stands already on line 2: want one that no other row has`},
		"no number, unit": {"n,w\na,tall\n", smallMap + "  height_cm: {from: w, unit: ft}\n", `t.csv:2:3: height_cm: "tall": want a number of ft`},
		"no id":           {"n\n***\n", smallMap, `t.csv:2:1: id: "***": want a letter a to z or a digit to make an id of`},
		"pivot twice": {"n,r,v\na,X,1\na,X,2\n", "pivot: {row: n, across: r, value: v}\n" + smallMap,
			`t.csv:3:5: v: "2": want 1, as in an earlier row for the same plant and r`},
		"pivot without": {"n,r,v\na,,1\n,X,2\n", "pivot: {row: n, across: r, value: v}\n" + smallMap,
			"t.csv:2:3: r: the cell is empty: want the column that the value belongs to\nt.csv:3:1: n: the cell is empty: want what the rows of one plant have in common"},
		"place after pivot": {"n,r,v\na,X,1\nb,X,2\na,Y,bad\n", "pivot: {row: n, across: r, value: v}\n" + smallMap + "  wet_h: {from: Y}\n",
			`t.csv:4:5: wet_h: "bad": want a number of hours`},
		"pivot onto a column": {"n,r,v\na,n,1\n", "pivot: {row: n, across: r, value: v}\n" + smallMap,
			`m.yaml:1:17: pivot.across: "n": want a pivot whose new columns have other names than the old ones`},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, err := importText(t, c.table, c.yaml)
			var faults table.Faults
			require.ErrorAs(t, err, &faults)
			assert.Equal(t, c.want, err.Error())
		})
	}
}

func TestReadMapFaults(t *testing.T) {
	for name, c := range map[string]struct{ yaml, want string }{
		"unknown key":        {"source: s\ncolums: {}\n", "m.yaml:2:1: "},
		"unknown key inside": {smallMap + "  wet_h: {form: w}\n", "m.yaml:5:11: "},
		"unknown in class":   {smallMap + "  wet_h: {from: w, basis: b, classes: {H: {iss: 3}}}\n", "m.yaml:5:"},
		"latin-1":            {"source: s\n# ü\xe9\n", "m.yaml:2:4: a byte here is not UTF-8"},
		"twice":              {"source: s\nsource: t\n", "m.yaml:2:1: "},
		"no yaml":            {"source: [\n", "m.yaml:1:"},
		"two documents":      {smallMap + "---\nsource: t\n", "m.yaml: want one YAML document, not 2"},
		"empty":              {"", "m.yaml: want one YAML document"},
		"alias":              {"source: &a s\njoin: *a\n", "m.yaml:1:9: want plain values without anchors and aliases"},
		"deep":               {strings.Repeat("[", 30), "m.yaml:1: nested too deeply to be a map"},
		"our column":         {smallMap + "  spred_cm: {from: w}\n", "m.yaml:5:3: columns.spred_cm: want one of our columns; did you mean spread_cm?"},
		"no id":              {"source: s\ncolumns:\n  vernacularName: {from: n}\n", "m.yaml:2:1: columns: want id, since no plant can be without it"},
		"no source":          {strings.Replace(smallMap, "source: s", "source: ' '", 1), "m.yaml:1:1: source: want where the table comes from"},
		"unit":               {smallMap + "  height_cm: {from: h, unit: cubit}\n", "m.yaml:5:3: columns.height_cm: want one of the units cm, mm, m, in, ft"},
		"unit of a word":     {smallMap + "  form: {from: h, unit: ft}\n", "m.yaml:5:3: columns.form: want a unit only for a column of numbers"},
		"from and value":     {smallMap + "  form: {from: h, value: forb}\n", "m.yaml:5:3: columns.form: want either from or value"},
		"neither":            {smallMap + "  form: {}\n", "m.yaml:5:3: columns.form: want either from or value"},
		"no basis":           {smallMap + "  wet_h: {from: w, classes: {High: 3}}\n", `m.yaml:5:3: columns.wet_h: want the basis of what is assumed for High; where there is none, "assumed, no source"`},
		"assumed no basis":   {smallMap + "  wet_h: {from: w, assumed: true}\n", "m.yaml:5:3: columns.wet_h: want the basis of what is assumed"},
		"assumed column":     {smallMap + "  assumed: {from: w}\n", "m.yaml:5:3: columns.assumed: want nothing here"},
		"classes and words":  {smallMap + "  wet_h: {from: w, basis: b, classes: {H: 3}, translate: {H: h}}\n", "m.yaml:5:3: columns.wet_h: want either classes or translate"},
		"join":               {smallMap + "join: name\n", `m.yaml:5:1: join: "name": want one of id, scientificName, vernacularName`},
		"pivot":              {smallMap + "pivot: {row: n}\n", "m.yaml:5:1: pivot: want row, across and value"},
		"where":              {smallMap + "where: [{column: n}]\n", "m.yaml:5:1: where: \"n\": want a column, and either in or not_in"},
		"case":               {smallMap + "  form: {from: f, case: lower}\n", "m.yaml:5:3: columns.form: want case: sentence, or none"},
		"separator":          {smallMap + "  form: {from: f, separator: ';'}\n", "m.yaml:5:3: columns.form: want a separator only"},
		"too long":           {"#" + strings.Repeat("x", mapBytes), "m.yaml: want a file of at most 256 kB"},
	} {
		t.Run(name, func(t *testing.T) {
			m, err := ReadMap("m.yaml", strings.NewReader(c.yaml))
			require.Error(t, err)
			assert.Nil(t, m)
			assert.True(t, strings.HasPrefix(err.Error(), c.want), err.Error())
			var faults table.Faults
			require.ErrorAs(t, err, &faults)
			assert.NotContains(t, err.Error(), "\n", "one fault only")
		})
	}
}

func TestJoin(t *testing.T) {
	a, b := unknown(), unknown()
	a.ID, a.ScientificName, a.WetH, a.Source, a.Assumed = "a", "Ostravella  humilis", 10, "first", []string{"wet_h"}
	b.ID, b.ScientificName = "b", "Ostravella alta"
	x, y, z := unknown(), unknown(), unknown()
	x.ID, x.ScientificName, x.WetH, x.DryD, x.Zones, x.Source = "x", "OSTRAVELLA HUMILIS", 99, 7, []string{"rim"}, "second"
	x.FlowerFrom, x.FlowerTo, x.Assumed = 11, 2, []string{"dry_d", "wet_h"}
	y.ID, y.ScientificName, y.DryD = "y", "Ostravella alta", 1
	z.ID, z.ScientificName, z.DryD = "z", "ostravella alta", 2
	base := []Plant{a, b}
	got, j := Join(base, []Plant{x, y, z}, "scientificName")
	want := a
	want.DryD, want.Zones, want.FlowerFrom, want.FlowerTo = 7, []string{"rim"}, 11, 2
	want.Source, want.Assumed = "first; zones, dry_d, flower_from, flower_to: second", []string{"wet_h", "dry_d"}
	same(t, want, got[0])
	same(t, b, got[1])
	assert.Equal(t, 1, j.Matched)
	assert.Equal(t, []string{"ostravella alta"}, j.Ambiguous)
	assert.Equal(t, []ColumnReport{
		{Name: "zones", Filled: 1}, {Name: "dry_d", Filled: 1, Assumed: 1}, {Name: "flower_from", Filled: 1}, {Name: "flower_to", Filled: 1},
	}, j.Filled)
	same(t, a, base[0])
	assert.Panics(t, func() { Join(base, base, "notes") })
}

// Of two tables that differ on harm, the one that knows of some is believed.
func TestJoinBelievesHarm(t *testing.T) {
	plant := func(assumed bool, toxic ...string) Plant {
		p := unknown()
		p.ID, p.Source, p.Toxic = "a", "a table", toxic
		if assumed {
			p.Assumed = []string{"toxic"}
		}
		return p
	}
	for _, c := range []struct{ base, extra, want Plant }{
		{plant(true, "none"), plant(false, "pets"), plant(false, "pets")},
		{plant(false, "none"), plant(true, "pets"), plant(true, "pets")},
		{plant(false, "none"), plant(false), plant(false, "none")},
		{plant(false, "none"), plant(true, "none"), plant(false, "none")},
		{plant(false, "people"), plant(false, "none"), plant(false, "people")},
	} {
		got, _ := Join([]Plant{c.base}, []Plant{c.extra}, "id")
		assert.Equal(t, c.want.Toxic, got[0].Toxic)
		assert.ElementsMatch(t, c.want.Assumed, got[0].Assumed)
	}
}

// TestJoinFillsAll: every column but id, vernacularName, source and assumed is
// filled from a plant that knows it.
func TestJoinFillsAll(t *testing.T) {
	full := demo(t).Plants[0]
	empty := unknown()
	empty.ID, empty.VernacularName = full.ID, full.VernacularName
	got, _ := Join([]Plant{empty}, []Plant{full}, "id")
	want := full
	want.Source = got[0].Source
	same(t, want, got[0])
}
