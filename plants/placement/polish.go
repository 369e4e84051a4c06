package placement

import (
	"math"
	"math/rand/v2"
)

// polisher improves a crowd that keeps its distances, and keeps them: plants
// move a little, move to a free place, or trade places, whenever loss and looks
// together get better.
type polisher struct {
	c       *crowd
	l       *looks
	overlap float64
	h       *hash
	at      []spot
	group   []float64 // of each line
	spare   float64   // how much worse, in m2, a change may be at this moment
}

func newPolisher(c *crowd, l *looks, overlap float64) *polisher {
	p := &polisher{c: c, l: l, overlap: overlap, h: newHash(c), at: c.spots(l)}
	for line := range c.lines {
		p.group = append(p.group, c.grouping(l, line))
	}
	return p
}

// hides is what plant i costs at its place by hiding and being hidden.
func (p *polisher) hides(i int) float64 {
	if p.l.hide == 0 {
		return 0
	}
	sum := 0.0
	c := p.c
	p.h.none(p.at[i].x, p.at[i].y, math.Hypot(p.l.sightM, c.rMax), func(j int32) bool {
		if int(j) != i {
			sum += c.many[j] * p.l.between(&c.plants[i], &c.plants[j], &p.at[i], &p.at[j])
		}
		return false
	})
	return sum
}

func (p *polisher) put(i int, s spot) {
	c := p.c
	p.h.remove(i, c.x[i], c.y[i])
	p.h.add(i, s.x, s.y)
	c.x[i], c.y[i], p.at[i] = s.x, s.y, s
}

// joins reports whether plant i has another of its line near. One that has not
// cannot have made its line's grouping better by coming where it is.
func (p *polisher) joins(i int) bool {
	c := p.c
	near := c.nearM(c.plants[i].line)
	for _, j := range c.lines[c.plants[i].line] {
		dx, dy := c.x[i]-c.x[j], c.y[i]-c.y[j]
		if j != i && c.in[j] && dx*dx+dy*dy <= near*near {
			return true
		}
	}
	return false
}

// move takes plant i to a place if that is better.
func (p *polisher) move(i int, x, y float64) {
	c := p.c
	if !c.fits(i, x, y, p.overlap, -1, -1, p.h) {
		return
	}
	line, was := c.plants[i].line, p.at[i]
	before := c.lossOf(i) + p.hides(i)
	p.put(i, p.l.spot(x, y))
	after := c.lossOf(i) + p.hides(i)
	group := p.group[line]
	if after-before < p.spare || after-before < group+p.spare && p.joins(i) {
		group = c.grouping(p.l, line)
	}
	if after-before+group-p.group[line] < p.spare {
		p.group[line] = group
		return
	}
	p.put(i, was)
}

// trade swaps two plants of one zone if both fit and that is better.
func (p *polisher) trade(i, j int) {
	c := p.c
	a, b := p.at[i], p.at[j]
	if !c.fits(i, b.x, b.y, p.overlap, j, -1, p.h) || !c.fits(j, a.x, a.y, p.overlap, i, -1, p.h) {
		return
	}
	if d := math.Hypot(a.x-b.x, a.y-b.y); d < c.apartM(i, j, p.overlap)-1e-9 {
		return
	}
	before := c.lossOf(i) + c.lossOf(j) + p.hides(i) + p.hides(j)
	p.put(i, b)
	p.put(j, a)
	after := c.lossOf(i) + c.lossOf(j) + p.hides(i) + p.hides(j)
	// What the two hide of each other stands twice in either sum.
	twice := p.l.between(&c.plants[i], &c.plants[j], &b, &a) - p.l.between(&c.plants[i], &c.plants[j], &a, &b)
	li, lj := c.plants[i].line, c.plants[j].line
	gi, gj := p.group[li], p.group[lj]
	if after-before-twice < p.spare || after-before-twice < gi+gj+p.spare && (p.joins(i) || p.joins(j)) {
		gi, gj = c.grouping(p.l, li), c.grouping(p.l, lj)
	}
	if after-before-twice+gi+gj-p.group[li]-p.group[lj] < p.spare {
		p.group[li], p.group[lj] = gi, gj
		return
	}
	p.put(i, a)
	p.put(j, b)
}

// polish makes trials by chance, half of them trades. At first a change may
// make things worse, up to heat times the usual worth of a plant by chance; that
// falls to nothing at three quarters of the trials.
func (c *crowd) polish(l *looks, overlap float64, rng *rand.Rand, trials int, heat float64) {
	all, zoneOf, area := c.movingAll()
	if len(all) == 0 {
		return
	}
	p := newPolisher(c, l, overlap)
	hot := heat * usualWorth * area / float64(len(all))
	for n := range trials {
		if n%askEvery == 0 && c.g.p.stopped() {
			break
		}
		p.spare = -1e-12
		if cool := 1 - float64(4*n)/float64(3*trials); cool > 0 && heat > 0 {
			p.spare -= hot * cool * math.Log(1-rng.Float64())
		}
		i := all[rng.IntN(len(all))]
		switch rng.IntN(4) {
		case 0:
			s := c.plants[i].r * rng.Float64()
			sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
			p.move(i, mm(c.x[i]+s*cos), mm(c.y[i]+s*sin))
		case 1:
			places := c.g.classes[c.plants[i].class].place
			at := places[rng.IntN(len(places))]
			p.move(i, at[0], at[1])
		default:
			j := zoneOf[i][rng.IntN(len(zoneOf[i]))]
			if c.plants[i].line != c.plants[j].line {
				p.trade(i, j)
			}
		}
	}
}
