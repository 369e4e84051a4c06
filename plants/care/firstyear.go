package care

import (
	"math"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/site"
)

// Verdict says from when on a plant is safe in a place.
type Verdict string

// The verdicts, from the easiest plant to the hardest.
const (
	SafeFromStart Verdict = "safe from the start"
	SafeWatered   Verdict = "safe with watering, then on its own"
	SafeKeptDry   Verdict = "safe if roof water is kept out at first, then on its own"
	SafeBridged   Verdict = "safe if watered and roof water is kept out at first, then on its own"
	SafeLater     Verdict = "not safe in the first year even so, only once established"
	NotSafe       Verdict = "not safe, even established"
	NotKnown      Verdict = "not known"
)

// FirstYear is one plant in one zone, young and established, under the plan of its bed.
// Young plants bear less than they do later (Young), and their roots are still shallow;
// cold is as hard on either. Risks are fit's yearly risks, by area over the zone.
type FirstYear struct {
	Plant       catalogue.Plant
	Zone        string
	Established fit.Fit
	Alone       float64   // risk of the first year without any help
	Planned     float64   // by the schedule that is planned, with the roof water let in when it says
	KeptDry     float64   // roof water let in then, not watered; NaN if it is let in from the start
	Limit       fit.Limit // that is hardest alone
	Left        fit.Limit // that is hardest by the plan
	Verdict     Verdict
	Remedies    []Remedy // where the plan does not keep it; empty if nothing tried would
	Weekly      bool     // established, it needs the weekly watering that Established counts on

	// What watering one plant through its first year takes by the plan.
	TypicalLitres, DryLitres float64
}

// Closed is the same bed with the roof water kept out: fit's bed and the
// weather of a balance without any catch.
type Closed struct {
	Fit  *fit.Bed
	Care *Bed
}

// Unaided finds which plants live through their first year without the hose, and
// without roof water kept out: they call for no visit.
func (b *Bed) Unaided(open *fit.Bed, stands []Stand, planted MonthDay) {
	for _, s := range stands {
		for i := range s.Groups {
			g := &s.Groups[i]
			g.alone, g.limit = b.youngRisk(way{open: open, planted: planted}, g.Plant, s.Zone)
			g.Safe = g.alone <= b.Setting.RiskMax && !math.IsNaN(g.Plant.DryD)
		}
	}
}

// FirstYear judges a group of a stand that is planted on a day of the year and cared for
// by a plan (Plans, after Unaided). open and closed are fit's beds of the same run as b
// and as b.Shut. ok is false if the bed has no such zone.
//
// Too wet and too deep are those of the calendar year in which it was planted, with the
// limits of its size at planting (Young); where the roof water is let in later, of the
// closed bed with those and of the open one with the limits it has come to by then. Too
// dry is followed from planting to rooted, through growing roots and the waterings of
// the plan in the same years, day by day against what it bears at its age. Limits are
// joined year by year, as in fit. A year that the record does not follow until the
// plants have rooted is left out: its drought is not known.
func (b *Bed) FirstYear(open *fit.Bed, closed *Closed, s Stand, group int, plan *Plan, sunH float64, planted MonthDay) (f FirstYear, ok bool) {
	g := s.Groups[group]
	p := g.Plant
	f = FirstYear{Plant: p, Zone: s.Zone, KeptDry: math.NaN(), Alone: g.alone, Limit: g.limit}
	if f.Established, ok = open.InZone(p, s.Zone, sunH); !ok {
		return f, false
	}
	by := way{open: open, closed: closed, planted: planted, weeks: b.ShutWeeks}
	if by.weeks > 0 {
		f.KeptDry, _ = b.youngRisk(by, p, s.Zone)
	}
	by.helped = plan.helped
	f.Planned, f.Left = b.youngRisk(by, p, s.Zone)
	f.Verdict = f.verdict(b.Setting.RiskMax)
	if open.Watered && f.Established.YearlyRisk <= b.Setting.RiskMax {
		alone := *open
		alone.Watered = false
		own, _ := alone.InZone(p, s.Zone, sunH)
		f.Weekly = !(own.YearlyRisk <= b.Setting.RiskMax)
	}
	f.TypicalLitres, f.DryLitres = b.plantLitres(p, plan.helped)
	return f, true
}

