package report

import (
	"bytes"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// The hand-over names every kind with its count, its height and whom it harms,
// keeps every caution of the bed, and leads nowhere out of itself.
func TestHandOver(t *testing.T) {
	in := demoIn(t)
	in.Planting.Lines = slices.Clone(in.Planting.Lines)
	for i := range in.Planting.Lines {
		switch in.Planting.Lines[i].Plant.ID {
		case in.Planting.Lines[0].Plant.ID:
			in.Planting.Lines[i].Plant.Toxic = []string{"pets"}
		case in.Planting.Lines[1].Plant.ID:
			in.Planting.Lines[i].Plant.Toxic = nil
		}
	}
	table := &catalogue.Catalogue{Name: "plants.csv"}
	for _, l := range in.Planting.Lines {
		if _, known := table.ByID(l.Plant.ID); !known {
			table.Plants = append(table.Plants, l.Plant)
		}
	}
	var err error
	in.FirstYear, err = FirstYearOf(in.Planting, table, nil, nil, time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC), "planted.csv")
	require.NoError(t, err)
	p, err := NewPage(in)
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, p.Short(&out))
	root := parsed(t, out.String())
	rows := map[string]string{}
	for _, row := range root.find("table")[0].find("tr")[1:] {
		rows[row.find("th")[0].words()] = row.words()
	}
	counts := map[string]int{}
	for _, l := range in.Planting.Lines {
		counts[l.Plant.ID] += l.Count
	}
	for _, l := range in.Planting.Lines {
		row := rows[l.Plant.VernacularName+" "+l.Plant.ScientificName]
		assert.Contains(t, row, fmt.Sprint(counts[l.Plant.ID]))
		assert.Contains(t, row, in.Garden.Units.Length(l.Plant.HeightCM/100)+" high")
		assert.Contains(t, row, Months(monthsOf(l.Plant.FlowerFrom, l.Plant.FlowerTo)))
	}
	assert.Len(t, rows, len(counts))
	name := func(i int) string { return in.Planting.Lines[i].Plant.VernacularName }
	words := root.words()
	assert.Regexp(t, name(0)+" [^|]*harms pets", words)
	assert.Contains(t, words, "none known", "what nobody looked into is not harmless")
	assert.Contains(t, words, name(0)+": harmful to pets. Plant it out of reach and wear gloves.")
	assert.Contains(t, words, name(1)+": not known whether it harms people or animals.")
	assert.Contains(t, rows[name(1)+" "+in.Planting.Lines[1].Plant.ScientificName], "not known whether it harms people or pets")
	for _, c := range append(p.Basin.Cautions, "After the first season", "then by hand until", "Never plug a downspout") {
		assert.Contains(t, words, c)
	}
	for _, a := range root.find("a") {
		assert.Equal(t, "#summary", a.attrs["href"])
	}
	assert.NotContains(t, root.find("main")[0].words(), "--", "of a command")
}
