// Package care carries a bed through its first year: when to water which zone
// and how much, which plants are safe only once they have rooted, when to let
// the roof water in, and what to look after month by month.
//
// Input is the hourly balance by the day (Weather), the ground, what was
// planted (Stand) and how the gardener waters (Setting); output is values. The
// clock, the record of this year so far and a forecast are passed in. It words
// no figures, opens no files and asks no clock. It leaves out: salt, frost
// heave, slug and rabbit, and water drawn up from below the roots.
package care

import (
	"fmt"
	"math"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// Setting is how plants start and how they are watered. Default gives the
// figures that hold unless the gardener says otherwise.
type Setting struct {
	PotDepthCM, PotWidthCM float64 // of the soil that comes with the plant
	RootingYears           float64 // from the pot to the mature root depth
	YoungUse               float64 // water use just planted, as a share of that of the grown bed
	SettleDays             int     // just after planting ...
	SettleGapDays          int     // ... fewest days between two waterings
	ReachShare             float64 // of the water poured, what reaches the roots
	HoseLMin               float64 // what the hose gives, L/min
	RiskMax                float64 // share of plants lost that is put up with in a year
	Never                  bool    // nobody waters after the day of planting
}

// Default returns the usual figures.
//
//   - Pot 15 cm deep and wide: a one-gallon nursery pot (common practice, no
//     source).
//   - Rooted after one growing season: water new perennials for one entire
//     growing season, and if planted in autumn until the next winter (advice of
//     Green Up Glen Rock, New Jersey); a schedule of 12 months (Master Gardeners
//     of San Diego County); SOURCES.md.
//   - Just planted they use two thirds of what the grown bed does: FAO-56 Table
//     12, small vegetables, Kc 0.7 at first and 1.05 at full size (from memory).
//   - In the first two weeks every other day where it is dry, then as the plants
//     ask for it (course.asks; the same sources, and common practice).
//   - 80 % of hand watering reaches the roots (common practice, no source).
//   - Hose 15 L/min, about 4 US gal/min, with a spray head (common practice, no
//     source): fill a bucket by the watch and state your own.
func Default() Setting {
	return Setting{
		PotDepthCM: 15, PotWidthCM: 15, RootingYears: 1, YoungUse: 2.0 / 3,
		SettleDays: 14, SettleGapDays: 2, ReachShare: 0.8, HoseLMin: 15, RiskMax: 0.10,
	}
}

// check refuses settings that cannot be.
func (s Setting) check() error {
	for _, v := range []struct {
		name        string
		value       float64
		above, most float64
	}{
		{"pot depth, cm", s.PotDepthCM, 0, 200}, {"pot width, cm", s.PotWidthCM, 0, 200},
		{"rooting time, years", s.RootingYears, 0, 10}, {"water use just planted", s.YoungUse, 0, 1}, {"share that reaches the roots", s.ReachShare, 0, 1},
		{"hose rate, L/min", s.HoseLMin, 0, 1000}, {"risk put up with", s.RiskMax, 0, 1},
	} {
		if !(v.value > v.above && v.value <= v.most) {
			return fmt.Errorf("care: %s is %g: want more than %g and at most %g", v.name, v.value, v.above, v.most)
		}
	}
	if s.SettleDays < 0 || s.SettleGapDays < 1 {
		return fmt.Errorf("care: %d days between waterings for the first %d days: want at least 1", s.SettleGapDays, s.SettleDays)
	}
	return nil
}

// Weather is a balance by the day. All slices run along the days of the run.
type Weather struct {
	Run              *water.Result
	Start            time.Time // of the record
	RainMM           []float64 // what a rain gauge collects in the day
	Growing          []bool
	Lost             []bool  // the day's rain is not known
	GrowingDaysAYear float64 // of the climate; roots grow on these days
	Known            int     // days from here on are a forecast

	frozen [13]bool // months in which the ground is frozen or thaws, by number: no hose is out
}

// lostHours is how many hours without a rain value end a dry spell, as in the
// balance. Choice of this project, no source.
const lostHours = 6

// NewWeather puts a run beside the record that it came from. growingDaysAYear
// is that of a record of whole years (GrowingDaysAYear); 0 takes this record's.
func NewWeather(run *water.Result, rec *site.Record, growingDaysAYear float64) *Weather {
	if len(run.DemandMM) != len(rec.Days) {
		panic(fmt.Sprintf("care: a run of %d days for a record of %d", len(run.DemandMM), len(rec.Days)))
	}
	w := &Weather{
		Run: run, Start: rec.Start, Growing: rec.Growing(), GrowingDaysAYear: growingDaysAYear,
		RainMM: make([]float64, len(rec.Days)), Lost: make([]bool, len(rec.Days)), Known: len(rec.Days),
	}
	months := MonthsOf(rec)
	for m := time.January; m <= time.December; m++ {
		w.frozen[m] = months[m].MeanC < frozenMeanC || months[after(m, -1)].MeanC < frozenMeanC
	}
	if !(growingDaysAYear > 0) {
		w.GrowingDaysAYear = GrowingDaysAYear(rec)
	}
	for d := range rec.Days {
		w.RainMM[d], _ = rec.DayRainMM(d)
		missing := 0
		for _, m := range rec.Missing[24*d : 24*d+24] {
			if m {
				missing++
			}
		}
		w.Lost[d] = missing >= lostHours
	}
	return w
}

// GrowingDaysAYear returns the mean number of growing days in a year of a
// record; 365.25 for a record that has none, so that nothing is divided by 0.
func GrowingDaysAYear(rec *site.Record) float64 {
	n := 0
	for _, g := range rec.Growing() {
		if g {
			n++
		}
	}
	if n == 0 {
		return daysAYear
	}
	return daysAYear * float64(n) / float64(len(rec.Days))
}

const daysAYear = 365.25

func (w *Weather) date(day int) time.Time { return w.Start.AddDate(0, 0, day) }

// DayOf returns the day of the run that holds a date; it may lie outside.
func (w *Weather) DayOf(t time.Time) int {
	midnight := time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, w.Start.Location())
	return int(math.Floor(midnight.Sub(w.Start).Hours() / 24))
}

