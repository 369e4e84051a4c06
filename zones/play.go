package zones

import (
	"fmt"
	"slices"
	"time"

	"hollowbed/zones/basin"
	"hollowbed/zones/water"
)

// Play is a stretch of the record to be watched, frame by frame.
type Play struct {
	Start  time.Time // of the first frame
	Step   time.Duration
	Frames []frame
}

// frame is the bed at the end of a step.
type frame struct {
	RainMM  float64   // in the step
	Pond    bool      // water stands, at its highest in the step
	LevelMM float64   // of it, relative to the spill
	Wet     []bool    // by band of the exposure, at the end
	Water   []float64 // by band: share of the available water held
}

// WettestWeek plays by the hour the seven days in a row on which the pond stood deepest.
func (e *Exposure) WettestWeek() (Play, error) {
	const week = 7
	n := len(e.Lot.Record.Days)
	if n < week {
		return Play{}, fmt.Errorf("%s: %d days: want a week", e.Lot.Record.Source, n)
	}
	days, err := e.days(0, 0, n)
	if err != nil {
		return Play{}, err
	}
	sum, most, first := 0.0, -1.0, 0
	for d := range days {
		sum += days[d].DeepestMM
		if d >= week {
			sum -= days[d-week].DeepestMM
		}
		if d >= week-1 && sum > most+1e-9 {
			most, first = sum, d-week+1
		}
	}
	return e.play(first, first+week, 1)
}

// summerMargin is how many days are shown before and after the driest spell.
const summerMargin = 14

// DriestSummer plays by the day the longest dry spell at the driest height of the slope
// (or bottom), with two weeks before and after it.
func (e *Exposure) DriestSummer() (Play, error) {
	s := e.Bands[e.driest()].WorstDry
	start := e.Lot.Record.Start
	from := max(0, int(s.From.Sub(start).Hours()/24)-summerMargin)
	to := min(len(e.Lot.Record.Days), int(s.To.Sub(start).Hours()/24)+summerMargin)
	if s.Hours == 0 || from >= to {
		return Play{}, fmt.Errorf("%s: this bed was never short of water", e.Lot.Record.Source)
	}
	return e.play(from, to, 24)
}

// play walks days of the record in frames of so many hours.
func (e *Exposure) play(from, to, hours int) (Play, error) {
	all, err := water.Hours(e.Lot.setup(e.Lot.Bed), e.Lot.Record, from, to)
	if err != nil {
		return Play{}, err
	}
	out := Play{Start: e.Lot.Record.Start.AddDate(0, 0, from), Step: time.Duration(hours) * time.Hour}
	for i := 0; i < len(all); i += hours {
		f := frame{LevelMM: all[i].LevelMM}
		for _, h := range all[i : i+hours] {
			f.RainMM += h.RainMM
			f.Pond = f.Pond || h.Pond
			f.LevelMM = max(f.LevelMM, h.LevelMM)
			f.Wet, f.Water = h.Wet, h.Water
		}
		out.Frames = append(out.Frames, f)
	}
	return out, nil
}

// driest is the driest band of the slope; of the bottom where the bed has none.
func (e *Exposure) driest() int {
	i := slices.IndexFunc(e.Zones, func(z ZoneExposure) bool { return z.Zone == basin.Slope })
	return e.Zones[max(i, 0)].Driest
}
