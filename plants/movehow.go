package plants

import (
	"math"
	"slices"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// Lifting is how a plant is lifted and watered in.
type Lifting struct {
	BallWidthCM, BallDepthCM float64 // of the soil to lift with it
	BallKG                   float64
	WaterL                   float64 // when it is set, so that the ball and 10 cm round it are moist
	AgainEveryD, ForD        int     // in dry weather, water as much again every so many days for so many
}

const (
	// yearsToSpread is how long a plant takes from the pot to its mature spread.
	// Common practice, no source.
	yearsToSpread = 3
	// mostBallCM is the widest ball that two people lift by hand; wider plants are
	// lifted with as much. Common practice, no source.
	mostBallCM = 60
	// ballDepth is the depth of a ball for its width, roots permitting. Common
	// practice, no source.
	ballDepth = 0.6
	// soilKGPerL is the weight of moist garden soil. Common practice, no source.
	soilKGPerL = 1.6
)

// lifting says how to lift a plant on a day: with a ball as wide as it has grown
// by then, and as much water as the ground in and round the ball holds for
// roots.
//
//	width = pot + min(1, age / yearsToSpread) (spread - pot), at most mostBallCM
//	depth = ballDepth width, at most the root depth
//	water = TAW(depth) x disc of width + 20 cm / share that reaches the roots
//
// lengths cm, TAW mm (FAO-56 Eq. 82, SOURCES.md [S1]). A plant whose day of
// planting is not known counts as grown.
func lifting(l *zones.Lot, p catalogue.Plant, spreadCM float64, planted, on time.Time) Lifting {
	set := care.Default()
	_, pot := set.Pot(p)
	grown := 1.0
	if !planted.IsZero() {
		grown = min(1, max(0, on.Sub(planted).Hours()/24/365.25/yearsToSpread))
	}
	h := Lifting{BallWidthCM: min(mostBallCM, care.YoungRootCM(pot, spreadCM, grown)), AgainEveryD: set.SettleGapDays, ForD: set.SettleDays}
	h.BallDepthCM = ballDepth * h.BallWidthCM
	if p.RootCM > 0 {
		h.BallDepthCM = min(h.BallDepthCM, p.RootCM)
	}
	h.BallKG = soilKGPerL * math.Pi / 4 * h.BallWidthCM * h.BallWidthCM * h.BallDepthCM / 1000
	h.WaterL = l.Ground().TAWMM(h.BallDepthCM) * care.WateredM2(h.BallWidthCM, h.BallWidthCM, 1) / set.ReachShare
	return h
}

// What moving a plant costs, as a chance to lose it or a season of it, in the
// seasons looked at. Assumptions, no source: that transplanting disturbs and
// that it lags over three years is shown by Brotherton and others 2019 (SOURCES.md [S28]),
// how much is not.
const (
	disturbBase    = 0.03
	disturbPerBall = 0.02 // for each 15 cm of ball
	disturbWoody   = 0.05 // shrubs and trees
	disturbAgain   = 0.15 // just moved, falling to 0 in lagYears
	disturbSeason  = 0.10 // in months that are not fit
	lagYears       = 3
	potBallCM      = 15.0
)

// disturb returns the loss that moving a plant in its window brings.
func (r *relocation) disturb(s *standing) float64 {
	d := disturbBase + disturbPerBall*s.how.BallWidthCM/potBallCM
	if slices.Contains([]string{"shrub", "small tree", "tree"}, s.plant.Form) {
		d += disturbWoody
	}
	if !s.moved.IsZero() {
		years := max(0, s.when.From.Sub(s.moved).Hours()/24/365.25)
		d += disturbAgain * max(0, 1-years/lagYears)
	}
	if s.when.Reason == leastHard {
		d += disturbSeason
	}
	return d
}
