package fit

import (
	"slices"

	"hollowbed/zones/water"
)

// The ground on which a catalogue's dry_d is stated: an ordinary garden loam
// in midsummer. It holds what loam holds wherever the program reckons with it
// (site.NativeSoil: Saxton and Rawls 2006 [S2], 2.5 % organic matter); 5 mm/d
// is the demand at which FAO-56 [S1] states its depletion fractions.
const (
	refFC     = 0.280
	refWP     = 0.137
	refET0MMD = 5.0
	refPTab   = 0.5
	refDays   = 400 // longest drought that is told apart
)

// reference is the reference ground for roots of one depth: the drought load
// at the end of each day without water, from field capacity on.
type reference struct {
	tawMM float64
	load  []float64
}

// NewReference dries the reference ground out for roots of rootCM, by the same
// functions as any other place.
func NewReference(rootCM float64) reference {
	r := reference{tawMM: water.TAWMM(refFC, refWP, rootCM/100), load: make([]float64, refDays)}
	depletion, load := 0.0, 0.0
	for d := range r.load {
		depletion += refET0MMD * water.Stress(depletion, r.tawMM, refPTab)
		load = water.DroughtLoad(load, water.Stress(depletion, r.tawMM, refPTab))
		r.load[d] = load
	}
	return r
}

// Days turns what a root zone suffered in one year into the days without water
// that would do the same on the reference ground to the same roots: the two
// are compared by their greatest drought load or, in a year without stress, by
// how far the store was drawn down. Between whole days it goes in a straight
// line; at most 400.
func (r reference) Days(d water.Drought) float64 {
	calm := refPTab * r.tawMM / refET0MMD // days before stress
	if !(d.Load > 0) {
		return min(d.PeakDepleted*r.tawMM/refET0MMD, calm)
	}
	day, _ := slices.BinarySearch(r.load, d.Load)
	if day == len(r.load) {
		return refDays
	}
	before := 0.0
	if day > 0 {
		before = r.load[day-1]
	}
	return max(calm, float64(day)+(d.Load-before)/(r.load[day]-before))
}
