package report

import (
	"fmt"
	"math"
	"path"
	"path/filepath"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
)

// word makes the blocks of an exposure.
func (d *Zones) word(e *zones.Exposure) {
	u := d.Garden.Units
	worst := doc.List{Bare: true}
	for _, z := range e.Zones {
		worst.Items = append(worst.Items, worstSpells(u, z.Zone, e.Bands[z.Wettest].WorstWet, e.Bands[z.Driest].WorstDry))
	}
	d.Blocks = append(answered(d.Garden, "How wet, dry and sunny each zone gets", &d.Record, true, doc.Line(hardest(u, e)),
		doc.Text{Know: "capture", Words: fmt.Sprintf("Of the water that drains to it %s stays in the bed%s; %s leaves over the spill in an average year.",
			u.Percent(e.Run.Balance.CapturedFraction()), asTested(e.Lot), u.Volume(e.OverflowM3PerYear()))}),
		zoneTable(u, e), doc.Line(""),
		doc.Text{Words: "Spells are those reached or passed in one year of ten, from the mildest to the hardest place of the zone" + restsOn(d.Record.Years) + ". " +
			"Wet: water stands, or the mix is 95 % full. Dry: days of the growing season in a row on which plants are short of water."},
		doc.Screen(doc.Rest(doc.Text{Words: "Short of air (wet, or under 10 % of the mix is air), one year in ten: " + airPoor(u, e) + ". Plants are judged by the wet spells, as trials of flooding state what they tolerate; of hours at rest, in the cold season, a third counts, so that their hardest spell may be another."},
			worst)),
		doc.List{Title: "About the record", Items: d.Record.Notes, Aside: true}.Cut(0), doc.Line(""),
		doc.Fold{Short: []doc.Block{doc.Line("All: --all. Day by day: --explain bottom. By year: --years. By height: --bands.")},
			Full: []doc.Block{doc.Line("Day by day: hollowbed zones --explain bottom. By year: --years. By height: --bands.")}})
	d.ByBand = append(opening(d.Garden, "By height, one year of ten", &d.Record), bandTable(u, e))
	d.ByYear = append(opening(d.Garden, "Longest spells by year, at each zone's hardest place", &d.Record), yearTable(u, e))
}

// hardest says how wet and how dry the bed gets where it is most so.
func hardest(u zones.Units, e *zones.Exposure) string {
	wet, dry := e.Zones[0], e.Zones[0]
	wetH := func(z zones.ZoneExposure) float64 { return e.Bands[z.Wettest].WetOneInTenH }
	dryD := func(z zones.ZoneExposure) float64 { return e.Bands[z.Driest].DryOneInTenD }
	for _, z := range e.Zones {
		if wetH(z) > wetH(wet) {
			wet = z
		}
		if dryD(z) > dryD(dry) {
			dry = z
		}
	}
	return fmt.Sprintf("One year in ten: up to %s wet (%s), %s short of water (%s).", u.Duration(wetH(wet)), wet.Zone, days(dryD(dry)), dry.Zone)
}

func zoneTable(u zones.Units, e *zones.Exposure) doc.Table {
	t := doc.Table{Caption: "One year in ten", Columns: []doc.Column{
		{Head: "zone"}, {Head: "area", Right: true, Know: "shape"}, {Head: "sun a day", Right: true, Know: "sun"},
		{Head: "longest wet spell", Bar: 6, Know: "wet"}, {Head: "deepest water", Right: true, Know: "wet"}, {Head: "longest dry spell", Bar: 6, Know: "dry"},
	}}
	var wetH, dryD, sunH float64
	for _, z := range e.Zones {
		wetH, dryD = max(wetH, e.Bands[z.Wettest].WetOneInTenH), max(dryD, e.Bands[z.Driest].DryOneInTenD)
		if z.SunH > sunH { // not where it is unknown
			sunH = z.SunH
		}
	}
	for _, z := range e.Zones {
		wet, dry := e.Bands[z.Wettest], e.Bands[z.Driest].DryOneInTenD
		t.Rows = append(t.Rows, []doc.Cell{
			{Words: z.Zone}, {Words: u.Area(z.AreaM2)}, {Words: sunText(Number(z.SunH)), Bar: doc.NewBar(z.SunH, z.SunH, sunH)},
			{Words: span(z.MildWetH, wet.WetOneInTenH, spellText(u.Duration)), Bar: doc.NewBar(z.MildWetH, wet.WetOneInTenH, wetH)},
			{Words: spellText(u.Depth)(wet.DeepestMM)},
			{Words: span(z.MildDryD, dry, days), Bar: doc.NewBar(z.MildDryD, dry, dryD)},
		})
	}
	return t
}