// Stand is what was planted in one zone.
type Stand struct {
	Zone   string
	AreaM2 float64
	Groups []Group
}

// Group is plants of one species.
type Group struct {
	Plant catalogue.Plant
	Count int
	Safe  bool // they live their first year without any help: see Bed.Unaided

	alone float64   // risk of that
	limit fit.Limit // that is hardest then
}

// rootCM is the depth that the shallowest species of a stand reaches; the
// depth of the mix where no plant says.
func (s Stand) rootCM(g water.Ground) float64 {
	root := math.Inf(1)
	for _, group := range s.Groups {
		root = min(root, MatureCM(group.Plant, g))
	}
	if math.IsInf(root, 1) {
		return g.MixDepthMM / 10
	}
	return root
}

// MatureCM is how deep a plant's roots reach once grown: the depth of the mix
// where the catalogue does not say.
func MatureCM(p catalogue.Plant, g water.Ground) float64 {
	if math.IsNaN(p.RootCM) || !(p.RootCM > 0) {
		return g.MixDepthMM / 10
	}
	return p.RootCM
}

// Bed is a bed in its first year.
type Bed struct {
	Weather *Weather
	Ground  water.Ground
	Setting Setting

	Shut      *Weather // the same without the roof water, which is kept out ...
	ShutWeeks int      // ... for so many weeks from planting
}

// driest returns the band of a zone that is offered the least water over the
// record, which is the one that watering goes by; -1 if the bed has no such zone.
func (w *Weather) driest(zone string) int {
	best, least := -1, math.Inf(1)
	for i, band := range w.Run.Bands {
		if band.Zone != zone || !(band.AreaM2 > 0) {
			continue
		}
		sum := 0.0
		for _, mm := range w.Run.OfferedMM[i] {
			sum += mm
		}
		if sum < least {
			best, least = i, sum
		}
	}
	return best
}

// wettest returns the lowest band of a zone, -1 if there is none.
func wettest(bands []basin.Band, zone string) int {
	for i, band := range bands {
		if band.Zone == zone && band.AreaM2 > 0 {
			return i
		}
	}
	return -1
}
