package placement

import "math"

type pair struct {
	i, j int32
	want float64
}

// pairs lists the plants that stand nearer than they have to keep apart, plus
// skin. Two that are fixed are no pair.
func (c *crowd) pairs(overlap, skin float64) []pair {
	all := newHash(c)
	loose := c.hashOf(func(i int) bool { return !c.plants[i].fixed })
	var out []pair
	for i := range c.plants {
		if !c.in[i] || c.nth[i] > 0 {
			continue
		}
		a := &c.plants[i]
		x, y, ra := c.x[i], c.y[i], a.r
		h := all
		if a.fixed { // hundreds may stand on one spot
			h = loose
		}
		h.none(x, y, max(crownM, (1-overlap)*2*ra)+skin, func(j int32) bool {
			b := &c.plants[j] // the larger of two finds the other
			if b.r > ra || b.r == ra && int(j) <= i {
				return false
			}
			want := c.apartM(i, int(j), overlap)
			dx, dy := x-c.x[j], y-c.y[j]
			if reach := want + skin; dx*dx+dy*dy < reach*reach {
				out = append(out, pair{int32(i), j, want})
			}
			return false
		})
	}
	return out
}

// relax pushes plants that stand too near apart, each pair to its distance and
// the smaller plant further, and every plant back to where it may stand, until
// none is too near or the rounds are over. Places end on whole millimetres. It
// reports whether no two are too near.
//
// Method: relaxation by pairwise projection, as for packing discs; found by
// trial to do for beds, common practice, no source.
func (c *crowd) relax(overlap float64, rounds int) bool {
	const spare = 0.0016 // rounding to a millimetre brings two places nearer by 1.42 mm at most
	skin := 0.6 * c.smallest()
	fromX, fromY := make([]float64, len(c.x)), make([]float64, len(c.y))
	still := make([][2]float64, len(c.x)) // where each was left last
	for i := range still {
		still[i][0] = math.NaN()
	}
	var near []pair
	far := math.Inf(1)
	last := math.Inf(1)
	for round := range rounds {
		if c.g.p.stopped() {
			break
		}
		if far > skin/2 {
			near = c.pairs(overlap, skin)
			copy(fromX, c.x)
			copy(fromY, c.y)
		}
		calm, total := c.push(near, spare)
		if calm && !math.IsInf(far, 1) {
			break
		}
		if round%50 == 49 { // jammed: pushing no longer helps
			if total > 0.97*last {
				break
			}
			last = total
		}
		far = c.settleAll(still, fromX, fromY)
	}
	c.round()
	return !c.clashing(overlap)
}

// push parts every pair once. It returns whether none was too near, and by how
// much all pairs together were.
func (c *crowd) push(near []pair, spare float64) (calm bool, total float64) {
	calm = true
	for n := range near {
		q := &near[n]
		dx, dy := c.x[q.j]-c.x[q.i], c.y[q.j]-c.y[q.i]
		want := q.want + spare
		d2 := dx*dx + dy*dy
		if d2 >= want*want {
			continue
		}
		d := math.Sqrt(d2)
		calm = calm && d > q.want+0.9*spare
		total += want - d
		if d < 1e-9 { // on one spot: part them, each pair in a direction of its own
			a := float64(q.i)*2.4 + float64(q.j)
			dx, dy, d = math.Cos(a)*1e-9, math.Sin(a)*1e-9, 1e-9
		}
		a, b := &c.plants[q.i], &c.plants[q.j]
		share := b.r * b.r / (a.r*a.r + b.r*b.r) // what i moves of the push
		if a.fixed {
			share = 0
		} else if b.fixed {
			share = 1
		}
		f := (want - d) / d
		c.x[q.i], c.y[q.i] = c.x[q.i]-share*f*dx, c.y[q.i]-share*f*dy
		c.x[q.j], c.y[q.j] = c.x[q.j]+(1-share)*f*dx, c.y[q.j]+(1-share)*f*dy
	}
	return calm, total
}

// settleAll puts every plant that was pushed back to where it may stand, and
// returns how far the plant that went furthest is from where it was.
func (c *crowd) settleAll(still [][2]float64, fromX, fromY []float64) float64 {
	far := 0.0
	for i := range c.plants {
		p := &c.plants[i]
		if !c.in[i] || p.fixed {
			continue
		}
		if still[i] != [2]float64{c.x[i], c.y[i]} {
			c.x[i], c.y[i] = c.g.settle(c.g.classes[p.class], c.x[i], c.y[i])
			still[i] = [2]float64{c.x[i], c.y[i]}
		}
		dx, dy := c.x[i]-fromX[i], c.y[i]-fromY[i]
		far = math.Max(far, dx*dx+dy*dy)
	}
	return math.Sqrt(far)
}

// round puts every plant on whole millimetres where it may stand.
func (c *crowd) round() {
	for i := range c.plants {
		if p := &c.plants[i]; c.in[i] && !p.fixed {
			c.x[i], c.y[i] = c.g.roundTo(c.g.classes[p.class], c.x[i], c.y[i])
		}
	}
}

func (g *ground) roundTo(k *class, x, y float64) (float64, float64) {
	x, y = mm(x), mm(y)
	for n := range 9 {
		a, b := mm(x+0.001*float64((n+4)%9%3-1)), mm(y+0.001*float64((n+4)%9/3-1))
		if g.allowed(k, a, b) {
			return a, b
		}
	}
	return k.nearest(x, y)
}

func (c *crowd) smallest() float64 {
	r := math.Inf(1)
	for i := range c.plants {
		r = math.Min(r, c.plants[i].r)
	}
	return r
}
