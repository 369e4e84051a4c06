package season

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/placement"
	"hollowbed/zones/site"
)

// Standing is a plant that stands, or stood, with its places over time.
type Standing struct {
	Stake   string
	ID      string
	Planted time.Time // zero if nobody knows: it counts as established
	Stays   []Stay    // in order; the first from Planted on
	Gone    time.Time // zero if it still stands
}

// Stay is a place and the day from which a plant stood there; zero: nobody knows.
type Stay struct {
	From time.Time
	X, Y float64 // m; NaN if nobody knows
}

// Stands puts together which plants stood where, from the rows of planted.csv
// and the entries that hold: planted.csv knows the places of today, entries
// moved and removed those before. Plants that are gone are kept if their
// removal tells the species.
func Stands(rows []placement.Planted, rec *Notes) []Standing {
	var out []Standing
	here := map[string]bool{}
	for _, r := range rows {
		planted, _ := time.Parse(time.DateOnly, r.Planted)
		s := Standing{Stake: strings.ToUpper(r.Stake), ID: r.ID, Planted: planted}
		here[s.Stake] = true
		before, entries := lastGone(rec.About(s.Stake))
		s.back(Stay{X: r.X, Y: r.Y}, entries)
		if s.Planted.IsZero() && !before.IsZero() {
			s.Planted = before.AddDate(0, 0, 1)
			s.Stays[0].From = s.Planted
		}
		out = append(out, s)
	}
	for _, e := range rec.Current() {
		if e.Kind != Removed || e.ID == "" || here[e.Stake] {
			continue
		}
		here[e.Stake] = true
		s := Standing{Stake: e.Stake, ID: e.ID, Gone: e.Date}
		s.back(Stay{X: e.X, Y: e.Y}, rec.About(e.Stake))
		out = append(out, s)
	}
	return out
}

// lastGone is the day on which the last plant of a stake was taken out, zero if
// none was, and the entries since then.
func lastGone(entries []Entry) (time.Time, []Entry) {
	for i, e := range slices.Backward(entries) {
		if e.Kind == Removed {
			return e.Date, entries[i+1:]
		}
	}
	return time.Time{}, entries
}

