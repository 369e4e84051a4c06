package report

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hollowbed/plants/many"
	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

// BatchLine is one line of the command batch: what came of one garden. It
// begins with the number of the row, so that lines of several machines can be
// put in order again.
type BatchLine struct {
	Row      int          `json:"row" schema:"1.." about:"counts the rows of the table"`
	ID       string       `json:"id"`
	Digest   string       `json:"digest" schema:"sha256" about:"SHA-256 of all that the line is made from: row, garden file, plants, weather record and --what"`                    // of all that the line is made from
	Program  string       `json:"program" about:"the build that made the line, as hollowbed --version names it; empty where a build from changed sources cannot read its own file"` // the build that made it
	Error    []string     `json:"error,omitempty" schema:"some; each some"`
	Basin    *batchBasin  `json:"basin,omitempty"`
	Zones    []batchZone  `json:"zones,omitempty"`
	Planting *batchChoose `json:"choose,omitempty"`
	Notes    []string     `json:"notes,omitempty" schema:"some; each some" about:"warnings of the weather record and what it lacks, notes on the planting list, and what to mind of its plants; left out where there is nothing to say"` // on record and list, and what to mind of the plants
}

// batchBasin is the bed in short.
type batchBasin struct {
	BedAreaM2     Number       `json:"bed_area_m2" schema:"known; 0.."`
	SpillVolumeM3 Number       `json:"spill_volume_m3" schema:"known; 0.."`
	DrainHours    Number       `json:"drain_hours"`
	CatchmentM2   Number       `json:"catchment_m2" schema:"known; 0.."`
	Captured      Number       `json:"captured_fraction"`
	OK            bool         `json:"ok" about:"no check that could be made fails"` // no check that could be made fails
	Checks        []BatchCheck `json:"checks"`
}

// BatchCheck is one check of the bed.
type BatchCheck struct {
	Name   string `json:"name"`
	Known  bool   `json:"known"`
	OK     bool   `json:"ok"`
	Found  string `json:"found"`
	Wanted string `json:"wanted"`
}

// batchZone is a zone in short: spells of one year in ten, wet at its wettest
// place and dry at its driest.
type batchZone struct {
	Zone      string `json:"zone" schema:"one of bottom|slope|rim"`
	AreaM2    Number `json:"area_m2" schema:"known; 0.."`
	SunH      Number `json:"sun_h"`
	WetH      Number `json:"wet_one_year_in_ten_h" schema:"known; 0.."`
	DeepestMM Number `json:"deepest_mm" schema:"known; 0.."`
	DryD      Number `json:"dry_one_year_in_ten_d" schema:"known; 0.."`
	Years     int    `json:"years" schema:"1.."`
}

// batchChoose is the planting list in short.
type batchChoose struct {
	Plants    int         `json:"plants"`
	Species   int         `json:"species"`
	Lines     []BatchItem `json:"lines"`
	Empty     []string    `json:"empty" schema:"each one of bottom|slope|rim"` // zones where nothing would live
	Objective Number      `json:"objective"`
	Gap       Number      `json:"gap"`
	Cost      Number      `json:"cost"`
}

// BatchItem is one species in one zone.
type BatchItem struct {
	Zone       string `json:"zone" schema:"one of bottom|slope|rim"`
	ID         string `json:"id"`
	Count      int    `json:"count" schema:"1.."`
	YearlyRisk Number `json:"yearly_risk" schema:"known; 0..1"`
}

