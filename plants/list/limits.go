package list

import (
	"fmt"
	"math"
)

// limit holds the numbers of one candidate that may stand: none, or from least
// to most. most is 0 if the candidate cannot stand at all.
type limit struct{ least, most int }

// relief says how far the rules give way in a zone.
type relief int

const (
	reliefNone  relief = iota
	reliefShare        // the share of a species may reach one smallest group
	reliefGroup        // a group is what fits
)

// wholeIn returns how many whole pieces of size part fit in whole.
func wholeIn(whole, part float64) int {
	return int(math.Floor(math.Min(whole/part*(1+areaSlack), 1e9)))
}

// limits returns the limits of every candidate, by candidate index.
//
//	least = SmallestGroup
//	most  = floor(ShareCap * zone area / area per plant), 0 if below least
//
// with the reliefs of small zones and the ground of layers that Problem documents.
// Plants for structure may stand singly; bulbs come in one number.
func (p Problem) limits() []limit {
	reliefs := p.reliefs()
	out := make([]limit, len(p.Candidates))
	for k, c := range p.Candidates {
		out[k] = p.limitAt(c, reliefs[c.Zone])
		switch p.Species[c.Species].Layer {
		case Structure:
			out[k] = p.single(c, reliefs[c.Zone])
		case Bulb:
			if n := max(p.SmallestGroup, bulbGroup); n <= wholeIn(p.Zones[c.Zone].AreaM2, p.Species[c.Species].AreaM2) {
				out[k] = limit{n, n}
			}
		}
	}
	return p.layered(out)
}

// single is limitAt for a plant that may stand alone.
func (p Problem) single(c Candidate, r relief) limit {
	p.SmallestGroup = 1
	return p.limitAt(c, r)
}

func (p Problem) limitAt(c Candidate, r relief) limit {
	area, plant := p.Zones[c.Zone].AreaM2, p.Species[c.Species].AreaM2
	fits := wholeIn(area, plant)
	least, most := p.SmallestGroup, wholeIn(p.ShareCap*area, plant)
	if r >= reliefGroup {
		least = min(least, fits)
	}
	if r >= reliefShare && least <= fits {
		most = max(most, least)
	}
	if most < least || most == 0 {
		return limit{}
	}
	return limit{least, most}
}

// reliefs returns, for each zone, the least relief under which some candidate can stand.
func (p Problem) reliefs() []relief {
	out := make([]relief, len(p.Zones))
	for r := reliefNone; r < reliefGroup; r++ {
		able := make([]bool, len(p.Zones))
		for _, c := range p.Candidates {
			if out[c.Zone] == r && p.Species[c.Species].Layer != Bulb && p.limitAt(c, r).most > 0 {
				able[c.Zone] = true
			}
		}
		for z := range out {
			if out[z] == r && !able[z] {
				out[z] = r + 1
			}
		}
	}
	return out
}

// notes says in plain words where rules gave way and which wishes had no place.
func (p Problem) notes() []string {
	var out []string
	limits, reliefs := p.limits(), p.reliefs()
	stands := make([]bool, len(p.Zones))
	has := make([]bool, len(p.Species))
	for k, c := range p.Candidates {
		stands[c.Zone] = stands[c.Zone] || limits[k].most > 0
		has[c.Species] = true
	}
	for z, r := range reliefs {
		switch {
		case !stands[z]:
		case r == reliefShare:
			out = append(out, fmt.Sprintf("zone %q is small: one species may take more than %.0f %% of it, up to one group of %d",
				p.Zones[z].Name, 100*p.ShareCap, p.SmallestGroup))
		case r == reliefGroup:
			out = append(out, fmt.Sprintf("zone %q is small: no group of %d fits, so groups there are as many as fit",
				p.Zones[z].Name, p.SmallestGroup))
		}
	}
	out = append(out, p.gaveWay()...)
	for s, sp := range p.Species {
		if sp.Wanted && !has[s] {
			out = append(out, fmt.Sprintf("wanted species %q is left out: no zone suits it", sp.ID))
		}
	}
	return out
}
