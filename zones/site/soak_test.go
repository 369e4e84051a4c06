package site

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Source: inverse auger hole method, ILRI Publication 16, chapter 12: radius 4
// cm, h 19 to 14 cm in 900 s, h + r/2 21 to 16 cm, evaluated as printed there by
// K = 1.15 r (log(h0 + r/2) - log(ht + r/2)) / (t - t0), with common logarithms.
// Formula and readings from memory; the printed result was not found, so this
// compares two forms of the formula and the units, not the book's answer.
func TestSoakILRIReadings(t *testing.T) {
	test := SoakTest{HoleDiameterMM: 80, HoleDepthMM: 900}
	for _, r := range [][2]float64{{0, 190}, {140, 180}, {300, 170}, {500, 160}, {650, 150}, {900, 140}} {
		test.Readings = append(test.Readings, SoakReading{Minutes: r[0] / 60, WaterDepthMM: r[1]})
	}
	all, dry := test.intervals()
	require.Zero(t, dry)
	var sum, hours float64
	for _, iv := range all {
		sum += iv.kMMH * iv.hours()
		hours += iv.hours()
	}
	// 1.15 x 4 x (log 21 - log 16) / 900 = 0.000604 cm/s = 0.52 m/d
	cmPerS := 1.15 * 4 * (math.Log10(21) - math.Log10(16)) / 900
	assert.InDelta(t, 0.52, cmPerS*864, 0.005)
	assert.InEpsilon(t, cmPerS*36000, sum/hours, 0.002, "1.15 is ln 10 / 2 rounded")
}

// holeFall integrates dh/dt = -K (2h + r)/r in small steps and reads the level.
func holeFall(k, diameter, start float64, minutes []float64) []SoakReading {
	r := diameter / 2
	h, now := start, 0.0 // mm, hours
	var out []SoakReading
	for _, m := range minutes {
		const steps = 20000
		dt := (m/60 - now) / steps
		for range steps {
			slope := func(h float64) float64 { return -k * (2*h + r) / r }
			h += dt * slope(h+dt/2*slope(h))
		}
		now = m / 60
		out = append(out, SoakReading{Minutes: m, WaterDepthMM: h})
	}
	return out
}

func TestSoakRecoversTheRate(t *testing.T) {
	for _, k := range []float64{1, 12.7, 60} {
		test := SoakTest{HoleDiameterMM: 300, HoleDepthMM: 350,
			Readings: holeFall(k, 300, 300, []float64{0, 10, 20, 35, 50})}
		r, err := test.Result()
		require.NoError(t, err)
		assert.InEpsilon(t, k, r.CorrectedMMH, 1e-6)
		assert.InEpsilon(t, k/2, r.DesignMMH, 1e-6)
		assert.Equal(t, 4, r.Intervals, "constant rate: the whole test is steady")
		assert.True(t, r.Steady)
		assert.Greater(t, r.RawMMH, r.CorrectedMMH, "the wall makes it look faster")
		assert.Empty(t, r.Notes)
	}
}

// Sources: the Porchet form with the mean depth H, K = fall 60 r / (dt (r + 2 H)),
// of Riverside County's design handbook (from memory), must agree for small
// falls. The reduction factor Rf = (2 d - fall)/diameter + 1, printed in a
// geotechnical report filed in Santa Ana (read in retrieved text), takes the
// whole diameter for the radius and leaves a rate up to twice as high: we do not
// follow it.
func TestSoakAgainstOtherCorrections(t *testing.T) {
	test := SoakTest{HoleDiameterMM: 200, HoleDepthMM: 300,
		Readings: []SoakReading{{0, 256}, {30, 250}, {60, 244.2}}}
	r, err := test.Result()
	require.NoError(t, err)
	fall, mean := 256-244.2, (256+244.2)/2
	porchet := fall * 60 * 100 / (60 * (100 + 2*mean))
	assert.InEpsilon(t, porchet, r.CorrectedMMH, 0.001)
	reduced := r.RawMMH / ((2*256-fall)/200 + 1)
	assert.Greater(t, reduced, 1.5*r.CorrectedMMH)
	assert.Less(t, reduced, 2*r.CorrectedMMH)
}

