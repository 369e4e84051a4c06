package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// BloomIn is what the bloom chart shows.
type BloomIn struct {
	Sheet
	Blooms     []Bloom
	FirstMonth int // the chart begins with it; 0 is January
	WantedFrom int // months that shall have bloom; 0: none asked for
	WantedTo   int // may be before WantedFrom
}

// Bloom is when one species blooms.
type Bloom struct {
	Name     string
	From, To int // months 1 to 12, To may be before From; 0: no bloom or not known
	Colours  []string
	Count    int // plants in the bed; 0 is not shown
}

const (
	bloomX = margin + 54
	monthW = 7.2
	bloomH = 5.4
)

// within reports whether month m lies in from to to, over the turn of the year
// if to is before from.
func within(m, from, to int) bool {
	switch {
	case from < 1 || from > 12 || to < 1 || to > 12:
		return false
	case from <= to:
		return m >= from && m <= to
	}
	return m >= from || m <= to
}

func monthName(m int) string { return time.Month(m).String()[:3] }

// monthAt is the month of column i of a picture that begins with the first, else January.
func monthAt(first, i int) int {
	if first < 1 || first > 12 {
		first = 1
	}
	return (first-1+i)%12 + 1
}

type bloomDraw struct {
	*svg
	in     BloomIn
	order  [12]int // months from left to right
	column [13]int // of a month
}

// BloomChart draws which species blooms when and in what colour, earliest first.
func BloomChart(in BloomIn) Drawing {
	d := &bloomDraw{in: in}
	for i := range 12 {
		d.order[i] = monthAt(in.FirstMonth, i)
		d.column[d.order[i]] = i
	}
	s, title := newSVG(in.Sheet, "bloom", "Bloom through the year", "Each bar is a bloom, in its colour and pattern; the words at the right name the colours.")
	d.svg = s
	rows := d.sorted()
	top := bodyStart + 8.5
	foot := top + bloomH*math.Max(1, float64(len(rows)))
	d.months(top, foot)
	if len(rows) == 0 {
		d.text(margin, top+3.8, "No plants chosen yet.", lettering{size: small, colour: soft})
	}
	for i, b := range rows {
		d.row(b, top+bloomH*float64(i))
	}
	gaps := d.totals(rows, foot)
	y := d.legend(foot + 9)
	return d.picture(y+2, title, d.describe(rows, gaps))
}

// sorted puts the earliest first, then the longest, then by name; without bloom last.
func (d *bloomDraw) sorted() []Bloom {
	key := func(b Bloom) (start, months int) {
		for _, r := range d.bars(b) {
			months += r[1] - r[0] + 1
		}
		if months == 0 {
			return 99, 0
		}
		return d.column[b.From], months
	}
	return slices.SortedStableFunc(slices.Values(d.in.Blooms), func(a, b Bloom) int {
		sa, ma := key(a)
		sb, mb := key(b)
		return cmp.Or(sa-sb, mb-ma, strings.Compare(a.Name, b.Name))
	})
}

func (d *bloomDraw) months(top, foot float64) {
	season := d.define(otherWash("season"))
	for _, r := range d.bars(Bloom{From: d.in.WantedFrom, To: d.in.WantedTo}) {
		b := box{bloomX + monthW*float64(r[0]), top, bloomX + monthW*float64(r[1]+1), foot}
		d.rect(b, season)
		d.line(b.x0, top-5, b.x1, top-5, stroke(ink, 0.7))
	}
	for i, m := range d.order {
		x := bloomX + monthW*float64(i)
		d.text(x+monthW/2, top-1.6, monthName(m), lettering{size: small, anchor: "middle"})
	}
	for i := range 13 {
		x := bloomX + monthW*float64(i)
		d.line(x, top, x, foot, stroke(faint, 0.15))
	}
	d.line(margin, top, pageW-margin, top, stroke(pencil, 0.2))
	d.line(margin, foot, pageW-margin, foot, stroke(pencil, 0.2))
}

