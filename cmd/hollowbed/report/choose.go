package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/basin"
)

// Choose is the document of the command choose.
type Choose struct {
	Garden      Garden     `json:"garden"`
	Catalogue   string     `json:"catalogue"`
	Record      Record     `json:"record"`
	Lines       []Line     `json:"lines"`
	Objective   Number     `json:"objective"`
	Bound       Number     `json:"bound"`
	Gap         Number     `json:"gap"`
	Stopped     string     `json:"stopped"`
	BloomMonths []int      `json:"bloom_months"`
	BloomWanted []int      `json:"bloom_months_wanted"`
	Cost        Number     `json:"cost"`
	Zones       []Fill     `json:"zones"`
	BedFirst    []string   `json:"bed_first"` // checks of the bed that fail
	Labels      []Disagree `json:"labels"`
	Notes       []string   `json:"notes"`
	Cautions    []string   `json:"cautions"`
	Doubt       *Doubt     `json:"doubt,omitempty"` // with --robust
}

// Line is one species in one zone.
type Line struct {
	Zone           string        `json:"zone"`
	ID             string        `json:"id"`
	ScientificName string        `json:"scientificName"`
	VernacularName string        `json:"vernacularName"`
	Count          int           `json:"count"`
	SpacingCM      Number        `json:"spacing_cm"`
	AreaM2         Number        `json:"area_m2"`
	YearlyRisk     Number        `json:"yearly_risk"`
	SunLoss        Number        `json:"sun_loss"`
	PastYears      int           `json:"past_years"`
	Years          int           `json:"years"`
	LimitedBy      string        `json:"limited_by"`
	Reason         string        `json:"reason"`
	Assumed        []string      `json:"assumed"`
	Unknown        []string      `json:"unknown"`
	Price          Number        `json:"price"`
	Alternatives   []Alternative `json:"alternatives"`
	Sure           *LineSure     `json:"sure,omitempty"` // with --robust
}

// Alternative could stand in a line's place.
type Alternative struct {
	ID              string `json:"id"`
	VernacularName  string `json:"vernacularName"`
	Count           int    `json:"count"`
	SpacingCM       Number `json:"spacing_cm"`
	YearlyRisk      Number `json:"yearly_risk"`
	Assumed         bool   `json:"assumed"`
	ObjectiveChange Number `json:"objective_change"`
	Reason          string `json:"reason"`
}

// Fill says how far a zone is planted, and if it is not, why.
type Fill struct {
	Zone      string   `json:"zone"`
	AreaM2    Number   `json:"area_m2"`
	PlantedM2 Number   `json:"planted_m2"`
	Offered   int      `json:"offered"`
	Bare      string   `json:"bare"` // why ground stays bare, "" if none does
	Refused   []string `json:"refused"`
}

// Disagree is a zone tag that the computation does not bear out.
type Disagree struct {
	ID             string `json:"id"`
	VernacularName string `json:"vernacularName"`
	Zone           string `json:"zone"`
	Tagged         bool   `json:"tagged"`
	Lives          bool   `json:"lives"`
	YearlyRisk     Number `json:"yearly_risk"`
	Reason         string `json:"reason"`
}

// NewChoose makes the document of a planting list.
// checks are those of the bed; the ones that fail are told before any plant.
func NewChoose(g Garden, catalogueName string, p *plants.Planting, checks []basin.Check) Choose {
	doc := Choose{
		Garden: g, Catalogue: catalogueName, Record: NewRecord(p.Exposure.Record), Lines: []Line{},
		Objective: Number(p.Objective), Bound: Number(p.Bound), Gap: Number(p.Gap), Stopped: p.Stopped,
		BloomMonths: orEmpty(p.BloomMonths), BloomWanted: orEmpty(p.BloomWanted), Cost: Number(p.Cost),
		Doubt: listDoubt(p), BedFirst: []string{}, Labels: []Disagree{}, Notes: orEmpty(p.Notes), Cautions: plantCautions(p),
	}
	for _, c := range checks {
		if c.Known && !c.OK {
			doc.BedFirst = append(doc.BedFirst, fmt.Sprintf("%s: found %s, wanted %s", c.Name, c.Found, c.Wanted))
		}
	}
	for _, l := range p.Lines {
		line := newLine(g, l)
		line.Sure = newSure(p.Sure, l.Verdict)
		doc.Lines = append(doc.Lines, line)
	}
	for _, z := range p.Zones {
		doc.Zones = append(doc.Zones, Fill{
			Zone: z.Zone, AreaM2: Number(z.AreaM2), PlantedM2: Number(z.PlantedM2), Offered: z.Offered, Bare: z.Bare, Refused: refusal(g, z.Refusal),
		})
	}
	for _, v := range p.Verdicts {
		if v.Disagrees() {
			doc.Labels = append(doc.Labels, Disagree{
				ID: v.Plant.ID, VernacularName: v.Plant.VernacularName, Zone: v.Zone, Tagged: v.Tagged, Lives: v.Lives(),
				YearlyRisk: Number(v.Fit.YearlyRisk), Reason: Reason(v.Fit.Reason, g.Units),
			})
		}
	}
	return doc
}

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

