package season

import (
	"math"

	"hollowbed/plants/care"
	"hollowbed/plants/fit"
)

// Outlook is what to expect of one plant at one place, by what it is believed to bear.
type Outlook struct {
	// YearlyRisk is the chance that a year passes a limit or that the sun does not
	// do; Risk is the same for each of the draws that a Prospect makes.
	YearlyRisk float64
	Risk       [draws]float64
	// FirstRisk is that of the first season after a move to the place.
	FirstRisk [draws]float64
}

// Prospect looks ahead for one plant: it holds draws of what it bears, the same at every
// place, so that a doubt that two share does not count. From round to round differs what
// is believed of its kind in this garden, within one how it differs from its kind.
type Prospect struct {
	width float64
	sun   [2]Belief                      // how much less it does with, how much more it stands
	share [LimitCount][draws]float64     // e^(-bearing / width)
	deep  [byWetSteps + 1][draws]float64 // that of too deep with so much of too wet
	moved float64                        // what odds are multiplied by in the first season after a move
}

// byWetSteps is how finely fit.Year.DeepByWet is told apart.
const byWetSteps = 4

// draws is how many draws of the bearing stand for a belief.
const (
	rounds  = 16
	inRound = 4
	draws   = rounds * inRound
)

// Prospect prepares to look ahead for a plant, by a record of so many years. The edge of
// a limit is widened by what so few leave open of the weather (fit.Predictor). Of the
// spread as much as Model.Eta is the plant's own.
func (m Model) Prospect(b Bearing, predict fit.Predictor, years int) *Prospect {
	p := &Prospect{width: math.Hypot(m.Steep, predict.Scale/math.Sqrt(float64(years))), sun: [2]Belief(b[LimitCount:])}
	p.moved = math.Exp(-math.Log(care.Tolerance(care.Lifted, movedRooted)) / p.width)
	for l, belief := range b[:LimitCount] {
		own := 0.0
		if l < LimitCount-1 { // cold is the same wherever it stands
			own = min(m.Eta, belief.SD)
		}
		kind := math.Sqrt(belief.SD*belief.SD - own*own)
		for k := range draws {
			z := kind*kindPoint(k/inRound, l) + own*ownPoint(k%inRound, l)
			p.share[l][k] = math.Exp(-(belief.Mean + z) / p.width)
		}
	}
	for s := range p.deep {
		for k := range p.deep[s] {
			p.deep[s][k] = p.share[atDeepLimit][k] * math.Pow(p.share[atWetLimit][k], float64(s)/byWetSteps)
		}
	}
	return p
}

// movedRooted is how far a moved plant has rooted again on average over its first season.
const movedRooted = 0.5

// kindPoint is the point of a round for a limit: the middles of four equal shares of the
// normal distribution, spread 1, by the orthogonal array of 16 runs and 4 levels over the
// field of four elements (textbook), so that every pair meets once.
func kindPoint(round, limit int) float64 {
	a, b := round/4, round%4
	double := [4]int{0, 2, 3, 1}
	level := [LimitCount]int{a, b, a ^ b, a ^ double[b]}[limit]
	return [4]float64{-1.363, -0.378, 0.378, 1.363}[level] // quantiles at 1/8, 3/8, 5/8, 7/8, over 0.844
}

// ownPoint is the point of a plant in its round, by the orthogonal array of 4 runs and 2
// levels; cold has none.
func ownPoint(i, limit int) float64 {
	return [4][LimitCount]float64{{-1, -1, 1, 0}, {-1, 1, -1, 0}, {1, -1, -1, 0}, {1, 1, 1, 0}}[i][limit]
}

