package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/zones"
)

// Spread is the document of zones --spread: how far the figures may be off.
type Spread struct {
	Garden   Garden       `json:"garden"`
	Record   Record       `json:"record"`
	Doubt    Doubt        `json:"doubt" about:"what was taken as uncertain"`
	Captured SpreadRange  `json:"captured_fraction" about:"as planned, and what 5 %, half and 95 % of the cases stay at or below"`
	Zones    []spreadZone `json:"zones"`
	Offered  []spreadKind `json:"offered" about:"species offered as planned, and of those the ones that are right in the cases; empty without a list"`
	List     []spreadLine `json:"list"`
	NoList   string       `json:"no_list" about:"why there is no list, empty if there is"` // why there is none, "" if there is
	Blocks   []doc.Block  `json:"-"`
}

// doubt says what was taken as uncertain.
type Doubt struct {
	Cases       int    `json:"cases" schema:"2.."`
	SoilRateMMH Number `json:"soil_rate_mmh" schema:"known; 0.."`
	SoilFactor  Number `json:"soil_factor" schema:"known; 1.." about:"in nine cases of ten the rate lies within this factor, either way"`
	SoilWhy     string `json:"soil_why"`
	RoofPart    Number `json:"roof_part" schema:"known; 0..0.5"`
	YearsDrawn  bool   `json:"years_drawn"`
}

// spreadRange is a figure as planned, and what 5 %, half and 95 % of the cases
// stay at or below.
type SpreadRange struct {
	Plan   Number `json:"plan" schema:"0.."`
	Low    Number `json:"low" schema:"0.."`
	Middle Number `json:"middle" schema:"0.."`
	High   Number `json:"high" schema:"0.."`
}

// spreadZone is a zone at its hardest places, one year in ten; the rank
// correlations say what moves it.
type spreadZone struct {
	Zone      string      `json:"zone" schema:"one of bottom|slope|rim"`
	WetH      SpreadRange `json:"wet_one_year_in_ten_h" about:"as planned, and what 5 %, half and 95 % of the cases stay at or below"`
	DryD      SpreadRange `json:"dry_one_year_in_ten_d" about:"as planned, and what 5 %, half and 95 % of the cases stay at or below"`
	WetBySoil Number      `json:"wet_by_soil" schema:"-1.000001..1.000001" about:"rank correlation"`
	WetByRoof Number      `json:"wet_by_roof" schema:"-1.000001..1.000001" about:"rank correlation"`
	DryBySoil Number      `json:"dry_by_soil" schema:"-1.000001..1.000001" about:"rank correlation"`
	DryByRoof Number      `json:"dry_by_roof" schema:"-1.000001..1.000001" about:"rank correlation"`
}

// spreadKind counts the species that are offered in a zone as planned, and of
// those the ones that are right in the cases.
type spreadKind struct {
	Zone    string      `json:"zone" schema:"one of bottom|slope|rim"`
	Species SpreadRange `json:"species" about:"as planned, and what 5 %, half and 95 % of the cases stay at or below"`
}

// spreadLine is a line of the planting list over the cases.
type spreadLine struct {
	Zone           string   `json:"zone" schema:"one of bottom|slope|rim"`
	ID             string   `json:"id"`
	VernacularName string   `json:"vernacularName"`
	Count          int      `json:"count" schema:"1.."`
	Sure           lineSure `json:"sure"`
	named          string
}

// lineSure is how a plant fares over the cases.
type lineSure struct {
	Right    int    `json:"right" about:"cases in which the yearly risk keeps to the limit"`
	Cases    int    `json:"cases" schema:"2.."`
	Robust   bool   `json:"robust"`
	RiskLow  Number `json:"yearly_risk_low" schema:"known; 0..1"`
	RiskHigh Number `json:"yearly_risk_high" schema:"known; 0..1"`
}

// NewSpread makes the document; list may be nil, and noList then says why.
func NewSpread(g Garden, e *zones.Exposure, s *zones.Spread, list *plants.Planting, noList string) Spread {
	out := Spread{
		Garden: g, Record: newRecord(e.Record), Doubt: newDoubt(e.Lot, s.Doubt, s.Cases), Captured: spreadRange(s.Captured), Offered: []spreadKind{}, List: []spreadLine{}, NoList: noList,
	}
	for _, z := range s.Zones {
		out.Zones = append(out.Zones, spreadZone{
			Zone: z.Zone, WetH: spreadRange(z.WetH), DryD: spreadRange(z.DryD),
			WetBySoil: Number(z.WetBySoil), WetByRoof: Number(z.WetByRoof), DryBySoil: Number(z.DryBySoil), DryByRoof: Number(z.DryByRoof),
		})
	}
	if list != nil {
		for _, z := range e.Zones {
			out.Offered = append(out.Offered, spreadKind{Zone: z.Zone, Species: spreadRange(list.Sure.Offered[z.Zone])})
		}
		for _, l := range list.Lines {
			out.List = append(out.List, spreadLine{Zone: l.Zone, ID: l.Plant.ID, VernacularName: l.Plant.VernacularName, Count: l.Count, Sure: *newSure(list.Sure, l.Verdict), named: named(&l.Plant)})
		}
	}
	out.word()
	return out
}

