package care

import (
	"fmt"
	"time"

	"hollowbed/zones/site"
)

// topUpShare: on a visit for another zone's sake, a zone that has used this much of
// its easy water is watered too. Common practice, no source.
const topUpShare = 0.5

// Together makes one schedule of the plans of a bed's zones: somebody goes out when
// the thirstiest zone asks for it, and waters what else has used half of its easy
// water. Typical and Dry are then the same year in all plans, by the litres of the
// whole bed. plans are those of stands, in their order.
func (b *Bed) Together(stands []Stand, plans []*Plan, planted MonthDay) {
	var courses []course
	for i, p := range plans {
		courses = append(courses, b.byDepletion(stands[i], p.Band, p.GapDays))
		p.Years = nil
	}
	var litres []float64
	for _, from := range b.starts(planted) {
		sum := 0.0
		for i, season := range together(courses, from, from+b.span()) {
			plans[i].Years = append(plans[i].Years, season)
			sum += season.Litres
		}
		litres = append(litres, sum)
	}
	typical, dry := nearest(litres, site.QuantileWeibull(litres, 0.5)), nearest(litres, site.OneYearInTen(litres))
	for i, p := range plans {
		p.Typical, p.Dry = typical, dry
		for k := range p.ByRule {
			if rule := b.Setting.rule(); p.ByRule[k].Rule == rule {
				p.ByRule[k] = b.sum(stands[i], rule, p.Years)
			}
		}
	}
}

// WeeklyInDrought is what it takes to water grown stands whenever their easy water is
// gone, once a week at most: litres and visits by year. years are indices in the run's.
func (b *Bed) WeeklyInDrought(stands []Stand, years []int) (litres []float64, visits []int) {
	var courses []course
	for _, s := range stands {
		if band := b.Weather.driest(s.Zone); band >= 0 {
			c := b.byDepletion(s, band, weekDays)
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

func (b *Bed) byDepletion(s Stand, band, gapDays int) course {
	return course{bed: b, offeredMM: b.Weather.Run.OfferedMM[band], stand: s, rootCM: s.rootCM(b.Ground), rule: b.Setting.rule(), gapDays: gapDays}
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
	for d := from; d < to; d++ {
		visit := false
		for i, k := range all { // copies: what they do today is only looked at
			before := len(k.season.Waterings)
			k.on(courses[i], d+1)
			visit = visit || len(k.season.Waterings) > before
		}
		for i := range all {
			courses[i].visit = visit
			all[i].on(courses[i], d+1)
			courses[i].visit = false
		}
	}
	var out []Season
	for _, k := range all {
		out = append(out, k.ended())
	}
	return out
}

// ThisYear walks the zones of a bed, with the gaps of their plans, from the day they
// were planted to the end of the weather at hand: the record so far, then the
// forecast. A watering waits for rain that the forecast brings within a day.
func (b *Bed) ThisYear(stands []Stand, plans []*Plan, plantedOn time.Time) ([]Season, error) {
	w := b.Weather
	from := w.DayOf(plantedOn)
	if from < 0 || from >= len(w.RainMM) {
		return nil, &outsideError{Date: plantedOn, From: w.Start, To: w.date(len(w.RainMM) - 1)}
	}
	var courses []course
	for i, s := range stands {
		band := w.driest(s.Zone)
		if band < 0 {
			return nil, fmt.Errorf("care: the bed has no zone %q", s.Zone)
		}
		c := b.byDepletion(s, band, plans[i].GapDays)
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
