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
	offered, demand, shares := r.OfferedMM[band], r.DemandMM, r.sharesFor(root.PTab)
	held, run := 0.0, Drought{}
	for d := range min(365, len(offered)) {
		held = s.day(held, offered[d], demand[d], shares[d])
	}
	for from, y := 0, 0; y < len(out); y++ {
		to := len(offered)
		if y+1 < len(out) {
			to = r.Years[y].ToDay
		}
		deepestMM := 0.0
		for d := from; d < to; d++ {
			held = s.day(held, offered[d], demand[d], shares[d])
			if r.gapDay != nil && r.gapDay[d] {
				run = Drought{} // what fell is not known
				continue
			}
			if -held > deepestMM {
				deepestMM = -held
			}
			if -held <= shares[d]*s.tawMM { // no stress
				run.Days = 0
				continue
			}
			run.dry(d, Stress(-held, s.tawMM, shares[d]))
			if run.Load > out[y].Load {
				out[y].Load, out[y].FromDay, out[y].Days = run.Load, run.FromDay, run.Days
			}
		}
		out[y].PeakDepleted = deepestMM / s.tawMM
		from = to
	}
	return out
}

// dry carries a spell over a day of stress.
func (run *Drought) dry(day int, ks float64) {
	if run.Days == 0 {
		*run = Drought{FromDay: day}
	}
	run.Days++
	run.Load = DroughtLoad(run.Load, ks)
}

// sharesFor returns p of each day for roots: that of the run if it is theirs.
func (r *Result) sharesFor(pTab float64) []float64 {
	if pTab == r.pTab && len(r.shares) == len(r.DemandMM) {
		return r.shares
	}
	shares := make([]float64, len(r.DemandMM))
	for d, etc := range r.DemandMM {
		shares[d] = DepletionFraction(pTab, etc)
	}
	return shares
}

// day takes a root zone through a day, by its p: draw once the water has come.
func (s *store) day(held, offeredMM, demandMM, p float64) float64 {
	if held += offeredMM; held > 0 {
		held = 0
	}
	if -held <= p*s.tawMM && demandMM <= s.tawMM+held {
		return held - demandMM // as in draw
	}
	return held - s.draw(held, demandMM, p)
}
