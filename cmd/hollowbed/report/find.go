package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/search"
	"hollowbed/zones"
)

// Find is the document of the command find.
type Find struct {
	Garden    Garden `json:"garden"`
	Catalogue string `json:"catalogue"`
	Query     string `json:"query"`
	In        string `json:"in"`
	*search.Result
	Facets []search.Facet `json:"facets"` // there even if none was asked for
	Before doc.Blocks     `json:"-"`      // how many were found, and what was not understood
	Found  []Found        `json:"-"`
	Others []Found        `json:"-"` // with some of the words only
	After  doc.Blocks     `json:"-"` // what stood in the way, if nothing was found
	best   BestZone
}

// BestZone says in which zone of a garden a plant of the table, by its row, lives
// at the least risk; "" where it lives in none.
type BestZone func(row int) (zone string, yearlyRisk float64)

// Found is a plant that was found, for a page on which it can be chosen.
type Found struct {
	ID         string     `json:"id"`
	Name       string     `json:"name"`
	Risk       string     `json:"risk"` // "" where no place was asked for
	YearlyRisk Number     `json:"risk_share"`
	Short      string     `json:"short"` // what every gardener asks of it, where that is not among why
	Why        doc.Blocks `json:"why"`
	harm       string
	reasons    []doc.Text
}

// NewFind makes the document of a search; in is the zone or place searched
// for, "" if none; best is nil where no garden is at hand.
func NewFind(g Garden, catalogueName, query, in string, r *search.Result, best BestZone) Find {
	d := Find{Garden: g, Catalogue: catalogueName, Query: query, In: in, Result: r, Facets: orEmpty(r.Facets), best: best}
	for _, n := range d.Notes {
		d.Before = append(d.Before, doc.Text{Words: "Note: " + sentence(n), Whole: true})
	}
	where, asked, some := "", d.Query, ""
	if d.In != "" {
		where = " that would live " + inAt(d.In)
	}
	if asked == "" {
		asked = "all plants"
	}
	if d.Words == search.SomeWords {
		some = " with some of the words, none with all"
	}
	d.Before = append(d.Before, doc.Text{Whole: true, Words: fmt.Sprintf("%s in %s%s%s: %s", plural(d.Total, "plant", "plants"), d.Catalogue, where, some, asked)})
	for _, u := range d.Unknown {
		d.Before = append(d.Before, doc.Text{Words: fmt.Sprintf("(%s)", u), Whole: true})
	}
	d.Found, d.Others = d.found(d.Hits), d.found(d.Also)
	if d.NoHit != nil {
		d.noHit()
	}
	return d
}

// Blocks are the hits, best first, each with why; in short, with its first reason.
func (d Find) Blocks() []doc.Block {
	out := slices.Clone(d.Before)
	hits := func(found []Found) {
		for _, h := range found {
			head := h.Name
			if h.Risk != "" {
				head += ", " + h.Risk
			}
			short := []doc.Block{doc.Line(head)}
			if h.harm != "" {
				short = append(short, doc.List{Items: []string{h.harm}, Mind: true})
			}
			if n := len(h.reasons); n > 0 {
				words := h.reasons[0].Words
				if n > 1 {
					words += fmt.Sprintf(" (and %d more)", n-1)
				}
				short[0] = doc.Text{Lead: head, Words: words, Hang: 2}
			}
			out = append(out, doc.Fold{Short: short, Full: append([]doc.Block{doc.Line(""), doc.Line(head)}, h.Why...)})
		}
	}
	out = append(out, doc.Fold{Short: []doc.Block{doc.Line("")}})
	hits(d.Found)
	if len(d.Also) > 0 {
		out = append(out, doc.Line(""), doc.Line("With some of the words only:"))
		hits(d.Others)
	}
	if more := d.Total - len(d.Hits); more > 0 && len(d.Hits) > 0 {
		words := fmt.Sprintf("%d more: --limit %d", more, d.Total)
		out = append(out, doc.Fold{Short: []doc.Block{doc.Line(words + ". All that is known of each: --all.")}, Full: []doc.Block{doc.Line(""), doc.Line(words)}})
	} else if len(d.Hits) > 0 {
		out = append(out, doc.Fold{Short: []doc.Block{doc.Line("All that is known of each: --all.")}})
	}
	for _, f := range d.Facets {
		var parts []string
		for _, v := range f.Values {
			parts = append(parts, fmt.Sprintf("%s %d", v.Value, v.Count))
		}
		if f.Unknown > 0 {
			parts = append(parts, fmt.Sprintf("not stated %d", f.Unknown))
		}
		out = append(out, doc.Text{Lead: f.Field, Words: strings.Join(parts, ", "), Hang: 2})
	}
	return append(out, d.After...)
}

func inAt(place string) string {
	if strings.HasPrefix(place, "at ") {
		return place
	}
	return "in the " + place
}

