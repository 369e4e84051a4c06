package draw

import "math"

// Line styles of contours: spill level, between, foot of the slope.
func contourLook(i, n int) string {
	switch i {
	case 0:
		return stroke(ink, 0.3, 3, 0.9)
	case n - 1:
		return stroke(ink, 0.22)
	}
	return stroke(soft, 0.2, 0.4, 0.9)
}

// ground draws the zones, outermost first, and the contours over them.
func (d *planDraw) ground() {
	bed := d.in.Bed
	rim, slope, bottom := d.define(zoneWash("rim")), d.define(zoneWash("slope")), d.define(zoneWash("bottom"))
	levels := bed.contourLevels(d.in.Units)
	cell := math.Max(0.7*d.v.sc.ratio/1000, math.Max(d.bedBox.x1-d.bedBox.x0, d.bedBox.y1-d.bedBox.y0)*d.v.sc.ratio/1000/220)
	tol := 0.03 * d.v.sc.ratio / 1000
	ground := newSurvey(bed.Outline, bed.Height, cell)
	paths := make([]string, len(levels))
	for i, l := range levels {
		loops := ground.contours(l.mm)
		for k := range loops {
			loops[k] = thin(loops[k], tol)
		}
		paths[i] = d.v.loops(loops)
	}
	edge := d.v.outline(bed.Outline, true)
	d.open("", "the bed")
	d.path(edge, rim)
	if n := len(paths); n > 0 {
		if paths[0] != "" {
			d.path(paths[0], slope+` fill-rule="evenodd"`)
		}
		if paths[n-1] != "" {
			d.path(paths[n-1], bottom+` fill-rule="evenodd"`)
		}
		for i, p := range paths {
			if p != "" {
				d.path(p, contourLook(i, n))
			}
		}
	}
	d.path(edge, stroke(ink, 0.55)+` stroke-linejoin="round"`)
	d.end()
	d.groundLegend(levels, map[string]string{"rim": rim, "slope": slope, "bottom": bottom})
}

// gridStep is the least step of a grid, m with its words, whose lines lie 3 mm or more
// apart on paper: 1 ft or 25 cm, and on the plan of a large bed more.
func gridStep(sc scale, metric bool) (m float64, words string) {
	unit, name, steps := mPerFt, "ft", []float64{1, 5, 10, 50, 100, 500}
	if metric {
		unit, name, steps = 1, "m", []float64{0.25, 1, 5, 10, 50, 100}
	}
	for _, n := range steps {
		if m, words = n*unit, figure(n, 2)+" "+name; sc.mm(m) >= 3 {
			break
		}
	}
	if metric && m < 1 {
		words = figure(100*m, 0) + " cm"
	}
	return m, words
}

// grid draws lines to measure by, from the corner that all lengths are taken from.
func (d *planDraw) grid() {
	m, words := gridStep(d.v.sc, d.in.Units.Metric)
	step, look := d.v.sc.mm(m), stroke(pencil, 0.1)
	d.open("", "grid of "+words)
	for x := d.frame.x0 + math.Mod(d.v.x0-d.frame.x0, step); x < d.frame.x1; x += step {
		d.line(x, d.frame.y0, x, d.frame.y1, look)
	}
	for y := d.frame.y0 + math.Mod(d.v.y0-d.frame.y0, step); y < d.frame.y1; y += step {
		d.line(d.frame.x0, y, d.frame.x1, y, look)
	}
	d.end()
	d.rows = append(d.rows, d.sample("grid: "+words, look))
}

func (d *planDraw) groundLegend(levels []level, looks map[string]string) {
	u := d.in.Units
	zones := d.in.Zones
	if len(zones) == 0 {
		zones = []Zone{{"rim", d.in.Bed.RimMM, 0}, {"slope", 0, d.in.Bed.BottomMM}, {"bottom", d.in.Bed.BottomMM, d.in.Bed.BottomMM}}
	}
	for _, z := range zones {
		words := z.Name + ": " + u.aboveSpill(z.TopMM) + " down to " + u.aboveSpill(z.FootMM)
		switch {
		case math.Abs(z.TopMM-z.FootMM) < 0.5:
			words = z.Name + ": " + u.aboveSpill(z.TopMM)
		case math.Abs(z.FootMM) < 0.5:
			words = z.Name + ": down to the spill level from " + u.depth(z.TopMM) + " above"
		case math.Abs(z.TopMM) < 0.5:
			words = z.Name + ": spill level down to " + u.depth(-z.FootMM) + " below"
		}
		if look, ok := looks[z.Name]; ok {
			d.rows = append(d.rows, d.swatch(words, look))
		}
	}
	for i, l := range levels {
		if l.words != "" {
			d.rows = append(d.rows, d.sample(l.words, contourLook(i, len(levels))))
		}
	}
}