func newLine(g Garden, l plants.Line) Line {
	out := Line{
		Zone: l.Zone, ID: l.Plant.ID, ScientificName: l.Plant.ScientificName, VernacularName: l.Plant.VernacularName,
		Count: l.Count, SpacingCM: Number(l.SpacingCM), AreaM2: Number(l.AreaM2), YearlyRisk: Number(l.Fit.YearlyRisk), SunLoss: Number(l.Fit.SunLoss),
		PastYears: l.Fit.PastYears, Years: l.Fit.Years, LimitedBy: string(l.Fit.Reason.Limit), Reason: Reason(l.Fit.Reason, g.Units) + tolerated(l.Fit),
		Assumed: orEmpty(l.Fit.Assumed), Unknown: orEmpty(l.Fit.Unknown), Price: Number(l.Plant.Price), Alternatives: []Alternative{},
	}
	for _, a := range l.Next {
		out.Alternatives = append(out.Alternatives, Alternative{
			ID: a.Verdict.Plant.ID, VernacularName: a.Verdict.Plant.VernacularName, Count: a.Count,
			SpacingCM: Number(a.Verdict.Plant.SpreadCM), Assumed: len(a.Verdict.Fit.Assumed) > 0,
			YearlyRisk: Number(a.Verdict.Fit.YearlyRisk), ObjectiveChange: Number(a.Change), Reason: Reason(a.Verdict.Fit.Reason, g.Units),
		})
	}
	return out
}

// plantCautions names the plants on the list that can hurt or run away.
func plantCautions(p *plants.Planting) []string {
	out := []string{}
	said := map[string]bool{}
	for _, l := range p.Lines {
		if said[l.Plant.ID] {
			continue
		}
		said[l.Plant.ID] = true
		name := l.Plant.VernacularName + ": "
		for _, harm := range harms(l.Plant) {
			out = append(out, name+harm)
		}
		for _, c := range l.Fit.Unknown {
			if strings.HasSuffix(c, fit.OfThePlace) {
				continue // told once, for all
			}
			out = append(out, name+"the catalogue does not state "+c+", so that limit was not judged.")
		}
	}
	return out
}

// harms says whom a plant can hurt and how it can run away.
func harms(p catalogue.Plant) []string {
	out := []string{}
	if who := slices.DeleteFunc(slices.Clone(p.Toxic), func(s string) bool { return s == "none" }); len(who) > 0 {
		out = append(out, "harmful to "+strings.Join(who, " and ")+". Plant it out of reach and wear gloves.")
	}
	switch p.Spreads {
	case "runs":
		out = append(out, "spreads by runners and can take over. Check local lists of invasive plants, and cut it back every year.")
	case "seeds":
		out = append(out, "seeds itself freely. Check local lists of invasive plants, and pull seedlings.")
	}
	return out
}

