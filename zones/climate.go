package zones

import (
	"math"

	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// Climate is a record made ready for the gardens of one latitude: its gaps
// filled, its evapotranspiration known, and all worked out that follows from
// it alone. It is only read, so that many lots may share one.
type Climate struct {
	record    *site.Record
	weather   *water.Weather
	facts     RecordFacts
	wettestMM float64 // rain of the wettest hour; NaN if the record tells none
	event95MM float64
	eventDays int // rain days that it rests on
}

// Climate makes a record ready for this garden, and for all others of its
// latitude and its evapotranspiration by month. The record is filled in.
func (g *Garden) Climate(rec *site.Record) (*Climate, error) {
	l := &Lot{Garden: g, Record: rec}
	if err := l.fillRecord(); err != nil {
		return nil, err
	}
	c := &Climate{facts: l.recordFacts(), wettestMM: wettestHourMM(rec)}
	c.event95MM, c.eventDays = site.Event95MM(rec)
	c.record = g.melted(rec)
	c.facts.Notes = c.record.Notes
	c.weather = water.NewWeather(c.record, g.Site.LatitudeDeg)
	return c, nil
}

// melted is the record as it reaches ground and roof.
func (g *Garden) melted(rec *site.Record) *site.Record {
	if g.Weather.Snow != "pack" {
		return rec
	}
	return rec.SnowMelt(g.Site.LatitudeDeg)
}

// PrepareUnder is Prepare with a climate made ready before; nil for no record.
func PrepareUnder(g *Garden, c *Climate) (*Lot, error) {
	l, err := newLot(g)
	if err != nil {
		return nil, err
	}
	return l, l.under(c)
}

// known is the lot's climate, if it still belongs to its record; else nil.
func (l *Lot) known() *Climate {
	if c := l.climate; c != nil && c.record == l.Record {
		return c
	}
	return nil
}

func (l *Lot) weather() *water.Weather {
	if c := l.known(); c != nil {
		return c.weather
	}
	return nil
}

// RecordFacts says what figures of this lot rest on.
func (l *Lot) RecordFacts() RecordFacts {
	if c := l.known(); c != nil {
		return c.facts
	}
	return l.recordFacts()
}

func (l *Lot) recordFacts() RecordFacts {
	r := l.Record
	f := RecordFacts{
		Source: r.Source, From: r.Start, To: r.Start.AddDate(0, 0, len(r.Days)-1), Years: l.Garden.wholeYears(r),
		Climate: r.Climate, Step: r.Step, Notes: r.Notes, Doubts: r.Doubts, Months: r.MonthMeans(), MissingHours: r.MissingHours(), Figures: r.Figures(),
	}
	return f
}

// wholeYears counts the years of a record that count here.
func (g *Garden) wholeYears(r *site.Record) int {
	n := 0
	for _, y := range r.Years(g.Site.LatitudeDeg) {
		if y.Whole {
			n++
		}
	}
	return n
}

// event95 is the 95th percentile rain day of the record, and on how many rain
// days it rests.
func (l *Lot) event95() (mm float64, days int) {
	if c := l.known(); c != nil {
		return c.event95MM, c.eventDays
	}
	return site.Event95MM(l.Record)
}

// wettestMM is the rain of the record's wettest hour; NaN if there is none.
func (l *Lot) wettestMM() float64 {
	switch c := l.known(); {
	case l.Record == nil:
		return math.NaN()
	case c != nil:
		return c.wettestMM
	}
	return wettestHourMM(l.Record)
}

func wettestHourMM(rec *site.Record) float64 {
	if mm, hour := site.WettestHour(rec); hour >= 0 {
		return mm
	}
	return math.NaN()
}
