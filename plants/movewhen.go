package plants

import (
	"math"
	"slices"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// whenReason says why a plant is moved in some months.
type whenReason string

// The reasons.
const (
	inAutumn    whenReason = "in autumn, after bloom"          // spring bloomers
	inSpring    whenReason = "in spring, as growth begins"     // autumn bloomers
	eitherWay   whenReason = "in autumn or spring"             // bloom between, or not known
	wetSeasonOn whenReason = "as the wet season begins"        // no cold season
	beforeCool  whenReason = "before the coolest month"        // neither cold nor wet season
	leastHard   whenReason = "in the least hot and dry months" // none of these is fit
	withPartner whenReason = "with the plants that it trades places with"
)

// window is when to move a plant: the next stretch of fit months, from the day
// of planning on.
type window struct {
	From, To time.Time // first and last day
	Months   []time.Month
	Reason   whenReason
}

// climate is what the record says of the months.
type climate struct {
	seasons care.Seasons
	wet     care.WetSeason
	month   [13]care.Monthly
}

func newClimate(l *zones.Lot) *climate {
	return &climate{seasons: care.SeasonsOf(l.Record, l.Garden.Site.LatitudeDeg), wet: care.WettestHalf(l.Record), month: care.MonthsOf(l.Record)}
}

const (
	// frozenC and hotC: no plant is moved in a month that is colder in the mean,
	// or warmer and with less than half the rain that grass would use. Assumption,
	// no source; that ground must not be frozen nor plants be moved in hot dry
	// weather is common practice.
	frozenC, hotC = 0.0, 20.0
	hotDryShare   = 0.5
	// earlyBloom and lateBloom: a plant whose bloom has its middle in the first
	// third of the growing season counts as a spring bloomer, from three fifths on
	// as an autumn bloomer. Assumption, no source; that spring bloomers are moved
	// in autumn and autumn bloomers in spring: SOURCES.md [S30].
	earlyBloom, lateBloom = 1.0 / 3, 0.6
	// leastDays is how much of a window has to be left to count as this one.
	leastDays = 7
)

// unfit says whether nothing is moved in a month: frozen, or hot and dry.
func (c *climate) unfit(m time.Month) bool {
	x := c.month[m]
	return x.MeanC < frozenC || x.MeanC >= hotC && x.RainMM < hotDryShare*x.ET0MM
}

// window is the next time to move a plant.
func (c *climate) window(p catalogue.Plant, on time.Time) window {
	months, reason := c.months(p)
	months = slices.DeleteFunc(slices.Clone(months), c.unfit)
	if len(months) == 0 {
		months, reason = c.leastHard(), leastHard
	}
	return next(months, reason, on)
}

// next is the next stretch of some months of the year.
func next(months []time.Month, reason whenReason, on time.Time) window {
	slices.Sort(months)
	w := window{Months: months, Reason: reason}
	today := time.Date(on.Year(), on.Month(), on.Day(), 0, 0, 0, 0, on.Location())
	for from := time.Date(on.Year(), on.Month(), 1, 0, 0, 0, 0, on.Location()); ; from = from.AddDate(0, 1, 0) {
		if !slices.Contains(months, from.Month()) {
			continue
		}
		to := from
		for range months {
			if !slices.Contains(months, to.Month()) {
				break
			}
			to = to.AddDate(0, 1, 0)
		}
		w.From, w.To = from, to.AddDate(0, 0, -1)
		if w.From.Before(today) {
			w.From = today
		}
		if w.To.Sub(w.From).Hours() >= 24*(leastDays-1) {
			return w
		}
	}
}

// together gives plants that are moved in one go one window: the months that fit
// all of them, or else those of the one that a move harms most, weighed by its
// ground.
func together(group []PlantMove, on time.Time) {
	var hardest *PlantMove
	var common []time.Month
	for k := range group {
		m := &group[k]
		if m.Action != ActMove && m.Action != ActSwap {
			continue
		}
		if hardest == nil {
			hardest, common = m, slices.Clone(m.When.Months)
			continue
		}
		common = slices.DeleteFunc(common, func(a time.Month) bool { return !slices.Contains(m.When.Months, a) })
		if m.Disturb*m.WeightM2 > hardest.Disturb*hardest.WeightM2 {
			hardest = m
		}
	}
	if hardest == nil {
		return
	}
	joint := hardest.When
	if len(common) > 0 {
		joint = next(common, joint.Reason, on)
	}
	for k := range group {
		if m := &group[k]; !slices.Equal(m.When.Months, joint.Months) {
			reason := m.When.Reason
			if len(common) == 0 {
				reason = withPartner
			}
			m.When = joint
			m.When.Reason = reason
		}
	}
}

// months are those that fit a plant's habit, the climate's unfit ones included.
func (c *climate) months(p catalogue.Plant) ([]time.Month, whenReason) {
	spring, autumn := []time.Month{c.seasons.Wake}, c.seasons.LeafFall
	if !c.seasons.Dormant {
		if c.wet.Marked {
			return []time.Month{c.wet.From, monthAfter(c.wet.From, 1)}, wetSeasonOn
		}
		return autumn, beforeCool
	}
	middle := bloomMiddle(p)
	if middle < 0 {
		return slices.Concat(autumn, spring), eitherWay
	}
	growing := float64(len(c.seasons.Growing))
	at := math.Mod(middle-float64(c.seasons.Wake)+24, 12) / growing
	switch {
	case at < earlyBloom || at > 1.5: // just before growth counts as early
		return autumn, inAutumn
	case at >= lateBloom:
		return spring, inSpring
	}
	return slices.Concat(autumn, spring), eitherWay
}

// bloomMiddle is the middle of the months of bloom, from 1 to below 13; -1 if
// not known.
func bloomMiddle(p catalogue.Plant) float64 {
	if p.FlowerFrom < 1 || p.FlowerTo < 1 {
		return -1
	}
	long := (p.FlowerTo - p.FlowerFrom + 12) % 12
	return 1 + math.Mod(float64(p.FlowerFrom-1)+float64(long)/2, 12)
}

// leastHard are the month with the least demand over its rain, and the one
// before or after it that is the less hard; frozen ones come last.
func (c *climate) leastHard() []time.Month {
	hard := func(m time.Month) float64 {
		h := c.month[m].ET0MM - c.month[m].RainMM
		if math.IsNaN(h) {
			h = 0
		}
		if c.month[m].MeanC < frozenC {
			h += 1000
		}
		return h
	}
	best := time.January
	for m := time.January; m <= time.December; m++ {
		if hard(m) < hard(best) {
			best = m
		}
	}
	beside := monthAfter(best, 1)
	if before := monthAfter(best, 11); hard(before) < hard(beside) {
		beside = before
	}
	return []time.Month{best, beside}
}

func monthAfter(m time.Month, n int) time.Month { return time.Month((int(m)-1+n)%12 + 1) }
