package plants

import (
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/list"
	"hollowbed/plants/season"
)

// candidate is a plant to buy.
type candidate struct {
	plant    catalogue.Plant
	prospect *season.Prospect
	cost     float64 // as a share of its ground
}

// bestNew finds the plant to buy that keeps most ground at a place, of the ground
// that the plant there covers, or of the room if there is none: a wider plant is
// no reason to throw one away.
func (r *relocation) bestNew(q int) NewPlant {
	room, spot := r.rooms[q], r.spots[q]
	most := list.AreaPerPlantM2(room.SpreadCM)
	if q < len(r.plants) {
		most = r.problem.Plants[q].Weight
	}
	best := NewPlant{}
	for k, c := range r.candidates(spot.Zone) {
		if !(c.plant.SpreadCM <= room.SpreadCM+1e-6) || r.failed(c.plant, q) {
			continue
		}
		area := min(most, list.AreaPerPlantM2(c.plant.SpreadCM))
		if area*(1-c.cost) <= best.BenefitM2 {
			continue // not even without loss
		}
		o := r.newOutlook(k, q)
		if benefit := steady(area * (1 - o.LossMoved(r.in.Seasons) - c.cost)); benefit > best.BenefitM2 {
			best = NewPlant{Plant: c.plant, Outlook: o, BenefitM2: benefit}
		}
	}
	return best
}

// newOutlook is that of a candidate of its zone at a place.
func (r *relocation) newOutlook(k, q int) season.Outlook {
	spot := r.spots[q]
	key := outlookKey{k, spot.Band, spot.SunH}
	o, ok := r.newAt[key]
	if !ok {
		c := r.candidates(spot.Zone)[k]
		o = r.in.Judge.outlook(c.prospect, c.plant, spot)
		r.newAt[key] = o
	}
	return o
}

// candidates are the plants to buy that no wish bars from a zone and that would
// live there, those that it is least hard on.
func (r *relocation) candidates(zone string) []candidate {
	if known, ok := r.new[zone]; ok {
		return known
	}
	var fitting []Verdict
	var prices []float64
	for _, p := range r.in.Catalogue.Plants {
		if p.Price > 0 {
			prices = append(prices, p.Price)
		}
		if v, ok := r.in.Judge.Zone(p, zone); ok && v.Bar == NoBar {
			fitting = append(fitting, v)
		}
	}
	slices.Sort(prices)
	slices.SortStableFunc(fitting, func(a, b Verdict) int {
		switch {
		case a.Loss() < b.Loss():
			return -1
		case a.Loss() > b.Loss():
			return 1
		}
		return strings.Compare(a.Plant.ID, b.Plant.ID)
	})
	out := []candidate{}
	for _, v := range fitting[:min(len(fitting), mostNew)] {
		c := candidate{plant: v.Plant, cost: newYoung + newShare}
		if v.Plant.Price > 0 {
			c.cost = newYoung + newShare*v.Plant.Price/prices[len(prices)/2]
		}
		c.prospect = r.in.Model.Prospect(r.speciesBearing(v.Plant), fit.DefaultPredictor(), max(1, len(r.in.Judge.Exposure.Whole)))
		out = append(out, c)
	}
	r.new[zone] = out
	return out
}