func (d Find) found(hits []search.Hit) []Found {
	out := []Found{}
	for _, h := range hits {
		f := Found{ID: h.ID, Name: Plain(withID(h.VernacularName, h.ID)), YearlyRisk: Number(math.NaN())}
		if d.Words == "" {
			f.reasons = append(f.reasons, doc.Text{In: 2, Words: d.inShort(h), Hang: 4})
			f.Why = append(f.Why, f.reasons[0])
		} else if d.best != nil {
			f.Short = d.inShort(h)
		}
		f.harm = harmOf(h)
		if h.Guessed {
			f.harm = strings.TrimPrefix(f.harm+"; "+ofItsGenus, "; ")
		}
		if f.harm != "" && (h.Guessed || !slices.ContainsFunc(h.Why, func(r search.Reason) bool { return r.Field == "toxic" })) {
			f.Why = append(f.Why, doc.Text{In: 2, Words: f.harm, Hang: 4})
		}
		if h.Risk != nil {
			f.Risk, f.YearlyRisk = "risk "+risk(*h.Risk, false)+" a year", Number(*h.Risk)
		}
		for _, r := range oneAWord(h.Why) {
			f.reasons = append(f.reasons, d.reason(r))
			f.Why = append(f.Why, d.reason(r))
		}
		out = append(out, f)
	}
	return out
}

// inShort says what every gardener asks of a plant that no word of theirs found.
func (d Find) inShort(h search.Hit) string {
	sold, high := "no label", math.NaN()
	if h.HeightCM != nil {
		high = *h.HeightCM
	}
	if len(h.Zones) > 0 {
		sold = "sold for " + strings.Join(h.Zones, ", ")
	}
	words := looksOf(d.Garden.Units, high, h.FlowerFrom, h.FlowerTo, h.FlowerColour) + "; " + sold
	if d.best != nil && h.Risk == nil {
		if zone, yearly := d.best(h.Row); zone == "" {
			words += "; would live in no zone of this bed"
		} else {
			words += fmt.Sprintf("; risk %s a year in the %s", risk(yearly, false), zone)
		}
	}
	return Plain(words)
}

// harmOf says whom a hit harms; "" of one known to harm nobody.
func harmOf(h search.Hit) string {
	switch {
	case slices.Equal(h.Toxic, []string{"none"}):
		return ""
	case len(h.Toxic) == 0:
		return "not known whether it harms people or animals"
	}
	return "harms " + listed(h.Toxic)
}

func (d Find) reason(r search.Reason) doc.Text {
	return doc.Text{In: 2, Words: r.Say(inUnits(d.Garden.Units)), Hang: 4}
}

// sentence ends a text with a full stop unless it has an end.
func sentence(s string) string {
	if strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// Level is the level of its risk; most is what the wishes allow.
func (f Found) Level(most float64) string { return riskLevel(float64(f.YearlyRisk), most) }

// inUnits writes the lengths, depths and temperatures of a reason, which are
// in the plant table's units, in those of the garden.
func inUnits(u zones.Units) func(search.Quantity) string {
	return func(q search.Quantity) string {
		if u == zones.UnitsMetric {
			return q.String()
		}
		s := q.String()
		switch q.Unit {
		case "cm":
			s = u.Length(q.Value / 100)
		case "mm":
			s = u.Depth(q.Value)
		case "c":
			s = u.Temp(q.Value)
			if q.Difference {
				s = fmt.Sprintf("%.0f F", q.Value*1.8)
			}
		}
		if unit, nothing := strings.CutPrefix(s, "0 "); nothing && q.Difference && q.Value > 0 {
			return "less than 1 " + unit
		}
		return s
	}
}

// oneAWord keeps one reason for each word: where the plant has the word itself
// before what stands for it, then its name, then its notes, which say most.
func oneAWord(why []search.Reason) []search.Reason {
	best := map[string]int{}
	for i, r := range why {
		if r.Kind != "word" {
			continue
		}
		if j, ok := best[r.Asked]; !ok || says(r) > says(why[j]) {
			best[r.Asked] = i
		}
	}
	var out []search.Reason
	for i, r := range why {
		if r.Kind != "word" || best[r.Asked] == i {
			out = append(out, r)
		}
	}
	return out
}

// says is how much a reason for a word says, beside others for that word.
func says(r search.Reason) int {
	much := 0
	if r.ReadAs == "" {
		much = 10
	}
	switch {
	case r.Field == "vernacularName":
		much += 4
	case r.Field == "notes":
		much += 3
	case r.Field == "scientificName":
		much += 2
	case r.Quote != "":
		much++
	}
	return much
}

func (d *Find) noHit() {
	stood := doc.List{Title: "What stood in the way"}
	for _, e := range d.NoHit.Excluded {
		stood.Items = append(stood.Items, e.String())
	}
	d.After = append(d.After, stood)
	if n := d.NoHit.Nearest; n != nil {
		d.After = append(d.After, doc.Text{Lead: "Nearest", Words: fmt.Sprintf("%s (%s)", n.VernacularName, n.ID), Hang: 2})
		for _, r := range n.Missed {
			d.After = append(d.After, d.reason(r))
		}
	}
}
