package water

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// A second model of the bed, for tests alone: the Richards equation in mixed form,
// one column for the bottom, three for the slope, one for the rim, each with the
// mix over 2 m of ground that drains freely below, and one pond over them.
//
//	d theta / dt = d/dz (K(theta) (dh/dz + 1)) - uptake
//
// solved with modified Picard iteration (Celia, Bouloutas and Zarba 1990, Water
// Resources Research 26:1483), which keeps the water that there is. It shares
// with the balance what the bed is, what the roof sends, and Kc ET0 Ks of roots
// in the mix; not how water moves in soil. Depths and heads in mm, times in hours.

const kPaMM = 101.97 // mm of water

// earth is a soil by its retention and conductivity.
type earth struct {
	fc, wp, sat, kMMH float64
	water             func(suctionMM float64) float64 // volume fraction
	share             func(theta float64) float64     // of kMMH

	thetas, shares []float64 // by suction, see cell
}

// saxtonRawls is the soil of a texture by Saxton and Rawls 2006, Table 1: the
// straight line down to 33 kPa from the tension at which air enters, the power
// beyond, and K by Eq. 17. Equations from memory.
func saxtonRawlsEarth(s site.Soil, sand, clay, kMMH float64) *earth {
	s33 := s.Sat - s.FC + 0.097*sand - 0.043
	air := -21.67*sand - 27.93*clay - 81.97*s33 + 71.12*sand*s33 + 8.29*clay*s33 + 14.05*sand*clay + 27.16
	air = max(air+0.02*air*air-0.113*air-0.70, 0.5)
	b := math.Log(1500.0/33) / math.Log(s.FC/s.WP)
	e := &earth{
		fc: s.FC, wp: s.WP, sat: s.Sat, kMMH: kMMH,
		water: func(suctionMM float64) float64 {
			switch kPa := suctionMM / kPaMM; {
			case kPa <= air:
				return s.Sat
			case kPa <= 33:
				return s.FC + (s.Sat-s.FC)*(33-kPa)/(33-air)
			default:
				return s.FC * math.Pow(kPa/33, -1/b)
			}
		},
		share: func(theta float64) float64 { return math.Pow(theta/s.Sat, 3+2*b) },
	}
	e.tabulate()
	return e
}

const perOctave = 64 // of 1 + suction / mm

func (e *earth) tabulate() {
	for i := range 24 * perOctave {
		suction := math.Exp2(float64(i)/perOctave) - 1
		e.thetas = append(e.thetas, e.water(suction))
		e.shares = append(e.shares, e.share(e.water(suction)))
	}
}

// cell returns content, its growth by head, and conductivity.
func (e *earth) cell(headMM float64) (theta, perMM, kMMH float64) {
	const storage = 1e-7 // 1/mm, so that a full column is not without an answer
	if headMM >= 0 {
		return e.sat + storage*headMM, storage, e.kMMH
	}
	x := math.Log2(1-headMM) * perOctave
	i := min(int(x), len(e.thetas)-2)
	f := x - float64(i)
	theta = e.thetas[i] + f*(e.thetas[i+1]-e.thetas[i])
	perMM = (e.thetas[i] - e.thetas[i+1]) * perOctave / math.Ln2 / (1 - headMM)
	return theta + storage*headMM, perMM + storage, e.kMMH * (e.shares[i] + f*(e.shares[i+1]-e.shares[i]))
}

// grounds are the soils below by the rate that was tested.
func grounds(t testing.TB) map[float64]*earth {
	out := map[float64]*earth{}
	for _, g := range []struct {
		rate       float64
		class      string
		sand, clay float64
	}{{25, "sandy loam", 0.65, 0.10}, {6, "loam", 0.40, 0.20}, {1.5, "clay loam", 0.30, 0.35}} {
		soil, err := site.MixSoil(g.class, 2.5)
		require.NoError(t, err)
		out[g.rate] = saxtonRawlsEarth(soil, g.sand, g.clay, g.rate)
	}
	return out
}

// column is one place of the bed.
type column struct {
	heightMM, areaM2 float64
	soil             []*earth
	dz, head, theta  []float64
	inMix            int       // cells
	inRoots          []float64 // mm of each cell
	noRise           bool      // the ground gives nothing back to the mix
	seepedMM         float64

	next, k, c, lower, upper, right, sink []float64
}

func newColumn(mix, ground *earth, mixMM float64, mixCells int) *column {
	const groundMM = 2000.0
	col := &column{inMix: mixCells}
	groundCells := mixCells * 3 / 2
	for i := range mixCells + groundCells {
		e, dz := mix, mixMM/float64(mixCells)
		if i >= mixCells {
			e, dz = ground, groundMM/float64(groundCells)
		}
		col.soil, col.dz, col.head = append(col.soil, e), append(col.dz, dz), append(col.head, -33*kPaMM)
		theta, _, _ := e.cell(-33 * kPaMM)
		col.theta = append(col.theta, theta)
	}
	n := len(col.dz)
	for _, v := range []*[]float64{&col.next, &col.k, &col.c, &col.lower, &col.upper, &col.right, &col.sink} {
		*v = make([]float64, n)
	}
	col.rootTo(mixMM)
	return col
}

