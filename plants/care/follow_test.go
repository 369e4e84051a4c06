package care

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/water"
)

// A plant that has rooted suffers what the balance finds for its root zone: the
// worst of each year is that of Droughts. The first year is left out, which the
// balance runs once before and this does not.
func TestFollowARootedPlantIsTheBalance(t *testing.T) {
	b, _ := realBed(t, realRecord(t, "New York", 40.7), 100, 6, 40.7)
	p := plant(30, 48)
	var worst []float64
	year := 0
	rim := len(b.Weather.Run.Bands) - 1
	b.Follow(p, rim, 0, len(b.Weather.Growing), 1, nil, func(d PlantDay) {
		for d.Day >= b.Weather.Run.Years[year].ToDay {
			year++
		}
		for len(worst) <= year {
			worst = append(worst, 0)
		}
		worst[year] = max(worst[year], d.So.Load)
		assert.Equal(t, 1.0, d.Rooted)
	})
	want := b.Weather.Run.Droughts(water.RootZone{TAWMM: b.Ground.TAWMM(40), PTab: pTab}, rim)[0]
	require.Len(t, worst, len(want))
	some := false
	for i := 1; i < len(want); i++ {
		assert.InDelta(t, want[i].Load, worst[i], 1e-9)
		some = some || want[i].Load > 1
	}
	assert.True(t, some, "a record with a drought")
}

// By hand: roots of 40 cm on the reference ground's own contents hold 57 mm; in
// dry weather at a demand of 5 mm/d the tenth day without water brings what the
// reference says of ten days. In the pot, with 15 cm and two thirds of the
// demand, stress comes sooner; water on day 5 puts it off.
func TestFollowByHand(t *testing.T) {
	b := handBed(steady(30, 0), steady(30, 5))
	b.Ground.MixFC, b.Ground.MixWP = 0.280, 0.137
	p := plant(30, 48)
	days := func(rooted float64, watered map[int]float64) (out []float64) {
		b.Follow(p, 0, 0, 30, rooted, watered, func(d PlantDay) { out = append(out, d.Days) })
		return out
	}
	old := days(1, nil)
	for _, n := range []int{3, 9, 19, 29} {
		assert.InDelta(t, float64(n+1), old[n], 1e-9, "day %d without water is day %d", n, n+1)
	}
	young := days(0, nil)
	assert.Greater(t, young[9], old[9])
	helped := days(0, map[int]float64{9: 50})
	assert.Equal(t, young[:9], helped[:9])
	assert.Less(t, helped[12], 0.5*young[12])

	b.Weather.Lost[20] = true
	gap := days(1, nil)
	assert.Zero(t, gap[20])
	assert.Less(t, gap[21], old[21], "a day whose rain is not known ends the spell")
	b.Weather.Lost[20], b.Weather.Growing[20] = false, false
	rests := days(1, nil)
	assert.Zero(t, rests[20])
	assert.Equal(t, gap[21:], rests[21:], "as does a day at rest")
}
