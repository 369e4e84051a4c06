package catalogue

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const header = "id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm"

func TestReadOnePlant(t *testing.T) {
	_, err := Read("p.csv", strings.NewReader("\ufeff ID ;"+
		"scientificName;vernacularName;form;zones;sun_min_h;sun_max_h;wet_h;pond_mm;dry_d;lowest_c;root_cm;height_cm;spread_cm;"+
		"flower_from;flower_to;flower_colour;evergreen;native_to;spreads;toxic;price;notes;source;assumed\n"+
		"low-brindlewisp;Ostravella humilis;Low Brindlewisp;forb;bottom|slope;4.5;12;96;150;12;-28;40;60;35;"+
		"11;2;blue|pale green;semi;Quillmere|Salt Fen;slowly;pets|skin;3.25;'=wet; feet;invented;wet_h\n"))
	require.Error(t, err, "the semicolon in the notes makes one cell too many")
	assert.EqualError(t, err, "p.csv:2:1: want 25 cells as in the header, not 26")

	c, err := Read("p.csv", strings.NewReader(" ID ;"+
		"scientificName;vernacularName;form;zones;sun_min_h;sun_max_h;wet_h;pond_mm;dry_d;lowest_c;root_cm;height_cm;spread_cm;"+
		"flower_from;flower_to;flower_colour;evergreen;native_to;spreads;toxic;price;notes;source;assumed\n\n;;;;;;;;;;;;;;;;;;;;;;;;\n"+
		"low-brindlewisp;Ostravella humilis;Low Brindlewisp;forb;bottom|slope;4.5;12;96;150;12;-28;40;60;35;"+
		"11;2;blue|pale green;semi;Quillmere|Salt Fen;slowly;pets | skin;3.25;\"'=wet; feet\";invented;wet_h\n"))
	require.NoError(t, err)
	assert.Empty(t, c.Warnings)
	assert.Len(t, c.Digest, 64)
	want := Plant{
		ID: "low-brindlewisp", ScientificName: "Ostravella humilis", VernacularName: "Low Brindlewisp", Form: "forb",
		Zones: []string{"bottom", "slope"}, SunMinH: 4.5, SunMaxH: 12, WetH: 96, PondMM: 150, DryD: 12, LowestC: -28,
		RootCM: 40, HeightCM: 60, SpreadCM: 35, FlowerFrom: 11, FlowerTo: 2, FlowerColour: []string{"blue", "pale green"},
		Evergreen: "semi", NativeTo: []string{"Quillmere", "Salt Fen"}, Spreads: "slowly", Toxic: []string{"pets", "skin"},
		Price: 3.25, Notes: "=wet; feet", Source: "invented", Assumed: []string{"wet_h"}, Line: 4,
	}
	require.Equal(t, []Plant{want}, c.Plants)
	got, ok := c.ByID("low-brindlewisp")
	assert.True(t, ok)
	assert.Equal(t, want, got)
	_, ok = c.ByID("low-brindlewips")
	assert.False(t, ok)
	assert.Equal(t, "low-brindlewisp", c.Near("low-brindlewips"))
}

// TestUnknownIsNaN: neither an empty cell nor a missing column is a zero.
func TestUnknownIsNaN(t *testing.T) {
	c, err := Read("p.csv", strings.NewReader(header+",price\na,A,,,,,,\n"))
	require.NoError(t, err)
	p := c.Plants[0]
	for _, col := range tableColumns() {
		if v, ok := p.number(col.Name); ok {
			assert.True(t, math.IsNaN(v), "%s is %v", col.Name, v)
		}
	}
	assert.Zero(t, p.FlowerFrom)
	assert.Nil(t, p.Zones)
	require.Len(t, c.Warnings, 1)
	assert.Equal(t, "p.csv:2:9: spread_cm: cannot be placed on a list until its spread is known", c.Warnings[0].String())
}

