package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/plants"
	"hollowbed/search"
	"hollowbed/zones"
)

// livesShown is how many plants that would live at a place are named.
const livesShown = 40

// ScreenPlace is one place of the bed.
type ScreenPlace struct {
	Inside  bool         `json:"inside"`
	Zone    string       `json:"zone"`
	Ground  string       `json:"ground"`
	Sun     string       `json:"sun"`
	Wet     string       `json:"wet"`
	Deepest string       `json:"deepest"`
	Dry     string       `json:"dry"`
	Words   string       `json:"words"`
	Lives   []ScreenNext `json:"lives"`
	LivesN  int          `json:"lives_n"`
}

// OutsideBed is what is said of a place that is not in the bed.
const OutsideBed = "Outside the bed."

// NewScreenPlace words a place and the plants of a table there, best first.
func NewScreenPlace(e *zones.Exposure, s plants.Spot, all []plants.Verdict) ScreenPlace {
	u := e.Lot.Garden.Units
	b := e.Bands[s.Band]
	out := ScreenPlace{
		Inside: true, Zone: s.Zone, Ground: heightWords(u, s.HeightMM), Sun: sunText(Number(s.SunH)),
		Wet: spellText(u.Duration)(b.WetOneInTenH), Deepest: spellText(u.Depth)(b.DeepestMM), Dry: days(b.DryOneInTenD), Lives: []ScreenNext{},
	}
	for _, v := range all {
		if !v.Lives() {
			continue
		}
		out.LivesN++
		if len(out.Lives) < livesShown {
			out.Lives = append(out.Lives, ScreenNext{
				ID: v.Plant.ID, Name: Plain(v.Plant.VernacularName), ScreenRisk: newScreenRisk(v, e.Lot.Garden.Wishes.YearlyRiskMax), Reason: reasonOf(v, u),
			})
		}
	}
	out.Words = fmt.Sprintf("On the %s, %s: %s of the table's %d plants would live here.", s.Zone, out.Ground, plural(out.LivesN, "plant", "plants"), len(all))
	return out
}

// ScreenDrag is the risk of a plant at a place, while it is moved.
type ScreenDrag struct {
	Stake  string `json:"stake"`
	ID     string `json:"id"`
	Name   string `json:"name"`
	Inside bool   `json:"inside"`
	Zone   string `json:"zone"`
	Ground string `json:"ground"`
	ScreenRisk
	Reason string   `json:"reason"`
	Here   string   `json:"here"`
	Change string   `json:"change"`
	Clash  []string `json:"clash"`
}

// NewScreenDrag words the risk of a plant at a place; before is the verdict
// where it stands now, nil if it stands nowhere.
func NewScreenDrag(g *zones.Garden, s plants.Spot, v plants.Verdict, before *plants.Verdict) ScreenDrag {
	out := ScreenDrag{
		ID: v.Plant.ID, Name: Plain(v.Plant.VernacularName), Inside: true, Zone: s.Zone, Ground: heightWords(g.Units, s.HeightMM),
		ScreenRisk: newScreenRisk(v, g.Wishes.YearlyRiskMax), Reason: reasonOf(v, g.Units), Clash: []string{},
	}
	if before != nil {
		out.Here = newScreenRisk(*before, g.Wishes.YearlyRiskMax).Risk
		out.Change = changeWords(before.Loss(), v.Loss())
	}
	return out
}

// changeWords compares two yearly losses in whole points of a hundred.
func changeWords(before, after float64) string {
	switch points := math.Round(100 * (after - before)); {
	case points < 0:
		return fmt.Sprintf("better: %d fewer of 100 lost a year", int(-points))
	case points > 0:
		return fmt.Sprintf("worse: %d more of 100 lost a year", int(points))
	}
	return "no better and no worse"
}

// ScreenFinds is the answer of a search.
type ScreenFinds struct {
	Words   string        `json:"words"`
	Total   int           `json:"total"`
	Place   string        `json:"place"`
	Notes   []string      `json:"notes"`
	Hits    []ScreenHit   `json:"hits"`
	Also    []ScreenHit   `json:"also"`
	Facets  []ScreenFacet `json:"facets"`
	Stood   []string      `json:"stood_in_the_way"`
	Nearest *ScreenHit    `json:"nearest"`
}

// ScreenHit is a plant that was found, and why.
type ScreenHit struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	ScreenRisk
	Why []string `json:"why"`
}

// ScreenFacet counts the hits by the values of a field.
type ScreenFacet struct {
	Field  string             `json:"field"`
	Label  string             `json:"label"`
	Values []ScreenFacetValue `json:"values"`
}

// ScreenFacetValue is a value with the query that adds it.
type ScreenFacetValue struct {
	Value string `json:"value"`
	Count int    `json:"count"`
	Query string `json:"query"`
	On    bool   `json:"on"` // in the query already; Query then is without it
}

