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
	w, k, r := b.Weather, b.kindOf(p, 1), Roots{}
	days := fit.NewReference(k.matureCM).Days
	whole := w.GrowingDaysAYear * b.Setting.RootingYears
	grown := rooted * whole
	for d := from; d < to; d++ {
		t := w.today(d, min(1, grown/whole), b.Setting)
		r.pass(&k, days, b.Ground, t, w.Run.OfferedMM[band][d]+wateredMM[d]*b.Setting.ReachShare)
		if w.Growing[d] {
			grown++
		}
		each(PlantDay{d, t.rooted, r.So, r.Days})
	}
}
