package care

import (
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// A zone that dries at the same pace is watered on the visits that the thirstiest
// asks for, from half of its easy water on; one that does not want it is left; no
// zone is worse off for going along.
func TestTogether(t *testing.T) {
	b := handBed(steady(800, 0), steady(800, 1.5))
	shallow, deep := plant(20, 100), plant(450, 100)
	shallow.RootCM, deep.RootCM = 20, 150
	thirsty, other := stand("rim", 10, shallow), stand("rim", 10, deep)
	one, err := planOf(b, thirsty)
	require.NoError(t, err)
	two, err := planOf(b, other)
	require.NoError(t, err)
	alone := [][]Season{one.Years, two.Years}
	plans, err := b.Plans([]Stand{thirsty, other}, may1())
	require.NoError(t, err)
	one, two = plans[0], plans[1]
	days := func(s Season) (out []int) {
		for _, w := range s.Waterings {
			out = append(out, w.Day)
		}
		return out
	}
	for y := range one.Years {
		visits := map[int]bool{}
		for _, d := range append(days(one.Years[y]), days(two.Years[y])...) {
			visits[d] = true
		}
		apart := map[int]bool{}
		for _, d := range append(days(alone[0][y]), days(alone[1][y])...) {
			apart[d] = true
		}
		assert.Less(t, len(visits), len(apart), "fewer times out")
		assert.Subset(t, days(one.Years[y]), days(two.Years[y]), "deep roots go by the shallow ones")
		assert.Less(t, len(days(two.Years[y])), len(days(one.Years[y])), "and are left where they have enough")
		assert.LessOrEqual(t, one.Years[y].Plants[0].Worst.Days, alone[0][y].Plants[0].Worst.Days)
		assert.LessOrEqual(t, two.Years[y].Plants[0].Worst.Days, alone[1][y].Plants[0].Worst.Days)
		last := one.Years[y].From
		for _, d := range slices.Sorted(maps.Keys(visits)) {
			assert.GreaterOrEqual(t, d-b.Weather.DayOf(last), shortestGap, "nobody goes out two days running")
			last = b.Weather.date(d)
		}
	}
	assert.Equal(t, one.Typical, two.Typical)
	assert.Equal(t, one.Dry, two.Dry)
	assert.Equal(t, b.sum(other, ByDepletion, two.Years), two.of(ByDepletion))
}

// Grown roots of 40 cm in loam hold 52 mm, of which p = 0.5 + 0.04 (5 - 3) = 0.58
// are easy: 30.16 mm. At 3 mm/d without rain 30 are short after ten days, and 3 more
// would be too many: 37.5 mm poured every tenth day, 36 times in 366 days. Used twice
// as fast it is at most once a week, 52 times. FAO-56 Eq. 82-84.
func TestWeeklyInDroughtByHand(t *testing.T) {
	run := func(rainMM, useMM float64) (litres float64, visits int) {
		b := handBed(steady(366, rainMM), steady(366, useMM))
		b.Weather.Run.Years = []site.Year{{Name: 2021, ToDay: 366}}
		all, days := b.WeeklyInDrought([]Stand{{Zone: "rim", AreaM2: 10}}, []int{0})
		return all[0], days[0]
	}
	litres, visits := run(0, 3)
	assert.InDelta(t, 36*37.5*10, litres, 1e-6)
	assert.Equal(t, 36, visits)
	litres, _ = run(3, 3)
	assert.Zero(t, litres, "rain does it")
	litres, visits = run(0, 6)
	assert.Equal(t, 52, visits)
	assert.Greater(t, litres, 52*23.92/0.8*10, "52 times more than what is easy")
	assert.Less(t, litres, 52*42/0.8*10, "and less than a week's use")
}

// Who never waters has no visits, and is told what the roof water does without them.
func TestNeverWatered(t *testing.T) {
	b := handBed(steady(800, 0), steady(800, 3))
	s := stand("rim", 10, plant(20, 100))
	for _, never := range []bool{false, true} {
		b.Setting.Never = never
		p, err := planOf(b, s)
		require.NoError(t, err)
		assert.Equal(t, never, len(p.Years[0].Waterings) == 0)
		assert.Positive(t, p.of(ByDepletion).TypicalLitres, "what it would take is told all the same")
		in := Inflow{Weather: b.Weather, WetH: [][]int{make([]int, 800)}}
		l, err := b.LetWaterIn(in, in, []Stand{s}, may1(), WetSeason{})
		require.NoError(t, err)
		assert.Equal(t, never, l.Weeks[0].Watered == l.Weeks[0].Parched)
	}
}
