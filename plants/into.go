package plants

import (
	"math"

	"hollowbed/plants/fit"
	"hollowbed/plants/list"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// Guest is a plant that struggles and would do better in another garden of the same
// person. Costs are money, as those of Answers.
type Guest struct {
	Stake         string
	Zone          string // of the other garden
	Before, After season.Outlook
	Minutes       float64 // to lift and set it, the way between the gardens apart
	Cost, Else    float64 // there; and by the best answer here
}

// Into finds the struggling plants that the plan leaves where they are and that another
// garden would suit: at a height of its bed, in the sun of its zone, with room to its full
// spread, no limit that shuts a zone unknown, barred by no wish there, at no more than the
// risk that is accepted there, and cheaper by the margin of a move than the best answer
// here. What is left of a zone is shared out in the order of planted.csv. What notes
// taught of this garden's own ground counts as if it held there too.
func Into(in MoveInput, plan *Relocation, other *Judge, grown []placement.Planted) ([]Guest, error) {
	r, err := newRelocation(in)
	if err != nil {
		return nil, err
	}
	e := other.Exposure
	free, most := map[string]float64{}, e.Lot.Garden.Wishes.YearlyRiskMax
	for _, z := range e.Zones {
		free[z.Zone] = z.AreaM2
	}
	for _, row := range grown {
		if p, ok := in.Catalogue.ByID(row.ID); ok {
			free[e.Lot.Bed.ZoneAt(row.X, row.Y)] -= groundM2(&p)
		}
	}
	var out []Guest
	for i, s := range r.plants {
		if s.answers == nil || !(s.plant.SpreadCM > 0) || plan.moves(s.row.Stake) {
			continue
		}
		ground := list.AreaPerPlantM2(s.plant.SpreadCM)
		prospect := in.Model.Prospect(r.bearing(s.row.Stake, s.plant), fit.DefaultPredictor(), max(1, len(e.Whole)))
		best := Guest{Stake: s.row.Stake, Before: r.outlook(i, i).Outlook, Minutes: s.how.minutes(), Cost: math.Inf(1), Else: r.home(i)}
		for band, b := range e.Bands {
			v := other.Band(s.plant, band)
			wish, _ := other.wishBar(&v.Plant, b.Zone) // v.Bar does not tell where its risk by the table comes first
			if !(b.AreaM2 > 0) || free[b.Zone] < ground || v.Unfit != NoBar || v.Bar == BarUnknown || wish != NoBar {
				continue
			}
			o := other.outlook(prospect, s.plant, Spot{Band: band, Zone: b.Zone, SunH: e.Lot.Sun.Of(b.Zone)})
			cost := r.problem.Plants[i].Weight*(o.LossMoved(r.in.Seasons)+s.disturb/float64(r.in.Seasons)+r.problem.Caution*best.Before.Harm(o, r.in.Seasons)) + r.pay(best.Minutes)
			if o.YearlyRisk <= most && cost < best.Cost {
				best.Zone, best.After, best.Cost = b.Zone, o, cost
			}
		}
		if best.Cost+moveMargin*r.pay(best.Minutes) < best.Else {
			free[best.Zone] -= ground
			out = append(out, best)
		}
	}
	return out, nil
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
