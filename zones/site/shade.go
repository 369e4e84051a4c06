package site

import (
	"fmt"
	"math"
	"sort"
)

// Kinds of obstacles.
const (
	Wall  = "wall"
	Fence = "fence"
	House = "house"
	Tree  = "tree"
)

// Share of direct light that gets through a crown: an assumption (common
// practice, no source) for a deciduous tree of middling density.
const (
	LightInLeaf = 0.10
	LightBare   = 0.70
)

// Obstacle is something between the sun and a place, metres as in the outline of the bed,
// heights above its spill level. A wall or fence is thin; a house fills its corners up to
// one height (take the ridge of a steep roof). A tree's crown is a spheroid that lets the
// same share through wherever it is crossed; its trunk is left out. Ground is level.
type Obstacle struct {
	Kind    string
	PointsM [][2]float64 // wall, fence: two or more; house: three or more; tree: one, the trunk
	HeightM float64      // the top; of a tree, that of the crown
	Light   float64      // fence: share of light that gets through, 0 to 1

	// Trees only.
	CrownM           float64 // width of the crown
	BaseM            float64 // where the crown begins, below HeightM
	LeafFrom, LeafTo int     // first and last month in leaf, 1 to 12; 11 to 3 runs over the new year
	LightInLeaf      float64 // share that gets through in leaf
	LightBare        float64 // and when bare
}

// Check says what is wrong with an obstacle that no garden can have.
func (o Obstacle) Check() error {
	least := map[string]int{Wall: 2, Fence: 2, House: 3, Tree: 1}[o.Kind]
	share := func(v float64) bool { return v >= 0 && v <= 1 }
	switch {
	case least == 0:
		return fmt.Errorf("obstacle %q: want wall, fence, house or tree", o.Kind)
	case len(o.PointsM) < least || o.Kind == Tree && len(o.PointsM) > 1:
		return fmt.Errorf("%s: %d points", o.Kind, len(o.PointsM))
	case !(o.HeightM > 0) || math.IsInf(o.HeightM, 0):
		return fmt.Errorf("%s: height %v m: want more than 0", o.Kind, o.HeightM)
	case !share(o.Light):
		return fmt.Errorf("%s: light %v: want 0 to 1", o.Kind, o.Light)
	}
	for _, p := range o.PointsM {
		if !(math.Abs(p[0]) < 1e6) || !(math.Abs(p[1]) < 1e6) {
			return fmt.Errorf("%s: point %v", o.Kind, p)
		}
	}
	if o.Kind != Tree {
		return nil
	}
	switch {
	case !(o.CrownM > 0) || math.IsInf(o.CrownM, 0):
		return fmt.Errorf("tree: crown %v m wide: want more than 0", o.CrownM)
	case !(o.BaseM < o.HeightM) || math.IsInf(o.BaseM, 0):
		return fmt.Errorf("tree: crown from %v to %v m: want the base below the top", o.BaseM, o.HeightM)
	case !share(o.LightInLeaf) || !share(o.LightBare):
		return fmt.Errorf("tree: light %v in leaf, %v bare: want 0 to 1", o.LightInLeaf, o.LightBare)
	case o.LeafFrom < 1 || o.LeafFrom > 12 || o.LeafTo < 1 || o.LeafTo > 12:
		return fmt.Errorf("tree: in leaf from month %d to %d: want 1 to 12", o.LeafFrom, o.LeafTo)
	}
	return nil
}

// inLeaf reports whether a tree is in leaf in a month.
func (o Obstacle) inLeaf(month int) bool {
	if o.LeafFrom <= o.LeafTo {
		return month >= o.LeafFrom && month <= o.LeafTo
	}
	return month >= o.LeafFrom || month <= o.LeafTo
}

// place is a spot of the bed while it is worked out what share of each beam reaches it.
type place struct {
	sky     *Sky
	x, y, z float64
	light   []float64
	by      []int // the last fence that dimmed the beam, so that none does twice
}

// shade takes away the light that obstacle k keeps off.
func (p *place) shade(k int, o Obstacle) {
	switch {
	case o.HeightM <= p.z:
		return
	case o.Kind == Tree:
		p.crown(o)
		return
	case o.Kind == House && inside(o.PointsM, p.x, p.y):
		clear(p.light)
		return
	}
	n := len(o.PointsM)
	for i := 0; i+1 < n; i++ {
		p.screen(k, o, o.PointsM[i], o.PointsM[i+1])
	}
	if o.Kind == House {
		p.screen(k, o, o.PointsM[n-1], o.PointsM[0])
	}
}