func (f FirstYear) verdict(riskMax float64) Verdict {
	switch established := f.Established.YearlyRisk; {
	case math.IsNaN(established) || math.IsNaN(f.Alone) || math.IsNaN(f.Plant.WetH) || math.IsNaN(f.Plant.DryD):
		return NotKnown
	case !(established <= riskMax):
		return NotSafe
	case f.Alone <= riskMax:
		return SafeFromStart
	case f.KeptDry <= riskMax:
		return SafeKeptDry
	case f.Planned <= riskMax && math.IsNaN(f.KeptDry):
		return SafeWatered
	case f.Planned <= riskMax:
		return SafeBridged
	}
	return SafeLater
}

// way is how a plant is brought through its first year.
type way struct {
	open    *fit.Bed
	closed  *Closed // not used if weeks is 0
	planted MonthDay
	weeks   int      // that the roof water is kept out
	helped  []Season // whose waterings it gets, by year; nil: none
}

// youngRisk returns the risk of the first year over a zone by area, and the
// limit that is hardest in its hardest band.
func (b *Bed) youngRisk(by way, p catalogue.Plant, zone string) (risk float64, limit fit.Limit) {
	area, total, hardest := 0.0, 0.0, -1.0
	for i, band := range by.open.Run.Bands {
		if band.Zone != zone || !(band.AreaM2 > 0) {
			continue
		}
		years := b.youngYears(by, p, i)
		in := by.open.Predict.YearlyRisk(years, &p)
		area += band.AreaM2
		total += in * band.AreaM2
		if in > hardest {
			hardest, limit = in, hardestLimit(years)
		}
	}
	return total / area, limit
}

// youngYears are fit's years of a band with young limits, and with the
// drought of young roots in place of that of established ones.
func (b *Bed) youngYears(by way, p catalogue.Plant, band int) []fit.Year {
	days := b.starts(by.planted)
	c := b.course(Stand{AreaM2: 1, Groups: []Group{{Plant: p}}}, band, NoWatering, len(days))
	young := by.open.InBand(Young(p, 0), band, math.NaN()).ByYear
	if c.weeks = by.weeks; by.weeks > 0 {
		opened := 0.0
		for _, from := range days {
			opened += b.rootedOn(from, from+by.weeks*weekDays) / float64(len(days))
		}
		young = by.open.InBand(Young(p, opened), band, math.NaN()).ByYear
		for i, shut := range by.closed.Fit.InBand(Young(p, 0), band, math.NaN()).ByYear {
			young[i].Wet, young[i].Deep = max(young[i].Wet, shut.Wet), max(young[i].Deep, shut.Deep)
		}
	}
	var out []fit.Year
	for i, year := range young {
		y := by.open.Run.Years[by.open.Use[i]]
		for k, from := range days {
			if from < y.FromDay || from >= y.ToDay {
				continue
			}
			if by.helped != nil {
				c.given = map[int]float64{}
				for _, w := range by.helped[k].Waterings {
					c.given[w.Day] = w.DepthMM
				}
			}
			worst := c.walk(from, from+b.span()).Plants[0].Worst
			year.DryD, year.Dry, year.DryFrom = worst.Days, worst.Share, b.Weather.date(worst.From)
			out = append(out, year)
		}
	}
	return out
}

func hardestLimit(years []fit.Year) fit.Limit {
	limit, worst := fit.Limit(""), math.Inf(-1)
	for _, y := range years {
		if l, s := y.Worst(); s > worst {
			limit, worst = l, s
		}
	}
	return limit
}

// plantLitres returns what one plant takes in its first year, in the median of some
// seasons and in one of ten: the depth poured on the disc about it.
func (b *Bed) plantLitres(p catalogue.Plant, seasons []Season) (typical, dry float64) {
	_, pot := b.Setting.Pot(p)
	spread := p.SpreadCM
	if !(spread > 0) {
		spread = pot
	}
	var litres []float64
	for _, s := range seasons {
		sum := 0.0
		for _, w := range s.Waterings {
			sum += w.DepthMM * WateredM2(pot, spread, w.Rooted)
		}
		litres = append(litres, sum)
	}
	return site.QuantileWeibull(litres, 0.5), site.OneYearInTen(litres)
}
