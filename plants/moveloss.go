package plants

import (
	"cmp"
	"math"
	"slices"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
	"hollowbed/plants/moves"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// Lost is a plant that died: of what, and what to plant in its place. Its new
// plant is in Relocation.New, by New; Step is its number after those of Groups,
// -1 where nothing is to be planted yet.
type Lost struct {
	Stake string
	Plant catalogue.Plant
	Place MovePlace
	Cause season.Diagnosis // Cause.Case.Plant is "" if there is none
	Taken bool             // another plant stands there, or moves there
	New   int              // -1: none would do
	Step  int
}

// A clump that does well is divided from its third year on: common practice, no
// source. thriving is the vigour from which on it does well, of 5, if it was seen
// within seenDays.
const (
	thriving     = 4
	yearsToSplit = 2
	seenDays     = 365
)

// splits says whether plants of a form are divided. Common practice, no source.
func splits(p catalogue.Plant) bool {
	return slices.Contains([]string{"forb", "grass-like", "fern-like", "groundcover"}, p.Form)
}

// losses lists the plants that died, and names for each place that is free in the
// end what to plant: a piece of a plant that thrives, or else one to buy.
func (r *relocation) losses(out *Relocation, plan *moves.Plan) {
	most := r.in.Judge.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	var split []string
	step := len(out.Groups)
	for v, k := range r.vacant {
		lost := Lost{Stake: k.Stake, Cause: r.diagnosis(k.Stake), Taken: true, New: -1, Step: -1}
		lost.Plant, _ = r.in.Catalogue.ByID(k.ID)
		q := slices.IndexFunc(r.rooms, func(room placement.Room) bool { return room.Vacant == v })
		if lost.Plant.ID == "" {
			lost.Plant = catalogue.Plant{ID: k.ID, VernacularName: k.ID}
		}
		if q < 0 {
			lost.Place.Spot, _ = r.in.Judge.SpotAt(k.X, k.Y)
			out.Lost = append(out.Lost, lost)
			continue
		}
		lost.Place = r.place(q)
		if lost.Taken = !slices.Contains(plan.Open, q); !lost.Taken {
			n := r.newPlant(q, "")
			if piece, ok := r.piece(q, plan, split); ok && piece.Outlook.YearlyRisk <= most {
				if bought := n; bought.Plant.ID != "" {
					piece.Else = &bought
				}
				n, split = piece, append(split, piece.Mother)
			}
			if n.BenefitM2 > 0 {
				lost.New = len(out.New)
				out.New = append(out.New, n)
			}
			if n.BenefitM2 > 0 && n.Outlook.YearlyRisk <= most {
				lost.Step = step
				step++
			}
		}
		out.Lost = append(out.Lost, lost)
	}
}

// piece finds the plant that thrives and of which a piece keeps most ground at a
// place; ok is false if there is none.
func (r *relocation) piece(q int, plan *moves.Plan, split []string) (best NewPlant, ok bool) {
	room := r.rooms[q]
	for i, s := range r.plants {
		young := s.planted.IsZero() || s.planted.AddDate(yearsToSplit, 0, 0).After(r.in.On)
		late := r.in.On.Sub(s.cause.Case.To).Hours() > 24*seenDays
		if young || late || !splits(s.plant) || s.cause.Case.Plant == "" || s.cause.Vigour < thriving || s.cause.Struggles() ||
			plan.Moves[i].Action != moves.Stay || r.problem.Plants[i].SpreadCM > room.SpreadCM+1e-6 || r.failed(s.plant, q) ||
			slices.Contains(split, s.row.Stake) {
			continue
		}
		k := slices.IndexFunc(r.candidates(room.Zone), func(c candidate) bool { return c.plant.ID == s.plant.ID })
		if k < 0 {
			continue
		}
		o := r.newOutlook(k, q)
		benefit := steady(list.AreaPerPlantM2(s.plant.SpreadCM) * (1 - o.LossMoved(r.in.Seasons) - newYoung))
		if benefit > best.BenefitM2 {
			best = NewPlant{Place: r.place(q), Plant: s.plant, Outlook: o, BenefitM2: benefit, Mother: s.row.Stake, When: s.when}
		}
	}
	return best, best.Mother != ""
}

// failed says whether a plant of this kind died where its mature spread would
// cover the place now.
func (r *relocation) failed(p catalogue.Plant, q int) bool {
	return diedNear(r.died, p, r.rooms[q].X, r.rooms[q].Y)
}

// diedNear says whether one of these dead is of a plant's kind and stood where its mature
// spread would cover a place.
func diedNear(dead []placement.Kept, p catalogue.Plant, x, y float64) bool {
	return slices.ContainsFunc(dead, func(k placement.Kept) bool {
		return k.ID == p.ID && math.Hypot(k.X-x, k.Y-y) < cmp.Or(p.SpreadCM, unknownSpreadCM)/200
	})
}
