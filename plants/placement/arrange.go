package placement

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// The arrangement decides which plant of a zone gets which of the zone's
// places, the places being given: first whole lines side by side, then by
// trading places two by two under a temperature that falls.

// byHeight lays each zone's lines from low to high ground, those that gain most first.
func (c *crowd) byHeight() {
	wish := make([]float64, len(c.g.p.Lines))
	for line := range wish {
		wish[line] = c.highLoss(line)
	}
	c.sideBySide(func(a, b int) int { return cmp.Compare(wish[b], wish[a]) }, func(i int) float64 {
		return -c.g.depthM(c.x[i], c.y[i])
	})
}

// highLoss is a line's risk in the higher half of its zone less that in the lower.
func (c *crowd) highLoss(line int) float64 {
	z := c.g.classes[c.g.classOf[line]].zone
	if z == nil || len(z.cells) == 0 {
		return 0
	}
	mean := 0.0
	for _, cell := range z.cells {
		mean += c.g.d[cell] / float64(len(z.cells))
	}
	var sum, n [2]float64
	for i, cell := range z.cells {
		half := 0
		if c.g.d[cell] < mean {
			half = 1
		}
		sum[half] += c.g.risk[line][i]
		n[half]++
	}
	return sum[1]/math.Max(1, n[1]) - sum[0]/math.Max(1, n[0])
}

// byTurn lays the lines of every zone side by side round the middle of the bed.
func (c *crowd) byTurn(from float64) {
	x0, y0, x1, y1 := c.g.outline.Bounds()
	c.sideBySide(func(a, b int) int { return cmp.Compare(a, b) }, func(i int) float64 {
		return math.Mod(math.Atan2(c.y[i]-(y0+y1)/2, c.x[i]-(x0+x1)/2)+math.Pi+from, 2*math.Pi)
	})
}

// byChance deals the places of every zone out by chance.
func (c *crowd) byChance(rng *rand.Rand) {
	key := make([]float64, len(c.plants))
	for i := range key {
		key[i] = rng.Float64()
	}
	c.sideBySide(cmp.Compare[int], func(i int) float64 { return key[i] })
}

func (c *crowd) sideBySide(lines func(a, b int) int, key func(i int) float64) {
	for _, z := range c.g.zones {
		mine := c.moving(z)
		sites := slices.Clone(mine)
		slices.SortStableFunc(sites, func(a, b int) int { return cmp.Compare(key(a), key(b)) })
		slices.SortStableFunc(mine, func(a, b int) int { return lines(c.plants[a].line, c.plants[b].line) })
		xs, ys := make([]float64, len(mine)), make([]float64, len(mine))
		for n, i := range sites {
			xs[n], ys[n] = c.x[i], c.y[i]
		}
		for n, i := range mine {
			c.x[i], c.y[i] = xs[n], ys[n]
		}
	}
}

// moving lists the plants in a zone that may be moved.
func (c *crowd) moving(z *zone) []int {
	var out []int
	for i := range c.plants {
		if p := &c.plants[i]; c.in[i] && !p.fixed && c.g.classes[p.class].zone == z {
			out = append(out, i)
		}
	}
	return out
}

// movingAll lists the plants that may be moved in all zones, for each of them
// those of its zone, and the ground that they cover.
func (c *crowd) movingAll() (all []int, zoneOf [][]int, areaM2 float64) {
	zoneOf = make([][]int, len(c.plants))
	for _, z := range c.g.zones {
		mine := c.moving(z)
		for _, i := range mine {
			zoneOf[i] = mine
			areaM2 += c.plants[i].areaM2
		}
		all = append(all, mine...)
	}
	return all, zoneOf, areaM2
}

// trader trades places. Places are numbered by the plant that stood there first.
type trader struct {
	c     *crowd
	l     *looks
	at    []spot
	near  [][]int32 // places that matter to a place
	reach []float64 // of each line: how far apart its plants may stand and be neighbours
	who   []int32   // plant at a place
	where []int32   // place of a plant
}

