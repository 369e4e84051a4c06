package main

import (
	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
)

type chooseOptions struct {
	common
	why          string
	csv          bool
	alternatives bool
}

func newChoose(w world) *cobra.Command {
	o := &chooseOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "choose",
		Short: "Planting list: which plants, how many, in which zone, and why",
		Args:  cobra.NoArgs,
		RunE:  func(*cobra.Command, []string) error { return o.run() },
	}
	o.options(cmd)
	cmd.Flags().StringVar(&o.why, "why", "", "judge one plant, by its `name` or id, in every zone")
	cmd.Flags().BoolVar(&o.csv, "csv", false, "print an order list as CSV")
	cmd.Flags().BoolVar(&o.alternatives, "alternatives", false, "show the next best species for each line")
	cmd.MarkFlagsMutuallyExclusive("why", "csv", "alternatives")
	cmd.MarkFlagsMutuallyExclusive("csv", "json")
	return cmd
}

func (o *chooseOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	if o.why != "" {
		return o.explain(f)
	}
	judge, planting, table, err := o.planting(f)
	if err != nil {
		return err
	}
	performance, err := judge.Exposure.Perform()
	if err != nil {
		return err
	}
	doc := report.NewChoose(f.head, table.Name, planting, judge.Exposure.Lot.Checks(performance))
	switch {
	case o.json:
		return report.JSON(o.out, doc)
	case o.csv:
		return doc.CSV(o.out)
	case o.alternatives:
		doc.TextAlternatives(o.out)
	default:
		doc.Text(o.out)
	}
	return nil
}

func (o *chooseOptions) explain(f *folder) error {
	c, err := f.catalogue(o.err)
	if err != nil {
		return err
	}
	p, ok := c.ByID(o.why)
	if !ok { // people write the name
		p, ok = c.ByID(catalogue.IDFor(o.why))
	}
	if !ok {
		if near := c.Near(o.why); near != "" {
			return usagef("--why: %q: want the name or id of a plant in %s, such as %q", o.why, c.Name, near)
		}
		return usagef("--why: %q: want the name or id of a plant in %s", o.why, c.Name)
	}
	exposure, err := f.exposure()
	if err != nil {
		return err
	}
	if err := exposure.Lot.NeedSun(); err != nil {
		return err
	}
	doc := report.NewWhy(f.head, report.NewRecord(exposure.Record), plants.NewJudge(exposure).Everywhere(p))
	if o.json {
		return report.JSON(o.out, doc)
	}
	doc.Text(o.out)
	return nil
}
