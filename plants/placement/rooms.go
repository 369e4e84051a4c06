package placement

import "math"

// Room is a place in the bed and the widest plant that it holds.
type Room struct {
	X, Y     float64
	SpreadCM float64
	HeightMM float64 // of the ground, relative to the spill level
	Zone     string
	Kept     int // index in Problem.Kept of the plant that stands there; -1 if none
	Vacant   int // index among the vacant places; -1 if it is none of them
}

// Rooms lists the places that a plant may be moved to: those of the plants that
// stand (Problem.Kept), in their order, then vacant ones such as those of plants
// that died, then ground found between them. Each has room for a plant of
// SpreadCM whoever stands at the others, as long as each of those keeps to its
// room: edge, margin, keep-outs and overlap are those of the problem. A plant
// that stands has at least its own spread there, however close it was set.
//
// Ground between is taken where most is left, zone by zone, as long as a plant
// of leastCM fits, most places in all and about alike in each zone; then rooms
// are widened up to widestCM in their order, vacant ones first. The problem's
// lines and what belongs to them are not looked at.
func Rooms(p Problem, vacant []Kept, leastCM, widestCM float64, most int) ([]Room, error) {
	p.Lines, p.Risk = nil, nil
	if p.RiskStepM == 0 {
		area := 0.0
		for _, z := range p.Bed.Zones() {
			area += z.AreaM2
		}
		p.RiskStepM = min(5, max(roomStepM, math.Sqrt(area/mostSquares)))
	}
	check := p
	check.Kept = append(append([]Kept(nil), p.Kept...), vacant...)
	if err := check.check(); err != nil {
		return nil, err
	}
	s := &rooms{g: newGround(&p), widest: widestCM / 200}
	for i, k := range p.Kept {
		s.add(k.X, k.Y, k.SpreadCM/200, i, -1)
		s.under = append(s.under, k.Under)
	}
	for i, k := range vacant {
		if r := min(s.radius(k.X, k.Y, -1), max(k.SpreadCM/200, leastCM/200)); r > 0 {
			s.add(k.X, k.Y, r, -1, i)
		}
	}
	s.between(leastCM/200, most)
	for pass := range 2 {
		for i := range s.all {
			if (i >= len(s.under) || !s.under[i]) && (s.all[i].Kept < 0) == (pass == 0) {
				s.r[i] = max(s.r[i], min(s.widest, s.radius(s.all[i].X, s.all[i].Y, i)))
			}
		}
	}
	for i := range s.all {
		s.all[i].SpreadCM = 200 * s.r[i]
	}
	return s.all, nil
}

// roomStepM is how finely ground is looked at for places between plants, in
// beds that do not make more than mostSquares squares of that.
const roomStepM, mostSquares = 0.1, 40000

type rooms struct {
	g      *ground
	widest float64
	all    []Room
	under  []bool    // those that stand and are bulbs: they leave all room to others
	r      []float64 // of each, m
}

func (s *rooms) add(x, y, r float64, kept, vacant int) {
	height, _ := s.g.p.Bed.HeightMM(x, y)
	s.all = append(s.all, Room{X: x, Y: y, HeightMM: height, Zone: s.g.p.Bed.ZoneAt(x, y), Kept: kept, Vacant: vacant})
	s.r = append(s.r, r)
}

// radius is the largest radius that a place has room for beside all rooms but
// one; it may be below 0.
func (s *rooms) radius(x, y float64, but int) float64 {
	r := s.ground(x, y)
	for j := range s.all {
		if j != but {
			r = min(r, s.beside(x, y, j))
		}
	}
	return r
}

// ground is what edge, margin and keep-outs leave.
func (s *rooms) ground(x, y float64) float64 {
	r := s.g.clearM(x, y)
	inside := s.g.depthM(x, y) - s.g.p.MarginM
	if s.g.p.Overhang < 1 || inside < 0 {
		r = min(r, inside/max(1-s.g.p.Overhang, 1e-9))
	}
	return r
}

// beside is what room j leaves.
func (s *rooms) beside(x, y float64, j int) float64 {
	if j < len(s.under) && s.under[j] {
		return math.Inf(1)
	}
	return math.Hypot(s.all[j].X-x, s.all[j].Y-y)/(1-s.g.p.Overlap) - s.r[j]
}

// between finds places between the others: zone by zone, where the most room is left.
func (s *rooms) between(least float64, most int) {
	left := make([][]float64, len(s.g.zones))
	for k, z := range s.g.zones {
		left[k] = make([]float64, len(z.place))
		for n, at := range z.place {
			left[k][n] = s.radius(at[0], at[1], -1)
		}
	}
	for found, idle := 0, 0; found < most && idle < len(s.g.zones); {
		for k, z := range s.g.zones {
			best := -1
			for n, r := range left[k] {
				if r >= least && (best < 0 || r > left[k][best]) {
					best = n
				}
			}
			if best < 0 || found == most {
				idle++
				continue
			}
			found, idle = found+1, 0
			s.add(z.place[best][0], z.place[best][1], max(least, min(s.widest, left[k][best])), -1, -1)
			for o, other := range s.g.zones {
				for n, at := range other.place {
					left[o][n] = min(left[o][n], s.beside(at[0], at[1], len(s.all)-1))
				}
			}
		}
	}
}
