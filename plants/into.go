package plants

import (
	"math"
	"slices"

	"hollowbed/plants/fit"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// Guest is a plant that struggles and would do better in another garden of the same
// person. Costs are money, as those of Answers.
type Guest struct {
	From          placement.Planted // its row here
	To            placement.Planted // the row to write there, without a date
	Before, After season.Outlook
	Minutes       float64 // to lift and set it, the way between the gardens apart
	Cost, Else    float64 // there; and by the best answer here
}

// mostGuestRooms is how many places of another garden are looked at for a plant.
const mostGuestRooms = 24

// Into finds the struggling plants that the plan leaves where they are and that another
// garden would suit: at a place with room to its full spread, in its sun, where none of
// its kind died, no limit that shuts a zone unknown, barred by no wish there, at no more
// than the risk that is accepted there, and cheaper by the margin of a move than the best
// answer here. Places are given away in the order of planted.csv. What notes taught of
// this garden's own ground counts as if it held there too.
func Into(in MoveInput, plan *Relocation, other *Judge, grown Grown) ([]Guest, error) {
	r, err := newRelocation(in)
	if err != nil {
		return nil, err
	}
	most := other.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	var out []Guest
	for i, s := range r.plants {
		if s.answers == nil || !(s.plant.SpreadCM > 0) || plan.moves(s.row.Stake) {
			continue
		}
		p := other.roomsBeside(grown.Kept)
		rooms, err := placement.Rooms(p, nil, s.plant.SpreadCM, s.plant.SpreadCM, mostGuestRooms)
		if err != nil {
			return nil, err
		}
		prospect := in.Model.Prospect(r.bearing(s.row.Stake, s.plant), fit.DefaultPredictor(), max(1, len(other.Exposure.Whole)))
		best := Guest{From: s.row, Before: r.outlook(i, i).Outlook, Minutes: s.how.minutes(), Cost: math.Inf(1), Else: r.home(i)}
		for _, room := range rooms[len(p.Kept):] {
			spot, _ := other.SpotAt(room.X, room.Y)
			v := other.Band(s.plant, spot.Band)
			wish, _ := other.wishBar(&v.Plant, spot.Zone) // v.Bar does not tell where its risk by the table comes first
			if v.Unfit != NoBar || v.Bar == BarUnknown || wish != NoBar || diedNear(grown.Failed, s.plant, room.X, room.Y) {
				continue
			}
			o := other.outlook(prospect, s.plant, spot)
			cost := r.problem.Plants[i].Weight*(o.LossMoved(r.in.Seasons)+s.disturb/float64(r.in.Seasons)+r.problem.Caution*best.Before.Harm(o, r.in.Seasons)) + r.pay(best.Minutes)
			if o.YearlyRisk <= most && cost < best.Cost {
				best.To = placement.Planted{ID: s.row.ID, X: math.Round(100*room.X) / 100, Y: math.Round(100*room.Y) / 100, Zone: spot.Zone}
				best.After, best.Cost = o, cost
			}
		}
		if best.Cost+moveMargin*r.pay(best.Minutes) < best.Else {
			best.To.Stake = placement.NewStakes(grown.Kept, grown.Taken, []placement.Line{{ID: s.plant.ID, Name: s.plant.VernacularName}})[0]
			grown.Kept = append(slices.Clip(grown.Kept), Standing([]placement.Planted{best.To}, in.Catalogue)...)
			out = append(out, best)
		}
	}
	return out, nil
}

// roomsBeside is the problem of finding places beside the plants that stand in the bed.
func (j *Judge) roomsBeside(kept []placement.Kept) placement.Problem {
	l := j.Exposure.Lot
	p := placement.Problem{Bed: l.Bed, KeepOuts: keepOuts(l), MarginM: l.Garden.Layout.MarginM, Overhang: usualOverhang, Overlap: l.Garden.Layout.Overlap}
	for _, k := range kept {
		if _, inside := j.SpotAt(k.X, k.Y); inside {
			p.Kept = append(p.Kept, k)
		}
	}
	return p
}

// moves says whether a plan moves a plant, or gives its place to another.
func (p *Relocation) moves(stake string) bool {
	for _, m := range p.Moves {
		if season.SameStake(m.Stake, stake) && m.Action != ActReplace {
			return true
		}
	}
	return false
}
