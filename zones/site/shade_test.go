package site

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func wall(x1, y1, x2, y2, height float64) Obstacle {
	return Obstacle{Kind: Wall, PointsM: [][2]float64{{x1, y1}, {x2, y2}}, HeightM: height}
}

// oneBeam is a sky with the sun in one place: degrees of altitude, and of
// azimuth clockwise from the y axis.
func oneBeam(altitude, azimuth float64, month int) *Sky {
	s := &Sky{beams: []beam{{
		dx: math.Cos(altitude*rad) * math.Sin(azimuth*rad), dy: math.Cos(altitude*rad) * math.Cos(azimuth*rad),
		dz: math.Sin(altitude * rad), hours: 1, month: month,
	}}}
	s.sort()
	return s
}

// A wall of height h due south at distance r, so long that its ends do not
// matter, shades exactly when tan(altitude) < h cos(azimuth - 180) / r.
func TestWallShadesByItsProfileAngle(t *testing.T) {
	const h, r = 2.0, 3.0
	south := []Obstacle{wall(-1e5, -r, 1e5, -r, h)}
	seen := map[float64]int{}
	for az := 95.0; az < 266; az += 2.5 {
		limit := math.Atan(h*math.Cos((az-180)*rad)/r) / rad
		for _, off := range []float64{-20, -5, -0.01, 0.01, 5, 20} {
			if altitude := limit + off; altitude > 0 && altitude < 90 {
				want := 0.0
				if off > 0 {
					want = 1
				}
				require.Equal(t, want, oneBeam(altitude, az, 6).Hours(south, 0, 0, 0), "azimuth %v, altitude %v", az, altitude)
				seen[want]++
			}
		}
	}
	assert.Greater(t, seen[0], 50)
	assert.Greater(t, seen[1], 50)
	// From the north no wall in the south shades.
	assert.Equal(t, 1.0, oneBeam(1, 0, 6).Hours(south, 0, 0, 0))
	// Half a metre lower the place needs a wall half a metre lower.
	assert.Equal(t, 1.0, oneBeam(35, 180, 6).Hours(south, 0, 0, 0))
	assert.Equal(t, 0.0, oneBeam(35, 180, 6).Hours(south, 0, 0, -0.5))
}

// A wall from 10 m east to 10 m west, 10 m south, spans azimuths 135 to 225.
func TestWallEnds(t *testing.T) {
	w := []Obstacle{wall(10, -10, -10, -10, 100)}
	for az, want := range map[float64]float64{134.9: 1, 135.1: 0, 180: 0, 224.9: 0, 225.1: 1, 0: 1, 90: 1, 270: 1} {
		assert.Equal(t, want, oneBeam(10, az, 6).Hours(w, 0, 0, 0), "azimuth %v", az)
	}
	// Right at its foot: dark to the one side, sun from the other.
	assert.Equal(t, 0.0, oneBeam(10, 180, 6).Hours(w, 0, -10+1e-8, 0))
	assert.Equal(t, 1.0, oneBeam(10, 0, 6).Hours(w, 0, -10+1e-8, 0))
	assert.Equal(t, 0.0, oneBeam(10, 180, 6).Hours(w, 0, -10, 0), "in the wall")
	assert.Equal(t, 0.0, oneBeam(10, 180, 6).Hours(w, 10, -10, 0), "at its end")
	assert.Equal(t, 1.0, oneBeam(10, 180, 6).Hours(w, 11, -10, 0), "in its line, past its end")
	// The same wall seen across the line at 180 degrees in plan.
	west := []Obstacle{wall(-10, -10, -10, 10, 100)}
	for az, want := range map[float64]float64{224.9: 1, 225.1: 0, 269.9: 0, 270: 0, 270.1: 0, 314.9: 0, 315.1: 1} {
		assert.Equal(t, want, oneBeam(10, az, 6).Hours(west, 0, 0, 0), "azimuth %v", az)
	}
	assert.Equal(t, 0.0, oneBeam(10, 180, 6).Hours(west, -10, -10, 0), "at its end, the wall going the other way")
}

