package care

import (
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/water"
)

// PlantDay is one plant at the end of one day.
type PlantDay struct {
	Day    int           // of the run
	Rooted float64       // 0 in the pot, 1 established
	So     water.Drought // the dry spell that goes on, and today's depletion
	Days   float64       // that spell, as days without water on the reference ground
}

// Follow walks one plant's roots in one band from the day it was planted to day
// to, not included, and tells each day. A plant from before the run comes with
// rooted above 0. wateredMM is what was poured by the day of the run on the
// ground about the plant; of that ReachShare reaches the roots. It starts at
// field capacity. A day without a rain value, or outside the growing season, ends
// the spell.
func (b *Bed) Follow(p catalogue.Plant, band, from, to int, rooted float64, wateredMM map[int]float64, each func(PlantDay)) {
	w := b.Weather
	mature := MatureCM(p, b.Ground)
	pot, _ := b.Setting.Pot(p)
	reference := fit.NewReference(mature)
	grown := rooted * w.GrowingDaysAYear * b.Setting.RootingYears
	depletion, run := 0.0, water.Drought{}
	for d := from; d < to; d++ {
		day := PlantDay{Day: d, Rooted: min(1, grown/(w.GrowingDaysAYear*b.Setting.RootingYears))}
		demand := b.Setting.demandMM(w.Run.DemandMM[d], day.Rooted)
		taw := b.Ground.TAWMM(YoungRootCM(pot, mature, day.Rooted))
		depletion = refill(depletion, w.Run.OfferedMM[band][d]+wateredMM[d]*b.Setting.ReachShare, demand, taw, pTab)
		if w.Growing[d] {
			grown++
		}
		if w.Lost[d] || !w.Growing[d] {
			run = water.Drought{}
			each(day)
			continue
		}
		var worst water.Drought // of this day alone
		follow(&run, &worst, d, depletion/taw, water.Stress(depletion, taw, water.DepletionFraction(pTab, demand)))
		day.So = run
		day.So.PeakDepleted = depletion / taw
		day.Days = reference.Days(day.So)
		each(day)
	}
}
