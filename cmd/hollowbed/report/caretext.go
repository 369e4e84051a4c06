package report

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/plants/care"
)

// Text prints the first year: what to do first, then why and what it rests on.
func (d Care) Text(w io.Writer) {
	d.Garden.title(w, "The first year")
	d.Record.line(w)
	fmt.Fprintln(w)
	d.adviceText(w)
	d.zonesText(w)
	d.datesText(w)
	d.rulesText(w)
	d.plantsText(w)
	d.letInText(w)
	d.tasksText(w)
	if len(d.Notes) > 0 {
		wrap(w, "Notes: ", "  ", Plain(strings.Join(d.Notes, "; "))+".")
	}
	wrap(w, "", "", strings.Join(d.Cautions, " "))
}

// water prints litres.
func (d Care) water(litres Number) string { return d.Garden.Units.Water(float64(litres) / 1000) }

func (d Care) adviceText(w io.Writer) {
	typical, dry, inch := 0.0, 0.0, 0.0
	for _, z := range d.Zones {
		typical += float64(z.rule(care.ByDepletion).TypicalLitres)
		dry += float64(z.rule(care.ByDepletion).DryLitres)
		inch += float64(z.rule(care.InchAWeek).SavedLitres)
	}
	from := d.PlantedFrom
	if d.PlantedAssumed {
		from = "assumed: " + from
	}
	s := fmt.Sprintf("Planted %s (%s). Water by hand until %s: about %s in a typical year, %s in a dry one (one in ten)", d.Planted, from, d.RootedOn, d.water(Number(typical)), d.water(Number(dry)))
	switch {
	case inch > 0:
		s += fmt.Sprintf("; an inch a week, whatever the rain, would take %s more", d.water(Number(inch)))
	case inch < 0:
		s += fmt.Sprintf("; an inch a week, whatever the rain, would take %s less, and leave more risk", d.water(Number(-inch)))
	}
	wrap(w, "", "", s+". Water once the young roots have used the easy water, and soak their whole depth: deep and seldom draws roots down.")
	if y := d.ThisYear; y != nil {
		wrap(w, "", "", careDatesFrom(d.in)+" "+heavyDays(y.Heavy))
	}
	fmt.Fprintln(w)
}

func heavyDays(days []string) string {
	if len(days) == 0 {
		return "No heavy rain since planting."
	}
	return "Heavy rain since planting: " + strings.Join(days, ", ") + "."
}

func (z CareZone) rule(rule care.Rule) CareRule {
	for _, r := range z.Rules {
		if r.Rule == string(rule) {
			return r
		}
	}
	panic("report: no rule " + string(rule))
}

func (d Care) zonesText(w io.Writer) {
	var rows []table.Row
	whys := map[string][]string{}
	for _, z := range d.Zones {
		visits := z.visits()
		rows = append(rows, table.Row{z.Zone, z.Plants, plural(z.GapDays, "day", "days"), d.Garden.Units.Length(float64(z.RootCM) / 100), len(visits), len(z.Dry), d.span(visits), minutesSpan(visits)})
		whys[z.GapWhy] = append(whys[z.GapWhy], z.Zone)
	}
	visits := "visits"
	if d.ThisYear != nil {
		visits = "to " + d.ThisYear.To
	}
	grid(w, table.Row{"zone", "plants", "gap at least", "roots go", visits, "dry year", "each time, first to last", "at " + hoseRate(d.Garden.Units, float64(d.HoseLMin))},
		[]string{"plants", visits, "dry year"}, rows)
	var why []string
	for _, text := range slices.Sorted(maps.Keys(whys)) {
		why = append(why, strings.Join(whys[text], " and ")+", "+text)
	}
	wrap(w, "Why the gaps: ", "  ", strings.Join(why, "; ")+".")
	fmt.Fprintln(w)
}

// visits are those of this year if it is given, else of the typical year.
func (z CareZone) visits() []CareVisit {
	if z.ThisYear != nil {
		return z.ThisYear
	}
	return z.Typical
}

func (d Care) span(visits []CareVisit) string {
	if len(visits) == 0 {
		return "none"
	}
	return d.water(visits[0].Litres) + " to " + d.water(visits[len(visits)-1].Litres)
}

func minutesSpan(visits []CareVisit) string {
	if len(visits) == 0 {
		return ""
	}
	return careMinutes(float64(visits[0].Minutes)) + " to " + careMinutes(float64(visits[len(visits)-1].Minutes))
}