// rootTo lets plants draw on the column down to a depth.
func (c *column) rootTo(mm float64) {
	c.inRoots = c.inRoots[:0]
	for _, dz := range c.dz {
		c.inRoots = append(c.inRoots, min(mm, dz))
		mm -= min(mm, dz)
	}
}

// roots are the water that they miss to field capacity, all that there is above
// wilting at field capacity, and now, mm.
func (c *column) roots() (depletedMM, tawMM, aboveMM float64) {
	for i, mm := range c.inRoots {
		e := c.soil[i]
		depletedMM += (e.fc - c.theta[i]) * mm
		tawMM += (e.fc - e.wp) * mm
		aboveMM += max(c.theta[i]-e.wp, 0) * mm
	}
	return depletedMM, tawMM, aboveMM
}

func (c *column) mixMM() (held float64) {
	for i := range c.inMix {
		held += c.theta[i] * c.dz[i]
	}
	return held
}

func (c *column) heldMM() (held float64) {
	for i, theta := range c.theta {
		held += theta * c.dz[i]
	}
	return held
}

// draw sets what roots take in mm/h: what is asked for times FAO-56's Ks of all
// that they reach, from each layer by what it holds above wilting.
func (c *column) draw(demandMMH, p float64) (used float64) {
	clear(c.sink)
	depleted, taw, above := c.roots()
	if above == 0 {
		return 0
	}
	used = demandMMH * Stress(depleted, taw, p)
	for i, mm := range c.inRoots {
		c.sink[i] = used * max(c.theta[i]-c.soil[i].wp, 0) * mm / above
	}
	return used
}

// move takes the column through hours. The surface lies under pondMM of water or,
// if that is below 0, gets rainMMH; ok is false if the iteration does not settle.
// It returns what entered, mm, which with rain is no more than the soil takes.
func (c *column) move(hours, pondMM, rainMMH float64) (inMM float64, ok bool) {
	ponded := pondMM >= 0
	if inMM, ok = c.solve(hours, max(pondMM, 0), rainMMH, ponded); ok && !ponded && c.next[0] > c.dz[0]/2 {
		inMM, ok = c.solve(hours, 0, 0, true) // rain stands: no more than it takes under a film
		inMM = min(inMM, rainMMH*hours)
	}
	if !ok {
		return 0, false
	}
	n := len(c.dz)
	copy(c.head, c.next)
	for i := range c.theta {
		c.theta[i], _, _ = c.soil[i].cell(c.head[i])
	}
	c.seepedMM += c.k[n-1] * hours
	return inMM, true
}

func (c *column) solve(hours, pondMM, fluxMMH float64, ponded bool) (inMM float64, ok bool) {
	n := len(c.dz)
	copy(c.next, c.head)
	var middle [400]float64
	for range 25 {
		worst := 0.0
		for i, h := range c.next {
			theta, perMM, k := c.soil[i].cell(h)
			c.c[i], c.k[i] = perMM*c.dz[i]/hours, k
			c.right[i] = c.c[i]*h - (theta-c.theta[i])*c.dz[i]/hours - c.sink[i]
			middle[i] = c.c[i]
		}
		for i := range n - 1 {
			mean := (c.k[i]*c.dz[i] + c.k[i+1]*c.dz[i+1]) / (c.dz[i] + c.dz[i+1])
			g := mean / ((c.dz[i] + c.dz[i+1]) / 2)
			if c.noRise && i == c.inMix-1 && g*(c.next[i]-c.next[i+1])+mean < 0 {
				mean, g = 0, 0
			}
			c.upper[i], c.lower[i+1] = -g, -g
			middle[i] += g
			middle[i+1] += g
			c.right[i] -= mean
			c.right[i+1] += mean
		}
		c.right[n-1] -= c.k[n-1] // free drainage
		top := 0.0
		if ponded {
			top = c.soil[0].kMMH / (c.dz[0] / 2)
			middle[0] += top
			c.right[0] += top*pondMM + c.soil[0].kMMH
		} else {
			c.right[0] += fluxMMH
		}
		for i := 1; i < n; i++ { // Thomas
			w := c.lower[i] / middle[i-1]
			middle[i] -= w * c.upper[i-1]
			c.right[i] -= w * c.right[i-1]
		}
		for i := n - 1; i >= 0; i-- {
			h := c.right[i]
			if i+1 < n {
				h -= c.upper[i] * c.next[i+1]
			}
			h /= middle[i]
			off := math.Abs(h-c.next[i]) * c.c[i] * hours // as mm of water
			if h > 0 || c.next[i] > 0 {
				off = max(off, math.Abs(h-c.next[i])*1e-4)
			}
			worst = max(worst, off)
			c.next[i] = h
		}
		if worst < 1e-5 {
			in := fluxMMH
			if ponded {
				in = top*(pondMM-c.next[0]) + c.soil[0].kMMH
			}
			return in * hours, true
		}
		if math.IsNaN(worst) {
			return 0, false
		}
	}
	return 0, false
}
