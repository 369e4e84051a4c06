package list

import (
	"fmt"
	"strings"
)

// Layer is the part of a planting that a species is for.
type Layer int

// The layers. A species of none has no ground kept for it. A bulb takes no ground of
// its own: it grows beneath what else stands in its zone, and counts as no cover.
const (
	NoLayer   Layer = iota
	Matrix          // closes the soil
	Structure       // stands singly, or in threes and more, never in twos
	Seasonal        // between these
	Bulb
	layerCount
)

func (l Layer) String() string {
	return [...]string{"no layer", "matrix", "structure", "seasonal", "bulbs"}[l]
}

// bulbGroup is the number of bulbs of a species that are set in a zone, unless
// SmallestGroup is larger. Source: Iowa State University Extension and Outreach,
// "Where should I plant spring-blooming bulbs" (five or more of one variety).
const bulbGroup = 5

// byLayer is ground of a zone by layer, m2; that of bulbs is what they lie under.
type byLayer [layerCount]float64

// kept is the ground of a zone that is kept for layers; the rest is free for any.
type kept struct {
	of   byLayer
	free float64 // rounding included
}

// left is the ground that one more plant of a layer may take beside what stands.
func (k *kept) left(l Layer, stands *byLayer) float64 {
	free := k.free
	for i := NoLayer; i < Bulb; i++ {
		if over := stands[i] - k.of[i]; over > 0 { // twice as fast as max, and this is half of packing
			free -= over
		}
	}
	return free + max(0, k.of[l]-stands[l])
}

// overlaps says that more stands in a zone than its ground and its layers hold.
func (k *kept) overlaps(stands *byLayer) bool { return k.left(NoLayer, stands) < 0 }

// cover is what bulbs may lie under.
func (b *byLayer) cover() float64 {
	sum := 0.0
	for l := NoLayer; l < Bulb; l++ {
		sum += b[l]
	}
	return sum
}

// covered says that all bulbs lie beneath others.
func (b *byLayer) covered() bool { return b[Bulb] <= ceiling(b.cover()) }

// kept returns what is kept in each zone: the shares wished for, but no more than the
// candidates of a layer can take up.
func (p Problem) kept(limits []limit) []kept {
	out := make([]kept, len(p.Zones))
	for z := range out {
		for l, share := range p.Shares {
			out[z].of[l] = share * p.Zones[z].AreaM2
		}
		out[z].free = ceiling(p.Zones[z].AreaM2) - out[z].of.cover()
	}
	able := make([]byLayer, len(p.Zones))
	for k, c := range p.Candidates {
		s := &p.Species[c.Species]
		if most := out[c.Zone].most(s, limits[k]); most >= limits[k].least {
			able[c.Zone][s.Layer] += float64(float64(most) * s.AreaM2)
		}
	}
	for z := range out {
		for l := range out[z].of {
			if over := out[z].of[l] - able[z][l]; over > 0 {
				out[z].of[l] = able[z][l]
				out[z].free += over
			}
		}
	}
	return out
}

// most is how many of a species its layer has ground for.
func (k *kept) most(s *Species, lim limit) int {
	n := min(lim.most, wholeIn(k.of[s.Layer]+k.free, s.AreaM2))
	if s.Layer == Structure && n == 2 {
		return 1
	}
	return n
}

// layered takes from the limits what no layer has ground for.
func (p Problem) layered(limits []limit) []limit {
	kept := p.kept(limits)
	for k, c := range p.Candidates {
		s, lim := &p.Species[c.Species], &limits[k]
		if s.Layer == Bulb || lim.most == 0 {
			continue
		}
		if lim.most = kept[c.Zone].most(s, *lim); lim.most < lim.least {
			*lim = limit{}
		}
	}
	return limits
}

// gaveWay tells, in one line, in which zones a layer has less ground than wished for.
func (p Problem) gaveWay() []string {
	var short []string
	for z, k := range p.kept(p.limits()) {
		for l, share := range p.Shares {
			has := k.of[l] / p.Zones[z].AreaM2
			switch {
			case !(p.Zones[z].AreaM2 > 0) || has > share-0.01:
			case has == 0:
				short = append(short, fmt.Sprintf("nothing for %s in the %s", Layer(l), p.Zones[z].Name))
			default:
				short = append(short, fmt.Sprintf("%s for at most %.0f %% of the %s", Layer(l), 100*has, p.Zones[z].Name))
			}
		}
	}
	if len(short) == 0 {
		return nil
	}
	return []string{"too few plants for every layer: " + strings.Join(short, ", ") + "; plants of other layers may take that ground"}
}

// beneath is what the bulbs of a zone earn, as if nothing had to cover them.
func (r *relaxation) beneath(z int, p *prices, res *relaxed) float64 {
	value := 0.0
	for _, i := range r.m.inZone[z] {
		it := &r.m.items[i]
		if it.layer != Bulb || r.out[i] {
			continue
		}
		net, fixed := r.hull(i, p)
		if v := float64(net*float64(it.least)) + fixed; v > 0 {
			value += v
			res.n[i], res.y[i] = float64(it.least), 1
		}
	}
	return value
}

func one(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
