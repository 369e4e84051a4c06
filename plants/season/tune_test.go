package season

import (
	"math"
	"testing"
)

func TestTune(t *testing.T) {
	for _, only := range []int{0, 2, -1} {
		for _, each := range []int{10, 40} {
			in, n := 0, 0
			bias, z2 := 0.0, 0.0
			gin, gn := 0, 0
			for seed := range uint64(6) {
				w := newWorld(t, 100+seed)
				var cases []Case
				for _, c := range w.casesOnly(40, 40, each, 3, only) {
					cases = append(cases, c)
				}
				l := w.m.Learn(w.table, cases)
				for _, s := range l.Species {
					truth := w.theta[s.ID][indexLimit(s.Limit)]
					z := (truth - s.Belief.Mean) / s.Belief.SD
					bias += z
					z2 += z * z
					n++
					if truth >= math.Log(s.Low) && truth <= math.Log(s.High) {
						in++
					}
				}
				for _, g := range l.Gardens {
					gn++
					if x := math.Exp(w.gamma[g.Garden][0]); x >= g.WetLow && x <= g.WetHigh {
						gin++
					}
				}
			}
			t.Logf("only %d each %d: coverage %.3f  mean z %.2f  rms z %.2f; gardens %.3f", only, each, float64(in)/float64(n), bias/float64(n), math.Sqrt(z2/float64(n)), float64(gin)/float64(gn))
		}
	}
}
