package water

import "slices"

// RootZone is what a plant's own roots can hold: TAW in mm and the share of
// it taken without stress at ETc 5 mm/d.
type RootZone struct {
	TAWMM float64
	PTab  float64
}

// Drought is the worst dry spell of one year for one root zone in one band.
type Drought struct {
	Load         float64 // greatest drought load, in days
	PeakDepleted float64 // largest depletion as a share of TAW in the growing season
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

// Droughts follows the root zone of one plant in some bands by the day, through
// the same functions as the hourly balance (FAO-56 Eq. 84 and 85 [S1]): water
// offered early in the day fills the depletion, what is more passes below,
// and plants use Kc ET0 Ks. The first year is run once before, unseen. A spell
// is a run of days of the growing season with Ks below 1; as for wet spells it
// counts in each year with what it has reached there. The answer is by band, as
// they are named, and year.
func (r *Result) Droughts(root RootZone, bands ...int) [][]Drought {
	out := make([][]Drought, len(bands))
	var walks []rootWalk
	for i, band := range bands {
		out[i] = make([]Drought, len(r.Years))
		if i > 0 && slices.Equal(r.OfferedMM[band], r.OfferedMM[bands[i-1]]) {
			out[i] = out[i-1]
			continue
		}
		walks = append(walks, rootWalk{offered: r.OfferedMM[band], out: out[i], calm: -1})
	}
	shares, days := r.sharesFor(root.PTab), len(r.DemandMM)
	r.walk(walks, root.TAWMM, shares, 0, min(365, days), false)
	for from, y := 0, 0; y < len(r.Years); y++ {
		to := days
		if y+1 < len(r.Years) {
			to = r.Years[y].ToDay
		}
		for i := range walks {
			walks[i].deepestMM, walks[i].year = 0, &walks[i].out[y]
		}
		r.walk(walks, root.TAWMM, shares, from, to, true)
		for i := range walks {
			walks[i].year.PeakDepleted = walks[i].deepestMM / root.TAWMM
		}
		from = to
	}
	return out
}

// rootWalk is the root zone of a plant in one band on one day. Field capacity is
// zero: held is minus the depletion.
type rootWalk struct {
	offered []float64
	heldMM  float64

	out       []Drought
	year      *Drought
	deepestMM float64 // depletion of this year
	calm      int     // last day that was no part of a spell
	load      float64
}

// walk takes roots through days with their p. If these are seen, they count.
func (r *Result) walk(walks []rootWalk, tawMM float64, p []float64, from, to int, seen bool) {
	for d := from; d < to; d++ {
		easyMM, perMM, demandMM := p[d]*tawMM, 1/((1-p[d])*tawMM), r.DemandMM[d]
		none := r.gapDay != nil && r.gapDay[d] || r.growing != nil && !r.growing[d]
		for i := range walks {
			w := &walks[i]
			w.heldMM = rootDay(w.heldMM, w.offered[d], demandMM, tawMM, easyMM, perMM)
			depletedMM := -w.heldMM
			switch {
			case !seen:
				continue
			case none: // what fell is not known, or plants are at rest
				w.calm, w.load = d, 0
				continue
			case depletedMM > w.deepestMM:
				w.deepestMM = depletedMM
			}
			if depletedMM <= easyMM { // no stress
				w.calm, w.load = d, 0
				continue
			}
			if w.load = DroughtLoad(w.load, (tawMM-depletedMM)*perMM); w.load > w.year.Load {
				w.year.Load, w.year.FromDay, w.year.Days = w.load, w.calm+1, d-w.calm
			}
		}
	}
}

// rootDay takes a root zone through a day: once the water has come plants use
// Kc ET0 Ks, with Ks from the depletion before it, as in FAO-56 Example 37 [S1],
// and never more than is held above wilting. easyMM is p TAW, and perMM
// 1 / ((1 - p) TAW), by which Ks falls with each mm below that.
func rootDay(heldMM, offeredMM, demandMM, tawMM, easyMM, perMM float64) float64 {
	if heldMM += offeredMM; heldMM > 0 {
		heldMM = 0
	}
	left := tawMM + heldMM
	if -heldMM > easyMM {
		demandMM *= left * perMM
	}
	if demandMM > left {
		demandMM = left
	}
	return heldMM - demandMM
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
