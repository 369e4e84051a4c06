package draw

import "math"

const arrowLen = 10.0 // mm on paper

// water draws the splash and the arrows of inlet and overflow.
func (d *planDraw) water() {
	middle := bounds(d.in.Bed.Outline)
	cx, cy := d.v.at(Point{(middle.x0 + middle.x1) / 2, (middle.y0 + middle.y1) / 2})
	if in := d.in.Inlet; in != nil {
		x, y := d.v.at(in.At)
		d.open("", orElse(in.Name, "inlet"))
		if in.SplashM > 0 {
			look := d.define(otherWash("stones"))
			d.circle(x, y, d.v.sc.mm(in.SplashM), look+` stroke="`+ink+`" stroke-width="2.5"`)
			d.rows = append(d.rows, d.swatch("splash area of the inlet: stones, no plants", look))
			d.discs(x, y, d.v.sc.mm(in.SplashM))
		}
		fx, fy := d.v.at(in.From)
		ux, uy := unit(x-fx, y-fy, cx-x, cy-y)
		d.arrow(x-ux*arrowLen, y-uy*arrowLen, x, y, true)
		d.end()
		d.rows = append(d.rows, entry{words: "water comes in: " + orElse(in.Name, "inlet"), mark: func(x, y float64) { d.arrow(x, y+markH/2, x+markW, y+markH/2, true) }})
	}
	if out := d.in.Overflow; out != nil {
		x, y := d.v.at(out.At)
		tx, ty := d.v.at(out.To)
		ux, uy := unit(tx-x, ty-y, x-cx, y-cy)
		d.open("", orElse(out.Name, "overflow"))
		d.arrow(x, y, x+ux*arrowLen, y+uy*arrowLen, false)
		d.line(x-uy*2.4, y+ux*2.4, x+uy*2.4, y-ux*2.4, stroke(ink, 0.8))
		d.end()
		d.rows = append(d.rows, entry{words: "water leaves: " + orElse(out.Name, "overflow"), mark: func(x, y float64) {
			d.line(x, y+0.2, x, y+markH-0.2, stroke(ink, 0.8))
			d.arrow(x, y+markH/2, x+markW, y+markH/2, false)
		}})
	}
	if in := d.in.Inlet; in != nil {
		x, y := d.v.at(in.At)
		d.mustLabel("IN", lettering{size: small, bold: true}, x, y)
	}
	if out := d.in.Overflow; out != nil {
		x, y := d.v.at(out.At)
		d.mustLabel("OUT", lettering{size: small, bold: true}, x, y)
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

// arrow runs from the first to the second point; a full one has a filled head,
// an open one two strokes.
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

// dimensions measures the bed's length and width on the freer sides.
func (d *planDraw) dimensions() {
	b := bounds(d.in.Bed.Outline)
	p := d.bedBox
	small := lettering{size: small, anchor: "middle", halo: true}
	thinLine := stroke(ink, 0.18)
	y, from := d.frame.y1-5.6, p.y1
	if d.frame.y1-p.y1 > p.y0-d.frame.y0+3 {
		y, from = d.frame.y0+6, p.y0
	}
	d.open("", "length and width of the bed")
	for _, x := range []float64{p.x0, p.x1} {
		d.line(x, from, x, y+math.Copysign(1.2, y-from), stroke(pencil, 0.18))
		d.line(x-0.9, y+0.9, x+0.9, y-0.9, stroke(ink, 0.4))
	}
	d.line(p.x0, y, p.x1, y, thinLine)
	d.places.take(d.text((p.x0+p.x1)/2, y+1, d.in.Units.length(b.x1-b.x0), small))
	x, start := d.frame.x0+9, p.x0
	if p.x0-d.frame.x0 > d.frame.x1-p.x1+6 {
		x, start = d.frame.x1-9, p.x1
	}
	for _, y := range []float64{p.y0, p.y1} {
		d.line(start, y, x+math.Copysign(1.2, x-start), y, stroke(pencil, 0.18))
		d.line(x-0.9, y+0.9, x+0.9, y-0.9, stroke(ink, 0.4))
	}
	d.line(x, p.y0, x, p.y1, thinLine)
	d.places.take(d.text(x, (p.y0+p.y1)/2+1, d.in.Units.length(b.y1-b.y0), small))
	d.end()
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
		words := letter + ": " + orElse(m.Name, "fixed point")
		if d.frame.grown(-3).holds(box{x, y, x, y}) {
			d.fixed(x, y)
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
	from, to, ok := Cut(d.in.Bed.Outline, d.in.Bed.Height)
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
		d.mustLabel(string(rune('S'+i)), lettering{size: small, bold: true}, e[0], e[1])
	}
	d.rows = append(d.rows, entry{"S, T: ends of the section", func(x, y float64) { d.line(x, y+markH/2, x+markW, y+markH/2, look) }})
}

// northArrow is a needle in a ring, half of it dark.
func (d *planDraw) northArrow(x, y float64) {
	a := d.in.NorthDeg * math.Pi / 180
	if !known(a) {
		a = 0
	}
	sin, cos := math.Sincos(a)
	to := func(side, up float64) string {
		return num(x+side*cos+up*sin) + " " + num(y+side*sin-up*cos)
	}
	d.open("", "north")
	d.circle(x, y, 3.4, stroke(pencil, 0.2))
	d.path("M"+to(0, 4.6)+"L"+to(1.3, -3)+"L"+to(0, -1.8)+"Z", framed(paper, ink, 0.22))
	d.path("M"+to(0, 4.6)+"L"+to(-1.3, -3)+"L"+to(0, -1.8)+"Z", framed(ink, ink, 0.22))
	d.text(x+6.1*sin, y-6.1*cos+1, "N", lettering{size: small, anchor: "middle", bold: true})
	d.end()
}
