package water

// RootZone is what a plant's own roots can hold: TAW in mm and the share of
// it taken without stress at ETc 5 mm/d.
type RootZone struct {
	TAWMM float64
	PTab  float64
}

// Drought is the worst dry spell of one year for one root zone in one band.
type Drought struct {
	Load         float64 // greatest drought load, in days
	PeakDepleted float64 // largest depletion as a share of TAW, whole year
	FromDay      int     // of the record; the first day of the spell of that load
	Days         int     // of that spell, up to the greatest load
}

// DroughtLoad carries the drought load of a plant over one more day:
//
//	W = (W before + 1) (1 - Ks)
//
// in days. A day without any water adds a whole day; the share of its need
// that a plant gets wipes out the same share of what it carries, so that a day
// without stress ends the drought, and long weeks at half supply do not add up
// to a drought that would kill. The plain sum of 1 - Ks does add them up: under
// it perennials of ordinary gardens would die in a usual New York summer.
// Assumption of the method, no source beyond Ks itself (FAO-56 Eq. 84 [S1]).
func DroughtLoad(before, ks float64) float64 { return (before + 1) * (1 - ks) }

// Droughts follows the root zone of one plant in one band by the day, through
// the same functions as the hourly balance (FAO-56 Eq. 84 and 85 [S1]): water
// offered early in the day fills the depletion, what is more passes below,
// and plants use Kc ET0 Ks. The first year is run once before, unseen. A spell
// is a run of days with Ks below 1; as for wet spells it counts in each year
// with what it has reached there.
func (r *Result) Droughts(band int, root RootZone) []Drought {
	out := make([]Drought, len(r.Years))
	s := store{tawMM: root.TAWMM} // field capacity as zero: held is minus the depletion
	offered := r.OfferedMM[band]
	held := 0.0
	for d := range min(365, len(offered)) {
		held = s.day(held, offered[d], r.DemandMM[d], root.PTab)
	}
	year, run := 0, Drought{}
	for d := range offered {
		if year+1 < len(r.Years) && d >= r.Years[year].ToDay {
			year++
		}
		held = s.day(held, offered[d], r.DemandMM[d], root.PTab)
		ks := Stress(-held, root.TAWMM, DepletionFraction(root.PTab, r.DemandMM[d]))
		if r.gapDay != nil && r.gapDay[d] {
			run = Drought{} // what fell is not known
			continue
		}
		y := &out[year]
		y.PeakDepleted = max(y.PeakDepleted, -held/root.TAWMM)
		if ks >= 1 {
			run = Drought{}
			continue
		}
		if run.Days == 0 {
			run.FromDay = d
		}
		run.Days++
		run.Load = DroughtLoad(run.Load, ks)
		if run.Load > y.Load {
			y.Load, y.FromDay, y.Days = run.Load, run.FromDay, run.Days
		}
	}
	return out
}

func (s *store) day(held, offeredMM, demandMM, pTab float64) float64 {
	held = min(0, held+offeredMM)
	return held - s.draw(held, demandMM, DepletionFraction(pTab, demandMM))
}