// airPoor says for how long each zone's wettest place is short of air.
func airPoor(u zones.Units, e *zones.Exposure) string {
	var words []string
	for _, z := range e.Zones {
		words = append(words, z.Zone+" "+spellText(u.Duration)(e.Bands[z.Wettest].AirPoorOneInTenH))
	}
	return strings.Join(words, ", ")
}

// bandTable has one row for each elevation band, the highest first.
func bandTable(u zones.Units, e *zones.Exposure) doc.Table {
	t := doc.Table{Caption: "By height, one year of ten", Columns: []doc.Column{
		{Head: "zone"}, {Head: "height over the spill"}, {Head: "area", Right: true}, {Head: "longest wet spell", Right: true},
		{Head: "short of air", Right: true}, {Head: "deepest water", Right: true}, {Head: "longest dry spell", Right: true},
	}}
	for i := len(e.Bands) - 1; i >= 0; i-- {
		b := e.Bands[i]
		t.Rows = append(t.Rows, doc.Cells(b.Zone, level(u, b.FootMM)+" to "+level(u, b.TopMM), u.Area(b.AreaM2),
			spellText(u.Duration)(b.WetOneInTenH), spellText(u.Duration)(b.AirPoorOneInTenH), spellText(u.Depth)(b.DeepestMM), days(b.DryOneInTenD)))
	}
	return t
}

// yearTable has the longest spells of every year.
func yearTable(u zones.Units, e *zones.Exposure) doc.Table {
	t := doc.Table{Caption: "Longest spells by year", Columns: []doc.Column{{Head: "year"}}}
	for _, z := range e.Zones {
		for _, what := range []string{" wet", " deepest", " dry"} {
			t.Columns = append(t.Columns, doc.Column{Head: z.Zone + what, Right: true})
		}
	}
	for i, name := range yearNames(e) {
		row := []string{name}
		for _, z := range e.Zones {
			wet, dry := e.Bands[z.Wettest], e.Bands[z.Driest]
			row = append(row, spellText(u.Duration)(wet.WetHByYear[i]), spellText(u.Depth)(wet.DeepestMMByYear[i]), days(dry.DryDByYear[i]))
		}
		t.Rows = append(t.Rows, doc.Cells(row...))
	}
	return t
}

// yearNames are the names of the years that count: 2012, or 2012/13 where they
// do not end in the calendar year in which they begin.
func yearNames(e *zones.Exposure) []string {
	var names []string
	for _, y := range e.Whole {
		year := e.Run.Years[y]
		name := fmt.Sprint(year.Name)
		if end := e.Lot.Record.Start.AddDate(0, 0, year.ToDay-1); end.Year() > year.Name {
			name = fmt.Sprintf("%d/%02d", year.Name, (year.Name+1)%100)
		}
		names = append(names, name)
	}
	return names
}

// worstSpells says when a zone was wettest and driest.
func worstSpells(u zones.Units, zone string, wet, dry zones.Spell) string {
	words := zone + ": never wet for an hour;"
	if wet.Hours > 0 {
		words = fmt.Sprintf("%s: wettest from %s for %s%s;", zone, date(wet.From), u.Duration(float64(wet.Hours)), gapMark(wet.Gap)+frostMark(wet.Frozen))
	}
	if dry.Hours == 0 {
		return words + " never short of water."
	}
	return words + fmt.Sprintf(" driest from %s for %s%s.", date(dry.From), days(float64(dry.Hours)/24), gapMark(dry.Gap)+frostMark(dry.Frozen))
}

