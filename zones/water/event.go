package water

import "hollowbed/zones/site"

// EventOverflowM3 returns what leaves over the spill, or never gets in, when
// one day's rain falls by a 24-hour pattern on a bed that has drained to field
// capacity, without evapotranspiration; and the runoff of that day, both in m3.
func EventOverflowM3(s Setup, rainMM float64, pattern [24]float64) (overflowM3, runoffM3 float64, err error) {
	if err := s.check(); err != nil {
		return 0, 0, err
	}
	st := newState(s)
	decay := st.decays()
	_, p := st.day(site.Day{})
	for _, share := range pattern {
		st.hour(rainMM*share, 0, p, decay)
	}
	return st.volume.OverflowM3 + st.volume.BypassM3, st.volume.RunoffM3, nil
}

// Volumes runs the balance over a record for its volumes alone, without
// following spells.
func Volumes(s Setup, rec *site.Record) (Balance, error) {
	end, err := simulate(s, rec, len(rec.Days), nil)
	if err != nil {
		return Balance{}, err
	}
	return end.volume, nil
}
