package draw

import (
	"cmp"
	"math"
	"sort"
)

// soil draws the old ground, the planting soil and the finished ground.
func (d *sectionDraw) soil() {
	c := d.cut
	n := len(c.s) - 1
	floor := func(i int) float64 { // where the old soil begins
		if c.inside[i] {
			return math.Min(c.g[i], c.g[i]-c.mixDepthMM)
		}
		return c.g[i]
	}
	d.open("", "soil")
	under := d.run(0, n, floor, false) + "V" + num(d.base) + "H" + num(d.x(c.s[0])) + "Z"
	d.path(under, d.define(otherWash("earth")))
	if c.mixDepthMM > 0 {
		for _, r := range runs(len(c.s), func(i int) bool { return c.inside[i] }) {
			p := d.run(r[0], r[1], func(i int) float64 { return c.g[i] }, false) + d.run(r[0], r[1], floor, true) + "Z"
			d.path(p, d.define(otherWash("mix"))+` stroke="`+pencil+`" stroke-width="2"`)
		}
	}
	d.end()
}

// water fills up to the spill level and draws each level in its own line.
func (d *sectionDraw) water() {
	c := d.cut
	if len(d.in.Levels) > 0 && known(d.in.Levels[0].MM) {
		l := d.in.Levels[0].MM
		for _, r := range d.wet(l) {
			p := d.run(r[0], r[1], func(i int) float64 { return math.Min(c.g[i], l) }, false) + "Z"
			d.path(p, d.define(otherWash("water"))+` fill-opacity="0.75"`)
		}
	}
	if c.haveOld {
		d.path(d.run(0, len(c.s)-1, func(i int) float64 { return c.old[i] }, false), stroke(soft, 0.3, 1.6, 0.9))
	}
	d.path(d.run(0, len(c.s)-1, func(i int) float64 { return c.g[i] }, false), stroke(ink, 0.6)+` stroke-linejoin="round"`)
	for i, l := range d.in.Levels {
		if !known(l.MM) || i > 3 {
			continue
		}
		for _, r := range d.wet(l.MM) {
			d.line(d.x(c.s[r[0]]), d.y(l.MM), d.x(c.s[r[1]]), d.y(l.MM), levelLook(i))
		}
	}
	d.heights()
}

// wet lists the stretches inside the bed below a level.
func (d *sectionDraw) wet(mm float64) [][2]int {
	return runs(len(d.cut.s), func(i int) bool { return d.cut.inside[i] && d.cut.g[i] <= mm+1e-9 })
}

// heights names levels beside the picture.
func (d *sectionDraw) heights() {
	c, u := d.cut, d.in.Units
	lines := []heightMark{{d.in.Bed.RimMM, "rim, " + u.aboveSpill(d.in.Bed.RimMM), "", d.x(c.lengthM)}}
	if c.haveOld {
		last := c.old[len(c.old)-1]
		lines = append(lines, heightMark{last, "old ground, " + u.aboveSpill(last), stroke(soft, 0.3, 1.6, 0.9), d.right})
	}
	for i, l := range d.in.Levels {
		if wet := d.wet(l.MM); known(l.MM) && i <= 3 && len(wet) > 0 {
			words := l.Name + ", " + u.aboveSpill(l.MM)
			if math.Abs(l.MM) < 0.5 {
				words = l.Name
			}
			lines = append(lines, heightMark{l.MM, words, levelLook(i), d.x(c.s[wet[len(wet)-1][1]])})
		}
	}
	low := c.lowMMInside()
	lines = append(lines, heightMark{low, "bottom, " + u.aboveSpill(low), "", d.bottomEnd(low)})
	if c.mixDepthMM > 0 {
		lines = append(lines, heightMark{low - c.mixDepthMM, "foot of the mix, " + u.depth(c.mixDepthMM) + " deep", "", d.bottomEnd(low)})
	}
	d.low = d.heightWords(lines, d.y, d.right, d.right+3, d.base, 2)
}

