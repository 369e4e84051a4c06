package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
)

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
