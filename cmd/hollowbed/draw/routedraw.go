package draw

import "math"

// routeWash is how soil that is put somewhere looks.
func routeWash(name string) wash {
	if name == "refill" { // small angles, as thrown back
		return wash{name: name, tone: "#e6dcc6", mark: "#a2916c", w: 5, h: 4, line: 0.2, d: "M6 12L11 6L16 12M30 32L35 26L40 32"}
	}
	// "berm": upright strokes in pairs
	return wash{name: "berm", tone: "#e3e9d0", mark: "#8c9c6e", w: 4, h: 3.6, line: 0.2, d: "M8 6V15M12 6V15M28 24V33M32 24V33"}
}

// besideTone is what is seen behind the cut.
const besideTone = "#f3efe4"

// line2 is a piece of a line of the drawing: stations and levels.
type line2 [][2]float64

// along is a line through the stations given as far as its level is known; a
// gap in it begins a new piece.
func (d *routeDraw) along(of int) []line2 {
	var out []line2
	whole := false
	for _, st := range d.in.Stations {
		v := st.level(of)
		if !known(v) {
			whole = false
			continue
		}
		if !whole {
			out, whole = append(out, nil), true
		}
		out[len(out)-1] = append(out[len(out)-1], [2]float64{st.AtM, v})
	}
	return out
}

// pen writes a line from left to right, or back; first is the command that begins it.
func (d *routeDraw) pen(l line2, first string, back bool) string {
	path := ""
	for i := range l {
		p := l[i]
		if back {
			p = l[len(l)-1-i]
		}
		path += first + num(d.x(p[0])) + " " + num(d.y(p[1]))
		first = "L"
	}
	return path
}

// draw draws a line, all pieces of it.
func (d *routeDraw) draw(of int, look string) {
	for _, l := range d.along(of) {
		d.path(d.pen(l, "M", false), look)
	}
}

// between fills what lies under one level and above another.
func (d *routeDraw) between(upper, lower int, look string) {
	var up, low line2
	flush := func() {
		thick := false
		for i := range up {
			thick = thick || up[i][1] > low[i][1]+0.5
		}
		if thick {
			d.path(d.pen(up, "M", false)+d.pen(low, "L", true)+"Z", look)
		}
		up, low = nil, nil
	}
	for _, st := range d.in.Stations {
		u, l := st.level(upper), st.level(lower)
		if !known(u) || !known(l) {
			flush()
			continue
		}
		up, low = append(up, [2]float64{st.AtM, math.Max(u, l)}), append(low, [2]float64{st.AtM, l})
	}
	flush()
}

// bedLine is the finished surface of the bed from a station on.
func (d *routeDraw) bedLine(from float64) line2 {
	in := d.in
	l := line2{{from, in.bedMM(from)}}
	for _, s := range []float64{in.BedEdgeM + in.RimWidthM, in.footM(), d.endM} {
		if s > from+1e-9 {
			l = append(l, [2]float64{s, in.bedMM(s)})
		}
	}
	return l
}

// earth fills what stays as it is: under ground, trench and bed.
func (d *routeDraw) earth() {
	var l line2
	for _, st := range d.in.Stations {
		v := st.GroundMM
		if st.AtM > d.in.BedEdgeM {
			v = d.in.bedMM(st.AtM)
		}
		if known(st.DugMM) {
			v = math.Min(v, st.DugMM)
		}
		l = append(l, [2]float64{st.AtM, v})
	}
	last := d.in.Stations[len(d.in.Stations)-1].AtM
	l = append(l, d.bedLine(math.Max(last, d.in.BedEdgeM))...)
	left := d.x0 - routeHouse
	d.open("", "soil as found")
	d.path("M"+num(left)+" "+num(d.y(d.in.Stations[0].GroundMM))+"H"+num(d.x0)+d.pen(l, "L", false)+
		"V"+num(d.base)+"H"+num(left)+"Z", d.define(otherWash("earth")))
	d.end()
}

// houseWords names what stands at the downspout.
func houseWords(foundation string) string {
	switch foundation {
	case "slab":
		return "House on a slab"
	case "crawl space":
		return "House over a crawl space"
	case "basement":
		return "House with a basement"
	case "none":
		return "No building to keep dry"
	}
	return "House, foundation not known"
}

// house draws the wall and what kind of foundation it stands on; depths are not known.
func (d *routeDraw) house() {
	left, ground := d.x0-routeHouse, d.y(d.in.Stations[0].GroundMM)
	d.text(margin, bodyStart+4, houseWords(d.in.Foundation), lettering{size: small})
	if d.in.Foundation == "none" {
		return
	}
	wall := d.define(otherWash("wall")) + ` stroke="` + ink + `" stroke-width="` + num(0.3) + `"`
	inner := d.x0 - routeWall
	reach := func(mm float64) float64 { return math.Min(ground+mm, d.base-1) }
	d.open("", houseWords(d.in.Foundation))
	hollow := func(floor float64) { // under the house
		d.rect(box{left, ground - 2, inner, floor}, filled(paper))
		d.line(left, ground-3, inner, ground-3, stroke(ink, 0.9))
		d.line(left, floor, inner, floor, stroke(ink, 0.3))
	}
	d.rect(box{left, d.top, inner, ground}, filled(paper))
	foot := reach(8)
	switch d.in.Foundation {
	case "slab":
		d.rect(box{left, ground - 2.4, inner, ground + 0.6}, wall)
	case "crawl space":
		foot = reach(12)
		hollow(reach(6))
		d.rect(box{inner - 1.8, foot - 2, d.x0 + 1.2, foot}, wall)
	case "basement":
		foot = d.base - 0.6
		hollow(math.Max(foot-3, ground))
		d.rect(box{left, math.Max(foot-3, ground), inner, foot}, wall)
	}
	d.rect(box{inner, d.top, d.x0, foot}, wall)
	if d.in.Foundation != "slab" && d.in.Foundation != "crawl space" && d.in.Foundation != "basement" {
		d.line(inner, foot, inner, d.base, stroke(soft, 0.3, 1.2, 1))
		d.line(d.x0, foot, d.x0, d.base, stroke(soft, 0.3, 1.2, 1))
	}
	d.end()
}

