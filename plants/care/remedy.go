package care

import (
	"slices"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
)

// Remedy is what would keep a plant that the plan does not.
type Remedy struct {
	SoldAs string     // bought in this size
	Month  time.Month // planted then
	Weeks  int        // with the roof water kept out for so long
	Risk   float64    // of its first year
}

// remedies tries, one by one, a gallon pot by the same schedule, every other month that
// is fit for planting, and keeping the roof water out until it has rooted, these two
// watered as the plant itself would ask for; it returns those that keep it.
func (b *Bed) remedies(by way, p catalogue.Plant, zone string, months []time.Month) []Remedy {
	var out []Remedy
	try := func(r Remedy, by way, p catalogue.Plant) {
		if r.Risk, _ = b.youngRisk(by, p, zone); r.Risk <= b.Setting.RiskMax {
			out = append(out, r)
		}
	}
	const large = "gallon pot"
	if slices.Contains([]string{"plug", "small pot"}, p.SoldAs) {
		larger := p
		larger.SoldAs = large
		try(Remedy{SoldAs: large}, by, larger)
	}
	own := func(by way) way {
		days := b.starts(by.planted)
		c := b.course(Stand{Zone: zone, AreaM2: 1, Groups: []Group{{Plant: p}}}, b.Weather.driest(zone), ByDepletion, len(days))
		c.weeks, by.helped = by.weeks, nil
		for _, from := range days {
			by.helped = append(by.helped, c.walk(from, from+b.span()))
		}
		return by
	}
	for _, m := range months {
		then := by
		then.planted = MonthDay{m, 1}
		if m != by.planted.Month && len(b.starts(then.planted)) > 0 {
			try(Remedy{Month: m}, own(then), p)
		}
	}
	if whole := b.span()/weekDays + 1; by.weeks < whole {
		by.weeks = whole
		try(Remedy{Weeks: whole}, own(by), p)
	}
	return out
}

// Remedy finds what would keep a plant that the plan of its stand does not.
func (b *Bed) Remedy(f *FirstYear, open *fit.Bed, closed *Closed, plan *Plan, planted MonthDay, months []time.Month) {
	if f.Verdict == SafeLater {
		f.Remedies = b.remedies(way{open: open, closed: closed, planted: planted, weeks: b.ShutWeeks, helped: plan.helped}, f.Plant, f.Zone, months)
	}
}
