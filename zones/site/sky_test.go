package site

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Without obstacles: daylight less the time the sun is up to 5 degrees high.
// At 40 deg N on day 172 (23.44 deg): cos(w) is -0.36483 at the horizon and
// (0.08716 - 0.25569) / 0.70283 = -0.23979 at 5 degrees (arithmetic): 14.853
// and 13.850 h.
func TestOpenSkyIsDaylightLessTheLowSun(t *testing.T) {
	assert.InDelta(t, 13.850, sunHours(40, 0, nil, 3, 4, 0, []int{172}), 0.005)
	assert.InDelta(t, 14.85, DaylightHours(40, 172), 0.02)
	for _, lat := range []float64{-60, -35, 0, 20, 43, 60} {
		for day := 5; day < 366; day += 30 {
			delta := solarDeclination(day)
			low := 24 / math.Pi * (hourAngleAbove(lat*rad, delta, 0) - hourAngleAbove(lat*rad, delta, leastAltitudeDeg*rad))
			daylight := 24 / math.Pi * hourAngleAbove(lat*rad, delta, 0)
			require.InDelta(t, daylight-low, sunHours(lat, 0, nil, 0, 0, 0, []int{day}), 1e-9)
			// A sun that climbs 15 cos(lat) deg/h or less crosses 5 degrees twice.
			require.Greater(t, low, 2*leastAltitudeDeg/15-1e-9)
		}
	}
	// The mean over days is that of the days.
	both := sunHours(40, 0, nil, 0, 0, 0, []int{80, 172})
	assert.InDelta(t, (sunHours(40, 0, nil, 0, 0, 0, []int{80})+sunHours(40, 0, nil, 0, 0, 0, []int{172}))/2, both, 1e-9)
}

// Beyond the polar circles: the sun stands over 5 degrees all day, or never.
func TestPolarSun(t *testing.T) {
	assert.InDelta(t, 24, sunHours(90, 0, nil, 0, 0, 0, []int{172}), 1e-9)
	assert.InDelta(t, 24, sunHours(-90, 0, nil, 0, 0, 0, []int{355}), 1e-9)
	assert.Zero(t, sunHours(90, 0, nil, 0, 0, 0, []int{355}))
	assert.Zero(t, sunHours(70, 0, nil, 0, 0, 0, []int{355}))
	assert.InDelta(t, 24, sunHours(75, 0, nil, 0, 0, 0, []int{172}), 1e-9)
	// At the pole the sun circles at its declination, 23.4 degrees: a wall that
	// spans a quarter of the horizon and is higher than that takes 6 h, a lower
	// one none; a ring takes all.
	quarter := func(h float64) []Obstacle { return []Obstacle{wall(10, 10, -10, 10, h)} }
	assert.InDelta(t, 18, sunHours(90, 0, quarter(7), 0, 0, 0, []int{172}), stepMinutes/60)
	assert.InDelta(t, 24, sunHours(90, 0, quarter(4), 0, 0, 0, []int{172}), 1e-9)
	ring := []Obstacle{{Kind: Wall, PointsM: [][2]float64{{10, 10}, {-10, 10}, {-10, -10}, {10, -10}, {10, 10}}, HeightM: 7}}
	assert.Zero(t, sunHours(90, 0, ring, 0, 0, 0, []int{172}))
}