// Stakes lists the stakes that entries name, in order: no other plant is to get one.
func (r *Notes) Stakes() []string {
	var out []string
	for _, e := range r.Entries {
		if !e.ForZone() {
			out = append(out, strings.ToUpper(e.Stake))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// back goes back from the last place through what was written of the others.
func (s *Standing) back(last Stay, entries []Entry) {
	for _, e := range entries { // by date
		if e.Kind == Planted {
			if s.Planted.IsZero() {
				s.Planted = e.Date
			}
			if s.ID == "" {
				s.ID = e.ID
			}
		}
	}
	for _, e := range slices.Backward(entries) {
		if e.Kind == Moved {
			s.Stays = append(s.Stays, Stay{From: e.Date, X: last.X, Y: last.Y})
			last = Stay{X: e.X, Y: e.Y}
		}
	}
	s.Stays = append(s.Stays, Stay{From: s.Planted, X: last.X, Y: last.Y})
	slices.Reverse(s.Stays)
}

// Leaving are the entries to write when a plant is taken away for good: that it was
// planted, if not written yet, and that it was removed.
func Leaving(row placement.Planted, rec *Notes, date time.Time, remark string) []Entry {
	var out []Entry
	known := slices.ContainsFunc(rec.About(row.Stake), func(e Entry) bool { return e.Kind == Planted })
	if planted, err := time.Parse(time.DateOnly, row.Planted); err == nil && !known {
		e := NewEntry(planted, row.Stake, Planted)
		e.ID, e.X, e.Y = row.ID, row.X, row.Y
		out = append(out, e)
	}
	e := NewEntry(date, row.Stake, Removed)
	e.ID, e.X, e.Y, e.Remark = row.ID, row.X, row.Y, remark
	return append(out, e)
}

// Moving is the entry to write when a plant is moved away from where row has it.
func Moving(row placement.Planted, date time.Time, remark string) Entry {
	e := NewEntry(date, row.Stake, Moved)
	e.ID, e.X, e.Y, e.Remark = row.ID, row.X, row.Y, remark
	return e
}

// seasonDays is how far back of its last note a case reaches at most.
const seasonDays = 365

// Seasons gathers the notes of a plant to one case for each season of one stay, from
// January or, in the south, July. A case reaches from planting, the move, or the case
// before, but at most a year back, to its last note. Notes from before planting do not
// count, and those on some of a drift (Guess) are other cases. Doses come by Past.Meet.
func Seasons(garden string, s Standing, rec *Notes, southern bool) []Case {
	return append(seasons(garden, s, rec, southern, false), seasons(garden, s, rec, southern, true)...)
}

// seasons takes a plant's own notes, or those that Guess put down to it.
func seasons(garden string, s Standing, rec *Notes, southern, guessed bool) []Case {
	var out []Case
	stayOf, name := -1, s.Stake
	if guessed {
		name += guess
	}
	for _, e := range rec.About(s.Stake) {
		if e.guessed != guessed || e.Kind != Seen || e.Vigour == Unstated && len(e.Signs)+len(e.Absent) == 0 || s.Before(e.Date) {
			continue
		}
		note := Note{Date: e.Date, Vigour: e.Vigour, Seen: e.Signs, Absent: e.Absent}
		stay := s.stayOn(e.Date)
		if k := len(out) - 1; k >= 0 && stay == stayOf && seasonOf(out[k].To, southern) == seasonOf(e.Date, southern) {
			out[k].Notes, out[k].To = append(out[k].Notes, note), e.Date
			continue
		}
		stayOf = stay
		out = append(out, Case{Garden: garden, Species: s.ID, Plant: name, To: e.Date, Notes: []Note{note}, stay: stay})
	}
	for k := range out {
		c := &out[k]
		stay := s.Stays[c.stay]
		c.From = c.To.AddDate(0, 0, 1-seasonDays)
		if stay.From.After(c.From) {
			c.From = stay.From
		}
		if k > 0 && out[k-1].To.AddDate(0, 0, 1).After(c.From) {
			c.From = out[k-1].To.AddDate(0, 0, 1)
		}
		c.Months = math.NaN()
		if !stay.From.IsZero() {
			c.Months = c.To.Sub(stay.From).Hours() / 24 / daysAMonth
		}
		for l := range c.Dose {
			c.Dose[l].Severity = math.NaN()
		}
		c.SunShortH, c.SunOverH = math.NaN(), math.NaN()
	}
	return out
}

const daysAMonth = 365.25 / 12

// Before says whether a day is before planting.
func (s Standing) Before(day time.Time) bool { return day.Before(s.Planted) }

// stayOn is the stay of a day.
func (s Standing) stayOn(day time.Time) int {
	k := 0
	for i, stay := range s.Stays {
		if !stay.From.After(day) {
			k = i
		}
	}
	return k
}

func seasonOf(t time.Time, southern bool) int {
	if southern && t.Month() < time.July {
		return t.Year() - 1
	}
	return t.Year()
}

// Cuts lists the days at which windows have to begin: those of the cases, and the first
// of each month, since what a young plant bears is that of a window's middle.
func Cuts(rec *site.Record, cases []Case) []int {
	var cuts []int
	for _, c := range cases {
		cuts = append(cuts, dayOf(rec.Start, c.From), dayOf(rec.Start, c.To)+1)
	}
	for d := range rec.Days {
		if rec.Start.AddDate(0, 0, d).Day() == 1 {
			cuts = append(cuts, d)
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// dayOf is the day of a record on a date; it may lie outside.
func dayOf(start, date time.Time) int {
	return int(math.Floor(Midnight(date).Sub(Midnight(start)).Hours()/24 + 0.5))
}

// Past is the real weather of a garden, run through its balance.
type Past struct {
	Care *care.Bed // with the weather by day, and the run over windows
	Fit  *fit.Bed  // of that run
	Long *fit.Bed  // of the long record by year, for what the real weather does not cover; nil if there is none
}

// leastCovered is the share of a case's days that the weather has to cover.
const leastCovered = 0.9

// meet finds what a plant met up to the end of a case, in a band with sunH hours of sun,
// against what it bears at its age. poured is mm of water by day of the run. Where the
// weather does not cover the case, an ordinary year stands in, and the case says so.
func (p *Past) meet(c *Case, s Standing, plant catalogue.Plant, band int, sunH float64, poured map[int]float64) {
	c.Band = band
	if c.stay > 0 {
		plant.SoldAs = "" // a grown plant with its ball, no longer as it was bought
	}
	c.SunShortH, c.SunOverH = plant.SunMinH-sunH, sunH-plant.SunMaxH
	for l, limit := range Limits() {
		c.Assumed[l] = slices.Contains(plant.Assumed, limit.Column())
	}
	w := p.Care.Weather
	from, to := dayOf(w.Start, c.From), dayOf(w.Start, c.To)+1
	days := len(w.Growing)
	covered := min(to, days) - max(from, 0)
	if float64(covered) < leastCovered*float64(to-from) || p.lost(max(from, 0), min(to, days)) > (1-leastCovered)*float64(to-from) {
		p.ordinary(c, s, plant, band)
		return
	}
	from, to = max(from, 0), min(to, days)
	start, rooted := p.start(s.Stays[c.stay])
	p.wet(c, plant, band, from, to, start, rooted)
	d := &c.Dose[2]
	p.Care.Follow(plant, band, min(start, from), to, rooted, poured, func(day care.PlantDay) {
		if day.Day < from {
			return
		}
		bears := max(care.Young(plant, day.Rooted).DryD, 1)
		if x := day.Days / bears; !(x <= d.Severity) {
			d.Severity, d.Found, d.Allowed = x, day.Days, bears
			d.When = w.Start.AddDate(0, 0, day.Day)
			if day.So.Days > 0 {
				d.When = w.Start.AddDate(0, 0, day.So.FromDay)
			}
		}
	})
}

// lost counts the days without a rain value.
func (p *Past) lost(from, to int) float64 {
	n := 0.0
	for d := from; d < to; d++ {
		if p.Care.Weather.Lost[d] {
			n++
		}
	}
	return n
}

// start is the day of the run on which a stay begins, and how far the roots are by then.
func (p *Past) start(stay Stay) (day int, rooted float64) {
	w := p.Care.Weather
	if stay.From.IsZero() {
		return 0, 1
	}
	day = dayOf(w.Start, stay.From)
	if day < 0 {
		growing := float64(-day) * w.GrowingDaysAYear / 365.25
		return 0, care.Rooted(int(growing), w.GrowingDaysAYear, p.Care.Setting.RootingYears)
	}
	return day, 0
}

// wet takes the limits that go by windows: wet, deep and cold.
func (p *Past) wet(c *Case, plant catalogue.Plant, band, from, to, start int, rooted float64) {
	w := p.Care.Weather
	grown := rooted * w.GrowingDaysAYear * p.Care.Setting.RootingYears
	at := start // grown holds for the beginning of this day
	for i, window := range p.Fit.Run.Years {
		if window.FromDay < from || window.ToDay > to {
			continue
		}
		for middle := (window.FromDay + window.ToDay) / 2; at < middle; at++ {
			if w.Growing[at] {
				grown++
			}
		}
		c.AirPoorH = max(c.AirPoorH, float64(p.Fit.Run.Exposure[band][i].AirPoorH))
		young := care.Young(plant, care.Rooted(int(grown), w.GrowingDaysAYear, p.Care.Setting.RootingYears))
		found := doses(p.Fit.At(young, band, i), young, w.Start.AddDate(0, 0, window.FromDay))
		for l, d := range found {
			if limit := Limits()[l]; limit != fit.TooDry && !math.IsNaN(d.Severity) && !(d.Severity <= c.Dose[l].Severity) {
				c.Dose[l] = d
			}
		}
	}
}

// ordinary lets the median year of the long record stand in for weather that
// nobody has, with the years' spread as doubt.
func (p *Past) ordinary(c *Case, s Standing, plant catalogue.Plant, band int) {
	c.Ordinary = true
	if p.Long == nil || len(p.Long.Use) == 0 {
		return
	}
	young := plant
	if stay := s.Stays[c.stay]; !stay.From.IsZero() {
		years := c.To.Sub(stay.From).Hours() / 24 / 365.25
		young = care.Young(plant, min(1, max(0, years/2)/p.Care.Setting.RootingYears))
	}
	for l, limit := range Limits() {
		var years []fit.Year
		for _, y := range p.Long.Use {
			if year := p.Long.At(young, band, y); !math.IsNaN(year.Severity(limit)) {
				years = append(years, year)
			}
		}
		if len(years) == 0 {
			continue
		}
		slices.SortStableFunc(years, func(a, b fit.Year) int { return cmp.Compare(a.Severity(limit), b.Severity(limit)) })
		y := years[len(years)/2]
		c.Dose[l] = doses(y, young, time.Date(y.Name, time.January, 1, 0, 0, 0, 0, time.UTC))[l]
		c.Doubt[l] = logSpread(years, limit)
	}
}

// doses are what a year, or a window, that began on a day did to a plant.
func doses(y fit.Year, p catalogue.Plant, began time.Time) [LimitCount]dose {
	day := func(t time.Time) time.Time {
		if t.IsZero() {
			return began
		}
		return t
	}
	return [LimitCount]dose{
		{y.Wet, y.WetH, p.WetH, day(y.WetFrom), 0}, {y.Deep, y.DeepMM, p.PondMM, day(y.WetFrom), y.DeepByWet},
		{y.Dry, y.DryD, p.DryD, day(y.DryFrom), 0}, {y.Cold, y.MinC, p.LowestC, began, 0},
	}
}

// logSpread is the standard deviation of the log severity over years with any.
func logSpread(years []fit.Year, limit fit.Limit) float64 {
	var logs []float64
	for _, y := range years {
		if s := y.Severity(limit); s > 0 {
			logs = append(logs, math.Log(s))
		}
	}
	mean, square := 0.0, 0.0
	for _, v := range logs {
		mean += v / float64(len(logs))
	}
	for _, v := range logs {
		square += (v - mean) * (v - mean)
	}
	if len(logs) < 2 {
		return 0
	}
	return math.Sqrt(square / float64(len(logs)-1))
}
