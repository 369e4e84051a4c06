package draw

import (
	"math"
	"strings"
)

// Move is one plant that is to stand elsewhere, or to be given up.
type Move struct {
	From, To Point
	GiveUp   bool // it is dug out and another is set in its place; To is not looked at
	Words    string
}

// stays is how plants look that no move touches.
const stays = ` opacity="0.35"`

// moves draws an arrow for every move, bowed to the left so that the two of a swap stand
// apart, and a cross where a plant is given up. Each plant is named where it stands now,
// with the move's words before its stake.
func (d *planDraw) moves() {
	if len(d.in.Moves) == 0 {
		return
	}
	d.open("", "moves")
	moved, given := false, false
	for _, m := range d.in.Moves {
		if m.GiveUp {
			x, y := d.v.at(m.From)
			x, y = x+0.7*d.radiusAt(m.From), y-0.7*d.radiusAt(m.From) // beside the stake
			d.cross(x, y)
			given = true
			continue
		}
		d.bow(m)
		moved = true
	}
	d.end()
	for _, m := range d.in.Moves {
		d.moveName(m)
	}
	if moved {
		d.rows = append(d.rows, entry{"a plant that is to move, and where to", func(x, y float64) {
			d.circle(x+0.9, y+markH/2, 0.9, filled(ink))
			d.arrow(x+0.9, y+markH/2, x+markW, y+markH/2, true)
		}})
	}
	if _, rest := d.touched(d.everyPlant()); len(rest) > 0 {
		d.rows = append(d.rows, entry{"a plant that stays", func(x, y float64) {
			d.open(stays, "")
			d.circle(x+markW/2, y+markH/2, 1.6, framed(d.tints[0], ink, 0.14))
			d.end()
		}})
	}
	if given {
		d.rows = append(d.rows, entry{"a plant that is to be replaced", func(x, y float64) { d.cross(x+markW/2, y+markH/2) }})
	}
}

// moveName says which plant a move is about, in its circle or beside it.
func (d *planDraw) moveName(m Move) {
	words, owner := m.Words, -2
	for i, p := range d.in.Plants {
		if p.At == m.From {
			words, owner = strings.TrimSpace(words+" "+d.inside(i)), p.Species
		}
	}
	if words != "" && !d.label(d.places, words, lettering{size: small, bold: true}, owner, math.Max(1.2, d.radiusAt(m.From)), d.v.pt(m.From)) {
		d.led++
	}
}

// touched parts plants into those that stand where a move begins or ends, and the rest.
func (d *planDraw) touched(plants []int) (touched, rest []int) {
	ends := map[Point]bool{}
	for _, m := range d.in.Moves {
		ends[m.From] = true
		if !m.GiveUp {
			ends[m.To] = true
		}
	}
	for _, i := range plants {
		if ends[d.in.Plants[i].At] {
			touched = append(touched, i)
		} else {
			rest = append(rest, i)
		}
	}
	return touched, rest
}

// bow draws the arrow of a move, edged in white. Labels keep off it.
func (d *planDraw) bow(m Move) {
	x1, y1 := d.v.at(m.From)
	x2, y2 := d.v.at(m.To)
	ux, uy := unit(x2-x1, y2-y1, 1, 0)
	if from, to := d.radiusAt(m.From), d.radiusAt(m.To); math.Hypot(x2-x1, y2-y1) > from+to+5 {
		x1, y1 = x1+ux*from, y1+uy*from // from edge to edge, so that the stakes can be read
		x2, y2 = x2-ux*to, y2-uy*to
	}
	long := math.Hypot(x2-x1, y2-y1)
	out := math.Min(0.18*long, 9)
	cx, cy := (x1+x2)/2+uy*out, (y1+y2)/2-ux*out // corner of the curve, on the left
	ex, ey := unit(x2-cx, y2-cy, ux, uy)         // direction in which it arrives
	const head, wide = 2.8, 1.25
	bx, by := x2-ex*head, y2-ey*head
	way := "M" + num(x1) + " " + num(y1) + "Q" + num(cx) + " " + num(cy) + " " + num(bx) + " " + num(by)
	tip := "M" + num(bx-ey*wide) + " " + num(by+ex*wide) + "L" + num(x2) + " " + num(y2) + "L" + num(bx+ey*wide) + " " + num(by-ex*wide) + "Z"
	d.path(way, stroke(paper, 2))
	d.path(tip, stroke(paper, 1.3))
	d.circle(x1, y1, 0.9, filled(ink)+` stroke="`+paper+`" stroke-width="`+num(0.4)+`"`)
	d.path(way, stroke(ink, 0.7))
	d.path(tip, filled(ink))
	const pieces = 8 // of the way, straight, that no label may touch
	fromX, fromY := x1, y1
	for i := 1; i <= pieces; i++ {
		t := float64(i) / pieces
		x, y := (1-t)*(1-t)*x1+2*t*(1-t)*cx+t*t*x2, (1-t)*(1-t)*y1+2*t*(1-t)*cy+t*t*y2
		d.places.leaders = append(d.places.leaders, [4]float64{fromX, fromY, x, y})
		fromX, fromY = x, y
	}
}

// radiusAt is the radius on paper, mm, of the plant that stands at a place; 0
// if none does.
func (d *planDraw) radiusAt(at Point) float64 {
	for i, p := range d.in.Plants {
		if r := d.radius(i); p.At == at && r > 0 {
			return r
		}
	}
	return 0
}

func (d *planDraw) cross(x, y float64) {
	const r = 1.5
	for _, look := range []string{stroke(paper, 2), stroke(ink, 0.8)} {
		d.line(x-r, y-r, x+r, y+r, look)
		d.line(x-r, y+r, x+r, y-r, look)
	}
	d.places.take(box{x - r, y - r, x + r, y + r}.grown(0.3))
}
