package draw

import "math"

// grid of n x m cells over the outline's box and one cell more on each side.
type grid struct {
	x0, y0, step float64
	nx, ny       int // nodes
}

func newGrid(outline []Point, step float64) grid {
	b := bounds(outline)
	return grid{
		x0: b.x0 - step*1.03, y0: b.y0 - step*1.07, step: step, // a little off, so that straight edges miss the nodes
		nx: int(math.Ceil((b.x1-b.x0)/step)) + 4, ny: int(math.Ceil((b.y1-b.y0)/step)) + 4,
	}
}

func (g grid) at(i, j int) Point {
	return Point{g.x0 + float64(i)*g.step, g.y0 + float64(j)*g.step}
}

// bounds is the box of some points, in metres.
func bounds(points []Point) box {
	b := emptyBox()
	for _, p := range points {
		b = b.with(p.X, p.Y)
	}
	return b
}

// survey is the ground measured at the nodes of a grid, for lines at any number
// of levels. A node outside the bed is above every level.
type survey struct {
	grid
	height Height
	mm     []float64
}

func newSurvey(outline []Point, height Height, step float64) *survey {
	s := &survey{grid: newGrid(outline, step), height: height}
	s.mm = make([]float64, s.nx*s.ny)
	for n := range s.mm {
		s.mm[n] = s.mmAt(s.at(n%s.nx, n/s.nx))
	}
	return s
}

// mmAt is the height of a place, +Inf outside the bed.
func (s *survey) mmAt(p Point) float64 {
	mm, in := s.height(p.X, p.Y)
	if !in {
		return math.Inf(1)
	}
	return mm
}

// contours returns the closed lines around the ground below levelMM, with that ground on
// their left. Where a line crosses the side of a cell it is put exactly; inside a cell a
// sharp corner is put where it can be, and any other bend cut off by less than a cell.
func (s *survey) contours(levelMM float64) [][]Point {
	next := map[[3]int][3]int{} // from the side where a line enters a cell to the side where it leaves
	var order [][3]int
	for j := range s.ny - 1 {
		for i := range s.nx - 1 {
			low, high := s.mm[j*s.nx+i:], s.mm[(j+1)*s.nx+i:]
			corners := [4]bool{low[0] < levelMM, low[1] < levelMM, high[1] < levelMM, high[0] < levelMM}
			if corners[0] == corners[1] && corners[1] == corners[2] && corners[2] == corners[3] {
				continue
			}
			sides := [4][3]int{{i, j, 0}, {i + 1, j, 1}, {i, j + 1, 0}, {i, j, 1}}
			for _, c := range cellSegments(corners, func() bool {
				p := s.at(i, j)
				return s.mmAt(Point{p.X + s.step/2, p.Y + s.step/2}) < levelMM
			}) {
				next[sides[c[0]]] = sides[c[1]]
				order = append(order, sides[c[0]])
			}
		}
	}
	loops := s.trace(next, order, levelMM)
	for i := range loops {
		loops[i] = sharpen(loops[i], s.height, levelMM, s.step)
	}
	return loops
}

// sharpen puts corners that lie inside a cell.
func sharpen(loop []Point, height Height, levelMM, step float64) []Point {
	n := len(loop)
	var out []Point
	for i, b := range loop {
		a, c, e := loop[(i+n-1)%n], loop[(i+1)%n], loop[(i+2)%n]
		out = append(out, b)
		ux, uy, vx, vy := b.X-a.X, b.Y-a.Y, e.X-c.X, e.Y-c.Y
		cross := ux*vy - uy*vx
		if math.Abs(cross) < 0.2*math.Hypot(ux, uy)*math.Hypot(vx, vy) { // hardly a bend
			continue
		}
		t := ((c.X-b.X)*vy - (c.Y-b.Y)*vx) / cross
		p := Point{b.X + t*ux, b.Y + t*uy}
		if t <= 0 || dist(p, b) > 1.5*step || dist(p, c) > 1.5*step {
			continue
		}
		if h, in := height(p.X, p.Y); in && math.Abs(h-levelMM) < 1e-3 {
			out = append(out, p)
		}
	}
	return out
}

