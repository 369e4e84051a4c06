// Package fit judges one plant in one place: how likely a year is to pass one
// of its limits, which limit, and when it happened.
//
// Input is a Bed (the balance of a lot with its years) and a plant; output is
// a Fit for a band or a zone. What the catalogue does not know is reported as
// unknown and never counted as fine.
package fit

import (
	"cmp"
	"math"
	"slices"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/water"
)

// OfThePlace ends the name of what is not known of a place rather than of a
// plant, in Fit.Unknown.
const OfThePlace = " of the place"

// Limit names what a plant cannot bear.
type Limit string

// The limits that weather sets, in the order in which ties are broken.
const (
	TooWet  Limit = "too wet"
	TooDeep Limit = "too deep"
	TooDry  Limit = "too dry"
	TooCold Limit = "too cold"
	TooDim  Limit = "too little sun"
	TooSun  Limit = "too much sun"
)

// Limits lists every limit.
func Limits() []Limit { return []Limit{TooWet, TooDeep, TooDry, TooCold, TooDim, TooSun} }

func weatherLimits() [4]Limit { return [4]Limit{TooWet, TooDeep, TooDry, TooCold} }

// Column returns the column of the plant table that states the limit.
func (l Limit) Column() string {
	switch l {
	case TooWet:
		return "wet_h"
	case TooDeep:
		return "pond_mm"
	case TooDry:
		return "dry_d"
	case TooCold:
		return "lowest_c"
	case TooDim:
		return "sun_min_h"
	}
	return "sun_max_h"
}

// Scaled returns a limit's value in the catalogue moved by a factor of the
// severity: twice the hours or days; for cold one hardiness zone lower for each
// factor e.
func (l Limit) Scaled(value, factor float64) float64 {
	if l == TooCold {
		return value - coldScaleC*math.Log(factor)
	}
	return value * factor
}

const (
	// The least that the balance tells apart: a limit below counts as this
	// much. Wet by the hour, dry by the day; a film of water is no pond.
	leastWetH   = 1
	leastDryD   = 1
	leastPondMM = 10
	// coldScaleC is how many degrees below its limit multiply a plant's
	// severity by e: one USDA hardiness zone, 10 deg F. It brings the spread of
	// a year's lowest temperature (3 to 4 deg C inland) to about that of the
	// wet and dry spells on the log scale. Assumption, no source.
	coldScaleC = 50.0 / 9
	// assumedSpread is the standard deviation, in log units, of a limit that is
	// only assumed from a class: a factor of about 1.6 either way. Assumption,
	// no source; it draws the stated risk towards one half.
	assumedSpread = 0.5
	// wateredDays is the longest that watered plants go without, in days: deep
	// watering once a week. Common practice, no source.
	wateredDays = 7
	// sunLossPerH is the yearly loss for each hour of sun outside a plant's
	// range. Assumption, no source.
	sunLossPerH = 0.1
)

// Bed is what the balance found, with what fit needs beside it. It remembers
// what it has worked out: not for use by several goroutines at once.
type Bed struct {
	Run   *water.Result
	Start time.Time // of the record
	MinC  []float64 // lowest temperature by year; NaN if unknown
	Use   []int     // years that count, indices in Run.Years

	Ground  water.Ground
	Predict Predictor
	Watered bool // deeply once a week in dry spells

	dry map[rootKey]*dryYears // worked out so far
}

// Year is what one year did to a plant in a place, as a multiple of each
// limit: above 1 it is passed. NaN where the catalogue or the record does not
// know.
type Year struct {
	Name                     int
	Wet, Deep, Dry, Cold     float64
	WetH, DeepMM, DryD, MinC float64 // found, in the units of the limits
	DeepByWet                float64 // by how many log units Deep falls for each that the plant bears more of Wet, 0 to 1
	WetFrom, DryFrom         time.Time
	RestH                    float64 // hours of the wet spell at rest: WetH counts water.DormantShare of them
}

// Worst returns the limit nearest to being passed, and its severity; "" if no
// limit is known.
func (y Year) Worst() (Limit, float64) {
	all := y.severities()
	k, s := all.worst()
	if k < 0 {
		return "", s
	}
	return weatherLimits()[k], s
}

func (y Year) severities() severities { return severities{y.Wet, y.Deep, y.Dry, y.Cold} }

