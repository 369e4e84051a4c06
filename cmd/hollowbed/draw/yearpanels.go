package draw

import (
	"math"
	"slices"
	"sort"
	"strings"
)

func (d *yearDraw) rain(p panel) {
	name, unit := d.depthUnit()
	d.axis(p, "Rain of the day", name, unit)
	var b strings.Builder
	for i, v := range d.in.Days {
		if known(v.RainMM) && v.RainMM > 0 {
			b.WriteString("M" + num(d.x(float64(i)+0.5)) + " " + num(p.foot) + "V" + num(p.y(v.RainMM)))
		}
	}
	if b.Len() > 0 {
		w := (d.x1 - d.x0) / math.Max(1, float64(len(d.in.Days))) * 0.8
		d.open("", "rain of each day")
		d.path(b.String(), stroke("#3f6473", math.Min(w, 1.5)))
		d.end()
	}
}

func (d *yearDraw) pond(p panel) {
	name, unit := d.depthUnit()
	d.axis(p, "Deepest water in the pond", name, unit)
	look := d.define(otherWash("water")) + ` stroke="` + ink + `" stroke-width="1.8" stroke-linejoin="round"`
	d.open("", "pond")
	for _, r := range d.runs(func(v Day) float64 { return v.PondMM }) {
		path := "M" + num(d.x(float64(r[0])+0.5)) + " " + num(p.foot)
		dry := true
		for i := r[0]; i <= r[1]; i++ {
			v := d.in.Days[i].PondMM
			near := i > r[0] && d.in.Days[i-1].PondMM > 0 || i < r[1] && d.in.Days[i+1].PondMM > 0
			if v > 0 || near {
				path += "L" + num(d.x(float64(i)+0.5)) + " " + num(p.y(v))
			}
			dry = dry && !(v > 0)
		}
		if !dry {
			d.path(path+"L"+num(d.x(float64(r[1])+0.5))+" "+num(p.foot)+"Z", look)
		}
	}
	d.end()
	d.limits(p, true, func(l Limit) float64 { return l.PondMM }, d.in.Units.depth)
	d.bracket(p, d.in.Wet, func(s Spell) string { return "longest wet spell, " + hours(s.Days*24) })
}

func (d *yearDraw) soil(p panel) {
	d.axis(p, "Soil water, share of what plants can take up", "%", 0.01)
	d.open("", "soil water")
	for _, r := range d.runs(func(v Day) float64 { return v.Water }) {
		path, cmd := "", "M"
		for i := r[0]; i <= r[1]; i++ {
			path += cmd + num(d.x(float64(i)+0.5)) + " " + num(p.y(d.in.Days[i].Water))
			cmd = "L"
		}
		d.path(path, stroke(ink, 0.35)+` stroke-linejoin="round"`)
	}
	d.end()
	d.limits(p, false, func(l Limit) float64 { return l.Water }, func(v float64) string { return figure(v*100, 0) + " %" })
	d.bracket(p, d.in.Dry, func(s Spell) string { return "longest dry spell, " + days(s.Days) })
}

// runs lists the stretches of days with a value.
func (d *yearDraw) runs(of func(Day) float64) [][2]int {
	return runs(len(d.in.Days), func(i int) bool { return known(of(d.in.Days[i])) })
}

// limits draws a line for each value that plants bear, with their names at the right; of
// many the five that bear least.
func (d *yearDraw) limits(p panel, leastFirst bool, of func(Limit) float64, show func(float64) string) {
	type group struct {
		v     float64
		names []string
	}
	var groups []group
	for _, l := range d.in.Limits {
		v := of(l)
		if !known(v) || !(v > 0) {
			continue
		}
		at := sort.Search(len(groups), func(i int) bool { return groups[i].v <= v })
		if at < len(groups) && show(groups[at].v) == show(v) {
			groups[at].names = append(groups[at].names, clean(l.Name))
			continue
		}
		groups = slices.Insert(groups, at, group{v, []string{clean(l.Name)}})
	}
	const most = 5
	more := max(0, len(groups)-most)
	if leastFirst {
		groups = groups[more:]
	} else {
		groups = groups[:len(groups)-more]
	}
	var ys, highs []float64
	var words [][]string
	room := pageW - margin - d.x1 - 5
	for _, g := range groups {
		w := wrap(show(g.v)+": "+list(g.names), small, room, 2)
		if g.v > p.most {
			w = wrap(show(g.v)+", above the chart: "+list(g.names), small, room, 2)
		}
		words, ys, highs = append(words, w), append(ys, p.y(g.v)), append(highs, 3.5*float64(len(w))+0.5)
	}
	places := spread(ys, highs, p.top-0.5, p.foot+6)
	for i, g := range groups {
		first := places[i] - highs[i]/2 + 1.9
		if g.v <= p.most {
			d.line(d.x0, ys[i], d.x1, ys[i], stroke(ink, 0.28, 1.6, 0.9))
		}
		d.path("M"+num(d.x1)+" "+num(ys[i])+"L"+num(d.x1+3)+" "+num(first), stroke(pencil, 0.2))
		for k, w := range words[i] {
			d.text(d.x1+4, first+1+3.5*float64(k), w, lettering{size: small})
		}
	}
	if more > 0 && len(places) > 0 {
		end := places[len(places)-1] + highs[len(highs)-1]/2
		if end+3.5 < p.foot+7 {
			d.text(d.x1+4, end+3, figure(float64(more), 0)+" bear more", lettering{size: small, colour: soft})
		}
	}
}