// An endless wall that runs east and west through the sun's half of the sky at
// distance r hides the sun while cos(w) < k / m, so that the sunny hours are
// closed: the profile angle of the sun over a wall due south is
// tan(p) = up / -north, and it exceeds tan(P) = h / r where
// sin(phi) sin(d) + cos(phi) cos(d) cos(w) > tan(P) (sin(phi) cos(d) cos(w) - cos(phi) sin(d)).
func TestEndlessWallEastToWest(t *testing.T) {
	const step = 2 * stepMinutes / 60 // one beam at either end
	for _, c := range []struct {
		lat, profile float64
		day          int
	}{
		{0, 45, 80}, {0, 45, 355}, {40, 30, 80}, {40, 60, 80}, {40, 45, 172}, {52, 40, 172}, {20, 70, 355}, {65, 30, 172},
	} {
		phi, delta := c.lat*rad, solarDeclination(c.day)
		got := sunHours(c.lat, 0, []Obstacle{wall(-1e6+1, -2, 1e6-1, -2, 2*math.Tan(c.profile*rad))}, 0, 0, 0, []int{c.day})
		// a + b cos(w) > 0 keeps the sun.
		a := math.Sin(phi)*math.Sin(delta) + math.Tan(c.profile*rad)*math.Cos(phi)*math.Sin(delta)
		b := math.Cos(phi)*math.Cos(delta) - math.Tan(c.profile*rad)*math.Sin(phi)*math.Cos(delta)
		want := 0.0
		most := hourAngleAbove(phi, delta, leastAltitudeDeg*rad)
		for i := 0; i < 100_000; i++ { // plain count over the day in steps of a second
			if w := math.Pi * (float64(i) + 0.5) / 100_000; w < most && a+b*math.Cos(w) > 0 {
				want += 24.0 / 100_000
			}
		}
		assert.InDelta(t, want, got, step, "%+v", c)
		if edge := math.Acos(-a / b); b > 0 && edge < most { // and the closed form where the wall decides
			assert.InDelta(t, 24/math.Pi*edge, got, step, "%+v", c)
		}
	}
}

// At the equator on the equinox the sun climbs 15 degrees an hour straight from
// east to west: a wall to the east as high as it is far takes away the morning
// until 9, and one in the south nothing.
func TestEquatorAtTheEquinox(t *testing.T) {
	const day = 79
	require.InDelta(t, 0, solarDeclination(day)/rad, 0.4)
	open := sunHours(0, 0, nil, 0, 0, 0, []int{day})
	assert.InDelta(t, 12-2*leastAltitudeDeg/15, open, 0.01)
	east := sunHours(0, 0, []Obstacle{wall(5, -1e5, 5, 1e5, 5)}, 0, 0, 0, []int{day})
	assert.InDelta(t, open-3+leastAltitudeDeg/15, east, stepMinutes/60)
	// North told as 90 degrees clockwise from the y axis: the x axis points
	// north, and east is down the page.
	turned := sunHours(0, 90, []Obstacle{wall(-1e5, -5, 1e5, -5, 5)}, 0, 0, 0, []int{day})
	assert.InDelta(t, east, turned, 1e-9)
	west := sunHours(0, 180, []Obstacle{wall(5, -1e5, 5, 1e5, 5)}, 0, 0, 0, []int{day})
	assert.InDelta(t, east, west, stepMinutes/60)
	// South is at 26.57 degrees by its profile: the sun's tilt of 0.4 is nothing.
	assert.Equal(t, open, sunHours(0, 0, []Obstacle{wall(-50, -10, 50, -10, 5)}, 0, 0, 0, []int{day}))
}