// surroundings draws what stands near the bed.
func (d *planDraw) surroundings() {
	seen := map[string]bool{}
	for _, o := range d.in.Obstacles {
		d.open("", o.Name)
		look := d.obstacle(o)
		d.end()
		if o.Name != "" && d.shows(o.bounds()) {
			d.names = append(d.names, tag{fit(o.Name, small, 45), o.middle(d.v, d.frame)})
		}
		kind := obstacleWord(o.Kind)
		if !seen[kind] {
			seen[kind] = true
			d.rows = append(d.rows, look)
		}
	}
}

// shows reports whether enough of a part of the ground is on the sheet to be named.
func (d *planDraw) shows(b box) bool {
	shown := d.v.box(b)
	shown.x1, shown.y1 = shown.x1+0.01, shown.y1+0.01
	return d.frame.grown(-3).meets(shown)
}

// tag is words that belong to a place.
type tag struct {
	words string
	at    [2]float64
}

func obstacleWord(kind string) string {
	switch kind {
	case "crown":
		return "tree crown"
	case "fence":
		return "fence"
	}
	return "house or wall"
}

func (d *planDraw) obstacle(o Obstacle) entry {
	word := obstacleWord(o.Kind)

	switch {
	case o.Kind == "crown" && o.RadiusM > 0:
		x, y := d.v.at(o.At)
		path := crown(x, y, d.v.sc.mm(o.RadiusM))
		d.path(path, stroke(soft, 0.25))
		d.circle(x, y, 0.7, stroke(soft, 0.25))
		return entry{word, func(x, y float64) { d.path(crown(x+markW/2, y+markH/2, markH/2), stroke(soft, 0.25)) }}
	case o.Kind == "fence":
		look := stroke(ink, 0.35)
		posts := ` stroke-dasharray="4 16" stroke-linecap="butt"`
		d.path(d.v.outline(o.Corners, false), look)
		d.path(d.v.outline(o.Corners, false), stroke(ink, 1.1)+posts)
		return entry{word, func(x, y float64) {
			d.line(x, y+markH/2, x+markW, y+markH/2, look)
			d.line(x, y+markH/2, x+markW, y+markH/2, stroke(ink, 1.1)+posts)
		}}
	case o.RadiusM > 0:
		look := d.define(otherWash("wall")) + ` stroke="` + ink + `" stroke-width="4"`
		x, y := d.v.at(o.At)
		d.circle(x, y, d.v.sc.mm(o.RadiusM), look)
		return d.swatch(word, d.define(otherWash("wall")))
	}
	d.path(d.v.outline(o.Corners, true), d.define(otherWash("wall"))+` stroke="`+ink+`" stroke-width="4"`)
	return d.swatch(word, d.define(otherWash("wall")))
}

// crown is a scalloped circle, bulges outward, that stays inside radius r.
func crown(x, y, r float64) string {
	n := int(math.Max(9, math.Min(40, math.Round(r*1.6))))
	base := r * 0.97
	path := ""
	for i := range n + 1 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		px, py := num(x+base*c), num(y+base*s)
		if i == 0 {
			path = "M" + px + " " + py
			continue
		}
		bulge := num(base * math.Sin(math.Pi/float64(n)) * 1.25)
		path += "A" + bulge + " " + bulge + " 0 0 1 " + px + " " + py
	}
	return path + "Z"
}

// keepOuts draws where nothing is planted.
func (d *planDraw) keepOuts() {
	if len(d.in.KeepOuts) == 0 {
		return
	}
	look := d.define(otherWash("keepout"))
	var names []string
	seen := map[string]bool{}
	for _, k := range d.in.KeepOuts {
		d.open("", k.Name)
		full := look + ` stroke="` + ink + `" stroke-width="3"`
		if k.RadiusM > 0 {
			x, y := d.v.at(k.At)
			d.circle(x, y, d.v.sc.mm(k.RadiusM), full)
		} else {
			d.path(d.v.outline(k.Corners, true), full)
		}
		d.end()
		if k.Name != "" && !seen[k.Name] {
			seen[k.Name] = true
			names = append(names, k.Name)
		}
	}
	words := "kept free"
	if len(names) > 0 {
		words += ": " + list(names)
	}
	d.rows = append(d.rows, d.swatch(words, look))
}