// datesText prints on which days to water.
func (d Care) datesText(w io.Writer) {
	if d.ThisYear != nil {
		fmt.Fprintln(w, "When, this year; what lies behind you, you have done or missed:")
	} else {
		fmt.Fprintln(w, "When, had your year the rain of a typical one; feel the soil before each:")
	}
	var dry []string
	for _, z := range d.Zones {
		head := "  " + z.Zone + ": "
		if z.ThisYear == nil {
			head = fmt.Sprintf("  %s, as %d: ", z.Zone, z.TypicalYear)
		}
		wrap(w, head, "    ", visitDays(d.Planted[:4], z.visits()))
		dry = append(dry, fmt.Sprintf("%s as %d", z.Zone, z.DryYear))
	}
	if d.ThisYear == nil {
		wrap(w, "  ", "    ", "Dates of a dry year ("+strings.Join(dry, ", ")+"): --csv.")
	}
	fmt.Fprintln(w)
}

// visitDays prints days by the month: "Oct 18 25, 2027 Apr 2". year is the one
// that needs no telling, of planting.
func visitDays(year string, visits []CareVisit) string {
	if len(visits) == 0 {
		return "none"
	}
	out, month := "", year
	for i, v := range visits {
		day := strings.TrimPrefix(v.Date[8:], "0")
		switch {
		case v.Date[:7] == month:
			out += " " + day
			continue
		case i > 0:
			out += ", "
		}
		if v.Date[:4] != month[:4] {
			out += v.Date[:4] + " "
		}
		month = v.Date[:7]
		m := int(month[5]-'0')*10 + int(month[6]-'0')
		out += monthName(m) + " " + day
	}
	return out
}

// rulesText prints what each way to water takes and leaves.
func (d Care) rulesText(w io.Writer) {
	head := table.Row{"water, plants lost to drought"}
	for _, z := range d.Zones {
		head = append(head, z.Zone)
	}
	head = append(head, "in all")
	var rows []table.Row
	for i, r := range d.Zones[0].Rules {
		row, sum := table.Row{r.Rule}, 0.0
		if r.Rule == string(care.ByDepletion) {
			row[0] = "this plan"
		}
		for _, z := range d.Zones {
			row = append(row, d.water(z.Rules[i].TypicalLitres)+", "+strings.Replace(risk(float64(z.Rules[i].Lost), false), "under ", "<", 1))
			sum += float64(z.Rules[i].TypicalLitres)
		}
		rows = append(rows, append(row, d.water(Number(sum))))
	}
	grid(w, head, nil, rows)
	wrap(w, "", "", "A typical year. Losses count every plant as shallow as the shallowest of its zone.")
	fmt.Fprintln(w)
}

// careVerdicts lists the verdicts from the easiest plant to the hardest.
func careVerdicts() []care.Verdict {
	return []care.Verdict{care.SafeFromStart, care.SafeWatered, care.SafeKeptDry, care.SafeBridged, care.SafeLater, care.NotSafe, care.NotKnown}
}

func (d Care) plantsText(w io.Writer) {
	wrap(w, "", "", fmt.Sprintf("Which plants need help, by their own roots; young ones bear half, %s risk is accepted:", d.Garden.Units.Percent(float64(d.RiskMax))))
	for _, v := range careVerdicts() {
		var names []string
		var alone, helped riskSpan
		litres := 0.0
		for _, p := range d.Plants {
			if p.Verdict != string(v) {
				continue
			}
			names = append(names, fmt.Sprintf("%d %s (%s)", p.Count, p.VernacularName, p.Zone))
			alone.add(p.Alone)
			helped.add(p.help())
			litres += float64(p.Count) * float64(p.TypicalLitres)
		}
		if len(names) == 0 {
			continue
		}
		what := ""
		if v != care.NotKnown {
			what = " Risk of the year without help " + alone.String()
		}
		if v != care.NotKnown && v != care.SafeFromStart {
			what += ", with it " + helped.String()
		}
		if v == care.SafeWatered || v == care.SafeBridged || v == care.SafeLater {
			what += fmt.Sprintf("; one plant at a time the help takes %s in a typical year", d.water(Number(litres)))
		}
		if what != "" {
			what += "."
		}
		wrap(w, "  - ", "    ", string(v)+": "+Plain(strings.Join(names, ", "))+"."+what)
	}
	fmt.Fprintln(w)
}

