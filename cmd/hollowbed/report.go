package main

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

type reportOptions struct {
	common
	list  listOptions
	short bool
	file  string
	date  string
	on    time.Time
}

func newReport(w world) *cobra.Command {
	o := &reportOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "report",
		Short: "One printable page: the bed, the planting list, the drawings, how to plant",
		Long: `Write one HTML page on a garden that needs nothing else: no network, no script.
It prints on A4 and Letter. The page goes to the output, or to the file that
--out names; a file of that name is replaced, since the page is made anew from
the garden each time. Nothing in the garden folder is changed.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := o.list.check(cmd); err != nil {
				return err
			}
			var err error
			if o.on, err = dayNamed("--date", o.date); err != nil {
				return err
			}
			return o.run()
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.garden, "garden", "", "folder of the garden (default: the embedded demo)")
	f.StringVar(&o.units, "units", "", "show figures in `us|metric` (default: as the garden file says)")
	o.list.options(cmd)
	f.StringVar(&o.date, "date", "", "what day is today, as `YYYY-MM-DD`, where no day of planting is noted (default: the day after the record, so that the same files give the same page)")
	f.BoolVar(&o.short, "short", false, "the hand-over for the owner: plan, plants, first year and cautions on two pages")
	f.StringVar(&o.file, "out", "", "write the page to `FILE`, in place of one that is there")
	return cmd
}

func (o *reportOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	if err := f.guard([]writes{{option: "--out", file: o.file}}); err != nil {
		return err
	}
	in, err := o.page(f)
	if err != nil {
		return err
	}
	in.Garden = f.head // with all that was read
	page, err := report.NewPage(in)
	if err != nil {
		return err
	}
	write := page.HTML
	if o.short {
		write = page.Short
	}
	if o.file == "" {
		return write(o.out)
	}
	var text bytes.Buffer
	if err := write(&text); err != nil {
		return err
	}
	if err := store.Replace(o.file, text.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(o.err, "Wrote %s.\n", o.file)
	return nil
}

// day is what the page takes for today: the clock has no say in it. Made years
// have no date of their own.
func (o *reportOptions) day(rec *site.Record) time.Time {
	switch end := rec.Start.AddDate(0, 0, len(rec.Days)); {
	case !o.on.IsZero():
		return o.on
	case rec.Climate != "":
		return time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	default:
		return end
	}
}

// page gathers what a page is made from. Without a weather record it stops at
// the bed.
func (o *reportOptions) page(f *folder) (report.PageIn, error) {
	in := report.PageIn{Garden: f.head, Version: version()}
	judge, planting, table, err := o.list.planting(&o.common, f)
	if err == nil {
		err = planting.WeighLayers()
	}
	var none *zones.NoRecordError
	if errors.As(err, &none) {
		if in.Lot, err = f.lot(); err != nil {
			return in, err
		}
		in.Performance, err = in.Lot.Perform()
		return in, err
	}
	if err != nil {
		return in, err
	}
	standing, err := f.planted(&o.common)
	if err != nil {
		return in, err
	}
	in.Exposure, in.Lot, in.Planting, in.Catalogue = judge.Exposure, judge.Exposure.Lot, planting, table.Name
	if in.Performance, err = judge.Exposure.Perform(); err != nil {
		return in, err
	}
	grown, err := f.grownOf(&o.common, standing, table)
	if err != nil {
		return in, err
	}
	if in.Placed, err = plants.Place(judge, planting, table, grown); err != nil {
		return in, err
	}
	if in.FirstYear, err = report.FirstYearOf(planting, table, standing, f.seasonRead, o.day(in.Lot.Record), f.name("planted.csv")); err != nil {
		return in, err
	}
	return in, o.season(f, &in, judge, table, standing)
}

// season adds what the notes teach, and how sure the zones are, where there are
// notes of what is planted.
func (o *reportOptions) season(f *folder, in *report.PageIn, judge *plants.Judge, table *catalogue.Catalogue, rows []placement.Planted) error {
	if len(rows) == 0 || f.seasonRead == nil || len(f.seasonRead.Current()) == 0 {
		return nil
	}
	m := report.MoveIn{Exposure: judge.Exposure, Plants: table, On: o.day(in.Lot.Record)}
	var err error
	if m.Signs, err = signs(); err != nil {
		return err
	}
	if _, err := m.Weigh(f.dir, judge, rows, f.seasonRead); err != nil {
		return err
	}
	in.Season, in.Planted = &m, len(rows)
	usual := doubtOptions{cases: plants.RobustCases}
	doubt, samples, err := usual.of(judge.Exposure)
	if err != nil {
		return err
	}
	list, spread, err := plants.ChooseInDoubt(judge, table, doubt, samples)
	if err != nil {
		return err
	}
	sure := report.NewSpread(f.head, judge.Exposure, spread, list, "")
	in.Sure = &sure
	return nil
}
