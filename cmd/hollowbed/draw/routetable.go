package draw

import (
	"math"
	"sort"
)

// keyStation is a station that the table under the drawing has a column for.
type keyStation struct {
	s    float64
	name string
	rank int // the lower, the sooner it gets a column
}

// levelRow is a row of that table.
type levelRow struct {
	name  string
	value func(s float64) float64
}

// rows are what the way has levels of, from above.
func (in RouteIn) rows() []levelRow {
	names := map[int]string{ofGround: "old ground", ofTop: "finished top", ofCrown: "pipe crown", ofInvert: "pipe invert", ofDug: "trench bottom"}
	switch in.Kind {
	case "swale":
		names = map[int]string{ofGround: "old ground", ofTop: "shoulders", ofInvert: "gravel top", ofDug: "dug bottom"}
	case "surface":
		names = map[int]string{ofGround: "ground", ofInvert: "extension"}
	}
	var out []levelRow
	for of := ofGround; of <= ofDug; of++ {
		if names[of] != "" {
			out = append(out, levelRow{names[of], func(s float64) float64 {
				if of == ofGround && s > in.BedEdgeM+1e-9 {
					return math.NaN() // the bed is there
				}
				return in.at(s, of)
			}})
		}
	}
	if in.Kind == "pipe" {
		out = append(out, levelRow{"cover", func(s float64) float64 { return in.at(s, ofTop) - in.at(s, ofCrown) }})
	}
	return out
}

// keyStations lists the stations to set out by, in their order; of several at
// one place the one that matters most.
func (d *routeDraw) keyStations() []keyStation {
	in := d.in
	all := []keyStation{{0, "downspout", 0}, {in.BedEdgeM, "bed edge", 1}, {in.OutletM, "outlet", 2}, {in.ReachM, "liner to", 3}}
	switch in.Kind {
	case "pipe":
		all[3] = keyStation{in.DaylightM, "daylight", 3}
		all = append(all, keyStation{in.LeastCoverAtM, "least cover", 4})
	case "surface":
		all[3].name = "extended to"
	}
	for i, s := range in.MeasuredM {
		all = append(all, keyStation{s, "", 5 + i%2}) // every other one goes first if room is short
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].rank < all[j].rank })
	var out []keyStation
	for _, k := range all {
		fits := k.s >= 0 && k.s <= d.endM
		for _, o := range out {
			fits = fits && math.Abs(o.s-k.s) > 0.002*d.endM
		}
		if fits {
			out = append(out, k)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].s < out[j].s })
	return out
}

// cells are the words of a column, the station and its name first.
func (d *routeDraw) cells(k keyStation) []string {
	u := d.in.Units
	out := []string{k.name, u.length(k.s)}
	if k.s == 0 {
		out[1] = "0"
	}
	for _, r := range d.in.rows() {
		words := "-"
		if v := r.value(k.s); known(v) {
			words = u.signedDepth(v)
		}
		out = append(out, words)
	}
	return out
}

// levelTable writes the levels at the key stations under the drawing, each
// column led to its station, and returns where it ends.
func (d *routeDraw) levelTable(y float64) float64 {
	names := []string{"", "from the wall"}
	for _, r := range d.in.rows() {
		names = append(names, r.name)
	}
	keys := d.keyStations()
	from, to := margin+textWidth("trench bottom", small)+2, pageW-margin
	columns, widths := d.columns(keys, to-from)
	var xs []float64
	for _, k := range columns {
		xs = append(xs, d.x(k.s))
	}
	centres := spread(xs, widths, from, to)
	d.open("", "levels at the stations, from the spill level")
	for i := 1; i < len(names); i++ {
		d.text(margin, y+2.7+lineStep*float64(i), names[i], lettering{size: small, colour: soft})
	}
	for c, k := range columns {
		d.path("M"+num(xs[c])+" "+num(d.base-1.2)+"V"+num(d.base+1)+"L"+num(centres[c])+" "+num(y-0.6), stroke(pencil, 0.2))
		for i, words := range d.cells(k) {
			if words != "" { // bold needs an eighth more room
				words = fit(words, small, (widths[c]-columnGap)/1.13)
				d.text(centres[c], y+2.7+lineStep*float64(i), words, lettering{size: small, anchor: "middle", bold: i == 1})
			}
		}
	}
	d.end()
	for i := 1; i < len(names); i++ {
		at := y + 3.9 + lineStep*float64(i)
		d.line(margin, at, to, at, stroke(faint, 0.15))
	}
	y += lineStep * float64(len(names))
	if len(columns) < len(keys) {
		y += 3.4
		d.text(margin, y, plural(len(keys)-len(columns), "station more is", "stations more are")+" left out for want of room.", lettering{size: small, colour: soft})
	}
	return y
}

// columnGap is the room between columns, mm.
const columnGap = 2.0

// columns drops stations until the rest fits into room.
func (d *routeDraw) columns(keys []keyStation, room float64) ([]keyStation, []float64) {
	keys = append([]keyStation{}, keys...)
	for {
		var widths []float64
		sum, worst := 0.0, 0
		for i, k := range keys {
			w := 0.0
			for _, words := range d.cells(k) {
				b := lettering{size: small, bold: true}.box(0, 0, clean(words))
				w = math.Max(w, b.x1-b.x0)
			}
			w = math.Min(w+1e-6, 30) + columnGap
			widths = append(widths, w)
			sum += w
			if k.rank >= keys[worst].rank {
				worst = i
			}
		}
		if sum <= room || len(keys) <= 2 {
			return keys, widths
		}
		keys = append(keys[:worst], keys[worst+1:]...)
	}
}
