package main

import (
	"errors"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/zones"
)

type chooseOptions struct {
	common
	why          string
	asked        bool // --why was given
	csv          bool
	alternatives bool
	reserve      string
	more         float64 // share of reserve
	list         listOptions
}

func newChoose(w world) *cobra.Command {
	o := &chooseOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "choose",
		Short: "Planting list: which plants, how many, in which zone, and why",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := errors.Join(only(cmd, "why", "csv"), only(cmd, "why", "alternatives"), only(cmd, "csv", "json"), only(cmd, "why", "robust")); err != nil {
				return err
			}
			if err := o.list.check(cmd); err != nil {
				return err
			}
			if err := o.spare(); err != nil {
				return err
			}
			o.asked = cmd.Flags().Changed("why")
			return o.run()
		},
	}
	o.options(cmd)
	o.allOption(cmd)
	o.plantsOption(cmd)
	o.learnedOption(cmd)
	cmd.Flags().StringVar(&o.why, "why", "", "judge one plant, by its `name` or id, in every zone")
	cmd.Flags().BoolVar(&o.csv, "csv", false, "print an order list as CSV")
	cmd.Flags().BoolVar(&o.alternatives, "alternatives", false, "show the next best species for each line; with --csv, what to ask for where a plant is sold out")
	cmd.Flags().StringVar(&o.reserve, "reserve", "", "with --csv: order this `SHARE` more of each plant than is set out, such as 10 %")
	o.list.options(cmd)
	return cmd
}

// spare reads how much more is ordered.
func (o *chooseOptions) spare() (err error) {
	if o.reserve == "" {
		return nil
	}
	if !o.csv {
		return usagef("--reserve: expected --csv with it, the order list")
	}
	if o.more, err = zones.ParsePercent(o.reserve); err != nil || !(o.more >= 0 && o.more <= 1) {
		return usagef("--reserve: %q: expected a share of at most 100 %%, such as 10 %%", o.reserve)
	}
	return nil
}

func (o *chooseOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	if o.asked {
		return o.explain(f)
	}
	judge, planting, table, err := o.list.planting(&o.common, f)
	if err != nil {
		return err
	}
	if err := planting.WeighLayers(); err != nil {
		return err
	}
	performance, err := judge.Exposure.Perform()
	if err != nil {
		return err
	}
	out := report.NewChoose(f.head, table.Name, planting, judge.Exposure.Lot.Checks(performance))
	switch {
	case o.json:
		return report.JSON(o.out, out)
	case o.csv:
		return out.CSV(o.out, o.alternatives, o.more)
	case o.alternatives:
		doc.Terminal(o.out, out.Next)
	default:
		o.print(out.Blocks)
	}
	return nil
}

func (o *chooseOptions) explain(f *folder) error {
	c, err := f.catalogue(o.err)
	if err != nil {
		return err
	}
	p, err := onePlant("--why", c, o.why)
	if err != nil {
		return err
	}
	exposure, err := f.exposure()
	if err != nil {
		return err
	}
	if err := exposure.Lot.NeedSun(); err != nil {
		return err
	}
	if _, err := f.needDrain(&o.common, exposure.Lot); err != nil {
		return err
	}
	out := report.NewWhy(f.head, exposure, plants.NewJudge(exposure).Everywhere(p))
	if o.json {
		return report.JSON(o.out, out)
	}
	o.print(out.Blocks)
	return nil
}