// A garden south of the equator is that in the north in a mirror: latitude and
// declination change sign, and with them north and south of every obstacle.
func TestSouthMirrorsNorth(t *testing.T) {
	mirror := func(o Obstacle) Obstacle {
		points := make([][2]float64, len(o.PointsM))
		for i, p := range o.PointsM {
			points[i] = [2]float64{p[0], -p[1]}
		}
		o.PointsM = points
		return o
	}
	sky := func(lat, delta float64) *Sky {
		s := &Sky{}
		s.addDay(lat*rad, delta, 0, 6, 1)
		s.sort()
		return s
	}
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		delta := rapid.Float64Range(-23.4, 23.4).Draw(t, "declination") * rad
		o := anyObstacle(t, "obstacle")
		at := rapid.Float64Range(-15, 15)
		x, y := at.Draw(t, "x"), at.Draw(t, "y")
		here := sky(lat, delta).Hours([]Obstacle{o}, x, y, 0)
		there := sky(-lat, -delta).Hours([]Obstacle{mirror(o)}, x, -y, 0)
		if math.Abs(here-there) > stepMinutes/60+1e-9 { // a beam right at an edge
			t.Fatalf("%v h in the north, %v h in the south", here, there)
		}
	})
	// By the calendar, half a year on. The orbit is no circle: the sun is up to
	// 1.915 degrees ahead or behind, half a year later as far the other way,
	// 3.83 in all; times sin(23.44) that is 1.52 of declination at an equinox,
	// and 0.2 more as half a year is half a day longer than 182 days.
	o := wall(-3, -4, 6, -4, 5)
	for day := 1; day <= 365; day += 30 {
		half := (day+181)%365 + 1
		require.InDelta(t, 0, (solarDeclination(day)+solarDeclination(half))/rad, 1.75)
		north := sunHours(40, 0, []Obstacle{o}, 0, 0, 0, []int{day})
		south := sunHours(-40, 0, []Obstacle{mirror(o)}, 0, 0, 0, []int{half})
		assert.InDelta(t, north, south, 0.6, "day %d", day)
	}
	// On the southern day whose declination is nearest the opposite, within half
	// a day or 0.2 degrees, the hours are the same but for one beam at either end.
	for day := 1; day <= 365; day += 15 {
		off := func(d int) float64 { return math.Abs(solarDeclination(day) + solarDeclination(d)) }
		twin := 1
		for d := 2; d <= 365; d++ {
			if off(d) < off(twin) {
				twin = d
			}
		}
		require.InDelta(t, 0, off(twin)/rad, 0.2)
		north := sunHours(40, 0, []Obstacle{o}, 0, 0, 0, []int{day})
		south := sunHours(-40, 0, []Obstacle{mirror(o)}, 0, 0, 0, []int{twin})
		assert.InDelta(t, north, south, 2*stepMinutes/60, "day %d and %d", day, twin)
	}
}

// North is told clockwise from the y axis. At 40 deg N with north at 90 the x
// axis points north, so the noon sun stands over -x, the morning sun over -y
// and the evening sun over +y.
func TestNorthTurnsClockwise(t *testing.T) {
	days := []int{80}
	sky := NewSky(40, 90, days)
	noon := sky.Hours([]Obstacle{wall(-5, -2, -5, 2, 7)}, 0, 0, 0)
	back := sky.Hours([]Obstacle{wall(5, -2, 5, 2, 7)}, 0, 0, 0)
	open := sky.Hours(nil, 0, 0, 0)
	assert.Equal(t, open, back, "a wall to the north")
	// The wall spans azimuths 180 +- 21.8 and is 54 degrees high at its middle;
	// at the equinox the sun at 40 deg N crosses these from 10:59 to 13:01: its
	// azimuth is atan(tan(w) / sin(40)), so w = 14.4 degrees.
	assert.InDelta(t, open-2*14.4/15, noon, stepMinutes/60)
	// East is 90 degrees clockwise from north, which is +x: -y.
	s := &Sky{}
	s.addDay(40*rad, 0, 90*rad, 3, 1)
	assert.Less(t, s.beams[0].dy, -0.9)
	assert.Greater(t, s.beams[len(s.beams)-1].dy, 0.9)
	assert.InDelta(t, -math.Cos(50*rad), s.beams[len(s.beams)/2].dx, 0.01) // noon, 50 degrees up
}

