package plants

import (
	"math"
	"slices"

	"hollowbed/plants/care"
	"hollowbed/plants/fit"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// Watering is what a planting counts on where wishes.watering says that it is
// watered every week of drought.
type Watering struct {
	Litres, Minutes float64      // of a dry year, one in ten, all of the bed
	Lost            []care.Group // at more than the accepted risk without it alone
	Safe            []string     // zones that lose none without it
}

// watering is that of some stands; nil where nobody counts on it.
func watering(e *zones.Exposure, stands []care.Stand, s care.Setting) *Watering {
	wishes := e.Lot.Garden.Wishes
	if wishes.Watering != zones.WaterWeekly || len(stands) == 0 {
		return nil
	}
	litres, _ := youngBed(e, s).WeeklyInDrought(stands, e.Whole)
	w := &Watering{Litres: site.OneYearInTen(litres)}
	w.Minutes = w.Litres / s.HoseLMin
	with, without := fitBed(e), fitBed(e)
	without.Watered = false
	for _, s := range stands {
		safe := true
		for _, g := range s.Groups {
			lives := func(b *fit.Bed) bool {
				f, _ := b.InZone(g.Plant, s.Zone, math.NaN())
				return f.YearlyRisk <= wishes.YearlyRiskMax
			}
			if lives(without) {
				continue
			}
			if safe = false; !lives(with) {
				continue
			}
			k := slices.IndexFunc(w.Lost, func(o care.Group) bool { return o.Plant.ID == g.Plant.ID })
			if k < 0 {
				k, w.Lost = len(w.Lost), append(w.Lost, care.Group{Plant: g.Plant})
			}
			w.Lost[k].Count += g.Count
		}
		if safe {
			w.Safe = append(w.Safe, s.Zone)
		}
	}
	return w
}