// cellSegments returns the lines through a cell, as pairs of sides (bottom, right, top,
// left), each from where the wet ground ends to where it begins, counter-clockwise. Two
// wet corners across from each other are told apart by the middle.
func cellSegments(c [4]bool, middle func() bool) [][2]int {
	var ends, begins []int // sides on which wet ends or begins
	for k := range 4 {
		switch a, b := c[k], c[(k+1)%4]; {
		case a && !b:
			ends = append(ends, k)
		case !a && b:
			begins = append(begins, k)
		}
	}
	switch len(ends) {
	case 0:
		return nil
	case 1:
		return [][2]int{{ends[0], begins[0]}}
	}
	// Around a lone wet corner the line joins its own two sides; through a wet
	// middle it goes around the dry corners.
	var out [][2]int
	for _, e := range ends {
		other := (e + 3) % 4 // the side before the wet corner
		if middle() {
			other = (e + 1) % 4 // the side after the dry corner
		}
		out = append(out, [2]int{e, other})
	}
	return out
}

// trace follows the lines from cell to cell and puts each point.
func (s *survey) trace(next map[[3]int][3]int, order [][3]int, levelMM float64) [][]Point {
	var loops [][]Point
	for _, start := range order {
		if _, ok := next[start]; !ok {
			continue
		}
		var loop []Point
		for side := start; ; {
			to, ok := next[side]
			if !ok {
				break
			}
			delete(next, side)
			loop = append(loop, s.crossing(side, levelMM))
			side = to
		}
		if len(loop) >= 3 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// crossing is where the ground passes the level on a side of a cell: by regula falsi
// (Illinois), and by halving where that does not soon end or the other end lies outside.
func (s *survey) crossing(side [3]int, levelMM float64) Point {
	i, j := side[0], side[1]
	i2, j2 := i+1-side[2], j+side[2]
	a, b := s.at(i, j), s.at(i2, j2)
	below, above := s.mm[j*s.nx+i]-levelMM, s.mm[j2*s.nx+i2]-levelMM
	if below >= 0 {
		a, b, below, above = b, a, above, below
	}
	const enoughMM = 1e-7
	last := 0 // which end went last
	for n := range 40 {
		share := 0.5
		if n < 10 && !math.IsInf(above, 1) {
			share = below / (below - above)
		}
		m := Point{a.X + share*(b.X-a.X), a.Y + share*(b.Y-a.Y)}
		over := s.mmAt(m) - levelMM
		switch {
		case math.Abs(over) < enoughMM:
			return m
		case over < 0:
			if last < 0 {
				above /= 2
			}
			a, below, last = m, over, -1
		default:
			if last > 0 {
				below /= 2
			}
			b, above, last = m, over, 1
		}
	}
	return a
}

// thin leaves out points of a closed line that lie within tol of the line
// without them (Douglas and Peucker 1973, Cartographica 10:112).
func thin(loop []Point, tol float64) []Point {
	if len(loop) < 4 {
		return loop
	}
	far, best := 0, -1.0
	for i, p := range loop {
		if d := dist(p, loop[0]); d > best {
			far, best = i, d
		}
	}
	out := thinOpen(loop[:far+1], tol)
	back := append(append([]Point{}, loop[far:]...), loop[0])
	rest := thinOpen(back, tol)
	return append(out[:len(out)-1:len(out)-1], rest[:len(rest)-1]...)
}

func thinOpen(line []Point, tol float64) []Point {
	if len(line) < 3 {
		return line
	}
	a, b := line[0], line[len(line)-1]
	at, worst := 0, tol
	for i := 1; i < len(line)-1; i++ {
		if d := segmentDistance(line[i], a, b); d > worst {
			at, worst = i, d
		}
	}
	if at == 0 {
		return []Point{a, b}
	}
	left, right := thinOpen(line[:at+1], tol), thinOpen(line[at:], tol)
	return append(left[:len(left)-1:len(left)-1], right...)
}

func dist(a, b Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// segmentDistance is from p to the nearest point of a straight piece.
func segmentDistance(p, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	n := dx*dx + dy*dy
	if n == 0 {
		return dist(p, a)
	}
	t := math.Max(0, math.Min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/n))
	return dist(p, Point{a.X + t*dx, a.Y + t*dy})
}
