package draw

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// SeasonsIn is a bed at several times of the year, on one strip.
type SeasonsIn struct {
	Sheet
	Outline []Point
	Species []Species
	Plants  []Plant
	Views   []SeasonView
}

// SeasonView is what every species looks like at a time of the year.
type SeasonView struct {
	Name  string // "Spring, Mar to May"
	Looks []Look // by species
}

// Look is how a species looks at a time of the year.
type Look struct {
	Flowers bool
	Colours []string // of its flowers; empty where not known
	Leaf    Leaf
}

// Leaf says whether a plant is green.
type Leaf int

const (
	Green Leaf = iota
	Bare       // without leaves, or nothing above the ground
	Unsure
)

// Words say what a look shows.
func (l Look) Words() string {
	switch {
	case l.Flowers:
		return strings.TrimSpace("in flower " + list(l.Colours))
	case l.Leaf == Green:
		return "green"
	case l.Leaf == Bare:
		return "bare or cut back"
	}
	return "leaves not known"
}

// Tone is the fill of a look without its pattern.
func (l Look) Tone() string {
	switch {
	case l.Flowers:
		return bloomWash(l.colour()).tone
	case l.Leaf == Green:
		return leafTone
	}
	return "#ffffff"
}

func (l Look) colour() string {
	if len(l.Colours) == 0 {
		return ""
	}
	return l.Colours[0]
}

// leafTone is that of leaves, apart in grey from every ring and dot on it.
const leafTone = "#b9cfa9"

const (
	stripW   = 62.0 // of a bed that is not long, mm
	stripBed = 33.0 // the most height that a bed gets, mm
	longBed  = 2.6  // length to width from which a bed gets the whole page
)

type seasonsDraw struct {
	*svg
	in   SeasonsIn
	wide float64
}

// Seasons draws the bed small, once for each view: a kind in flower has a thick ring, a
// dot and its colour, one in leaf is grey-green, one that is bare has a dotted ring.
func Seasons(in SeasonsIn) Drawing {
	b := bounds(in.Outline)
	for _, p := range in.Plants { // what grows past the edge shows
		if r := in.Species[p.Species].SpreadM / 2; r > 0 && known(r) {
			b = b.with(p.At.X-r, p.At.Y-r).with(p.At.X+r, p.At.Y+r)
		}
	}
	long, high := b.x1-b.x0, b.y1-b.y0
	wide := stripW
	if long > longBed*high {
		wide = pageW
	}
	title := cmp.Or(strings.TrimSpace(clean(in.Title)), "Through the year")
	d := &seasonsDraw{&svg{prefix: idPrefix(in.Prefix, "seasons"), width: wide}, in, wide}
	d.smallHead(margin, 6, title)
	y := d.legend(9)
	perM := math.Min((wide-2*margin)/long, stripBed/high)
	for _, view := range in.Views {
		y = d.view(view, b, perM, y)
	}
	return d.picture(y+1, title, d.describe())
}

// legend says what ring, dot and dots mean, from y down, and returns where it ends.
func (d *seasonsDraw) legend(y float64) float64 {
	x := margin
	for _, l := range []Look{{Flowers: true}, {Leaf: Green}, {Leaf: Bare}, {Leaf: Unsure}} {
		if l.Leaf == Unsure && !d.anyUnsure() {
			break
		}
		words := strings.TrimSuffix(l.Words(), " or cut back")
		if x+4.4+textWidth(words, small) > d.wide {
			x, y = margin, y+4.4
		}
		d.mark(x+1.8, y+1.6, 1.6, l, ` fill="none"`)
		d.text(x+4.2, y+2.6, words, lettering{size: small, colour: soft})
		x += 6.4 + textWidth(words, small)
	}
	return y + 6
}

// anyUnsure says whether a question mark stands anywhere.
func (d *seasonsDraw) anyUnsure() bool {
	return slices.ContainsFunc(d.in.Views, func(v SeasonView) bool {
		return slices.ContainsFunc(v.Looks, func(l Look) bool { return !l.Flowers && l.Leaf == Unsure })
	})
}

// view draws one time of the year from y down and returns where it ends.
func (d *seasonsDraw) view(at SeasonView, b box, perM, y float64) float64 {
	d.open("", at.Name+": "+d.flowering(at, false))
	defer d.end()
	d.text(margin, y+2.6, at.Name, lettering{size: small, bold: true})
	y += 4.4
	wide, high := (b.x1-b.x0)*perM, (b.y1-b.y0)*perM
	v := view{sc: scale{ratio: 1000 / perM}, x0: margin + (d.wide-2*margin-wide)/2 - b.x0*perM, y0: y + high + b.y0*perM}
	d.path(v.outline(d.in.Outline, true), framed(paper, ink, 0.3))
	spread := func(p Plant) float64 {
		if m := d.in.Species[p.Species].SpreadM; known(m) {
			return m
		}
		return 0
	}
	for _, p := range slices.SortedStableFunc(slices.Values(d.in.Plants), func(a, b Plant) int { return cmp.Compare(spread(b), spread(a)) }) {
		x, fy := v.at(p.At)
		look := at.Looks[p.Species]
		r := math.Max(0.4, spread(p)/2*perM)
		fill := filled(look.Tone())
		if look.Flowers && r >= 1 && len(d.in.Plants) < crowd { // no pattern is seen in less, and 300 make a print of 37 MB
			fill = d.define(bloomWash(look.colour()))
		}
		d.mark(x, fy, r, look, fill)
	}
	y += high + 1
	for _, line := range wrap(d.flowering(at, true), small, d.wide-2*margin, 6) {
		d.text(margin, y+2.6, line, lettering{size: small, colour: soft})
		y += 3.6
	}
	return y + 1.6
}

// mark is one plant by its look.
func (d *seasonsDraw) mark(x, y, r float64, l Look, fill string) {
	switch {
	case l.Flowers:
		d.circle(x, y, r-0.1, fill+` stroke="`+ink+`" stroke-width="`+num(0.45)+`"`)
		d.circle(x, y, math.Min(0.45, 0.4*r), filled(ink))
	case l.Leaf == Green:
		d.circle(x, y, r, framed(l.Tone(), pencil, 0.12))
	default:
		d.circle(x, y, r-0.05, ` fill="#ffffff"`+strings.TrimPrefix(stroke(pencil, 0.25, 0.35, 0.5), ` fill="none"`))
	}
	if !l.Flowers && l.Leaf == Unsure && r > 1.2 {
		d.text(x, y+1, "?", lettering{size: small, anchor: "middle"})
	}
}

// flowering lists the kinds in flower, by key or by name.
func (d *seasonsDraw) flowering(view SeasonView, keys bool) string {
	var out []string
	shown := map[int]bool{}
	for _, p := range d.in.Plants {
		if l := view.Looks[p.Species]; l.Flowers && !shown[p.Species] {
			shown[p.Species] = true
			name := d.in.Species[p.Species].Name
			if keys {
				name = cmp.Or(d.in.Species[p.Species].Key, name)
			}
			out = append(out, strings.TrimSpace(name+" "+l.colour()))
		}
	}
	if len(out) == 0 {
		return "nothing in flower"
	}
	return strings.Join(out, ", ")
}

func (d *seasonsDraw) describe() string {
	s := "The bed through the year."
	for _, v := range d.in.Views {
		s += " " + v.Name + ", in flower: " + d.flowering(v, false) + "."
	}
	return s
}
