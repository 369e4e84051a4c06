package water

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Places that no water can come to in an hour are taken through it at once; step
// by step with the others they come to the same: all water alike, and what a place
// holds but for rain on ground that is short of it, which plants draw on by the mean
// of a step.
func TestPlacesAboveThePond(t *testing.T) {
	real := realRecords(t)[2]
	above := 0
	for _, g := range gridGardens() {
		s := g.setup(t, real.lat)
		st := newState(s)
		w := s.weather(real.rec)
		var inflow, demand [24]float64
		for d := range real.rec.Days {
			et0, p := st.day(real.rec.Days[d])
			rain := real.rec.RainMM[24*d : 24*d+24]
			st.today(rain, et0, w.rainless[d], w.sun[d], &inflow, &demand)
			for h, mm := range rain {
				if !st.hasPond() && st.takesAll(mm, inflow[h]) {
					st.move(mm, inflow[h], demand[h], p)
					continue
				}
				steps := *st
				steps.places = slices.Clone(st.places)
				steps.moved = true
				steps.forget()
				steps.ponded = steps.pondPace(mm, inflow[h])
				steps.reach = len(steps.places)
				steps.besideWater(mm*steps.ponded.hours, demand[h]*steps.ponded.hours, p)
				for range steps.ponded.count {
					steps.pondStep(mm*steps.ponded.hours, inflow[h]*steps.ponded.hours, demand[h]*steps.ponded.hours, p)
				}
				st.move(mm, inflow[h], demand[h], p)
				above += len(st.places) - st.reach
				require.InDelta(t, steps.pondM3, st.pondM3, 1e-9*(1+st.spillM3), "%s, day %d, hour %d", g.name, d, h)
				for i := range st.places {
					most := 1e-8
					if a := &st.places[i]; mm > 0 && st.mix.fieldMM-a.heldMM+mm > p*st.mix.tawMM {
						most += 0.3 * demand[h]
					}
					require.InDelta(t, steps.places[i].heldMM, st.places[i].heldMM, most, "%s, day %d, hour %d, place %d", g.name, d, h, i)
				}
			}
		}
	}
	assert.Greater(t, above, 10_000, "hours of places above the water")
}