// Text prints the planting list: what to plant, zone by zone, and why.
func (d Choose) Text(w io.Writer) {
	d.Garden.title(w, "Planting list")
	d.Record.line(w)
	d.Record.figures(w, d.Garden.Units)
	fmt.Fprintf(w, "Plants from %s\n\n", Plain(d.Catalogue))
	if len(d.BedFirst) > 0 {
		fmt.Fprintln(w, "Mend the bed first (hollowbed basin --size helps):")
		bullets(w, d.BedFirst)
		fmt.Fprintln(w)
	}
	d.advice(w)
	for _, z := range d.Zones {
		d.zoneText(w, z)
	}
	if len(d.Lines) > 0 {
		fmt.Fprintln(w)
		wrap(w, "", "", "Risk: the chance that a year passes a limit, over the whole zone; in brackets, the years on record that did so at its hardest place. Below each plant stands the limit it came closest to. \"Like 30 days without rain\": as bad for its roots as that on garden loam in midsummer, which is how a plant table states what is borne; rain that only half helps makes a longer spell count for less.")
	}
	fmt.Fprintln(w)
	wrap(w, "", "  ", "In flower: "+Months(d.BloomMonths)+d.missingBloom()+".")
	if len(d.Lines) > 0 {
		wrap(w, "", "  ", fmt.Sprintf("How good: at most %s could still be gained (this list reaches %.4f, no list can pass %.4f; search ended: %s).",
			gapText(float64(d.Gap)), float64(d.Objective), float64(d.Bound), d.Stopped))
	}
	if len(d.Notes) > 0 {
		fmt.Fprintln(w, "\nNotes:")
		bullets(w, d.Notes)
	}
	d.labelText(w)
	if len(d.Cautions) > 0 {
		fmt.Fprintln(w, "\nMind:")
		bullets(w, d.Cautions)
	}
	fmt.Fprintln(w, "\nFirst year: water in dry spells; young plants bear about half.\nWhy one plant: --why NAME. Next best: --alternatives. To order: --csv.")
}

func gapText(gap float64) string { return fmt.Sprintf("%.2f %%", 100*gap) }

func (d Choose) advice(w io.Writer) {
	count, species := 0, map[string]bool{}
	for _, l := range d.Lines {
		count += l.Count
		species[l.ID] = true
	}
	if count == 0 {
		wrap(w, "", "", "Nothing can be planted here as it stands. Each zone below says why, and what would help.")
		return
	}
	cost := ""
	if float64(d.Cost) > 0 {
		cost = fmt.Sprintf(", %.2f in all in the plant table's currency", float64(d.Cost))
	}
	wrap(w, "", "", fmt.Sprintf("Plant %s of %d species%s.", plural(count, "plant", "plants"), len(species), cost))
	if d.Doubt != nil {
		wrap(w, "", "", d.Doubt.preferred(d.Garden.Units, d.Record.Years))
	}
	var empty []string
	for _, z := range d.Zones {
		if len(z.Refused) > 0 {
			empty = append(empty, z.Zone)
		}
	}
	if len(empty) > 0 {
		wrap(w, "", "", "Leave "+join(empty)+" empty for now: nothing in the catalogue would live there (below).")
	}
}

func (d Choose) zoneText(w io.Writer, z Fill) {
	fmt.Fprintln(w)
	wrap(w, strings.ToUpper(z.Zone)+", ", "  ", fillWords(z, d.Garden.Units))
	if len(z.Refused) > 0 {
		bullets(w, z.Refused)
		return
	}
	if z.Bare != "" && float64(z.PlantedM2) < 0.95*float64(z.AreaM2) {
		fmt.Fprintf(w, "  (the rest stays bare: %s)\n", z.Bare)
	}
	for _, l := range d.Lines {
		if l.Zone == z.Zone {
			l.text(w, d.Garden)
		}
	}
}

// text prints a line in two rows: what to plant, and why it would live.
func (l Line) text(w io.Writer, g Garden) {
	plantRow(w, l.Count, named(l.VernacularName, l.ID), g.Units.Length(float64(l.SpacingCM)/100),
		fmt.Sprintf("%s a year (hardest place: %d of %d)", risk(float64(l.YearlyRisk), len(l.Assumed) > 0), l.PastYears, l.Years))
	wrap(w, "        ", "        ", Plain(l.Reason+sunMark(l)+sureMark(l)))
}

func plantRow(w io.Writer, count int, name, apart, risk string) {
	fmt.Fprintf(w, "%6d  %s %s risk %s\n", count, pad(Plain(name), 38), pad(apart+" apart", 15), risk)
}

// named is a plant's name, with its id where that is not the name itself.
func named(name, id string) string {
	if catalogue.IDFor(name) == id {
		return name
	}
	return name + " (" + id + ")"
}

// pad fills a text with blanks to a width in terminal cells.
func pad(s string, width int) string { return text.Pad(s, width, ' ') }

// tolerated says that a plant is listed though its sun is a little off.
func tolerated(f fit.Fit) string {
	if f.Reason.Limit != fit.TooDim && f.Reason.Limit != fit.TooSun {
		return ""
	}
	return fmt.Sprintf("; close enough, at a loss of %.0f %% a year", 100*f.SunLoss)
}

