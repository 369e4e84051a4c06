package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
)

type basinOptions struct {
	common
	size   bool
	inlets bool
	route  string
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
	o.allOption(cmd)
	cmd.Flags().BoolVar(&o.size, "size", false, "find the smallest bed that meets the targets of the garden file")
	cmd.Flags().BoolVar(&o.inlets, "inlets", false, "compare three ways to bring the water in: buried pipe, lined swale, surface extension")
	cmd.Flags().StringVar(&o.route, "route", "", "write the way in, cut open, as an SVG picture to `FILE`")
	return cmd
}

func (o *basinOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	if err := f.guard([]writes{{option: "--route", file: o.route, picture: true}}); err != nil {
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
	var inlets *report.Inlets
	if o.inlets {
		if inlets = report.NewInlets(lot); inlets == nil {
			return noInlet("--inlets", f)
		}
	}
	out := report.NewBasin(f.head, lot, performance, size, inlets)
	if o.route != "" {
		if err := o.writeRoute(f, lot); err != nil {
			return err
		}
	}
	if o.json {
		return report.JSON(o.out, out)
	}
	o.print(out.Blocks)
	return nil
}

// writeRoute writes the picture of the way in.
func (o *basinOptions) writeRoute(f *folder, lot *zones.Lot) error {
	if !lot.WayIn.Given {
		return noInlet("--route", f)
	}
	picture, ok := report.RouteSVG(f.head, lot)
	if !ok {
		return usagef("--route: %s: none of the three ways can be; hollowbed basin --inlets says why and what would do", f.garden.Source)
	}
	if err := writePicture(o.route, picture); err != nil {
		return err
	}
	fmt.Fprintf(o.err, "Wrote %s.\n", o.route)
	return nil
}

// noInlet says that an option wants an inlet section.
func noInlet(option string, f *folder) error {
	return usagef("%s: %s has no inlet section: want the ground levels from the downspout to the bed; the commented one that hollowbed start writes shows how", option, f.garden.Source)
}
