package report

import (
	"fmt"
	"html/template"
	"math"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/draw"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// ClimateSVG draws the usual year that a record or a climate has, by month.
func ClimateSVG(g Garden, f zones.RecordFacts, latitudeDeg float64) Drawing {
	in := draw.ClimateIn{Sheet: sheet(g, "climate", ""), Source: newRecord(f).origin() + "."}
	if latitudeDeg < 0 {
		in.FirstMonth = 7
	}
	for i, m := range f.Months {
		in.Months[i] = draw.ClimateMonth(m)
	}
	return draw.ClimateChart(in)
}

// Climate is that drawing with its figures as a table, for every paper.
func Climate(g Garden, f zones.RecordFacts, latitudeDeg float64) doc.Picture {
	table := monthTable(g.Units, f.Months, latitudeDeg < 0)
	return doc.Picture{
		ID: "fig-climate", Name: "The year by month", Below: newRecord(f).origin() + ". A day of rain has " + g.Units.Depth(1) + " or more.", Know: "record",
		SVG: template.HTML(ClimateSVG(g, f, latitudeDeg).Scaled(smallestShare)), Src: "api/climate.svg", Table: &table, // draw escapes every text in it
	}
}

// origin says what the weather is from, briefly.
func (r Record) origin() string {
	if r.Climate != "" {
		return doc.Capital(Plain(r.Climate))
	}
	return Plain(fmt.Sprintf("From the record %s, %s to %s", base(r.Source), r.From, r.To))
}

// monthTable has a column for each month.
func monthTable(u zones.Units, months [12]site.MonthMean, south bool) doc.Table {
	t := doc.Table{Caption: "The year by month", Columns: []doc.Column{{Head: ""}}}
	unit, mm, decimals := "rain, mm", 1.0, 0
	temp, celsius := "deg C", func(c float64) float64 { return c }
	if u != zones.UnitsMetric {
		unit, mm, decimals = "rain, in", 25.4, 1
		temp, celsius = "deg F", func(c float64) float64 { return c*1.8 + 32 }
	}
	rows := [][]string{{unit}, {"days of rain"}, {"day, " + temp}, {"night, " + temp}, {"nights of frost"}}
	show := func(v float64, decimals int) string {
		if math.IsNaN(v) {
			return "?"
		}
		return fmt.Sprintf("%.*f", decimals, v)
	}
	first := 0
	if south {
		first = 6
	}
	for i := range months {
		at := (first + i) % 12
		m := months[at]
		t.Columns = append(t.Columns, doc.Column{Head: monthName(at + 1), Right: true})
		for k, words := range []string{show(m.RainMM/mm, decimals), show(m.WetDays, 0), show(celsius(m.HighC), 0), show(celsius(m.LowC), 0), show(m.FrostNights, 0)} {
			rows[k] = append(rows[k], words)
		}
	}
	for _, row := range rows {
		t.Rows = append(t.Rows, doc.Cells(row...))
	}
	return t
}