// A house is a prism: closed at the corners, dark inside, sunny on its roof.
func TestHouse(t *testing.T) {
	house := []Obstacle{{Kind: House, PointsM: [][2]float64{{-4, -10}, {4, -10}, {4, -4}, {-4, -4}}, HeightM: 4}}
	for _, c := range []struct{ altitude, az, want float64 }{
		{44, 180, 0}, {46, 180, 1}, // its north side is 4 m off and 4 m high
		{20, 135, 0},                         // over the corner
		{20, 134, 1},                         // past it: the sun passes the house on the east
		{21, 150, 0}, {1, 0, 1}, {89, 10, 1}, // behind, overhead
	} {
		assert.Equal(t, c.want, oneBeam(c.altitude, c.az, 6).Hours(house, 0, 0, 0), "%+v", c)
	}
	assert.Equal(t, 0.0, oneBeam(89, 180, 6).Hours(house, 0, -7, 0), "inside")
	assert.Equal(t, 1.0, oneBeam(2, 180, 6).Hours(house, 0, -7, 4), "on the roof")
	// Each of the four sides shades on its own, the one from last to first corner too.
	for _, c := range []struct{ x, y, az float64 }{{-8, -7, 90}, {8, -7, 270}, {0, -14, 0}, {0, 0, 180}} {
		assert.Equal(t, 0.0, oneBeam(44, c.az, 6).Hours(house, c.x, c.y, 0), "%+v", c)
		assert.Equal(t, 1.0, oneBeam(46, c.az, 6).Hours(house, c.x, c.y, 0), "%+v", c)
	}
	// Far corners count too: from the west side of an L the arm in the east.
	l := []Obstacle{{Kind: House, PointsM: [][2]float64{{0, 0}, {6, 0}, {6, 6}, {5, 6}, {5, 1}, {0, 1}}, HeightM: 3}}
	assert.Equal(t, 0.0, oneBeam(20, 90, 6).Hours(l, 1, 3, 0))
	assert.Equal(t, 1.0, oneBeam(40, 90, 6).Hours(l, 1, 3, 0))
}

// A ball of radius r with its middle at distance q seen from the ground at
// height 0 hides the sun when the angle between sun and middle is less than
// asin(r / q): closed form.
func TestRoundCrown(t *testing.T) {
	const r, away, middle = 3.0, 8.0, 5.0
	tree := []Obstacle{{Kind: Tree, PointsM: [][2]float64{{0, -away}}, CrownM: 2 * r, BaseM: middle - r, HeightM: middle + r,
		LeafFrom: 4, LeafTo: 10, LightInLeaf: 0.1, LightBare: 0.7}}
	half := math.Asin(r/math.Hypot(away, middle)) / rad
	alt0 := math.Atan2(middle, away) / rad
	hit, missed := 0, 0
	for alt := 2.0; alt < 90; alt += 3 {
		for az := 101.0; az < 260; az += 3 {
			off := apart(alt, az, alt0, 180) - half
			if math.Abs(off) < 1e-6 {
				continue
			}
			want := 1.0
			if off < 0 {
				want = 0.1
				hit++
			} else {
				missed++
			}
			require.InDelta(t, want, oneBeam(alt, az, 7).Hours(tree, 0, 0, 0), 1e-12, "%v %v", alt, az)
		}
	}
	assert.Greater(t, hit, 50)
	assert.Greater(t, missed, 50)
	// Bare in winter, and in leaf in the months named, over the new year too.
	for month, want := range map[int]float64{1: 0.7, 3: 0.7, 4: 0.1, 10: 0.1, 11: 0.7} {
		assert.InDelta(t, want, oneBeam(alt0, 180, month).Hours(tree, 0, 0, 0), 1e-12, "month %d", month)
	}
	tree[0].LeafFrom, tree[0].LeafTo = 10, 4
	for month, want := range map[int]float64{1: 0.1, 4: 0.1, 5: 0.7, 9: 0.7, 10: 0.1, 12: 0.1} {
		assert.InDelta(t, want, oneBeam(alt0, 180, month).Hours(tree, 0, 0, 0), 1e-12, "month %d", month)
	}
	// Under the crown, in it, above it; and the sun passes below it.
	assert.InDelta(t, 0.1, oneBeam(90, 0, 1).Hours(tree, 0.5, -away, 0), 1e-12)
	assert.InDelta(t, 0.1, oneBeam(10, 77, 1).Hours(tree, 0.5, -away, middle), 1e-12)
	assert.Equal(t, 1.0, oneBeam(10, 77, 1).Hours(tree, 0.5, -away, middle+r))
	assert.Equal(t, 1.0, oneBeam(5, 180, 1).Hours(tree, 0, 0, 0))
	// High up beside the crown, which hangs over the spot: into it from the one
	// side, away from it to the other.
	assert.InDelta(t, 0.1, oneBeam(10, 270, 1).Hours(tree, 2, -away, middle+2.6), 1e-12)
	assert.Equal(t, 1.0, oneBeam(50, 90, 1).Hours(tree, 2, -away, middle+2.6))
	// Two trees in line let a tenth of a tenth through.
	second := tree[0]
	second.PointsM = [][2]float64{{0, -away - 1}}
	assert.InDelta(t, 0.01, oneBeam(alt0, 180, 1).Hours(append(tree, second), 0, 0, 0), 1e-12)
}