// Severity returns found over borne for a limit that weather sets.
func (y Year) Severity(l Limit) float64 {
	switch l {
	case TooWet:
		return y.Wet
	case TooDeep:
		return y.Deep
	case TooDry:
		return y.Dry
	case TooCold:
		return y.Cold
	}
	return math.NaN()
}

// Reason says what limits a plant: in its hardest year on record (or for sun,
// every year) this was found where that is borne.
type Reason struct {
	Limit          Limit
	Found, Allowed float64 // hours for TooWet, mm TooDeep, days TooDry, deg C TooCold, hours a day for sun
	Year           int     // 0 for sun
	When           time.Time
	Band           int // where, index in Run.Bands; 0 for sun
	Assumed        bool
	RestH          float64 // of TooWet: hours of the spell in dormancy, of which Found counts water.DormantShare
}

// Fit is the judgement of one plant in one band or zone.
type Fit struct {
	YearlyRisk float64  // chance that a year passes a limit, area-weighted over a zone; NaN if no limit is known
	IfRight    float64  // the same at its hardest place by the weather alone, were its limits just as stated
	SunLoss    float64  // fixed yearly loss for sun outside the range
	PastYears  int      // years on record past a limit, in the hardest band
	Years      int      // that this rests on
	Reason     Reason   // sun, where no limit of the weather was passed and the sun is off
	Weather    Reason   // what limits it whatever its sun
	Sun        Reason   // how its sun is off; the zero Reason where it is not
	Unknown    []string // columns that the catalogue leaves empty, of those that matter
	Assumed    []string // columns that are assumed
	ByYear     []Year   // of the hardest band; nil from AllInZone
}

// Survival returns the yearly chance to live: no limit passed, sun borne.
func (f Fit) Survival() float64 { return (1 - f.YearlyRisk) * (1 - f.SunLoss) }

// InBand judges a plant in one band with sunH hours of direct sun (NaN if not
// known).
func (b *Bed) InBand(p catalogue.Plant, band int, sunH float64) Fit {
	years := b.years(p, band)
	hard := make([]severities, len(years))
	for i := range years {
		hard[i] = years[i].severities()
	}
	f := b.judged(&p, band, sunH, hard, b.Predict.risk(hard, vagueness(&p)))
	f.ByYear = years
	return f
}

// judged is a plant whose severities in a band are known by year, with the risk
// stated, but for ByYear.
func (b *Bed) judged(p *catalogue.Plant, band int, sunH float64, hard []severities, risk float64) Fit {
	f := Fit{YearlyRisk: risk, IfRight: b.Predict.risk(hard, [4]float64{}), Years: len(hard)}
	f.Unknown, f.Assumed = columnsKnown(p)
	if b.noCold() {
		f.Unknown = append(f.Unknown, "cold"+OfThePlace)
	}
	if math.IsNaN(sunH) {
		f.Unknown = append(f.Unknown, "sun"+OfThePlace)
	}
	for i := range hard {
		if _, s := hard[i].worst(); s > 1 {
			f.PastYears++
		}
	}
	if hardest, _ := hardestYear(hard); hardest >= 0 {
		f.Weather = reason(p, b.At(*p, band, b.Use[hardest]), band)
	}
	f.Reason = f.Weather
	f.addSun(p, sunH)
	return f
}

// InZone judges a plant over a zone: the risk is the mean over its bands by
// area; count, years and reason are those of the band of highest risk (of two
// alike, the one with the hardest year). ok is false if the bed has no such
// zone.
func (b *Bed) InZone(p catalogue.Plant, zone string, sunH float64) (f Fit, ok bool) {
	g := b.newGauge(zone)
	if len(g.bands) == 0 {
		return Fit{}, false
	}
	band, f := g.judge(&p, sunH)
	f.ByYear = b.years(p, band)
	return f, true
}

// AllInZone is InZone for many plants, on all processors, in a zone that the bed
// has; ByYear is left out. Where stop, which may be nil, says that the answer is
// no longer wanted, the plants that were not reached are left without one.
func (b *Bed) AllInZone(plants []catalogue.Plant, zone string, sunH float64, stop func() bool) []Fit {
	b.ready(plants, b.bandsOf(zone))
	fits := make([]Fit, len(plants))
	batches := slices.Collect(slices.Chunk(byWetH(plants), 64))
	each(len(batches), func(k int) {
		g := b.newGauge(zone)
		for _, i := range batches[k] {
			if stop == nil || !stop() {
				_, fits[i] = g.judge(&plants[i], sunH)
			}
		}
	})
	return fits
}

