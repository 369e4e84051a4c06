package main

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
	"hollowbed/search"
	"hollowbed/zones"
)

func (o *findOptions) place() string {
	if o.at != "" {
		return "at " + o.at
	}
	return o.in
}

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

// survives judges plants in the zone or at the place asked for; nil if neither
// was.
func (o *findOptions) survives(f *folder, table *catalogue.Catalogue) (func(int) (float64, string, bool), error) {
	if o.in == "" && o.at == "" {
		return nil, nil
	}
	judge, err := o.judged(f)
	if err != nil {
		return nil, err
	}
	exposure := judge.Exposure
	var at func(catalogue.Plant) (plants.Verdict, bool)
	if o.in != "" {
		if !slices.ContainsFunc(exposure.Zones, func(z zones.ZoneExposure) bool { return z.Zone == o.in }) {
			return nil, usagef("--in: %q: want a zone of this bed: %s", o.in, zoneNames(exposure))
		}
		at = func(p catalogue.Plant) (plants.Verdict, bool) { return judge.Zone(p, o.in) }
	} else {
		band, err := bandAt(exposure, o.at)
		if err != nil {
			return nil, err
		}
		at = func(p catalogue.Plant) (plants.Verdict, bool) { return judge.Band(p, band), true }
	}
	return func(row int) (float64, string, bool) {
		v, ok := at(table.Plants[row])
		risk, why := report.Fate(v, f.garden.Units)
		return risk, why, ok && v.Lives()
	}, nil
}

// bandAt finds the elevation band of a place in the bed, given as two lengths.
func bandAt(e *zones.Exposure, place string) (int, error) {
	want := fmt.Sprintf("--at: %q: want two lengths with their units, such as \"4 ft, 3 ft\"", place)
	x, y, ok := strings.Cut(place, ",")
	if !ok {
		return 0, usagef("%s", want)
	}
	xM, err := zones.ParseLengthM(strings.TrimSpace(x))
	if err != nil {
		return 0, usagef("%s", want)
	}
	yM, err := zones.ParseLengthM(strings.TrimSpace(y))
	if err != nil {
		return 0, usagef("%s", want)
	}
	band, ok := e.BandAt(xM, yM)
	if !ok {
		x0, y0, x1, y1 := e.Lot.Bed.Spec().Outline.Bounds()
		u := e.Lot.Garden.Units
		return 0, usagef("--at: %q: outside the bed, which reaches from %s, %s to %s, %s", place, u.Length(x0), u.Length(y0), u.Length(x1), u.Length(y1))
	}
	return band, nil
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
