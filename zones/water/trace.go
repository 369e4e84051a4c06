package water

import (
	"fmt"

	"hollowbed/zones/site"
)

// DayTrace is one day in one band, for people who recompute by hand.
type DayTrace struct {
	Day         int     // of the record
	RainMM      float64 // on the bed
	InflowM3    float64 // from the catch areas
	IntakeMM    float64 // into the band, with what evaporated from water on it
	SeepedMM    float64 // out below
	DemandMM    float64 // Kc ET0
	UsedMM      float64 // by plants and sun
	HeldMM      float64 // in the mix at the end of the day
	DepletionMM float64 // below field capacity at the end of the day, 0 if above
	Ks          float64 // from the depletion at the end of the day
	PondM3      float64 // at the end of the day
	DeepestMM   float64 // over the foot of the band
	WetHours    int
	Missing     int // hours without a rain value
}

// Trace walks one band through the days from up to but not including to.
func Trace(s Setup, rec *site.Record, band, from, to int) ([]DayTrace, error) {
	if err := check(s, rec); err != nil {
		return nil, err
	}
	if band < 0 || band >= len(s.Bed.Bands()) || from < 0 || to > len(rec.Days) || from >= to {
		return nil, fmt.Errorf("trace of band %d, days %d to %d: outside the bed or the record", band, from, to)
	}
	traces := make([]DayTrace, to-from)
	simulate(s, rec, to, true, func(hour, _ int, st *state) {
		if d := hour/24 - from; d >= 0 {
			tr := &traces[d]
			tr.Day = hour / 24
			tr.RainMM += rec.RainMM[hour]
			tr.InflowM3 += st.inflowM3
			if rec.Missing[hour] {
				tr.Missing++
			}
			tr.add(st, band, rec.Days[tr.Day])
		}
	})
	return traces, nil
}

// WetHours counts the hours of each day of a record in which bands stood wet: by
// band, in the order asked for, and day.
func WetHours(s Setup, rec *site.Record, bands []int) ([][]int, error) {
	if err := check(s, rec); err != nil {
		return nil, err
	}
	out := make([][]int, len(bands))
	for i, band := range bands {
		if band < 0 || band >= len(s.Bed.Bands()) {
			return nil, fmt.Errorf("wet hours of band %d: outside the bed", band)
		}
		out[i] = make([]int, len(rec.Days))
	}
	simulate(s, rec, len(rec.Days), true, func(hour, _ int, st *state) {
		for i, band := range bands {
			if st.wet(&st.places[band]) {
				out[i][hour/24]++
			}
		}
	})
	return out, nil
}

// add books one hour of a band.
func (t *DayTrace) add(st *state, band int, day site.Day) {
	p := &st.places[band]
	t.IntakeMM += p.intakeMM
	t.SeepedMM += p.seepedMM
	t.UsedMM += p.usedMM
	t.DeepestMM = max(t.DeepestMM, st.depthMM(p))
	if st.wet(p) {
		t.WetHours++
	}
	et0, share := st.day(day)
	t.DemandMM = st.Kc * et0
	t.HeldMM = p.heldMM
	t.DepletionMM = max(0, st.mix.fieldMM-p.heldMM)
	t.Ks = Stress(t.DepletionMM, st.mix.tawMM, share)
	t.PondM3 = st.pondM3
}
