// Package fit judges one plant in one place: how likely a year is to pass one
// of its limits, which limit, and when it happened.
//
// Input is a Bed (the balance of a lot with its years) and a plant; output is
// a Fit for a band or a zone. What the catalogue does not know is reported as
// unknown and never counted as fine.
package fit

import (
	"math"
	"slices"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/water"
)

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

const (
	// leastSeverity stands for "nothing at all" on the log scale.
	leastSeverity = 0.01
	// coldScaleC is how many degrees below its limit multiply a plant's
	// severity by e: one USDA hardiness zone, 10 deg F. Assumption, no source.
	coldScaleC = 50.0 / 9
	// assumedSpread is the standard deviation, in log units, of a limit that is
	// only assumed from a class: a factor of about 1.6 either way. Assumption,
	// no source; it widens the stated risk.
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

	MixFC, MixWP, MixDepthMM float64 // volume fractions, mm
	NativeFC, NativeWP       float64 // below the mix
	Predict                  Predictor
	Watered                  bool // deeply once a week in dry spells

	dry map[rootKey]*dryYears // worked out so far
}

// Year is what one year did to a plant in a place, as a multiple of each
// limit: above 1 it is passed. NaN where the catalogue or the record does not
// know.
type Year struct {
	Name                     int
	Wet, Deep, Dry, Cold     float64
	WetH, DeepMM, DryD, MinC float64 // found, in the units of the limits
	WetFrom, DryFrom         time.Time
}

// Worst returns the limit nearest to being passed, and its severity; "" if no
// limit is known.
func (y Year) Worst() (Limit, float64) {
	limit, worst := Limit(""), math.NaN()
	for _, c := range []struct {
		l Limit
		v float64
	}{{TooWet, y.Wet}, {TooDeep, y.Deep}, {TooDry, y.Dry}, {TooCold, y.Cold}} {
		if !math.IsNaN(c.v) && !(c.v <= worst) {
			limit, worst = c.l, c.v
		}
	}
	return limit, worst
}

// Reason says what limits a plant: in its hardest year on record (or for sun,
// every year) this was found where that is borne.
type Reason struct {
	Limit          Limit
	Found, Allowed float64 // hours for TooWet, mm TooDeep, days TooDry, deg C TooCold, hours a day for sun
	Year           int     // 0 for sun
	When           time.Time
	Band           int // where, index in Run.Bands
	Assumed        bool
}

// Fit is the judgement of one plant in one band or zone.
type Fit struct {
	YearlyRisk float64 // chance that a year passes a limit, area-weighted over a zone; NaN if no limit is known
	SunLoss    float64 // fixed yearly loss for sun outside the range
	PastYears  int     // years on record past a limit, in the hardest band
	Years      int     // that this rests on
	Reason     Reason
	Unknown    []string // columns that the catalogue leaves empty, of those that matter
	Assumed    []string // columns that are assumed
	ByYear     []Year   // of the hardest band
}

// Survival returns the yearly chance to live: no limit passed, sun borne.
func (f Fit) Survival() float64 { return (1 - f.YearlyRisk) * (1 - f.SunLoss) }

// InBand judges a plant in one band with sunH hours of direct sun (NaN if not
// known).
func (b *Bed) InBand(p catalogue.Plant, band int, sunH float64) Fit {
	f := Fit{Years: len(b.Use), ByYear: b.years(p, band)}
	f.Unknown, f.Assumed = columnsKnown(p, sunH)
	logs := make([]float64, 0, len(f.ByYear))
	hardest := -1
	worst := math.Inf(-1)
	for i, y := range f.ByYear {
		_, v := y.Worst()
		if math.IsNaN(v) {
			continue
		}
		if v > 1 {
			f.PastYears++
		}
		logs = append(logs, math.Log(max(v, leastSeverity)))
		if v > worst {
			hardest, worst = i, v
		}
	}
	extra := 0.0
	if hardest >= 0 {
		f.Reason = reason(p, f.ByYear[hardest], band)
		if f.Reason.Assumed {
			extra = assumedSpread * assumedSpread
		}
	}
	f.YearlyRisk = b.Predict.YearlyRisk(logs, extra)
	f.addSun(p, sunH)
	return f
}

// InZone judges a plant over a zone: the risk is the mean over its bands by
// area; count, years and reason are those of its hardest band. ok is false if
// the bed has no such zone.
func (b *Bed) InZone(p catalogue.Plant, zone string, sunH float64) (f Fit, ok bool) {
	area, risk := 0.0, 0.0
	hardest := math.Inf(-1)
	for i, band := range b.Run.Bands {
		if band.Zone != zone || !(band.AreaM2 > 0) {
			continue
		}
		in := b.InBand(p, i, sunH)
		area += band.AreaM2
		risk += in.YearlyRisk * band.AreaM2
		if _, v := hardestYear(in.ByYear); !ok || v > hardest {
			f, hardest, ok = in, v, true
		}
	}
	if ok {
		f.YearlyRisk = risk / area
	}
	return f, ok
}

func hardestYear(years []Year) (index int, severity float64) {
	index, severity = -1, math.Inf(-1)
	for i, y := range years {
		if _, v := y.Worst(); v > severity {
			index, severity = i, v
		}
	}
	return index, severity
}

func (f *Fit) addSun(p catalogue.Plant, sunH float64) {
	short, over := p.SunMinH-sunH, sunH-p.SunMaxH
	off := 0.0
	switch {
	case short > 0:
		off = short
		f.Reason = sunReason(f.Reason, TooDim, sunH, p.SunMinH, off)
	case over > 0:
		off = over
		f.Reason = sunReason(f.Reason, TooSun, sunH, p.SunMaxH, off)
	}
	f.SunLoss = SunLoss(off)
}

// SunLoss returns the fixed yearly loss of a plant that stands so many hours
// of direct sun a day outside its range.
func SunLoss(hoursOff float64) float64 { return min(1, sunLossPerH*hoursOff) }

// sunReason puts the sun before a weather limit that is not passed.
func sunReason(weather Reason, l Limit, found, allowed, off float64) Reason {
	if off <= 0 || weather.Limit != "" && weather.severity() > 1 {
		return weather
	}
	return Reason{Limit: l, Found: found, Allowed: allowed}
}

func (r Reason) severity() float64 {
	if r.Limit == TooCold {
		return math.Exp((r.Allowed - r.Found) / coldScaleC)
	}
	return r.Found / r.Allowed
}

// columnsKnown names the columns that the catalogue leaves empty or assumes,
// of those that decide whether a plant lives.
func columnsKnown(p catalogue.Plant, sunH float64) (unknown, assumed []string) {
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
	if math.IsNaN(sunH) {
		unknown = append(unknown, "sun of the place")
	}
	return unknown, assumed
}

func reason(p catalogue.Plant, y Year, band int) Reason {
	limit, _ := y.Worst()
	r := Reason{Limit: limit, Year: y.Name, Band: band, Assumed: slices.Contains(p.Assumed, limit.Column())}
	switch limit {
	case TooWet:
		r.Found, r.Allowed, r.When = y.WetH, p.WetH, y.WetFrom
	case TooDeep:
		r.Found, r.Allowed, r.When = y.DeepMM, p.PondMM, y.WetFrom
	case TooDry:
		r.Found, r.Allowed, r.When = y.DryD, p.DryD, y.DryFrom
	case TooCold:
		r.Found, r.Allowed = y.MinC, p.LowestC
	}
	return r
}
