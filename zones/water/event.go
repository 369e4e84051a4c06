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
	_, p := st.day(site.Day{})
	for _, share := range pattern {
		st.hour(rainMM*share, 0, p)
	}
	return st.volume.OverflowM3 + st.volume.BypassM3, st.volume.RunoffM3, nil
}
