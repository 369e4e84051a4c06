package plants

import (
	"fmt"
	"math"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// placedBed is a small bed with a list and places.
func placedBed(t testing.TB) (*Judge, *Planting, *Placed, *catalogue.Catalogue) {
	t.Helper()
	e := expose(t, map[string]string{"wishes": "{yearly_risk_max: 60 %, smallest_group: 1, share_cap: 60 %}"}, someYears(8))
	c := tableOf(hardy("one"), with(hardy("two"), func(p *catalogue.Plant) { p.SpreadCM = 60 }), with(hardy("three"), func(p *catalogue.Plant) { p.SpreadCM = 40; p.WetH = 12 }))
	j := NewJudge(e)
	list, err := Choose(j, c)
	require.NoError(t, err)
	placed, err := Place(j, list, c, Grown{})
	require.NoError(t, err)
	require.NotEmpty(t, placed.Result.Plants)
	return j, list, placed, c
}

// What is said of a plant at a place is what its placement reckoned with.
func TestAtIsThePlacement(t *testing.T) {
	j, _, placed, _ := placedBed(t)
	for _, s := range placed.Result.Plants {
		spot, ok := j.SpotAt(s.X, s.Y)
		require.True(t, ok)
		assert.Equal(t, s.Zone, spot.Zone)
		assert.InDelta(t, s.HeightMM, spot.HeightMM, 1e-9)
		// a placement asks once for each square of 5 cm, so bands may differ at their edge
		v := j.At(placed.Plants[s.Line], spot)
		if math.Abs(v.Loss()-s.Risk) > 1e-12 {
			near := false
			for _, d := range [][2]float64{{0.025, 0}, {-0.025, 0}, {0, 0.025}, {0, -0.025}, {0.025, 0.025}, {-0.025, -0.025}, {0.025, -0.025}, {-0.025, 0.025}} {
				if by, ok := j.SpotAt(s.X+d[0], s.Y+d[1]); ok {
					near = near || math.Abs(j.At(placed.Plants[s.Line], by).Loss()-s.Risk) < 1e-12
				}
			}
			assert.True(t, near, "%s: %g here, %g by the placement", s.Stake, v.Loss(), s.Risk)
		}
	}
	_, ok := j.SpotAt(-1, 1)
	assert.False(t, ok)
}

// At a place, those that would live come first, and then the least loss.
func TestAllAtOrder(t *testing.T) {
	j, _, _, c := placedBed(t)
	spot, ok := j.SpotAt(2, 1.5)
	require.True(t, ok)
	all := j.AllAt(c, spot)
	require.Len(t, all, 3)
	for i := 1; i < len(all); i++ {
		a, b := all[i-1], all[i]
		assert.True(t, a.Lives() && !b.Lives() || a.Lives() == b.Lives() && a.Loss() <= b.Loss())
	}
}

// A plant that stands is near to nothing; put onto another it is, and onto the
// stones of the inlet too.
func TestCrowds(t *testing.T) {
	j, _, placed, _ := placedBed(t)
	l := j.Exposure.Lot
	for _, s := range placed.Result.Plants {
		stakes, grounds := placed.Crowds(l, s.Stake, s.SpreadCM, s.X, s.Y)
		assert.Empty(t, stakes, s.Stake)
		assert.Empty(t, grounds, s.Stake)
		assert.Contains(t, placed.Reaching(s.X, s.Y), s.Stake)
	}
	a, b := placed.Result.Plants[0], placed.Result.Plants[1]
	stakes, _ := placed.Crowds(l, a.Stake, a.SpreadCM, b.X, b.Y)
	assert.Contains(t, stakes, b.Stake)
	at := l.Places().Inlet
	_, grounds := placed.Crowds(l, a.Stake, a.SpreadCM, at[0]+0.1, at[1])
	assert.Contains(t, grounds, "inlet splash")
}

// Work that is no longer wanted ends with errStopped, wherever it is; asking
// whether it is changes nothing.
func TestStop(t *testing.T) {
	j, list, placed, c := placedBed(t)
	asked := atomic.Int64{}
	after := func(n int64) func() bool { return func() bool { return asked.Add(1) > n } }
	j = NewJudge(j.Exposure)
	j.Stop = after(5)
	assert.Len(t, j.All(c), len(c.Plants), "after five questions no zone is judged any more")
	for _, n := range []int64{0, 1, 5} {
		asked.Store(0)
		j.Stop = after(n)
		_, err := Choose(j, c)
		assert.ErrorIs(t, err, errStopped, "after %d", n)
	}
	for _, n := range []int64{0, 3, 30} {
		asked.Store(0)
		j.Stop = after(n)
		_, err := Place(j, list, c, Grown{})
		assert.ErrorIs(t, err, errStopped, "after %d", n)
	}
	j.Stop = after(1 << 60)
	again, err := Place(j, list, c, Grown{})
	require.NoError(t, err)
	assert.Equal(t, placed.Result, again.Result)
	assert.Positive(t, asked.Load())
}

// The early places are those of the end, where chance does no better.
func TestEarly(t *testing.T) {
	j, list, placed, c := placedBed(t)
	times := 0
	again, err := PlaceEarly(j, list, c, Grown{}, func(p *Placed) {
		times++
		assert.Equal(t, placed.Result.Plants, p.Result.Plants)
		assert.Equal(t, list, p.Planting)
	})
	require.NoError(t, err)
	assert.Equal(t, 1, times)
	assert.Equal(t, placed.Result, again.Result)
}

// A judge taken over to the same run judges as a new one does; to another run
// it refuses.
func TestOver(t *testing.T) {
	rec := someYears(8)
	a, b := expose(t, nil, rec), expose(t, map[string]string{"roof": "{area: 60 m2}"}, rec)
	again, err := expose(t, map[string]string{"wishes": "{budget: 300}"}, rec).Lot.ExposeAgain(a)
	require.NoError(t, err)
	assert.Same(t, a.Run, again.Run, "a lot of its own, with other wishes: the same run")
	j := NewJudge(a)
	p := hardy("one")
	want, _ := j.Zone(p, "slope")
	got, _ := j.Over(again).Zone(p, "slope")
	assert.Equal(t, fmt.Sprintf("%+v", want), fmt.Sprintf("%+v", got))
	c := tableOf(p, hardy("two"))
	j.All(c)
	before := j.found["slope"].fits[0]
	after := j.Over(again).All(c)
	assert.Equal(t, NewJudge(again).All(c), after)
	assert.Same(t, before, j.found["slope"].fits[0], "only wishes differ: nothing judged again")
	shade, err := expose(t, map[string]string{"sun": "{bottom: 2 h, slope: 6 h, rim: 7 h}"}, rec).Lot.ExposeAgain(a)
	require.NoError(t, err)
	assert.Equal(t, NewJudge(shade).All(c), j.Over(shade).All(c))
	other, err := b.Lot.ExposeAgain(a)
	require.NoError(t, err)
	assert.NotSame(t, a.Run, other.Run, "more roof, more water: another run")
	assert.Panics(t, func() { j.Over(b) })
}