// screen shades by the upright screen from a to b. The beam (x, y) + t (dx, dy)
// meets the line at t = (a x s) / (d x s), a share w = (a x d) / (d x s) of the
// way along it, a and b seen from the place and s = b - a; it is shaded if it
// is then lower than the top, z + t dz < height. For a wall across the sun's
// direction at distance r that is tan(altitude) < (height - z) / r. A place on
// the very line of a screen is in its shade. Source: plane geometry.
func (p *place) screen(k int, o Obstacle, a, b [2]float64) {
	const slack = 1e-9 // no light through the joint of two screens
	ax, ay := a[0]-p.x, a[1]-p.y
	bx, by := b[0]-p.x, b[1]-p.y
	sx, sy := bx-ax, by-ay
	rise := o.HeightM - p.z
	as := ax*sy - ay*sx
	runs := [2][2]int{{0, len(p.sky.beams)}}
	if (ax != 0 || ay != 0) && (bx != 0 || by != 0) { // at an end there is no direction to it
		runs = p.sky.between(math.Atan2(ay, ax), math.Atan2(by, bx))
	}
	for _, run := range runs {
		for i := run[0]; i < run[1]; i++ {
			d := &p.sky.beams[i]
			ds := d.dx*sy - d.dy*sx
			if ds == 0 {
				continue
			}
			t := as / ds
			w := (ax*d.dy - ay*d.dx) / ds
			if t >= 0 && w >= -slack && w <= 1+slack && t*d.dz < rise && p.by[i] != k {
				p.by[i] = k
				p.light[i] *= o.Light
			}
		}
	}
}

// crown shades by a spheroid as wide as the crown and as high as from its base
// to its top. Heights are stretched until it is a ball of radius r about the
// origin; the beam from o along d meets it if (o.d)^2 > (d.d)(o.o - r^2) and it
// begins inside or heads inward (o.d < 0). Source: geometry of the sphere.
func (p *place) crown(o Obstacle) {
	r := o.CrownM / 2
	stretch := o.CrownM / (o.HeightM - o.BaseM)
	ox, oy := p.x-o.PointsM[0][0], p.y-o.PointsM[0][1]
	oz := (p.z - (o.HeightM+o.BaseM)/2) * stretch
	out := ox*ox + oy*oy + oz*oz - r*r
	runs := [2][2]int{{0, len(p.sky.beams)}}
	if away := math.Hypot(ox, oy); away > r*(1+1e-9) {
		middle, half := math.Atan2(-oy, -ox), math.Asin(r/away)
		runs = p.sky.between(wrap(middle-half), wrap(middle+half))
	}
	for _, run := range runs {
		for i := run[0]; i < run[1]; i++ {
			d := &p.sky.beams[i]
			dz := d.dz * stretch
			od := ox*d.dx + oy*d.dy + oz*dz
			if out >= 0 && (od >= 0 || od*od <= (d.dx*d.dx+d.dy*d.dy+dz*dz)*out) {
				continue
			}
			if o.inLeaf(d.month) {
				p.light[i] *= o.LightInLeaf
			} else {
				p.light[i] *= o.LightBare
			}
		}
	}
}

// between returns the beams, as up to two runs, between two directions in plan (radians,
// -pi to pi) the shorter way round, or all if neither is clearly shorter; a hair more
// costs nothing, as every beam is tested.
func (s *Sky) between(a, b float64) [2][2]int {
	const hair = 1e-6
	turn := wrap(b - a)
	if turn < 0 {
		a, turn = b, -turn
	}
	if turn > math.Pi-hair {
		return [2][2]int{{0, len(s.beams)}}
	}
	from, to := a-hair, a+turn+hair
	at := func(angle float64) int { return sort.SearchFloat64s(s.angles, angle) }
	switch {
	case from < -math.Pi:
		return [2][2]int{{0, at(to)}, {at(from + 2*math.Pi), len(s.beams)}}
	case to > math.Pi:
		return [2][2]int{{0, at(to - 2*math.Pi)}, {at(from), len(s.beams)}}
	}
	return [2][2]int{{at(from), at(to)}}
}

// wrap brings an angle, radians, to -pi to pi.
func wrap(angle float64) float64 { return math.Remainder(angle, 2*math.Pi) }

// inside reports whether a spot lies inside a polygon, by counting the edges
// that a line from it to the right crosses.
func inside(points [][2]float64, x, y float64) bool {
	in := false
	for i, a := range points {
		b := points[(i+1)%len(points)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(b[0]-a[0])*(y-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}

// Covers reports whether a spot lies under a house.
func (o Obstacle) Covers(x, y float64) bool { return o.Kind == House && inside(o.PointsM, x, y) }