// way draws what is dug, laid and filled, and the downspout that feeds it.
func (d *routeDraw) way() {
	first := d.in.Stations[0]
	foot := first.GroundMM
	if known(first.InvertMM) {
		foot = first.InvertMM
	}
	d.open("", "downspout")
	d.rect(box{d.x0 + 0.3, d.top, d.x0 + 2.5, math.Max(d.y(foot), d.top+1)}, framed(paper, ink, 0.3))
	d.end()
	switch d.in.Kind {
	case "pipe":
		d.open("", "trench, filled again")
		d.between(ofGround, ofDug, d.define(routeWash("refill")))
		d.draw(ofDug, stroke(ink, 0.25))
		d.end()
		d.open("", "berm over the pipe")
		d.between(ofTop, ofGround, d.define(routeWash("berm")))
		d.draw(ofTop, stroke(ink, 0.5))
		d.end()
		d.open("", "pipe, from its invert to its crown")
		d.between(ofCrown, ofInvert, framed(paper, ink, 0.4))
		d.end()
	case "swale":
		d.open("", "sides of the swale, behind the cut")
		d.between(ofTop, ofInvert, filled(besideTone))
		d.draw(ofTop, stroke(ink, 0.3))
		d.end()
		d.open("", "fill under the swale")
		d.between(ofDug, ofGround, d.define(routeWash("berm")))
		d.end()
		d.open("", "gravel on the liner")
		d.between(ofInvert, ofDug, d.define(otherWash("stones")))
		d.draw(ofInvert, stroke(ink, 0.5))
		d.draw(ofDug, stroke(ink, 0.25))
		d.end()
		d.liner()
	default:
		d.draw(ofGround, stroke(ink, 0.5))
		d.open("", "extension of the downspout")
		d.draw(ofInvert, stroke(ink, 1.1)+` stroke-linecap="round"`)
		d.draw(ofInvert, stroke(paper, 0.4))
		d.end()
	}
	if d.in.Kind != "surface" {
		d.oldGround()
	}
}

// liner is drawn under the gravel as far as it must reach.
func (d *routeDraw) liner() {
	var l line2
	for _, st := range d.in.Stations {
		if st.AtM <= d.in.ReachM+1e-9 && known(st.DugMM) {
			l = append(l, [2]float64{st.AtM, st.DugMM})
		}
	}
	if len(l) > 1 {
		d.open("", "liner")
		d.path(d.pen(l, "M", false), stroke(ink, 0.9))
		d.end()
	}
}

// oldLook is the line of the ground before digging.
func oldLook() string { return stroke(soft, 0.35, 1.6, 0.9) }

func (d *routeDraw) oldGround() {
	var l line2
	for _, st := range d.in.Stations {
		if st.AtM <= d.in.BedEdgeM+1e-9 {
			l = append(l, [2]float64{st.AtM, st.GroundMM})
		}
	}
	d.open("", "old ground")
	d.path(d.pen(l, "M", false), oldLook())
	d.end()
}

// room fills the bed with water up to its spill level.
func (d *routeDraw) room() {
	inner := d.in.BedEdgeM + d.in.RimWidthM
	d.open("", "room for water in the bed")
	l := append(line2{{inner, 0}}, d.bedLine(inner)...)
	d.path(d.pen(l, "M", false)+"V"+num(d.y(0))+"Z", d.define(otherWash("water"))+` fill-opacity="0.75"`)
	d.end()
}

// rimLook is the line of what stands beside the way.
func rimLook() string { return stroke(ink, 0.3, 0.5, 0.8) }

// bed draws the finished surface of the bed, beside the way and in it.
func (d *routeDraw) bed() {
	in := d.in
	inner := in.BedEdgeM + in.RimWidthM
	edge := in.at(in.BedEdgeM, ofGround)
	if !known(edge) {
		edge = in.RimMM
	}
	d.open("", "rim and side of the bed beside the way")
	beside := append(line2{{in.BedEdgeM, edge}}, d.bedLine(in.BedEdgeM)...)
	d.path(d.pen(beside, "M", false), rimLook())
	d.end()
	d.open("", "bed")
	l := d.bedLine(math.Max(in.OutletM, inner))
	if in.Kind == "surface" { // through a gap in the rim
		l = append(line2{{in.BedEdgeM, edge}}, l...)
	}
	d.path(d.pen(l, "M", false), stroke(ink, 0.5)+` stroke-linejoin="round"`)
	d.end()
	d.open("", "spill level")
	d.line(d.x(math.Max(in.OutletM, inner)), d.y(0), d.right, d.y(0), levelLook(0))
	d.end()
	y := d.y(in.BottomMM)
	mid := (d.y(0) + y) / 2
	d.path("M"+num(d.right)+" "+num(d.y(0)-2)+"V"+num(mid-1)+"L"+num(d.right-1.2)+" "+num(mid)+
		"L"+num(d.right+0.8)+" "+num(mid+0.8)+"L"+num(d.right)+" "+num(mid+1.6)+"V"+num(d.base), stroke(soft, 0.25))
	if o := in.at(in.OutletM, ofInvert); known(o) {
		d.circle(d.x(in.OutletM), d.y(o), 0.8, framed(paper, ink, 0.4))
	}
}
