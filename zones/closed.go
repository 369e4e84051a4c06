package zones

import (
	"math"
	"slices"

	"hollowbed/zones/site"
	"hollowbed/zones/table"
	"hollowbed/zones/water"
)

// What the care of a young bed asks of a lot beyond its exposure: the same bed
// with the roof water kept out, the same bed under other weather, and how fast
// a hose fills it.

// Closed prepares the same bed with nothing draining to it and runs its record:
// only the rain that falls on the bed itself comes in.
func (l *Lot) Closed() (*Exposure, error) {
	shut := *l
	shut.Catches, shut.CatchM2, shut.SurfaceWhy = nil, 0, nil
	return shut.Expose()
}

// Followed is the exposure of this lot to its record repeated until it is that many days
// long, so that a first year from any day can be seen.
func (l *Lot) Followed(days int) (*Exposure, error) {
	longer, rec := *l, *l.Record
	longer.Record = &rec
	for len(rec.Days) < days {
		rec.Days = slices.Concat(rec.Days, l.Record.Days)
		rec.RainMM = slices.Concat(rec.RainMM, l.Record.RainMM)
		rec.Missing = slices.Concat(rec.Missing, l.Record.Missing)
	}
	return longer.Expose()
}

// Setup is what the balance of this lot is run with.
func (l *Lot) Setup() water.Setup { return l.setup(l.Bed) }

// RunOver runs the balance of this lot over another record, which may be shorter than a
// year and is filled in as Prepare does.
func (l *Lot) RunOver(rec *site.Record) (*water.Result, error) {
	return l.RunWindows(rec, rec.Years(l.Garden.Site.LatitudeDeg))
}

// RunWindows is RunOver with windows in place of years.
func (l *Lot) RunWindows(rec *site.Record, windows []site.Year) (*water.Result, error) {
	other := *l
	other.Record = rec
	if err := other.fillRecord(); err != nil {
		return nil, err
	}
	return water.RunWindows(other.setup(other.Bed), l.Garden.melted(rec), windows)
}

// ParseHoseLMin reads what a hose gives, in litres a minute: L/min, L/s,
// gal/min (US). More than nothing.
func ParseHoseLMin(text string) (float64, error) {
	const lPerGal = 1000 * m3PerGal
	q := quantity{
		want: "what the hose gives with its unit, such as 4 gal/min or 15 L/min",
		units: []unit{
			{names: []string{"l/min", "litres/min", "liters/min", "litres per minute", "liters per minute"}, shown: "L/min", factor: 1},
			{names: []string{"l/s", "litres per second", "liters per second"}, shown: "L/s", factor: 60},
			{names: []string{"gal/min", "gpm", "gallons/min", "gallons per minute"}, factor: lPerGal},
		},
	}
	v, err := parseWith(q, text)
	if err == nil && !(v > 0) {
		return math.NaN(), table.Faults{{Value: text, Want: q.wanted() + ", more than nothing"}}
	}
	return v, err
}
