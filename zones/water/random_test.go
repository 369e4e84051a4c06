package water

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

// drawBed draws a rectangle, an oval or an L, with and without rim and slope,
// some of them tiny.
func drawBed(rt *rapid.T) *basin.Basin {
	for {
		l, w := rapid.Float64Range(0.3, 12).Draw(rt, "length"), rapid.Float64Range(0.3, 8).Draw(rt, "width")
		o := basin.Outline{Kind: rapid.SampledFrom([]string{"rectangle", "oval", "polygon"}).Draw(rt, "kind")}
		if o.Kind == "polygon" {
			o.Points = [][2]float64{{0, 0}, {l, 0}, {l, w / 2}, {l / 2, w / 2}, {l / 2, w}, {0, w}}
		} else {
			o.LengthM, o.WidthM = l, w
		}
		bed, err := basin.New(basin.Spec{
			Outline:   o,
			PondingMM: rapid.Float64Range(20, 400).Draw(rt, "ponding"), SideRun: rapid.SampledFrom([]float64{0, 0.5, 3, 6}).Draw(rt, "side"),
			RimWidthM: rapid.SampledFrom([]float64{0, 0.1, 0.5}).Draw(rt, "rim"), FreeboardMM: rapid.SampledFrom([]float64{0, 50, 150}).Draw(rt, "freeboard"),
		})
		if err == nil {
			return bed
		}
	}
}

// rateOf draws a rate, nothing and no limit among them.
func rateOf(rt *rapid.T, name string) float64 {
	switch rapid.IntRange(0, 9).Draw(rt, name+" kind") {
	case 0:
		return 0
	case 1:
		return math.Inf(1)
	}
	return math.Pow(10, rapid.Float64Range(-1, 2.3).Draw(rt, name)) // 0.1 to 200 mm/h
}

func drawSetup(rt *rapid.T) Setup {
	fc := rapid.Float64Range(0.1, 0.4).Draw(rt, "fc")
	s := Setup{
		Bed:      drawBed(rt),
		InletM3H: rapid.SampledFrom([]float64{math.Inf(1), 0, 0.5, 5}).Draw(rt, "inlet"),
		MixFC:    fc, MixWP: fc * rapid.Float64Range(0.1, 0.9).Draw(rt, "wp"), MixSat: fc + rapid.Float64Range(0.02, 0.3).Draw(rt, "air"),
		MixDepthMM: rapid.Float64Range(100, 900).Draw(rt, "mix"), MixKMMH: rateOf(rt, "mix rate"), NativeKMMH: rateOf(rt, "native rate"),
		Kc: rapid.SampledFrom([]float64{0, 0.6, 1, 1.3}).Draw(rt, "kc"), PTab: rapid.Float64Range(0.2, 0.8).Draw(rt, "p"),
		LatitudeDeg: rapid.SampledFrom([]float64{47, -35, 0, 70, -80, 90}).Draw(rt, "latitude"), StepsPerH: rapid.IntRange(1, 2).Draw(rt, "steps"),
	}
	for range rapid.IntRange(0, 2).Draw(rt, "catches") {
		c := Catch{AreaM2: rapid.SampledFrom([]float64{0, 30, 100, 1000}).Draw(rt, "roof"), Coefficient: rapid.Float64Range(0, 1).Draw(rt, "c"), LossMM: rapid.Float64Range(0, 3).Draw(rt, "loss")}
		if rapid.Bool().Draw(rt, "ground") {
			c.CurveNumber = rapid.Float64Range(40, 100).Draw(rt, "curve number")
		}
		s.Catches = append(s.Catches, c)
	}
	return s
}

// drawRecord draws a record of up to a year and a half with storms and gaps,
// over a leap day, with gaps at the start and the end too.
func drawRecord(rt *rapid.T) *site.Record {
	return randomRecord(rapid.IntRange(1, 550).Draw(rt, "days"), rapid.Uint64().Draw(rt, "seed"))
}