// searchedFor is what a field of the search stands for, in words.
func searchedFor(name string) string {
	all := search.Fields()
	return all[slices.IndexFunc(all, func(f search.Field) bool { return f.Name == name })].Help
}

// NewScreenFinds words the answer of a search for q.
func NewScreenFinds(d Find, q search.Query, mostRisk float64) ScreenFinds {
	out := ScreenFinds{Total: d.Total, Place: Plain(d.In), Notes: plainAll(d.Notes), Stood: []string{}, Facets: []ScreenFacet{}}
	where := ""
	if d.In != "" {
		where = " that would live " + inAt(d.In)
	}
	out.Words = Plain(plural(d.Total, "plant", "plants") + where)
	if d.Words == search.SomeWords {
		out.Words += " with some of the words, none with all"
	}
	for _, n := range d.Unknown {
		out.Notes = append(out.Notes, "Left out: "+plural(n.Plants, "plant", "plants")+" of which the table does not say: "+searchedFor(n.Field))
	}
	out.Hits, out.Also = d.screenHits(d.Hits, mostRisk), d.screenHits(d.Also, mostRisk)
	for _, f := range d.Facets {
		out.Facets = append(out.Facets, screenFacet(f, q))
	}
	if d.NoHit != nil {
		for _, e := range d.NoHit.Excluded {
			out.Stood = append(out.Stood, Plain(e.String()))
		}
		if n := d.NoHit.Nearest; n != nil {
			near := ScreenHit{ID: n.ID, Name: Plain(n.VernacularName), Why: []string{}, ScreenRisk: screenRisk(math.NaN(), false, mostRisk)}
			for _, r := range n.Missed {
				near.Why = append(near.Why, Plain(r.Say(inUnits(d.Garden.Units))))
			}
			out.Nearest = &near
		}
	}
	return out
}

func (d Find) screenHits(hits []search.Hit, mostRisk float64) []ScreenHit {
	out := []ScreenHit{}
	for _, h := range hits {
		hit := ScreenHit{ID: h.ID, Name: Plain(h.VernacularName), Why: []string{}, ScreenRisk: ScreenRisk{RiskShare: Number(math.NaN()), Level: levelUnknown}}
		if h.Risk != nil {
			hit.ScreenRisk = screenRisk(*h.Risk, false, mostRisk)
		}
		for _, r := range oneAWord(h.Why) {
			hit.Why = append(hit.Why, Plain(r.Say(inUnits(d.Garden.Units))))
		}
		out = append(out, hit)
	}
	return out
}

// screenFacet gives each value the query that picks it, or drops it.
func screenFacet(f search.Facet, q search.Query) ScreenFacet {
	out := ScreenFacet{Field: f.Field, Label: f.Field, Values: []ScreenFacetValue{}}
	for _, field := range search.Fields() {
		if field.Name == f.Field {
			out.Label = field.Help
		}
	}
	for _, v := range f.Values {
		value := ScreenFacetValue{Value: Plain(v.Value), Count: v.Count}
		picked := search.Condition{Field: f.Field, Values: []string{v.Value}}
		if read, err := search.Parse(picked.String()); err == nil && len(read.Conditions) == 1 { // as a query would have it
			picked = read.Conditions[0]
		}
		next := search.Query{Words: q.Words}
		for _, c := range q.Conditions {
			if c.String() == picked.String() {
				value.On = true
				continue
			}
			next.Conditions = append(next.Conditions, c)
		}
		if !value.On {
			next.Conditions = append(next.Conditions, picked)
		}
		value.Query = next.String()
		out.Values = append(out.Values, value)
	}
	return out
}

// Fate is a plant's yearly risk, NaN if its limits are not all known, and what
// limits it. Where it is not the risk that bars it, what does is told.
func Fate(v plants.Verdict, u zones.Units) (risk float64, why string) {
	why = Reason(v.Fit.Reason, u)
	switch v.Bar {
	case plants.BarUnknown:
		return math.NaN(), v.Detail
	case plants.BarSun:
		why = v.Detail + "; " + why
	}
	return v.Fit.YearlyRisk, why
}

// CrowdWords says what a plant would stand too near to.
func CrowdWords(stakes, grounds []string) []string {
	out := []string{}
	if n := len(stakes); n > 0 {
		words := "too near to " + join(stakes[:min(n, crowdShown)])
		if n > crowdShown {
			words = fmt.Sprintf("too near to %s and %d more", strings.Join(stakes[:crowdShown], ", "), n-crowdShown)
		}
		out = append(out, words)
	}
	for _, g := range grounds {
		out = append(out, "reaches into what is kept free: "+g)
	}
	return out
}

// crowdShown is how many plants that stand too near are named.
const crowdShown = 3
