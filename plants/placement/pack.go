package placement

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// How hard squeeze tries; found by trial to be worth their time.
const (
	squeezePlaces = 3
	squeezeTries  = 30
)

// pack makes a crowd keep its distances. What cannot stand is taken out, the
// most crowded first, and put back where room is left or can be made.
func (c *crowd) pack(overlap float64, rng *rand.Rand) {
	free := c.partAll(overlap)
	for !free {
		c.eject(overlap)
		free = c.relax(overlap, 120)
	}
	c.fill(overlap, rng)
	c.squeeze(overlap, rng, squeezeTries)
}

// partAll relaxes all plants: first to a little more than the distances to keep,
// which carries crowding from where it is to where room is, then to those.
func (c *crowd) partAll(overlap float64) bool {
	far := max(1, int(math.Sqrt(float64(len(c.plants))/500))) // crowding has further to go in a large bed
	c.relax(overlap-0.06, 300*far)
	c.relax(overlap-0.03, 300*far)
	return c.relax(overlap, 600*far)
}

// eject takes out the plants that are crowded most for their size, one in fifty
// of those that are crowded and none beside another, at least one.
func (c *crowd) eject(overlap float64) {
	load := make([]float64, len(c.plants))
	near := c.pairs(overlap, 0)
	for _, q := range near {
		if d := math.Hypot(c.x[q.i]-c.x[q.j], c.y[q.i]-c.y[q.j]); d < q.want {
			load[q.i] += q.want - d
			load[q.j] += q.want - d
		}
	}
	var crowded []int
	for i := range load {
		if load[i] > 0 && !c.plants[i].fixed {
			load[i] /= c.plants[i].r
			crowded = append(crowded, i)
		}
	}
	slices.SortFunc(crowded, func(a, b int) int { return cmp.Or(cmp.Compare(load[b], load[a]), cmp.Compare(a, b)) })
	beside := map[int]bool{}
	left := len(crowded)/50 + 1
	for _, i := range crowded {
		if left == 0 || beside[i] {
			continue
		}
		c.in[i] = false
		left--
		for _, q := range near {
			if int(q.i) == i {
				beside[int(q.j)] = true
			} else if int(q.j) == i {
				beside[int(q.i)] = true
			}
		}
	}
}

// outside lists the plants without a place that could have one, largest first
// and otherwise in an order by chance.
func (c *crowd) outside(rng *rand.Rand) []int {
	var out []int
	for i := range c.plants {
		if !c.in[i] && c.possible(i) {
			out = append(out, i)
		}
	}
	rng.Shuffle(len(out), func(a, b int) { out[a], out[b] = out[b], out[a] })
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(c.plants[b].r, c.plants[a].r) })
	return out
}

// fill puts plants without a place into free places, the roomiest that hold them.
func (c *crowd) fill(overlap float64, rng *rand.Rand) {
	h := newHash(c)
	full := map[int]bool{}
	for _, i := range c.outside(rng) {
		k := c.plants[i].class
		if full[k] {
			continue
		}
		x, y, room := c.roomiest(i, overlap, h)
		if room < 0 {
			full[k] = true
			continue
		}
		c.x[i], c.y[i], c.in[i] = x, y, true
		h.add(i, x, y)
	}
}

// roomiest is the place of a plant's class with the most room to the next
// plant, in metres beyond the distance to keep; below 0 where there is too little.
func (c *crowd) roomiest(i int, overlap float64, h *hash) (x, y, room float64) {
	room = math.Inf(-1)
	reach := (1-overlap)*(c.plants[i].r+c.rMax) + 0.3 // room beyond that is room enough
	for _, at := range c.g.classes[c.plants[i].class].place {
		here := math.Inf(1)
		// A place that cannot beat the best so far is given up at once.
		if h.none(at[0], at[1], reach, func(j int32) bool {
			here = math.Min(here, math.Hypot(c.x[j]-at[0], c.y[j]-at[1])-c.apartM(i, int(j), overlap))
			return here <= room
		}) {
			x, y, room = at[0], at[1], here
		}
	}
	return x, y, room
}

// roomy lists places of a plant's class from the roomiest on, two radii apart, at most n.
func (c *crowd) roomy(i int, overlap float64, n int) [][2]float64 {
	type spot struct {
		at   [2]float64
		room float64
	}
	var all []spot
	h, r := newHash(c), c.plants[i].r
	for _, at := range c.g.classes[c.plants[i].class].place {
		room := r
		h.none(at[0], at[1], (1-overlap)*(r+c.rMax)+r, func(j int32) bool {
			room = min(room, math.Hypot(c.x[j]-at[0], c.y[j]-at[1])-c.apartM(i, int(j), overlap))
			return room < -r
		})
		if room > -r {
			all = append(all, spot{at, room})
		}
	}
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(b.room, a.room) })
	var out [][2]float64
	for _, s := range all {
		if len(out) == n {
			break
		}
		if !slices.ContainsFunc(out, func(at [2]float64) bool { return math.Hypot(at[0]-s.at[0], at[1]-s.at[1]) < 2*r }) {
			out = append(out, s.at)
		}
	}
	return out
}

// squeeze puts plants into the roomiest places, too small as they are, and relaxes all;
// it undoes what does not then keep its distances, and gives up after so many tries.
func (c *crowd) squeeze(overlap float64, rng *rand.Rand, tries int) {
	full := map[int]bool{}
	for _, i := range c.outside(rng) {
		k := c.plants[i].class
		if full[k] {
			continue
		}
		full[k] = true
		for _, at := range c.roomy(i, overlap, squeezePlaces) {
			if tries--; tries < 0 {
				return
			}
			before := c.clone()
			c.x[i], c.y[i], c.in[i] = at[0], at[1], true
			if c.relax(overlap, 300) {
				full[k] = false
				break
			}
			c.copyFrom(before)
		}
	}
}
