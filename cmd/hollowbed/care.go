package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants/care"
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
	o.allOption(cmd)
	o.byNotesOption(cmd)
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
	day, want := season.ParseDay(text)
	if want != "" {
		return day, usagef("%s: %q: %s", option, text, want)
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
	out := report.NewCare(f.head, in)
	if o.ics != "" {
		var text bytes.Buffer
		if err := out.ICal(&text); err != nil {
			return err
		}
		if err := store.Replace(o.ics, text.Bytes()); err != nil {
			return err
		}
		fmt.Fprintf(o.err, "Wrote %s.\n", o.ics)
	}
	switch {
	case o.json:
		return report.JSON(o.out, out)
	case o.csv:
		return out.CSV(o.out)
	case o.today:
		out.TextToday(o.out)
	case o.checklist:
		out.TextChecklist(o.out)
	default:
		o.print(out.Blocks)
	}
	return nil
}

// gather has everything worked out that the document shows.
func (o *careOptions) gather(f *folder) (report.CareIn, error) {
	_, planting, table, err := (&listOptions{}).planting(&o.common, f)
	if err != nil {
		return report.CareIn{}, err
	}
	rows, err := f.planted(&o.common)
	if err != nil {
		return report.CareIn{}, err
	}
	rec, err := f.season(&o.common)
	if err != nil {
		return report.CareIn{}, err
	}
	in := report.NewCareIn(planting, table, rows, rec)
	switch {
	case len(in.Stands) == 0 && len(rows) > 0:
		return in, usagef("%s: none of its plants is both in the plant table and in the bed, so nothing is known of their first year", f.name("planted.csv"))
	case len(in.Stands) == 0:
		return in, usagef("the planting list of %s is empty, so nothing needs a first year: see hollowbed choose", f.garden.Source)
	}
	if o.hoseLMin > 0 {
		in.Setting.HoseLMin, in.HoseGiven = o.hoseLMin, true
	}
	on := o.on
	if on.IsZero() {
		on = o.now().In(f.garden.Site.Location)
	}
	if err := in.Begin(on, o.plantedOn, f.name("planted.csv")); err != nil {
		return in, err
	}
	if o.soFar != "" && in.PlantedAssumed {
		return in, usagef("--so-far: want the day of planting beside it: --planted YYYY-MM-DD, or dates in planted.csv")
	}
	weather, known, err := o.thisYear(f)
	if err != nil {
		return in, err
	}
	if err := in.WorkOut(); err != nil {
		return in, err
	}
	if weather != nil {
		in.SoFar, in.Forecast = o.soFar, o.forecast
		if err := in.WalkThisYear(weather, known); err != nil {
			return in, err
		}
	}
	in.SayToday()
	return in, nil
}

// thisYear reads the weather of this year, of which so many days have been; nil if
// it is not given.
func (o *careOptions) thisYear(f *folder) (rec *site.Record, known int, err error) {
	if o.soFar == "" {
		return nil, 0, nil
	}
	if rec, err = f.other("--so-far", o.soFar); err != nil {
		return nil, 0, err
	}
	if o.forecast == "" {
		return rec, len(rec.Days), nil
	}
	ahead, err := f.other("--forecast", o.forecast)
	if err != nil {
		return nil, 0, err
	}
	return care.Join(rec, ahead)
}

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
