package report

import (
	"fmt"
	"strings"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// ScreenLine is a line of the planting list in two lines of the page, with why on demand.
type ScreenLine struct {
	ID    string   `json:"id"`
	Zone  string   `json:"zone"`
	Name  string   `json:"name"`
	Latin string   `json:"latin"`
	Count int      `json:"count"`
	Facts string   `json:"facts"`
	Risk  string   `json:"risk"`
	Level string   `json:"level"`
	Mind  []string `json:"mind"` // whom it harms, and how it runs away
	Why   []string `json:"why"`
}

// NewScreenLines words the lines of a list.
func NewScreenLines(d Choose, p *plants.Planting) []ScreenLine {
	out := []ScreenLine{}
	for i, l := range d.Lines {
		plant := p.Lines[i].Plant
		facts := looksOf(d.Garden.Units, plant.HeightCM, plant.FlowerFrom, plant.FlowerTo, plant.FlowerColour)
		risk := riskCell(p.Lines[i].Verdict, p)
		out = append(out, ScreenLine{
			ID: l.ID, Zone: l.Zone, Name: Plain(named(&plant)), Latin: Plain(latin(&plant)), Count: l.Count, Facts: Plain(facts),
			Risk: risk.Words + " a year", Level: risk.Level, Mind: mind(plant),
			Why: []string{fmt.Sprintf("%s apart; price each %s", d.Garden.Units.Length(p.Lines[i].SpacingCM/100), priced(l.Price)), Plain(l.Reason + sunMark(l) + sureMark(l)), fmt.Sprintf("years past a limit at its hardest place: %d of %d", l.PastYears, l.Years)},
		})
	}
	return out
}

// looksOf says how high a plant grows, and when and how it flowers.
func looksOf(u zones.Units, heightCM float64, from, to int, colours []string) string {
	high, flower := "height not known", "flowers not known"
	if heightCM > 0 {
		high = u.Length(heightCM/100) + " high"
	}
	if from > 0 {
		flower = strings.TrimSpace(listed(colours) + " " + Months(monthsOf(from, to)))
	}
	return high + "; " + flower
}

// mind says in few words whom a plant harms, or that it is not known, and how it can run
// away.
func mind(p catalogue.Plant) []string {
	out := []string{}
	who, open := hurts(p)
	if len(who) > 0 {
		out = append(out, "harms "+listed(who))
	}
	if len(open) > 0 {
		out = append(out, "not known whether it harms "+strings.Join(open, " or "))
	}
	if p.Wild != nil && p.Wild.Guessed {
		out = append(out, ofItsGenus)
	}
	switch p.Spreads {
	case "runs":
		out = append(out, "spreads by runners")
	case "seeds":
		out = append(out, "seeds itself")
	}
	return out
}
