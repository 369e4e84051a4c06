package care

import (
	"fmt"
	"time"
)

// topUpShare: on a visit for another zone's sake, a zone that has used this much of
// its easy water is watered too. Common practice, no source.
const topUpShare = 0.5

// WeeklyInDrought is what it takes to water grown stands whenever their easy water is
// gone, once a week at most: litres and visits by year. years are indices in the run's.
func (b *Bed) WeeklyInDrought(stands []Stand, years []int) (litres []float64, visits []int) {
	var courses []course
	for _, s := range stands {
		if band := b.Weather.driest(s.Zone); band >= 0 {
			c := b.course(s, band, ByDepletion, len(b.Weather.Run.Years))
			c.grown = true
			courses = append(courses, c)
		}
	}
	seasons := together(courses, 0, b.Weather.Known)
	for _, k := range years {
		sum, days, y := 0.0, map[int]bool{}, b.Weather.Run.Years[k]
		for _, s := range seasons {
			for _, w := range s.Waterings {
				if w.Day >= y.FromDay && w.Day < y.ToDay {
					sum += w.Litres
					days[w.Day] = true
				}
			}
		}
		litres, visits = append(litres, sum), append(visits, len(days))
	}
	return litres, visits
}

// rule is the one that the gardener keeps.
func (s Setting) rule() Rule {
	if s.Never {
		return NoWatering
	}
	return ByDepletion
}

// together walks zones side by side, from day from up to but not including day to.
func together(courses []course, from, to int) []Season {
	var all []walked
	for _, c := range courses {
		all = append(all, c.begin(from, to))
	}
	last := from
	for d := from; d < to; d++ {
		visit := false
		for i := range all {
			_, asked := courses[i].asks(&all[i])
			visit = visit || asked && d-last >= min(shortestGap, courses[i].bed.Setting.SettleGapDays)
		}
		if visit {
			last = d
		}
		for i := range all {
			all[i].step(&courses[i], visit)
		}
	}
	var out []Season
	for i := range all {
		out = append(out, all[i].ended(&courses[i]))
	}
	return out
}

// ThisYear walks the zones of a bed from the day they were planted to the end of the
// weather at hand: the record so far, then the forecast. A watering waits for rain that
// the forecast brings within a day. years are those that the plan rests on.
func (b *Bed) ThisYear(stands []Stand, years int, plantedOn time.Time) ([]Season, error) {
	w := b.Weather
	from := w.DayOf(plantedOn)
	if from < 0 || from >= len(w.RainMM) {
		return nil, &outsideError{Date: plantedOn, From: w.Start, To: w.date(len(w.RainMM) - 1)}
	}
	var courses []course
	for _, s := range stands {
		band := w.driest(s.Zone)
		if band < 0 {
			return nil, fmt.Errorf("care: the bed has no zone %q", s.Zone)
		}
		c := b.course(s, band, b.Setting.rule(), years)
		c.lookAhead = 1
		courses = append(courses, c)
	}
	return together(courses, from, len(w.RainMM)), nil
}

// outsideError says that a date lies outside the weather at hand.
type outsideError struct{ Date, From, To time.Time }

func (e *outsideError) Error() string {
	const day = "2006-01-02"
	return fmt.Sprintf("planted %s: want a day of the weather at hand, %s to %s", e.Date.Format(day), e.From.Format(day), e.To.Format(day))
}

// BadInput marks the error as one that the user can mend.
func (e *outsideError) BadInput() bool { return true }
