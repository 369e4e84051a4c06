package draw

import (
	"cmp"
	"math"
	"sort"
)

// plants draws every plant at its mature spread in the tint of its kind, widest first,
// with an outline around each drift, and gives them in that order. A plan of moves shows
// what stays pale.
func (d *planDraw) plants() []int {
	sp := d.in.Species
	order := d.everyPlant()
	spread := func(i int) float64 { return sp[d.in.Plants[i].Species].SpreadM }
	sort.SliceStable(order, func(a, b int) bool { return spread(order[a]) > spread(order[b]) })
	if len(d.in.Moves) == 0 {
		d.outlines()
		d.circles("plants at mature spread", "", order)
		d.path(d.v.outline(d.in.Bed.Outline, true), stroke(ink, 0.35)+` stroke-linejoin="round"`) // under many plants
		return order
	}
	touched, rest := d.touched(order)
	d.circles("plants that stay", stays, rest)
	d.circles("plants that move, make room or are replaced", "", touched)
	return order
}

// plantWords says what stands where: with the stake inside the circle if that fits for
// the species, else with one label for each drift; a plan of moves does not.
func (d *planDraw) plantWords(order []int) {
	if len(d.in.Moves) > 0 {
		return
	}
	apart := d.insides(order)
	d.figures(order, apart)
	d.badges()
	d.driftLabels(apart)
}

// everyPlant is the numbers of all plants.
func (d *planDraw) everyPlant() []int {
	all := make([]int, len(d.in.Plants))
	for i := range all {
		all[i] = i
	}
	return all
}

// radius is that of a plant on paper, mm; 0 where its spread is not known.
func (d *planDraw) radius(i int) float64 {
	if r := d.v.sc.mm(d.in.Species[d.in.Plants[i].Species].SpreadM / 2); r > 0 && known(r) {
		return r
	}
	return 0
}

// driftEdge is how far the outline of a drift stands off its plants, mm.
const driftEdge = 0.35

// outlines draws what lies under the plants of each drift and shows around them.
func (d *planDraw) outlines() {
	d.open("", "outlines of drifts")
	defer d.end()
	for _, g := range d.drifts {
		if len(g.Members) < 2 {
			continue
		}
		for _, m := range g.Members {
			x, y := d.v.at(d.in.Plants[m].At)
			d.circle(x, y, d.radius(m), stroke(ink, 2*driftEdge))
		}
		d.bands(g, ink, driftEdge)
		d.bands(g, d.tints[g.Species], 0)
	}
}

// bands join the plants of a drift.
func (d *planDraw) bands(g Drift, colour string, more float64) {
	look := stroke(colour, 0.8*d.radius(g.Members[0])+2*more)
	for _, l := range g.Links {
		x1, y1 := d.v.at(d.in.Plants[l[0]].At)
		x2, y2 := d.v.at(d.in.Plants[l[1]].At)
		d.line(x1, y1, x2, y2, look)
	}
}

// circles draws plants at their mature spread.
func (d *planDraw) circles(name, look string, plants []int) {
	d.open(look, name)
	defer d.end()
	for _, i := range plants {
		p := d.in.Plants[i]
		x, y := d.v.at(p.At)
		r, look := d.radius(i), framed(d.tints[p.Species], ink, 0.14)
		if r == 0 {
			r, look = 0.5, filled(ink)
		}
		d.circle(x, y, r, look)
		d.places.discs.add(disc{x, y, r, p.Species})
	}
}

// insides writes stakes into circles and returns of which species they do not fit.
func (d *planDraw) insides(order []int) []bool {
	apart := make([]bool, len(d.in.Species))
	for _, i := range order {
		apart[d.in.Plants[i].Species] = apart[d.in.Plants[i].Species] || !d.roomInside(i)
	}
	for _, i := range order {
		if !apart[d.in.Plants[i].Species] {
			x, y := d.v.at(d.in.Plants[i].At)
			d.places.take(d.text(x, y+d.sink(i), d.inside(i), lettering{size: small, anchor: "middle"}))
		}
	}
	return apart
}

// inside is what would stand in a circle.
func (d *planDraw) inside(i int) string {
	p := d.in.Plants[i]
	return clean(cmp.Or(p.Stake, d.in.Species[p.Species].Key))
}

// withFigure is the least radius, mm, that has room for a figure above a stake.
const withFigure = 3.6

// sink is how far the foot of letters in a circle lies below its middle, mm.
func (d *planDraw) sink(i int) float64 {
	if d.radius(i) >= withFigure {
		return 1.9
	}
	return 1.05
}

