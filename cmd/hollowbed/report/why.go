package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// Why is the document of choose --why: one plant in every zone.
type Why struct {
	Garden         Garden    `json:"garden"`
	Record         Record    `json:"record"`
	ID             string    `json:"id"`
	ScientificName string    `json:"scientificName"`
	VernacularName string    `json:"vernacularName"`
	Zones          []whyZone `json:"zones" schema:"some"`
	Notes          string    `json:"notes"`
	// Blocks are the verdicts; Card has them with what the plant table says.
	Blocks, Card []doc.Block `json:"-"`
	known        doc.Facts
}

// whyZone is one plant in one zone.
type whyZone struct {
	Zone       string    `json:"zone" schema:"one of bottom|slope|rim"`
	Offered    bool      `json:"offered"`
	Bar        string    `json:"bar"`
	Detail     string    `json:"detail"`
	YearlyRisk Number    `json:"yearly_risk" schema:"0..1"`
	SunLoss    Number    `json:"sun_loss" schema:"known; 0..1"`
	PastYears  int       `json:"past_years"`
	Years      int       `json:"years" schema:"1.."`
	LimitedBy  string    `json:"limited_by" schema:"one of |too wet|too deep|too dry|too cold|too little sun|too much sun"`
	Reason     string    `json:"reason"`
	Tagged     bool      `json:"tagged"`
	Disagrees  bool      `json:"disagrees"`
	NoLabel    bool      `json:"no_label"`
	Unknown    []string  `json:"unknown"`
	Assumed    []string  `json:"assumed"`
	ByYear     []whyYear `json:"by_year" schema:"some"`
}

// whyYear is one year of the hardest place of a zone: as a share of each
// limit, and what was found.
type whyYear struct {
	Year   int    `json:"year" schema:"any"`
	Wet    Number `json:"wet"`
	Deep   Number `json:"deep"`
	Dry    Number `json:"dry"`
	Cold   Number `json:"cold"`
	WetH   Number `json:"wet_h" schema:"known; 0.."`
	DeepMM Number `json:"deep_mm" schema:"known; 0.."`
	DryD   Number `json:"dry_d" schema:"known; 0.."`
	MinC   Number `json:"lowest_c"`
}

// NewWhy makes the document of one plant.
func NewWhy(g Garden, e *zones.Exposure, verdicts []plants.Verdict) Why {
	p := verdicts[0].Plant
	out := Why{Garden: g, Record: newRecord(e.Record), ID: p.ID, ScientificName: p.ScientificName, VernacularName: p.VernacularName, Notes: p.Notes}
	for _, v := range verdicts {
		z := whyZone{
			Zone: v.Zone, Offered: v.Bar == plants.NoBar, Bar: string(v.Bar), Detail: v.Detail, YearlyRisk: Number(v.Fit.YearlyRisk), SunLoss: Number(v.Fit.SunLoss),
			PastYears: v.Fit.PastYears, Years: v.Fit.Years, LimitedBy: string(v.Fit.Reason.Limit), Reason: Reason(v.Fit.Reason, g.Units),
			Tagged: v.Tagged, Disagrees: v.Disagrees(), NoLabel: len(v.Plant.Zones) == 0, Unknown: orEmpty(v.Fit.Unknown), Assumed: orEmpty(v.Fit.Assumed),
		}
		for _, y := range v.Fit.ByYear {
			z.ByYear = append(z.ByYear, whyYear{
				Year: y.Name, Wet: Number(y.Wet), Deep: Number(y.Deep), Dry: Number(y.Dry), Cold: Number(y.Cold),
				WetH: Number(y.WetH), DeepMM: Number(y.DeepMM), DryD: Number(y.DryD), MinC: Number(y.MinC),
			})
		}
		out.Zones = append(out.Zones, z)
	}
	out.word(p, e.Lot.Garden)
	return out
}

