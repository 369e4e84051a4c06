// Package season is what happened after planting: how each plant did, what it
// met, why it struggled, and what that teaches about its limits.
//
// Input is the record of a garden (season.csv), what each plant met in the real
// weather (Case, made by Replay from the hourly balance), and the table of
// signs. Output is values: for each plant the chances of every cause with the
// evidence (Diagnose), and for each species, garden and plant how far the
// catalogue's limits have to be moved (Learn).
//
// # The model
//
// In a season a plant is fine or has exactly one trouble. The odds of a trouble
// against fine, before anything was seen, are
//
//	limits (wet, deep, dry, cold)   x^(1/w) + a small floor
//	too shaded, too much sun        by the hours outside the plant's range
//	slow to establish               by the months since planting
//	other                           constant
//
// x is the severity, dose over limit, and w its steepness: the chance that a
// limit fails a plant is the log-logistic 1 / (1 + x^(-1/w)). The severity that
// counts is not the catalogue's but
//
//	ln x = ln(dose / limit) - theta - eta + gamma
//
//	theta  how much more the species bears than its catalogue says
//	eta    how much more this very plant bears than its species
//	gamma  how much wetter, or drier, this garden is than computed
//
// each normal about 0 beforehand. gamma is one figure for too wet and another
// for too dry; there is none for cold, nor for too deep: how deep water stands
// is the basin's shape. How long it stands counts in the dose of too deep by the
// hours that the plant bears (fit.Year.DeepByWet), and so does what is learned of
// those, gamma of too wet with it:
//
//	ln x(deep) = ln(dose / limit) - theta - eta - byWet (theta + eta - gamma of too wet)
//
// What was seen comes in by a table of chances: of each vigour, and of each
// sign, for every trouble. Signs are taken as independent of each other once
// the trouble is known, which they are not quite; a sign that nobody wrote down
// counts only in part as not there. All notes of one plant in one season are
// joined to one piece of evidence.
//
// It leaves out: two troubles at once, troubles that build up over years, and
// whatever the balance leaves out. It opens no files and asks no clock.
package season

import (
	"math"

	"hollowbed/plants/fit"
)

// Cause is why a plant does as it does.
type Cause string

// The causes.
const (
	Fine       Cause = "fine"
	TooWet     Cause = "too wet"
	TooDeep    Cause = "too deep"
	TooDry     Cause = "too dry"
	TooShaded  Cause = "too shaded"
	TooExposed Cause = "too exposed" // sun, cold, wind
	Slow       Cause = "slow to establish"
	Other      Cause = "other" // eaten, silted, washed out, disease
)

// CauseCount is how many causes there are.
const CauseCount = 8

// Causes lists every cause, in the order of figures by cause.
func Causes() [CauseCount]Cause {
	return [CauseCount]Cause{Fine, TooWet, TooDeep, TooDry, TooShaded, TooExposed, Slow, Other}
}

// Places of the causes in Causes.
const (
	atFine = iota
	atWet
	atDeep
	atDry
	atShaded
	atExposed
	atSlow
	atOther
)

// LimitCount is how many limits weather sets.
const LimitCount = 4

// Limits lists the limits that weather sets and that can be learned, in order.
func Limits() [LimitCount]fit.Limit {
	return [LimitCount]fit.Limit{fit.TooWet, fit.TooDeep, fit.TooDry, fit.TooCold}
}

// Places of two limits in Limits.
const (
	atWetLimit  = 0
	atDeepLimit = 1
)

// causeOf tells which cause a limit belongs to, by their places.
func causeOf(limit int) int { return [LimitCount]int{atWet, atDeep, atDry, atExposed}[limit] }

// Model holds the figures of the model. Default gives those that are used.
type Model struct {
	Steep      float64 // w, log units of severity
	FloorOdds  float64 // of each limit, whatever was computed
	TauStated  float64 // standard deviation of theta where the catalogue states the limit
	TauAssumed float64 // ... where it is only assumed
	Eta        float64 // standard deviation of eta
	Gamma      float64 // standard deviation of gamma
	Unseen     float64 // what a sign that was not written down counts as not there, 0 to 1
	Unsettled  float64 // least standard deviation of a learned theta
	SlowChance float64 // of slow to establish, just planted
	SlowMonths float64 // in which that falls by e
	OtherOdds  float64
	SunBase    float64 // chance of too shaded, and of too much sun, within the range
	SunUnknown float64 // ... where sun or range are not known
	SunSpread  float64 // standard deviation of the ends of a plant's range, hours a day
	Witness    float64 // how much likelier the sign of an accident is under Other than under any other cause; 0: as the table has it
}

// Witnesses is the model for people's own notes: of 60 plants that suffer from something
// else one is noted as trampled, eaten or washed out. Assumption, no source.
func Witnesses() Model {
	m := Default()
	m.Witness = 60
	return m
}