func TestSoakUsesTheLateSteadyPart(t *testing.T) {
	// dry soil drinks at first: 60, 30, then steady 10 mm/h
	var readings []SoakReading
	now, h := 0.0, 280.0
	for _, k := range []float64{60, 30, 10, 10.4, 10} {
		leg := holeFall(k, 250, h, []float64{0, 20})
		if now == 0 {
			readings = append(readings, leg[0])
		}
		now += 20
		h = leg[1].WaterDepthMM
		readings = append(readings, SoakReading{now, h})
	}
	r, err := SoakTest{HoleDiameterMM: 250, HoleDepthMM: 300, SafetyFactor: 3, Readings: readings}.Result()
	require.NoError(t, err)
	assert.Equal(t, 3, r.Intervals)
	assert.Equal(t, 40.0, r.FromMinutes)
	assert.Equal(t, 100.0, r.ToMinutes)
	assert.InDelta(t, (10+10.4+10)/3, r.CorrectedMMH, 1e-6)
	assert.InDelta(t, r.CorrectedMMH/3, r.DesignMMH, 1e-12)
	assert.Contains(t, r.Window, "last 3 of 5 intervals, 40 to 100 min")
	assert.Empty(t, r.Notes)
}

func TestSoakRefill(t *testing.T) {
	a := holeFall(20, 300, 200, []float64{0, 15, 30})
	b := holeFall(20, 300, 200, []float64{0, 15, 30})
	readings := append([]SoakReading{}, a...)
	for _, r := range b { // filled up in the minute of the last reading
		readings = append(readings, SoakReading{30 + r.Minutes, r.WaterDepthMM})
	}
	r, err := SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300, Readings: readings}.Result()
	require.NoError(t, err)
	assert.Equal(t, 4, r.Intervals, "the window reaches over the refill")
	assert.InEpsilon(t, 20, r.CorrectedMMH, 1e-6)

	_, err = SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300,
		Readings: []SoakReading{{0, 200}, {15, 190}, {20, 200}}}.Result()
	assert.ErrorContains(t, err, "usable intervals 1: want at least 2")
}

func TestSoakNoInfiltration(t *testing.T) {
	r, err := SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300,
		Readings: []SoakReading{{0, 150}, {60, 150}, {120, 150}}}.Result()
	require.NoError(t, err, "a rate of 0 is a verdict")
	assert.Zero(t, r.RawMMH)
	assert.Zero(t, r.CorrectedMMH)
	assert.Zero(t, r.DesignMMH)
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "the water did not fall")

	r, err = SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300,
		Readings: []SoakReading{{0, 250}, {60, 150}, {120, 150}, {180, 150}}}.Result()
	require.NoError(t, err)
	assert.Zero(t, r.CorrectedMMH)
	require.Len(t, r.Notes, 2)
	assert.Contains(t, r.Notes[1], "stopped falling at 150 mm")
}

func TestSoakDryHole(t *testing.T) {
	test := SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300}
	test.Readings = []SoakReading{{0, 200}, {15, 0}, {30, 0}}
	_, err := test.Result()
	assert.ErrorContains(t, err, "the hole ran dry, usable intervals 0")

	test.Readings = []SoakReading{{0, 0}, {15, 0}, {30, 0}}
	_, err = test.Result()
	assert.ErrorContains(t, err, "ran dry")

	readings := holeFall(60, 300, 250, []float64{0, 10, 20, 30})
	test.Readings = append(readings, SoakReading{300, 0})
	r, err := test.Result()
	require.NoError(t, err)
	assert.InEpsilon(t, 60, r.CorrectedMMH, 1e-6, "the dry interval would have made it slower")
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "ran dry: intervals 1")
}

