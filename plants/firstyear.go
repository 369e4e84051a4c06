package plants

import (
	"fmt"
	"slices"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// FirstYear is the first year of a bed as it was worked out. Exposure, Setting,
// Stands, Planted and Today are given; WorkOut fills in the rest.
type FirstYear struct {
	Exposure *zones.Exposure
	Setting  care.Setting
	Stands   []care.Stand // see Planting.Stands and StandingIn
	Planted  time.Time

	Followed bool // the record holds no first year, so it is followed by itself
	Seasons  care.Seasons
	HeavyMM  float64 // daily rain that calls for a look, NaN if not known
	Tasks    []care.Task
	When     plantingMonths
	Plans    []*care.Plan // of the stands, in their order
	Plants   []YoungPlant
	Noted    care.Noted   // by the garden's notes
	Laters   []care.Later // of the years after it
	LetIn    *care.LetIn
	Watering *Watering // of the years after it, that the risks count on; nil: none
	This     *ThisYear // nil: by past years
	Today    care.Today
}

// YoungPlant is a line of the planting list in its first year.
type YoungPlant struct {
	care.FirstYear
	Count int
}

// ThisYear is what the weather of this year makes of the plan.
type ThisYear struct {
	Bed             *care.Bed
	Seasons         []care.Season // of the stands, in their order
	From, Known, To time.Time     // first day, last that has been, last
	Heavy           []time.Time   // days of heavy rain since planting
}

// RootedOn is the day from which plants are counted as rooted.
func (y *FirstYear) RootedOn() time.Time {
	first := y.Plans[0].Years[0]
	return y.Planted.Add(first.To.Sub(first.From))
}

// Stands lists what is to be planted by zone, from the bottom up.
func (p *Planting) Stands() []care.Stand {
	var stands []care.Stand
	for _, z := range p.Exposure.Zones {
		s := care.Stand{Zone: z.Zone, AreaM2: z.AreaM2}
		for _, l := range p.Lines {
			if l.Zone == z.Zone {
				s.Groups = append(s.Groups, care.Group{Plant: l.Plant, Count: l.Count})
			}
		}
		if len(s.Groups) > 0 {
			stands = append(stands, s)
		}
	}
	return stands
}

// StandingIn lists what is planted by zone, from the bottom up, and notes what
// cannot be counted.
func StandingIn(e *zones.Exposure, rows []placement.Planted, table *catalogue.Catalogue) (stands []care.Stand, notes []string) {
	for _, z := range e.Zones {
		s := care.Stand{Zone: z.Zone, AreaM2: z.AreaM2}
		for _, p := range table.Plants {
			n := 0
			for _, r := range rows {
				if r.ID == p.ID && e.Lot.Bed.ZoneAt(r.X, r.Y) == z.Zone {
					n++
				}
			}
			if n > 0 {
				s.Groups = append(s.Groups, care.Group{Plant: sized(e.Lot.Garden.Wishes, p), Count: n})
			}
		}
		if len(s.Groups) > 0 {
			stands = append(stands, s)
		}
	}
	for _, r := range rows {
		if _, known := table.ByID(r.ID); !known {
			notes = append(notes, fmt.Sprintf("%s: the plant table has no %q, so its needs are not known", r.Stake, r.ID))
		} else if e.Lot.Bed.ZoneAt(r.X, r.Y) == "" {
			notes = append(notes, r.Stake+" stands outside the bed and is not counted")
		}
	}
	return stands, notes
}

// LookAround finds seasons, heavy rain and the tasks that stand in every year.
func (y *FirstYear) LookAround() {
	lot := y.Exposure.Lot
	y.Seasons = care.SeasonsOf(lot.Record, lot.Garden.Site.LatitudeDeg)
	y.HeavyMM = care.HeavyRainMM(lot.Record)
	y.When = plantingMonthsOf(lot, y.Seasons)
	y.Tasks = care.Standing(y.Seasons, y.HeavyMM, y.When.Months)
}

// plantingMonths is when new plants may be set here.
type plantingMonths struct {
	Months []time.Month
	Why    [13]care.NoPlanting // why not, by the month's number
}

// plantingMonthsOf finds them; without temperatures the latitude says when spring is
// and when summer ends.
func plantingMonthsOf(l *zones.Lot, s care.Seasons) plantingMonths {
	if s.Assumed {
		return plantingMonths{Months: []time.Month{monthAfter(s.Wake, 1), monthAfter(s.LeafFall[0], 11)}}
	}
	t := plantingMonths{Why: care.NotPlanted(care.MonthsOf(l.Record))}
	for m := time.January; m <= time.December; m++ {
		if t.Why[m] == "" {
			t.Months = append(t.Months, m)
		}
	}
	return t
}

// Next is the first day on which new plants may be set, from a day on.
func (t plantingMonths) Next(on time.Time) time.Time {
	return next(slices.Clone(t.Months), "", on).From
}

// WorkOut says what the years of the record mean for the plants: watering, how
// each fares, and when to let the water in.
func (y *FirstYear) WorkOut() error {
	open := y.Exposure
	lot, on := open.Lot, care.MonthDay{Month: y.Planted.Month(), Day: y.Planted.Day()}
	bed := youngBed(open, y.Setting)
	if days := bed.DaysFor(on); days > 0 {
		var err error
		if open, err = lot.Followed(days); err != nil {
			return err
		}
		y.Followed, lot, bed = true, open.Lot, youngBed(open, y.Setting)
	}
	shut, err := lot.Closed()
	if err != nil {
		return err
	}
	closed, openFit := &care.Closed{Fit: fitBed(shut), Care: youngBed(shut, y.Setting)}, fitBed(open)
	bed.Unaided(openFit, y.Stands, on)
	with, err := inflow(open, bed, y.Stands)
	if err != nil {
		return err
	}
	without, err := inflow(shut, closed.Care, y.Stands)
	if err != nil {
		return err
	}
	if y.LetIn, err = bed.LetWaterIn(with, without, y.Stands, on, care.WettestHalf(lot.Record)); err != nil {
		return err
	}
	bed.Shut, bed.ShutWeeks = closed.Care.Weather, y.LetIn.Advised()
	if y.Plans, err = bed.Plans(y.Stands, on); err != nil {
		return err
	}
	for i, s := range y.Stands {
		for k, g := range s.Groups {
			first, _ := bed.FirstYear(openFit, closed, s, k, y.Plans[i], lot.Sun.Of(s.Zone), on)
			bed.Remedy(&first, openFit, closed, y.Plans[i], on, y.When.Months)
			y.Plants = append(y.Plants, YoungPlant{FirstYear: first, Count: g.Count})
		}
	}
	y.Watering = watering(open, y.Stands, y.Setting)
	y.Noted.Year = y.nextYear()
	y.Laters = care.Laters(y.Seasons, y.When.Months, y.Stands, y.Noted)
	return nil
}

// nextYear is the year of the bed's life, from the second on, of which today is a part or
// which comes next.
func (y *FirstYear) nextYear() int {
	year := 2
	for !y.Planted.AddDate(year, 0, 0).After(y.Today.Date) {
		year++
	}
	return year
}

func inflow(e *zones.Exposure, bed *care.Bed, stands []care.Stand) (care.Inflow, error) {
	var names []string
	for _, s := range stands {
		names = append(names, s.Zone)
	}
	hours, err := care.WetHours(e.Lot.Setup(), e.Lot.Record, names)
	return care.Inflow{Weather: bed.Weather, WetH: hours}, err
}

func youngBed(e *zones.Exposure, s care.Setting) *care.Bed {
	return &care.Bed{Weather: care.NewWeather(e.Run, e.Lot.Record, 0), Ground: e.Lot.Ground(), Setting: s}
}

// WalkThisYear walks the weather of this year, of which so many days have been.
func (y *FirstYear) WalkThisYear(rec *site.Record, known int) error {
	lot := y.Exposure.Lot
	run, err := lot.RunOver(rec)
	if err != nil {
		return err
	}
	weather := care.NewWeather(run, rec, care.GrowingDaysAYear(lot.Record))
	weather.Known = known
	this := &ThisYear{
		Bed:  &care.Bed{Weather: weather, Ground: lot.Ground(), Setting: y.Setting},
		From: rec.Start, Known: rec.Start.AddDate(0, 0, known-1), To: rec.Start.AddDate(0, 0, len(rec.Days)-1),
	}
	if this.Bed.ShutWeeks = y.LetIn.Advised(); this.Bed.ShutWeeks > 0 {
		shut, err := lot.Closed()
		if err != nil {
			return err
		}
		if run, err = shut.Lot.RunOver(rec); err != nil {
			return err
		}
		this.Bed.Shut = care.NewWeather(run, rec, weather.GrowingDaysAYear)
	}
	if this.Seasons, err = this.Bed.ThisYear(y.Stands, y.LetIn.Years, y.Planted); err != nil {
		return err
	}
	for _, d := range care.HeavyDays(rec, y.HeavyMM, weather.DayOf(y.Planted), known) {
		this.Heavy = append(this.Heavy, rec.Start.AddDate(0, 0, d))
	}
	y.This = this
	return nil
}

// SayToday finds what to do today: by the weather of this year if it is given,
// else as the typical year would have it.
func (y *FirstYear) SayToday() {
	const weekDays = 7
	now := y.Today.Date
	dated := care.Dated(y.Tasks, now.AddDate(0, 0, -weekDays), now.AddDate(1, 0, 0), y.Planted, y.RootedOn())
	if y.This != nil {
		y.Today = y.This.Bed.Today(now, y.Stands, y.This.Seasons, y.HeavyMM, dated)
		return
	}
	t := care.Today{Date: now}
	t.Tasks, t.Next = care.TasksToday(dated, now)
	for i, s := range y.Stands {
		z := care.ZoneToday{Zone: s.Zone, Watched: !now.Before(y.Planted), Forecast: y.RootedOn()}
		if !now.Before(y.RootedOn()) {
			z.Rooted = 1
		}
		plan := y.Plans[i]
		for _, w := range plan.Years[plan.Typical].For(y.Planted) {
			switch {
			case w.Date.Equal(now):
				z.Now, z.Litres, z.Minutes, z.RootCM = true, w.Litres, w.Minutes, w.RootCM
			case w.Date.After(now) && z.Next.IsZero():
				z.Next = w.Date
			}
		}
		t.Water = append(t.Water, z)
	}
	y.Today = t
}
