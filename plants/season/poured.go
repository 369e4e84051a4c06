package season

import (
	"strings"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
)

// Kept is a standing plant with what is known of its kind and its places.
type Kept struct {
	Standing
	Plant catalogue.Plant
	Spots []Spot // by Stays
}

// Spot is what a place is like.
type Spot struct {
	Zone string
	Band int // index in the bands of the bed; -1 outside it
	SunH float64
}

// unknownSpreadCM is that of a plant whose kind does not state it. Assumption, no source.
const unknownSpreadCM = 45

// poured is the water that entries say was given, mm on the ground about each
// plant, by its stake and the day of the run. Litres for a zone, or for all the
// bed, are shared by the ground about the plants that stand there on that day.
func (p *Past) poured(rec *Notes, all []Kept) map[string]map[int]float64 {
	out := map[string]map[int]float64{}
	for _, e := range rec.Current() {
		if e.Kind != Watered {
			continue
		}
		zone, ground := e.zoneStake(), 0.0
		var on []string
		for _, k := range all {
			switch {
			case !k.standsOn(e.Date):
			case zone == "" && SameStake(e.Stake, k.Stake), zone == allPlants, zone != "" && k.spotOn(e.Date).Zone == zone:
				ground += p.groundM2(k, e.Date)
				on = append(on, k.Stake)
			}
		}
		for _, stake := range on {
			if out[stake] == nil {
				out[stake] = map[int]float64{}
			}
			out[stake][dayOf(p.Care.Weather.Start, e.Date)] += e.WaterL / ground // 1 L on 1 m2 is 1 mm
		}
	}
	return out
}

func (s Standing) standsOn(day time.Time) bool {
	return !s.Planted.After(day) && (s.Gone.IsZero() || s.Gone.After(day))
}

func (k Kept) spotOn(day time.Time) Spot { return k.Spots[k.stayOn(day)] }

// groundM2 is the ground that is watered about a plant on a day.
func (p *Past) groundM2(k Kept, day time.Time) float64 {
	w, spread := p.Care.Weather, k.Plant.SpreadCM
	if !(spread > 0) {
		spread = unknownSpreadCM
	}
	start, rooted := p.start(k.Stays[k.stayOn(day)])
	for d := start; d < min(dayOf(w.Start, day), len(w.Growing)) && rooted < 1; d++ {
		if w.Growing[d] {
			rooted += 1 / (w.GrowingDaysAYear * p.Care.Setting.RootingYears)
		}
	}
	rooted = min(1, rooted)
	_, pot := p.Care.Setting.Pot(k.Plant)
	return care.WateredM2(pot, spread, rooted)
}

// MeetAll finds what every plant met in its cases, those of Seasons; plants outside the
// bed have none left.
func (p *Past) MeetAll(rec *Notes, all []Kept, cases []Case) []Case {
	var out []Case
	poured, at := p.poured(rec, all), map[string]int{}
	for i, k := range all {
		at[k.Stake] = i
	}
	for _, c := range cases {
		i, ok := at[strings.TrimSuffix(c.Plant, guess)]
		if !ok || all[i].Spots[c.stay].Band < 0 {
			continue
		}
		k := all[i]
		spot := k.Spots[c.stay]
		p.meet(&c, k.Standing, k.Plant, spot.Band, spot.SunH, poured[k.Stake])
		out = append(out, c)
	}
	return out
}
