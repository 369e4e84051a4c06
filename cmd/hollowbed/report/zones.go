package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/zones"
)

// Zones is the document of the command zones.
type Zones struct {
	Garden   Garden      `json:"garden"`
	Record   Record      `json:"record"`
	Balance  BalanceSums `json:"balance"`
	Captured Number      `json:"captured_fraction" schema:"0..1"`
	// OverflowYear is what leaves over the spill in a mean year.
	OverflowYear Number    `json:"overflow_m3_per_year" schema:"known; 0.."`
	Zones        []ZoneRow `json:"zones" schema:"some"`
	Bands        []BandRow `json:"bands" schema:"some"`
}

// Record says which weather a document rests on.
type Record struct {
	Source       string   `json:"source"`
	From         string   `json:"from" schema:"dated"`
	To           string   `json:"to" schema:"dated"`
	Years        int      `json:"years"`
	Step         string   `json:"step" schema:"one of hourly|daily"`
	MissingHours int      `json:"missing_hours"`
	MeanYearMM   Number   `json:"mean_year_mm"`
	WettestDayMM Number   `json:"wettest_day_mm"`
	WettestDay   string   `json:"wettest_day"`
	ColdestC     Number   `json:"coldest_c"`
	HottestC     Number   `json:"hottest_c"`
	Notes        []string `json:"notes"`
}

// BalanceSums are the volumes of the whole record.
type BalanceSums struct {
	RainOnBedM3    Number `json:"rain_on_bed_m3" schema:"known; 0.."`
	InflowM3       Number `json:"inflow_m3" schema:"known; 0.."`
	InfiltratedM3  Number `json:"infiltrated_m3" schema:"known; 0.."`
	EvaporatedM3   Number `json:"evaporated_m3" schema:"known; 0.."`
	OverflowM3     Number `json:"overflow_m3" schema:"known; 0.."`
	StoredChangeM3 Number `json:"stored_change_m3" schema:"known"`
	Closure        Number `json:"closure" schema:"known; 0..1e-9"`
}

// ZoneRow is a zone: wet as its wettest place has it, dry as its driest.
type ZoneRow struct {
	Zone   string  `json:"zone" schema:"one of bottom|slope|rim"`
	AreaM2 Number  `json:"area_m2" schema:"known; 0.."`
	SunH   Number  `json:"sun_h"`
	Wet    WetRow  `json:"wet"`
	Dry    DryRow  `json:"dry"`
	zone   zoneFit // for the text
}

type zoneFit struct{ mildWetH, mildDryD float64 }

// WetRow is how wet a place gets.
type WetRow struct {
	LongestHByYear     []Number `json:"longest_h_by_year" schema:"some; each known 0.."`
	OneYearInTenH      Number   `json:"one_year_in_ten_h" schema:"known; 0.."`
	GrowingOneInTenH   Number   `json:"growing_season_one_year_in_ten_h" schema:"known; 0.."`
	DeepestMM          Number   `json:"deepest_mm" schema:"known; 0.."`
	DeepestMMByYear    []Number `json:"deepest_mm_by_year" schema:"each known 0.."`
	MildestPlaceOneInH Number   `json:"mildest_place_one_year_in_ten_h" schema:"known; 0.."`
	Worst              *Spell   `json:"worst"`
}

// DryRow is how dry a place gets.
type DryRow struct {
	LongestDByYear     []Number `json:"longest_d_by_year" schema:"some; each known 0.."`
	OneYearInTenD      Number   `json:"one_year_in_ten_d" schema:"known; 0.."`
	DaysByYear         []Number `json:"short_of_water_d_by_year" schema:"each known 0.."`
	MildestPlaceOneInD Number   `json:"mildest_place_one_year_in_ten_d" schema:"known; 0.."`
	Worst              *Spell   `json:"worst"`
}

// Spell is a spell with its dates; to is its last hour or day.
type Spell struct {
	From       string `json:"from" schema:"dated"`
	To         string `json:"to" schema:"dated"`
	Hours      int    `json:"hours" schema:"1.."`
	TouchesGap bool   `json:"touches_gap"`
}

// BandRow is one elevation band.
type BandRow struct {
	Zone   string `json:"zone" schema:"one of bottom|slope|rim"`
	FootMM Number `json:"foot_mm" schema:"known"`
	TopMM  Number `json:"top_mm" schema:"known"`
	AreaM2 Number `json:"area_m2" schema:"known; 0.."`
	Wet    WetRow `json:"wet"`
	Dry    DryRow `json:"dry"`
}

// YearNames are the names of the years that count, for tables by year: 2012,
// or 2012/13 in the south, where a year runs from July to June.
func YearNames(e *zones.Exposure) []string {
	var names []string
	for _, y := range e.Whole {
		name := e.Run.Years[y].Name
		if e.Lot.Garden.Site.LatitudeDeg < 0 {
			names = append(names, fmt.Sprintf("%d/%02d", name, (name+1)%100))
			continue
		}
		names = append(names, fmt.Sprint(name))
	}
	return names
}