// RisksInZone is the YearlyRisk of AllInZone alone, by one processor.
func (b *Bed) RisksInZone(plants []catalogue.Plant, zone string) []float64 {
	risks := make([]float64, len(plants))
	g := b.newGauge(zone)
	for _, i := range byWetH(plants) {
		_, risks[i] = g.risk(&plants[i])
	}
	return risks
}

// byWetH orders plants so that those alike in wet hours are beside each other.
func byWetH(plants []catalogue.Plant) (order []int) {
	for i := range plants {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(plants[i].WetH, plants[j].WetH) })
	return order
}

// bandsOf are the bands that are ground of a zone.
func (b *Bed) bandsOf(zone string) (bands []int) {
	for band := range b.Run.Bands {
		if in := &b.Run.Bands[band]; in.Zone == zone && in.AreaM2 > 0 {
			bands = append(bands, band)
		}
	}
	return bands
}

// hardestYear returns the year nearest to a limit, or farthest past one; -1 if
// no limit is known.
func hardestYear(hard []severities) (index int, severity float64) {
	index, severity = -1, math.Inf(-1)
	for i := range hard {
		if _, s := hard[i].worst(); s > severity {
			index, severity = i, s
		}
	}
	return index, severity
}

// noCold says whether the record has no temperature in any year that counts.
func (b *Bed) noCold() bool {
	return !slices.ContainsFunc(b.Use, func(y int) bool { return !math.IsNaN(b.MinC[y]) })
}

func isAssumed(p *catalogue.Plant, l Limit) bool { return slices.Contains(p.Assumed, l.Column()) }

// vagueness is by how much each limit may be off, as the standard deviation of its
// logarithm: what the built-in table says, else assumedSpread where it is assumed.
func vagueness(p *catalogue.Plant) (spread [4]float64) {
	if p.Wild != nil {
		return p.Wild.Spread
	}
	for k, l := range weatherLimits() {
		if len(p.Assumed) > 0 && isAssumed(p, l) {
			spread[k] = assumedSpread
		}
	}
	return spread
}

// addSun adds the loss for sun outside the range, and puts it before a weather
// limit that was never passed.
func (f *Fit) addSun(p *catalogue.Plant, sunH float64) {
	short, over := p.SunMinH-sunH, sunH-p.SunMaxH
	off := short // the other end of the range may not be known
	switch {
	case short > 0:
		f.Sun = Reason{Limit: TooDim, Found: sunH, Allowed: p.SunMinH}
	case over > 0:
		off = over
		f.Sun = Reason{Limit: TooSun, Found: sunH, Allowed: p.SunMaxH}
	default:
		return
	}
	f.SunLoss = SunLoss(off)
	f.Sun.Assumed = isAssumed(p, f.Sun.Limit)
	if f.PastYears == 0 {
		f.Reason = f.Sun
	}
}

// SunLoss returns the fixed yearly loss of a plant that stands so many hours
// of direct sun a day outside its range.
func SunLoss(hoursOff float64) float64 { return min(1, sunLossPerH*hoursOff) }

// columnsKnown names the columns that the catalogue leaves empty or assumes,
// of those that decide whether a plant lives.
func columnsKnown(p *catalogue.Plant) (unknown, assumed []string) {
	for _, c := range []struct {
		name  string
		value float64
	}{
		{"sun_min_h", p.SunMinH}, {"sun_max_h", p.SunMaxH}, {"wet_h", p.WetH}, {"pond_mm", p.PondMM},
		{"dry_d", p.DryD}, {"lowest_c", p.LowestC},
	} {
		if math.IsNaN(c.value) {
			unknown = append(unknown, c.name)
		} else if slices.Contains(p.Assumed, c.name) {
			assumed = append(assumed, c.name)
		}
	}
	return unknown, assumed
}

func reason(p *catalogue.Plant, y Year, band int) Reason {
	limit, _ := y.Worst()
	r := Reason{Limit: limit, Year: y.Name, Band: band, Assumed: isAssumed(p, limit)}
	switch limit {
	case TooWet:
		r.Found, r.RestH, r.Allowed, r.When = y.WetH, y.RestH, p.WetH, y.WetFrom
	case TooDeep:
		r.Found, r.Allowed, r.When = y.DeepMM, p.PondMM, y.WetFrom
	case TooDry:
		r.Found, r.Allowed, r.When = y.DryD, p.DryD, y.DryFrom
	case TooCold:
		r.Found, r.Allowed = y.MinC, p.LowestC
	}
	return r
}
