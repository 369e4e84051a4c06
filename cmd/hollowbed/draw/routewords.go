package draw

import "math"

// ruler shows heights at the left, from the spill level up and down.
func (d *routeDraw) ruler() {
	unit, name := mmPerIn, "in"
	if d.in.Units.Metric {
		unit, name = 10, "cm"
	}
	perUnit := d.sc.mm(1) * d.exag / 1000 * unit // mm on paper
	n := math.Max(1, math.Min(8, math.Floor((d.base-d.top)/7)))
	least := (d.base - d.top) / perUnit / n
	step := tickStep(least, 1)
	if !d.in.Units.Metric {
		if step = feetStep(least); step < least {
			step = 12 * tickStep(least/12, 1)
		}
	}
	x := d.x0 - routeHouse - 1.5
	d.open("", "height above the spill level")
	d.line(x, d.top, x, d.base, stroke(pencil, 0.2))
	lowest := math.Ceil((d.y0 - d.base) / perUnit / step)
	for k := lowest; d.y0-k*step*perUnit > d.top+5; k++ {
		y := d.y0 - k*step*perUnit
		if y > d.base-0.5 {
			continue
		}
		d.line(x-1.2, y, x, y, stroke(ink, 0.25))
		d.text(x-1.8, y+1, figure(k*step, 0), lettering{size: small, anchor: "end", colour: soft})
	}
	d.text(x-1.8, d.top+1.4, name, lettering{size: small, anchor: "end", colour: soft})
	d.end()
}

// levels names the levels of the bed beside the picture.
func (d *routeDraw) levels() {
	in, u := d.in, d.in.Units
	marks := []heightMark{
		{0, "spill level", levelLook(0), d.right},
		{in.BottomMM, "bottom of the bed, " + u.aboveSpill(in.BottomMM), "", d.right},
	}
	if in.RimMM > 0.5 {
		marks = append(marks, heightMark{in.RimMM, "rim, " + u.aboveSpill(in.RimMM), "", d.x(in.BedEdgeM)})
	}
	of := ofInvert
	if in.Kind == "surface" {
		of = ofGround
	}
	if v := in.at(in.OutletM, of); known(v) {
		words := u.aboveSpill(v)
		if math.Abs(v) < 0.5 {
			words = "at the spill level"
		}
		marks = append(marks, heightMark{v, "water arrives, " + words, "", d.x(in.OutletM)})
	}
	d.low = d.heightWords(marks, d.y, d.right, d.right+4, d.base, 3)
}

// labels names things in the picture.
func (d *routeDraw) labels() {
	in := d.in
	p := newPlacer(box{d.x0 + 0.8, d.top - 1, d.right - 1.5, d.base - 1.6}, d.texts)
	for _, of := range []int{ofGround, ofTop, ofCrown, ofInvert, ofDug} {
		d.keepOff(p, of)
	}
	say := func(words string, near float64, x, y float64) {
		if !d.label(p, words, lettering{size: small}, -2, near, [2]float64{x, y}) {
			d.missed = append(d.missed, words)
		}
	}
	edge := d.x(in.BedEdgeM)
	d.line(edge, d.top, edge, d.base, stroke(soft, 0.2, 1, 1))
	say("bed edge", 2.5, edge, d.top+1.5)
	say("downspout", 1, d.x0+2.8, d.top+4)
	d.sayFall(say)
	if in.Kind != "pipe" && in.ReachM > 0 && known(in.ReachM) {
		words := "liner at least to here"
		if in.Kind == "surface" {
			words = "extension at least to here"
		}
		d.tick(in.ReachM)
		say(words, 1, d.x(in.ReachM), d.y(in.at(in.ReachM, ofGround)))
	}
	if in.Kind == "pipe" {
		d.sayCover(say)
	}
	if v := in.at(in.OutletM, ofInvert); known(v) && in.Kind != "surface" {
		say("outlet", 0.5, d.x(in.OutletM), d.y(v))
	}
}

// sayFall names the way and its fall, in its middle.
func (d *routeDraw) sayFall(say func(string, float64, float64, float64)) {
	in := d.in
	words, at, of := in.name(), in.OutletM/2, ofInvert
	if in.Kind == "surface" {
		words, at, of = "ground", (in.ReachM+in.BedEdgeM)/2, ofGround
		if !known(in.ReachM) || in.ReachM >= in.BedEdgeM {
			at = in.BedEdgeM / 2
		}
	}
	if known(in.Fall) {
		words += ", falls " + in.fallWords()
		if in.Kind == "surface" {
			words += " on the whole"
		}
	}
	v := in.at(at, of)
	if c := in.at(at, ofCrown); known(c) {
		v = (v + c) / 2
	}
	if known(v) {
		say(words, 0.3, d.x(at), d.y(v))
	}
}

