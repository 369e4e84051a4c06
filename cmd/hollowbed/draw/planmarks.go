package draw

import (
	"cmp"
	"math"
)

const arrowLen = 10.0 // mm on paper

// water draws the splash and the arrows of inlet and overflow.
func (d *planDraw) water() {
	if in := d.in.Inlet; in != nil {
		name := cmp.Or(in.Name, "inlet")
		x, y := d.v.at(in.At)
		d.open("", name)
		if in.SplashM > 0 {
			look := d.define(otherWash("stones"))
			d.circle(x, y, d.v.sc.mm(in.SplashM), look+` stroke="`+ink+`" stroke-width="2.5"`)
			d.rows = append(d.rows, d.swatch("splash area of the inlet: stones, no plants", look))
			d.discs(x, y, d.v.sc.mm(in.SplashM))
		}
		out := Outward(d.in.Bed.Outline, in.At)
		ux, uy := unit(in.Flow.X, -in.Flow.Y, -out.X, out.Y)
		d.inTail = [2]float64{x - ux*arrowLen, y - uy*arrowLen}
		d.shaft(x-ux*arrowLen, y-uy*arrowLen, x, y, true)
		d.end()
		d.rows = append(d.rows, entry{"water comes in: " + name, func(x, y float64) { d.arrow(x, y+markH/2, x+markW, y+markH/2, true) }})
	}
	if out := d.in.Overflow; out != nil {
		name := cmp.Or(out.Name, "overflow")
		x, y := d.v.at(out.At)
		away := Outward(d.in.Bed.Outline, out.At)
		ux, uy := unit(out.Flow.X, -out.Flow.Y, away.X, -away.Y)
		d.outTip = [2]float64{x + ux*arrowLen, y + uy*arrowLen}
		d.open("", name)
		d.shaft(x, y, x+ux*arrowLen, y+uy*arrowLen, false)
		d.line(x-uy*2.4, y+ux*2.4, x+uy*2.4, y-ux*2.4, stroke(ink, 0.8))
		d.end()
		d.rows = append(d.rows, entry{"water leaves: " + name, func(x, y float64) {
			d.line(x, y+0.2, x, y+markH-0.2, stroke(ink, 0.8))
			d.arrow(x, y+markH/2, x+markW, y+markH/2, false)
		}})
	}
}

// waterNames says which arrow is which, once all marks are there to keep off.
func (d *planDraw) waterNames() {
	if d.in.Inlet != nil {
		d.mustLabel("IN", lettering{size: small, bold: true}, d.inTail[0], d.inTail[1])
	}
	if d.in.Overflow != nil {
		d.mustLabel("OUT", lettering{size: small, bold: true}, d.outTip[0], d.outTip[1])
	}
}

// shaft draws an arrow that labels keep off.
func (d *planDraw) shaft(x1, y1, x2, y2 float64, full bool) {
	d.arrow(x1, y1, x2, y2, full)
	for i := range 5 {
		t := float64(i) / 4
		d.discs(x1+t*(x2-x1), y1+t*(y2-y1), 1.3)
	}
}

// mustLabel places words near a place, with a leader if need be.
func (d *planDraw) mustLabel(words string, l lettering, x, y float64) {
	if !d.label(d.places, words, l, -2, 3.2, [2]float64{x, y}) {
		d.led++
	}
}

// discs keeps labels off a circle if they can do without it.
func (d *planDraw) discs(x, y, r float64) { d.places.discs.add(disc{x, y, r, -1}) }

// unit is the direction of (x, y), or of the second pair if that is nothing.
func unit(x, y, ox, oy float64) (ux, uy float64) {
	n := math.Hypot(x, y)
	if !(n > 1e-6) || !known(n) {
		x, y = ox, oy
		n = math.Hypot(x, y)
	}
	if !(n > 1e-6) {
		return 1, 0
	}
	return x / n, y / n
}

// arrow runs from the first to the second point; a full one has a filled head.
func (s *svg) arrow(x1, y1, x2, y2 float64, full bool) {
	ux, uy := unit(x2-x1, y2-y1, 1, 0)
	const h, w = 2.8, 1.25
	bx, by := x2-ux*h, y2-uy*h
	left := num(bx-uy*w) + " " + num(by+ux*w)
	right := num(bx+uy*w) + " " + num(by-ux*w)
	tip := num(x2) + " " + num(y2)
	if full {
		s.line(x1, y1, bx, by, stroke(ink, 0.7))
		s.path("M"+left+"L"+tip+"L"+right+"Z", filled(ink))
		return
	}
	s.line(x1, y1, x2, y2, stroke(ink, 0.45))
	s.path("M"+left+"L"+tip+"L"+right, stroke(ink, 0.45)+` stroke-linejoin="round"`)
}

