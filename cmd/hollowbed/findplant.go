package main

import (
	"fmt"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
	"hollowbed/search"
	"hollowbed/zones"
)

// judged is a judge of the garden's zones, made once.
func (o *findOptions) judged(f *folder) (*plants.Judge, error) {
	if o.judge != nil {
		return o.judge, nil
	}
	exposure, err := f.exposure()
	if err != nil {
		return nil, err
	}
	if err := exposure.Lot.NeedSun(); err != nil {
		return nil, err
	}
	o.made = exposure.Record.Climate
	o.judge = plants.NewJudge(exposure)
	return o.judge, nil
}

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
	doc.Terminal(o.out, out.Blocks)
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

// inPlace has a query for what can replace a plant that is planted look at its
// place.
func (o *findOptions) inPlace(f *folder, table *catalogue.Catalogue, q *search.Query) error {
	if q.Like == nil || !q.Like.Replace {
		return nil
	}
	rows, err := f.stands(&o.common)
	if err != nil {
		return err
	}
	stakes := plants.Stakes(rows, table, q.Like.Name)
	if len(stakes) == 0 {
		return nil // by its name alone: the same layer, anywhere
	}
	if len(stakes) > 1 {
		return usagef("replace: %q: %s", q.Like.Name, oneOfStakes(stakes))
	}
	row, _ := season.Grows(rows, stakes[0])
	q.Like.ID = row.ID
	if q.Survives != nil {
		return nil // --in or --at says where
	}
	judge, err := o.judged(f)
	if err != nil {
		return err
	}
	spot, ok := judge.SpotAt(row.X, row.Y)
	if !ok {
		return usagef("replace: %s is planted outside the bed as it is now: expected a place within it, with --at", stakes[0])
	}
	o.at = "the place of " + stakes[0]
	q.Survives = func(i int) (float64, string, bool) {
		v := judge.At(table.Plants[i], spot)
		risk, why := report.Fate(v, f.garden.Units)
		return risk, why, v.Lives()
	}
	return nil
}

// oneOfStakes asks for one of the stakes that a name may mean.
func oneOfStakes(stakes []string) string {
	const most = 12
	shown, more := stakes, ""
	if len(stakes) > most {
		shown, more = stakes[:most], fmt.Sprintf(" and %d more", len(stakes)-most)
	}
	return fmt.Sprintf("%d of them are planted: expected one of the stakes %s%s", len(stakes), strings.Join(shown, ", "), more)
}

// best says where each hit lives at the least risk, in a garden that was named.
func (o *findOptions) best(f *folder, table *catalogue.Catalogue, r *search.Result) report.BestZone {
	if o.garden == "" || r.Words != "" || len(r.Hits) == 0 || o.place() != "" {
		return nil
	}
	judge, err := o.judged(f)
	if err != nil {
		return nil // a garden that is not whole yet: the search does not hang on it
	}
	return func(row int) (string, float64) {
		v, _ := judge.Best(table.Plants[row])
		return v.Zone, v.Fit.YearlyRisk
	}
}
