package plants

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// Taught is what a garden's own notes say of its ground and its sun.
type Taught struct {
	Ponds          int     // pondings that told something of the ground
	RateMMH        float64 // of the ground below; NaN without such notes
	LowMMH, TopMMH float64 // nine cases of ten lie between
	TestedMMH      float64 // what was known before
	GroundSD       float64 // standard deviation of ln of the rate at which the bed drains; 0 without such notes
	Sun            []taughtSun
	Notes          []string // notes that taught nothing, and why
}

// taughtSun is the sun of a zone by the notes.
type taughtSun struct {
	Zone           string
	Days           int
	Hours, WithinH float64 // nine cases of ten lie within so much, either way
	BeforeH        float64 // what was known before; NaN if nothing
}

// How far what was seen may be off. Assumptions, no source.
const (
	statedSunH   = 1.5 // standard deviation of hours of sun that were stated, or worked out
	daySunH      = 1.0 // of those of one noted day
	rainedMM     = 0.5 // more rain than this between two readings spoils them
	togetherDays = 2   // readings further apart are not of one ponding
)

// ByNotes learns the rate of the ground and the sun of each zone from what was
// noted. The rate: ln of it is taken as normal about what was tested
// (zones.Lot.UsualDoubt), and weighed by the ponds that fell (season.RateOfFalls). The
// sun: what a clear day showed, times the ratio of daylight in the season and on that
// day, weighed with what was known by the squares of the doubts (normal, both). A cloudy
// day would teach too little sun.
func ByNotes(l *zones.Lot, rec *season.Notes) Taught {
	t := Taught{RateMMH: math.NaN(), LowMMH: math.NaN(), TopMMH: math.NaN(), TestedMMH: l.Native.TestedMMH}
	if falls := t.falls(l, rec); len(falls) > 0 {
		before := math.Log(l.UsualDoubt().SoilFactor) / distuv.UnitNormal.Quantile(0.95)
		t.Ponds = len(falls)
		t.LowMMH, t.RateMMH, t.TopMMH, t.GroundSD = season.RateOfFalls(t.TestedMMH, before, l.Mix.KMMH, falls)
	}
	t.learnSun(l, rec)
	return t
}

// reading is water over the bottom at a moment.
type reading struct {
	at time.Time
	mm float64
}

// falls pairs the readings of one ponding after the other.
func (t *Taught) falls(l *zones.Lot, rec *season.Notes) (falls []season.Fall) {
	var readings []reading
	for _, e := range rec.Current() {
		if e.Kind != season.Ponded {
			continue
		}
		day := time.Date(e.Date.Year(), e.Date.Month(), e.Date.Day(), 0, 0, 0, 0, time.UTC)
		if e.From != season.Unstated {
			readings = append(readings, reading{day.Add(time.Duration(e.From) * time.Minute), e.PondMM})
			day = day.Add(time.Duration(e.From+e.Minutes()-e.To) * time.Minute) // left the next day
		}
		if e.To != season.Unstated {
			readings = append(readings, reading{day.Add(time.Duration(e.To) * time.Minute), e.LeftMM})
		}
	}
	if len(readings) == 1 {
		t.Notes = append(t.Notes, "one depth of water alone teaches nothing of the ground: note what is left later")
	}
	slices.SortStableFunc(readings, func(a, b reading) int { return a.at.Compare(b.at) })
	for i := 1; i < len(readings); i++ {
		a, b := readings[i-1], readings[i]
		hours := b.at.Sub(a.at).Hours()
		if a.mm == 0 || hours <= 0 || hours > 24*togetherDays {
			continue
		}
		if rain := rainBetween(l, a.at, b.at); b.mm > a.mm || rain > rainedMM {
			t.Notes = append(t.Notes, fmt.Sprintf("the pond of %s teaches nothing of the ground: water came in between", a.at.Format(time.DateOnly)))
			continue
		}
		falls = append(falls, season.Fall{MM: a.mm - b.mm, Hours: hours, AtLeast: b.mm == 0})
	}
	return falls
}

// rainBetween is the rain that the garden's record has between two moments of its
// clock; 0 where it does not reach. A daily record tells of the day alone, and the
// rain that made the pond may be of the same day: it says nothing here.
func rainBetween(l *zones.Lot, from, to time.Time) (mm float64) {
	r := l.Record
	if r == nil || r.Step == "daily" || r.Climate != "" {
		return 0
	}
	start := time.Date(r.Start.Year(), r.Start.Month(), r.Start.Day(), 0, 0, 0, 0, time.UTC)
	for h := int(math.Ceil(from.Sub(start).Hours())); h < int(to.Sub(start).Hours()); h++ {
		if h >= 0 && h < len(r.RainMM) {
			mm += r.RainMM[h]
		}
	}
	return mm
}

func (t *Taught) learnSun(l *zones.Lot, rec *season.Notes) {
	for _, z := range l.Bed.Zones() {
		zone := z.Zone
		hours := map[time.Time]float64{}
		for _, e := range rec.Current() {
			if e.Kind == season.Sunned && e.Stake == zone {
				hours[e.Date] += float64(e.Minutes()) / 60
			}
		}
		if len(hours) == 0 {
			continue
		}
		s := taughtSun{Zone: zone, Days: len(hours), BeforeH: l.Sun.Of(zone)}
		mean, precision := 0.0, 0.0
		weigh := func(h, sd float64) {
			precision += 1 / (sd * sd)
			mean += (h - mean) / (sd * sd) / precision
		}
		if !math.IsNaN(s.BeforeH) {
			weigh(s.BeforeH, statedSunH)
		}
		for _, day := range slices.SortedFunc(maps.Keys(hours), time.Time.Compare) {
			weigh(min(24, hours[day]*seasonDaylight(l)/site.DaylightHours(l.Garden.Site.LatitudeDeg, day.YearDay())), daySunH)
		}
		s.Hours, s.WithinH = mean, distuv.UnitNormal.Quantile(0.95)/math.Sqrt(precision)
		t.Sun = append(t.Sun, s)
	}
}

// seasonDaylight is the mean length of the days of the growing season, hours.
func seasonDaylight(l *zones.Lot) float64 {
	var days []int
	if l.Record != nil {
		days = l.Record.SeasonDays()
	}
	if len(days) == 0 {
		days = site.SummerDays(l.Garden.Site.LatitudeDeg)
	}
	sum := 0.0
	for _, day := range days {
		sum += site.DaylightHours(l.Garden.Site.LatitudeDeg, day)
	}
	return sum / float64(len(days))
}

// Garden is a garden with what the notes taught in place of what was tested and
// stated; the rate is that of the bed itself, so no safety factor divides it.
func (t Taught) Garden(g *zones.Garden) *zones.Garden {
	out := *g
	if !math.IsNaN(t.RateMMH) {
		out.Soil.RateMMH, out.Soil.SoakTest, out.Soil.SafetyFactor, out.Soil.KnownSD = t.RateMMH, nil, 1, t.GroundSD
	}
	for _, s := range t.Sun {
		out.Sun = out.Sun.With(s.Zone, s.Hours)
	}
	return &out
}