// dimensions measures the bed's length and width where less is in the way.
func (d *planDraw) dimensions() {
	b := bounds(d.in.Bed.Outline)
	p := d.bedBox
	const off = 8.0
	d.open("", "length and width of the bed")
	length, width := d.in.Units.length(b.x1-b.x0), d.in.Units.length(b.y1-b.y0)
	below := box{p.x0, p.y1, p.x1, math.Min(p.y1+off+3, d.frame.y1)}
	above := box{p.x0, math.Max(p.y0-off-3, d.frame.y0), p.x1, p.y0}
	y, from := p.y1+off, p.y1
	if d.crowd(below) > d.crowd(above) {
		y, from = p.y0-off, p.y0
	}
	d.dimension(p.x0, y, p.x1, y, 0, from-y, length)
	left := box{math.Max(p.x0-off-3, d.frame.x0), p.y0, p.x0, p.y1}
	right := box{p.x1, p.y0, math.Min(p.x1+off+3, d.frame.x1), p.y1}
	x, start := p.x0-off, p.x0
	if d.crowd(left) > d.crowd(right) {
		x, start = p.x1+off, p.x1
	}
	d.dimension(x, p.y0, x, p.y1, start-x, 0, width)
	d.end()
}

// crowd is how much is drawn in a box: arrows, fixed points, obstacles.
func (d *planDraw) crowd(b box) float64 {
	n := 0.0
	for _, m := range []*Mark{d.in.A, d.in.B} {
		if m != nil {
			if x, y := d.v.at(m.At); b.grown(2).meets(box{x, y, x + 0.1, y + 0.1}) {
				n += 2
			}
		}
	}
	for _, e := range [][2]float64{d.inTail, d.outTip} {
		if b.grown(1.5).meets(box{e[0], e[1], e[0] + 0.1, e[1] + 0.1}) {
			n += 3
		}
	}
	for _, o := range d.in.Obstacles {
		if b.meets(d.v.box(o.bounds())) {
			n++
		}
	}
	if d.in.Cut { // its ends stick out along the bed
		n += 0.5 * math.Min(1, math.Max(0, (b.y1-b.y0)-(b.x1-b.x0)))
	}
	return n
}

// dimension draws a measured line with words in its middle and thin lines (dx, dy) back.
func (d *planDraw) dimension(x1, y1, x2, y2, dx, dy float64, words string) {
	l := lettering{size: small, anchor: "middle"}
	mx, my := (x1+x2)/2, (y1+y2)/2
	if y1 != y2 { // the section's end sticks out in the middle
		my = y1 + 0.3*(y2-y1)
	}
	t := l.box(mx, my+1, words)
	d.places.take(d.text(mx, my+1, words, l))
	gap := (t.x1-t.x0)/2 + 0.8
	if y1 != y2 {
		gap = 2.4
	}
	ux, uy := unit(x2-x1, y2-y1, 1, 0)
	if 2*gap < math.Hypot(x2-x1, y2-y1) {
		d.line(x1, y1, mx-ux*gap, my-uy*gap, stroke(ink, 0.18))
		d.line(mx+ux*gap, my+uy*gap, x2, y2, stroke(ink, 0.18))
	}
	for _, e := range [][2]float64{{x1, y1}, {x2, y2}} {
		d.line(e[0]+dx*0.85, e[1]+dy*0.85, e[0]-dx*0.15, e[1]-dy*0.15, stroke(pencil, 0.18))
		d.line(e[0]-0.9, e[1]+0.9, e[0]+0.9, e[1]-0.9, stroke(ink, 0.4))
	}
}

