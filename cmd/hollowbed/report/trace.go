package report

import (
	"fmt"
	"io"

	"hollowbed/cmd/hollowbed/doc"

	"hollowbed/zones"
	"hollowbed/zones/water"
)

// Trace is a spell walked day by day, for the command zones --explain.
type Trace struct {
	Garden Garden     `json:"garden"`
	Zone   string     `json:"zone" schema:"one of bottom|slope|rim"`
	Spells []traceRun `json:"spells" schema:"len 2..2"`
}

// traceRun is one spell with its days.
type traceRun struct {
	Kind  string     `json:"kind" schema:"one of wet|dry"` // "wet" or "dry"
	Spell *spell     `json:"spell"`
	Place string     `json:"place"`
	How   []string   `json:"how"`
	Days  []traceDay `json:"days" schema:"or null"`
}

// traceDay is one day of a spell in one band.
type traceDay struct {
	Date        string `json:"date" schema:"dated"`
	RainMM      Number `json:"rain_mm" schema:"known; 0.."`
	InflowM3    Number `json:"inflow_m3" schema:"known; 0.."`
	IntakeMM    Number `json:"intake_mm" schema:"known; 0.."`
	SeepedMM    Number `json:"seeped_mm" schema:"known; 0.."`
	DemandMM    Number `json:"demand_mm" schema:"known; 0.."`
	UsedMM      Number `json:"used_mm" schema:"known; 0.."`
	HeldMM      Number `json:"held_mm" schema:"known; 0.."`
	DepletionMM Number `json:"depletion_mm" schema:"known; 0.."`
	Ks          Number `json:"ks" schema:"known; 0..1"`
	PondM3      Number `json:"pond_m3" schema:"known; 0.."`
	DeepestMM   Number `json:"deepest_mm" schema:"known; 0.."`
	WetH        int    `json:"wet_h"`
	MissingH    int    `json:"missing_h"`
}

// NewTraceRun words one spell.
func NewTraceRun(kind string, e *zones.Exposure, band int, s zones.Spell, traces []water.DayTrace) traceRun {
	b := e.Bands[band]
	u := e.Lot.Garden.Units
	run := traceRun{Kind: kind, Spell: newSpell(s, "2006-01-02T15:04")}
	run.Place = fmt.Sprintf("%s, ground %s to %s from the spill", b.Zone, level(u, b.FootMM), level(u, b.TopMM))
	for _, t := range traces {
		run.Days = append(run.Days, traceDay{
			Date: date(e.Lot.Record.Start.AddDate(0, 0, t.Day)), RainMM: Number(t.RainMM), InflowM3: Number(t.InflowM3),
			IntakeMM: Number(t.IntakeMM), SeepedMM: Number(t.SeepedMM), DemandMM: Number(t.DemandMM), UsedMM: Number(t.UsedMM),
			HeldMM: Number(t.HeldMM), DepletionMM: Number(t.DepletionMM), Ks: Number(t.Ks), PondM3: Number(t.PondM3),
			DeepestMM: Number(t.DeepestMM), WetH: t.WetHours, MissingH: t.Missing,
		})
	}
	run.How = e.Lot.How()
	return run
}

// Text prints the days in mm, the unit in which they can be added up.
func (d Trace) Text(w io.Writer) {
	out := opening(d.Garden, "Day by day in the "+d.Zone, nil)
	for _, run := range d.Spells {
		out = append(out, doc.Line(""))
		if run.Spell == nil {
			out = append(out, doc.Line(fmt.Sprintf("No %s spell in the whole record.", run.Kind)))
			continue
		}
		days := doc.Table{Columns: []doc.Column{{Head: "day"}}}
		for _, head := range []string{"rain mm", "inflow m3", "taken in mm", "seeped mm", "Kc ET0 mm", "used mm", "held mm", "depletion mm", "Ks at the end", "pond m3", "wet h"} {
			days.Columns = append(days.Columns, doc.Column{Head: head, Right: true})
		}
		for _, t := range run.Days {
			days.Rows = append(days.Rows, doc.Cells(t.Date, f1(t.RainMM), f3(t.InflowM3), f1(t.IntakeMM), f1(t.SeepedMM), f1(t.DemandMM), f1(t.UsedMM),
				f1(t.HeldMM), f1(t.DepletionMM), f3(t.Ks), f3(t.PondM3), fmt.Sprint(t.WetH)))
		}
		out = append(out, doc.Line(fmt.Sprintf("Longest %s spell: %s to %s, %d h (%.1f days)%s; in mm and m3, so that it adds up",
			run.Kind, run.Spell.From, run.Spell.To, run.Spell.Hours, float64(run.Spell.Hours)/24, gapMark(run.Spell.TouchesGap))),
			doc.Line("Place: "+run.Place), days, doc.List{Items: run.How})
	}
	doc.Terminal(w, out)
}

func f3(n Number) string { return fmt.Sprintf("%.3f", float64(n)) }

func f1(n Number) string { return fmt.Sprintf("%.1f", float64(n)) }