// NewBatchLine words an answer of the build that program names.
func NewBatchLine(a many.Answer, program string) BatchLine {
	line := BatchLine{Row: a.Row.Number, ID: a.Row.ID, Digest: a.Digest, Program: program}
	if a.Err != nil {
		line.Error = batchFaults(a)
		return line
	}
	p := a.Performs
	line.Basin = &batchBasin{
		BedAreaM2: Number(a.Lot.Bed.Spec().Outline.AreaM2()), SpillVolumeM3: Number(a.Lot.Bed.SpillVolumeM3()),
		DrainHours: Number(p.DrainH), CatchmentM2: Number(a.Lot.CatchM2), Captured: Number(p.Captured), OK: true,
	}
	for _, c := range a.Lot.Checks(p) {
		line.Basin.OK = line.Basin.OK && (c.OK || !c.Known)
		line.Basin.Checks = append(line.Basin.Checks, BatchCheck{Name: c.Name, Known: c.Known, OK: c.OK, Found: c.Found, Wanted: c.Wanted})
	}
	if e := a.Exposure; e != nil {
		for _, z := range e.Zones {
			wet, dry := e.Bands[z.Wettest], e.Bands[z.Driest]
			line.Zones = append(line.Zones, batchZone{
				Zone: z.Zone, AreaM2: Number(z.AreaM2), SunH: Number(z.SunH), WetH: Number(wet.WetOneInTenH), DeepestMM: Number(wet.DeepestMM),
				DryD: Number(dry.DryOneInTenD), Years: len(e.Whole),
			})
		}
	}
	if r := a.Lot.Record; r != nil {
		line.Notes = batchRecordNotes(r)
	}
	if a.Planting != nil {
		line.Planting = newBatchChoose(a)
		line.Notes = slices.Concat(line.Notes, a.Planting.Notes, a.Planting.Asides, plantCautions(a.Planting))
	}
	return line
}

// batchRecordNotes are the climate that made the weather and its doubts, the warnings of a record and what it lacks; how
// it was read is the same in row after row.
func batchRecordNotes(r *site.Record) []string {
	var notes []string
	if r.Climate != "" {
		notes = append([]string{r.Climate}, r.Doubts...)
	}
	for _, n := range r.Notes {
		if strings.HasPrefix(n, "warning: ") {
			notes = append(notes, n)
		}
	}
	if h := r.MissingHours(); h > 0 {
		notes = append(notes, fmt.Sprintf("%s of %d missing from the record; spells end there", plural(h, "hour", "hours"), len(r.Missing)))
	}
	return notes
}

func newBatchChoose(a many.Answer) *batchChoose {
	p := a.Planting
	out := &batchChoose{Lines: []BatchItem{}, Empty: []string{}, Objective: Number(p.Objective), Gap: Number(p.Gap), Cost: Number(p.Cost)}
	species := map[string]bool{}
	for _, l := range p.Lines {
		species[l.Plant.ID] = true
		out.Plants += l.Count
		out.Lines = append(out.Lines, BatchItem{Zone: l.Zone, ID: l.Plant.ID, Count: l.Count, YearlyRisk: Number(l.Fit.YearlyRisk)})
	}
	out.Species = len(species)
	for _, z := range p.Zones {
		if z.Refusal != nil {
			out.Empty = append(out.Empty, z.Zone)
		}
	}
	return out
}

// maxBatchFaults is how many faults of one row are told.
const maxBatchFaults = 20

// batchFaults words what is wrong with a row, each with its place in the
// table. A fault that shows in another file says which row brought it up.
func batchFaults(a many.Answer) []string {
	place := fmt.Sprintf("%s:%d: ", a.Row.File, a.Row.Line)
	var faults table.Faults
	var out []string
	if errors.As(a.Err, &faults) {
		for _, f := range faults {
			text := f.Error()
			if f.File != a.Row.File {
				text = place + text
			}
			out = append(out, Plain(text))
		}
	} else {
		for text := range strings.SplitSeq(a.Err.Error(), "\n") {
			out = append(out, Plain(place+text))
		}
	}
	if more := len(out) - maxBatchFaults; more > 0 {
		out = append(out[:maxBatchFaults], fmt.Sprintf("%sand %d more", place, more))
	}
	return out
}

// Gardens counts gardens in words.
func Gardens(n int) string { return plural(n, "garden", "gardens") }
