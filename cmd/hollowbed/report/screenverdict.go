package report

import (
	"fmt"
	"math"
	"slices"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/zones"
)

// ScreenVerdict is what the page says first: whether the bed does its work, a few
// figures, and what to do next.
type ScreenVerdict struct {
	Words string       `json:"words"`
	Look  string       `json:"look"` // of the checks: ok, fails or unknown
	Facts []screenFact `json:"facts"`
	Next  string       `json:"next"`
	Step  string       `json:"step"` // where that is done: a sheet of the page
}

// screenFact is a figure of a verdict.
type screenFact struct {
	doc.Fact
	Level string `json:"level,omitempty"` // of a risk
}

// NewScreenVerdict puts together what the documents of bed and list say. Risks are those
// of places where plants have them, else those of the list; placed is nil before.
// planted says that plants stand in the bed.
func NewScreenVerdict(b Basin, c Choose, p *plants.Planting, placed *plants.Placed, planted bool) ScreenVerdict {
	out := ScreenVerdict{Words: Plain(b.Verdict[0]), Look: "ok"}
	var open []string
	for _, check := range b.Checks {
		switch {
		case !check.Known:
			open = append(open, check.Name)
		case !check.OK:
			out.Look = "fails"
		}
	}
	if len(open) > 0 && out.Look == "ok" {
		out.Look = "unknown"
	}
	for _, f := range b.Short {
		if f.Know == "capture" || f.Know == "drain" {
			out.Facts = append(out.Facts, screenFact{Fact: f})
		}
	}
	out.Facts = append(out.Facts, c.counted()...)
	if worst, some := worstRisk(p, placed, b.Garden.Units); some {
		out.Facts = append(out.Facts, worst)
	}
	out.Next, out.Step = c.next(open, planted)
	return out
}

// counted is how much is on a list and what it costs.
func (c Choose) counted() []screenFact {
	n, kinds, unpriced := 0, map[string]bool{}, map[string]bool{}
	for _, l := range c.Lines {
		n += l.Count
		kinds[l.ID] = true
		if math.IsNaN(float64(l.Price)) {
			unpriced[l.ID] = true
		}
	}
	out := []screenFact{{Fact: doc.Fact{Label: "plants on the list", Value: fmt.Sprintf("%d of %s", n, plural(len(kinds), "kind", "kinds"))}}}
	price := doc.Fact{Label: "price", Value: money(c.Cost), Note: "in the plant table's currency"}
	switch {
	case n == 0:
		return out
	case len(unpriced) == len(kinds):
		price.Value, price.Note = "not known", "the plant table has no prices"
	case len(unpriced) > 0:
		price.Value, price.Note = "over "+price.Value, "no price for "+plural(len(unpriced), "kind", "kinds")
	}
	return append(out, screenFact{Fact: price})
}

// worstRisk is the highest yearly risk of a plant at its place, or of a line of the
// list; how many are not known stands beside it.
func worstRisk(p *plants.Planting, placed *plants.Placed, u zones.Units) (out screenFact, some bool) {
	worst, of, unknown := math.Inf(-1), "", 0
	take := func(r float64, name string) {
		switch some = true; {
		case math.IsNaN(r):
			unknown++
		case r > worst:
			worst, of = r, name
		}
	}
	most := p.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	out.Label = "highest risk"
	if placed != nil && placed.Result != nil {
		for _, s := range placed.Result.Plants {
			take(s.Risk, s.Stake+", "+s.Zone)
		}
	} else {
		for _, l := range p.Lines {
			take(l.Fit.YearlyRisk, l.Plant.VernacularName+", "+l.Zone)
		}
	}
	out.Value, out.Note, out.Level = "not known", "", levelUnknown
	if !math.IsInf(worst, -1) {
		r := screenRisk(worst, false, most)
		out.Value, out.Note, out.Level = r.Risk, of+"; you accept "+u.Percent(most), r.Level
	}
	if unknown > 0 && out.Note != "" {
		out.Note += fmt.Sprintf("; not known of %d", unknown)
		if out.Level == levelLow { // unknown is not safe
			out.Level = levelUnknown
		}
	}
	out.Note = Plain(out.Note)
	return out, some
}

// next is what to do next, and the sheet of the page where it is done.
func (c Choose) next(open []string, planted bool) (words, step string) {
	empty := slices.ContainsFunc(c.Zones, func(z fill) bool { return len(z.Refused) > 0 })
	switch {
	case len(c.BedFirst) > 0:
		words = "Mend the bed first: " + c.BedFirst[0]
		if more := len(c.BedFirst) - 1; more > 0 {
			words += fmt.Sprintf(", and %d more", more)
		}
		return Plain(words) + ".", "lot"
	case len(open) > 0:
		return "Measure what is not known, and write it in: " + join(open) + ".", "lot"
	case planted:
		return "Water through the first year, and note how the plants do.", "year"
	case len(c.Lines) == 0:
		return "Nothing can be planted as it stands: read why, and change a wish or the bed.", "list"
	case empty:
		return "Part of the bed stays empty: read why, then set out the rest.", "list"
	}
	return "Look through the list. Before anyone digs, have buried pipes and cables located; then set out the plants.", "out"
}