func (d *bloomDraw) row(b Bloom, y float64) {
	name := b.Name
	room := bloomX - margin - 2.0
	if b.Count > 0 {
		count := fmt.Sprintf("\u00d7%d", b.Count)
		d.text(bloomX-1.5, y+3.7, count, lettering{size: small, anchor: "end", colour: soft})
		room -= textWidth(count, small) + 2
	}
	d.open("", name+": "+bloomWords(b))
	d.text(margin, y+3.7, fit(name, small, room), lettering{size: small})
	for _, r := range d.bars(b) {
		d.bar(b, box{bloomX + monthW*float64(r[0]) + 0.3, y + 0.8, bloomX + monthW*float64(r[1]+1) - 0.3, y + bloomH - 0.8})
	}
	d.end()
	words := strings.Join(b.Colours, ", ")
	if b.From < 1 {
		words = "no bloom known"
	}
	d.text(bloomX+12*monthW+2, y+3.7, fit(words, small, pageW-margin-bloomX-12*monthW-2), lettering{size: small})
	d.line(margin, y+bloomH, pageW-margin, y+bloomH, stroke(faint, 0.12))
}

func bloomWords(b Bloom) string {
	if b.From < 1 || b.From > 12 || b.To < 1 || b.To > 12 {
		return "no bloom known"
	}
	s := monthName(b.From)
	if b.To != b.From {
		s += " to " + monthName(b.To)
	}
	if len(b.Colours) > 0 {
		s += ", " + list(b.Colours)
	}
	return s
}

// bars lists the runs of columns in which a species blooms.
func (d *bloomDraw) bars(b Bloom) [][2]int {
	return runs(12, func(i int) bool { return within(d.order[i], b.From, b.To) })
}

// runs lists the first and last of each stretch of 0 to n-1 for which ok holds.
func runs(n int, ok func(i int) bool) [][2]int {
	var out [][2]int
	for i := range n {
		switch last := len(out) - 1; {
		case !ok(i):
		case last >= 0 && out[last][1] == i-1:
			out[last][1] = i
		default:
			out = append(out, [2]int{i, i})
		}
	}
	return out
}

// bar draws one bloom, in as many stripes as it has colours, three at most.
func (d *bloomDraw) bar(b Bloom, at box) {
	colours := b.Colours
	if len(colours) == 0 {
		colours = []string{""}
	}
	colours = colours[:min(3, len(colours))]
	h := (at.y1 - at.y0) / float64(len(colours))
	for i, c := range colours {
		d.rect(box{at.x0, at.y0 + h*float64(i), at.x1, at.y0 + h*float64(i+1)}, d.define(bloomWash(c)))
	}
	d.rect(at, stroke(ink, 0.25))
}

// totals counts the species in bloom by month and returns the wanted months without any.
func (d *bloomDraw) totals(rows []Bloom, y float64) []string {
	var gaps []string
	d.text(margin, y+4, "kinds in bloom", lettering{size: small, colour: soft})
	for i, m := range d.order {
		n := 0
		for _, b := range rows {
			if within(m, b.From, b.To) {
				n++
			}
		}
		x := bloomX + monthW*(float64(i)+0.5)
		empty := n == 0 && within(m, d.in.WantedFrom, d.in.WantedTo)
		if empty {
			gaps = append(gaps, monthName(m))
			d.circle(x, y+2.9, 2.1, stroke(ink, 0.35))
		}
		d.text(x, y+4, figure(float64(n), 0), lettering{size: small, anchor: "middle", bold: empty})
	}
	return gaps
}

func (d *bloomDraw) legend(y float64) float64 {
	if !within(d.in.WantedFrom, d.in.WantedFrom, d.in.WantedTo) {
		return y
	}
	season := d.define(otherWash("season"))
	wanted := func(x, y float64) {
		d.rect(box{x, y + 0.6, x + markW, y + markH}, season)
		d.line(x, y+0.3, x+markW, y+0.3, stroke(ink, 0.7))
	}
	gap := func(x, y float64) { d.circle(x+markW/2, y+markH/2, 1.7, stroke(ink, 0.35)) }
	return d.entries(y, []entry{{"months in which bloom is wanted", wanted}, {"wanted, and nothing blooms", gap}}, 2)
}

func (d *bloomDraw) describe(rows []Bloom, gaps []string) string {
	s := plural(len(rows), "kind", "kinds") + " of plants by months of bloom."
	for _, b := range rows {
		s += " " + b.Name + ": " + bloomWords(b) + "."
	}
	if len(gaps) > 0 {
		s += " Wanted but without bloom: " + list(gaps) + "."
	}
	return s
}
