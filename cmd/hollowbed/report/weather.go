package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// Weather is the document of the command weather: what a file of weather says,
// and how a garden file names it.
type Weather struct {
	Record      Record        `json:"record"`
	LongestGapH int           `json:"longest_gap_h" schema:"0.."`
	Years       []weatherYear `json:"years" schema:"some"`
	Wrong       []string      `json:"looks_wrong" about:"what in the file is most likely a mistake"`
	Section     []string      `json:"section" schema:"some" about:"lines of the garden file"`
	Garden      string        `json:"garden" about:"the garden file that names it now; empty if none was written"`
	Blocks      []doc.Block   `json:"-"`
}

// weatherYear is one year of the file: a calendar year, south of the equator one
// from July on, or one from the date on which the file begins.
type weatherYear struct {
	Year         int    `json:"year"`
	Whole        bool   `json:"whole" about:"at least 90 % of its hours have rain values"`
	MissingHours int    `json:"missing_hours" schema:"0.."`
	RainMM       Number `json:"rain_mm" schema:"known; 0.."`
	ColdestC     Number `json:"coldest_c"`
	HottestC     Number `json:"hottest_c"`
}

// shortYears is how many years a record should have; below it one year in ten is
// a guess.
const shortYears = 10

// NewWeather makes the document of a record that was read for a place; section
// is what a garden file says of it, garden the file that does so now.
func NewWeather(u zones.Units, f zones.RecordFacts, rec *site.Record, latitudeDeg float64, section []string, garden string) Weather {
	d := Weather{Record: newRecord(f), LongestGapH: rec.LongestGapHours(), Years: []weatherYear{}, Wrong: []string{}, Section: section, Garden: garden}
	for _, y := range rec.YearSums(latitudeDeg) {
		d.Years = append(d.Years, weatherYear{y.Name, y.Whole, y.MissingHours, Number(y.RainMM), Number(y.ColdestC), Number(y.HottestC)})
	}
	for _, w := range rec.Warnings() {
		d.Wrong = append(d.Wrong, w[len("warning: "):])
	}
	if f.Years < shortYears {
		d.Wrong = append(d.Wrong, fmt.Sprintf("%s: one year in ten can hardly be told from so few; ten or more are better", plural(f.Years, "whole year", "whole years")))
	}
	if days := rec.DaysWithoutTemperature(); days > 0 {
		d.Wrong = append(d.Wrong, fmt.Sprintf("%s of %d without lowest and highest temperature, from which evapotranspiration comes", plural(days, "day", "days"), len(rec.Days)))
	}
	d.word(u, rec, Climate(Garden{Units: u}, f, latitudeDeg))
	return d
}

func (d *Weather) word(u zones.Units, rec *site.Record, year doc.Picture) {
	d.Blocks = []doc.Block{doc.Heading("Weather"), doc.Line(d.Record.words())}
	if s := d.Record.sounds(u); s != "" {
		d.Blocks = append(d.Blocks, doc.Line(s))
	}
	if d.Record.MissingHours > 0 {
		d.Blocks = append(d.Blocks, doc.Line("Longest gap: "+u.Duration(float64(d.LongestGapH))))
	}
	notes := slices.DeleteFunc(slices.Clone(rec.Notes), func(n string) bool { return slices.Contains(rec.Warnings(), n) })
	d.Blocks = append(d.Blocks, doc.Line(""), doc.List{Title: "How it was read", Items: notes},
		doc.List{Title: "Look at this", Items: d.Wrong, Mind: true}, doc.Line(""), d.yearTable(u), doc.Line(""), year, doc.Line(""))
	if d.Garden != "" {
		d.Blocks = append(d.Blocks, doc.Line("Wrote "+d.Garden+", which says now:"))
	} else {
		d.Blocks = append(d.Blocks, doc.Line("For garden.yaml, with the file beside it (--write DIR does both):"))
	}
	d.Blocks = append(d.Blocks, doc.Line(""))
	for _, line := range d.Section {
		d.Blocks = append(d.Blocks, doc.Line(line))
	}
}

func (d *Weather) yearTable(u zones.Units) doc.Table {
	t := doc.Table{Caption: "Years", Columns: []doc.Column{{Head: "year"}, {Head: "rain", Right: true}, {Head: "days without", Right: true}, {Head: "coldest", Right: true}, {Head: "hottest", Right: true}}}
	temp := func(c Number) string {
		if math.IsNaN(float64(c)) {
			return ""
		}
		return u.Temp(float64(c))
	}
	for _, y := range d.Years {
		name := strconv.Itoa(y.Year)
		if !y.Whole {
			name += " (part)"
		}
		t.Rows = append(t.Rows, doc.Cells(name, u.Rain(float64(y.RainMM)), strconv.Itoa((y.MissingHours+23)/24), temp(y.ColdestC), temp(y.HottestC)))
	}
	return t
}
