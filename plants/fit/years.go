package fit

import (
	"math"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/water"
)

// years compares every year that counts with the plant's limits in one band.
func (b *Bed) years(p catalogue.Plant, band int) []Year {
	root := p.RootCM
	if math.IsNaN(root) {
		root = b.MixDepthMM / 10
	}
	dry := b.dryDays(band, root)
	out := make([]Year, len(b.Use))
	for i, y := range b.Use {
		e := b.Run.Exposure[band][y]
		year := Year{Name: b.Run.Years[y].Name}
		year.WetH = e.WetWorst.EquivalentHours()
		year.WetFrom = b.Start.Add(hours(e.WetWorst.FromHour))
		year.Wet = share(year.WetH, p.WetH)
		year.DeepMM = b.depthForMM(band, y, p.WetH)
		year.Deep = share(year.DeepMM, p.PondMM)
		year.DryD = dry.days[y]
		if b.Watered {
			year.DryD = min(year.DryD, wateredDays)
		}
		year.DryFrom = b.Start.Add(hours(24 * dry.from[y]))
		year.Dry = share(year.DryD, p.DryD)
		year.MinC = b.MinC[y]
		year.Cold = math.Exp((p.LowestC - year.MinC) / coldScaleC)
		out[i] = year
	}
	return out
}

// rootKey names one band for roots of one depth.
type rootKey struct {
	band   int
	rootCM float64
}

// dryYears is how dry each year was for such roots, as days on the reference
// ground, and the first day of the worst spell.
type dryYears struct {
	days []float64
	from []int
}

// dryDays follows roots of a depth through the record in one band; plants
// with roots alike share the answer.
func (b *Bed) dryDays(band int, rootCM float64) *dryYears {
	key := rootKey{band, rootCM}
	if known := b.dry[key]; known != nil {
		return known
	}
	reference := NewReference(rootCM)
	out := &dryYears{}
	for _, d := range b.Run.Droughts(band, water.RootZone{TAWMM: b.tawMM(rootCM), PTab: refPTab}) {
		out.days = append(out.days, reference.Days(d))
		out.from = append(out.from, d.FromDay)
	}
	if b.dry == nil {
		b.dry = map[rootKey]*dryYears{}
	}
	b.dry[key] = out
	return out
}

func hours(h int) time.Duration { return time.Duration(h) * time.Hour }

// share returns found / limit: 0 if nothing was found, +Inf if something was
// found where nothing is borne, NaN if the limit is not known.
func share(found, limit float64) float64 {
	switch {
	case math.IsNaN(limit):
		return math.NaN()
	case found <= 0:
		return 0
	case limit <= 0:
		return math.Inf(1)
	}
	return found / limit
}

// tawMM returns the available water of roots that reach rootCM: the mix first,
// then the soil below it.
func (b *Bed) tawMM(rootCM float64) float64 {
	inMix := min(rootCM/100, b.MixDepthMM/1000)
	below := rootCM/100 - inMix
	return water.TAWMM(b.MixFC, b.MixWP, inMix) + water.TAWMM(b.NativeFC, b.NativeWP, below)
}

// depthForMM returns the depth over the foot of a band that stood for at
// least the given equivalent hours in one go in a year, in mm: the greatest
// depth d such that the pond stayed above foot + d that long, between the
// levels that were followed by straight line. 0 if water never stood so long,
// or if hours is not known.
func (b *Bed) depthForMM(band, year int, hours float64) float64 {
	if math.IsNaN(hours) {
		return 0
	}
	levels, above := b.Run.LevelsMM, b.Run.Above
	level := math.Inf(-1)
	for k := range levels {
		run := above[k][year]
		if run <= 0 || run < hours {
			break
		}
		next, nextRun := 0.0, 0.0 // the spill, over which nothing stands
		if k+1 < len(levels) {
			next, nextRun = levels[k+1], above[k+1][year]
		}
		level = levels[k]
		if run > nextRun {
			level += (next - levels[k]) * min(1, (run-hours)/(run-nextRun))
		}
	}
	return max(0, level-b.Run.Bands[band].FootMM)
}
