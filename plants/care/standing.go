package care

import (
	"cmp"
	"math"
	"slices"
	"time"

	"hollowbed/zones/site"
)

// Task is one thing to look after, year in, year out or in the first year.
type Task struct {
	ID     string // stable
	Title  string
	Do     string // in a sentence or two
	Months []time.Month
	Day    int     // of the month on which it is due; 0 if it is not tied to months
	RainMM float64 // due after a day with this much rain; 0 if it is not
	Every  int     // days between, within those months; 0: once a month
	Young  bool    // only until plants have rooted
	Source string
}

const commonPractice = "common practice, no source"

// careGuide is where the round of tasks is published: the Rhode Island
// Department of Environmental Management's pages on looking after such beds
// (weekly watering and weeding at first, yearly mulching, pruning, replacing
// dead plants, regular looks for erosion and sediment).
const careGuide = "Rhode Island DEM, maintaining a rain garden"

// Standing returns the standing calendar for a climate, in the order of a
// walk from the roof to the bed and then through it. heavyMM is the daily rain
// that calls for a look (HeavyRainMM); NaN leaves the figure out and the look
// to the gardener's eye.
// planting are the months in which new plants may be set, at least one.
func Standing(s Seasons, heavyMM float64, planting []time.Month) []Task {
	rain := heavyMM
	if math.IsNaN(rain) {
		rain = 0
	}
	growing := s.Growing
	if len(growing) == 0 {
		growing = allMonths()
	}
	lastLeaf := s.LeafFall[len(s.LeafFall)-1]
	spring, autumn := after(s.Wake, 1), s.LeafFall[0]
	return []Task{
		{ID: "gutters", Title: "Clean gutters and downspouts", Do: "Clear leaves and grit, and see that water reaches the downspout. Stand on firm ground or leave the ladder to a trade.", Months: uniqueMonths(append(slices.Clone(s.LeafFall), s.Wake)), Day: 20, Source: commonPractice},
		{ID: "heavy-rain", Title: "Look at the bed after heavy rain", Do: "Is the water gone within a day? Has soil or mulch moved, is the inlet open, does the overflow run where it may? Standing water that stays for days breeds mosquitoes and drowns plants.", RainMM: rain, Source: careGuide},
		{ID: "inlet", Title: "Open the inlet and take out sediment", Do: "Rake out what has settled at the inlet and on the stones before it seals the ground. Put it on a border, not on the lawn's edge or in the drain.", Months: uniqueMonths([]time.Month{s.Wake, lastLeaf}), Day: 10, Source: careGuide},
		{ID: "erosion", Title: "Look for washed-out soil", Do: "Fill gullies, set stones where water falls, and see that the rim still holds level and the overflow is whole.", Months: uniqueMonths([]time.Month{s.Wake, autumn}), Day: 10, Source: careGuide},
		{ID: "cut-back", Title: "Cut back last year's stems", Do: "Cut dead stems before new shoots are long, and take the cuttings out of the bed. Some feed or shelter wildlife through the cold: leave them until now.", Months: []time.Month{after(s.Wake, -1)}, Day: 20, Source: careGuide},
		{ID: "mulch", Title: "Top up the mulch", Do: "Shredded wood or leaves where the ground shows; keep it off the stems and out of the way of the water.", Months: []time.Month{spring}, Day: 1, Source: careGuide},
		{ID: "weeds-young", Title: "Weed by hand", Do: "Pull weeds while the ground is moist and before they seed. No weed killer and no fertiliser: what goes on the bed goes into the ground.", Months: growing, Day: 1, Every: 14, Young: true, Source: commonPractice},
		{ID: "weeds", Title: "Weed by hand", Do: "Pull weeds while the ground is moist and before they seed. No weed killer and no fertiliser: what goes on the bed goes into the ground.", Months: growing, Day: 1, Source: careGuide},
		{ID: "replace", Title: "Replace what has died", Do: "Note where it stood and what it looked like first: the place may suit another plant better. Before you dig deeper than the mix have buried services marked.", Months: uniqueMonths(starts(planting)), Day: 15, Source: careGuide},
	}
}

func allMonths() []time.Month {
	var out []time.Month
	for m := time.January; m <= time.December; m++ {
		out = append(out, m)
	}
	return out
}

// uniqueMonths sorts months and drops those named twice.
func uniqueMonths(months []time.Month) []time.Month {
	slices.Sort(months)
	return slices.Compact(months)
}

// Due is a task on a day.
type Due struct {
	Task Task
	Date time.Time
}

const waterInID = "water-in"

// lastDay is the last day that every month has.
const lastDay = 28

// waterIn is the first task of all, on the day of planting.
func waterIn() Task {
	return Task{
		ID: waterInID, Title: "Water in", Young: true, Source: commonPractice,
		Do: "Soak each root ball before it is set, and the ground around it after, slowly, until water no longer goes down at once; even before rain.",
	}
}

// settleMonths is how long a new plant is given before it counts as dead for good:
// leafless ones often shoot again. Common practice, no source.
const settleMonths = 4

// Dated lays the tasks out from one day up to but not including another, by
// date and then in their order. Watering in comes on the day of planting. Tasks
// that wait for rain are left out, as are tasks of young plants from rootedOn on,
// those of the first year's twin (weeds) before it, and replacing plants in the
// first months.
func Dated(tasks []Task, from, to, planted, rootedOn time.Time) []Due {
	var out []Due
	if !planted.Before(from) && planted.Before(to) {
		out = append(out, Due{waterIn(), planted})
	}
	for first := time.Date(from.Year(), from.Month(), 1, 0, 0, 0, 0, from.Location()); first.Before(to); first = first.AddDate(0, 1, 0) {
		for _, t := range tasks {
			if t.Day == 0 || !slices.Contains(t.Months, first.Month()) {
				continue
			}
			for day := t.Day; day <= lastDay; day += cmp.Or(t.Every, lastDay) {
				out = t.add(out, first, day, from, to, planted, rootedOn)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Due) int { return a.Date.Compare(b.Date) })
	return out
}

func (t Task) add(out []Due, first time.Time, day int, from, to, planted, rootedOn time.Time) []Due {
	date := first.AddDate(0, 0, day-1)
	young := date.Before(rootedOn)
	soon := t.ID == "replace" && date.Before(planted.AddDate(0, settleMonths, 0))
	if date.Before(from) || !date.Before(to) || t.Young && !young || t.ID == "weeds" && young || soon {
		return out
	}
	return append(out, Due{t, date})
}

// HeavyDays returns the days from one up to but not including another, of the
// record, that had at least so much rain: the day after each is the day to
// look. None if heavyMM is not above 0.
func HeavyDays(rec *site.Record, heavyMM float64, from, to int) []int {
	var out []int
	for d := max(from, 0); d < min(to, len(rec.Days)) && heavyMM > 0; d++ {
		if mm, _ := rec.DayRainMM(d); mm >= heavyMM {
			out = append(out, d)
		}
	}
	return out
}