// At judges a place by what its recorded years would do to the plant by the
// catalogue's limits (fit.Bed.InBand), and by the hours of sun that it has too few and
// too many, less than 0 within the plant's range. In each year the odds of the limits add
// up, as in the rest of the model:
//
//	risk = mean over the years of S / (1 + S),  S = sum over the limits of (x e^-b)^(1/w)
//
// and the sun takes its share of what is left. x severity by the catalogue, b bearing, for too deep with its share of that of
// too wet. NaN if no limit is known in any year.
func (p *Prospect) At(years []fit.Year, sunShortH, sunOverH float64) Outlook {
	var o Outlook
	n := 0
	for _, y := range years {
		var odds [LimitCount]float64
		known := false
		for l, x := range [LimitCount]float64{y.Wet, y.Deep, y.Dry, y.Cold} {
			if x > 0 {
				odds[l] = math.Exp(min(math.Log(x)/p.width, mostLogOdds))
			}
			known = known || !math.IsNaN(x)
		}
		if !known {
			continue
		}
		n++
		byWet := int(math.Round(byWetSteps * y.DeepByWet))
		share := [LimitCount]*[draws]float64{&p.share[0], &p.deep[byWet], &p.share[2], &p.share[3]}
		moved := [LimitCount]float64{p.moved, math.Pow(p.moved, 1+float64(byWet)/byWetSteps), p.moved, 1} // cold is as hard on either
		for k := range o.Risk {
			sum, first := 0.0, 0.0
			for l, v := range odds {
				one := v * share[l][k]
				sum += one
				first += moved[l] * one
			}
			o.Risk[k] += sum / (1 + sum)
			o.FirstRisk[k] += first / (1 + first)
		}
	}
	sun := min(1, sunLoss(sunShortH, p.sun[0])+sunLoss(sunOverH, p.sun[1]))
	for k := range o.Risk {
		o.Risk[k] = 1 - (1-o.Risk[k]/float64(n))*(1-sun)
		o.FirstRisk[k] = 1 - (1-o.FirstRisk[k]/float64(n))*(1-sun)
		o.YearlyRisk += o.Risk[k] / draws
	}
	return o
}

// LossMoved returns the share of so many seasons in which the plant is expected to
// struggle if it is moved there, its roots lost in part in the first; what else the move
// costs is not in it. A share, not the chance of any trouble: who struggles each year has
// twice as much of it as every other year.
func (o Outlook) LossMoved(seasons int) float64 {
	return meanOf(draws, func(k int) float64 { return o.moved(k, seasons) })
}

// meanOf is the mean of n figures.
func meanOf(n int, of func(k int) float64) float64 {
	sum := 0.0
	for k := range n {
		sum += of(k)
	}
	return sum / float64(n)
}

// Struggles returns the chance that it struggles at least once in so many seasons where
// it stands; what it bears stays the same in all.
func (o Outlook) Struggles(seasons int) float64 {
	return meanOf(draws, func(k int) float64 { return 1 - math.Pow(1-o.Risk[k], float64(seasons)) })
}

// StrugglesMoved returns the same if it is moved there.
func (o Outlook) StrugglesMoved(seasons int) float64 {
	return meanOf(draws, func(k int) float64 { return 1 - (1-o.FirstRisk[k])*math.Pow(1-o.Risk[k], float64(seasons-1)) })
}

// Harm returns by how much a move may turn out for the worse: the root of the mean square
// of what is lost more there, over what is believed of kind and garden, 0 where it does
// good. How one plant differs from its kind is luck: it counts in the losses, or no notes
// could ever settle it.
func (o Outlook) Harm(other Outlook, seasons int) float64 {
	square := 0.0
	for round := range rounds {
		worse := 0.0
		for k := round * inRound; k < (round+1)*inRound; k++ {
			worse += (other.moved(k, seasons) - o.Risk[k]) / inRound
		}
		worse = max(0, worse)
		square += worse * worse
	}
	return math.Sqrt(square / rounds)
}

// Doubt returns the standard deviation of the yearly risk, of what is believed of
// the plant's kind and its garden.
func (o Outlook) Doubt() float64 {
	sum, square := 0.0, 0.0
	for round := range rounds {
		risk := 0.0
		for k := round * inRound; k < (round+1)*inRound; k++ {
			risk += o.Risk[k] / inRound
		}
		sum += risk
		square += risk * risk
	}
	mean := sum / rounds
	return math.Sqrt(max(0, square/rounds-mean*mean))
}

func (o *Outlook) moved(k, seasons int) float64 {
	return (o.FirstRisk[k] + float64(seasons-1)*o.Risk[k]) / float64(seasons)
}