func newTrader(c *crowd, l *looks) *trader {
	t := &trader{c: c, l: l, at: c.spots(l)}
	t.near = make([][]int32, len(c.plants))
	t.who, t.where = make([]int32, len(c.plants)), make([]int32, len(c.plants))
	wide := c.rMax
	group := 0.0
	for line := range c.g.p.Lines {
		t.reach = append(t.reach, math.Max(c.nearM(line), c.usualM(line)))
		group = math.Max(group, t.reach[line])
	}
	reach := math.Max(group, math.Hypot(l.sightM, wide))
	h := newHash(c)
	for i := range c.plants {
		t.who[i], t.where[i] = int32(i), int32(i)
		if !c.in[i] {
			continue
		}
		h.none(c.x[i], c.y[i], reach, func(j int32) bool {
			dx, dy, dz := c.x[i]-c.x[j], c.y[i]-c.y[j], t.at[i].depthM-t.at[j].depthM
			d2 := dx*dx + dy*dy
			if int(j) != i && (d2 <= group*group || l.hide > 0 && math.Abs(dz) < l.sightM && d2-dz*dz < wide*wide) {
				t.near[i] = append(t.near[i], j)
			}
			return false
		})
	}
	return t
}

// usualM is the distance within which a place has about six others when they stand
// evenly: one and a half steps of a triangular lattice. While places are traded, large
// and small plants stand equally far apart.
func (c *crowd) usualM(line int) float64 {
	z := c.g.classes[c.g.classOf[line]].zone
	if z == nil {
		return 0
	}
	ground := float64(len(z.cells)) * c.g.g * c.g.g
	return driftSpreads * math.Sqrt(ground/math.Max(1, float64(len(c.moving(z))))*2/math.Sqrt(3))
}

// costAt is what the plant at a place costs with its neighbours, without the
// neighbour at the place but: its risk, what it hides or what hides it, less a
// third of a plant's worth for each neighbour of its line.
func (t *trader) costAt(site, but int32) float64 {
	i := t.who[site]
	p := &t.c.plants[i]
	sum := 0.0
	reach := 0.0
	if p.line >= 0 {
		if !p.fixed {
			sum = p.areaM2 * t.c.g.riskAt(p.line, t.at[site].x, t.at[site].y)
		}
		reach = t.reach[p.line]
	}
	for _, s := range t.near[site] {
		if s == but {
			continue
		}
		q := &t.c.plants[t.who[s]]
		if q.line == p.line && p.line >= 0 {
			dx, dy := t.at[s].x-t.at[site].x, t.at[s].y-t.at[site].y
			if dx*dx+dy*dy <= reach*reach {
				sum -= t.c.many[t.who[s]] * (t.l.group * p.areaM2 / 3)
			}
		} else if t.l.hide > 0 {
			sum += t.c.many[t.who[s]] * t.l.between(p, q, &t.at[site], &t.at[s])
		}
	}
	return sum
}

// trade swaps the plants of two places if that costs at most spare.
func (t *trader) trade(a, b int32, spare float64) {
	before := t.costAt(a, -1) + t.costAt(b, a)
	t.swap(a, b)
	if t.costAt(a, -1)+t.costAt(b, a)-before > spare {
		t.swap(a, b)
	}
}

func (t *trader) swap(a, b int32) {
	i, j := t.who[a], t.who[b]
	t.who[a], t.who[b], t.where[i], t.where[j] = j, i, b, a
}

// trades swaps plants within their zones, at a heat that falls from heat times
// the usual worth of a plant to a hundredth of that. Half of the trials bring a
// plant beside one of its line.
func (c *crowd) trades(l *looks, rng *rand.Rand, trials int, heat float64) {
	all, zoneOf, area := c.movingAll()
	if len(all) < 2 {
		return
	}
	t := newTrader(c, l)
	hot := heat * usualWorth * area / float64(len(all))
	for n := range trials {
		if n%askEvery == 0 && c.g.p.stopped() {
			break
		}
		i := all[rng.IntN(len(all))]
		var other int32
		if line := c.lines[c.plants[i].line]; n%2 == 0 && len(line) > 1 {
			s := t.near[t.where[line[rng.IntN(len(line))]]]
			if len(s) == 0 {
				continue
			}
			other = s[rng.IntN(len(s))]
		} else {
			other = t.where[zoneOf[i][rng.IntN(len(zoneOf[i]))]]
		}
		j := t.who[other]
		if q := &c.plants[j]; q.fixed || q.line == c.plants[i].line ||
			c.g.classes[q.class].zone != c.g.classes[c.plants[i].class].zone {
			continue
		}
		spare := 0.0
		if heat > 0 {
			spare = -hot * math.Pow(0.01, float64(n)/float64(trials)) * math.Log(1-rng.Float64())
		}
		t.trade(t.where[i], other, spare)
	}
	for i := range c.plants {
		if c.in[i] {
			c.x[i], c.y[i] = t.at[t.where[i]].x, t.at[t.where[i]].y
		}
	}
}
