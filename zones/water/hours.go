package water

import (
	"fmt"

	"hollowbed/zones/site"
)

// hourTrace is one hour of the whole bed, at its end, for people who want to
// watch it.
type hourTrace struct {
	Hour    int // of the record
	RainMM  float64
	Missing bool      // without a rain value
	Pond    bool      // water stands
	LevelMM float64   // of the pond, relative to the spill; the bottom if none stands
	Wet     []bool    // by band: under water, or its mix 95 % full
	Water   []float64 // by band: share of the available water held, 0 to 1
}

// Hours walks all bands by the hour through the days from up to but not
// including to.
func Hours(s Setup, rec *site.Record, from, to int) ([]hourTrace, error) {
	if err := check(s, rec); err != nil {
		return nil, err
	}
	if from < 0 || to > len(rec.Days) || from >= to {
		return nil, fmt.Errorf("hours of days %d to %d: outside the record", from, to)
	}
	var out []hourTrace
	simulate(s, rec, to, true, func(hour, _ int, st *state) {
		if hour < 24*from {
			return
		}
		h := hourTrace{Hour: hour, RainMM: rec.RainMM[hour], Missing: rec.Missing[hour], Pond: st.hasPond(), LevelMM: st.levelMM}
		for i := range st.places {
			p := &st.places[i]
			h.Wet = append(h.Wet, st.wet(p))
			h.Water = append(h.Water, 1-min(1, max(0, st.mix.fieldMM-p.heldMM)/st.mix.tawMM))
		}
		out = append(out, h)
	})
	return out, nil
}
