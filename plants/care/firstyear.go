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
	SafeKeptDry   Verdict = "safe if roof water is kept out until it has rooted, then on its own"
	SafeBridged   Verdict = "safe if watered and roof water is kept out until it has rooted, then on its own"
	SafeLater     Verdict = "safe once established, not before"
	NotSafe       Verdict = "not safe, even established"
	NotKnown      Verdict = "not known"
)

// FirstYear is one plant in one zone, young and established. Young plants bear
// about half of what they bear later (Young), and their roots are still shallow; cold is
// as hard on either. Risks are fit's yearly risks, by area over the zone.
type FirstYear struct {
	Plant       catalogue.Plant
	Zone        string
	Established fit.Fit
	Alone       float64 // risk of the first year without any help
	Watered     float64 // watered by depletion
	KeptDry     float64 // roof water kept out, not watered; NaN if that was not asked
	Bridged     float64 // both
	Limit       fit.Limit
	Verdict     Verdict
	Weekly      bool // established, it needs the weekly watering that Established counts on

	// What watering one plant through its first year takes in the driest band,
	// whatever the verdict.
	TypicalLitres, DryLitres float64
}

// Closed is the same bed with the roof water kept out: fit's bed and the
// weather of a balance without any catch.
type Closed struct {
	Fit  *fit.Bed
	Care *Bed
}

// FirstYear judges a plant in its first year in a zone, planted on a day of
// the year and watered with at least gapDays between. open is fit's bed of the
// same run as b; closed may be nil. ok is false if the bed has no such zone.
//
// Too wet and too deep are those of the calendar year in which it was planted,
// with the limits of its size at planting (Young); too dry is followed from planting to
// rooted, through growing roots, and set against the share of its size of what the same
// plant bears on the reference ground established. Limits are joined year by year, as in fit. A
// year that the record does not follow until the plants have rooted is left
// out: its drought is not known.
func (b *Bed) FirstYear(open *fit.Bed, closed *Closed, p catalogue.Plant, zone string, sunH float64, planted MonthDay, gapDays int) (f FirstYear, ok bool) {
	f = FirstYear{Plant: p, Zone: zone, KeptDry: math.NaN(), Bridged: math.NaN()}
	if f.Established, ok = open.InZone(p, zone, sunH); !ok {
		return f, false
	}
	f.Alone, f.Limit = b.youngRisk(open, p, zone, NoWatering, planted, gapDays)
	f.Watered, _ = b.youngRisk(open, p, zone, ByDepletion, planted, gapDays)
	if closed != nil {
		f.KeptDry, _ = closed.Care.youngRisk(closed.Fit, p, zone, NoWatering, planted, gapDays)
		f.Bridged, _ = closed.Care.youngRisk(closed.Fit, p, zone, ByDepletion, planted, gapDays)
	}
	f.Verdict = f.verdict(b.Setting.RiskMax)
	if open.Watered && f.Established.YearlyRisk <= b.Setting.RiskMax {
		alone := *open
		alone.Watered = false
		own, _ := alone.InZone(p, zone, sunH)
		f.Weekly = !(own.YearlyRisk <= b.Setting.RiskMax)
	}
	f.TypicalLitres, f.DryLitres = b.plantLitres(p, zone, planted, gapDays)
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
	case f.Watered <= riskMax:
		return SafeWatered
	case f.KeptDry <= riskMax:
		return SafeKeptDry
	case f.Bridged <= riskMax:
		return SafeBridged
	}
	return SafeLater
}

// youngRisk returns the risk of the first year over a zone by area, and the
// limit that is hardest in its hardest band.
func (b *Bed) youngRisk(bed *fit.Bed, p catalogue.Plant, zone string, rule Rule, planted MonthDay, gapDays int) (risk float64, limit fit.Limit) {
	area, total, hardest := 0.0, 0.0, -1.0
	limits := assumed(p, fit.TooWet, fit.TooDeep, fit.TooDry, fit.TooCold)
	for i, band := range bed.Run.Bands {
		if band.Zone != zone || !(band.AreaM2 > 0) {
			continue
		}
		years := b.youngYears(bed, p, i, rule, planted, gapDays)
		in := bed.Predict.YearlyRisk(years, limits)
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
func (b *Bed) youngYears(bed *fit.Bed, p catalogue.Plant, band int, rule Rule, planted MonthDay, gapDays int) []fit.Year {
	young := Young(p, 0)
	root := MatureCM(p, b.Ground)
	reference, days := fit.NewReference(root), b.starts(planted)
	seasons := b.seasons(band, root, p.SoldAs, rule, gapDays, planted)
	var out []fit.Year
	for i, year := range bed.InBand(young, band, math.NaN()).ByYear {
		y := bed.Run.Years[bed.Use[i]]
		for k, from := range days {
			if from >= y.FromDay && from < y.ToDay {
				year.DryD = reference.Days(seasons[k].Drought)
				year.Dry = share(year.DryD, young.DryD)
				year.DryFrom = b.Weather.date(seasons[k].Drought.FromDay)
				out = append(out, year)
			}
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

// plantLitres returns what one plant takes by depletion in its first year, in
// the median year and in one of ten: the depth poured on the disc about it.
func (b *Bed) plantLitres(p catalogue.Plant, zone string, planted MonthDay, gapDays int) (typical, dry float64) {
	band := b.Weather.driest(zone)
	if band < 0 {
		return math.NaN(), math.NaN()
	}
	_, pot := b.Setting.Pot(p)
	spread := p.SpreadCM
	if !(spread > 0) {
		spread = pot
	}
	var litres []float64
	for _, s := range b.seasons(band, MatureCM(p, b.Ground), p.SoldAs, ByDepletion, gapDays, planted) {
		sum := 0.0
		for _, w := range s.Waterings {
			sum += w.DepthMM * WateredM2(pot, spread, w.Rooted)
		}
		litres = append(litres, sum)
	}
	return site.QuantileWeibull(litres, 0.5), site.OneYearInTen(litres)
}
