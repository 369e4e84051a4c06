package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/season"
)

// moveCautions go with every plan.
func moveCautions() []string {
	return []string{
		"Before you dig, have buried pipes and cables marked; keep clear of the inlet pipe and of foundations.",
		"Causes are chances, not findings: look for what is named before you move a plant that matters to you.",
		"Some plants irritate skin or are poisonous: wear gloves, and see the plant table before you lift one.",
	}
}

// species is the name of a species; its id where the plant table lacks it.
func (in MoveIn) species(id string) string {
	if p, ok := in.Plants.ByID(id); ok {
		return p.VernacularName
	}
	return id
}

func (in MoveIn) lookFor(c season.Diagnosis) (season.Row, bool) {
	if c.Next == nil {
		return season.Row{}, false
	}
	return in.Signs.Of(c.Next.Sign)
}

// byChance lists the causes, likeliest first.
func byChance(c season.Diagnosis) []season.Cause {
	all := season.Causes()
	out := slices.Clone(all[:])
	slices.SortStableFunc(out, func(a, b season.Cause) int { return cmp.Compare(c.Of(b), c.Of(a)) })
	return out
}

// evidence words one piece of evidence of a case.
func (d *Move) evidence(c season.Case, e season.Evidence) string {
	label := func() string {
		if row, ok := d.in.Signs.Of(e.Sign); ok {
			return row.Label
		}
		return string(e.Sign)
	}
	switch e.Kind {
	case season.SignSeen:
		return label()
	case season.SignAbsent:
		return "not " + label()
	case season.VigourSeen:
		return fmt.Sprintf("vigour %d", e.Vigour)
	case season.Age:
		if math.IsNaN(e.Months) {
			return "nobody knows when it was planted"
		}
		months := int(math.Round(e.Months))
		if months < 1 {
			return "just planted"
		}
		return fmt.Sprintf("%s after planting", plural(months, "month", "months"))
	}
	switch e.Limit {
	case fit.TooDim, fit.TooSun:
		word := "short of what it wants"
		if e.Limit == fit.TooSun {
			word = "more than it bears"
		}
		if math.IsNaN(e.SunOffH) {
			return "its sun is not known"
		}
		if e.SunOffH <= 0 {
			return "sun within its range"
		}
		return fmt.Sprintf("%.2g h of sun a day %s", e.SunOffH, word)
	}
	return Reason(fit.Reason{Limit: e.Limit, Found: e.Dose.Found, Allowed: e.Dose.Allowed, Year: e.Dose.When.Year(), When: e.Dose.When}, d.Garden.Units) + d.borne(c.Species, e) + d.air(c, e)
}

// air says how long a plant was short of air, where that is longer than it was wet.
func (d *Move) air(c season.Case, e season.Evidence) string {
	if e.Limit != fit.TooWet || c.AirPoorH <= e.Dose.Found {
		return ""
	}
	return "; short of air " + d.Garden.Units.Duration(c.AirPoorH)
}

// borne says what the figure that a plant bears is: that of the plant table, or
// less for its age; and that the notes say less still, if they do.
func (d *Move) borne(species string, e season.Evidence) string {
	words := " by the plant table"
	if p, ok := d.in.Plants.ByID(species); ok && !(math.Abs(e.Dose.Allowed-tableLimit(p, e.Limit)) <= 0.005*math.Abs(e.Dose.Allowed)) {
		words = " at its age"
	}
	for _, l := range d.in.Limits {
		if l.ID == species && l.Limit == e.Limit && l.Limit != fit.TooCold && l.Moved() && l.Learned < l.Catalogue && e.Dose.Found < e.Dose.Allowed {
			words += "; your notes suggest less"
		}
	}
	return words
}

// tableLimit is the figure of the plant table for a limit of the weather.
func tableLimit(p catalogue.Plant, l fit.Limit) float64 {
	switch l {
	case fit.TooWet:
		return p.WetH
	case fit.TooDeep:
		return p.PondMM
	case fit.TooDry:
		return p.DryD
	}
	return p.LowestC
}

// second words the second choice.
func (d *Move) second(stake string, s plants.SecondBest) string {
	switch {
	case !s.Known:
		return ""
	case s.GiveUp:
		return "replace it"
	case !s.To.Free && season.SameStake(s.To.Stake, stake):
		return "leave it where it is"
	}
	return d.to(s.To)
}

// to words a place to move to.
func (d *Move) to(p plants.MovePlace) string {
	u := d.Garden.Units
	at := d.place(p)
	where := fmt.Sprintf("%s from A and %s from B", u.Length(float64(at.FromAM)), u.Length(float64(at.FromBM)))
	switch {
	case p.Stake != "" && !p.Free:
		return fmt.Sprintf("the place of %s in the %s", p.Stake, p.Zone)
	case p.Stake != "":
		return fmt.Sprintf("the place where %s stood, in the %s, %s", p.Stake, p.Zone, where)
	}
	return fmt.Sprintf("free ground in the %s, %s", p.Zone, where)
}

// chances words the likeliest causes: "too dry 84 %, other 8 %".
func chances(c season.Diagnosis) string {
	if c.Rests {
		return "at rest: how it looks says nothing until it grows"
	}
	var parts []string
	for _, cause := range byChance(c) {
		if cause == season.Other && c.Accident != "" {
			parts = append(parts, fmt.Sprintf("%s %.0f %%", accidentWords(c.Accident), 100*c.Of(cause)))
			continue
		}
		if p := c.Of(cause); cause != season.Fine && p >= 0.1 && len(parts) < 3 {
			parts = append(parts, fmt.Sprintf("%s %.0f %%", cause, 100*p))
		}
	}
	if len(parts) == 0 {
		return "no trouble to be seen"
	}
	return strings.Join(parts, ", ") + alsoWords(c)
}

// alsoWords tells of a second trouble.
func alsoWords(c season.Diagnosis) string {
	switch c.Also {
	case "":
		return ""
	case season.Other:
		return "; the signs are of two troubles, something that happened to it as well"
	}
	return "; the signs are of two troubles, " + string(c.Also) + " as well"
}

// why words a diagnosis: causes, then the evidence for the likeliest.
func (d *Move) why(c season.Diagnosis) string {
	s := chances(c)
	var parts []string
	for _, e := range c.Evidence {
		parts = append(parts, d.evidence(c.Case, e))
	}
	if len(parts) > 0 && c.Top != season.Fine && !c.Rests {
		s += ": " + strings.Join(parts, "; ")
	}
	if c.Case.Ordinary {
		s += " (this season's weather is not known: judged by an ordinary year)"
	}
	return s + "."
}

// manyAlike is from how many new plants of one species on variety is at stake.
const manyAlike = 4

// monotony tells where many new plants would be of one species: each is chosen
// for its own place, without the wishes for variety that a planting list keeps.
func monotony(all []plants.NewPlant) []string {
	count := map[string]int{}
	var notes []string
	for _, n := range all {
		if count[n.Plant.ID]++; count[n.Plant.ID] == manyAlike {
			notes = append(notes, fmt.Sprintf("many of the new plants would be %s, each the best for its own place: for variety take others of the list too (hollowbed choose --alternatives)", n.Plant.VernacularName))
		}
	}
	return notes
}
