package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones"
)

// word makes the blocks: what to plant, zone by zone, and why; and the next
// best for each line.
func (d *Choose) word(p *plants.Planting) {
	add := func(b ...doc.Block) { d.Blocks = append(d.Blocks, b...) }
	var answer []doc.Block
	for _, s := range d.Advice() {
		answer = append(answer, doc.Text{Words: s})
	}
	add(answered(d.Garden, "Planting list", &d.Record, false, doc.Screen(answer...))...)
	if len(d.BedFirst) > 0 {
		add(doc.List{Title: "Mend the bed first (hollowbed basin says how)", Items: d.BedFirst, Mind: true}, doc.Line(""))
	}
	var all []doc.Block
	for _, z := range d.Zones {
		all = append(all, d.zone(z, p)...)
	}
	if len(d.Lines) > 0 {
		all = append(all, doc.Line(""), doc.Screen(doc.Text{Words: "Risk: the chance that a year passes a limit, over the whole zone; in brackets, the " + d.Record.years() + " that did so at its hardest place. Below each plant stands the limit it came closest to. \"Like 30 dry days\" means as hard on the roots as 30 rainless midsummer days in garden loam. Light showers shorten the count."}))
	}
	add(doc.Line("Plants from "+d.Catalogue), doc.Fold{Short: d.kinds(), Full: all}, doc.Rest(doc.Line("")),
		doc.Screen(doc.Text{Lead: "In flower", Words: d.Bloom() + ".", Hang: 2}))
	if len(d.Lines) > 0 {
		add(doc.Screen(doc.Rest(doc.Text{Lead: "How good", Hang: 2, Words: fmt.Sprintf("this list is within %s of the best one possible.", gapText(p.Gap))})))
	}
	switch len(d.Notes) {
	case 0:
	case 1:
		add(doc.Text{Lead: "Note", Words: d.Notes[0] + ".", Hang: 2})
	default:
		add(doc.Rest(doc.Line("")), doc.List{Title: "Notes", Items: d.Notes}.Cut(min(notesShown, len(p.Notes))))
	}
	add(d.labels(p)...)
	mind := d.Cautions
	if len(p.Lines) > 0 && p.Lines[0].Plant.Wild != nil {
		mind = append([]string{"Real plants, and some of these are weeds somewhere: a local grower and local lists of invasive plants decide. Their limits are those of classes, and coarse. The risk holds the doubt about them; \"weather alone\" is the risk at the hardest place if they were right."}, mind...)
	}
	add(apart("Mind", mind, true)...)
	var sizes []string
	for _, l := range p.Lines {
		sizes = append(sizes, l.Plant.SoldAs)
	}
	water, young := "water in dry spells", "young plants tolerate only about half as much"
	if small := less(d.Garden.Units, sizes); small != "" {
		water, young = "water", "young plants tolerate half"+small
	}
	first := "First year: " + water + "; " + young + "."
	if p.Exposure.Lot.Garden.Wishes.Watering == zones.WaterNever {
		first = "First year: " + young + ", and you do not water (wishes.watering: none): hollowbed care says what that risks."
	}
	if len(d.Lines) > 0 {
		add(doc.Rest(doc.Line("")), doc.Rest(d.order(d.Garden.Units)))
	}
	add(doc.Line(""), doc.Screen(doc.Text{Words: first}),
		doc.Fold{Short: []doc.Block{doc.Line("All: --all. One plant: --why NAME. Next best: --alternatives. Order: --csv.")},
			Full: []doc.Block{doc.Line("Why one plant: --why NAME. Next best: --alternatives. To order: --csv.")}})
	d.Next = opening(d.Garden, "Next best for each line", &d.Record)
	if len(d.Lines) > 0 {
		d.Next = append(d.Next, d.alternatives(p))
	}
}

// notesShown and kindsShown are how many of each the short form has.
const notesShown, kindsShown = 3, 9

