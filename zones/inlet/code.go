package inlet

import "math"

// upcRows are the roof areas, sq ft at 1 in/h, that a round pipe on a fall of
// 1/8 in per foot may drain. Source: Uniform Plumbing Code, size of horizontal
// rainwater piping. The 6 in row was read (Appendix D, worked example), the
// others are from memory.
func upcRows() []struct{ inches, sqft float64 } {
	return []struct{ inches, sqft float64 }{{3, 3288}, {4, 7520}, {5, 13360}, {6, 21400}, {8, 46000}}
}

const (
	sqftM2 = 0.3048 * 0.3048
	inchMM = 25.4
	footM  = 0.3048

	codeFlat  = 1.0 / 96 // 1/8 in per foot, the flattest of the code's table
	codeSteep = 1.0 / 24 // 1/2 in per foot, the steepest
	codeN     = 0.0154   // the highest n that a row of the table comes to (3 in)
)

// codeM3H returns what the code's table lets a pipe carry, m3/h: the roof area
// of its row at 1 in/h, times the square root of the fall over 1/8 in per
// foot. A pipe between two rows counts as the smaller. Above 1/2 in per foot,
// where the table ends, nothing is added. Below 3 in there is no row: then it
// is Manning with n 0.0154, which the 3 in row comes to, and listed is false;
// so it is on a fall under 1/8 in per foot.
func codeM3H(diameterMM, slope float64) (m3h float64, listed bool) {
	const slackMM = 3 // 75 mm counts as 3 in, 100 mm as 4 in
	if !(slope > 0) {
		return 0, false
	}
	slope = math.Min(slope, codeSteep)
	area := 0.0
	for _, r := range upcRows() {
		if diameterMM >= r.inches*inchMM-slackMM {
			area = r.sqft * sqftM2
		}
	}
	if area == 0 {
		return 3600 * fullM3S(codeN, diameterMM/1000, slope), false
	}
	return roofM3H(area, 1, inchMM) * math.Sqrt(slope/codeFlat), slope >= codeFlat*(1-1e-9)
}

// Downspout is the inside of a downspout: DiameterMM if it is round, else
// WidthMM and DepthMM.
type Downspout struct {
	DiameterMM, WidthMM, DepthMM float64
}

func (d Downspout) areaM2() float64 {
	if d.DiameterMM > 0 {
		return math.Pi * d.DiameterMM * d.DiameterMM / 4e6
	}
	return d.WidthMM * d.DepthMM / 1e6
}

// round is the diameter, m, of a round one of the same area.
func (d Downspout) roundM() float64 { return math.Sqrt(4 * d.areaM2() / math.Pi) }

// perimeterM is the inside girth, m.
func (d Downspout) perimeterM() float64 {
	if d.DiameterMM > 0 {
		return math.Pi * d.DiameterMM / 1000
	}
	return 2 * (d.WidthMM + d.DepthMM) / 1000
}

// capacityM3H returns what a downspout carries, 7/24 full:
//
//	q = 27.8 (7/24)^(5/3) d^(8/3)
//
// q in US gal/min, d in inches; other shapes count as round of equal area.
// Source: Wyly and Eaton 1952 (US National Bureau of Standards) for the
// formula, from memory; it gives the rows of the National Standard Plumbing
// Code 2006, Table 13.6.1 (read), the lower of two code tables: the Uniform
// Plumbing Code lets a third more through.
func (d Downspout) capacityM3H() float64 {
	const gpm = 60 * 231 * 0.0254 * 0.0254 * 0.0254 // m3/h
	return gpm * 27.8 * math.Pow(7.0/24, 5.0/3) * math.Pow(d.roundM()/0.0254, 8.0/3)
}
