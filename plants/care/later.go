package care

import (
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
	Source        string
}

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
// calendar from the time before growth on. What comes every year is in Standing.
// Common practice, no source, but where a source stands.
func Laters(s Seasons, planting []time.Month, stands []Stand) []Later {
	before, spring, summer := after(s.Wake, -1), after(s.Wake, 1), after(s.Wake, max(len(s.Growing), 6)/2)
	every := []int{2, 3, 4, 5}
	all := []Later{
		{ID: "old-wood", Title: "Take out the oldest stems of shrubs", Do: "At the ground, a third at most, so that young ones follow.", Years: []int{4, 5}, Months: []time.Month{before},
			Plants: named(stands, func(g Group) bool { return g.Plant.Form == "shrub" && g.Plant.Evergreen != "yes" })},
		{ID: "drain-time", Title: "Time how long a full pond stands, and loosen the bottom if it is over a day", Do: "Note when it has gone. Take the sediment off first; then loosen the bottom with a fork between the plants, no deeper than the mix, while it is dry, and never tread it wet. If water stands again, ask somebody licensed to look at the ground and at the way out.", Years: every, Months: []time.Month{spring}},
		{ID: "repair-inlet", Title: "Set stones and rim anew where water has moved them", Do: "The lowest point of the rim must be the overflow, and the water must not fall onto bare soil.", Years: every, Months: []time.Month{spring}, Source: careGuide},
		{ID: "thin", Title: "Thin what seeds itself or runs", Do: "Pull seedlings where they crowd others, and cut runners off with a spade. Wear gloves, and throw nothing of it into wild places.", Years: every, Months: []time.Month{spring, summer},
			Plants: named(stands, func(g Group) bool { return g.Plant.Spreads == "runs" || g.Plant.Spreads == "seeds" })},
		{ID: "bare-ground", Title: "Mulch only where the ground still shows", Do: "From the third year on plants should cover it; where they do not, plant more of what thrives next to it.", Years: []int{3, 4, 5}, Months: []time.Month{spring}},
		{ID: "divide", Title: "Divide clumps that are bare in the middle or crowd their neighbours", Do: "Wear gloves. Lift them with a spade's depth of soil, cut them into pieces with roots and shoots, and set these where there are gaps. Have buried services marked before you dig deeper than the mix.", Years: []int{3, 4, 5}, Months: starts(planting),
			Plants: named(stands, func(g Group) bool {
				return slices.Contains([]string{"forb", "grass-like", "fern-like", "groundcover"}, g.Plant.Form)
			})},
		{ID: "bulbs", Title: "Lift and part bulbs that have stopped flowering", Do: "When their leaves have gone yellow, not before.", Years: []int{4, 5}, Months: []time.Month{summer},
			Plants: named(stands, func(g Group) bool { return g.Plant.Form == "bulb" })},
	}
	forPlants := []string{"old-wood", "thin", "divide", "bulbs"}
	all = slices.DeleteFunc(all, func(l Later) bool { return len(l.Plants) == 0 && slices.Contains(forPlants, l.ID) })
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
