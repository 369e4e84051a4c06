package season

import (
	"math"

	"hollowbed/plants/fit"
)

// Outlook is what is to be expected of one plant at one place, by what is
// believed of what it bears.
type Outlook struct {
	// YearlyRisk is the chance that a year passes a limit or that the sun does not
	// do; Risk is the same for each of the draws that a Prospect makes.
	YearlyRisk float64
	Risk       [draws]float64
}

// Prospect looks ahead for one plant: it holds draws of what the plant bears,
// the same at every place, so that a doubt that two places share does not
// count when they are compared.
type Prospect struct {
	model Model
	width float64
	share [draws][LimitCount]float64 // e^(-bearing / width)
}

// draws is how many draws of the bearing stand for a belief.
const draws = 32

// Prospect prepares to look ahead for a plant with a bearing, by a record of so
// many years. The edge of a limit is the model's, widened by what so few years
// leave open of the weather (fit.Predictor).
func (m Model) Prospect(b Bearing, predict fit.Predictor, years int) *Prospect {
	p := &Prospect{model: m, width: math.Hypot(m.Steep, predict.Scale/math.Sqrt(float64(years)))}
	for k := range p.share {
		for l := range LimitCount {
			p.share[k][l] = math.Exp(-(b[l].Mean + b[l].SD*normalPoint(k, l)) / p.width)
		}
	}
	return p
}

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
			sum := 0.0
			for l, v := range odds {
				sum += v * p.share[k][l]
			}
			o.Risk[k] += sum / (1 + sum)
		}
	}
	sun := 0.0
	if sunOffH > 0 { // not if it is not known
		sun = fit.SunLoss(sunOffH)
	}
	for k := range o.Risk {
		o.Risk[k] = 1 - (1-o.Risk[k]/float64(n))*(1-sun)
		o.YearlyRisk += o.Risk[k] / draws
	}
	return o
}

// Loss returns the chance that the plant struggles at least once in so many
// seasons. What it bears stays the same in all of them, so this is not what the
// yearly risk alone would give.
func (o Outlook) Loss(seasons int) float64 {
	sum := 0.0
	for _, r := range o.Risk {
		sum += lossOf(r, seasons)
	}
	return sum / draws
}

// Doubt returns the standard deviation of the difference between the losses at
// two places.
func (o Outlook) Doubt(other Outlook, seasons int) float64 {
	sum, square := 0.0, 0.0
	for k := range o.Risk {
		d := lossOf(o.Risk[k], seasons) - lossOf(other.Risk[k], seasons)
		sum += d
		square += d * d
	}
	mean := sum / draws
	return math.Sqrt(max(0, square/draws-mean*mean))
}

func lossOf(risk float64, seasons int) float64 {
	return 1 - math.Pow(1-risk, float64(seasons))
}
