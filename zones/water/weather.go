package water

import (
	"slices"

	"hollowbed/zones/site"
)

// Weather is what the balance works out of a record before any water runs: the
// sun's share of each hour, the growing season, and which gaps end spells. It is
// the same for every bed under the record, only read, and may be shared.
type Weather struct {
	rec    *site.Record
	latDeg float64

	sun            []*[24]float64 // share of a day's ET0 in each hour, by day
	growing        []bool         // by day
	rainless       []bool         // by day
	lost           []bool         // by day: an hour has no rain value
	broken, gapDay []bool         // hours that end wet spells, days that end dry ones
}

// NewWeather prepares a record for the balance at a latitude.
func NewWeather(rec *site.Record, latDeg float64) *Weather {
	w := &Weather{rec: rec, latDeg: latDeg, growing: rec.Growing()}
	w.broken, w.gapDay = gaps(rec.Missing)
	sun := sunTable(latDeg)
	for d := range rec.Days {
		w.sun = append(w.sun, &sun[rec.Start.AddDate(0, 0, d).YearDay()-1])
		w.rainless = append(w.rainless, slices.Max(rec.RainMM[24*d:24*d+24]) == 0)
		w.lost = append(w.lost, slices.Contains(rec.Missing[24*d:24*d+24], true))
	}
	return w
}

// weather is the one that came with the setup, if it belongs to the record.
func (s Setup) weather(rec *site.Record) *Weather {
	if w := s.Weather; w != nil && w.rec == rec && w.latDeg == s.LatitudeDeg {
		return w
	}
	return NewWeather(rec, s.LatitudeDeg)
}