// A garden drawn turned about, north with it, has the same sun.
func TestDrawingTurnedAbout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-70, 70).Draw(t, "lat")
		north, turn := rapid.Float64Range(-180, 180).Draw(t, "north"), rapid.Float64Range(-180, 180).Draw(t, "turn")
		o := anyObstacle(t, "obstacle")
		sin, cos := math.Sincos(turn * rad)
		clockwise := func(p [2]float64) [2]float64 { return [2]float64{p[0]*cos + p[1]*sin, p[1]*cos - p[0]*sin} }
		turned := o
		turned.PointsM = nil
		for _, p := range o.PointsM {
			turned.PointsM = append(turned.PointsM, clockwise(p))
		}
		before := sunHours(lat, north, []Obstacle{o}, 1, 2, 0, []int{150})
		at := clockwise([2]float64{1, 2})
		after := sunHours(lat, north+turn, []Obstacle{turned}, at[0], at[1], 0, []int{150})
		if math.Abs(before-after) > stepMinutes/60+1e-9 { // a beam right at an edge
			t.Fatalf("%v h, turned %v h", before, after)
		}
	})
}

// Steps of 10 minutes against a count minute by minute.
func TestStepIsFineEnough(t *testing.T) {
	obstacles := []Obstacle{wall(-3, -4, 6, -5, 5), wall(7, -4, 7, 12, 3)}
	var fine float64
	days := SummerDays(43)
	for _, day := range days {
		for minute := 0; minute < 1440; minute++ {
			s := sunAt(43*rad, solarDeclination(day), (float64(minute)+0.5-720)/720*math.Pi)
			if s.up < math.Sin(leastAltitudeDeg*rad) {
				continue
			}
			one := &Sky{beams: []beam{{dx: s.east, dy: s.north, dz: s.up, hours: 1.0 / 60, month: 6}}}
			one.sort()
			fine += one.Hours(obstacles, 0, 0, 0) / float64(len(days))
		}
	}
	got := sunHours(43, 0, obstacles, 0, 0, 0, days)
	t.Logf("10 minutes %.3f h, 1 minute %.3f h", got, fine)
	assert.InDelta(t, fine, got, 0.03)
	assert.Less(t, got, sunHours(43, 0, nil, 0, 0, 0, days)-1)
}

func TestDaysOfTheSeason(t *testing.T) {
	r := constantRecord(730, 10, 20)
	assert.Len(t, r.SeasonDays(), 52)
	assert.Equal(t, []int{4, 11, 18}, r.SeasonDays()[:3])
	for i := range r.Days { // warm from June to August only
		if m := r.dayTime(i).Month(); m < time.June || m > time.August {
			r.Days[i].TMinC, r.Days[i].TMaxC = -20, -10
		}
	}
	season := r.SeasonDays()
	require.NotEmpty(t, season)
	assert.Greater(t, season[0], 152-16)
	assert.Less(t, season[len(season)-1], 243+16)
	for i := range r.Days {
		r.Days[i].TMinC, r.Days[i].TMaxC = -20, -10
	}
	assert.Empty(t, r.SeasonDays())
	north, south := SummerDays(40), SummerDays(-40)
	assert.Equal(t, 82, north[0])
	assert.Len(t, north, 27) // 187 days: 26 weeks and 5 days
	assert.Equal(t, 4, south[0])
	assert.Equal(t, north, SummerDays(0))
	assert.Len(t, south, 25)
	assert.Equal(t, []int{7}, weekly([]int{6, 7}))
}

