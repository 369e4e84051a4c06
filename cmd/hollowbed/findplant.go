package main

import (
	"strings"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// showPlants prints one plant in full, or two side by side. Where a garden was
// named, or its demo is meant, they say how each would live there.
func (o *findOptions) showPlants(f *folder, table *catalogue.Catalogue) error {
	names := []string{o.show}
	if o.compare != "" {
		other := strings.Join(o.words, " ")
		if other == "" {
			return usagef("--compare: expected two plants, such as: hollowbed find --compare %q %q", o.compare, "another plant")
		}
		names = []string{o.compare, other}
	} else if len(o.words) > 0 {
		names[0] += " " + strings.Join(o.words, " ") // --show blue skelver
	}
	var all []catalogue.Plant
	var verdicts [][]plants.Verdict
	var exposure *zones.Exposure
	for _, name := range names {
		p, err := onePlant("find", table, name)
		if err != nil {
			return err
		}
		all = append(all, p)
		if o.plants != "" && o.garden == "" {
			continue
		}
		judge, err := o.judged(f)
		if err != nil {
			return err
		}
		exposure = judge.Exposure
		verdicts = append(verdicts, judge.Everywhere(p))
	}
	out := report.NewShow(f.head, table.Name, exposure, all, verdicts)
	if o.json {
		return report.JSON(o.out, out)
	}
	o.print(out.Blocks)
	return nil
}

// onePlant finds the plant that a name means. The nearest name is offered and
// never taken; where several plants have the name, it says which.
func onePlant(option string, c *catalogue.Catalogue, name string) (catalogue.Plant, error) {
	bearers := c.Named(name)
	switch len(bearers) {
	case 0:
		return catalogue.Plant{}, usagef("%s: %q: %s", option, name, catalogue.OrNear("want the name or id of a plant in "+c.Name, c.Plants, name))
	case 1:
		return *bearers[0], nil
	}
	return catalogue.Plant{}, usagef("%s: %q: several plants have this name: expected one of %s", option, name, catalogue.Which(bearers))
}
