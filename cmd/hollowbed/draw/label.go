package draw

import (
	"math"
	"slices"
)

// placer finds room for labels, for each in turn the cheapest place near its anchor. A
// label never touches another one or the line that leads to it, and keeps off discs of
// others where it can.
type placer struct {
	area    box
	reach   float64 // how far from its anchor a label may go, mm
	labels  []box
	leaders [][4]float64
	discs   index
	near    index // of labels, by number
}

// index finds what lies near a place: numbers of things by cells of 8 mm.
type index struct {
	cells map[[2]int][]int
	items []disc
}

type disc struct {
	x, y, r float64
	owner   int // -1: nobody's
}

const cellMM = 8.0

func (ix *index) add(d disc) {
	if ix.cells == nil {
		ix.cells = map[[2]int][]int{}
	}
	ix.items = append(ix.items, d)
	n := len(ix.items) - 1
	ix.each(box{d.x - d.r, d.y - d.r, d.x + d.r, d.y + d.r}, func(c [2]int) {
		ix.cells[c] = append(ix.cells[c], n)
	})
}

func (ix *index) each(b box, visit func([2]int)) {
	for i := int(math.Floor(b.x0 / cellMM)); i <= int(math.Floor(b.x1/cellMM)); i++ {
		for j := int(math.Floor(b.y0 / cellMM)); j <= int(math.Floor(b.y1/cellMM)); j++ {
			visit([2]int{i, j})
		}
	}
}

// foreign is how much of the box, mm2 about, lies on discs of other owners.
func (ix *index) foreign(b box, owner int) float64 {
	sum := 0.0
	ix.each(b, func(c [2]int) {
		for _, n := range ix.cells[c] {
			d := ix.items[n]
			if d.owner == owner {
				continue
			}
			w := math.Min(b.x1, d.x+d.r) - math.Max(b.x0, d.x-d.r)
			h := math.Min(b.y1, d.y+d.r) - math.Max(b.y0, d.y-d.r)
			if w > 0 && h > 0 {
				sum += w * h
			}
		}
	})
	return sum
}

func newPlacer(area box, taken []box) *placer {
	p := &placer{area: area, reach: math.Hypot(area.x1-area.x0, area.y1-area.y0)}
	for _, b := range taken {
		p.take(b)
	}
	return p
}

// take marks a box as used.
func (p *placer) take(b box) {
	p.labels = append(p.labels, b)
	x, y := b.centre()
	// The index asks by boxes, so a disc around the label will do.
	p.near.add(disc{x, y, math.Hypot(b.x1-b.x0, b.y1-b.y0) / 2, len(p.labels) - 1})
}

// free reports whether a box is on the area and clear of labels and leaders.
func (p *placer) free(b box) bool {
	if !p.area.holds(b) {
		return false
	}
	wide := b.grown(0.4)
	ok := true
	p.near.each(wide, func(c [2]int) {
		ok = ok && !slices.ContainsFunc(p.near.cells[c], func(n int) bool { return p.labels[p.near.items[n].owner].meets(wide) })
	})
	return ok && !slices.ContainsFunc(p.leaders, func(l [4]float64) bool { return crosses(l, wide) })
}

// clear reports whether a leader would run through no label.
func (p *placer) clear(l [4]float64) bool {
	return !slices.ContainsFunc(p.labels, func(b box) bool { return crosses(l, b.grown(0.2)) })
}

// spot is where a label came to stand.
type spot struct {
	b      box
	leader [4]float64 // from the label's edge to the anchor
	led    bool
}

// place finds room for a label of w by h mm at one of the anchors, the first liked best;
// from close on it gets a leader. Discs of owner may be covered.
func (p *placer) place(w, h float64, anchors [][2]float64, owner int, close float64) (spot, bool) {
	var best spot
	cost := math.Inf(1)
	try := func(ax, ay, x, y, base float64) {
		b := box{x - w/2, y - h/2, x + w/2, y + h/2}
		c := base + 0.35*p.discs.foreign(b, owner)
		if c >= cost-1e-9 || !p.free(b) {
			return
		}
		s := spot{b: b, led: boxDistance(b, ax, ay) > close}
		if s.led {
			s.leader = leaderTo(b, ax, ay)
			c += 4
			if c >= cost-1e-9 || !p.clear(s.leader) {
				return
			}
		}
		best, cost = s, c
	}
	for i, a := range anchors {
		try(a[0], a[1], a[0], a[1], 0.2*float64(i))
	}
	a := anchors[0]
	for r := 1.5; r < p.reach && r < cost; r += 1.5 {
		n := 8 * min(1+int(r/4), 5)
		for k := range n {
			s, c := math.Sincos(2 * math.Pi * (float64(k)/float64(n) + 0.125))
			try(a[0], a[1], a[0]+c*(r+w/2*math.Abs(c)), a[1]-s*(r+h/2*math.Abs(s)), r)
		}
	}
	if math.IsInf(cost, 1) {
		return best, false
	}
	p.take(best.b)
	if best.led {
		p.leaders = append(p.leaders, best.leader)
	}
	return best, true
}

// leaderTo runs from near the nearest point of the box to the anchor.
func leaderTo(b box, x, y float64) [4]float64 {
	b = b.grown(0.3)
	return [4]float64{math.Max(b.x0, math.Min(b.x1, x)), math.Max(b.y0, math.Min(b.y1, y)), x, y}
}

func boxDistance(b box, x, y float64) float64 {
	return math.Hypot(math.Max(0, math.Max(b.x0-x, x-b.x1)), math.Max(0, math.Max(b.y0-y, y-b.y1)))
}

// crosses reports whether a straight piece touches a box (Liang and Barsky
// 1984, ACM Transactions on Graphics 3:1).
func crosses(l [4]float64, b box) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := l[2]-l[0], l[3]-l[1]
	for _, e := range [4][2]float64{{-dx, l[0] - b.x0}, {dx, b.x1 - l[0]}, {-dy, l[1] - b.y0}, {dy, b.y1 - l[1]}} {
		switch {
		case e[0] == 0:
			if e[1] < 0 {
				return false
			}
		case e[0] < 0:
			t0 = math.Max(t0, e[1]/e[0])
		default:
			t1 = math.Min(t1, e[1]/e[0])
		}
	}
	return t0 <= t1
}

// label writes words near the anchors, with a leader if they stand apart; false: no room.
func (s *svg) label(p *placer, words string, l lettering, owner int, near float64, anchors ...[2]float64) bool {
	l.anchor = "middle"
	words = clean(words)
	b := l.box(0, 0, words)
	at, ok := p.place(b.x1-b.x0, b.y1-b.y0, anchors, owner, near)
	if !ok {
		return false
	}
	if at.led {
		s.line(at.leader[0], at.leader[1], at.leader[2], at.leader[3], stroke(ink, 0.18))
		s.circle(at.leader[2], at.leader[3], 0.35, filled(ink))
	}
	x, _ := at.b.centre()
	s.rect(at.b.grown(0.15), ` rx="6" fill="`+paper+`" fill-opacity="0.9"`)
	s.text(x, at.b.y0+0.78*l.size, words, l)
	return true
}