func TestReadFaults(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"only a header": {header + "\n", "p.csv:2:1: want at least one plant below the header"},
		"blank rows":    {header + "\n,,,,,,\n", "p.csv:2:1: want at least one plant below the header"},
		"empty":         {"", "p.csv:1:1: the file is empty: want a header line with the names of the columns"},
		"missing": {"id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread\na,A,,,,,9\n",
			`p.csv:1:1: spread_cm: this column is missing: want mature spread, from side to side; is it meant by "spread"?` + "\n" +
				"p.csv:1:47: spread: this column is not known and was passed over; did you mean spread_cm?"},
		"twice in other case": {header + ",ID\na,A,,,,,9,b\n", "p.csv:1:57: ID: this column stands twice in the header: want it once"},
		"two in one file": {header + "\na,A,,1,2,3,wide\nb,,,1,x,3,40\n",
			"p.csv:2:12: spread_cm: \"wide\": want a number of centimetres\n" +
				"p.csv:3:3: vernacularName: the cell is empty: want the common name, as in Darwin Core\n" +
				"p.csv:3:7: wet_h: \"x\": want a number of hours"},
		"deep but never wet": {header + ",pond_mm\na,A,,1,0,3,40,50\n", `p.csv:2:15: pond_mm: "50": expected 0, since wet_h says it tolerates no standing water`},
		"ids twice":          {header + "\na,A,,1,2,3,40\na,B,,1,2,3,40\n", `p.csv:3:1: id: "a": this id stands already on line 2: want one that no other row has`},
		"bad row and bad cell": {header + "\na,A\nb,B,,1,2,3,0\n",
			"p.csv:2:1: want 7 cells as in the header, not 2\n" +
				"p.csv:3:12: spread_cm: \"0\": want more than 0 and at most 6000 centimetres"},
		"control character": {header + "\na,A\x1bB,,1,2,3,40\n", `p.csv:2:3: vernacularName: "A\x1bB": want text without control characters`},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Read("p.csv", strings.NewReader(c.text))
			require.Error(t, err)
			assert.Nil(t, got)
			assert.Equal(t, c.want, err.Error())
		})
	}
}

func TestUnknownColumnsAreNamed(t *testing.T) {
	c, err := Read("p.csv", strings.NewReader(header+",heigth_cm,toxicity,,shelf mark\na,A,,1,2,3,40,5,none,,Q7\n"))
	require.NoError(t, err)
	var got []string
	for _, w := range c.Warnings {
		got = append(got, w.String())
	}
	assert.Equal(t, []string{
		"p.csv:1:57: heigth_cm: this column is not known and was passed over; did you mean height_cm?",
		"p.csv:1:67: toxicity: this column is not known and was passed over; did you mean toxic?",
		"p.csv:1:76: a column without a name was passed over",
		"p.csv:1:77: shelf mark: this column is not known and was passed over",
	}, got)
}