func TestSunGrid(t *testing.T) {
	sky := NewSky(40, 0, SummerDays(40))
	obstacles := []Obstacle{wall(-20, -1, 20, -1, 3)}
	bed := func(x, y float64) (float64, bool) { return -0.1, x < 3 || y < 2 }
	g := sky.Grid(obstacles, 0, 0, 6, 4, 0.5, bed)
	require.Equal(t, []int{12, 8, 96}, []int{g.Columns, g.Rows, len(g.Hours)})
	x, y := g.middle(0, 0)
	assert.Equal(t, []float64{0.25, 0.25}, []float64{x, y})
	assert.Equal(t, sky.Hours(obstacles, 1.25, 3.75, -0.1), g.at(1.1, 3.9))
	assert.True(t, math.IsNaN(g.at(5, 3)), "no bed there")
	assert.True(t, math.IsNaN(g.at(-0.1, 1)) && math.IsNaN(g.at(1, 4.1)) && math.IsNaN(g.at(math.NaN(), 1)))
	zones := g.ByZone(func(x, y float64) string {
		if y < 2 {
			return "near"
		}
		return "far"
	})
	require.Len(t, zones, 2)
	assert.Equal(t, "far", zones[0].Zone)
	assert.Equal(t, []int{24, 48}, []int{zones[0].Cells, zones[1].Cells})
	assert.Greater(t, zones[0].MeanH, zones[1].MeanH, "further from the wall")
	sum, least := 0.0, math.Inf(1)
	for _, y := range []float64{0.25, 0.75, 1.25, 1.75} {
		for x := 0.25; x < 6; x += 0.5 {
			h := sky.Hours(obstacles, x, y, -0.1)
			sum, least = sum+h, min(least, h)
		}
	}
	assert.InDelta(t, sum/48, zones[1].MeanH, 1e-9)
	assert.Equal(t, least, zones[1].LeastH)
	assert.GreaterOrEqual(t, zones[1].MostH, zones[1].MeanH)
	assert.Empty(t, g.ByZone(func(x, y float64) string { return "" }))
	// A box that is no multiple of the step is covered from its middle out.
	odd := sky.Grid(nil, 0, 0, 1, 1, 0.6, bed)
	assert.Equal(t, []int{2, 2}, []int{odd.Columns, odd.Rows})
	assert.InDelta(t, -0.1, odd.MinX, 1e-12)
	assert.Panics(t, func() { sky.Grid(nil, 0, 0, 1, 1, 0, bed) })
	assert.Panics(t, func() { sky.Grid(nil, 0, 0, 1e9, 1e9, 0.1, bed) })
	assert.Panics(t, func() { NewSky(40, 0, nil) })
	assert.Panics(t, func() { NewSky(40, math.NaN(), []int{1}) })
}

// 2,000 places of a bed with a house, a fence and two trees about it.
func BenchmarkSunOf2000Places(b *testing.B) {
	tree := Obstacle{Kind: Tree, PointsM: [][2]float64{{-4, 8}}, CrownM: 6, BaseM: 2, HeightM: 9, LeafFrom: 4, LeafTo: 10,
		LightInLeaf: LightInLeaf, LightBare: LightBare}
	second := tree
	second.PointsM = [][2]float64{{14, -3}}
	obstacles := []Obstacle{
		{Kind: House, PointsM: [][2]float64{{-2, -12}, {12, -12}, {12, -3}, {-2, -3}}, HeightM: 6},
		{Kind: Fence, PointsM: [][2]float64{{-3, -3}, {-3, 9}, {12, 9}}, HeightM: 1.8},
		tree, second,
	}
	sky := NewSky(41.5, 20, SummerDays(41.5))
	for b.Loop() {
		sky.Grid(obstacles, 0, 0, 10, 5, 0.15811, func(x, y float64) (float64, bool) { return 0, true })
	}
}

// at returns the hours of the cell that holds (x, y); NaN off the grid and
// where there is no bed.
func (g *SunGrid) at(x, y float64) float64 {
	column, row := math.Floor((x-g.MinX)/g.StepM), math.Floor((y-g.MinY)/g.StepM)
	if !(column >= 0) || !(row >= 0) || column >= float64(g.Columns) || row >= float64(g.Rows) {
		return math.NaN()
	}
	return g.Hours[int(row)*g.Columns+int(column)]
}
