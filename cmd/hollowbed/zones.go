package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
)

type zonesOptions struct {
	common
	years, bands bool
	explain      string
	doubt        doubtOptions
}

func newZones(w world) *cobra.Command {
	o := &zonesOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "zones",
		Short: "How wet, dry and sunny each zone of the bed gets",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := only(cmd, "years", "bands", "explain", "spread"); err != nil {
				return err
			}
			if err := o.doubt.check(cmd, cmd.Flags().Changed("spread"), "--spread"); err != nil {
				return err
			}
			return o.run()
		},
	}
	o.options(cmd)
	o.allOption(cmd)
	o.byNotesOption(cmd)
	cmd.Flags().BoolVar(&o.years, "years", false, "show the longest spells of every year")
	cmd.Flags().BoolVar(&o.bands, "bands", false, "show every height of the bed")
	cmd.Flags().StringVar(&o.explain, "explain", "", "walk the worst wet and dry spell of a `zone` day by day")
	o.doubt.options(cmd, 0)
	return cmd
}

func (o *zonesOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	exposure, err := f.exposure()
	if err != nil {
		return err
	}
	if o.explain != "" {
		return o.walk(f, exposure)
	}
	if o.doubt.cases > 0 {
		return o.spread(f, exposure)
	}
	out := report.NewZones(f.head, exposure)
	switch {
	case o.json:
		return report.JSON(o.out, out)
	case o.years:
		doc.Terminal(o.out, out.ByYear)
	case o.bands:
		doc.Terminal(o.out, out.ByBand)
	default:
		o.print(out.Blocks)
	}
	return nil
}

func (o *zonesOptions) walk(f *folder, e *zones.Exposure) error {
	i := slices.IndexFunc(e.Zones, func(z zones.ZoneExposure) bool { return strings.EqualFold(z.Zone, o.explain) })
	if i < 0 {
		return usagef("--explain: %q: want a zone of this bed: %s", o.explain, zoneNames(e))
	}
	doc := report.Trace{Garden: f.head, Zone: e.Zones[i].Zone}
	for _, s := range e.Worst(i) {
		days, err := e.Trace(s.Band, s.Spell)
		if err != nil {
			return err
		}
		doc.Spells = append(doc.Spells, report.NewTraceRun(s.Kind, e, s.Band, s.Spell, days))
	}
	if o.json {
		return report.JSON(o.out, doc)
	}
	doc.Text(o.out)
	return nil
}

func zoneNames(e *zones.Exposure) string {
	names := ""
	for i, z := range e.Zones {
		if i > 0 {
			names += ", "
		}
		names += z.Zone
	}
	return names
}
