package zones

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"

	"hollowbed/zones/climate"
	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

const nearestStation = "nearest"

// climateSeed makes the years of every garden: the same climate, the same years.
const climateSeed = 1

// enoughYears of record need no climate to lengthen them.
const enoughYears = 10

// FromClimate tells whether a climate makes the weather, wholly or in part.
func (w Weather) FromClimate() bool { return w.Station != "" || w.Monthly != "" }

// Open gives a weather file of the garden to take, with its name as shown.
type Open func(file string, take func(shown string, r io.Reader) error) error

// ReadWeather returns the weather that a garden rests on: its record, years of its
// climate, or, where the record has under ten whole years, both.
func (g *Garden) ReadWeather(open Open) (*site.Record, error) {
	w := g.Weather
	var rec *site.Record
	if w.File != "" {
		err := open(w.File, func(shown string, r io.Reader) (err error) {
			rec, err = site.ReadRecord(shown, r, w.Format, g.Site.LatitudeDeg)
			return err
		})
		if err != nil || !w.FromClimate() {
			return rec, err
		}
	}
	n, title, doubts, err := g.normals(open)
	if err != nil {
		return nil, err
	}
	pattern := cmp.Or(w.Pattern, site.Patterns()[0])
	if rec != nil {
		out, err := g.lengthen(rec, n, title, pattern)
		if err == nil && out.Climate != "" {
			out.Doubts = doubts
		}
		return out, err
	}
	rec = n.Record(climate.Years, climateSeed, pattern)
	rec.Doubts = doubts
	rec.Source, rec.Climate = "the climate of "+title, "from the climate of "+title+"; not a record"
	rec.Notes = append(rec.Notes, fmt.Sprintf("%d years made from the climate of %s; their dates mean nothing, and no day of them was measured", climate.Years, title))
	return rec, nil
}

// How far made years were off (TestMadeYearsAreTrue, 20 seeds; data/MEASURED.md).
const (
	madeOff   = "made years gave spells about a fifth off at seven long records, wet ones mostly too short: take risks as that unsure"
	monthsOff = "years made from twelve lines gave spells about a quarter off at seven long records, wet ones mostly too long: take risks as that unsure"
)

// normals are the months of the garden's climate, how they are named, and how far years
// made of them may be off.
func (g *Garden) normals(open Open) (n climate.Normals, title string, doubts []string, err error) {
	w := g.Weather
	if w.Monthly != "" {
		err = open(w.Monthly, func(shown string, r io.Reader) (err error) {
			n, err = climate.ReadMonthly(shown, r, climate.MonthlyFormat{RainUnit: w.RainUnit, TempUnit: w.TempUnit, WetDayMM: w.WetDayMM})
			return err
		})
		return n, "twelve months (" + w.Monthly + ")", append([]string{monthsOff}, n.Doubts()...), err
	}
	near, err := g.station()
	if err != nil {
		return n, "", nil, err
	}
	return near.Here(), g.Units.StationText(near), append([]string{madeOff}, near.Doubts()...), nil
}

// station finds the built-in station of the garden.
func (g *Garden) station() (climate.Near, error) {
	place := climate.Spot{LatDeg: g.Site.LatitudeDeg, LonDeg: g.Site.LongitudeDeg, ElevationM: math.NaN()}
	if !math.IsNaN(place.LonDeg) {
		place = climate.SpotAt(place.LatDeg, place.LonDeg)
	}
	if !strings.EqualFold(g.Weather.Station, nearestStation) {
		s, ok := climate.StationByID(g.Weather.Station)
		if !ok {
			panic("zones: no station " + g.Weather.Station) // refused when the file was read
		}
		return s.From(place), nil
	}
	near := climate.NearestTo(place, 1)
	if len(near) == 0 {
		return climate.Near{}, table.Faults{g.Fault("weather.station", g.Weather.Station,
			"no station is near: expected a place in the United States, or weather.monthly, a table of twelve months")}
	}
	return near[0], nil
}

// StationText says which station, how far it is and how much higher.
func (u Units) StationText(n climate.Near) string {
	var more []string
	if !math.IsNaN(n.KM) {
		more = append(more, u.Away(n.KM)+" away")
	}
	if high := math.Abs(n.HigherM); high >= 15 {
		way := " higher"
		if n.HigherM < 0 {
			way = " lower"
		}
		more = append(more, u.Height(high)+way)
	}
	return strings.Join(append([]string{n.Title()}, strings.Join(more, " and ")), ", ")
}

// Away prints a distance between places, given in kilometres.
func (u Units) Away(km float64) string {
	away, one := km, "km"
	if u != UnitsMetric {
		away, one = km/1.609344, "mile"
	}
	switch shown := round(away, 0); {
	case away < 1:
		return "under 1 " + one
	case shown == "1", u == UnitsMetric:
		return shown + " " + one
	default:
		return shown + " miles"
	}
}

// Height prints a difference in height of places, given in metres.
func (u Units) Height(m float64) string {
	return u.pick(round(m/mPerFt/10, 0)+"0 ft", round(m, 0)+" m")
}

// lengthen puts made years of its climate, held to its own months, before a short record.
func (g *Garden) lengthen(rec *site.Record, n climate.Normals, title, pattern string) (*site.Record, error) {
	years := g.wholeYears(rec)
	if years >= enoughYears {
		rec.Notes = append(rec.Notes, fmt.Sprintf("the climate of %s is not used: the record has %d whole years of its own", title, years))
		return rec, nil
	}
	held, apart, ok := climate.Hold(n, rec, years)
	if !ok {
		return nil, table.Faults{{File: rec.Source, Want: "too few days to compare with a climate: expected a year at least"}}
	}
	out := held.Before(rec, climate.Years-years, climateSeed, pattern)
	out.Climate = fmt.Sprintf("%d whole years of record and %d made from the climate of %s, held to the record; these are not a record", years, climate.Years-years, title)
	out.Notes = append(out.Notes, fmt.Sprintf("the record against that climate: rain %+.0f %%, wet days %+.0f %%, temperature %+.1f deg C; %.0f %% of the difference in rain is taken over, since %d years tell no more",
		100*(apart.Rain-1), 100*(apart.WetDays-1), apart.TempC, 100*apart.Taken, years))
	return out, nil
}
