package water

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/site"
)

// sameByTheHour holds a run to one that goes through every hour by itself: spells
// alike, water within 1e-9 of what went through.
func sameByTheHour(t require.TestingT, s Setup, rec *site.Record, r *Result) {
	years := rec.Years(s.LatitudeDeg)
	if len(r.Years) != len(years) {
		years = r.Years
	}
	s.Weather = s.weather(rec)
	k := newTracker(s, rec, years)
	hourly := k.result(simulate(s, rec, len(rec.Days), true, k.hours))
	b := hourly.Balance
	most := 1e-9 * (1e-3 + b.RainOnBedM3 + b.RunoffM3 + b.EvaporatedM3 + math.Abs(b.StoredChangeM3))
	d := b.minus(r.Balance)
	for _, off := range []float64{d.RainOnBedM3, d.RunoffM3, d.BypassM3, d.InflowM3, d.InfiltratedM3, d.EvaporatedM3, d.OverflowM3, d.StoredChangeM3} {
		require.InDelta(t, 0, off, most, "%+v by the hour, %+v", b, r.Balance)
	}
	for band := range hourly.Exposure {
		for y, want := range hourly.Exposure[band] {
			got := r.Exposure[band][y]
			for _, pair := range [][2]*Spell{{&want.Wet, &got.Wet}, {&want.WetGrowing, &got.WetGrowing}, {&want.WetWorst, &got.WetWorst}} {
				require.InDelta(t, pair[0].DeepestMM, pair[1].DeepestMM, 1e-6)
				pair[1].DeepestMM = pair[0].DeepestMM
			}
			require.InDelta(t, want.DeepestMM, got.DeepestMM, 1e-6)
			got.DeepestMM = want.DeepestMM
			require.Equal(t, want, got, "band %d, year %d", band, y)
		}
		// A pond of a litre under a roof of 100 m2 makes much of a rounding.
		for d, want := range hourly.OfferedMM[band] {
			require.InDelta(t, want, r.OfferedMM[band][d], 1e-6+1e-7*want, "band %d, day %d", band, d)
		}
	}
	require.Equal(t, hourly.Above, r.Above)
	require.Equal(t, hourly.DemandMM, r.DemandMM)
}

// Hours taken at once give what they give one by one, in every garden of the
// grid, on daily and hourly records, with halved steps too.
func TestStretchesAreTheHours(t *testing.T) {
	for _, real := range realRecords(t)[:testenv.Of(1, 3)] {
		for _, g := range gridGardens() {
			s := g.setup(t, real.lat)
			for s.StepsPerH = range 3 {
				if s.StepsPerH == 0 {
					continue
				}
				r, err := Run(s, real.rec)
				require.NoError(t, err)
				require.Less(t, r.Balance.Closure(), 1e-9)
				sameByTheHour(t, s, real.rec, r)
			}
		}
	}
}

// Most hours go by at once, on any record, and never one with a pond.
func TestHoursAreSkipped(t *testing.T) {
	for _, real := range realRecords(t)[:testenv.Of(1, 3)] {
		s := roughLot(t, 6, real.lat)
		alone, calls := 0, 0
		simulate(s, real.rec, len(real.rec.Days), false, func(from, to int, st *state) {
			calls++
			if to == from+1 {
				alone++
				return
			}
			assert.False(t, st.hasPond(), "hour %d", from)
		})
		assert.Less(t, alone, len(real.rec.RainMM)/3, "%s: hours taken alone of %d", real.name, len(real.rec.RainMM))
		assert.Less(t, calls, len(real.rec.RainMM)/2, "%s", real.name)
	}
}

// Clay whose field capacity is over 95 % of its pores is wet at rest: nothing that
// passes it by as calm may leave that out.
func TestMixThatIsWetAtFieldCapacity(t *testing.T) {
	rec := made(30, 0, 0, 0)
	s := tub(t, 150, 100, 0)
	s.MixFC, s.MixSat = 0.40, 0.42
	r, err := Run(s, rec)
	require.NoError(t, err)
	for band := range r.Exposure {
		require.Equal(t, 24*30, r.Exposure[band][0].WetHours, "band %d", band)
	}
	sameByTheHour(t, s, rec, r)
}

// Clay that keeps less than a tenth of air when it has drained is short of it all
// the time, though never wet; with a tenth it is not.
func TestClayAtRestIsShortOfAir(t *testing.T) {
	rec := made(30, 0, 0, 0)
	s := tub(t, 150, 100, 0)
	for sat, hours := range map[float64]int{0.48: 24 * 30, 0.50: 0} {
		s.MixFC, s.MixSat = 0.40, sat
		r, err := Run(s, rec)
		require.NoError(t, err)
		for band := range r.Exposure {
			require.Zero(t, r.Exposure[band][0].WetHours)
			require.Equal(t, hours, r.Exposure[band][0].AirPoorH, "full at %g, band %d", sat, band)
		}
		sameByTheHour(t, s, rec, r)
	}
}
