package care

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Later is what a bed asks for in some of the years after its first, with the
// plants that it is about; none: the bed itself.
type Later struct {
	ID, Title, Do string
	Years         []int // of the bed's life, from 2 on
	Months        []time.Month
	Plants        []string
	Noted         string // what notes say of it; "" for nothing
	Source        string
}

// Noted is what the notes of a bed tell of its later years: kinds with how many of them,
// and the longest that a pond was watched.
type Noted struct {
	Died, Spread, Thrive, Silted, Washed []string
	PondH                                float64           // hours; 0 if none was watched
	PondLeft                             bool              // water was left after them
	PondOn                               string            // day
	Drifts                               map[string]string // drifts of a kind, by its name
	Year                                 int               // of the bed's life in which what was noted is mended, from 2 on
}

// dayH is how long water may stand: longer harms most plants, and the bottom may be
// clogged. The usual target of handbooks, as target.drain_within.
const dayH = 24

// pond says what was seen of ponds.
func (n Noted) pond() string {
	switch {
	case n.PondH == 0:
		return ""
	case n.PondLeft:
		return fmt.Sprintf("by your notes water still stood after %.0f h on %s", n.PondH, n.PondOn)
	case n.PondH <= dayH:
		return fmt.Sprintf("by your notes the longest pond was gone in %.0f h (%s): nothing to loosen", n.PondH, n.PondOn)
	}
	return fmt.Sprintf("by your notes a pond stood %.0f h (%s): loosen it", n.PondH, n.PondOn)
}

// because says of which kinds something was noted.
func because(what string, kinds []string) string {
	if len(kinds) == 0 {
		return ""
	}
	return "by your notes " + what + ": " + strings.Join(kinds, ", ")
}

// lastYear is the last that is looked ahead to.
const lastYear = 5

// laterDay is the day of a month that stands for all of it.
const laterDay = 15

// Dates lists the days on which a bed that was planted on one is due for it. Year
// 2 begins a year after planting.
func (l Later) Dates(planted time.Time) []time.Time {
	var out []time.Time
	for _, year := range l.Years {
		from, to := planted.AddDate(year-1, 0, 0), planted.AddDate(year, 0, 0)
		for d := time.Date(from.Year(), from.Month(), laterDay, 0, 0, 0, 0, from.Location()); d.Before(to); d = d.AddDate(0, 1, 0) {
			if !d.Before(from) && slices.Contains(l.Months, d.Month()) {
				out = append(out, d)
			}
		}
	}
	return out
}

// Laters lists what the second to the fifth year ask for, in the order of the
// calendar from the time before growth on, what notes ask for before the rest. What
// comes every year is in Standing. Common practice, no source, but where a source stands.
func Laters(s Seasons, planting []time.Month, stands []Stand, noted Noted) []Later {
	before, spring, summer := after(s.Wake, -1), after(s.Wake, 1), after(s.Wake, max(len(s.Growing), 6)/2)
	every := []int{2, 3, 4, 5}
	next := []int{max(2, noted.Year)}
	all := []Later{
		{ID: "died", Title: "Plant anew what died", Do: "The same kind may fail there again: hollowbed move says what would live in its place, and whether a piece of one that thrives will do.", Years: next, Months: starts(planting), Noted: because("these died", noted.Died)},
		{ID: "silt", Title: "Take silt off the plants it has buried", Do: "Down to the soil they were planted in, by hand, while it is moist; then see where it comes from: bare ground uphill, or the inlet.", Years: next, Months: []time.Month{s.Wake}, Noted: because("buried in silt", noted.Silted), Source: careGuide},
		{ID: "old-wood", Title: "Take out the oldest stems of shrubs", Do: "At the ground, a third at most, so that young ones follow.", Years: []int{4, 5}, Months: []time.Month{before},
			Plants: named(stands, func(g Group) bool { return g.Plant.Form == "shrub" && g.Plant.Evergreen != "yes" })},
		{ID: "drain-time", Title: "Time how long a full pond stands, and loosen the bottom if it is over a day", Do: "Note when it has gone. Take the sediment off first; then loosen the bottom with a fork between the plants, no deeper than the mix, while it is dry, and never tread it wet. If water stands again, ask somebody licensed to look at the ground and at the way out.", Years: every, Months: []time.Month{spring}, Noted: noted.pond()},
		{ID: "repair-inlet", Title: "Set stones and rim anew where water has moved them", Do: "The lowest point of the rim must be the overflow, and the water must not fall onto bare soil.", Years: every, Months: []time.Month{spring}, Noted: because("roots washed bare", noted.Washed), Source: careGuide},
		{ID: "thin", Title: "Thin what seeds itself or runs", Do: "Pull seedlings where they crowd others, and cut runners off with a spade. Wear gloves, and throw nothing of it into wild places.", Years: every, Months: []time.Month{spring, summer}, Noted: because("spread too far", noted.Spread),
			Plants: named(stands, func(g Group) bool { return g.Plant.Spreads == "runs" || g.Plant.Spreads == "seeds" })},
		{ID: "bare-ground", Title: "Mulch only where the ground still shows", Do: "From the third year on plants should cover it; where they do not, plant more of what thrives next to it.", Years: []int{3, 4, 5}, Months: []time.Month{spring}},
		{ID: "divide", Title: "Divide clumps that are bare in the middle or crowd their neighbours", Do: "Wear gloves. Lift them with a spade's depth of soil, cut them into pieces with roots and shoots, and set these where there are gaps. Have buried services marked before you dig deeper than the mix.", Years: []int{3, 4, 5}, Months: starts(planting), Noted: because("these thrive, and give pieces first", noted.Thrive),
			Plants: named(stands, func(g Group) bool {
				return slices.Contains([]string{"forb", "grass-like", "fern-like", "groundcover"}, g.Plant.Form)
			})},
		{ID: "bulbs", Title: "Lift and part bulbs that have stopped flowering", Do: "When their leaves have gone yellow, not before.", Years: []int{4, 5}, Months: []time.Month{summer},
			Plants: named(stands, func(g Group) bool { return g.Plant.Form == "bulb" })},
	}
	forPlants := []string{"old-wood", "thin", "divide", "bulbs"}
	all = slices.DeleteFunc(all, func(l Later) bool {
		switch {
		case l.Noted != "":
			return l.Years[0] > lastYear
		case l.ID == "died" || l.ID == "silt":
			return true
		}
		return len(l.Plants) == 0 && slices.Contains(forPlants, l.ID)
	})
	for i := range all {
		if all[i].Source == "" {
			all[i].Source = commonPractice
		}
		all[i].Months = uniqueMonths(all[i].Months)
	}
	return all
}

// starts are the first months of each stretch of some months; of a whole year its
// first.
func starts(months []time.Month) []time.Month {
	out := slices.DeleteFunc(slices.Clone(months), func(m time.Month) bool { return slices.Contains(months, after(m, -1)) })
	if len(out) == 0 && len(months) > 0 {
		out = months[:1:1]
	}
	return out
}

// named lists plants of the stands once each, by name.
func named(stands []Stand, of func(Group) bool) []string {
	var out []string
	for _, s := range stands {
		for _, g := range s.Groups {
			if of(g) {
				out = append(out, g.Plant.VernacularName)
			}
		}
	}
	slices.SortFunc(out, strings.Compare)
	return slices.Compact(out)
}