// word makes the blocks of a plant in a garden.
func (d *Why) word(p catalogue.Plant, g *zones.Garden) {
	var verdicts []doc.Block
	for i, z := range d.Zones {
		if i > 0 {
			verdicts = append(verdicts, doc.Rest(doc.Line("")))
		}
		verdicts = append(verdicts, d.zone(z, g.Wishes.YearlyRiskMax)...)
	}
	verdicts = append(verdicts, doc.Line(""), doc.Rest(doc.Text{Words: "Each year shows how much of a limit was used in the hardest place of the zone; over 100 % it was passed. " +
		"The yearly risk is the chance that one more year passes a limit, over the whole zone; it is wider when the record is short. All years: --json."}))
	for _, s := range countsOnWater(g) {
		verdicts = append(verdicts, doc.Text{Words: sentence(s)})
	}
	verdicts = append(verdicts, evidence(p)...)
	d.Blocks = append(answered(d.Garden, "Why "+d.VernacularName, &d.Record, false, doc.Text{Words: d.lives()}), verdicts...)
	d.Blocks = append(append(d.Blocks, doc.Apart(doc.List{Title: "Mind", Items: harms(p), Mind: true})...), endsShort("All, with the hardest years: --all."))
	d.card(p, verdicts)
}

// endsShort is the last line of a short form.
func endsShort(words string) doc.Block {
	return doc.Fold{Short: []doc.Block{doc.Line(""), doc.Line(words)}}
}

// lives says in which zones the plant would live.
func (d Why) lives() string {
	in := map[string][]string{}
	for _, z := range d.Zones {
		verdict, _ := z.words()
		verdict, _, _ = strings.Cut(verdict, ":")
		in[verdict] = append(in[verdict], z.Zone)
	}
	var parts []string
	for _, v := range [][3]string{{"would live here", "would live in the ", " and "}, {"no", "not in the ", " or "}, {"not known", "not known of the ", " and "}} {
		if zones := in[v[0]]; zones != nil {
			parts = append(parts, v[1]+strings.Replace(join(zones), " and ", v[2], 1))
		}
	}
	return doc.Capital(strings.Join(parts, "; ")) + "."
}

// card makes the blocks of a plant in full: what it harms, the verdicts on it, what
// the table says.
func (d *Why) card(p catalogue.Plant, verdicts []doc.Block) {
	d.known = plantFacts(p, d.Garden.Units)
	if len(d.Zones) > 0 {
		d.Card = []doc.Block{doc.Text{Words: d.lives()}}
	}
	d.Card = append(append(d.Card, doc.List{Title: "Mind", Items: harms(p), Mind: true}), texts(p.Notes)...)
	main := slices.DeleteFunc(slices.Clone(d.known), func(f doc.Fact) bool {
		return !slices.Contains([]string{"Latin name", "height", "in flower", "sun a day", "harms", "price"}, f.Label)
	})
	d.Card = append(append(append(d.Card, doc.Line("")), verdicts...), doc.Fold{Short: []doc.Block{main}, Full: []doc.Block{d.known}})
	if p.Source != "" {
		d.Card = append(d.Card, doc.Rest(doc.Text{Lead: "Source", Words: p.Source}))
	}
	d.Card = append(d.Card, endsShort("All that the plant table says: --all."))
}

// texts are words of which there may be none.
func texts(words ...string) []doc.Block {
	var out []doc.Block
	for _, s := range words {
		if s != "" {
			out = append(out, doc.Text{Words: s})
		}
	}
	return out
}

// Says is the verdict on every zone in a line.
func (d Why) Says() string {
	var parts []string
	for _, z := range d.Zones {
		verdict, _ := z.words()
		parts = append(parts, z.Zone+": "+verdict)
	}
	return Plain(d.VernacularName + ". " + strings.Join(parts, ". "))
}

// words says whether the plant would live in the zone, and what its label says.
func (z whyZone) words() (verdict, label string) {
	verdict = "would live here"
	switch {
	case z.Bar == string(plants.BarUnknown):
		verdict = "not known: " + z.Detail
	case !z.Offered:
		verdict = "no: " + z.Detail
	}
	label = "not sold for it"
	if z.Tagged {
		label = "sold for it"
	}
	if z.NoLabel {
		label = "no label"
	}
	if z.Disagrees {
		label += ", which this lot does not bear out"
	}
	return verdict, label
}

// risk is the yearly risk, not a number where limits are not known.
func (z whyZone) risk() float64 {
	if z.Bar == string(plants.BarUnknown) {
		return math.NaN()
	}
	return float64(z.YearlyRisk)
}