// TestOneCell puts one wrong value into one cell of a sound row and expects
// one fault, at that cell, that tells what would be right.
func TestOneCell(t *testing.T) {
	sound := map[string]string{
		"id": "a", "vernacularName": "A", "form": "forb", "zones": "rim", "sun_min_h": "4", "sun_max_h": "9",
		"wet_h": "10", "pond_mm": "50", "dry_d": "20", "lowest_c": "-5", "root_cm": "30", "height_cm": "50",
		"spread_cm": "40", "flower_from": "5", "flower_to": "6", "toxic": "none", "evergreen": "no", "spreads": "no", "price": "2",
	}
	names := columnNames(tableColumns())
	for _, c := range []struct{ column, value, want string }{
		{"wet_h", "1,5", "want a number of hours with a point: 1.5"},
		{"wet_h", "1,500", "want a number of hours without a comma: 1500, or 1.500"},
		{"wet_h", "1,500,000", "want a number of hours without commas: 1500000"},
		{"wet_h", "-1,25", "want a number of hours with a point: -1.25"},
		{"wet_h", "NaN", "want a number of hours"},
		{"wet_h", "Inf", "want a number of hours"},
		{"wet_h", "1e3", "want a number of hours"},
		{"wet_h", "0x10", "want a number of hours"},
		{"wet_h", "1_000", "want a number of hours"},
		{"wet_h", "٣", "want a number of hours"},
		{"wet_h", "5-10", "want a number of hours"},
		{"wet_h", "12.", "want a number of hours"},
		{"wet_h", "010", "want a number of hours without leading zeros: 10"},
		{"wet_h", ".5", "want a number of hours with a digit before the point: 0.5"},
		{"wet_h", "9000", "want 0 to 8784 hours"},
		{"wet_h", strings.Repeat("9", 400), "want a number of hours that is not so large"},
		{"lowest_c", "+5", "want a number of degrees Celsius without a plus sign: 5"},
		{"lowest_c", "−5", "want a number of degrees Celsius with a hyphen for minus: -5"},
		{"lowest_c", "-459", "want -90 to 30 degrees Celsius"},
		{"spread_cm", "30 cm", "want a number of centimetres, the number alone without its unit"},
		{"spread_cm", "12\"", "want a number of centimetres, the number alone without its unit"},
		{"spread_cm", "wide", "want a number of centimetres"},
		{"spread_cm", "0", "want more than 0 and at most 6000 centimetres"},
		{"spread_cm", "-3", "want more than 0 and at most 6000 centimetres"},
		{"height_cm", "12000.5", "want more than 0 and at most 12000 centimetres"},
		{"root_cm", "0", "want more than 0 and at most 7000 centimetres"},
		{"price", "$3", "want an amount of money"},
		{"price", "3,50", "want an amount of money with a point: 3.50"},
		{"price", "-1", "want 0 to 1000000"},
		{"sun_min_h", "24.5", "want 0 to 24 hours"},
		{"sun_max_h", "3", "want at least sun_min_h, which is 4"},
		{"dry_d", "400", "want 0 to 366 days"},
		{"pond_mm", "-1", "want 0 to 5000 millimetres"},
		{"flower_from", "13", "want a month from 1 to 12"},
		{"flower_from", "0", "want a month from 1 to 12"},
		{"flower_from", "12.9", "want a month from 1 to 12"},
		{"flower_from", "010", "want a month from 1 to 12"},
		{"flower_from", "May", "want a month from 1 to 12"},
		{"flower_from", "", "want the first month of bloom, since flower_to tells the last"},
		{"flower_to", "", "want the last month of bloom, since flower_from tells the first"},
		{"id", "Low Wisp", "want lower case letters a to z, digits and single hyphens, such as low-wisp"},
		{"id", "a--b", "want lower case letters a to z, digits and single hyphens, such as a-b"},
		{"id", "ü", "want lower case letters a to z, digits and single hyphens"},
		{"id", "", "the cell is empty: want the short name of the plant that no other row has"},
		{"id", strings.Repeat("a", 101), "want lower case letters a to z, digits and single hyphens, such as " + strings.Repeat("a", 100)},
		{"vernacularName", "  ", "the cell is empty: want the common name, as in Darwin Core"},
		{"form", "shrubb", "want one of forb, grass-like, fern-like, bulb, groundcover, climber, shrub, small tree, tree; did you mean shrub?"},
		{"form", "moss", "want one of forb, grass-like, fern-like, bulb, groundcover, climber, shrub, small tree, tree"},
		{"zones", "botom", "want any of bottom, slope, rim; did you mean bottom?"},
		{"zones", "rim|Rim", "want any of bottom, slope, rim; did you mean rim?"},
		{"zones", "rim, slope", "want | between the values: rim|slope"},
		{"zones", "rim|", "want a value on both sides of every |"},
		{"zones", "rim|rim", "stands there twice: want it once"},
		{"toxic", "none|pets", "want none alone, or those it harms without none"},
		{"toxic", "dogs", "want any of none, people, pets, livestock, skin"},
		{"evergreen", "true", "want one of yes, no, semi"},
		{"spreads", "slow", "want one of no, slowly, runs, seeds; did you mean slowly?"},
		{"flower_colour", "=blue", "want words of letters, digits, spaces and . - _ ' beginning with a letter, with | between them"},
		{"native_to", "7th mile", "want words of letters, digits, spaces and . - _ ' beginning with a letter, with | between them"},
		{"assumed", "wet", "want names of columns; did you mean wet_h?"},
		{"assumed", "moisture", "want names of columns"},
		{"assumed", "WetH", "want names of columns; did you mean wet_h?"},
		{"notes", strings.Repeat("x", longestText+1), "want at most 20000 characters"},
	} {
		t.Run(c.column+" "+c.value[:min(30, len(c.value))], func(t *testing.T) {
			cells := make([]string, len(names))
			for i, n := range names {
				cells[i] = sound[n]
				if n == c.column {
					cells[i] = c.value
				}
				cells[i] = `"` + strings.ReplaceAll(cells[i], `"`, `""`) + `"`
			}
			_, err := Read("p.csv", strings.NewReader(strings.Join(names, ",")+"\n"+strings.Join(cells, ",")+"\n"))
			var faults table.Faults
			require.ErrorAs(t, err, &faults)
			require.Len(t, faults, 1, "%v", faults)
			assert.Equal(t, c.column, faults[0].Name)
			assert.Equal(t, c.want, faults[0].Want)
			assert.Equal(t, 2, faults[0].Line)
			assert.NotZero(t, faults[0].Column)
		})
	}
}