func frostMark(freezes bool) string {
	if freezes {
		return " (with days below freezing: frozen ground may take less)"
	}
	return ""
}

func gapMark(touches bool) string {
	if touches {
		return " (touches a gap or an end of the record: may have been longer)"
	}
	return ""
}

// restsOn says how far a one-year-in-ten figure can be trusted.
func restsOn(years int) string {
	if years < 10 {
		return fmt.Sprintf("; with only %s on record they are simply the longest seen", plural(years, "year", "years"))
	}
	return fmt.Sprintf(", from %d years", years)
}

// spellText prints the length of a wet spell, "none" for none.
func spellText(print func(float64) string) func(float64) string {
	return func(h float64) string {
		if h == 0 {
			return "none"
		}
		return print(h)
	}
}

func span(mild, hard float64, print func(float64) string) string {
	a, b := print(mild), print(hard)
	if a == b {
		return b
	}
	return a + " to " + b
}

func days(d float64) string { return fmt.Sprintf("%.0f d", d) }

func sunText(h Number) string {
	if math.IsNaN(float64(h)) {
		return "not given"
	}
	return fmt.Sprintf("%.3g h", float64(h))
}

// asTested says why basin, which divides the rate of the soil for safety, prints a smaller share.
func asTested(l *zones.Lot) string {
	if l.Native.Factor == 1 {
		return ""
	}
	return " at the rate that the soil has (basin counts on a slower one, to be safe)"
}

// level words a height against the spill level, mm; nobody digs to a 20th of an inch.
func level(u zones.Units, mm float64) string {
	if math.Abs(mm) < 1.27 {
		return "0"
	}
	return u.Depth(mm)
}

// words say which weather a document rests on.
func (r Record) words() string {
	missing := "none missing"
	if r.MissingHours > 0 {
		missing = fmt.Sprintf("%d h missing", r.MissingHours)
	}
	if r.Climate != "" {
		return fmt.Sprintf("Weather: %s (%s)", r.Climate, plural(r.Years, "year", "years"))
	}
	return fmt.Sprintf("Record: %s, %s to %s, %s, %s, %s", r.Source, r.From, r.To, plural(r.Years, "whole year", "whole years"), r.Step, missing)
}

// abroad are its words on papers that are sent to others: they name no folders.
func (r Record) abroad() string {
	r.Source = path.Base(filepath.ToSlash(r.Source))
	return r.words()
}

// years are what is counted: those on record, or made ones.
func (r Record) years() string {
	if r.Climate != "" {
		return "years of the climate"
	}
	return "years on record"
}

// sounds says what a person knows of the place, so that a record in the wrong
// unit shows.
func (r Record) sounds(u zones.Units) string {
	var parts []string
	if !math.IsNaN(float64(r.MeanYearMM)) {
		parts = append(parts, u.Rain(float64(r.MeanYearMM))+" of rain a year")
	}
	if r.WettestDay != "" {
		wettest := "wettest day " + u.Rain(float64(r.WettestDayMM))
		if r.Climate == "" { // made days have no date
			wettest += " (" + r.WettestDay + ")"
		}
		parts = append(parts, wettest)
	}
	if !math.IsNaN(float64(r.ColdestC)) {
		parts = append(parts, fmt.Sprintf("from %s to %s", u.Temp(float64(r.ColdestC)), u.Temp(float64(r.HottestC))))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Does that sound right? " + strings.Join(parts, ", ")
}

// RecordWords says on which weather a page rests.
func RecordWords(r Record, u zones.Units) string {
	return Plain(strings.Join(append([]string{r.words(), r.sounds(u)}, r.Doubts...), ". "))
}
