package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/catalogue"
	"hollowbed/search"
	"hollowbed/zones"
)

// 1 ft = 30.48 cm, 1 in = 25.4 mm, F = 1.8 C + 32, and a difference of 1 deg C
// is 1.8 deg F. Source: NIST SP 811 (2008), Appendix B.
func TestFindInUnits(t *testing.T) {
	us, metric := inUnits(zones.UnitsUS), inUnits(zones.UnitsMetric)
	for _, c := range []struct {
		q          search.Quantity
		us, metric string
	}{
		{search.Quantity{Value: 91.44, Unit: "cm"}, "3 ft", "91.44 cm"},
		{search.Quantity{Value: 20.32, Unit: "cm"}, "8 in", "20.32 cm"},
		{search.Quantity{Value: 152.4, Unit: "mm"}, "6 in", "152.4 mm"},
		{search.Quantity{Value: -20, Unit: "c"}, "-4 F", "-20 °C"},
		{search.Quantity{Value: 5, Unit: "c", Difference: true}, "9 F", "5 °C"},
		{search.Quantity{Value: 5.08, Unit: "cm", Difference: true}, "2 in", "5.08 cm"},
		{search.Quantity{Value: 0.04, Unit: "cm", Difference: true}, "less than 1 in", "0.04 cm"},
		{search.Quantity{Value: 0.2, Unit: "c", Difference: true}, "less than 1 F", "0.2 °C"},
		{search.Quantity{Value: 48, Unit: "h"}, "48 h", "48 h"},
		{search.Quantity{Value: 6.5}, "6.5", "6.5"},
	} {
		assert.Equal(t, c.us, us(c.q))
		assert.Equal(t, c.metric, metric(c.q))
	}
}

const findTable = `id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm,height_cm,lowest_c,flower_colour,notes
tarnwhisk,Blue Tarnwhisk,bottom,5,60,20,35,50,-20,blue,"Flowers of a very deep blue, as blue as any."
marlcap,Dry Marlcap,rim,6,6,45,30,90,-30,blue,"A blue cap."
`

func findText(t *testing.T, units zones.Units, line string) string {
	t.Helper()
	table, err := catalogue.Read("t.csv", strings.NewReader(findTable))
	require.NoError(t, err)
	index, err := search.New(table.Plants, search.Options{})
	require.NoError(t, err)
	defer index.Close()
	query, err := search.Parse(line)
	require.NoError(t, err)
	result, err := index.Find(query)
	require.NoError(t, err)
	var b strings.Builder
	doc.Terminal(&b, NewFind(Garden{Units: units}, "t.csv", line, "", result, nil).Blocks())
	return b.String()
}

// Whoever finds a plant is told whom it harms, or that it is not known, whatever
// was asked; once, and of what harms nobody nothing.
func TestFindMarksHarm(t *testing.T) {
	plant := func(name string, toxic ...string) catalogue.Plant {
		return catalogue.Plant{ID: name, VernacularName: name, HeightCM: 10, Toxic: toxic}
	}
	index, err := search.New([]catalogue.Plant{plant("Blue Marl", "pets", "people"), plant("Blue Reed", "none"), plant("Blue Fen")}, search.Options{})
	require.NoError(t, err)
	defer index.Close()
	for line, want := range map[string][2]int{"blue": {1, 1}, "height>5": {1, 1}, "": {1, 1}, "like blue reed": {1, 1}, "toxic": {0, 0}, "-toxic": {0, 0}} {
		query, err := search.Parse(line)
		require.NoError(t, err)
		result, err := index.Find(query)
		require.NoError(t, err)
		var b strings.Builder
		found := NewFind(Garden{Units: zones.UnitsUS}, "t.csv", line, "", result, nil).Blocks()
		doc.Terminal(&b, found)
		assert.Equal(t, want[0], strings.Count(b.String(), "\n  harms pets and people\n"), "%s:\n%s", line, b.String())
		assert.Equal(t, want[1], strings.Count(b.String(), "\n  not known whether it harms people or animals\n"), "%s:\n%s", line, b.String())
		b.Reset()
		doc.Brief(&b, found)
		for _, h := range result.Hits {
			assert.Contains(t, b.String(), h.VernacularName)
			assert.Contains(t, b.String(), harmOf(h), "in short, %s", line)
		}
	}
}

func TestFindText(t *testing.T) {
	us, metric := zones.UnitsUS, zones.UnitsMetric
	for _, c := range []struct {
		units      zones.Units
		line, want string
	}{
		{us, "height:8in..2ft", "19.5 in high, you asked 8 in to 2 ft"},
		{us, "height:20..55", "19.5 in high, you asked 8 to 21.5 in"},
		{metric, "height:8in..2ft", "50 cm high, you asked 20.32 to 60.96 cm"},
		{us, "cold:-20..-10", "survives -4 F, you asked -4 to 14 F"},
		{metric, "cold:-20..-10", "survives -20 °C, you asked -20 to -10 °C"},
		{us, "cold:-35", "survives -22 F, you asked -31 F: 9 F off"},
		{us, "colour:bleu", "did you mean blue?\n"},
		{us, "bleu", "read as \"blue\".\n"},
		{us, "blue", "\n  \"blue\" in vernacularName: «Blue» Tarnwhisk\n"},
		{us, "blue", "\n  \"blue\" in notes: A «blue» cap.\n"},
	} {
		assert.Contains(t, findText(t, c.units, c.line), c.want, c.line)
	}
}
