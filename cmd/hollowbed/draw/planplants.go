package draw

import (
	"math"
	"sort"
)

// plants draws every plant as a circle at its mature spread, widest first, and
// says what stands where: with the stake inside the circle if that fits for
// the species, else with its key, else with one label for each group, whose
// members are joined by a line. A plan of moves shows what stays pale and
// without words.
func (d *planDraw) plants() {
	sp := d.in.Species
	order := d.everyPlant()
	spread := func(i int) float64 { return sp[d.in.Plants[i].Species].SpreadM }
	sort.SliceStable(order, func(a, b int) bool { return spread(order[a]) > spread(order[b]) })
	if len(d.in.Moves) == 0 {
		d.circles("plants at mature spread", "", order)
		d.groupLabels(d.insides(order))
		return
	}
	touched, rest := d.touched(order)
	d.circles("plants that stay", stays, rest)
	d.circles("plants that move, make room or are replaced", "", touched)
}

// everyPlant is the numbers of all plants.
func (d *planDraw) everyPlant() []int {
	all := make([]int, len(d.in.Plants))
	for i := range all {
		all[i] = i
	}
	return all
}

// circles draws plants at their mature spread.
func (d *planDraw) circles(name, look string, plants []int) {
	d.open(look, name)
	defer d.end()
	for _, i := range plants {
		p := d.in.Plants[i]
		x, y := d.v.at(p.At)
		r := d.v.sc.mm(d.in.Species[p.Species].SpreadM / 2)
		if !(r > 0) || !known(r) {
			r = 0.5
			d.circle(x, y, r, filled(ink))
		} else {
			d.ring(x, y, r, d.in.Species[p.Species].Form)
		}
		d.places.discs.add(disc{x, y, r, p.Species})
	}
}

// insides writes stakes and keys into circles and returns which species need
// labels by group.
func (d *planDraw) insides(order []int) []bool {
	sp := d.in.Species
	apart := make([]bool, len(sp))
	for pass := range 2 { // stakes, then keys
		words := make([][]int, len(sp))
		fits := make([]bool, len(sp))
		for i := range fits {
			fits[i] = true
		}
		for _, i := range order {
			p := d.in.Plants[i]
			if pass == 1 && !apart[p.Species] {
				continue
			}
			words[p.Species] = append(words[p.Species], i)
			fits[p.Species] = fits[p.Species] && d.roomInside(i, pass)
		}
		for s := range sp {
			if len(words[s]) == 0 {
				continue
			}
			apart[s] = !fits[s]
			for _, i := range words[s] {
				if fits[s] {
					x, y := d.v.at(d.in.Plants[i].At)
					d.places.take(d.text(x, y+1.05, d.inside(i, pass), lettering{size: small, anchor: "middle"}))
				}
			}
		}
	}
	return apart
}

// inside is what would stand in a circle.
func (d *planDraw) inside(i, pass int) string {
	p := d.in.Plants[i]
	if pass == 0 && p.Stake != "" {
		return clean(p.Stake)
	}
	return clean(d.in.Species[p.Species].Key)
}

func (d *planDraw) roomInside(i, pass int) bool {
	p := d.in.Plants[i]
	x, y := d.v.at(p.At)
	words := d.inside(i, pass)
	b := lettering{size: small, anchor: "middle"}.box(x, y+1.05, words)
	dia := d.v.sc.mm(d.in.Species[p.Species].SpreadM)
	return words != "" && math.Hypot(b.x1-b.x0, 0.73*small) <= 0.94*dia && d.places.free(b)
}

// groupLabels joins the members of each group by a line and names the group
// once.
func (d *planDraw) groupLabels(apart []bool) {
	var todo []drift
	for _, g := range drifts(d.in.Species, d.in.Plants) {
		if apart[g.species] {
			todo = append(todo, g)
		}
	}
	if len(todo) == 0 {
		return
	}
	d.open(stroke(ink, 0.25), "lines through plants of one group")
	for _, g := range todo {
		for _, l := range g.links {
			x1, y1 := d.v.at(d.in.Plants[l[0]].At)
			x2, y2 := d.v.at(d.in.Plants[l[1]].At)
			d.line(x1, y1, x2, y2, "")
		}
		for _, m := range g.members {
			x, y := d.v.at(d.in.Plants[m].At)
			d.circle(x, y, 0.3, ` fill="`+ink+`" stroke="none"`)
		}
	}
	d.end()
	sort.SliceStable(todo, func(a, b int) bool { return len(todo[a].members) > len(todo[b].members) })
	far := d.places.reach
	d.places.reach = 24 // a longer leader would help nobody
	for _, g := range todo {
		d.groupLabel(g)
	}
	d.places.reach = far
}