// NewRecord fills in what a document rests on.
func NewRecord(f zones.RecordFacts) Record {
	r := Record{
		Source: f.Source, From: date(f.From), To: date(f.To), Years: f.Years,
		Step: f.Step, MissingHours: f.MissingHours, Notes: f.Notes,
	}
	r.MeanYearMM, r.WettestDayMM = Number(f.Figures.MeanYearMM), Number(f.Figures.WettestDayMM)
	r.ColdestC, r.HottestC = Number(f.Figures.ColdestC), Number(f.Figures.HottestC)
	if !f.Figures.WettestDay.IsZero() {
		r.WettestDay = date(f.Figures.WettestDay)
	}
	if r.Notes == nil {
		r.Notes = []string{}
	}
	return r
}

// NewZones makes the document of a lot's exposure.
func NewZones(g Garden, e *zones.Exposure) Zones {
	b := e.Run.Balance
	doc := Zones{
		Garden: g, Record: NewRecord(e.Record), Captured: Number(b.CapturedFraction()), OverflowYear: Number(e.OverflowM3PerYear()),
		Balance: BalanceSums{
			RainOnBedM3: Number(b.RainOnBedM3), InflowM3: Number(b.InflowM3), InfiltratedM3: Number(b.InfiltratedM3),
			EvaporatedM3: Number(b.EvaporatedM3), OverflowM3: Number(b.OverflowM3),
			StoredChangeM3: Number(b.StoredChangeM3), Closure: Number(b.Closure()),
		},
	}
	for _, z := range e.Zones {
		row := ZoneRow{Zone: z.Zone, AreaM2: Number(z.AreaM2), SunH: Number(z.SunH), zone: zoneFit{z.MildWetH, z.MildDryD}}
		row.Wet = wetRow(e.Bands[z.Wettest])
		row.Wet.MildestPlaceOneInH = Number(z.MildWetH)
		row.Dry = dryRow(e.Bands[z.Driest])
		row.Dry.MildestPlaceOneInD = Number(z.MildDryD)
		doc.Zones = append(doc.Zones, row)
	}
	for _, band := range e.Bands {
		doc.Bands = append(doc.Bands, BandRow{
			Zone: band.Zone, FootMM: Number(band.FootMM), TopMM: Number(band.TopMM), AreaM2: Number(band.AreaM2),
			Wet: wetRow(band), Dry: dryRow(band),
		})
	}
	return doc
}

func wetRow(b zones.BandExposure) WetRow {
	return WetRow{
		LongestHByYear: numbers(b.WetHByYear), OneYearInTenH: Number(b.WetOneInTenH), GrowingOneInTenH: Number(b.WetGrowingOneInTenH),
		DeepestMM: Number(b.DeepestMM), DeepestMMByYear: numbers(b.DeepestMMByYear),
		MildestPlaceOneInH: Number(b.WetOneInTenH), Worst: newSpell(b.WorstWet, "2006-01-02T15:04"),
	}
}

func dryRow(b zones.BandExposure) DryRow {
	return DryRow{
		LongestDByYear: numbers(b.DryDByYear), OneYearInTenD: Number(b.DryOneInTenD), DaysByYear: numbers(b.DryDaysByYear),
		MildestPlaceOneInD: Number(b.DryOneInTenD), Worst: newSpell(b.WorstDry, "2006-01-02"),
	}
}

func newSpell(s zones.Spell, layout string) *Spell {
	if s.Hours == 0 {
		return nil
	}
	last := s.To.Add(-1)
	return &Spell{From: s.From.Format(layout), To: last.Format(layout), Hours: s.Hours, TouchesGap: s.Gap}
}

// Text prints the zones as a table with bars, advice first.
func (d Zones) Text(w io.Writer) {
	u := d.Garden.Units
	d.Garden.title(w, "How wet, dry and sunny each zone gets")
	d.Record.line(w)
	d.Record.figures(w, u)
	fmt.Fprintln(w)
	wettest, driest := d.longest()
	var rows []table.Row
	for _, z := range d.Zones {
		rows = append(rows, table.Row{
			z.Zone, u.Area(float64(z.AreaM2)), sunText(z.SunH),
			span(z.zone.mildWetH, float64(z.Wet.OneYearInTenH), spellText(u.Duration)), bar(float64(z.Wet.OneYearInTenH)/wettest, 8),
			spellText(u.Depth)(float64(z.Wet.DeepestMM)),
			span(z.zone.mildDryD, float64(z.Dry.OneYearInTenD), days), bar(float64(z.Dry.OneYearInTenD)/driest, 8),
		})
	}
	grid(w, table.Row{"zone", "area", "sun a day", "longest wet spell", "", "deepest water", "longest dry spell", " "},
		[]string{"area", "sun a day", "deepest water"}, rows)
	fmt.Fprintln(w)
	wrap(w, "", "", fmt.Sprintf("Spells are those reached or passed in one year of ten, from the mildest to the hardest place of the zone%s. "+
		"Wet: water stands, or the mix is 95 %% full. Dry: days in a row on which plants are short of water.", restsOn(d.Record.Years)))
	for _, z := range d.Zones {
		d.worstLine(w, z)
	}
	wrap(w, "", "", fmt.Sprintf("Of the water that drains to it %s stays in the bed; %s leaves over the spill in an average year.",
		u.Percent(float64(d.Captured)), u.Volume(float64(d.OverflowYear))))
	d.Record.notes(w)
	fmt.Fprintln(w, "\nDay by day: hollowbed zones --explain bottom. By year: --years. By height: --bands.")
}

