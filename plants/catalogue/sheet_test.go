package catalogue

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/table"
)

// workbook writes a workbook by hand from the parts that ISO/IEC 29500-1 asks of
// one: words that are shared and that stand in their cell, plain and rich, a
// number, a sum with its last value, a date, a gap of two rows and cells left out;
// more are rows behind these.
func workbook(t require.TestingT, note, more string) []byte {
	const head = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>`
	const main = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
	const rel = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	const pkg = "http://schemas.openxmlformats.org/package/2006/"
	const made = "application/vnd.openxmlformats-officedocument.spreadsheetml."
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, part := range [][2]string{
		{"[Content_Types].xml", `<Types xmlns="` + pkg + `content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="` + made + `sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="` + made + `worksheet+xml"/>` +
			`<Override PartName="/xl/worksheets/sheet2.xml" ContentType="` + made + `worksheet+xml"/><Override PartName="/xl/sharedStrings.xml" ContentType="` + made + `sharedStrings+xml"/><Override PartName="/xl/styles.xml" ContentType="` + made + `styles+xml"/></Types>`},
		{"_rels/.rels", `<Relationships xmlns="` + pkg + `relationships"><Relationship Id="rId1" Type="` + rel + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook ` + main + ` xmlns:r="` + rel + `"><sheets><sheet name="Plants" sheetId="1" r:id="rId1"/><sheet name="About" sheetId="2" r:id="rId2"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + pkg + `relationships"><Relationship Id="rId1" Type="` + rel + `/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="` + rel + `/worksheet" Target="worksheets/sheet2.xml"/>` +
			`<Relationship Id="rId3" Type="` + rel + `/sharedStrings" Target="sharedStrings.xml"/><Relationship Id="rId4" Type="` + rel + `/styles" Target="styles.xml"/></Relationships>`},
		{"xl/sharedStrings.xml", `<sst ` + main + ` count="3" uniqueCount="3"><si><t>Name</t></si><si><t>height</t></si><si><r><t>Low </t></r><r><rPr><b/></rPr><t>Brindlewisp</t></r></si></sst>`},
		{"xl/styles.xml", `<styleSheet ` + main + `><fonts count="1"><font/></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="2"><xf/><xf numFmtId="14" applyNumberFormat="1"/></cellXfs></styleSheet>`},
		{"xl/worksheets/sheet1.xml", `<worksheet ` + main + `><sheetData>` +
			`<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="inlineStr"><is><t>bloom</t></is></c><c r="D1" t="inlineStr"><is><t>notes</t></is></c></row>` +
			`<row r="2"><c r="A2" t="s"><v>2</v></c><c r="B2"><f>0.1+0.2</f><v>0.30000000000000004</v></c><c r="D2" t="inlineStr"><is><t>` + note + `</t></is></c></row>` +
			`<row r="5"><c r="A5" t="inlineStr"><is><t>Tall Tollow</t></is></c><c r="B5"><v>1.5</v></c><c r="C5" s="1"><v>45813</v></c></row>` +
			more + `</sheetData></worksheet>`},
		{"xl/worksheets/sheet2.xml", `<worksheet ` + main + `><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>who</t></is></c></row></sheetData></worksheet>`},
	} {
		w, err := z.Create(part[0])
		require.NoError(t, err)
		_, err = io.WriteString(w, head+part[1])
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestSheet(t *testing.T) {
	book := workbook(t, "one\ntwo, \"three\"", "")
	got, err := ReadTable("t.xlsx", bytes.NewReader(book), "")
	require.NoError(t, err)
	assert.Equal(t, []string{"Name", "height", "bloom", "notes"}, got.Header)
	require.Len(t, got.Rows, 2)
	assert.Equal(t, []string{"Low Brindlewisp", "0.3", "", `one; two, "three"`}, got.Rows[0])
	assert.Equal(t, []string{"Tall Tollow", "1.5"}, got.Rows[1][:2])
	assert.Contains(t, got.Rows[1][2], "05", "a date (5 June 2025) stays one for the map to refuse, no number")
	line, column := got.Position(1, 2)
	assert.Equal(t, [2]int{5, 3}, [2]int{line, column}, "C5")
	assert.Equal(t, "Plants", got.Sheet)
	assert.Equal(t, []string{"About"}, got.OtherSheets)

	m, err := ReadMap("m.yaml", strings.NewReader("source: s\nsheet: Plants\ncolumns:\n  id: {from: Name}\n  vernacularName: {from: Name}\n  height_cm: {from: height, unit: m}\n  notes: {from: notes}\n"))
	require.NoError(t, err)
	got, err = ReadTableFor("t.xlsx", bytes.NewReader(book), m)
	require.NoError(t, err)
	plants, report, err := Import(got, m)
	require.NoError(t, err)
	require.Len(t, plants, 2)
	assert.Equal(t, [2]float64{30, 150}, [2]float64{plants[0].HeightCM, plants[1].HeightCM})
	assert.Equal(t, 5, plants[1].Line)
	assert.Contains(t, report.Warnings[0].Error(), "only the sheet Plants was read")

	f := m.Columns["id"]
	f.From = "bloom"
	m.Columns["flower_from"] = f
	got, err = ReadTableFor("t.xlsx", bytes.NewReader(book), m)
	require.NoError(t, err)
	_, _, err = Import(got, m)
	assert.ErrorContains(t, err, "t.xlsx:5:3: ")

	draft := Sketch(got)
	assert.Contains(t, draft, "sheet: \"Plants\" # the others: \"About\"\n")
	_, err = ReadMap("draft.yaml", strings.NewReader(draft))
	assert.NoError(t, err)
}

func TestSheetRefused(t *testing.T) {
	book := workbook(t, "", "")
	for want, c := range map[string]struct {
		data  string
		sheet string
	}{
		`sheet: "Weeds": expected a sheet of the workbook: Plants, About`: {string(book), "Weeds"},
		"the file has no sheets":              {"a,b\n1,2\n", "Plants"},
		"a workbook that can't be read":       {string(book[:len(book)/2]), ""},
		"expected .xlsx, or a sheet saved as": {"PK\x03\x04", ""},
	} {
		_, err := ReadTable("t", strings.NewReader(c.data), c.sheet)
		assert.ErrorContains(t, err, want)
	}
	_, err := readTable("t", bytes.NewReader(workbook(t, strings.Repeat("a", 1e6), "")), "", table.Limits{FileBytes: 1e5, RowBytes: 1e5}, nil)
	assert.ErrorContains(t, err, "limit", "what it unpacks to is bounded too")
}

// Whatever the cells say of themselves, a sheet is refused or comes as a table.
func TestSheetOdd(t *testing.T) {
	at := rapid.SampledFrom([]string{"A6", "B6", "D6", "E6", "A2", "ZZZ6", "XFE1", "A0", "6A", "", "a6", "A1048577", "A99999999999", "-1"})
	cell := rapid.Custom(func(t *rapid.T) string {
		kind := rapid.SampledFrom([]string{"", "s", "inlineStr", "b", "e", "str", "d", "n", "x"}).Draw(t, "t")
		value := rapid.SampledFrom([]string{"", "0", "-1", "99", "1e400", "a\tb", "NaN", "&amp;", "5-6"}).Draw(t, "v")
		style := rapid.SampledFrom([]string{"0", "1", "-1", "99"}).Draw(t, "s")
		return `<c r="` + at.Draw(t, "r") + `" t="` + kind + `" s="` + style + `"><v>` + value + `</v><is><t>` + value + `</t></is></c>`
	})
	row := rapid.Custom(func(t *rapid.T) string {
		n := rapid.SampledFrom([]string{"6", "5", "1", "0", "-1", "", "x", "1048577", "4000000000"}).Draw(t, "row")
		return `<row r="` + n + `">` + strings.Join(rapid.SliceOfN(cell, 0, 4).Draw(t, "cells"), "") + `</row>`
	})
	rapid.Check(t, func(t *rapid.T) {
		more := strings.Join(rapid.SliceOfN(row, 0, 3).Draw(t, "rows"), "")
		got, err := readTable("t", bytes.NewReader(workbook(t, "", more)), "", table.Limits{FileBytes: 1 << 20, RowBytes: 1 << 16}, nil)
		if err != nil {
			var faults table.Faults
			require.ErrorAs(t, err, &faults)
			return
		}
		for _, row := range got.Rows {
			require.Len(t, row, len(got.Header))
		}
	})
}