func newDoubt(l *zones.Lot, d zones.Doubt, cases int) Doubt {
	return Doubt{
		Cases: cases, SoilRateMMH: Number(l.Native.TestedMMH), SoilFactor: Number(d.SoilFactor), SoilWhy: d.SoilWhy,
		RoofPart: Number(d.RoofPart), YearsDrawn: d.Years,
	}
}

// listDoubt is what a robust list has taken as uncertain; nil for the ordinary one.
func listDoubt(p *plants.Planting) *Doubt {
	if p.Sure == nil {
		return nil
	}
	doubt := newDoubt(p.Exposure.Lot, p.Sure.Doubt, p.Sure.Cases)
	return &doubt
}

func spreadRange(r zones.Range) SpreadRange {
	return SpreadRange{Plan: Number(r.Plan), Low: Number(r.Low), Middle: Number(r.Middle), High: Number(r.High)}
}

// newSure is nil where a plant was not followed.
func newSure(s *plants.Sureness, v plants.Verdict) *lineSure {
	sure, ok := s.Of(v)
	if !ok {
		return nil
	}
	return &lineSure{Right: sure.Right, Cases: s.Cases, Robust: s.Robust(v), RiskLow: Number(sure.Low), RiskHigh: Number(sure.High)}
}

// words says how many of the cases a plant is right in.
func (s lineSure) words() string {
	if s.Robust {
		return fmt.Sprintf("robust: right in all %d cases", s.Cases)
	}
	return fmt.Sprintf("right in %d of %d cases", s.Right, s.Cases)
}

// words says what was taken as uncertain.
func (d Doubt) words(u zones.Units, r Record) string {
	parts := []string{"the soil as tested, " + u.Rate(float64(d.SoilRateMMH))}
	if d.SoilFactor > 1 {
		why := ""
		if d.SoilWhy != "" {
			why = ": " + d.SoilWhy
		}
		parts[0] = fmt.Sprintf("soil that takes %s, right within a factor of %.2g either way in 90 %% of cases%s", u.Rate(float64(d.SoilRateMMH)), float64(d.SoilFactor), why)
	}
	if d.RoofPart > 0 {
		parts = append(parts, fmt.Sprintf("the roof's water, up to %s more or less", u.Percent(float64(d.RoofPart))))
	}
	if d.YearsDrawn {
		parts = append(parts, "years drawn anew from the "+fmt.Sprintf("%d %s", r.Years, r.years()))
	}
	return fmt.Sprintf("%s: %s.", plural(d.Cases, "case", "cases"), strings.Join(parts, "; "))
}

// preferred says that a list is the robust one.
func (d Doubt) preferred(u zones.Units, r Record) string {
	return "Plants that survive even if things differ from the plan are preferred. " + d.words(u, r)
}

// word makes the blocks: how far the figures may be off, and what would narrow it.
func (d *Spread) word() {
	u := d.Garden.Units
	out := append(opening(d.Garden, "How sure the zones are", &d.Record), doc.Line(""))
	for _, s := range d.advice() {
		out = append(out, doc.Text{Words: s})
	}
	t := doc.Table{Caption: "Longest spells, one year in ten", Know: "sure", Columns: []doc.Column{
		{Head: "zone"}, {Head: "longest wet spell", Right: true}, {Head: "90 % of cases"}, {Head: "longest dry spell", Right: true}, {Head: "90 % of cases "}}}
	for _, z := range d.Zones {
		t.Rows = append(t.Rows, doc.Cells(z.Zone, spellText(u.Duration)(float64(z.WetH.Plan)), z.WetH.span(spellText(u.Duration)), days(float64(z.DryD.Plan)), z.DryD.span(days)))
	}
	out = append(out, doc.Line(""), t, doc.Line(""), doc.Text{Words: "Spells are those of one year in ten at each zone's hardest place" + restsOn(d.Record.Years) + "."},
		doc.Text{Words: fmt.Sprintf("Of the water that drains to it %s stays in the bed; in 90 %% of cases %s.", u.Percent(float64(d.Captured.Plan)), d.Captured.span(u.Percent))},
		doc.Text{Words: d.Doubt.words(u, d.Record)})
	for _, s := range d.Record.Doubts {
		out = append(out, doc.Text{Words: "Not in these ranges: " + s + "."})
	}
	d.Blocks = append(out, d.list()...)
}