func (d *planDraw) roomInside(i int) bool {
	x, y := d.v.at(d.in.Plants[i].At)
	words := d.inside(i)
	b := lettering{size: small, anchor: "middle"}.box(x, y+d.sink(i), words)
	low := math.Max(0.36*small, d.sink(i)) // the farther edge of the letters from the middle
	return words != "" && math.Hypot((b.x1-b.x0)/2, low) <= 0.94*d.radius(i) && d.places.free(b)
}

// figures shows growth forms: above the stake, or in the middle where none is written.
func (d *planDraw) figures(order []int, apart []bool) {
	d.open("", "growth forms")
	defer d.end()
	least := 0.9 // mm of radius; on a map the figures of small plants would run together
	if len(d.in.Plants) >= crowd {
		least = 1.5
	}
	for _, i := range order {
		p, r := d.in.Plants[i], d.radius(i)
		x, y := d.v.at(p.At)
		switch {
		case apart[p.Species] && r >= least:
			size := math.Min(1.15*r, 3.6)
			d.figure(p.Species, x, y+size/2, size)
		case !apart[p.Species] && r >= withFigure:
			d.figure(p.Species, x, y-0.75, math.Min(0.7*r, 3.2))
		}
	}
}

// figure is the growth form of a species, as wide as high, above (x, y).
func (d *planDraw) figure(species int, x, y, size float64) {
	d.path(figureOf(d.in.Species[species].Form, x, y, size, size), stroke(ink, math.Min(0.25, 0.09*size))+` stroke-linejoin="round"`)
}

// badges marks the plants whose risk is more than is accepted, or not known.
func (d *planDraw) badges() {
	seen := map[Badge]bool{}
	for i, p := range d.in.Plants {
		if p.Badge == Fine {
			continue
		}
		x, y := d.v.at(p.At)
		d.badge(p.Badge, x+0.64*d.radius(i), y-0.64*d.radius(i))
		if !seen[p.Badge] {
			seen[p.Badge] = true
			d.rows = append(d.rows, entry{p.Badge.words(), func(x, y float64) { d.badge(p.Badge, x+markW/2, y+markH/2) }})
		}
	}
}

// badge is a full triangle for too much risk, an empty square for one not known.
func (d *planDraw) badge(b Badge, x, y float64) {
	const r = 1.1
	if b == Unknown {
		d.rect(box{x - 0.8*r, y - 0.8*r, x + 0.8*r, y + 0.8*r}, framed(paper, ink, 0.35))
		return
	}
	d.path("M"+num(x)+" "+num(y-r)+"L"+num(x+r)+" "+num(y+0.8*r)+"L"+num(x-r)+" "+num(y+0.8*r)+"Z", framed(ink, paper, 0.25))
}

// crowd is from how many plants on a plan is a map: of a kind that has its label, ones and
// twos elsewhere go by their colour.
const crowd = 300

// driftLabels names each drift of the species whose stakes do not fit; the others need
// its letter.
func (d *planDraw) driftLabels(apart []bool) {
	var todo []Drift
	for _, g := range d.drifts {
		if apart[g.Species] || g.Letter != "" {
			todo = append(todo, g)
		}
	}
	sort.SliceStable(todo, func(a, b int) bool { return len(todo[a].Members) > len(todo[b].Members) })
	far := d.places.reach
	named := map[int]bool{}
	for _, g := range todo {
		if len(d.in.Plants) < crowd || len(g.Members) > 2 || !named[g.Species] {
			named[g.Species] = d.driftLabel(g, apart[g.Species]) || named[g.Species]
		}
	}
	d.places.reach = far
	words := ": a drift, three or more of a kind set out together"
	if len(d.in.Plants) >= crowd {
		words += "; smaller groups go by their colour"
	}
	for _, g := range d.drifts {
		if g.Letter != "" {
			d.rows = append(d.rows, entry{g.Letter + words, func(x, y float64) {
				d.text(x+markW/2, y+2.7, g.Letter, lettering{size: small, anchor: "middle", bold: true})
			}})
			return
		}
	}
}