// A tall crown on the axis: seen from beneath its tip line the spheroid's edge
// is where the stretched ball's is. With a = 2 m half width and c = 4 m half
// height, middle 6 m up at 5 m, level with the middle the edge in azimuth is
// asin(2/5) and in altitude atan(c/sqrt(25 - 4)).
func TestTallCrown(t *testing.T) {
	tree := []Obstacle{{Kind: Tree, PointsM: [][2]float64{{5, 0}}, CrownM: 4, BaseM: 2, HeightM: 10,
		LeafFrom: 1, LeafTo: 12, LightInLeaf: 0, LightBare: 1}}
	side := math.Asin(2.0/5) / rad
	up := math.Atan(4/math.Sqrt(21)) / rad
	for _, c := range []struct{ altitude, azimuth, want float64 }{
		{0.001, 90 + side - 0.1, 0}, {0.001, 90 + side + 0.1, 1}, {0.001, 90 - side + 0.1, 0}, {0.001, 90 - side - 0.1, 1},
		{up - 0.1, 90, 0}, {up + 0.1, 90, 1},
	} {
		assert.Equal(t, c.want, oneBeam(c.altitude, c.azimuth, 6).Hours(tree, 0, 0, 6), "%+v", c)
	}
}

func TestFenceLetsItsShareThroughOnce(t *testing.T) {
	fence := []Obstacle{{Kind: Fence, PointsM: [][2]float64{{-5, -2}, {0, -2}, {5, -2}, {5, -3}, {-5, -3}}, HeightM: 2, Light: 0.3}}
	assert.InDelta(t, 0.3, oneBeam(20, 180, 6).Hours(fence, 0, 0, 0), 1e-12)
	assert.InDelta(t, 0.09, oneBeam(20, 180, 6).Hours(append(fence, fence[0]), 0, 0, 0), 1e-12)
	assert.Equal(t, 1.0, oneBeam(20, 0, 6).Hours(fence, 0, 0, 0))
}

func TestObstacleCheck(t *testing.T) {
	good := Obstacle{Kind: Tree, PointsM: [][2]float64{{1, 2}}, CrownM: 4, BaseM: 1, HeightM: 5, LeafFrom: 4, LeafTo: 10, LightInLeaf: 0.1, LightBare: 0.7}
	require.NoError(t, good.Check())
	require.NoError(t, wall(0, 0, 1, 1, 2).Check())
	for want, spoil := range map[string]func(*Obstacle){
		`obstacle "hill": want wall, fence, house or tree`: func(o *Obstacle) { o.Kind = "hill" },
		`house: 1 points`:                                        func(o *Obstacle) { o.Kind = House },
		`tree: 2 points`:                                         func(o *Obstacle) { o.PointsM = [][2]float64{{1, 2}, {3, 4}} },
		`tree: height NaN m: want more than 0`:                   func(o *Obstacle) { o.HeightM = math.NaN() },
		`tree: light 2: want 0 to 1`:                             func(o *Obstacle) { o.Light = 2 },
		`tree: point [NaN 2]`:                                    func(o *Obstacle) { o.PointsM = [][2]float64{{math.NaN(), 2}} },
		`tree: crown 0 m wide: want more than 0`:                 func(o *Obstacle) { o.CrownM = 0 },
		`tree: crown from 5 to 5 m: want the base below the top`: func(o *Obstacle) { o.BaseM = 5 },
		`tree: light -1 in leaf, 0.7 bare: want 0 to 1`:          func(o *Obstacle) { o.LightInLeaf = -1 },
		`tree: in leaf from month 0 to 10: want 1 to 12`:         func(o *Obstacle) { o.LeafFrom = 0 },
	} {
		bad := good
		spoil(&bad)
		assert.EqualError(t, bad.Check(), want)
		assert.Panics(t, func() { sunHours(40, 0, []Obstacle{bad}, 0, 0, 0, []int{1}) })
	}
}

