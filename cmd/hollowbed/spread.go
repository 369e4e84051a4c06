package main

import (
	"math"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/zones"
)

// mostCases is the most that anybody needs; each is a run of the whole record.
const mostCases = 10_000

// doubtOptions say how uncertain soil, roof and years are.
type doubtOptions struct {
	cases     int
	soil      float64
	roof      string
	sameYears bool
}

func (d *doubtOptions) options(cmd *cobra.Command, cases int) {
	f := cmd.Flags()
	f.IntVar(&d.cases, "spread", cases, "work `N` cases out, with other soil, roof water and years than planned")
	f.Float64Var(&d.soil, "soil-within", 0, "the soil may be up to this `factor` faster or slower than stated (90 % of cases); 1 is exact (default: by how it was measured)")
	f.StringVar(&d.roof, "roof-within", "", "the roof's water is right within this `share`; 0 % is sure (default: 10 %)")
	f.BoolVar(&d.sameYears, "same-years", false, "take the years as they are on record")
}

// check refuses options that cannot be meant. asked says whether the cases are
// asked for at all, by the option named.
func (d *doubtOptions) check(cmd *cobra.Command, asked bool, by string) error {
	var used []string
	for _, name := range []string{"soil-within", "roof-within", "same-years"} {
		if cmd.Flags().Changed(name) {
			used = append(used, "--"+name)
		}
	}
	switch {
	case len(used) > 0 && !asked:
		return usagef("%s: want %s as well", strings.Join(used, " and "), by)
	case cmd.Flags().Changed("spread") && (d.cases < 2 || d.cases > mostCases):
		return usagef("--spread: %d: want from 2 to %d cases", d.cases, mostCases)
	case cmd.Flags().Changed("soil-within") && !(d.soil >= 1 && d.soil <= 100):
		return usagef("--soil-within: %g: want a factor from 1 (sure) to 100", d.soil)
	}
	return nil
}

// of is the doubt of a lot, and the cases.
func (d *doubtOptions) of(e *zones.Exposure) (zones.Doubt, []zones.Sample, error) {
	doubt := e.Lot.UsualDoubt()
	if d.soil > 0 {
		doubt.SoilFactor, doubt.SoilWhy = d.soil, ""
	}
	if d.roof != "" {
		part, err := zones.ParsePercent(d.roof)
		if err != nil || math.IsNaN(part) || part > maxRoofPart {
			return doubt, nil, usagef("--roof-within: %q: want a share of at most 50 %%, such as 10 %%", d.roof)
		}
		doubt.RoofPart = part
	}
	doubt.Years = doubt.Years && !d.sameYears
	seed := uint64(e.Lot.Garden.Wishes.Seed)
	return doubt, doubt.Samples(d.cases, len(e.Whole), seed), nil
}

// maxRoofPart is the most that a roof may be off by.
const maxRoofPart = 0.5

// spread prints how far the figures of the zones may be off, and how the
// planting list fares.
func (o *zonesOptions) spread(f *folder, e *zones.Exposure) error {
	doubt, samples, err := o.doubt.of(e)
	if err != nil {
		return err
	}
	out, err := o.spreadOf(f, e, doubt, samples)
	if err != nil {
		return err
	}
	if o.json {
		return report.JSON(o.out, out)
	}
	doc.Terminal(o.out, out.Blocks)
	return nil
}

func (o *zonesOptions) spreadOf(f *folder, e *zones.Exposure, doubt zones.Doubt, samples []zones.Sample) (report.Spread, error) {
	if err := e.Lot.NeedSun(); err != nil { // without sun there is no list, but the zones are as sure as ever
		s, err := e.Spread(doubt, samples, nil)
		if err != nil {
			return report.Spread{}, err
		}
		return report.NewSpread(f.head, e, s, nil, "the hours of sun are not known; hollowbed choose says how to count them."), nil
	}
	table, err := f.catalogue(o.err)
	if err != nil {
		return report.Spread{}, err
	}
	list, s, err := plants.ChooseInDoubt(plants.NewJudge(e), table, doubt, samples)
	if err != nil {
		return report.Spread{}, err
	}
	return report.NewSpread(f.head, e, s, list, ""), nil
}