// heightMark names a level beside a picture.
type heightMark struct {
	mm    float64
	words string
	look  string  // of its line; "": thin
	from  float64 // where the thin line to it begins, mm on paper
}

// heightWords names levels from x on, in so many lines at most, each led to its height y at
// the right edge of the picture, and returns where the words end.
func (s *svg) heightWords(marks []heightMark, y func(mm float64) float64, right, x, base float64, most int) float64 {
	sort.SliceStable(marks, func(i, j int) bool { return marks[i].mm > marks[j].mm })
	var ys, highs []float64
	var words [][]string
	for _, m := range marks {
		w := wrap(m.words, small, pageW-margin-x-9, most)
		words, ys, highs = append(words, w), append(ys, y(m.mm)), append(highs, 3.6*float64(len(w))+0.8)
	}
	places := spread(ys, highs, bodyStart+1, base)
	thin := stroke(pencil, 0.18)
	for i, m := range marks {
		first := places[i] - highs[i]/2 + 0.4 + 1.8
		s.path("M"+num(m.from)+" "+num(ys[i])+"H"+num(right)+"L"+num(x)+" "+num(first), thin)
		s.line(x, first, x+7, first, cmp.Or(m.look, thin))
		for k, w := range words[i] {
			s.text(x+8.2, first+1+3.6*float64(k), w, lettering{size: small})
		}
	}
	return places[len(places)-1] + highs[len(highs)-1]/2
}

// bottomEnd is the right end of the deepest ground, on paper.
func (d *sectionDraw) bottomEnd(low float64) float64 {
	x := d.x(0)
	for i, in := range d.cut.inside {
		if in && d.cut.g[i] <= low+1 {
			x = d.x(d.cut.s[i])
		}
	}
	return x
}

// spread moves places, sorted downwards, apart so that each keeps its height
// free, staying between top and base as far as that goes.
func spread(ys, highs []float64, top, base float64) []float64 {
	out := append([]float64{}, ys...)
	for i := range out {
		least := top + highs[i]/2
		if i > 0 {
			least = out[i-1] + (highs[i-1]+highs[i])/2
		}
		out[i] = math.Max(out[i], least)
	}
	for i := len(out) - 1; i >= 0; i-- {
		most := base - highs[i]/2
		if i < len(out)-1 {
			most = out[i+1] - (highs[i]+highs[i+1])/2
		}
		if out[i] > most && most >= top {
			out[i] = most
		}
	}
	for i := 1; i < len(out); i++ { // no room at all: downwards wins
		out[i] = math.Max(out[i], out[i-1]+(highs[i-1]+highs[i])/2)
	}
	return out
}

// ruler shows heights at the left, from the spill level up and down.
func (d *sectionDraw) ruler() {
	unit, name := mPerFt*1000/12, "in"
	if d.in.Units.Metric {
		unit, name = 10, "cm"
	}
	span := (d.base - d.top) / (d.sc.mm(1) * d.exag) * 1000 / unit
	n := math.Max(1, math.Min(8, math.Floor((d.base-d.top)/4.6)))
	step := tickStep(span, int(n))
	if !d.in.Units.Metric {
		step = feetStep(span / n)
	}
	x := d.x(d.cut.s[0]) - 2
	d.open("", "height above the spill level")
	d.line(x, d.top, x, d.base, stroke(pencil, 0.2))
	for k := -40; k <= 200; k++ {
		mm := float64(k) * step * unit
		y := d.y(mm)
		if y < d.top+3 || y > d.base-0.5 {
			continue
		}
		d.line(x-1.2, y, x, y, stroke(ink, 0.25))
		d.text(x-1.8, y+1, figure(float64(k)*step, 0), lettering{size: small, anchor: "end", colour: soft})
	}
	d.text(x-1.8, d.top-1.2, name, lettering{size: small, anchor: "end", colour: soft})
	for i, s := range []float64{0, d.cut.lengthM} {
		d.text(d.x(s), bodyStart+3.5, string(rune('S'+i)), lettering{size: small, anchor: "middle", bold: true})
		d.line(d.x(s), bodyStart+4.6, d.x(s), d.y(d.in.Bed.RimMM)-0.6, stroke(faint, 0.2, 1, 1))
	}
	d.end()
}