func TestSoakWarnsWhenNotSteady(t *testing.T) {
	falling := SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300,
		Readings: []SoakReading{{0, 250}, {10, 220}, {20, 200}, {30, 190}}}
	r, err := falling.Result()
	require.NoError(t, err)
	assert.False(t, r.Steady)
	assert.Equal(t, 2, r.Intervals)
	assert.Contains(t, r.Window, "do not agree")
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "still falling")

	rising := SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300,
		Readings: []SoakReading{{0, 250}, {10, 240}, {20, 210}}}
	r, err = rising.Result()
	require.NoError(t, err)
	assert.False(t, r.Steady)
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "do not agree")

	// each within 15 % of the others, yet down and down
	var readings []SoakReading
	h := 280.0
	readings = append(readings, SoakReading{0, h})
	for i, k := range []float64{10, 9.6, 9.2, 8.8} {
		h = holeFall(k, 300, h, []float64{0, 20})[1].WaterDepthMM
		readings = append(readings, SoakReading{20 * float64(i+1), h})
	}
	r, err = SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300, Readings: readings}.Result()
	require.NoError(t, err)
	assert.True(t, r.Steady)
	assert.Equal(t, 4, r.Intervals)
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "still falling")
}

func TestSoakBadInput(t *testing.T) {
	good := func() SoakTest {
		return SoakTest{HoleDiameterMM: 300, HoleDepthMM: 300,
			Readings: []SoakReading{{0, 200}, {10, 190}, {20, 180}}}
	}
	_, err := good().Result()
	require.NoError(t, err)
	nan := math.NaN()
	for _, c := range []struct {
		spoil func(*SoakTest)
		want  string
	}{
		{func(s *SoakTest) { s.Readings = s.Readings[:2] }, "has 2 readings: want at least 3"},
		{func(s *SoakTest) { s.Readings[2].Minutes = 10 }, `reading 3: minutes "10": want later`},
		{func(s *SoakTest) { s.Readings[2].Minutes = 5 }, `reading 3: minutes "5": want later`},
		{func(s *SoakTest) { s.Readings[2] = SoakReading{5, 250} }, `reading 3: minutes "5": want later`},
		{func(s *SoakTest) { s.Readings[1].Minutes = nan }, "reading 2: minutes"},
		{func(s *SoakTest) { s.Readings[0].WaterDepthMM = 301 }, "reading 1: water depth"},
		{func(s *SoakTest) { s.Readings[0].WaterDepthMM = -1 }, "reading 1: water depth"},
		{func(s *SoakTest) { s.Readings[0].WaterDepthMM = nan }, "reading 1: water depth"},
		{func(s *SoakTest) { s.HoleDiameterMM = 0 }, "hole diameter"},
		{func(s *SoakTest) { s.HoleDiameterMM = nan }, "hole diameter"},
		{func(s *SoakTest) { s.HoleDepthMM = 0 }, "hole depth"},
		{func(s *SoakTest) { s.SafetyFactor = 0.5 }, "safety factor"},
		{func(s *SoakTest) { s.SafetyFactor = nan }, "safety factor"},
	} {
		s := good()
		c.spoil(&s)
		_, err := s.Result()
		if assert.Error(t, err, c.want) {
			assert.Contains(t, err.Error(), c.want)
			assert.Equal(t, strings.ToLower(err.Error()[:1]), err.Error()[:1])
		}
	}
}

func TestSoakProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := SoakTest{
			HoleDiameterMM: rapid.Float64Range(50, 600).Draw(t, "diameter"),
			HoleDepthMM:    1000,
		}
		minutes, depth := 0.0, 900.0
		for range rapid.IntRange(3, 8).Draw(t, "readings") {
			test.Readings = append(test.Readings, SoakReading{minutes, depth})
			minutes += rapid.Float64Range(1, 60).Draw(t, "wait")
			depth -= rapid.Float64Range(0, 100).Draw(t, "fall")
		}
		r, err := test.Result()
		if err != nil {
			t.Fatal(err)
		}
		if !(r.CorrectedMMH >= 0 && r.CorrectedMMH <= r.RawMMH && r.DesignMMH == r.CorrectedMMH/2) {
			t.Fatalf("corrected above raw, or below 0: %+v", r)
		}
		if r.Intervals < 2 || r.Window == "" {
			t.Fatalf("no window: %+v", r)
		}
		// a wider hole with the same fall means more water through relatively less wall
		wider := test
		wider.HoleDiameterMM *= 2
		w, err := wider.Result()
		if err != nil {
			t.Fatal(err)
		}
		if w.Intervals == r.Intervals && w.CorrectedMMH < r.CorrectedMMH*(1-1e-9) {
			t.Fatalf("wider hole, lower rate: %g then %g", r.CorrectedMMH, w.CorrectedMMH)
		}
	})
}