// marks draws the fixed points A and B and the line between them.
func (d *planDraw) marks() {
	var shown []*Mark
	for i, m := range []*Mark{d.in.A, d.in.B} {
		if m == nil || !known(m.At.X) || !known(m.At.Y) {
			continue
		}
		letter := string(rune('A' + i))
		x, y := d.v.at(m.At)
		words := letter + ": " + cmp.Or(m.Name, "fixed point")
		if d.frame.grown(-3).holds(box{x, y, x, y}) {
			d.fixed(x, y)
			d.discs(x, y, 2)
			d.mustLabel(letter, lettering{size: normal, bold: true}, x, y)
			shown = append(shown, m)
		} else {
			words += ", off the sheet, " + d.in.Units.length(edgeDistance(d.in.Bed.Outline, m.At)) + " from the bed"
			d.offSheet(letter, x, y)
		}
		d.rows = append(d.rows, entry{words: words, mark: func(x, y float64) { d.fixed(x+markW/2, y+markH/2) }})
	}
	if len(shown) == 2 {
		x1, y1 := d.v.at(shown[0].At)
		x2, y2 := d.v.at(shown[1].At)
		d.line(x1, y1, x2, y2, stroke(ink, 0.2, 2, 0.7, 0.3, 0.7))
		for i := range 9 {
			t := 0.1 * float64(i+1)
			d.discs(x1+t*(x2-x1), y1+t*(y2-y1), 0.7)
		}
		d.mustLabel("A to B "+d.in.Units.length(dist(shown[0].At, shown[1].At)), lettering{size: small}, (x1+x2)/2, (y1+y2)/2)
	}
}

// fixed is the sign of a fixed point: a square on its corner with a dot.
func (s *svg) fixed(x, y float64) {
	const r = 1.6
	s.path("M"+num(x-r)+" "+num(y)+"L"+num(x)+" "+num(y-r)+"L"+num(x+r)+" "+num(y)+"L"+num(x)+" "+num(y+r)+"Z", framed(paper, ink, 0.3))
	s.circle(x, y, 0.45, filled(ink))
}

// offSheet shows at the frame in which direction a fixed point lies.
func (d *planDraw) offSheet(letter string, x, y float64) {
	cx, cy := d.bedBox.centre()
	in := d.frame.grown(-2)
	t := 1.0
	for _, e := range [][2]float64{{x - cx, in.x1 - cx}, {cx - x, cx - in.x0}, {y - cy, in.y1 - cy}, {cy - y, cy - in.y0}} {
		if e[0] > 0 {
			t = math.Min(t, e[1]/e[0])
		}
	}
	ux, uy := unit(x-cx, y-cy, 1, 0)
	px, py := cx+t*(x-cx), cy+t*(y-cy)
	d.arrow(px-ux*6, py-uy*6, px, py, false)
	d.mustLabel(letter, lettering{size: normal, bold: true}, px-ux*6, py-uy*6)
}

// cutLine marks the ends of the section.
func (d *planDraw) cutLine() {
	if !d.in.Cut {
		return
	}
	from, to, ok := cut(d.in.Bed.Outline, d.in.Bed.Height)
	if !ok {
		return
	}
	x1, y1 := d.v.at(from)
	x2, y2 := d.v.at(to)
	ux, uy := unit(x2-x1, y2-y1, 1, 0)
	look := stroke(ink, 0.5, 2.4, 0.8, 0.5, 0.8)
	d.line(x1-ux*5.5, y1-uy*5.5, x1+ux*1, y1+uy*1, look)
	d.line(x2-ux*1, y2-uy*1, x2+ux*5.5, y2+uy*5.5, look)
	for i, e := range [][2]float64{{x1 - ux*5.5, y1 - uy*5.5}, {x2 + ux*5.5, y2 + uy*5.5}} {
		back := 2 - 4*float64(i)
		for k := range 3 {
			d.discs(e[0]+ux*back*float64(k), e[1]+uy*back*float64(k), 0.9)
		}
		d.mustLabel(string(rune('S'+i)), lettering{size: small, bold: true}, e[0], e[1])
	}
	d.rows = append(d.rows, entry{"S, T: ends of the section", func(x, y float64) { d.line(x, y+markH/2, x+markW, y+markH/2, look) }})
}

// northArrow is a needle in a ring, half of it dark; none where north is not known.
func (d *planDraw) northArrow(x, y float64) {
	a := d.in.NorthDeg * math.Pi / 180
	if !known(a) {
		return
	}
	sin, cos := math.Sincos(a)
	to := func(side, up float64) string {
		return num(x+side*cos+up*sin) + " " + num(y+side*sin-up*cos)
	}
	d.open("", "north")
	d.circle(x, y, 3.4, stroke(pencil, 0.2))
	d.path("M"+to(0, 4.6)+"L"+to(1.3, -3)+"L"+to(0, -1.8)+"Z", framed(paper, ink, 0.22))
	d.path("M"+to(0, 4.6)+"L"+to(-1.3, -3)+"L"+to(0, -1.8)+"Z", framed(ink, ink, 0.22))
	d.text(x+6.6*sin, y-6.6*cos+0.9, "N", lettering{size: small, anchor: "middle", bold: true})
	d.end()
}