func randomRecord(days int, random uint64) *site.Record {
	rec := &site.Record{
		Source: "random", Start: time.Date(2011, 10, 1, 0, 0, 0, 0, time.UTC), Step: "hourly",
		RainMM: make([]float64, 24*days), Missing: make([]bool, 24*days), Days: make([]site.Day, days),
	}
	next := func() float64 { // splitmix64: a drawn seed, without drawing each hour
		random += 0x9e3779b97f4a7c15
		z := random
		z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
		z = (z ^ z>>27) * 0x94d049bb133111eb
		return float64(z>>11^z>>42) / (1 << 53)
	}
	rain, gap := false, next() < 0.3
	for h := range rec.RainMM {
		switch u := next(); {
		case rain && u < 0.15, !rain && u < 0.02:
			rain = !rain
		case gap && u > 0.9, !gap && u > 0.999:
			gap = !gap
		}
		rec.Missing[h] = gap
		if rain && !gap {
			rec.RainMM[h] = -3 * math.Log(1-0.999999*next())
		}
	}
	for d := range rec.Days {
		rec.Days[d] = site.Day{TMinC: 5, TMaxC: 15 * next(), ET0MM: 8 * next()}
	}
	return rec
}

// No garden and no record makes or loses water, overfills the mix or the
// pond, or takes from either what is not there.
func TestNoWaterIsMadeOrLost(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, rec := drawSetup(rt), drawRecord(rt)
		wilting, full := s.MixWP*s.MixDepthMM, s.MixSat*s.MixDepthMM
		end := simulate(s, rec, len(rec.Days), true, func(hour, _ int, st *state) {
			for i := range st.places {
				if held := st.places[i].heldMM; !(held >= wilting-1e-9 && held <= full+1e-9) {
					rt.Fatalf("hour %d: band %d holds %g mm, wilting %g, full %g", hour, i, held, wilting, full)
				}
			}
			if !(st.pondM3 >= -1e-12 && st.pondM3 <= st.spillM3) || !(st.levelMM <= 0) {
				rt.Fatalf("hour %d: pond of %g m3 at %g mm, full at %g m3", hour, st.pondM3, st.levelMM, st.spillM3)
			}
		}).volumes()
		// A drizzle is weighed against a full mix to the last digit of the mix.
		inM3 := end.RainOnBedM3 + end.InflowM3
		if inM3 > 1e-3*s.Bed.Spec().Outline.AreaM2() {
			require.Less(rt, end.Closure(), 1e-9)
		}
		require.InDelta(rt, end.RunoffM3, end.BypassM3+end.InflowM3, 1e-9*(1+end.RunoffM3))
		for _, v := range []float64{end.RunoffM3, end.BypassM3, end.InflowM3, end.InfiltratedM3, end.EvaporatedM3, end.OverflowM3} {
			require.GreaterOrEqual(rt, v, 0.0)
		}

		r, err := Run(s, rec)
		require.NoError(rt, err)
		volumes, err := Volumes(s, rec)
		require.NoError(rt, err)
		require.Equal(rt, volumes, r.Balance, "the spells do not touch the water")
		sameByTheHour(rt, s, rec, r)
		var sum Balance
		for _, y := range r.ByYear {
			sum = sum.minus(Balance{}.minus(y))
		}
		require.InDelta(rt, end.InfiltratedM3, sum.InfiltratedM3, 1e-9*(1+inM3))
		require.InDelta(rt, end.StoredChangeM3, sum.StoredChangeM3, 1e-9*(1+inM3))
		checkSpells(rt, r, rec)
	})
}

// A roof of 30 m2 over a bed of 0.2 m2, mix that takes any rain and fast ground: the pond
// stands for hours at the foot of a band that would take more than comes. A litre's
// billionth more or less must be forgotten there, not grow from step to step.
func TestPondAtTheFootOfThirstyGround(t *testing.T) {
	bed, err := basin.New(basin.Spec{
		Outline:   basin.Outline{Kind: "rectangle", LengthM: 0.31972255214274403, WidthM: 0.59918212890625},
		PondingMM: 188.18794684227117, SideRun: 0.5, FreeboardMM: 150,
	})
	require.NoError(t, err)
	const fc = 0.16796875
	s := Setup{
		Bed: bed, InletM3H: 0.5, MixFC: fc, MixWP: 0.9 * fc, MixSat: fc + 0.2928675536020301, MixDepthMM: 253,
		MixKMMH: math.Inf(1), NativeKMMH: math.Pow(10, 2.021307299447956), Kc: 1, PTab: 0.25751968503027456, LatitudeDeg: 47, StepsPerH: 1,
		Catches: []Catch{{AreaM2: 30, CurveNumber: 91.62236891738957}},
	}
	rec := randomRecord(384, 0x1e4ad866db5)
	r, err := Run(s, rec)
	require.NoError(t, err)
	sameByTheHour(t, s, rec, r)

	st := newState(s)
	const rainMM, inflowM3 = 1.18, 0.0154 // of an hour
	for range 3 {
		st.move(rainMM, inflowM3, 0.1, 0.3)
	}
	other := *st
	other.places = slices.Clone(st.places)
	other.pondM3 -= 1e-12
	other.levelMM = other.levelOf(other.pondM3)
	for range 3 {
		st.move(rainMM, inflowM3, 0.1, 0.3)
		other.move(rainMM, inflowM3, 0.1, 0.3)
		require.Less(t, math.Abs(st.pondM3-other.pondM3), 2e-12)
	}
	require.InDelta(t, st.places[8].footMM, st.levelMM, 0.1)
}

