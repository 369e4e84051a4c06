package season

import (
	"math"

	"hollowbed/plants/care"
	"hollowbed/plants/fit"
)

// Outlook is what is to be expected of one plant at one place, by what is
// believed of what it bears.
type Outlook struct {
	// YearlyRisk is the chance that a year passes a limit or that the sun does not
	// do; Risk is the same for each of the draws that a Prospect makes.
	YearlyRisk float64
	Risk       [draws]float64
	// FirstRisk is that of the first season after a move to the place.
	FirstRisk [draws]float64
}

// Prospect looks ahead for one plant: it holds draws of what the plant bears,
// the same at every place, so that a doubt that two places share does not
// count when they are compared. Draws come in rounds: from one round to the next
// differs what is believed of the plant's kind in this garden, within a round
// how the plant differs from its kind.
type Prospect struct {
	model Model
	width float64
	share [LimitCount][draws]float64     // e^(-bearing / width)
	deep  [byWetSteps + 1][draws]float64 // that of too deep with so much of too wet
	moved float64                        // what odds are multiplied by in the first season after a move
}

// byWetSteps is how finely fit.Year.DeepByWet is told apart.
const byWetSteps = 4

// draws is how many draws of the bearing stand for a belief: so many rounds, and
// so many plants in each.
const (
	rounds  = 16
	inRound = 4
	draws   = rounds * inRound
)

// Prospect prepares to look ahead for a plant with a bearing, by a record of so
// many years. The edge of a limit is the model's, widened by what so few years
// leave open of the weather (fit.Predictor). Of the spread of the bearing as much
// as plants of one kind differ (Model.Eta) is taken as the plant's own.
func (m Model) Prospect(b Bearing, predict fit.Predictor, years int) *Prospect {
	p := &Prospect{model: m, width: math.Hypot(m.Steep, predict.Scale/math.Sqrt(float64(years)))}
	p.moved = math.Exp(-math.Log(care.Tolerance(movedRooted)) / p.width)
	for l, belief := range b {
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

// movedRooted is how far a moved plant has rooted again, on average over its
// first season: half way, as one that was planted (see care.Tolerance).
const movedRooted = 0.5

// kindPoint is the point of a round for a limit, of the normal distribution: the
// middles of four equal shares, stretched so that their spread is 1. Every pair
// of limits meets every pair of points once: the orthogonal array of 16 runs and
// 4 levels over the field of four elements (textbook).
func kindPoint(round, limit int) float64 {
	a, b := round/4, round%4
	double := [4]int{0, 2, 3, 1}
	level := [LimitCount]int{a, b, a ^ b, a ^ double[b]}[limit]
	return [4]float64{-1.363, -0.378, 0.378, 1.363}[level] // quantiles at 1/8, 3/8, 5/8, 7/8, over 0.844
}

// ownPoint is the point of a plant in its round, one spread above or below: the
// orthogonal array of 4 runs and 2 levels. It has three columns, one for each
// limit but cold.
func ownPoint(i, limit int) float64 {
	return [4][LimitCount]float64{{-1, -1, 1, 0}, {-1, 1, -1, 0}, {1, -1, -1, 0}, {1, 1, 1, 0}}[i][limit]
}

// At judges a place by what its recorded years would do to the plant by the
// catalogue's limits (fit.Bed.InBand), and by the hours of sun outside the
// plant's range, less than 0 within it. In each year the odds of the limits add
// up, as in the rest of the model:
//
//	risk = mean over the years of S / (1 + S),  S = sum over the limits of (x e^-b)^(1/w)
//
// and the sun takes its share of what is left. x severity by the catalogue, b bearing, for too deep with its share of that of
// too wet. NaN if no limit is known in any year.
func (p *Prospect) At(years []fit.Year, sunOffH float64) Outlook {
	m := p.model
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
	sun := m.sunLoss(sunOffH)
	for k := range o.Risk {
		o.Risk[k] = 1 - (1-o.Risk[k]/float64(n))*(1-sun)
		o.FirstRisk[k] = 1 - (1-o.FirstRisk[k]/float64(n))*(1-sun)
		o.YearlyRisk += o.Risk[k] / draws
	}
	return o
}

// LossMoved returns the share of so many seasons in which the plant is expected
// to struggle if it is moved there; where it stands that is YearlyRisk. In the
// first season it bears what a plant does that has lost part of its roots. What
// else the move costs is not in it.
//
// It is the share of seasons, and not the chance of any trouble in them, that a
// plan has to make small: who struggles each year at one place and every other
// year at another has trouble in three seasons at both, and twice as much of it at
// the first.
func (o Outlook) LossMoved(seasons int) float64 {
	sum := 0.0
	for k := range o.Risk {
		sum += o.moved(k, seasons)
	}
	return sum / draws
}

// Struggles returns the chance that the plant struggles at least once in so many
// seasons, where it stands. What it bears stays the same in all of them, so this
// is not what the yearly risk alone would give.
func (o Outlook) Struggles(seasons int) float64 {
	sum := 0.0
	for k := range o.Risk {
		sum += 1 - math.Pow(1-o.Risk[k], float64(seasons))
	}
	return sum / draws
}

// StrugglesMoved returns the same if it is moved there.
func (o Outlook) StrugglesMoved(seasons int) float64 {
	sum := 0.0
	for k := range o.Risk {
		sum += 1 - (1-o.FirstRisk[k])*math.Pow(1-o.Risk[k], float64(seasons-1))
	}
	return sum / draws
}

// Harm returns by how much a move to another place may turn out for the worse:
// the root of the mean square of what is lost more there than where the plant
// stands, over what is believed of its kind and its garden, 0 wherever the move
// does good. That it may do more good than expected is no reason against it. How
// one plant differs from its kind is luck, like the weather to come: it counts in
// the losses, not here, or no notes could ever settle it.
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