// kinds is the list in short, a row a kind; and of zones with nothing in them what
// would help.
func (d Choose) kinds() []doc.Block {
	t := doc.Table{Columns: []doc.Column{{Head: "plants"}}}
	for _, z := range d.Zones {
		t.Columns = append(t.Columns, doc.Column{Head: z.Zone, Right: true})
	}
	t.Columns = append(t.Columns, doc.Column{Head: "apart", Right: true}, doc.Column{Head: "risk a year", Right: true})
	kinds, most := map[string][]Line{}, map[string]float64{}
	var order []string
	for _, l := range d.Lines {
		if kinds[l.ID] == nil {
			order = append(order, l.ID)
		}
		kinds[l.ID] = append(kinds[l.ID], l)
		most[l.ID] = max(most[l.ID], float64(l.YearlyRisk))
	}
	for _, id := range order {
		counts, assumed := map[string]int{}, false
		for _, l := range kinds[id] {
			counts[l.Zone] += l.Count
			assumed = assumed || len(l.Assumed) > 0
		}
		row := []string{kinds[id][0].VernacularName}
		for _, z := range d.Zones {
			cell := ""
			if n := counts[z.Zone]; n > 0 {
				cell = fmt.Sprint(n)
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, doc.Cells(append(row, d.Garden.Units.Length(float64(kinds[id][0].SpacingCM)/100), risk(most[id], assumed))...))
	}
	var out []doc.Block
	if len(t.Rows) > 0 {
		out = append(out, t.Cut(kindsShown, "kinds"))
	}
	for _, z := range d.Zones {
		if z.barely() && len(z.Refused) == 0 {
			out = append(out, doc.Text{Lead: z.Zone, Words: d.Garden.Units.Percent(float64(z.PlantedM2)/float64(z.AreaM2)) + " planted, the rest stays bare: " + z.Bare, Hang: 2})
		}
		if len(z.Refused) > 0 {
			out = append(out, doc.Text{Head: true, Lead: z.Zone + ",", Words: "nothing would live here", Hang: 2}, doc.List{Items: z.Refused}.Cut(refusedShown))
		}
	}
	return out
}

// refusedShown is how many reasons why nothing would live in a zone the short form has.
const refusedShown = 6

// apart is a list after an empty line, or nothing where it has no items.
func apart(title string, items []string, mind bool) []doc.Block {
	if len(items) == 0 {
		return nil
	}
	return []doc.Block{doc.Line(""), doc.List{Title: title, Items: items, Mind: mind}}
}

func gapText(gap float64) string { return fmt.Sprintf("%.2f %%", 100*gap) }

// Advice says what to plant.
func (d Choose) Advice() []string {
	count, species := 0, map[string]bool{}
	for _, l := range d.Lines {
		count += l.Count
		species[l.ID] = true
	}
	if count == 0 {
		return []string{"Nothing can be planted here as it stands. Each zone below says why."}
	}
	cost := ""
	if float64(d.Cost) > 0 {
		cost = fmt.Sprintf(", %.2f in all in the plant table's currency", float64(d.Cost))
	}
	out := []string{fmt.Sprintf("Plant %s of %d species%s.", plural(count, "plant", "plants"), len(species), cost)}
	if d.Watering != nil {
		out = append(out, "The list counts on your watering the whole bed once a week in drought, every year: "+weekly(d.Garden.Units, d.in.Watering)+".")
	}
	if d.Doubt != nil {
		out = append(out, d.Doubt.preferred(d.Garden.Units, d.Record))
	}
	var empty []string
	for _, z := range d.Zones {
		if len(z.Refused) > 0 {
			empty = append(empty, z.Zone)
		}
	}
	if len(empty) > 0 {
		out = append(out, "Leave "+join(empty)+" empty for now: nothing in the catalogue is known to live there and keeps to your wishes (below).")
	}
	return out
}

// barely says that ground stays bare for a reason.
func (z fill) barely() bool {
	return z.Bare != "" && float64(z.PlantedM2) < 0.95*float64(z.AreaM2)
}

// zone says how far a zone is planted, and with what or why not.
func (d Choose) zone(z fill, p *plants.Planting) []doc.Block {
	out := []doc.Block{doc.Line(""), doc.Text{Head: true, Lead: z.Zone + ",", Words: fillWords(z, d.Garden.Units), Hang: 2}}
	if len(z.Refused) > 0 {
		return append(out, doc.List{Items: z.Refused})
	}
	if z.barely() {
		out = append(out, doc.Text{Words: "(the rest stays bare: " + z.Bare + ")", In: 2, Whole: true})
	}
	t := doc.Table{Caption: "In the " + z.Zone + ", from " + base(d.Catalogue), Prose: plantLines, Columns: []doc.Column{
		{Head: "plant"}, {Head: "plants", Right: true, Know: "list"}, {Head: "apart", Right: true, Know: "spacing"}, {Head: "price each", Right: true, Know: "price"},
		{Head: "risk a year", Right: true, Know: "risk"}, {Head: "years past a limit", Right: true, Screen: true}, {Head: "closest limit", Under: true, Know: "reason"},
	}}
	for i, l := range d.Lines {
		if l.Zone != z.Zone {
			continue
		}
		t.Rows = append(t.Rows, []doc.Cell{
			{Words: named(&p.Lines[i].Plant), Latin: latin(&p.Lines[i].Plant), ID: l.ID}, {Words: fmt.Sprint(l.Count)}, {Words: d.Garden.Units.Length(p.Lines[i].SpacingCM / 100)},
			{Words: priced(l.Price)}, riskCell(p.Lines[i].Verdict, p), {Words: fmt.Sprintf("%d of %d", l.PastYears, l.Years)}, {Words: l.Layer + "; " + l.Reason + sunMark(l) + sureMark(l)},
		})
	}
	if len(t.Rows) > 0 {
		out = append(out, t)
	}
	return out
}

func riskCell(v plants.Verdict, p *plants.Planting) doc.Cell {
	r := v.Fit.YearlyRisk
	return doc.Cell{Words: risk(r, len(v.Fit.Assumed) > 0), Level: riskLevel(r, p.Exposure.Lot.Garden.Wishes.YearlyRiskMax)}
}

// fillWords says how far a zone is planted.
func fillWords(z fill, u zones.Units) string {
	words := u.Area(float64(z.AreaM2))
	if float64(z.AreaM2) > 0 {
		words += fmt.Sprintf(", %s planted at mature spread; %s would live here and meet your wishes", u.Percent(float64(z.PlantedM2)/float64(z.AreaM2)), plural(z.Offered, "species", "species"))
	}
	return words
}

// plantLines prints a row of a list in two lines: what to plant, and why it
// would live.
func plantLines(w io.Writer, row []string) {
	plantRow(w, row[0], row[1], row[2], fmt.Sprintf("%s a year (hardest place: %s)", row[4], row[5]))
	doc.Wrap(w, "        ", "        ", row[6])
}

func plantRow(w io.Writer, name, count, apart, risk string) {
	fmt.Fprintf(w, "%6s  %s %s risk %s\n", count, pad(name, 38), pad(apart+" apart", 15), risk)
}

// named is a plant's name, with its id where that is not the name itself; where the
// id is that of its scientific name, that name is shown.
func named(p *catalogue.Plant) string {
	if p.ID != catalogue.IDFor(p.VernacularName) && p.ID == catalogue.IDFor(p.ScientificName) {
		return p.VernacularName + " (" + p.ScientificName + ")"
	}
	return withID(p.VernacularName, p.ID)
}

func withID(name, id string) string {
	if catalogue.IDFor(name) == id {
		return name
	}
	return name + " (" + id + ")"
}

// latin is the scientific name where named does not show it.
func latin(p *catalogue.Plant) string {
	if strings.Contains(named(p), p.ScientificName) {
		return ""
	}
	return p.ScientificName
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

// Bloom says which months have flowers, and which that are wished for, or else of the
// growing season, have none.
func (d Choose) Bloom() string {
	var missing []int
	for _, m := range d.BloomWanted {
		if !slices.Contains(d.BloomMonths, m) {
			missing = append(missing, m)
		}
	}
	words := Months(d.BloomMonths)
	switch {
	case len(missing) > 0 && d.bloomWished:
		words += "; wanted but nothing in " + Months(missing)
	case len(missing) > 0:
		words += "; nothing in " + Months(missing) + ", though plants grow then"
	}
	return words
}

// labelsShown is how many labels that do not hold are named.
const labelsShown = 3

// labels says where the zones of the plant table do not hold.
func (d Choose) labels(p *plants.Planting) []doc.Block {
	var wrong []string
	for _, l := range d.Labels {
		if l.Tagged {
			wrong = append(wrong, fmt.Sprintf("%s, sold for the %s: %s a year; %s", l.VernacularName, l.Zone, risk(float64(l.YearlyRisk), false), l.Reason))
		}
	}
	untagged := len(d.Labels) - len(wrong)
	if len(d.Labels) == 0 {
		return nil
	}
	out := []doc.Block{doc.Line(""), doc.Text{Lead: "Labels", Hang: 2, Words: fmt.Sprintf("here %s not hold (the plant would pass its limits in a zone it is sold for), and %s live in a zone that its label leaves out.",
		plural(len(wrong), "label does", "labels do"), plural(untagged, "plant would", "plants would"))}, doc.List{Items: wrong[:min(labelsShown, len(wrong))]}}
	if more := len(wrong) - labelsShown; more > 0 {
		out = append(out, doc.Text{Words: fmt.Sprintf("... and %d more: --json, or --why NAME", more), In: 2, Whole: true})
	}
	return []doc.Block{doc.Fold{Short: []doc.Block{doc.Line(fmt.Sprintf("Labels: %d in the plant table do not hold here, %d leave out a zone: --all.", len(wrong), untagged))}, Full: out, Screen: true}}
}

// alternativesShown is how many are named for a line, beyond the first none that costs
// more than poorChange of the list's value; --json has all.
const alternativesShown, poorChange = 3, 0.01

// alternatives are the next best species for each line.
func (d Choose) alternatives(p *plants.Planting) doc.Table {
	t := doc.Table{Caption: fmt.Sprintf("Up to %d others for each line, best first, within the same wishes", alternativesShown), Prose: alternativeLines, Columns: []doc.Column{
		{Head: "for"}, {Head: "instead"}, {Head: "plants", Right: true, Know: "list"}, {Head: "apart", Right: true, Know: "spacing"},
		{Head: "risk a year", Right: true, Know: "risk"}, {Head: "the list changes by", Right: true, Know: "list"}, {Head: "closest limit", Under: true, Know: "reason"},
	}}
	for i, l := range d.Lines {
		first := fmt.Sprintf("%s: %d %s, risk %s a year", strings.ToUpper(l.Zone), l.Count, named(&p.Lines[i].Plant), risk(float64(l.YearlyRisk), len(l.Assumed) > 0))
		if len(l.Alternatives) == 0 {
			t.Rows = append(t.Rows, doc.Cells(first, "none that keeps within the wishes", "", "", "", "", ""))
		}
		for k, a := range l.Alternatives[:worthNaming(p, i)] {
			v := *p.Lines[i].Next[k].Verdict
			t.Rows = append(t.Rows, []doc.Cell{
				{Words: first}, {Words: named(&v.Plant), ID: a.ID}, {Words: fmt.Sprint(a.Count)}, {Words: d.Garden.Units.Length(v.Plant.SpreadCM / 100)},
				riskCell(v, p), {Words: fmt.Sprintf("%+.4f", p.Lines[i].Next[k].Change)}, {Words: strings.Join(append([]string{a.Reason}, mind(v.Plant)...), "; ")},
			})
			first = ""
		}
	}
	return t
}

// worthNaming is how many of the next best for a line are named.
func worthNaming(p *plants.Planting, i int) int {
	n := 0
	for k, a := range p.Lines[i].Next {
		if k == alternativesShown || k > 0 && a.Change < -poorChange*p.Objective {
			break
		}
		n++
	}
	return n
}

// insteadShown is how many of them the printed report has.
const insteadShown = 2

// Instead are the next best in few words, with whom they harm.
func (d Choose) Instead() []doc.Block {
	var out doc.List
	for i, l := range d.in.Lines {
		out.Items = append(out.Items, fmt.Sprintf("%s, %d %s: %s", l.Zone, l.Count, named(&l.Plant), d.others(i, "%s")))
	}
	return []doc.Block{doc.Heading("Next best for each line"), doc.Text{Words: "Plants that would do nearly as well, best first, each with its yearly risk.", Know: "list"}, out}
}

// others are the next best for a line, with the risk a year and whom they harm.
func (d Choose) others(i int, risk string) string {
	l := d.in.Lines[i]
	out := []string{"none that keeps within the wishes"}[min(1, len(l.Next)):]
	for _, a := range l.Next[:min(insteadShown, worthNaming(d.in, i))] {
		facts := append([]string{fmt.Sprintf(risk, riskCell(*a.Verdict, d.in).Words)}, mind(a.Verdict.Plant)...)
		out = append(out, fmt.Sprintf("%d %s (%s)", a.Count, named(&a.Verdict.Plant), strings.Join(facts, "; ")))
	}
	return strings.Join(out, ", ")
}

// alternativeLines prints a line of the list and the first that could stand in
// its place, or one more of those.
func alternativeLines(w io.Writer, row []string) {
	if row[0] != "" {
		fmt.Fprintf(w, "\n%s\n", row[0])
	}
	if row[2] == "" {
		fmt.Fprintln(w, "  "+row[1])
		return
	}
	plantRow(w, row[1], row[2], row[3], row[4]+" a year")
	doc.Wrap(w, "        ", "        ", row[6]+"; the list changes by "+row[5])
}
