package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/care"
	"hollowbed/zones"
)

// word makes the blocks of a first year: what to do first, then why and what it
// rests on.
func (d *Care) word() {
	u, in := d.Garden.Units, d.in
	first, more := careAdvice(u, in)
	letIn := "When to let the roof water in: "
	soon, why := doc.First(letInAdvice(u, in))
	answer := []doc.Block{doc.Fold{Short: []doc.Block{doc.Text{Words: first}}, Full: []doc.Block{doc.Text{Words: first + " " + more, Know: "care"}}}}
	if in.This != nil {
		answer = append(answer, doc.Text{Words: careDatesFrom(in) + " " + heavyDays(in.This.Heavy)})
	}
	d.add(answered(d.Garden, "The first year", &d.Record, false, answer...)...)
	if !in.Setting.Never {
		d.add(wateringTable(u, in), doc.Screen(doc.Rest(doc.Text{Lead: "How often", Words: gapsWhy(in), Hang: 2}, doc.Line(""))))
		d.add(wateringDates(in)...)
		d.add(doc.Screen(doc.Rest(doc.Line(""), ruleTable(u, in), doc.Text{Words: "A typical year; drought alone."}, doc.Line(""))))
	}
	var sizes []string
	for _, p := range in.Plants {
		sizes = append(sizes, p.Plant.SoldAs)
	}
	d.add(doc.Rest(doc.Text{Words: fmt.Sprintf("Which plants need help, by their own roots (young ones tolerate half%s; accepted risk %s):", less(u, sizes), u.Percent(in.Setting.RiskMax))}),
		doc.Fold{Short: []doc.Block{helpedCounts(in.Plants)}, Full: []doc.Block{doc.List{Items: youngPlants(u, in)}, doc.Line("")}},
		doc.Fold{Short: []doc.Block{doc.Text{Words: letIn + soon}}, Full: []doc.Block{doc.Text{Words: letIn + soon + " " + why}, doc.Screen(letInTable(u, in))}})
	season := ""
	if s := in.LetIn.WetSeason; s.Marked {
		season = fmt.Sprintf("%s of the rain falls in the six months from %s.", u.Percent(s.Share), monthName(int(s.From)))
	}
	round, heavy := careRound(u, in.Tasks)
	d.add(doc.Screen(doc.Rest(doc.Text{Words: season}, doc.Line(""), doc.List{Title: "Through the year", Items: round, Run: true},
		doc.Text{Words: heavy, More: "More: --checklist to print, with years two to five, --ics FILE for your calendar, --today.", Hang: 2})),
		doc.List{Title: "Notes", Items: slices.DeleteFunc(slices.Clone(d.Notes), func(s string) bool { return s == d.in.badTime }), Run: true}.Cut(0), doc.Line(""),
		doc.List{Title: "Mind", Items: slices.Concat(d.LetIn.Cautions, d.Cautions), Mind: true},
		doc.Fold{Short: []doc.Block{doc.Line(""), doc.Line("All: --all. To print: --checklist. Calendar: --ics FILE. Today: --today.")}})
}

func (d *Care) add(blocks ...doc.Block) { d.Blocks = append(d.Blocks, blocks...) }

func litres(u zones.Units, l float64) string { return u.Water(l / 1000) }