func TestWarnings(t *testing.T) {
	all := header + ",height_cm,form,pond_mm,flower_from,flower_to,assumed\n"
	for row, want := range map[string]string{
		"a,A,,1,2,3,40,50,forb,,,,\nb,a,,1,2,3,40,50,forb,,,,": "vernacularName: stands already",
		"a,A,,1,2,3,2,50,forb,,,,":                             "spread_cm: very small",
		"a,A,,1,2,3,40,1.5,groundcover,,,,":                    "height_cm: very small",
		"a,A,,1,2,3,40,5,forb,60,,,":                           "pond_mm: under water",
		"a,A,,1,2,3,101,5,forb,,,,":                            "spread_cm: more than 20",
		"a,A,,1,2,3,40,50,fern-like,,5,6,":                     "flower_from: no bloom",
		"a,A,,1,2,3,40,50,forb,,,,pond_mm":                     "assumed: empty",
		"a, A,,1,2,3,40,50,forb,,,,":                           "vernacularName: blank space",
	} {
		c, err := Read("p.csv", strings.NewReader(all+row+"\n"))
		require.NoError(t, err, row)
		require.Len(t, c.Warnings, 1, row)
		column, words, _ := strings.Cut(want, ": ")
		assert.Equal(t, column, c.Warnings[0].Name, row)
		assert.Contains(t, c.Warnings[0].Want, words, row)
	}
}

// TestColumnsAndRowAgree holds the table of columns and what gocsv binds
// together, both ways, and each enumeration free of doubles.
func TestColumnsAndRowAgree(t *testing.T) {
	rt := reflect.TypeOf(row{})
	var tags []string
	for i := range rt.NumField() {
		tags = append(tags, rt.Field(i).Tag.Get("csv"))
	}
	cols := tableColumns()
	assert.Equal(t, columnNames(cols), tags)
	kinds := map[columnKind]string{textColumn: "textCell", identColumn: "wordCell", choiceColumn: "wordCell", numberColumn: "numberCell", monthColumn: "monthCell", manyColumn: "listCell", tagsColumn: "listCell"}
	for i, c := range cols {
		assert.Equal(t, kinds[c.Kind], rt.Field(i).Type.Name(), c.Name)
		seen := map[string]bool{}
		for _, v := range c.Choices {
			assert.False(t, seen[v.Name], "%s: %s stands twice", c.Name, v.Name)
			assert.NotEmpty(t, v.Meaning)
			seen[v.Name] = true
		}
		assert.Equal(t, c.Kind == choiceColumn || c.Kind == manyColumn && c.Name != "assumed", len(c.Choices) > 0, c.Name)
	}
	// Plant has the columns, the line and what the built-in table knows beside, nothing else.
	assert.Equal(t, len(cols)+2, reflect.TypeOf(Plant{}).NumField())
}

// The controls of direction of Unicode Standard Annex 9, section 2, could make a
// name read as another: refused in every cell that is shown, and in a header.
// The joiners that some scripts need are not.
func TestDirectionIsRefused(t *testing.T) {
	const head, row = "id,vernacularName,scientificName,zones,sun_min_h,wet_h,dry_d,spread_cm,notes,native_to,form,mine\n", "a,Bell,Bella fera,rim,4,12,10,30,a note,US-IL,forb,x\n"
	for _, r := range []rune{0x061c, 0x200e, 0x200f, 0x202a, 0x202b, 0x202c, 0x202d, 0x202e, 0x2066, 0x2067, 0x2068, 0x2069} {
		for _, cell := range []string{"Bell", "Bella fera", "a note", "US-IL", "forb"} {
			_, err := Read("p.csv", strings.NewReader(head+strings.Replace(row, ","+cell, ","+cell[:2]+string(r)+cell[2:], 1)))
			require.ErrorContains(t, err, "p.csv:2:", "%U in %s", r, cell)
			assert.ErrorContains(t, err, "want text without control characters", "%U in %s", r, cell)
			assert.NotContains(t, err.Error(), string(r), "not shown either")
		}
		_, err := Read("p.csv", strings.NewReader(strings.Replace(head, "mine", "mi"+string(r)+"ne", 1)+row))
		require.ErrorContains(t, err, "p.csv:1:", "%U", r)
		assert.NotContains(t, err.Error(), string(r))
	}
	_, err := Read("p.csv", strings.NewReader(head+strings.Replace(row, "Bell", "B\u200dell", 1)))
	assert.NoError(t, err)
}

const (
	testdata = "../../testdata"
	megabyte = 1_000_000
)