func (d *planDraw) groupLabel(g drift) {
	sp := d.in.Species[g.species]
	words := clean(sp.Key)
	if words == "" {
		words = fit(sp.Name, small, 20)
	}
	anchors := make([][2]float64, 0, len(g.members))
	var cx, cy float64
	for _, m := range g.members {
		a := d.v.pt(d.in.Plants[m].At)
		cx, cy = cx+a[0], cy+a[1]
		anchors = append(anchors, a)
	}
	n := float64(len(g.members))
	cx, cy = cx/n, cy/n
	sort.SliceStable(anchors, func(i, j int) bool {
		return math.Hypot(anchors[i][0]-cx, anchors[i][1]-cy) < math.Hypot(anchors[j][0]-cx, anchors[j][1]-cy)-1e-9
	})
	near := math.Max(1.2, d.v.sc.mm(sp.SpreadM)/2)
	if !known(near) {
		near = 1.2
	}
	if !d.label(d.places, words, lettering{size: small}, g.species, near, anchors...) {
		d.led++
	}
}

// foot writes what stands under the plan and returns where it ends.
func (d *planDraw) foot(y float64) float64 {
	d.scaleBar(margin+3, y+1, 62, d.v.sc, d.in.Units.Metric)
	right := lettering{size: small, anchor: "end", colour: soft}
	d.text(pageW-margin, y+2.4, "Lengths are level, not along the slope.", right)
	if d.in.A != nil && d.in.B != nil {
		d.text(pageW-margin, y+6, "Distances of every plant from A and B: see the setting-out table.", right)
	}
	y += 13
	d.smallHead(margin, y, "Ground and marks")
	y = d.entries(y+2.6, d.rows, 3) + 3.6
	d.smallHead(margin, y, "Plants")
	if len(d.in.Plants) == 0 {
		d.text(margin+18, y, "None placed yet.", lettering{size: small, colour: soft})
		return y + 1
	}
	return d.plantTable(y + 2)
}

// plantTable lists the species that stand in the plan.
func (d *planDraw) plantTable(y float64) float64 {
	var rows []row
	kinds := 0
	forms := map[string]bool{}
	for i, n := range d.counts() {
		if n == 0 {
			continue
		}
		kinds++
		sp := d.in.Species[i]
		forms[formWord(sp.Form)] = true
		rows = append(rows, row{
			key: sp.Key, name: sp.Name, last: figure(float64(n), 0),
			mark: func(x, y float64) { d.ring(x, y, 1.6, sp.Form) },
		})
	}
	sort.SliceStable(rows, func(a, b int) bool { return rows[a].key < rows[b].key })
	head := plural(len(d.in.Plants), "plant", "plants") + " of " + plural(kinds, "kind", "kinds") +
		". Circles show the mature spread; the edge tells the growth form."
	d.text(margin+18, y-2, head, lettering{size: small, colour: soft})
	y = d.table(y+1, rows, "Count")
	x := margin + 2.6
	y += 3
	for _, f := range formOrder() {
		if !forms[f] {
			continue
		}
		w := textWidth(f, small)
		if x+w+5 > pageW-margin {
			x, y = margin+2.6, y+4.6
		}
		d.ring(x, y, 1.6, f)
		d.text(x+3, y+1, f, lettering{size: small, colour: soft})
		x += w + 9
	}
	if d.led > 0 {
		y += 5
		d.text(margin, y+1, plural(d.led, "label", "labels")+" found no room in the plan; the setting-out table has every plant.", lettering{size: small})
	}
	return y + 1.6
}