// anyObstacle draws an obstacle near the bed.
func anyObstacle(t *rapid.T, name string) Obstacle {
	at := rapid.Float64Range(-15, 15)
	point := func(what string) [2]float64 {
		return [2]float64{at.Draw(t, name+what+" x"), at.Draw(t, name+what+" y")}
	}
	share := rapid.Float64Range(0, 1)
	o := Obstacle{Kind: rapid.SampledFrom([]string{Wall, Fence, House, Tree}).Draw(t, name), PointsM: [][2]float64{point("a")},
		HeightM: rapid.Float64Range(0.1, 20).Draw(t, name+" height")}
	if o.Kind != Tree {
		o.PointsM = append(o.PointsM, point("b"), point("c"))
	}
	switch o.Kind {
	case Fence:
		o.Light = share.Draw(t, name+" light")
	case Tree:
		o.CrownM = rapid.Float64Range(0.5, 15).Draw(t, name+" crown")
		o.BaseM = o.HeightM * rapid.Float64Range(-0.5, 0.9).Draw(t, name+" base")
		o.LeafFrom, o.LeafTo = rapid.IntRange(1, 12).Draw(t, name+" from"), rapid.IntRange(1, 12).Draw(t, name+" to")
		o.LightInLeaf, o.LightBare = share.Draw(t, name+" leaf"), share.Draw(t, name+" bare")
	}
	return o
}

// More obstacles, and higher walls, fences and houses, never add sun; a crown
// that reaches higher from the same base is another shape, and may.
func TestShadeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		days := rapid.SliceOfN(rapid.IntRange(1, 366), 1, 4).Draw(t, "days")
		sky := NewSky(lat, rapid.Float64Range(-360, 360).Draw(t, "north"), days)
		at := rapid.Float64Range(-15, 15)
		x, y, z := at.Draw(t, "x"), at.Draw(t, "y"), rapid.Float64Range(-0.5, 2).Draw(t, "z")
		longest := 0.0
		for _, d := range days {
			longest += 24 / math.Pi * hourAngleAbove(lat*rad, solarDeclination(d), 0) / float64(len(days))
		}
		var obstacles []Obstacle
		before := sky.Hours(nil, x, y, z)
		if !(before >= 0 && before <= longest+1e-9) {
			t.Fatalf("open: %v h of %v", before, longest)
		}
		for _, name := range []string{"first", "second", "third"} {
			obstacles = append(obstacles, anyObstacle(t, name))
			after := sky.Hours(obstacles, x, y, z)
			if !(after >= 0 && after <= before) {
				t.Fatalf("%s added sun: %v to %v h", name, before, after)
			}
			before = after
		}
		for i := range obstacles {
			if obstacles[i].Kind == Tree {
				continue
			}
			obstacles[i].HeightM *= rapid.Float64Range(1, 3).Draw(t, "rise")
			after := sky.Hours(obstacles, x, y, z)
			if !(after <= before) {
				t.Fatalf("a higher %s added sun: %v to %v h", obstacles[i].Kind, before, after)
			}
			before = after
		}
	})
}

// The runs of beams that are tested leave none out and take none twice.
func TestBetweenLeavesNoBeamOut(t *testing.T) {
	west := &Sky{beams: []beam{{dx: -1}}} // its angle is pi, not -pi
	west.sort()
	assert.Equal(t, [2][2]int{{0, 0}, {0, 1}}, west.between(-math.Pi, -2))
	assert.Equal(t, [2][2]int{{0, 0}, {0, 1}}, west.between(3, -3))
	rapid.Check(t, func(t *rapid.T) {
		sky := NewSky(rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-360, 360).Draw(t, "north"), []int{80, 172, 355})
		at := rapid.OneOf(rapid.Float64Range(-math.Pi, math.Pi), rapid.SampledFrom([]float64{-math.Pi, 0, math.Pi, math.Pi / 2}))
		a, b := at.Draw(t, "a"), at.Draw(t, "b")
		in := map[int]int{}
		for _, run := range sky.between(a, b) {
			for i := run[0]; i < run[1]; i++ {
				in[i]++
			}
		}
		for i, angle := range sky.angles {
			toA, toB, turn := wrap(angle-a), wrap(angle-b), math.Abs(wrap(b-a))
			within := math.Abs(toA)+math.Abs(toB) <= turn+1e-9 // on the shorter way, and no further
			if within && in[i] != 1 {
				t.Fatalf("beam at %v taken %d times between %v and %v", angle, in[i], a, b)
			}
			if in[i] > 1 {
				t.Fatalf("beam at %v taken %d times", angle, in[i])
			}
		}
	})
}

func sunHours(latDeg, northDeg float64, obstacles []Obstacle, x, y, heightM float64, days []int) float64 {
	return NewSky(latDeg, northDeg, days).Hours(obstacles, x, y, heightM)
}
