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
// count when they are compared.
type Prospect struct {
	model Model
	width float64
	share [draws][LimitCount]float64 // e^(-bearing / width)
	moved float64                    // what odds are multiplied by in the first season after a move
}

// draws is how many draws of the bearing stand for a belief.
const draws = 32

// Prospect prepares to look ahead for a plant with a bearing, by a record of so
// many years. The edge of a limit is the model's, widened by what so few years
// leave open of the weather (fit.Predictor).
func (m Model) Prospect(b Bearing, predict fit.Predictor, years int) *Prospect {
	p := &Prospect{model: m, width: math.Hypot(m.Steep, predict.Scale/math.Sqrt(float64(years)))}
	p.moved = math.Exp(-math.Log(care.Tolerance(movedRooted)) / p.width)
	for k := range p.share {
		for l := range LimitCount {
			p.share[k][l] = math.Exp(-(b[l].Mean + b[l].SD*normalPoint(k, l)) / p.width)
		}
	}
	return p
}

// movedRooted is how far a moved plant has rooted again, on average over its
// first season: half way, as one that was planted (see care.Tolerance).
const movedRooted = 0.5

// normalPoint is the k-th of a set of points that fill the normal distribution
// of each limit evenly: the middles of draws equal shares, in an order of its own
// for each limit, so that the limits vary independently (a lattice rule with an
// odd multiplier; textbook).
func normalPoint(k, limit int) float64 {
	order := k * [LimitCount]int{1, 7, 11, 13}[limit] % draws
	return math.Sqrt2 * math.Erfinv((2*float64(order)+1)/draws-1)
}

// At judges a place by what its recorded years would do to the plant by the
// catalogue's limits (fit.Bed.InBand), and by the hours of sun outside the
// plant's range, 0 or less within it. In each year the odds of the limits add
// up, as in the rest of the model:
//
//	risk = mean over the years of S / (1 + S),  S = sum over the limits of (x e^-b)^(1/w)
//
// x severity by the catalogue, b bearing. NaN if no limit is known in any year.
func (p *Prospect) At(years []fit.Year, sunOffH float64) Outlook {
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
		for k := range o.Risk {
			sum, first := 0.0, 0.0
			for l, v := range odds {
				one := v * p.share[k][l]
				sum += one
				if l < 3 { // cold is as hard on either {
					one *= p.moved
				}
				first += one
			}
			o.Risk[k] += sum / (1 + sum)
			o.FirstRisk[k] += first / (1 + first)
		}
	}
	sun := 0.0
	if sunOffH > 0 { // not if it is not known
		sun = fit.SunLoss(sunOffH)
	}
	for k := range o.Risk {
		o.Risk[k] = 1 - (1-o.Risk[k]/float64(n))*(1-sun)
		o.FirstRisk[k] = 1 - (1-o.FirstRisk[k]/float64(n))*(1-sun)
		o.YearlyRisk += o.Risk[k] / draws
	}
	return o
}

// Loss returns the chance that the plant struggles at least once in so many
// seasons, where it stands. What it bears stays the same in all of them, so this
// is not what the yearly risk alone would give.
func (o Outlook) Loss(seasons int) float64 {
	sum := 0.0
	for k := range o.Risk {
		sum += o.stay(k, seasons)
	}
	return sum / draws
}

// LossMoved returns the same if it is moved there: in the first season it bears
// what a plant does that has lost part of its roots. What else the move costs is
// not in it.
func (o Outlook) LossMoved(seasons int) float64 {
	sum := 0.0
	for k := range o.Risk {
		sum += o.move(k, seasons)
	}
	return sum / draws
}

// Doubt returns the standard deviation of the difference between the loss
// where the plant stands and that at another place, if it is moved there.
func (o Outlook) Doubt(other Outlook, seasons int) float64 {
	sum, square := 0.0, 0.0
	for k := range o.Risk {
		d := o.stay(k, seasons) - other.move(k, seasons)
		sum += d
		square += d * d
	}
	mean := sum / draws
	return math.Sqrt(max(0, square/draws-mean*mean))
}

func (o *Outlook) stay(k, seasons int) float64 { return 1 - math.Pow(1-o.Risk[k], float64(seasons)) }

func (o *Outlook) move(k, seasons int) float64 {
	return 1 - (1-o.FirstRisk[k])*math.Pow(1-o.Risk[k], float64(seasons-1))
}
