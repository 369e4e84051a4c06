package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants"
	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

type careOptions struct {
	common
	planted, date, hose, soFar, forecast, ics string
	csv, today, checklist                     bool

	plantedOn time.Time // zero if --planted was not given
	on        time.Time // zero if --date was not given
	hoseLMin  float64   // 0 if --hose was not given
}

func newCare(w world) *cobra.Command {
	o := &careOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "care",
		Short: "The first year: when to water and how much, when to let the roof water in, what to look after",
		Long: `Say how to bring the planting list, or what stands in planted.csv, through its
first year: which zone to water when and for how long, which plants need it, when
to let the roof water in, and the standing calendar of the bed. Dates are those
of a typical and a dry year of the record, moved to the day of planting; with
--so-far, those of this year.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := errors.Join(only(cmd, "json", "csv", "today", "checklist"), o.parse()); err != nil {
				return err
			}
			return o.run()
		},
	}
	o.options(cmd)
	o.learnedOption(cmd)
	f := cmd.Flags()
	f.StringVar(&o.planted, "planted", "", "day of planting, as `YYYY-MM-DD` (default: the first in planted.csv, else the next usual season)")
	f.StringVar(&o.date, "date", "", "what day is today, as `YYYY-MM-DD` (default: today in the garden's time zone)")
	f.StringVar(&o.hose, "hose", "", "what your hose gives, as `RATE`: '4 gal/min', '15 L/min' (default: 15 L/min)")
	f.StringVar(&o.soFar, "so-far", "", "go by this year: its weather up to now, a `FILE` like the garden's record")
	f.StringVar(&o.forecast, "forecast", "", "and the days to come, a `FILE` like it; needs --so-far")
	f.BoolVar(&o.today, "today", false, "print three lines: what to do today")
	f.BoolVar(&o.checklist, "checklist", false, "print a list with boxes to tick")
	f.BoolVar(&o.csv, "csv", false, "print dates and tasks as CSV")
	f.StringVar(&o.ics, "ics", "", "write the calendar (iCalendar, RFC 5545) to `FILE` too")
	return cmd
}

// mostHoseLMin is what care takes at most (its Setting's Check).
const mostHoseLMin = 1000

// parse reads the options that carry figures, and names all faults at once.
func (o *careOptions) parse() error {
	var faults []error
	var err error
	if o.plantedOn, err = dayNamed("--planted", o.planted); err != nil {
		faults = append(faults, err)
	}
	if o.on, err = dayNamed("--date", o.date); err != nil {
		faults = append(faults, err)
	}
	if o.hose != "" {
		if o.hoseLMin, err = zones.ParseHoseLMin(o.hose); err != nil {
			faults = append(faults, usageError{fmt.Errorf("--hose: %w", err)})
		} else if o.hoseLMin > mostHoseLMin {
			faults = append(faults, usagef("--hose: %q: want at most %d L/min", o.hose, mostHoseLMin))
		}
	}
	if o.forecast != "" && o.soFar == "" {
		faults = append(faults, usagef("--forecast: want --so-far too: what is to come is added to what has been"))
	}
	return errors.Join(faults...)
}

// dayNamed reads an option that names a day; the zero time if it was not given.
func dayNamed(option, text string) (day time.Time, err error) {
	if text == "" {
		return day, nil
	}
	if day, err = time.Parse(time.DateOnly, text); err != nil || day.Year() < 1900 || day.Year() > 2200 {
		return day, usagef("%s: %q: %s", option, text, season.WantDate(text))
	}
	return day, nil
}

func (o *careOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	if err := f.guard([]writes{{option: "--ics", file: o.ics}}, o.soFar, o.forecast); err != nil {
		return err
	}
	in, err := o.gather(f)
	if err != nil {
		return err
	}
	doc := report.NewCare(f.head, in)
	if o.ics != "" {
		var text bytes.Buffer
		if err := doc.ICal(&text); err != nil {
			return err
		}
		if err := store.Replace(o.ics, text.Bytes()); err != nil {
			return err
		}
		fmt.Fprintf(o.err, "Wrote %s.\n", o.ics)
	}
	switch {
	case o.json:
		return report.JSON(o.out, doc)
	case o.csv:
		return doc.CSV(o.out)
	case o.today:
		doc.TextToday(o.out)
	case o.checklist:
		doc.TextChecklist(o.out)
	default:
		doc.Text(o.out)
	}
	return nil
}

// gather has everything worked out that the document shows.
func (o *careOptions) gather(f *folder) (report.CareIn, error) {
	judge, planting, table, err := o.planting(f)
	if err != nil {
		return report.CareIn{}, err
	}
	in := report.CareIn{Exposure: judge.Exposure, Setting: care.Default()}
	rows, err := f.planted(&o.common)
	if err != nil {
		return in, err
	}
	if len(rows) > 0 {
		in.Stands, in.Notes = standingIn(judge.Exposure, rows, table)
	} else {
		in.Stands = standsOf(planting)
	}
	switch {
	case len(in.Stands) == 0 && len(rows) > 0:
		return in, usagef("%s: none of its plants is both in the plant table and in the bed, so nothing is known of their first year", f.name("planted.csv"))
	case len(in.Stands) == 0:
		return in, usagef("the planting list of %s is empty, so nothing needs a first year: see hollowbed choose", f.garden.Source)
	}
	if o.hoseLMin > 0 {
		in.Setting.HoseLMin, in.HoseGiven = o.hoseLMin, true
	}
	if most := f.garden.Wishes.YearlyRiskMax; most > 0 {
		in.Setting.RiskMax = most
	}
	rec := judge.Exposure.Lot.Record
	in.Seasons = care.SeasonsOf(rec, f.garden.Site.LatitudeDeg)
	in.HeavyMM = care.HeavyRainMM(rec)
	in.Tasks = care.Standing(in.Seasons, in.HeavyMM)
	on := o.on
	if on.IsZero() {
		on = o.now().In(f.garden.Site.Location)
	}
	y, m, d := on.Date()
	in.Today.Date = time.Date(y, m, d, 0, 0, 0, 0, rec.Start.Location())
	if err := o.setPlanted(f, rows, &in); err != nil {
		return in, err
	}
	if err := firstYear(&in); err != nil {
		return in, err
	}
	if err := o.thisYear(f, &in); err != nil {
		return in, err
	}
	in.Today = today(&in)
	return in, nil
}

// standsOf lists what is planted by zone, from the bottom up.
func standsOf(p *plants.Planting) []care.Stand {
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

// standingIn lists what stands by zone, from the bottom up, and notes what
// cannot be counted.
func standingIn(e *zones.Exposure, rows []placement.Planted, table *catalogue.Catalogue) (stands []care.Stand, notes []string) {
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
				s.Groups = append(s.Groups, care.Group{Plant: p, Count: n})
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

// setPlanted takes the day of planting from the option, from planted.csv, or
// else from the climate.
func (o *careOptions) setPlanted(f *folder, rows []placement.Planted, in *report.CareIn) (err error) {
	var dates []string
	for _, r := range rows {
		if r.Planted != "" {
			dates = append(dates, r.Planted) // ISO 8601: sorts by date
		}
	}
	zone := in.Today.Date.Location()
	switch {
	case !o.plantedOn.IsZero():
		y, m, d := o.plantedOn.Date()
		in.Planted, in.PlantedFrom = time.Date(y, m, d, 0, 0, 0, 0, zone), "--planted"
	case len(dates) > 0:
		in.PlantedFrom = f.name("planted.csv")
		if in.Planted, err = time.ParseInLocation(time.DateOnly, slices.Min(dates), zone); err != nil {
			return err
		}
		if last := slices.Max(dates); last != slices.Min(dates) {
			in.Notes = append(in.Notes, "planted.csv has plants set out up to "+last+": count their year from that day")
		}
	case o.soFar != "":
		return usagef("--so-far: want the day of planting beside it: --planted YYYY-MM-DD, or dates in planted.csv")
	default:
		replace := slices.DeleteFunc(slices.Clone(in.Tasks), func(t care.Task) bool { return t.ID != "replace" })
		next := care.Dated(replace, in.Today.Date, in.Today.Date.AddDate(1, 0, 0), in.Today.Date)
		in.Planted, in.PlantedFrom, in.PlantedAssumed = next[0].Date, "the next usual season for planting here", true
	}
	return nil
}

// firstYear works out what the years of the record say: watering, plants, and
// when to let the water in.
func firstYear(in *report.CareIn) error {
	open := in.Exposure
	lot, on := open.Lot, care.MonthDay{Month: in.Planted.Month(), Day: in.Planted.Day()}
	bed := careBed(open, in.Setting)
	gaps := map[string]int{}
	for _, s := range in.Stands {
		plan, err := bed.Plan(s, on)
		if err != nil {
			return err
		}
		in.Plans = append(in.Plans, plan)
		gaps[s.Zone] = plan.GapDays
	}
	shut, err := lot.Closed()
	if err != nil {
		return err
	}
	closed := &care.Closed{Fit: plants.FitBed(shut), Care: careBed(shut, in.Setting)}
	openFit := plants.FitBed(open)
	for _, s := range in.Stands {
		for _, g := range s.Groups {
			first, _ := bed.FirstYear(openFit, closed, g.Plant, s.Zone, lot.Sun.Of(s.Zone), on, gaps[s.Zone])
			in.Plants = append(in.Plants, report.YoungPlant{FirstYear: first, Count: g.Count})
		}
	}
	with, err := inflow(open, bed, in.Stands)
	if err != nil {
		return err
	}
	without, err := inflow(shut, closed.Care, in.Stands)
	if err != nil {
		return err
	}
	in.LetIn, err = bed.LetWaterIn(with, without, in.Stands, on, care.WettestHalf(lot.Record))
	return err
}

func inflow(e *zones.Exposure, bed *care.Bed, stands []care.Stand) (care.Inflow, error) {
	var names []string
	for _, s := range stands {
		names = append(names, s.Zone)
	}
	hours, err := care.WetHours(e.Lot.Setup(), e.Lot.Record, names)
	return care.Inflow{Weather: bed.Weather, WetH: hours}, err
}

func careBed(e *zones.Exposure, s care.Setting) *care.Bed {
	return &care.Bed{Weather: care.NewWeather(e.Run, e.Lot.Record, 0), Ground: e.Lot.Ground(), Setting: s}
}

// thisYear walks the weather of this year, if it is given.
func (o *careOptions) thisYear(f *folder, in *report.CareIn) error {
	if o.soFar == "" {
		return nil
	}
	rec, err := f.other("--so-far", o.soFar)
	if err != nil {
		return err
	}
	known := len(rec.Days)
	if o.forecast != "" {
		ahead, err := f.other("--forecast", o.forecast)
		if err != nil {
			return err
		}
		if rec, known, err = care.Join(rec, ahead); err != nil {
			return err
		}
	}
	run, err := in.Exposure.Lot.RunOver(rec)
	if err != nil {
		return err
	}
	weather := care.NewWeather(run, rec, care.GrowingDaysAYear(in.Exposure.Lot.Record))
	weather.Known = known
	in.This = &report.ThisYear{
		Bed: &care.Bed{Weather: weather, Ground: in.Exposure.Lot.Ground(), Setting: in.Setting}, SoFar: o.soFar, Forecast: o.forecast,
		From: rec.Start, Known: rec.Start.AddDate(0, 0, known-1), To: rec.Start.AddDate(0, 0, len(rec.Days)-1),
	}
	for i, s := range in.Stands {
		season, err := in.This.Bed.ThisYear(s, in.Planted, in.Plans[i].GapDays)
		if err != nil {
			return err
		}
		in.This.Seasons = append(in.This.Seasons, season)
	}
	for _, d := range care.HeavyDays(rec, in.HeavyMM, weather.DayOf(in.Planted), known) {
		in.This.Heavy = append(in.This.Heavy, rec.Start.AddDate(0, 0, d))
	}
	return nil
}

// today says what to do today: by the weather of this year if it is given, else
// as the typical year would have it.
func today(in *report.CareIn) care.Today {
	now := in.Today.Date
	dated := care.Dated(in.Tasks, now.AddDate(0, 0, -weekDays), now.AddDate(1, 0, 0), in.RootedOn())
	if in.This != nil {
		return in.This.Bed.Today(now, in.Stands, in.This.Seasons, in.HeavyMM, dated)
	}
	t := care.Today{Date: now}
	t.Tasks, t.Next = care.TasksToday(dated, now)
	for i, s := range in.Stands {
		z := care.ZoneToday{Zone: s.Zone, Watched: !now.Before(in.Planted), Forecast: in.RootedOn()}
		if !now.Before(in.RootedOn()) {
			z.Rooted = 1
		}
		plan := in.Plans[i]
		for _, w := range plan.Years[plan.Typical].For(in.Planted) {
			switch {
			case w.Date.Equal(now):
				z.Now, z.Litres, z.Minutes, z.RootCM = true, w.Litres, w.Minutes, w.RootCM
			case w.Date.After(now) && z.Next.IsZero():
				z.Next = w.Date
			}
		}
		t.Water = append(t.Water, z)
	}
	return t
}

const weekDays = 7

// other reads a weather file that is named on the command line, in the format
// of the garden's record.
func (f *folder) other(option, file string) (*site.Record, error) {
	in, err := openTable(file, "a weather file like the garden's record")
	if err != nil {
		return nil, fmt.Errorf("%s: %w", option, err)
	}
	defer in.Close()
	var rec *site.Record
	err = f.takeOther(in, file, func(r io.Reader) (err error) {
		rec, err = site.ReadRecord(file, r, f.garden.Weather.Format, f.garden.Site.LatitudeDeg)
		return err
	})
	return rec, err
}