// help is the risk with the help that the verdict speaks of.
func (p CarePlant) help() Number {
	switch care.Verdict(p.Verdict) {
	case care.SafeWatered:
		return p.Watered
	case care.SafeKeptDry:
		return p.KeptDry
	}
	return p.Bridged
}

// riskSpan is the least and the greatest of some risks.
type riskSpan struct {
	least, most float64
	some        bool
}

func (r *riskSpan) add(n Number) {
	v := float64(n)
	if math.IsNaN(v) {
		return
	}
	if !r.some {
		r.least, r.most, r.some = v, v, true
	}
	r.least, r.most = min(r.least, v), max(r.most, v)
}

func (r riskSpan) String() string {
	if !r.some {
		return "not known"
	}
	low, high := risk(r.least, false), risk(r.most, false)
	switch {
	case low == high:
		return low
	case strings.HasPrefix(low, "under"):
		return "up to " + high
	}
	return low + " to " + high
}

// letInText says when to let the roof water in, and what each week risks.
func (d Care) letInText(w io.Writer) {
	l := d.LetIn
	wrap(w, "", "", "When to let the roof water in: "+d.letInAdvice())
	var rows []table.Row
	for _, row := range []struct {
		name string
		week *CareWeek
	}{{"at planting", &l.Weeks[0]}, {"earliest", l.Earliest}, {"best", l.Best}, {"latest", l.Latest}} {
		switch {
		case row.name == "earliest" && row.week != nil && row.week.Week == 0:
			continue // told as at planting
		case row.week == nil:
			rows = append(rows, table.Row{row.name, "none", "", "", "", "", ""})
			continue
		}
		k := row.week
		rows = append(rows, table.Row{row.name, k.Week, k.Date, risk(float64(k.Drowned), false), risk(float64(k.Watered), false), risk(float64(k.Parched), false), d.water(k.Litres)})
	}
	grid(w, table.Row{"", "week", "from", "drowned", "parched, watered", "parched, not watered", "hose"}, []string{"week", "drowned", "parched, watered", "parched, not watered", "hose"}, rows)
	season := ""
	if l.WetMarked {
		season = fmt.Sprintf("%s of the rain falls in the six months from %s. ", d.Garden.Units.Percent(float64(l.WetShare)), monthName(l.WetFrom))
	}
	wrap(w, "", "", season+strings.Join(l.Cautions, " "))
	fmt.Fprintln(w)
}

func (d Care) letInAdvice() string {
	l, most := d.LetIn, d.Garden.Units.Percent(float64(d.RiskMax))
	switch {
	case l.Best == nil:
		return "not known, the plant table does not say what these plants bear."
	case l.Earliest == nil:
		return fmt.Sprintf("in no week of the first year do fewer than %s drown; week %d (%s) loses the fewest. Choose plants that bear more, or a bed that drains faster.", most, l.Best.Week, l.Best.Date)
	case l.Clash:
		return fmt.Sprintf("not before week %d (%s), and water by hand until then: earlier more than %s would drown, and left dry more than that would parch.", l.Earliest.Week, l.Earliest.Date, most)
	case l.Best.Week == 0:
		return fmt.Sprintf("from the day of planting: %s would drown, and waiting would spare none.", risk(float64(l.Best.Drowned), false))
	}
	if l.Latest == nil || l.Latest.Week == l.Weeks[len(l.Weeks)-1].Week {
		return fmt.Sprintf("best in week %d (%s): before, more young plants drown, and waiting costs hardly any, only hose water.", l.Best.Week, l.Best.Date)
	}
	return fmt.Sprintf("best in week %d (%s): before, more young plants drown; from week %d on, too many more would parch without a hose.", l.Best.Week, l.Best.Date, l.Latest.Week+1)
}

// tasksText prints the standing calendar.
func (d Care) tasksText(w io.Writer) {
	var parts []string
	heavy := ""
	for _, t := range d.in.Tasks {
		var months []int
		for _, m := range t.Months {
			months = append(months, int(m))
		}
		when := lowerFirst(t.Title) + " " + Months(months)
		switch {
		case t.Day == 0:
			heavy = t.Title + ": " + d.after(t)
			continue
		case t.Young:
			when += fmt.Sprintf(", every %d days in the first year, then monthly", t.Every)
		case t.ID == "weeds":
			continue // told beside its twin of the first year
		}
		parts = append(parts, when)
	}
	wrap(w, "Through the year: ", "  ", strings.Join(parts, "; ")+".")
	wrap(w, "", "  ", heavy+" More: --checklist to print, --ics FILE for your calendar, --today.")
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
