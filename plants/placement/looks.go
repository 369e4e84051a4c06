package placement

import "math"

// The looks of a placement are weighed in the unit of the loss: ground times a
// yearly risk that a fault of looks is worth. The rules are common practice, no
// source; so are the default worths.

const (
	driftSpreads = 1.5 // plants of a line within so many spreads stand together
	usualWorth   = 0.03
	usualSightM  = 2.0
)

// looks is a Problem's wishes with the defaults filled in.
type looks struct {
	group, hide, sightM float64
	g                   *ground
}

func newLooks(g *ground) looks {
	worth := func(v float64) float64 {
		switch {
		case v == 0:
			return usualWorth
		case v < 0:
			return 0
		}
		return v
	}
	l := looks{group: worth(g.p.GroupWorth), hide: worth(g.p.HideWorth), sightM: g.p.View.SightM, g: g}
	if l.sightM == 0 {
		l.sightM = usualSightM
	}
	return l
}

// depthM is how far from the viewer a place lies: along the direction of
// looking, from the eye, or inward from the edge when seen from all round.
func (l *looks) depthM(x, y float64) float64 {
	switch v := l.g.p.View; v.Kind {
	case "side":
		n := math.Hypot(v.X, v.Y)
		return (x*v.X + y*v.Y) / n
	case "point":
		return math.Hypot(x-v.X, y-v.Y)
	}
	return l.g.depthM(x, y)
}

// spot is a plant at a place as the viewer sees it.
type spot struct {
	x, y, depthM, footM float64 // footM: height of the ground
}

func (l *looks) spot(x, y float64) spot {
	mm, _ := l.g.p.Bed.HeightMM(x, y)
	return spot{x, y, l.depthM(x, y), mm / 1000}
}

// hidden is which share of plant b at t is hidden by plant a at s in front: by
// how much of b's height a is taller, less the further apart they stand in the
// line of sight, and less the further a stands aside, none beyond a's radius.
func (l *looks) hidden(a, b *plant, s, t *spot) float64 {
	behind := t.depthM - s.depthM
	over := s.footM + a.h - t.footM - b.h
	if !(behind > 0) || behind >= l.sightM || !(over > 0) {
		return 0
	}
	dx, dy := t.x-s.x, t.y-s.y
	aside2 := dx*dx + dy*dy - behind*behind
	if aside2 >= a.r*a.r {
		return 0
	}
	aside := math.Sqrt(math.Max(0, aside2)) / a.r
	return math.Min(1, over/math.Max(b.h, 0.05)) * (1 - behind/l.sightM) * (1 - aside)
}

// between is what two plants cost by hiding one another, in m2.
func (l *looks) between(a, b *plant, s, t *spot) float64 {
	if s.depthM < t.depthM {
		return l.hide * b.areaM2 * l.hidden(a, b, s, t)
	}
	return l.hide * a.areaM2 * l.hidden(b, a, t, s)
}

// mostNear is how many neighbours of its line count.
const mostNear = 30

// drift counts the groups of a line's plants at places and, for each plant, how
// many of its line stand near: groups, and the sum of 1/2^near.
func drift(xs, ys []float64, nearM float64) (groups int, alone float64) {
	n := len(xs)
	var store [64]int
	root := store[:0]
	for i := range n {
		root = append(root, i)
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	groups = n
	var count [64]uint8
	near := count[:]
	if n > len(near) {
		near = make([]uint8, n)
	}
	for i := range n {
		for j := i + 1; j < n; j++ {
			dx, dy := xs[i]-xs[j], ys[i]-ys[j]
			if dx*dx+dy*dy > nearM*nearM {
				continue
			}
			near[i], near[j] = min(near[i]+1, mostNear), min(near[j]+1, mostNear)
			if a, b := find(i), find(j); a != b {
				root[b] = a
				groups--
			}
		}
	}
	for i := range n {
		alone += 1 / float64(uint32(1)<<near[i])
	}
	return groups, alone
}

// grouping is what a line costs by standing apart, in m2: each plant's ground
// times the worth, halved for every neighbour of its line, and twice a plant
// for every group beyond the first.
func (c *crowd) grouping(l *looks, line int) float64 {
	var bx, by [64]float64
	xs, ys := bx[:0], by[:0]
	for _, i := range c.lines[line] {
		if c.in[i] && c.nth[i] <= mostNear { // more on one spot make no difference
			xs, ys = append(xs, c.x[i]), append(ys, c.y[i])
		}
	}
	if len(xs) < 2 || l.group == 0 {
		return 0
	}
	groups, alone := drift(xs, ys, c.nearM(line))
	area := c.plants[c.lines[line][0]].areaM2
	return l.group * area * (alone + 2*float64(groups-1))
}

func (c *crowd) nearM(line int) float64 { return driftSpreads * c.g.p.Lines[line].SpreadCM / 100 }

// loss is the yearly loss of ground expected. Plants that belong to no line, or
// stand where their line may not, have no risk that is known and do not count.
func (c *crowd) loss() float64 {
	sum := 0.0
	for i := range c.plants {
		sum += c.lossOf(i)
	}
	return sum
}

func (c *crowd) lossOf(i int) float64 {
	p := &c.plants[i]
	switch {
	case p.line < 0 || p.under:
		return 0
	case !c.in[i]:
		return p.areaM2
	case p.fixed && !c.g.known(p.line, c.x[i], c.y[i]):
		return 0
	}
	return p.areaM2 * c.g.riskAt(p.line, c.x[i], c.y[i])
}

// known reports whether the risk of a line at a place was asked for.
func (g *ground) known(line int, x, y float64) bool {
	cell, z := g.square(x, y), g.classes[g.classOf[line]].zone
	return cell >= 0 && z != nil && z.index[cell] >= 0
}

// score is loss and looks together, in m2.
func (c *crowd) score(l *looks) float64 {
	sum := c.loss()
	for line := range c.lines {
		sum += c.grouping(l, line)
	}
	return sum + c.hiding(l)
}

func (c *crowd) hiding(l *looks) float64 {
	if l.hide == 0 {
		return 0
	}
	sum, at := 0.0, c.spots(l)
	for i := range c.plants {
		if !c.in[i] || c.nth[i] > 0 {
			continue
		}
		for j := range i {
			if c.in[j] && c.nth[j] == 0 {
				sum += c.many[i] * c.many[j] * l.between(&c.plants[i], &c.plants[j], &at[i], &at[j])
			}
		}
	}
	return sum
}

func (c *crowd) spots(l *looks) []spot {
	at := make([]spot, len(c.plants))
	for i := range at {
		if c.in[i] {
			at[i] = l.spot(c.x[i], c.y[i])
		}
	}
	return at
}
