package draw

import (
	"math"
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
	var out [][2]int
	start := -1
	for i, v := range d.in.Days {
		switch ok := known(of(v)); {
		case ok && start < 0:
			start = i
		case !ok && start >= 0:
			out = append(out, [2]int{start, i - 1})
			start = -1
		}
	}
	if start >= 0 {
		out = append(out, [2]int{start, len(d.in.Days) - 1})
	}
	return out
}

// limits draws a line for each value that plants bear, with their names at the
// right. Plants of the same value share a line. Of many, the five that bear
// least are shown: those of the least values or of the greatest.
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
		groups = append(groups[:at], append([]group{{v, []string{clean(l.Name)}}}, groups[at:]...)...)
	}
	const most = 5
	more := 0
	if more = max(0, len(groups)-most); more > 0 && leastFirst {
		groups = groups[more:]
	} else if more > 0 {
		groups = groups[:most]
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

// spells sets the longest spells beside what each plant bears.
func (d *yearDraw) spells(y float64) float64 {
	a := d.spellBars(margin, y, "Wet spells", d.in.Wet, 24, hours, func(l Limit) float64 { return l.WetH })
	b := d.spellBars(pageW/2+3, y, "Dry spells", d.in.Dry, 1, days, func(l Limit) float64 { return l.DryD })
	return math.Max(a, b)
}

// spellBars draws the longest spell and the limits as bars of one scale, least
// limit first. perDay turns days into the unit of the limits.
func (d *yearDraw) spellBars(x, y float64, name string, s *Spell, perDay float64, show func(float64) string, of func(Limit) float64) float64 {
	var have []Limit
	for _, l := range d.in.Limits {
		if v := of(l); known(v) && v > 0 {
			have = append(have, l)
		}
	}
	sort.SliceStable(have, func(i, j int) bool { return of(have[i]) < of(have[j]) })
	found := 0.0
	if s != nil && known(s.Days) {
		found = math.Max(0, s.Days*perDay)
	}
	if len(have) == 0 && found == 0 {
		return y
	}
	const most, nameW, barW = 10, 36.0, 19.0
	top := found
	for i, l := range have {
		if i < most {
			top = math.Max(top, of(l))
		}
	}
	d.smallHead(x, y+3, name+" and what plants bear")
	at := y + 5.5
	mark := x + nameW + barW*found/top
	bar := func(words string, v float64, look, value string) {
		d.text(x, at+2.9, fit(words, small, nameW-1.5), lettering{size: small})
		d.rect(box{x + nameW, at + 0.5, x + nameW + math.Max(0.2, barW*v/top), at + 3.5}, look)
		d.text(x+nameW+barW+1.5, at+2.9, value, lettering{size: small})
		at += 4.7
	}
	if s == nil {
		d.text(x, at+2.9, "no spell this year", lettering{size: small, colour: soft})
		at += 4.7
	} else {
		bar("longest spell", found, d.define(otherWash("wall"))+` stroke="`+ink+`" stroke-width="2"`, show(found))
	}
	from := at
	for i, l := range have {
		if i >= most {
			d.text(x, at+2.9, figure(float64(len(have)-most), 0)+" more bear longer", lettering{size: small, colour: soft})
			at += 4.7
			break
		}
		value := show(of(l))
		if of(l) < found {
			value += ", passed"
		}
		bar(l.Name, of(l), framed(paper, ink, 0.22), value)
	}
	if s != nil && found > 0 && at > from {
		d.line(mark, from-1, mark, at, stroke(ink, 0.25, 0.8, 0.8))
	}
	return at
}