// feetStep is a step in inches that a ruler has.
func feetStep(least float64) float64 {
	for _, s := range []float64{1, 2, 3, 6, 12, 24, 48, 120} {
		if s >= least {
			return s
		}
	}
	return 240
}

// plants draws each plant on the line and names it; neighbours of one kind share a name.
func (d *sectionDraw) plants() {
	area := box{d.x(d.cut.s[0]), bodyStart + 5, d.right, d.base}
	p := newPlacer(area, d.texts)
	d.open("", "plants on the line of the cut")
	for i, st := range d.shown {
		sp := d.species(st)
		w, h := d.sc.mm(math.Max(sp.SpreadM, 0.1)), d.sc.mm(d.heightM(st))*d.exag
		x, y := d.x(st.s), d.y(st.ground)
		d.silhouette(sp.Form, x, y, w, h)
		p.discs.add(disc{x, y - h/2, math.Min(w, h) / 2.5, i})
		p.discs.add(disc{x, y - h + 0.5, math.Min(w/2, 1.5), i})
	}
	d.end()
	row := append([]standing{}, d.shown...)
	sort.SliceStable(row, func(a, b int) bool { return row[a].s < row[b].s })
	for i := 0; i < len(row); {
		sp := d.species(row[i])
		top := math.Inf(1)
		k := i
		for ; k < len(row) && d.species(row[k]) == sp && (k == i || row[k].s-row[k-1].s <= 1.6*math.Max(sp.SpreadM, 0.1)); k++ {
			top = math.Min(top, d.y(row[k].ground)-d.sc.mm(d.heightM(row[k]))*d.exag)
		}
		a, b := d.x(row[i].s), d.x(row[k-1].s)
		if k-i > 1 {
			d.path("M"+num(a)+" "+num(top-0.4)+"V"+num(top-1)+"H"+num(b)+"V"+num(top-0.4), stroke(ink, 0.2))
		}
		d.label(p, DriftWords(nil, sp, "", 1), lettering{size: small}, -2, 2.6, [2]float64{(a + b) / 2, top - 2.9})
		i = k
	}
}

func (d *sectionDraw) species(st standing) Species {
	return d.in.Species[d.in.Plants[st.plant].Species]
}

// foot writes what stands under the section, the scale bar from y down and the
// rest not above least, and returns where it ends.
func (d *sectionDraw) foot(y, least float64) float64 {
	d.scaleBar(d.x(d.cut.s[0]), y, 62, d.sc, d.in.Units.Metric)
	y = math.Max(y+11, least)
	rows := []entry{d.swatch("soil as found", d.define(otherWash("earth")))}
	if d.cut.mixDepthMM > 0 {
		rows = append(rows, d.swatch("planting soil (mix)", d.define(otherWash("mix"))))
	}
	rows = append(rows, d.swatch("room for water, up to the spill level", d.define(otherWash("water"))))
	y = d.entries(y, rows, 3) + 4
	d.smallHead(margin, y, "Plants on the line")
	if len(d.shown) == 0 {
		d.text(margin+36, y, "None.", lettering{size: small, colour: soft})
		return y + 1
	}
	d.text(margin+36, y, "At mature height and spread.", lettering{size: small, colour: soft})
	seen := map[int]bool{}
	var table []row
	for _, st := range d.shown {
		n := d.in.Plants[st.plant].Species
		if seen[n] {
			continue
		}
		seen[n] = true
		sp := d.in.Species[n]
		last := "height not known"
		if sp.HeightM > 0 && known(sp.HeightM) {
			last = d.in.Units.length(sp.HeightM)
		}
		table = append(table, row{key: sp.Key, name: sp.Name, last: last, mark: func(x, y float64) { d.silhouette(sp.Form, x, y+1.7, 3.4, 3.4) }})
	}
	sort.SliceStable(table, func(a, b int) bool { return table[a].key < table[b].key })
	return d.table(y+2.5, table, "Height")
}
