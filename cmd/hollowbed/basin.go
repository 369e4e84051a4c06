package main

import (
	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
)

type basinOptions struct {
	common
	size   bool
	inlets bool
}

func newBasin(w world) *cobra.Command {
	o := &basinOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "basin",
		Short: "Check the bed: depth, volume, soil, distances; --size finds the smallest that does",
		Args:  cobra.NoArgs,
		RunE:  func(*cobra.Command, []string) error { return o.run() },
	}
	o.options(cmd)
	cmd.Flags().BoolVar(&o.size, "size", false, "find the smallest bed that meets the targets of the garden file")
	cmd.Flags().BoolVar(&o.inlets, "inlets", false, "compare three ways to bring the water in: buried pipe, lined swale, surface extension")
	return cmd
}

func (o *basinOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	lot, err := f.lot()
	if err != nil {
		return err
	}
	performance, err := lot.Perform()
	if err != nil {
		return err
	}
	var size *zones.Size
	if o.size {
		s, err := lot.Smallest()
		if err != nil {
			return err
		}
		size = &s
	}
	doc := report.NewBasin(f.head, lot, performance, size)
	if o.inlets {
		if doc.Inlets = report.NewInlets(lot); doc.Inlets == nil {
			return usagef("--inlets: %s has no inlet section: want the ground levels from the downspout to the bed; the commented one that hollowbed start writes shows how", f.garden.Source)
		}
	}
	if o.json {
		return report.JSON(o.out, doc)
	}
	doc.Text(o.out)
	return nil
}
