package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/data"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/search"
	"hollowbed/testdata/testenv"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// demo is the demo garden, chosen and placed once.
type demo struct {
	garden   *zones.Garden
	exposure *zones.Exposure
	perform  zones.Performance
	planting *plants.Planting
	placed   *plants.Placed
	verdicts []plants.Verdict
	index    *search.Index
}

func newDemo(t *testing.T) demo {
	t.Helper()
	open := func(name string) io.Reader {
		file, err := data.Files().Open(name)
		require.NoError(t, err)
		t.Cleanup(func() { file.Close() })
		return file
	}
	var d demo
	var err error
	d.garden, err = zones.ReadGarden("garden.yaml", open("garden.yaml"))
	require.NoError(t, err)
	record, err := site.ReadRecord("rain.csv", open("rain.csv"), d.garden.Weather.Format, d.garden.Site.LatitudeDeg)
	require.NoError(t, err)
	table, err := catalogue.Read("plants.csv", open("plants.csv"))
	require.NoError(t, err)
	lot, err := zones.Prepare(d.garden, record)
	require.NoError(t, err)
	d.exposure, err = lot.Expose()
	require.NoError(t, err)
	d.perform, err = d.exposure.Perform()
	require.NoError(t, err)
	judge := plants.NewJudge(d.exposure)
	d.planting, err = plants.Choose(judge, table)
	require.NoError(t, err)
	d.placed, err = plants.Place(judge, d.planting, table, plants.Grown{})
	require.NoError(t, err)
	d.verdicts = judge.Everywhere(table.Plants[0])
	d.index, err = search.New(table.Plants, search.Options{Digest: table.Digest})
	require.NoError(t, err)
	t.Cleanup(func() { d.index.Close() })
	return d
}

// documents are those of every command, with one text as the name of the
// garden and of every plant, in the notes, as the source of the record and of
// the plants, as the query and as every other text that a file brings.
func (d demo) documents(t *testing.T, text string) map[string]any {
	g := NewGarden(d.garden, false)
	g.Name, g.Assume = text, []string{text}
	record := newRecord(d.exposure.Record)
	record.Source, record.Notes = text, []string{text}

	lot, weather := *d.exposure.Lot, *d.exposure.Lot.Record
	weather.Source, weather.Notes = text, []string{text}
	lot.Record, lot.Native.Notes = &weather, []string{text}
	basin := NewBasin(g, &lot, d.perform, nil, nil)
	exposure := *d.exposure
	exposure.Record.Source, exposure.Record.Notes = text, []string{text}
	planting := retitled(d.planting, text)
	planting.Exposure = &exposure
	choose := NewChoose(g, text, planting, d.exposure.Lot.Checks(d.perform))
	zoned := NewZones(g, &exposure)
	place := NewPlace(g, d.placed, "")
	place.Record, place.Notes = record, []string{text}
	for i := range place.Plants {
		place.Plants[i].VernacularName = text
	}
	place.Left = []leftOver{{VernacularName: text, Zone: "rim", Count: 1, Why: "no room"}}
	place.FixedPoints[0].Name = text
	place.word(0.15, nil)
	verdicts := slices.Clone(d.verdicts)
	for i := range verdicts {
		verdicts[i].Plant.VernacularName, verdicts[i].Plant.Notes, verdicts[i].Detail = text, text, text
	}
	why := NewWhy(g, &exposure, verdicts)
	imported := Import{Out: "out.csv", Tables: []Imported{{File: "a.csv", Map: "a.yaml", Columns: []importedColumn{{Name: "id", From: text}}, Ambiguous: []string{text}, Warnings: []string{text}}}}
	return map[string]any{"choose": choose, "basin": basin, "zones": zoned, "place": place, "why": why, "import": imported, "find": d.found(t, g, text)}
}

// retitled is a planting whose plants and notes are named otherwise.
func retitled(p *plants.Planting, text string) *plants.Planting {
	out := *p
	out.Notes, out.Lines, out.Verdicts = []string{text}, slices.Clone(p.Lines), slices.Clone(p.Verdicts)
	for i := range out.Verdicts {
		out.Verdicts[i].Plant.VernacularName = text
	}
	for i := range out.Lines {
		l := &out.Lines[i]
		l.Plant.VernacularName, l.Plant.ScientificName, l.Next = text, text, slices.Clone(l.Next)
		for k := range l.Next {
			v := *l.Next[k].Verdict
			v.Plant.VernacularName = text
			l.Next[k].Verdict = &v
		}
	}
	return &out
}

func (d demo) found(t *testing.T, g Garden, text string) Find {
	query, err := search.Parse("blue july")
	require.NoError(t, err)
	query.Limit, query.Facets = 5, []string{"zone"}
	result, err := d.index.Find(query)
	require.NoError(t, err)
	require.NotEmpty(t, result.Hits)
	for i := range result.Hits {
		result.Hits[i].VernacularName = text
		for j := range result.Hits[i].Why {
			result.Hits[i].Why[j].Text, result.Hits[i].Why[j].Quote, result.Hits[i].Why[j].Marks = text, text, nil
		}
	}
	result.Notes = []string{text}
	result.Facets[0].Values[0].Value = text
	result.NoHit = &search.NoHit{Excluded: []search.Excluded{{Asked: text}}, Nearest: &search.Near{VernacularName: text}}
	return NewFind(g, text, text, "", result, nil)
}