// careAdvice says what the first year takes, and then how.
func careAdvice(u zones.Units, in CareIn) (first, more string) {
	from := in.PlantedFrom
	if in.PlantedAssumed {
		from = "assumed: " + from
	}
	first = fmt.Sprintf("Planted %s (%s). ", date(in.Planted), from)
	if in.badTime != "" {
		first += capital(in.badTime) + ". "
	}
	months := ""
	if m := in.When.Months; !in.Seasons.Assumed && len(m) < 12 {
		months = fmt.Sprintf("Plants may be set here in %s. ", yearMonths(m))
	}
	if in.Setting.Never {
		return first + "Water in on the day of planting, even before rain. " + neverWatered(u, in) + ".", months
	}
	typical, dry, inch := 0.0, 0.0, 0.0
	for _, p := range in.Plans {
		plan := ruleOf(p, care.ByDepletion)
		typical, dry, inch = typical+plan.TypicalLitres, dry+plan.DryLitres, inch+p.Saved(care.InchAWeek)
	}
	safe := safeAlone(in)
	switch {
	case dry == 0:
		first += "Water in on that day. After it no visit with the hose is needed: these plants live without it, at the risk that you accept. Look at them in dry weeks all the same."
	default:
		first += fmt.Sprintf("Water in on that day, then by hand until %s: %s, about %s in a typical year, %s in a dry one (one in ten).", date(in.RootedOn()), plural(len(visitsOf(in)), "visit", "visits"), litres(u, typical), litres(u, dry))
		if len(safe) == 0 {
			first += fewThirsty(in)
			break
		}
		first += " No hose for the " + join(safe) + ": by their limits the plants there live without it. Look at them in dry weeks all the same."
	}
	switch {
	case inch > 0:
		more = fmt.Sprintf("An inch a week, whatever the rain, would take %s more. ", litres(u, inch))
	case inch < 0:
		more = fmt.Sprintf("An inch a week, whatever the rain, would take %s less, and leave more risk. ", litres(u, -inch))
	}
	more += months
	if in.Watering != nil {
		first += " Later, once a week in drought, every year, as you said (wishes.watering): " + weekly(u, in.Watering) + "."
	}
	return first, more + "Water in even before rain; then water once the young roots have used the easy water, and soak their whole depth: deep and seldom draws roots down."
}

// safeAlone names the zones all of whose young plants live without the hose.
func safeAlone(in CareIn) []string {
	var out []string
	for _, s := range in.Stands {
		if len(s.Groups) > 0 && !slices.ContainsFunc(s.Groups, func(g care.Group) bool { return !g.Safe }) {
			out = append(out, s.Zone)
		}
	}
	return out
}

func ruleOf(p *care.Plan, rule care.Rule) care.RuleSum {
	i := slices.IndexFunc(p.ByRule, func(r care.RuleSum) bool { return r.Rule == rule })
	if i < 0 {
		panic("report: no rule " + string(rule))
	}
	return p.ByRule[i]
}

func heavyDays(days []time.Time) string {
	if len(days) == 0 {
		return "No heavy rain since planting."
	}
	var names []string
	for _, d := range days {
		names = append(names, date(d))
	}
	return "Heavy rain since planting: " + strings.Join(names, ", ") + "."
}

// waterings of a stand are those of this year if it is given, else of the
// typical year.
func waterings(in CareIn, stand int) []care.Watering {
	if in.This != nil {
		return in.This.Seasons[stand].Waterings
	}
	plan := in.Plans[stand]
	return plan.Years[plan.Typical].For(in.Planted)
}

func wateringTable(u zones.Units, in CareIn) doc.Table {
	visits := "visits"
	if in.This != nil {
		visits = "to " + date(in.This.To)
	}
	t := doc.Table{Caption: "Watering by zone", Know: "care", Columns: []doc.Column{
		{Head: "zone"}, {Head: "plants", Right: true}, {Head: "gap at least"}, {Head: "roots go"}, {Head: visits, Right: true}, {Head: "dry year", Right: true},
		{Head: "each time, first to last"}, {Head: "at " + hoseRate(u, in.Setting.HoseLMin)},
	}}
	for i, s := range in.Stands {
		plan, each, minutes, count := in.Plans[i], "none", "", 0
		if v := waterings(in, i); len(v) > 0 {
			last := v[len(v)-1]
			each, minutes = fromTo(litres(u, v[0].Litres), litres(u, last.Litres)), fromTo(careMinutes(v[0].Minutes), careMinutes(last.Minutes))
		}
		for _, g := range s.Groups {
			count += g.Count
		}
		t.Rows = append(t.Rows, doc.Cells(s.Zone, fmt.Sprint(count), gapWords(plan.GapDays), u.Length(plan.RootCM/100),
			fmt.Sprint(len(waterings(in, i))), fmt.Sprint(len(plan.Years[plan.Dry].For(in.Planted))), each, minutes))
	}
	return t
}

func fromTo(first, last string) string {
	if first == last {
		return first
	}
	return first + " to " + last
}