// zone gives the verdict on one zone, the reason, and its hardest years.
func (d Why) zone(z whyZone, most float64) []doc.Block {
	verdict, label := z.words()
	out := []doc.Block{
		doc.Text{Head: true, Lead: z.Zone, Hang: 2, Level: riskLevel(z.risk(), most), Words: fmt.Sprintf("%s. Risk %s a year, past a limit in %d of %s at its hardest place; %s.",
			verdict, risk(z.risk(), len(z.Assumed) > 0), z.PastYears, plural(z.Years, "year", "years"), label)},
		doc.Text{Lead: "closest limit", Words: z.Reason, In: 2, Hang: 4},
	}
	for _, c := range z.Unknown {
		out = append(out, doc.Text{Lead: "not stated", Words: c, In: 2, Whole: true})
	}
	t := doc.Table{Caption: "Hardest years in the " + z.Zone, In: true, Columns: []doc.Column{
		{Head: "hardest years", Right: true}, {Head: "wet"}, {Head: "deep"}, {Head: "dry days"}, {Head: "coldest"}}}
	for _, y := range hardestYears(z.ByYear) {
		wet, deep, dry, cold := y.words(d.Garden.Units)
		t.Rows = append(t.Rows, doc.Cells(fmt.Sprint(y.Year), wet, deep, dry, cold))
	}
	return append(out, doc.Rest(t))
}

// Pair sets two plants side by side: whom they harm and risks by zone first.
func Pair(a, b Why) []doc.Block {
	t := doc.Table{Caption: "Side by side", Columns: []doc.Column{{Head: "what"}, {Head: "one", Most: 25}, {Head: "the other", Most: 25}},
		Rows: [][]doc.Cell{{{Words: "plant"}, {Words: a.VernacularName, ID: a.ID}, {Words: b.VernacularName, ID: b.ID}}}}
	short := t
	for i, z := range a.Zones {
		risks := doc.Cells("risk a year in the "+z.Zone, risk(z.risk(), len(z.Assumed) > 0), risk(b.Zones[i].risk(), len(b.Zones[i].Assumed) > 0))
		short.Rows = append(short.Rows, risks)
		t.Rows = append(t.Rows, risks, doc.Cells("limit in the "+z.Zone, z.Reason, b.Zones[i].Reason))
	}
	for i, f := range a.known {
		if f.Label == "harms" {
			t.Rows = slices.Insert(t.Rows, 1, doc.Cells(f.Label, f.Value, b.known[i].Value))
			short.Rows = slices.Insert(short.Rows, 1, t.Rows[1])
			continue
		}
		row := doc.Cells(f.Label, f.Value, b.known[i].Value)
		t.Rows = append(t.Rows, row)
		if f.Value != b.known[i].Value && slices.Contains([]string{"height", "spread", "in flower", "sun a day", "tolerates wet ground", "tolerates days without rain", "tolerates cold", "spreads", "price"}, f.Label) {
			short.Rows = append(short.Rows, row)
		}
	}
	same := doc.Line("Only what differs is shown. All of it, with what limits each: --all.")
	return []doc.Block{doc.Fold{Short: []doc.Block{short, doc.Line(""), same}, Full: []doc.Block{t}}}
}

// words says how much of each limit a year used, and what was found.
func (y whyYear) words(u zones.Units) (wet, deep, dry, cold string) {
	used := func(share, found Number, print func(float64) string) string {
		if math.IsNaN(float64(share)) {
			return "not known"
		}
		return fmt.Sprintf("%.0f %% (%s)", 100*float64(share), print(float64(found)))
	}
	return used(y.Wet, y.WetH, u.Duration), used(y.Deep, y.DeepMM, u.Depth), used(y.Dry, y.DryD, days), coldWords(y, u.Temp)
}

// yearsShown is how many years of a zone are printed; --json has them all.
const yearsShown = 5

// hardestYears picks the years in which most of a limit was used, hardest
// first.
func hardestYears(all []whyYear) []whyYear {
	worst := func(y whyYear) float64 {
		most := 0.0
		for _, v := range []Number{y.Wet, y.Deep, y.Dry, y.Cold} {
			if !math.IsNaN(float64(v)) {
				most = max(most, float64(v))
			}
		}
		return most
	}
	years := slices.Clone(all)
	slices.SortStableFunc(years, func(a, b whyYear) int { return cmp.Compare(worst(b), worst(a)) })
	return years[:min(yearsShown, len(years))]
}

func coldWords(y whyYear, print func(float64) string) string {
	if math.IsNaN(float64(y.MinC)) {
		return "not known"
	}
	s := print(float64(y.MinC))
	if float64(y.Cold) > 1 {
		s += " (too cold)"
	}
	return s
}