// printed gives the texts of a document.
func printed(d any) map[string]string {
	out := map[string]string{}
	text := func(name string, print func(io.Writer)) {
		var b bytes.Buffer
		print(&b)
		out[name] = b.String()
	}
	switch d := d.(type) {
	case Choose:
		text("choose", func(w io.Writer) { doc.Terminal(w, d.Blocks) })
		text("alternatives", func(w io.Writer) { doc.Terminal(w, d.Next) })
	case Basin:
		text("basin", func(w io.Writer) { doc.Brief(w, d.Blocks) })
	case Zones:
		text("zones", func(w io.Writer) { doc.Terminal(w, d.Blocks) })
		text("bands", func(w io.Writer) { doc.Terminal(w, d.ByBand) })
	case Place:
		text("place", func(w io.Writer) { doc.Terminal(w, d.Blocks) })
	case Why:
		text("why", func(w io.Writer) { doc.Terminal(w, d.Blocks) })
		text("card", func(w io.Writer) { doc.Terminal(w, d.Card) })
	case Find:
		text("find", func(w io.Writer) { doc.Terminal(w, d.Blocks()) })
	case Import:
		text("import", d.Text)
	}
	return out
}

func naughtyStrings(t *testing.T) []string {
	t.Helper()
	raw, err := os.ReadFile("../../../testdata/naughty-strings/blns.json")
	require.NoError(t, err)
	var all []string
	require.NoError(t, json.Unmarshal(raw, &all))
	require.Greater(t, len(all), 500)
	return append(all, "two\nlines", "a\rb", "tab\tbed", "\x1b[2Jgone", "\u009b2J", "a\u202eb", "a\u2028b", "a\x00b", "\x7f", "=1+1\n=2", "a\x85b")
}

// steering finds what could steer a terminal.
func steering(text string) string {
	for _, r := range text {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) || r == '\u2028' || r == '\u2029' {
			return fmt.Sprintf("%U", r)
		}
	}
	return ""
}

// byFours joins four strings to one, but for those that matter by how they begin or
// end: formulas, and white space.
func byFours(all []string) []string {
	var out, four []string
	for _, s := range all {
		if s == "" || strings.TrimSpace(s) != s || strings.ContainsAny(s[:1], "=+-@") {
			out = append(out, s)
			continue
		}
		if four = append(four, s); len(four) == 4 {
			out, four = append(out, strings.Join(four, " ")), nil
		}
	}
	return append(out, four...)
}

// Whatever a file has for a name, a note or a source: no text breaks its
// lines over it or sends a control character to the terminal, JSON stays JSON
// and gives the name back.
func TestNaughtyDocuments(t *testing.T) {
	d := newDemo(t)
	for _, s := range testenv.Some(byFours(naughtyStrings(t))) {
		docs := d.documents(t, s)
		plain := d.documents(t, strings.ReplaceAll(Plain(s), "\n", " "))
		for name, doc := range docs {
			same := printed(plain[name])
			require.NotEmpty(t, same, name)
			for view, text := range printed(doc) {
				require.True(t, utf8.ValidString(text), "%s %q", view, s)
				require.Empty(t, steering(text), "%s %q", view, s)
				require.Equal(t, same[view], text, "%s: %q is not printed as one line of plain text", view, s)
			}
			var b bytes.Buffer
			require.NoError(t, JSON(&b, doc))
			require.Empty(t, steering(b.String()), "%s as JSON, %q", name, s)
			require.True(t, json.Valid(b.Bytes()), "%s %q", name, s)
			if name != "import" {
				var back struct{ Garden struct{ Name string } }
				require.NoError(t, json.Unmarshal(b.Bytes(), &back))
				require.Equal(t, strings.ToValidUTF8(s, "\ufffd"), back.Garden.Name, name)
			}
		}
		checkOrderRows(t, docs["choose"].(Choose), s)
	}
}

// checkOrderRows reads the order list back: as many rows and cells as there
// should be, no cell a formula, and every name as it was.
func checkOrderRows(t *testing.T, doc Choose, name string) {
	var b bytes.Buffer
	require.NoError(t, doc.CSV(&b, false, 0))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err, "%q", name)
	ids := map[string]bool{}
	for _, l := range doc.Lines {
		ids[l.ID] = true
	}
	require.Len(t, rows, 1+len(ids)+3) // and soil, compost, mulch
	cells := 9
	if doc.Record.Source != "" {
		cells++ // the weather
	}
	asRead := strings.ReplaceAll(name, "\r\n", "\n") // as encoding/csv says of a carriage return
	for _, row := range rows[1:] {
		require.Len(t, row, cells)
		for _, cell := range row {
			require.False(t, cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])), "%q would be run", cell)
		}
		if !ids[row[0]] {
			continue
		}
		for _, cell := range row[1:3] {
			require.Contains(t, []string{asRead, "'" + asRead}, cell)
		}
	}
}