// sayCover marks the least cover over a pipe and where the pipe comes out.
func (d *routeDraw) sayCover(say func(string, float64, float64, float64)) {
	in := d.in
	if words := in.coverWords(); words != "" {
		top, crown := in.at(in.LeastCoverAtM, ofTop), in.at(in.LeastCoverAtM, ofCrown)
		if known(top) && known(crown) {
			x := d.x(in.LeastCoverAtM)
			if in.LeastCoverAtM == 0 {
				x += 4.2 // clear of the downspout
			}
			d.line(x, d.y(top), x, d.y(crown), stroke(ink, 0.45))
			for _, y := range []float64{d.y(top), d.y(crown)} {
				d.line(x-0.9, y, x+0.9, y, stroke(ink, 0.45))
			}
			say(words, 0.3, x, (d.y(top)+d.y(crown))/2)
		}
	}
	if s := in.DaylightM; known(s) && s < in.OutletM-1e-6 {
		if v := in.at(s, ofTop); known(v) {
			d.tick(s)
			say("comes to daylight from here on", 0.3, d.x(s), d.y(v))
		}
	}
}

// tick marks a station across the ground.
func (d *routeDraw) tick(s float64) {
	high := d.in.at(s, ofGround)
	if t := d.in.at(s, ofTop); known(t) {
		high = math.Max(high, t)
	}
	if known(high) {
		d.line(d.x(s), d.y(high)-3, d.x(s), d.base, stroke(soft, 0.2, 0.5, 0.9))
	}
}

// keepOff lets labels avoid a line.
func (d *routeDraw) keepOff(p *placer, of int) {
	for _, l := range d.along(of) {
		for i := 1; i < len(l); i++ {
			a, b := l[i-1], l[i]
			n := math.Ceil(d.sc.mm(b[0]-a[0])/1.5) + 1
			for k := 0.0; k < n; k++ {
				t := k / n
				p.discs.add(disc{d.x(a[0] + t*(b[0]-a[0])), d.y(a[1] + t*(b[1]-a[1])), 0.8, -1})
			}
		}
	}
}

// foot writes what stands under the table and returns where it ends.
func (d *routeDraw) foot(y float64) float64 {
	d.scaleBar(d.x0, y, 62, d.sc, d.in.Units.Metric)
	y += 8
	if len(d.missed) > 0 {
		for _, l := range wrap("No room in the picture for: "+list(d.missed)+".", small, pageW-2*margin, 4) {
			d.text(margin, y+2.7, l, lettering{size: small})
			y += 3.7
		}
		y += 1.5
	}
	return d.entries(y, d.legend(), 3)
}

// higher reports whether one level lies above another anywhere.
func (in RouteIn) higher(upper, lower int) bool {
	for _, st := range in.Stations {
		if st.level(upper) > st.level(lower)+0.5 {
			return true
		}
	}
	return false
}

// legend explains what the drawing holds.
func (d *routeDraw) legend() []entry {
	in := d.in
	rows := []entry{d.swatch("soil as found", d.define(otherWash("earth")))}
	berm := d.define(routeWash("berm"))
	switch in.Kind {
	case "pipe":
		rows = append(rows, d.sample("old ground", oldLook()), d.swatch("trench, filled again", d.define(routeWash("refill"))))
		if in.higher(ofTop, ofGround) {
			rows = append(rows, d.swatch("soil put on top: a berm", berm))
		}
		rows = append(rows, d.swatch("pipe, invert to crown", filled(paper)))
	case "swale":
		rows = append(rows, d.sample("old ground", oldLook()), d.swatch("gravel on a liner", d.define(otherWash("stones"))))
		if in.ReachM > 0 {
			rows = append(rows, d.sample("liner", stroke(ink, 0.9)))
		}
		rows = append(rows, d.swatch("side of the swale, behind", filled(besideTone)))
		if in.higher(ofDug, ofGround) {
			rows = append(rows, d.swatch("fill under the swale", berm))
		}
	default:
		rows = append(rows, d.sample("extension of the downspout", stroke(ink, 1.1)))
	}
	rows = append(rows, d.sample("bed beside the way", rimLook()), d.swatch("room for water", d.define(otherWash("water"))))
	if in.Foundation != "none" {
		rows = append(rows, d.swatch("house: kind of foundation, not its depth", d.define(otherWash("wall"))))
	}
	return rows
}
