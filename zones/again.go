package zones

import "fmt"

// ExposeAgain is Expose for a lot of which another exposure is known already:
// where ground, soils, water and weather are the same (the same record, not one
// like it) it takes that run over and runs nothing.
func (l *Lot) ExposeAgain(known *Exposure) (*Exposure, error) {
	if known == nil || !l.runsLike(known.Lot) {
		return l.Expose()
	}
	e := *known
	e.Lot, e.Record, e.Zones = l, l.RecordFacts(), nil
	for _, z := range l.Bed.Zones() {
		e.Zones = append(e.Zones, e.zone(z.Zone, z.AreaM2))
	}
	return &e, nil
}

// runsLike says whether the balance of both lots is the same. What was left
// out is NaN, which never equals itself, so figures are compared as printed:
// in full, so that two that differ at all differ there.
func (l *Lot) runsLike(o *Lot) bool {
	printed := func(l *Lot) string {
		s := l.setup(l.Bed)
		s.Bed, s.Weather = nil, nil // each lot's own; made of what is compared beside them
		return fmt.Sprintf("%+v %+v", l.Bed.Spec(), s)
	}
	return l.Record == o.Record && printed(l) == printed(o)
}