// The counts of an order are summed over the zones, a cost is count times
// price, and what has no price has no cost.
func TestOrderList(t *testing.T) {
	none := Number(math.NaN())
	doc := Choose{Lines: []Line{
		{Zone: "bottom", ID: "a", VernacularName: "A", ScientificName: "Madeupia a", Count: 7, SpacingCM: 45, Price: 4.2},
		{Zone: "bottom", ID: "b", VernacularName: "B", Count: 3, SpacingCM: 30.5, Price: none},
		{Zone: "slope", ID: "a", VernacularName: "A", ScientificName: "Madeupia a", Count: 5, SpacingCM: 45, Price: 4.2},
		{Zone: "rim", ID: "c", VernacularName: "C", Count: 1, SpacingCM: 20, Price: 0},
		{Zone: "rim", ID: "a", VernacularName: "A", ScientificName: "Madeupia a", Count: 1, SpacingCM: 45, Price: 4.2},
	}}
	var b bytes.Buffer
	require.NoError(t, doc.CSV(&b, false, 0))
	assert.Equal(t, `id,vernacularName,scientificName,count,zones,spacing_cm,price,cost
a,A,Madeupia a,13,bottom|slope|rim,45,4.20,54.60
b,B,,3,bottom,30.5,,
c,C,,1,rim,20,0.00,0.00
`, b.String())
	b.Reset()
	require.NoError(t, doc.CSV(&b, false, 0.1)) // by hand: 10 % of 13 is 2 plants, and 15 times 4.20 is 63
	assert.Equal(t, `id,vernacularName,scientificName,count,zones,spacing_cm,price,cost,reserve
a,A,Madeupia a,13,bottom|slope|rim,45,4.20,63.00,2
b,B,,3,bottom,30.5,,,1
c,C,,1,rim,20,0.00,0.00,1
`, b.String())
}

// The order list of the demo adds up to its planting list.
func TestOrderListAddsUp(t *testing.T) {
	d := newDemo(t)
	doc := NewChoose(NewGarden(d.garden, true), "plants.csv", d.planting, nil)
	var b bytes.Buffer
	require.NoError(t, doc.CSV(&b, false, 0))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	count, cost, goods := 0, 0.0, map[string]string{}
	unit := slices.Index(rows[0], "unit")
	require.Positive(t, unit)
	for _, row := range rows[1:] {
		if row[unit] != "plants" {
			goods[row[0]] = row[3] + " " + row[unit]
			continue
		}
		var n int
		var price, all float64
		_, err := fmt.Sscan(row[3]+" "+row[6]+" "+row[7], &n, &price, &all)
		require.NoError(t, err, row)
		assert.InDelta(t, float64(n)*price, all, 0.005)
		count, cost = count+n, cost+all
	}
	want := 0
	for _, l := range doc.Lines {
		want += l.Count
	}
	assert.Equal(t, want, count)
	assert.InDelta(t, float64(doc.Cost), cost, 0.005*float64(len(rows)))
	// By hand: the demo's bed of an oval of 20 by 14 ft, 18 in of soil, a quarter of it compost, and
	// 3 in of mulch, at 27 cu ft a cubic yard.
	assert.Equal(t, map[string]string{"bed-soil": "12.22 cu yd", "compost": "3.05 cu yd", "mulch": "2.04 cu yd"}, goods)
}

// With --alternatives the order list says for each zone what to ask for where a plant
// is sold out, and whom that harms.
func TestOrderListIfSoldOut(t *testing.T) {
	d := newDemo(t)
	doc := NewChoose(NewGarden(d.garden, true), "plants.csv", d.planting, nil)
	var b bytes.Buffer
	require.NoError(t, doc.CSV(&b, true, 0))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	col := slices.Index(rows[0], "if_sold_out")
	require.Positive(t, col)
	for i, l := range d.planting.Lines {
		cell := rows[1+slices.IndexFunc(rows[1:], func(r []string) bool { return r[0] == l.Plant.ID })][col]
		n := strings.Index(cell, l.Zone+": ")
		require.GreaterOrEqual(t, n, 0, cell)
		said := cell[n:]
		if len(l.Next) == 0 {
			assert.True(t, strings.HasPrefix(said, l.Zone+": none that keeps"), said)
			continue
		}
		next := l.Next[0].Verdict.Plant
		assert.True(t, strings.HasPrefix(said, fmt.Sprintf("%s: %d %s (", l.Zone, l.Next[0].Count, next.VernacularName)), said)
		for _, harm := range mind(next) {
			assert.Contains(t, strings.SplitN(said, ")", 2)[0], harm, "line %d", i)
		}
	}
}