func (d Zones) worstLine(w io.Writer, z ZoneRow) {
	if z.Wet.Worst != nil {
		wrap(w, "", "  ", fmt.Sprintf("%s: wettest from %s for %s%s;", z.Zone, z.Wet.Worst.From[:10],
			d.Garden.Units.Duration(float64(z.Wet.Worst.Hours)), gapMark(z.Wet.Worst))+dryWords(z))
		return
	}
	wrap(w, "", "  ", z.Zone+": never wet for an hour;"+dryWords(z))
}

func dryWords(z ZoneRow) string {
	if z.Dry.Worst == nil {
		return " never short of water."
	}
	return fmt.Sprintf(" driest from %s for %s%s.", z.Dry.Worst.From, days(float64(z.Dry.Worst.Hours)/24), gapMark(z.Dry.Worst))
}

func gapMark(s *Spell) string {
	if s.TouchesGap {
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

func (r Record) line(w io.Writer) {
	missing := "none missing"
	if r.MissingHours > 0 {
		missing = plural(r.MissingHours, "hour missing", "hours missing")
	}
	inOneLine(w, fmt.Sprintf("Record: %s, %s to %s, %s, %s, %s", r.Source, r.From, r.To, plural(r.Years, "whole year", "whole years"), r.Step, missing))
}

// figures prints what a person knows of the place, so that a record in the
// wrong unit shows.
func (r Record) figures(w io.Writer, u zones.Units) {
	var parts []string
	if !math.IsNaN(float64(r.MeanYearMM)) {
		parts = append(parts, u.Rain(float64(r.MeanYearMM))+" of rain a year")
	}
	if r.WettestDay != "" {
		parts = append(parts, fmt.Sprintf("wettest day %s (%s)", u.Rain(float64(r.WettestDayMM)), r.WettestDay))
	}
	if !math.IsNaN(float64(r.ColdestC)) {
		parts = append(parts, fmt.Sprintf("from %s to %s", u.Temp(float64(r.ColdestC)), u.Temp(float64(r.HottestC))))
	}
	if len(parts) > 0 {
		fmt.Fprintf(w, "Does that sound right? %s\n", strings.Join(parts, ", "))
	}
}

func (r Record) notes(w io.Writer) {
	if len(r.Notes) > 0 {
		fmt.Fprintln(w, "About the record:")
		bullets(w, r.Notes)
	}
}

// TextByBand prints one row for each elevation band.
func (d Zones) TextByBand(w io.Writer) {
	u := d.Garden.Units
	d.Garden.title(w, "By height, one year of ten")
	d.Record.line(w)
	var rows []table.Row
	for i := len(d.Bands) - 1; i >= 0; i-- {
		b := d.Bands[i]
		rows = append(rows, table.Row{
			b.Zone, signed(u.Depth, float64(b.FootMM)) + " to " + signed(u.Depth, float64(b.TopMM)), u.Area(float64(b.AreaM2)),
			spellText(u.Duration)(float64(b.Wet.OneYearInTenH)), spellText(u.Depth)(float64(b.Wet.DeepestMM)), days(float64(b.Dry.OneYearInTenD)),
		})
	}
	grid(w, table.Row{"zone", "height over the spill", "area", "longest wet spell", "deepest water", "longest dry spell"},
		[]string{"area", "longest wet spell", "deepest water", "longest dry spell"}, rows)
}

func signed(print func(float64) string, v float64) string {
	if math.Abs(v) < 1e-9 {
		return "0"
	}
	return print(v)
}

// TextByYear prints the longest spells of every year.
func (d Zones) TextByYear(w io.Writer, names []string) {
	u := d.Garden.Units
	d.Garden.title(w, "Longest spells by year, at each zone's hardest place")
	d.Record.line(w)
	head := table.Row{"year"}
	var right []string
	for _, z := range d.Zones {
		for _, what := range []string{" wet", " deepest", " dry"} {
			head = append(head, z.Zone+what)
			right = append(right, z.Zone+what)
		}
	}
	var rows []table.Row
	for i, name := range names {
		row := table.Row{name}
		for _, z := range d.Zones {
			row = append(row, spellText(u.Duration)(float64(z.Wet.LongestHByYear[i])), spellText(u.Depth)(float64(z.Wet.DeepestMMByYear[i])),
				days(float64(z.Dry.LongestDByYear[i])))
		}
		rows = append(rows, row)
	}
	grid(w, head, right, rows)
}