func (d *planDraw) driftLabel(g Drift, apart bool) bool {
	sp := d.in.Species[g.Species]
	words := DriftWords(d.in.Units.length, sp, g.Letter, 1)
	var anchors [][2]float64
	var cx, cy float64
	for _, m := range g.Members {
		a := d.v.pt(d.in.Plants[m].At)
		cx, cy = cx+a[0], cy+a[1]
		anchors = append(anchors, a)
	}
	n := float64(len(g.Members))
	cx, cy = cx/n, cy/n
	sort.SliceStable(anchors, func(i, j int) bool {
		return math.Hypot(anchors[i][0]-cx, anchors[i][1]-cy) < math.Hypot(anchors[j][0]-cx, anchors[j][1]-cy)-1e-9
	})
	near := math.Max(1.2, d.radius(g.Members[0]))
	l := lettering{size: small}
	whole := DriftWords(d.in.Units.length, sp, g.Letter, len(g.Members))
	if !apart {
		whole, words = "drift "+g.Letter, g.Letter
	}
	b := l.box(0, 0, whole)
	d.places.reach = 0 // on the drift itself, or not
	if own := d.own(g, anchors, b.x1-b.x0, b.y1-b.y0); len(own) > 0 && d.label(d.places, whole, l, g.Species, near, own...) {
		return true
	}
	d.places.reach = 24 // a longer leader would help nobody
	if !d.label(d.places, words, l, g.Species, near, anchors...) {
		d.led++
		return false
	}
	return true
}

// DriftWords label a drift: its letter, how many plants of what, and how far apart.
func DriftWords(length func(m float64) string, sp Species, letter string, n int) string {
	words := cmp.Or(clean(sp.Key), fit(sp.Name, small, 20))
	if n > 1 {
		words = figure(float64(n), 0) + " " + words
	}
	if n > 1 && sp.SpreadM > 0 && known(sp.SpreadM) {
		words += ", " + length(sp.SpreadM)
	}
	if letter != "" {
		words = letter + ": " + words
	}
	return words
}

// own are the places where a label of w by h mm lies on its drift, mostly on its plants.
func (d *planDraw) own(g Drift, anchors [][2]float64, w, h float64) [][2]float64 {
	ground := emptyBox()
	for _, m := range g.Members {
		x, y := d.v.at(d.in.Plants[m].At)
		ground = ground.with(x-d.radius(m), y-d.radius(m)).with(x+d.radius(m), y+d.radius(m))
	}
	var out [][2]float64
	for _, a := range anchors {
		b := box{a[0] - w/2, a[1] - h/2, a[0] + w/2, a[1] + h/2}
		if ground.grown(0.5).holds(b) && d.places.discs.foreign(b, g.Species) < 0.3*w*h {
			out = append(out, a)
		}
	}
	return out
}

// plantTable is the legend of what stands in the plan, with the labels of the plan.
func (d *planDraw) plantTable(y float64) float64 {
	d.smallHead(margin, y, "Plants")
	if len(d.in.Plants) == 0 {
		d.text(margin+18, y, "None placed yet.", lettering{size: small, colour: soft})
		return y + 1
	}
	var rows []row
	for i, n := range d.counts() {
		if n == 0 {
			continue
		}
		sp, last := d.in.Species[i], figure(float64(n), 0)
		if sp.SpreadM > 0 && known(sp.SpreadM) {
			last += ", " + d.in.Units.length(sp.SpreadM)
		}
		rows = append(rows, row{
			key: sp.Key, name: sp.Name, last: last,
			mark: func(x, y float64) {
				d.circle(x, y, 1.9, framed(d.tints[i], ink, 0.14))
				d.figure(i, x, y+1.3, 2.6)
			},
		})
	}
	sort.SliceStable(rows, func(a, b int) bool { return rows[a].key < rows[b].key })
	head := plural(len(d.in.Plants), "plant", "plants") + " of " + plural(len(rows), "kind", "kinds") + ", at their mature spread."
	d.text(margin+18, y, head, lettering{size: small, colour: soft})
	y = d.table(y+3, rows, "Count, apart")
	return d.forms(y + 3)
}

// forms says which figure is which growth form, from y down, and returns where it ends.
func (d *planDraw) forms(y float64) float64 {
	shown := map[string]bool{}
	for _, p := range d.in.Plants {
		shown[formWord(d.in.Species[p.Species].Form)] = true
	}
	x := margin + 2.6
	for _, f := range formOrder() {
		if !shown[f] {
			continue
		}
		w := textWidth(f, small)
		if x+w+5 > pageW-margin {
			x, y = margin+2.6, y+4.6
		}
		d.path(figureOf(f, x, y+1.3, 3, 3), stroke(ink, 0.22)+` stroke-linejoin="round"`)
		d.text(x+3, y+1, f, lettering{size: small, colour: soft})
		x += w + 9
	}
	return y + 1.6
}
