package inlet

import "math"

// earth is cut and fill, m3 of soil as it lies in the ground. It closes:
// Cut + Bed + Import = Back + Fill + Left.
type earth struct {
	CutM3    float64 // dug along the way
	BackM3   float64 // of that, put back into the trench
	MoundM3  float64 // berm or banks as they shall stand
	FillM3   float64 // soil that takes: the mound with what it settles
	BedM3    float64 // dug from the middle of the bed and free to use
	ImportM3 float64 // to bring in
	LeftM3   float64 // to spread elsewhere
	GravelM3 float64 // bedding or lining, without waste
}

// settle is how much more soil a mound takes than it measures. Common
// practice, no source.
const settle = 1.15

// balanced fills in what follows from the cut, the mound and the bed's soil.
func (e earth) balanced() earth {
	e.FillM3 = e.MoundM3 * settle
	have := e.CutM3 - e.BackM3 + e.BedM3
	e.ImportM3 = math.Max(0, e.FillM3-have)
	e.LeftM3 = math.Max(0, have-e.FillM3)
	return e
}

// along sums a section, m2, over the stations from 0 to endM, by the trapezoid
// rule in 2,000 steps.
func along(endM float64, areaM2 func(stationM float64) float64) float64 {
	const steps = 2000
	sum := (areaM2(0) + areaM2(endM)) / 2
	for i := 1; i < steps; i++ {
		sum += areaM2(endM * float64(i) / steps)
	}
	return sum * endM / steps
}

// moundM2 is the section of a berm: a flat top and sides of 3:1 down to level
// ground, A = w h + 3 h^2.
func moundM2(topM, heightM float64) float64 {
	if !(heightM > 0) {
		return 0
	}
	return topM*heightM + bermRun*heightM*heightM
}
