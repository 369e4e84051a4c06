package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
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

// ScreenPlant is one plant with all that is known of it here.
type ScreenPlant struct {
	ID         string            `json:"id"`
	Name       string            `json:"name"`
	Scientific string            `json:"scientific"`
	Notes      string            `json:"notes"`
	Source     string            `json:"source"`
	Rows       []ScreenRow       `json:"rows"`
	Harms      []string          `json:"harms"`
	Zones      []ScreenPlantZone `json:"zones"`
}

// ScreenPlantZone is one plant in one zone.
type ScreenPlantZone struct {
	Zone    string `json:"zone"`
	Verdict string `json:"verdict"`
	Lives   bool   `json:"lives"`
	ScreenRisk
	Reason string            `json:"reason"`
	Past   string            `json:"past"`
	Label  string            `json:"label"`
	Years  []ScreenPlantYear `json:"years"`
}

// ScreenPlantYear is a hard year of a plant: how much of each limit was used.
type ScreenPlantYear struct {
	Year string `json:"year"`
	Wet  string `json:"wet"`
	Deep string `json:"deep"`
	Dry  string `json:"dry"`
	Cold string `json:"cold"`
}

// NewScreenPlant words a plant in every zone.
func NewScreenPlant(d Why, p catalogue.Plant, verdicts []plants.Verdict, mostRisk float64) ScreenPlant {
	out := ScreenPlant{
		ID: p.ID, Name: Plain(p.VernacularName), Scientific: Plain(p.ScientificName), Notes: Plain(p.Notes), Source: Plain(p.Source),
		Rows: plantRows(p, d.Garden.Units), Harms: harms(p), Zones: []ScreenPlantZone{},
	}
	for i, z := range d.Zones {
		verdict, label := z.words()
		zone := ScreenPlantZone{
			Zone: z.Zone, Verdict: Plain(verdict), Lives: verdicts[i].Lives(), ScreenRisk: newScreenRisk(verdicts[i], mostRisk),
			Reason: Plain(z.Reason), Past: past(z.PastYears, z.Years), Label: label, Years: []ScreenPlantYear{},
		}
		for _, y := range hardestYears(z.ByYear) {
			wet, deep, dry, cold := y.words(d.Garden.Units)
			zone.Years = append(zone.Years, ScreenPlantYear{fmt.Sprint(y.Year), wet, deep, dry, cold})
		}
		out.Zones = append(out.Zones, zone)
	}
	return out
}

// plantRows are the columns of a plant in words; "not known" where the table
// leaves one empty.
func plantRows(p catalogue.Plant, u zones.Units) []ScreenRow {
	given := func(v float64, print func(float64) string) string {
		if math.IsNaN(v) {
			return "not known"
		}
		return print(v)
	}
	text := func(s string) string {
		if s == "" {
			return "not known"
		}
		return Plain(s)
	}
	cm := func(v float64) string { return u.Length(v / 100) }
	sun := given(p.SunMinH, func(h float64) string { return fmt.Sprintf("from %.3g h", h) }) + given(p.SunMaxH, func(h float64) string { return fmt.Sprintf(" to %.3g h", h) })
	if math.IsNaN(p.SunMaxH) {
		sun = given(p.SunMinH, func(h float64) string { return fmt.Sprintf("at least %.3g h", h) })
	}
	flower := "not known"
	if p.FlowerFrom > 0 {
		flower = Months(monthsOf(p.FlowerFrom, p.FlowerTo))
		if len(p.FlowerColour) > 0 {
			flower += ", " + Plain(strings.Join(p.FlowerColour, ", "))
		}
	}
	return []ScreenRow{
		{"form", text(p.Form)}, {"height", given(p.HeightCM, cm)}, {"spread", given(p.SpreadCM, cm)},
		{"in flower", flower}, {"sun a day", sun},
		{"bears wet ground", given(p.WetH, u.Duration)}, {"bears standing water", given(p.PondMM, u.Depth)},
		{"bears days without rain", given(p.DryD, trimDays)}, {"bears cold", given(p.LowestC, u.Temp)},
		{"sold for", text(strings.Join(p.Zones, ", "))}, {"native to", text(strings.Join(p.NativeTo, ", "))},
		{"spreads", text(p.Spreads)}, {"keeps its leaves", text(p.Evergreen)}, {"harms", text(strings.Join(p.Toxic, ", "))},
		{"price", given(p.Price, func(v float64) string { return fmt.Sprintf("%.2f", v) })},
	}
}

// monthsOf lists the months from one to another, over the turn of the year
// where need be.
func monthsOf(from, to int) []int {
	months := []int{from}
	for m := from; m != to; {
		m = m%12 + 1
		months = append(months, m)
	}
	return months
}

// ScreenPair is two plants side by side.
type ScreenPair struct {
	A    ScreenPlant     `json:"a"`
	B    ScreenPlant     `json:"b"`
	Rows []ScreenPairRow `json:"rows"`
}

// ScreenPairRow is one thing of both plants.
type ScreenPairRow struct {
	Label string `json:"label"`
	A     string `json:"a"`
	B     string `json:"b"`
	Same  bool   `json:"same"`
}

// NewScreenPair sets two plants side by side: risks by zone first.
func NewScreenPair(a, b ScreenPlant) ScreenPair {
	out := ScreenPair{A: a, B: b, Rows: []ScreenPairRow{}}
	add := func(label, x, y string) { out.Rows = append(out.Rows, ScreenPairRow{label, x, y, x == y}) }
	for i := range a.Zones {
		add("risk in the "+a.Zones[i].Zone, a.Zones[i].Risk, b.Zones[i].Risk)
		add("limit in the "+a.Zones[i].Zone, a.Zones[i].Reason, b.Zones[i].Reason)
	}
	for i := range a.Rows {
		add(a.Rows[i].Label, a.Rows[i].Value, b.Rows[i].Value)
	}
	return out
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