// checkSpells holds spells to what they mean: inside the record, outside its
// gaps, and no longer than the hours that were wet in all.
func checkSpells(rt *rapid.T, r *Result, rec *site.Record) {
	for b := range r.Bands {
		for y, e := range r.Exposure[b] {
			for _, s := range []Spell{e.Wet, e.WetGrowing, e.WetWorst, e.Dry} {
				end := s.FromHour + s.Hours
				require.LessOrEqual(rt, end, 24*r.Years[y].ToDay)
				touches := s.FromHour == 0 || end == len(rec.Missing) || rec.Missing[s.FromHour-1] || rec.Missing[end]
				if s.Hours == 0 {
					continue
				}
				require.Greater(rt, end, 24*r.Years[y].FromDay, "a spell of a year lies in it, in part")
				lost := 0
				for h := s.FromHour; h < end; h++ {
					touches = touches || rec.Missing[h]
					if lost++; !rec.Missing[h] {
						lost = 0
					}
					require.Less(rt, lost, gapH, "no spell runs through a long gap")
				}
				if touches {
					require.True(rt, s.Gap, "band %d: hours %d to %d", b, s.FromHour, end)
				}
			}
			require.LessOrEqual(rt, e.WetGrowing.GrowingHours, e.Wet.Hours)
			require.GreaterOrEqual(rt, e.WetWorst.EquivalentHours(), e.Wet.EquivalentHours())
			require.LessOrEqual(rt, e.WetHours, 24*(r.Years[y].ToDay-r.Years[y].FromDay))
			require.LessOrEqual(rt, e.Dry.Hours%24, 0)
		}
	}
}

func TestSetupsThatCannotBe(t *testing.T) {
	rec := readReal(t, "newyork-hourly-2013.csv", "origin", "LGA", 40.8)
	good := roughLot(t, 6, 40.8)
	_, err := Run(good, rec)
	require.NoError(t, err)
	for name, spoil := range map[string]func(*Setup){
		"mix depth":        func(s *Setup) { s.MixDepthMM = math.Inf(1) },
		"native rate":      func(s *Setup) { s.NativeKMMH = -1 },
		"crop coefficient": func(s *Setup) { s.Kc = math.NaN() },
		"inlet capacity":   func(s *Setup) { s.InletM3H = math.NaN() },
		"water contents":   func(s *Setup) { s.MixSat = s.MixFC },
		"without stress":   func(s *Setup) { s.PTab = 1.5 },
		"latitude":         func(s *Setup) { s.LatitudeDeg = 91 },
		"steps an hour":    func(s *Setup) { s.StepsPerH = 0 },
		"curve number":     func(s *Setup) { s.Catches = []Catch{{AreaM2: 1, CurveNumber: 101}} },
	} {
		s := good
		spoil(&s)
		_, err := Run(s, rec)
		require.ErrorContains(t, err, name)
		_, err = Volumes(s, rec)
		require.ErrorContains(t, err, name)
		_, err = Trace(s, rec, 0, 0, 1)
		require.ErrorContains(t, err, name)
		_, _, err = EventOverflowM3(s, 30, [24]float64{1})
		require.ErrorContains(t, err, name)
	}
	rec.Days[3].ET0MM = math.NaN()
	_, err = Volumes(good, rec)
	require.ErrorContains(t, err, "day 4 of the record has no ET0")
	_, err = Run(good, &site.Record{})
	require.ErrorContains(t, err, "no whole day")
}