// Default returns the figures of the model. They are assumptions without a
// source, stated so that they can be judged:
//
//   - Steepness 0.15: at two thirds of a limit 1 plant in 16 fails, at half as
//     much again 15 of 16. It holds what weather and balance leave open in one
//     season.
//   - Limits in catalogues are growers' words: right within a factor 1.5 in two
//     of three cases (0.4), within 1.8 where only assumed from a class (0.6).
//   - Plants of one species differ by a fifth (0.2), gardens from what was
//     computed by a third (0.3): soil tests on the spot disagree by more.
//   - A sign not written down is worth three tenths of one looked for and not
//     found.
//   - Full sun is 6 hours in one book and 5 or 7 in the next: the ends of a
//     plant's range are 0.7 hours off.
//   - No number of notes makes a limit surer than within a tenth (0.1): they share
//     the table of signs and the balance, and what these have wrong.
//   - Three of ten plants sulk just after planting, one in ten a season later:
//     effects of transplanting lag over up to three years (Brotherton and
//     others 2019, abstract; the share is not theirs).
func Default() Model {
	return Model{
		Steep: 0.15, FloorOdds: 0.005,
		TauStated: 0.4, TauAssumed: 0.6, Eta: 0.2, Gamma: 0.3,
		Unseen: 0.3, Unsettled: 0.1, SlowChance: 0.3, SlowMonths: 10, OtherOdds: 0.06,
		SunBase: 0.01, SunUnknown: 0.03, SunSpread: 0.7,
	}
}

// Belief is what is held of one figure: mean and standard deviation, log units.
type Belief struct{ Mean, SD float64 }

// Bearing is what a plant bears of each limit, log of a multiple of the catalogue's;
// then with how much less sun it does, and how much more it stands, than the range of its
// kind says, hours a day (atLeastSun, atMostSun).
type Bearing [LimitCount + 2]Belief

// Places of the ends of the range of sun in a Bearing.
const (
	atLeastSun = LimitCount
	atMostSun  = LimitCount + 1
)

// Unlearned is the bearing of a plant of which only the catalogue is known.
func (m Model) Unlearned(c Case) Bearing {
	var b Bearing
	for l := range LimitCount {
		b[l].SD = math.Hypot(math.Hypot(m.tau(c.Assumed[l]), m.Eta), m.gammaSD(l, c.GroundSD))
	}
	b[atLeastSun].SD, b[atMostSun].SD = m.SunSpread, m.SunSpread
	return b
}

func (m Model) tau(assumed bool) float64 {
	if assumed {
		return m.TauAssumed
	}
	return m.TauStated
}

// gammaSD is that of a limit, 0 for one that has none: what ponds have left open of the
// ground (Case.GroundSD), where they were watched.
func (m Model) gammaSD(limit int, ground float64) float64 {
	switch {
	case gammaOf(limit) < 0:
		return 0
	case ground > 0:
		return min(m.Gamma, max(ground, m.Unsettled))
	}
	return m.Gamma
}

// against is the belief that a dose counts against, with its share of that of too wet.
func against(limit int, b Bearing, byWet float64) Belief {
	return Belief{b[limit].Mean + byWet*b[atWetLimit].Mean, math.Hypot(b[limit].SD, byWet*b[atWetLimit].SD)}
}

// odds returns the odds of a limit against fine for a severity, whose edge the belief
// widens, as a logistic of scale w has the spread w pi / sqrt 3. NaN gives the floor.
func (m Model) odds(severity float64, b Belief) float64 {
	if math.IsNaN(severity) || !(severity > 0) {
		return m.FloorOdds
	}
	wide := math.Hypot(m.Steep, b.SD*math.Sqrt(3)/math.Pi)
	return m.FloorOdds + math.Exp(min((math.Log(severity)-b.Mean)/wide, mostLogOdds))
}

// mostLogOdds keeps odds finite.
const mostLogOdds = 30

// slowOdds returns the odds of slow to establish so many months after planting.
func (m Model) slowOdds(months float64) float64 {
	if math.IsNaN(months) {
		months = m.SlowMonths
	}
	return toOdds(m.SlowChance * math.Exp(-max(months, 0)/m.SlowMonths))
}

// sunOdds returns the odds of a place with so many hours of sun too few or too many.
func (m Model) sunOdds(off float64, b Belief) float64 {
	if math.IsNaN(off) {
		return toOdds(m.SunUnknown)
	}
	return toOdds(min(max(m.SunBase, sunLoss(off, b)), 0.95))
}

// sunLoss returns the yearly loss of a place that has so many hours of sun
// outside a plant's range, less than 0 within it, averaged over how far off the
// range may be:
//
//	loss = SunLoss(1 h) s (z Phi(z) + phi(z)),  z = (off - b) / s
//
// b and s mean and standard deviation of what is believed, Phi and phi of the normal
// distribution (its mean above a point, textbook). 0 if it is not known.
func sunLoss(off float64, b Belief) float64 {
	off -= b.Mean
	switch {
	case math.IsNaN(off):
		return 0
	case math.Abs(off) >= 40*b.SD: // as good as sure
		return fit.SunLoss(max(0, off))
	}
	z := off / b.SD
	above := z*math.Erfc(-z/math.Sqrt2)/2 + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
	return fit.SunLoss(max(0, b.SD*above))
}

func toOdds(chance float64) float64 { return chance / (1 - chance) }

// prior returns the odds of every cause against fine before anything was seen.
func (m Model) prior(c Case, b Bearing) [CauseCount]float64 {
	var w [CauseCount]float64
	w[atFine] = 1
	for l := range LimitCount {
		bears := against(l, b, c.Dose[l].ByWet)
		w[causeOf(l)] += m.odds(c.Dose[l].Severity, Belief{bears.Mean, math.Hypot(bears.SD, c.Doubt[l])})
	}
	w[atShaded] = m.sunOdds(c.SunShortH, b[atLeastSun])
	w[atExposed] += m.sunOdds(c.SunOverH, b[atMostSun])
	w[atSlow] = m.slowOdds(c.Months)
	w[atOther] = m.OtherOdds
	return w
}
