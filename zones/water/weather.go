package water

import "hollowbed/zones/site"

// Weather is what the balance works out of a record before any water runs: the
// sun's share of each hour, the growing season, and which gaps end spells. It is
// the same for every bed under the record, only read, and may be shared.
type Weather struct {
	rec    *site.Record
	latDeg float64

	sun            *[366][24]float64 // share of a day's ET0 in each hour, by day of the year
	growing        []bool            // by day
	broken, gapDay []bool            // hours that end wet spells, days that end dry ones
}

// NewWeather prepares a record for the balance at a latitude.
func NewWeather(rec *site.Record, latDeg float64) *Weather {
	w := &Weather{rec: rec, latDeg: latDeg, sun: sunTable(latDeg), growing: rec.Growing()}
	w.broken, w.gapDay = gaps(rec.Missing)
	return w
}

// sunShares are those that came with the setup, if they are of its latitude.
func (s Setup) sunShares() *[366][24]float64 {
	if w := s.Weather; w != nil && w.latDeg == s.LatitudeDeg {
		return w.sun
	}
	return sunTable(s.LatitudeDeg)
}

// weather is the one that came with the setup, if it belongs to the record.
func (s Setup) weather(rec *site.Record) *Weather {
	if w := s.Weather; w != nil && w.rec == rec && w.latDeg == s.LatitudeDeg {
		return w
	}
	return NewWeather(rec, s.LatitudeDeg)
}