// bracket marks a spell over a panel, with its words beside the heading.
func (d *yearDraw) bracket(p panel, s *Spell, words func(Spell) string) {
	if s == nil || !known(s.FromDay) || !known(s.Days) || !(s.Days > 0) {
		return
	}
	a, b := d.x(s.FromDay), d.x(s.FromDay+s.Days)
	y := p.top - 1.3
	d.path("M"+num(a)+" "+num(p.top)+"V"+num(y)+"H"+num(math.Max(b, a+0.3))+"V"+num(p.top), stroke(ink, 0.4))
	pl := newPlacer(box{d.x0, p.top - 6.6, pageW - margin, y - 0.3}, d.texts)
	d.label(pl, words(*s), lettering{size: small}, -2, 3.5, [2]float64{(a + b) / 2, y - 2.2})
}

func (d *yearDraw) legend(y float64) float64 {
	rows := []entry{}
	if len(d.in.Growing) > 0 {
		rows = append(rows, d.swatch("growing season", d.define(otherWash("season"))))
	}
	for _, l := range d.in.Limits {
		if known(l.PondMM) && l.PondMM > 0 || known(l.Water) && l.Water > 0 {
			rows = append(rows, d.sample("deepest pond a plant bears, or soil water below which it suffers", stroke(ink, 0.28, 1.6, 0.9)))
			break
		}
	}
	if d.gaps > 0 {
		rows = append(rows, d.swatch("no record: "+days(float64(d.gaps)), d.gap))
	}
	if len(d.in.Days) == 0 {
		d.text(margin, y, "No days on record.", lettering{size: small, colour: soft})
		return y + 2
	}
	return d.entries(y, rows, 2)
}

// spells sets what each plant met beside what it bears.
func (d *yearDraw) spells(y float64) float64 {
	end := math.Max(
		d.spellBars(margin, y, "Wet spells and what plants tolerate", hours, func(l Limit) [3]float64 { return [3]float64{l.WetH, l.Met.WetH, l.Met.WetMostH} }),
		d.spellBars(pageW/2+3, y, "Dry spells and what plants tolerate", func(v float64) string { return figure(v, 0) + " d" }, func(l Limit) [3]float64 { return [3]float64{l.DryD, l.Met.DryD, l.Met.DryMostD} }))
	if end == y {
		return y
	}
	for _, words := range wrap("White: what a plant tolerates. Dark: what it met here in the year shown, counted as the planting list does: wet by the hour, less in winter; dry as days without rain in midsummer on garden loam. Stroke: its hardest year on record.", small, pageW-2*margin, 3) {
		end += 3.6
		d.text(margin, end, words, lettering{size: small, colour: soft})
	}
	return end
}

// spellBars draws what plants bear, what they met and what they met in their
// hardest year (of gives the three) as bars of one scale, least limit first.
func (d *yearDraw) spellBars(x, y float64, name string, show func(float64) string, of func(Limit) [3]float64) float64 {
	var have []Limit
	for _, l := range d.in.Limits {
		if v := of(l)[0]; known(v) && v > 0 {
			have = append(have, l)
		}
	}
	if len(have) == 0 {
		return y
	}
	sort.SliceStable(have, func(i, j int) bool { return of(have[i])[0] < of(have[j])[0] })
	const most, nameW, barW = 10, 34.0, 18.0
	more := max(0, len(have)-most)
	have = have[:len(have)-more]
	top := 0.0
	for _, l := range have {
		for _, v := range of(l) {
			if known(v) {
				top = math.Max(top, v)
			}
		}
	}
	d.smallHead(x, y+3, name)
	at := y + 5.5
	for _, l := range have {
		d.spellBar(box{x + nameW, at + 0.5, x + nameW + barW, at + 3.5}, top, of(l), show)
		d.text(x, at+2.9, fit(l.Name, small, nameW-1.5), lettering{size: small})
		at += 4.7
	}
	if more > 0 {
		d.text(x, at+2.9, figure(float64(more), 0)+" more bear longer", lettering{size: small, colour: soft})
		at += 4.7
	}
	return at
}

// spellBar is one bar: what is borne, in it what was met, and a stroke for the
// hardest year.
func (d *yearDraw) spellBar(b box, top float64, v [3]float64, show func(float64) string) {
	bears, met, hardest := v[0], v[1], v[2]
	long := func(v float64) float64 { return math.Max(0.2, (b.x1-b.x0)*v/top) }
	d.rect(box{b.x0, b.y0, b.x0 + long(bears), b.y1}, framed(paper, ink, 0.22))
	words := show(bears)
	if known(met) {
		d.rect(box{b.x0, b.y0 + 0.8, b.x0 + long(met), b.y1 - 0.8}, filled(ink))
		words = figure(met, 0) + " of " + words
		if met > bears {
			words += ", passed"
		}
	}
	if known(hardest) {
		at := b.x0 + long(hardest)
		d.line(at, b.y0-0.4, at, b.y1+0.4, stroke(ink, 0.5))
	}
	d.text(b.x1+1.5, b.y1-0.6, words, lettering{size: small})
}