// gapWords are the fewest days between two waterings.
func gapWords(days [2]int) string {
	least := max(days[0], days[1])
	for _, d := range days {
		if d > 0 {
			least = min(least, d)
		}
	}
	if least == 0 {
		return "none"
	}
	return plural(least, "day", "days")
}

// gapsWhy says how often the hose is out in dry weather, and for whom sooner than weekly.
func gapsWhy(in CareIn) string {
	s := fmt.Sprintf("every other day for the first %d days, where it is dry. Then once a week, where roots have used their easy water", in.Setting.SettleDays)
	var names []string
	for _, p := range in.Plans {
		for _, g := range p.Sooner {
			if !slices.Contains(names, g.Plant.VernacularName) {
				names = append(names, g.Plant.VernacularName)
			}
		}
	}
	if len(names) > 0 {
		s += "; sooner while their roots are too small to last a week: " + listed(names)
	}
	return s + "."
}

// ruleTable has what each way to water takes and leaves.
func ruleTable(u zones.Units, in CareIn) doc.Table {
	t := doc.Table{Caption: "Ways to water", Know: "care", Columns: []doc.Column{{Head: "water, plants lost to drought"}}}
	for _, s := range in.Stands {
		t.Columns = append(t.Columns, doc.Column{Head: s.Zone})
	}
	t.Columns = append(t.Columns, doc.Column{Head: "in all"})
	for i, r := range in.Plans[0].ByRule {
		row, sum := []string{string(r.Rule)}, 0.0
		if r.Rule == care.ByDepletion {
			row[0] = "this plan"
		}
		for _, p := range in.Plans {
			lost := risk(p.ByRule[i].Lost, false)
			if p.ByRule[i].Lost < leastRisk {
				lost = "<2 %"
			}
			row = append(row, litres(u, p.ByRule[i].TypicalLitres)+", "+lost)
			sum += p.ByRule[i].TypicalLitres
		}
		t.Rows = append(t.Rows, doc.Cells(append(row, litres(u, sum))...))
	}
	return t
}

func yearMonths(all []time.Month) string {
	var numbers []int
	for _, m := range all {
		numbers = append(numbers, int(m))
	}
	return Months(numbers)
}

// careRound words the standing calendar, and what to do after heavy rain.
func careRound(u zones.Units, tasks []care.Task) (round []string, heavy string) {
	for _, t := range tasks {
		switch due := taskDue(u, t); {
		case t.Day == 0:
			heavy = t.Title + ": " + due + "."
		case due != "":
			round = append(round, lowerFirst(t.Title)+" "+due)
		}
	}
	return round, heavy
}

// taskDue says when a standing task is due; nothing of weeding, which is said of its
// twin of the first year.
func taskDue(u zones.Units, t care.Task) string {
	switch {
	case t.Day == 0:
		return rainFrom(u, t)
	case t.Young:
		return fmt.Sprintf("%s, every %d days in the first year, then monthly", yearMonths(t.Months), t.Every)
	case t.ID == "weeds":
		return ""
	}
	return yearMonths(t.Months)
}

// Whole are its blocks with what to look after and how, which a terminal prints
// by itself.
func (d Care) Whole() doc.Blocks {
	out := doc.List{Title: "What to look after, and how"}
	for _, t := range d.in.Tasks {
		if due := taskDue(d.Garden.Units, t); due != "" {
			out.Items = append(out.Items, fmt.Sprintf("%s (%s): %s", t.Title, due, t.Do))
		}
	}
	return append(slices.Clone(d.Blocks), out, doc.List{Title: "Years two to five", Items: laterYears(d.in)})
}

// rainFrom says from how much rain on a task is due.
func rainFrom(u zones.Units, t care.Task) string {
	if t.RainMM > 0 {
		return u.Depth(t.RainMM) + " or more in a day, some four times a year"
	}
	return "whenever it poured"
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func careCautions() []string {
	return []string{
		"Feel the soil a finger deep first: where it is moist, wait.",
		"Standing water endangers small children and, after days, breeds mosquitoes.",
		"Local rules and licensed trades come first.",
	}
}
