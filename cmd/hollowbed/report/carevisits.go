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

// visit is a day with the hose.
type visit struct {
	date  time.Time
	zones []zoneWatering
}

type zoneWatering struct {
	zone string
	care.Watering
}

// visitsOf are those of this year if it is given, else of the typical year.
func visitsOf(in CareIn) []visit {
	var out []visit
	for i, s := range in.Stands {
		for _, w := range waterings(in, i) {
			k := slices.IndexFunc(out, func(v visit) bool { return v.date.Equal(w.Date) })
			if k < 0 {
				k, out = len(out), append(out, visit{date: w.Date})
			}
			out[k].zones = append(out[k].zones, zoneWatering{s.Zone, w})
		}
	}
	slices.SortFunc(out, func(a, b visit) int { return a.date.Compare(b.date) })
	return out
}

// sum is what a visit takes.
func (v visit) sum() (litres, minutes float64) {
	for _, z := range v.zones {
		litres += z.Litres
		minutes += z.Minutes
	}
	return litres, minutes
}

func (v visit) title() string {
	if len(v.zones) == 1 {
		return "Water the " + v.zones[0].zone
	}
	return "Water the bed"
}

// how says what each zone gets, and to what depth.
func (v visit) how(u zones.Units) string {
	var each []string
	for _, z := range v.zones {
		each = append(each, fmt.Sprintf("%s %s, to %s", z.zone, litres(u, z.Litres), u.Length(z.RootCM/100)))
	}
	return strings.Join(each, "; ")
}

// wateringDates say on which days to water what: zones that are watered on the same
// days stand together.
func wateringDates(in CareIn) []doc.Block {
	plan := in.Plans[0]
	when := fmt.Sprintf("When, in %s; feel the soil before each:", yearLike(in, "a typical year", plan.Years[plan.Typical].Year))
	if in.This != nil {
		when = "When, this year; what lies behind you, you have done or missed:"
	}
	out := []doc.Block{doc.Text{Words: when}}
	days := map[string][]time.Time{}
	var order []string
	for _, v := range visitsOf(in) {
		var names []string
		for _, z := range v.zones {
			names = append(names, z.zone)
		}
		where := join(names)
		if len(names) == len(in.Stands) && len(names) > 1 {
			where = "the whole bed"
		}
		if !slices.Contains(order, where) {
			order = append(order, where)
		}
		days[where] = append(days[where], v.date)
	}
	for _, where := range order {
		out = append(out, doc.Text{Lead: where, Words: visitDays(in.Planted.Year(), days[where]), In: 2, Hang: 4})
	}
	if len(order) == 0 {
		out = append(out, doc.Text{Words: "none", In: 2})
	}
	if in.This == nil {
		out = append(out, doc.Rest(doc.Text{More: fmt.Sprintf("Dates of %s: --csv.", yearLike(in, "a dry year", plan.Years[plan.Dry].Year)), In: 2, Hang: 4}))
	}
	return out
}

// yearLike names a kind of year by one of the record; a made year has no name.
func yearLike(in CareIn, kind string, year int) string {
	if in.Exposure.Record.Climate != "" {
		return kind
	}
	return fmt.Sprintf("%s (as %d)", kind, year)
}

// visitDays words days by the month: "Oct 18 25, 2027 Apr 2". year is the one
// that needs no telling, of planting.
func visitDays(year int, days []time.Time) string {
	out := ""
	var month time.Month
	for i, day := range days {
		y, m, d := day.Date()
		if i > 0 && y == year && m == month {
			out += fmt.Sprint(" ", d)
			continue
		}
		if i > 0 {
			out += ", "
		}
		if y != year {
			out += fmt.Sprint(y, " ")
		}
		year, month = y, m
		out += fmt.Sprint(monthName(int(m)), " ", d)
	}
	return out
}

// fewShare is the share of plants up to which those that need the hose are named.
const fewShare = 0.2

// fewThirsty names the plants that need the hose where they are few and the others do
// without; "" where they are not, or where none does.
func fewThirsty(in CareIn) string {
	all, few := 0, 0
	var names []string
	for _, p := range in.Plants {
		if all += p.Count; p.Verdict != care.SafeFromStart {
			few += p.Count
			names = append(names, fmt.Sprintf("%d %s (%s)", p.Count, p.Plant.VernacularName, p.Zone))
		}
	}
	if few == 0 || float64(few) > fewShare*float64(all) {
		return ""
	}
	return fmt.Sprintf(" %d of %s live without it: once they have taken, water %s, and the others only if you like.", all-few, plural(all, "plant", "plants"), listed(names))
}
