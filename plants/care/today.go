package care

import (
	"fmt"
	"time"
)

// Today is what to do today.
type Today struct {
	Date  time.Time
	Water []ZoneToday // zones in the order given
	Look  look
	Tasks []Due // due today or in the six days before
	Next  *Due  // the first after today, if none is due
}

// ZoneToday is one zone's watering.
type ZoneToday struct {
	Zone     string
	Now      bool // water today
	Litres   float64
	Minutes  float64
	RootCM   float64   // soak to this depth
	Next     time.Time // the next watering that the forecast foresees; zero if none
	Rooted   float64   // 1: it needs no more watering
	Watched  bool      // today lies within the weather at hand
	Forecast time.Time // last day that the weather at hand knows
}

// look says whether heavy rain calls for a look at the bed.
type look struct {
	Now    bool
	RainMM float64   // of the wettest of the last days, if Now
	Fell   time.Time // that day
}

// lookBackDays is how many days after a heavy rain a look still serves.
// Common practice, no source.
const lookBackDays = 2

// Today puts together what to do on a day. seasons are the stands' seasons of
// this year (ThisYear), in their order; heavyMM is the daily rain that calls
// for a look; dated are the tasks about now (Dated).
func (b *Bed) Today(now time.Time, stands []Stand, seasons []Season, heavyMM float64, dated []Due) Today {
	t := Today{Date: now, Look: b.Weather.lookToday(now, heavyMM)}
	for i, s := range stands {
		t.Water = append(t.Water, b.waterToday(s.Zone, seasons[i], now))
	}
	t.Tasks, t.Next = TasksToday(dated, now)
	return t
}

// waterToday reads a zone's season of this year on a day.
func (b *Bed) waterToday(zone string, s Season, now time.Time) ZoneToday {
	w := b.Weather
	today, last := w.DayOf(now), len(w.RainMM)-1
	z := ZoneToday{
		Zone: zone, Watched: today <= last && !now.Before(s.From), Forecast: w.date(last),
		Rooted: b.rootedOn(w.DayOf(s.From), today),
	}
	if !z.Watched {
		return z
	}
	for _, visit := range s.Waterings {
		switch {
		case visit.Day == today:
			z.Now, z.Litres, z.Minutes, z.RootCM = true, visit.Litres, visit.Minutes, visit.RootCM
		case visit.Day > today && z.Next.IsZero():
			z.Next = visit.Date
		}
	}
	return z
}

// lookToday says whether the last days had heavy rain. heavyMM not above 0
// never calls.
func (w *Weather) lookToday(now time.Time, heavyMM float64) look {
	var out look
	today := w.DayOf(now)
	for d := max(0, today-lookBackDays); d <= today && d < min(w.Known, len(w.RainMM)); d++ {
		if heavyMM > 0 && w.RainMM[d] >= heavyMM && w.RainMM[d] > out.RainMM {
			out = look{Now: true, RainMM: w.RainMM[d], Fell: w.date(d)}
		}
	}
	return out
}

// TasksToday picks from dated tasks those due today or within the six days
// before, and else the next one. Watering in is due on its day alone.
func TasksToday(dated []Due, now time.Time) (due []Due, next *Due) {
	day := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC)
	for i := range dated {
		t := dated[i].Date
		on := time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
		switch {
		case on.After(day):
			if next == nil && len(due) == 0 {
				next = &dated[i]
			}
		case on.Equal(day) || dated[i].Task.ID != waterInID && on.After(day.AddDate(0, 0, -weekDays)):
			due = append(due, dated[i])
		}
	}
	if len(due) > 0 {
		next = nil
	}
	return due, next
}

// Show words figures in the gardener's units.
type Show struct {
	Litres  func(l float64) string
	DepthMM func(mm float64) string
	LongCM  func(cm float64) string
}

// Metric words figures in litres, millimetres and centimetres.
func Metric() Show {
	return Show{
		Litres:  func(l float64) string { return fmt.Sprintf("%.0f L", l) },
		DepthMM: func(mm float64) string { return fmt.Sprintf("%.0f mm", mm) },
		LongCM:  func(cm float64) string { return fmt.Sprintf("%.0f cm", cm) },
	}
}

// Lines says it in three lines: water, look, hand work.
func (t Today) Lines(show Show) [3]string {
	return [3]string{t.waterLine(show), t.lookLine(show), t.taskLine()}
}

func (t Today) waterLine(show Show) string {
	line, rooted := "", len(t.Water) > 0
	var next, known time.Time
	for _, z := range t.Water {
		rooted = rooted && z.Rooted >= 1
		if !z.Watched {
			return "Water: not known, the weather at hand ends " + day(z.Forecast) + ". Feel the soil a finger deep."
		}
		if known = z.Forecast; z.Now {
			line += fmt.Sprintf("; %s %s (%.0f min), to %s deep", z.Zone, show.Litres(z.Litres), max(1, z.Minutes), show.LongCM(z.RootCM))
		}
		if !z.Next.IsZero() && (next.IsZero() || z.Next.Before(next)) {
			next = z.Next
		}
	}
	switch {
	case line != "":
		return "Water: " + line[2:] + "."
	case rooted:
		return "Water: none, the plants have rooted."
	case !next.IsZero():
		return "Water: none today, next likely " + day(next) + "."
	case known.IsZero():
		return "Water: nothing is planted."
	}
	return "Water: none through " + day(known) + ", as far as the weather is known."
}

func (t Today) lookLine(show Show) string {
	if !t.Look.Now {
		return "Look: no heavy rain lately."
	}
	return fmt.Sprintf("Look: %s fell on %s. Is the inlet open, the water gone, soil and mulch in place?", show.DepthMM(t.Look.RainMM), day(t.Look.Fell))
}

func (t Today) taskLine() string {
	if len(t.Tasks) == 0 && t.Next == nil {
		return "Hands: nothing due."
	}
	if len(t.Tasks) == 0 {
		return "Hands: nothing this week; next is " + lowerFirst(t.Next.Task.Title) + ", " + day(t.Next.Date) + "."
	}
	line := "Hands: "
	for i, d := range t.Tasks {
		if i > 0 {
			line += "; "
		}
		line += lowerFirst(d.Task.Title)
	}
	return line + "."
}

func day(t time.Time) string { return t.Format("2 January") }

func lowerFirst(s string) string {
	if s == "" || s[0] < 'A' || s[0] > 'Z' {
		return s
	}
	return string(s[0]+'a'-'A') + s[1:]
}