func (r SpreadRange) span(print func(float64) string) string {
	if math.IsNaN(float64(r.Low)) {
		return "not known"
	}
	return span(float64(r.Low), float64(r.High), print)
}

// firmly is from which rank correlation on a figure is said to follow another.
const firmly = 0.7

// moved lists the zones whose wet and dry spells one thing moves.
type moved struct{ wet, dry []string }

func (m moved) words() string {
	var parts []string
	if len(m.wet) > 0 {
		parts = append(parts, "the wet spells of "+join(m.wet))
	}
	if len(m.dry) > 0 {
		parts = append(parts, "the dry spells of "+join(m.dry))
	}
	return strings.Join(parts, ", and ")
}

// advice says what the figures hang on, and what to do about it.
func (d Spread) advice() []string {
	var soil, roof, rest moved
	for _, z := range d.Zones {
		if m := mover(z.WetH, z.WetBySoil, z.WetByRoof, &soil, &roof, &rest); m != nil {
			m.wet = append(m.wet, z.Zone)
		}
		if m := mover(z.DryD, z.DryBySoil, z.DryByRoof, &soil, &roof, &rest); m != nil {
			m.dry = append(m.dry, z.Zone)
		}
	}
	var lines []string
	if words := soil.words(); words != "" {
		lines = append(lines, "The soil decides "+words+". Test it in one or two more places of the bed.")
	}
	if words := roof.words(); words != "" {
		lines = append(lines, "The roof's water decides "+words+". Measure the roof, and see which part of it drains here.")
	}
	if words := rest.words(); words != "" && d.Doubt.YearsDrawn {
		lines = append(lines, "Mostly the weather decides "+words+". Only a longer record would narrow that.")
	}
	return lines
}

// mover is what moves a figure; nil if nothing does.
func mover(r SpreadRange, bySoil, byRoof Number, soil, roof, rest *moved) *moved {
	switch {
	case !(r.High > r.Low):
		return nil
	case math.Abs(float64(bySoil)) >= firmly:
		return soil
	case math.Abs(float64(byRoof)) >= firmly:
		return roof
	}
	return rest
}

// list says how sure each line of the planting list is.
func (d Spread) list() []doc.Block {
	if d.NoList != "" {
		return []doc.Block{doc.Text{Words: "The planting list was not followed: " + d.NoList}}
	}
	robust := 0
	for _, l := range d.List {
		if l.Sure.Robust {
			robust++
		}
	}
	out := []doc.Block{doc.Line("")}
	if len(d.List) == 0 {
		return append(out, doc.Text{Words: "The list of hollowbed choose is empty, so nothing can be said of it."})
	}
	out = append(out, doc.Text{Words: fmt.Sprintf("The list of hollowbed choose: %d of its %s robust. A plant is right in a case if its yearly risk keeps to the limit there.", robust, plural(len(d.List), "line is", "lines are"))})
	for _, k := range d.Offered {
		t := doc.Table{Caption: "In the " + k.Zone, Prose: sureLine, Know: "sure", Columns: []doc.Column{{Head: "plant"}, {Head: "plants", Right: true}, {Head: "how sure"}}}
		for _, l := range d.List {
			if l.Zone == k.Zone {
				t.Rows = append(t.Rows, doc.Cells(l.named, fmt.Sprint(l.Count),
					l.Sure.words()+"; risk "+span(float64(l.Sure.RiskLow), float64(l.Sure.RiskHigh), func(r float64) string { return risk(r, false) })))
			}
		}
		if len(t.Rows) > 0 {
			out = append(out, doc.Text{Lead: strings.ToUpper(k.Zone), Hang: 2, Words: fmt.Sprintf("of the %s that would live here as planned, %s are right in 90 %% of cases",
				plural(int(k.Species.Plan), "species", "species"), k.Species.span(func(n float64) string { return fmt.Sprintf("%.0f", n) }))}, t)
		}
	}
	if robust < len(d.List) {
		out = append(out, doc.Line(""), doc.Line("A list of plants that are right in every case: hollowbed choose --robust."))
	}
	return out
}

func sureLine(w io.Writer, row []string) {
	fmt.Fprintf(w, "%6s  %s %s\n", row[1], pad(row[0], 38), row[2])
}
