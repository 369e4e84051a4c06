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
	stickMM      = 6    // standard deviation of one reading of the depth: a quarter of an inch
	pondSpread   = 0.25 // of ln rate from ponding to ponding: warmth of the water, how wet the ground was
	statedSunH   = 1.5  // standard deviation of hours of sun that were stated, or worked out
	daySunH      = 1.0  // of those of one noted day
	rainedMM     = 0.5  // more rain than this between two readings spoils them
	togetherDays = 2    // readings further apart are not of one ponding
)

// fall is a pond that fell from one depth to another; atLeast says that it was
// gone by the end, so that it may have fallen sooner.
type fall struct {
	mm, hours float64
	atLeast   bool
}

// ByNotes learns the rate of the ground and the sun of each zone from what was
// noted. The rate: a pond that no rain feeds falls at the rate of the ground, or
// of the mix if that is slower (what the balance does, zones/water). ln of the
// rate is taken as normal about what was tested (zones.Lot.UsualDoubt); each fall
// weighs by how well it could be read, and a pond that was gone by an hour only
// bounds the rate from below. What evaporates is counted as soaking away, up to
// 0.3 mm/h. The sun: what a clear day showed, times the ratio of daylight in the
// season and on that day, weighed with what was known by the squares of the
// doubts (normal, both). A cloudy day would teach too little sun.
func ByNotes(l *zones.Lot, rec *season.Notes) Taught {
	t := Taught{RateMMH: math.NaN(), LowMMH: math.NaN(), TopMMH: math.NaN(), TestedMMH: l.Native.TestedMMH}
	if falls := t.falls(l, rec); len(falls) > 0 {
		t.learnRate(l, falls)
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
func (t *Taught) falls(l *zones.Lot, rec *season.Notes) (falls []fall) {
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
		if rain := rainBetween(l, a.at, b.at); b.mm >= a.mm || rain > rainedMM {
			t.Notes = append(t.Notes, fmt.Sprintf("the pond of %s teaches nothing of the ground: water came in between", a.at.Format(time.DateOnly)))
			continue
		}
		falls = append(falls, fall{a.mm - b.mm, hours, b.mm == 0})
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

// learnRate weighs rates on a grid of ln rate.
func (t *Taught) learnRate(l *zones.Lot, falls []fall) {
	const points, widths = 801, 5
	before := distuv.Normal{Mu: math.Log(t.TestedMMH), Sigma: math.Log(l.UsualDoubt().SoilFactor) / distuv.UnitNormal.Quantile(0.95)}
	lows, weights, sum := make([]float64, points), make([]float64, points), 0.0
	from, to := before.Mu-widths*before.Sigma, before.Mu+widths*before.Sigma
	for _, f := range falls { // what was seen may lie outside
		seen := math.Log(f.mm / f.hours)
		from, to = min(from, seen-1), max(to, seen+1)
	}
	for i := range lows {
		x := from + (to-from)*float64(i)/(points-1)
		log := before.LogProb(x)
		falling := math.Log(min(math.Exp(x), l.Mix.KMMH))
		for _, f := range falls {
			error := distuv.Normal{Sigma: math.Hypot(pondSpread, math.Sqrt2*stickMM/f.mm)}
			off := math.Log(f.mm/f.hours) - falling
			if f.atLeast {
				log += math.Log(max(1e-300, error.Survival(off)))
			} else {
				log += error.LogProb(off)
			}
		}
		lows[i], weights[i] = x, log
	}
	most := slices.Max(weights)
	for i := range weights {
		weights[i] = math.Exp(weights[i] - most)
		sum += weights[i]
	}
	at := func(p float64) float64 {
		so := 0.0
		for i, w := range weights {
			if so += w; so >= p*sum {
				return math.Exp(lows[i])
			}
		}
		return math.Exp(lows[points-1])
	}
	t.Ponds, t.RateMMH, t.LowMMH, t.TopMMH = len(falls), at(0.5), at(0.05), at(0.95)
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
		out.Soil.RateMMH, out.Soil.SoakTest, out.Soil.SafetyFactor = t.RateMMH, nil, 1
	}
	for _, s := range t.Sun {
		out.Sun = out.Sun.With(s.Zone, s.Hours)
	}
	return &out
}
