package zones

import (
	"slices"
	"time"

	"hollowbed/zones/basin"
)

// yearView is one year in one place, day by day, for a chart.
type yearView struct {
	Name     int
	Band     int
	First    time.Time
	Days     []yearDay
	Growing  [][2]int // growing seasons: numbers of first and last day, 0 is First
	Wet, Dry Spell    // longest of the year here
}

// yearDay is one day of a yearView.
type yearDay struct {
	RainMM float64
	PondMM float64 // deepest water over the bottom
	Water  float64 // share of the available water left in the mix
}

// DriestYear shows the year with the longest dry spell at the driest height of
// the slope, or of the bottom where there is no slope: that which Worst tells of.
func (e *Exposure) DriestYear() (yearView, error) {
	band := e.driest()
	best := e.Whole[0]
	for _, y := range e.Whole {
		if e.Run.Exposure[band][y].Dry.Hours > e.Run.Exposure[band][best].Dry.Hours {
			best = y
		}
	}
	year := e.Run.Years[best]
	v := yearView{
		Name: year.Name, Band: band, First: e.Lot.Record.Start.AddDate(0, 0, year.FromDay),
		Wet: e.spell(best, e.Run.Exposure[band][best].Wet), Dry: e.spell(best, e.Run.Exposure[band][best].Dry),
	}
	here, err := e.days(band, year.FromDay, year.ToDay)
	if err != nil {
		return v, err
	}
	bottom, err := e.days(0, year.FromDay, year.ToDay)
	if err != nil {
		return v, err
	}
	growing := e.Lot.Record.Growing()
	for i := range here {
		d := year.FromDay + i
		v.Days = append(v.Days, yearDay{RainMM: here[i].RainMM, PondMM: bottom[i].DeepestMM, Water: 1 - min(1, here[i].DepletionMM/e.tawMM())})
		if growing[d] && (i == 0 || !growing[d-1]) {
			v.Growing = append(v.Growing, [2]int{i, i})
		}
		if growing[d] {
			v.Growing[len(v.Growing)-1][1] = i
		}
	}
	return v, nil
}

// driest is the driest band of the slope; of the bottom where the bed has none.
func (e *Exposure) driest() int {
	i := slices.IndexFunc(e.Zones, func(z ZoneExposure) bool { return z.Zone == basin.Slope })
	return e.Zones[max(i, 0)].Driest
}