func sunMark(l Line) string {
	if float64(l.SunLoss) > 0 && l.LimitedBy != string(fit.TooDim) && l.LimitedBy != string(fit.TooSun) {
		return fmt.Sprintf("; sun a little off (%.0f %% loss)", 100*float64(l.SunLoss))
	}
	return ""
}

func sureMark(l Line) string {
	if l.Sure == nil {
		return ""
	}
	return "; " + l.Sure.words()
}

func (d Choose) missingBloom() string {
	var missing []int
	for _, m := range d.BloomWanted {
		if !slices.Contains(d.BloomMonths, m) {
			missing = append(missing, m)
		}
	}
	if len(missing) == 0 {
		return ""
	}
	return "; wanted but nothing in " + Months(missing)
}

// labelsShown is how many labels that do not hold are printed.
const labelsShown = 3

func (d Choose) labelText(w io.Writer) {
	var wrong []Disagree
	untagged := 0
	for _, l := range d.Labels {
		if l.Tagged {
			wrong = append(wrong, l)
		} else {
			untagged++
		}
	}
	if len(wrong)+untagged == 0 {
		return
	}
	fmt.Fprintln(w)
	wrap(w, "Labels: ", "  ", fmt.Sprintf("here %s not hold (the plant would pass its limits in a zone it is sold for), and %s live in a zone that its label leaves out.",
		plural(len(wrong), "label does", "labels do"), plural(untagged, "plant would", "plants would")))
	for i, l := range wrong {
		if i == labelsShown {
			fmt.Fprintf(w, "  ... and %d more: --json, or --why NAME\n", len(wrong)-labelsShown)
			break
		}
		wrap(w, "  - ", "    ", Plain(fmt.Sprintf("%s, sold for the %s: %s a year; %s", l.VernacularName, l.Zone, risk(float64(l.YearlyRisk), false), l.Reason)))
	}
}

// alternativesShown is how many are printed for a line; --json has all.
const alternativesShown = 3

// TextAlternatives prints the next best species for each line.
func (d Choose) TextAlternatives(w io.Writer) {
	d.Garden.title(w, "Next best for each line")
	d.Record.line(w)
	for _, l := range d.Lines {
		fmt.Fprintf(w, "\n%s: %d %s, risk %s a year\n", strings.ToUpper(l.Zone), l.Count, Plain(named(l.VernacularName, l.ID)), risk(float64(l.YearlyRisk), len(l.Assumed) > 0))
		if len(l.Alternatives) == 0 {
			fmt.Fprintln(w, "  none that keeps within the wishes")
			continue
		}
		for _, a := range l.Alternatives[:min(alternativesShown, len(l.Alternatives))] {
			plantRow(w, a.Count, named(a.VernacularName, a.ID), d.Garden.Units.Length(float64(a.SpacingCM)/100), risk(float64(a.YearlyRisk), a.Assumed)+" a year")
			wrap(w, "        ", "        ", Plain(fmt.Sprintf("%s; the list changes by %+.4f", a.Reason, float64(a.ObjectiveChange))))
		}
	}
}

// CSV writes the order list, one line a species, with counts over all zones.
func (d Choose) CSV(w io.Writer) error {
	rows := [][]string{{"id", "vernacularName", "scientificName", "count", "zones", "spacing_cm", "price", "cost"}}
	at := map[string]int{}
	counts := map[string]int{}
	for _, l := range d.Lines {
		counts[l.ID] += l.Count
		if i, ok := at[l.ID]; ok {
			rows[i][4] += "|" + l.Zone
			continue
		}
		at[l.ID] = len(rows)
		rows = append(rows, []string{l.ID, l.VernacularName, l.ScientificName, "", l.Zone, fmt.Sprintf("%g", float64(l.SpacingCM)), money(l.Price), ""})
	}
	for _, row := range rows[1:] {
		row[3] = fmt.Sprint(counts[row[0]])
	}
	for _, l := range d.Lines {
		if !math.IsNaN(float64(l.Price)) {
			rows[at[l.ID]][7] = fmt.Sprintf("%.2f", float64(counts[l.ID])*float64(l.Price))
		}
	}
	return writeRows(w, rows)
}

func money(n Number) string {
	if math.IsNaN(float64(n)) {
		return ""
	}
	return fmt.Sprintf("%.2f", float64(n))
}
