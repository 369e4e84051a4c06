package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
	"hollowbed/zones/climate"
	"hollowbed/zones/site"
)

// nearestClimates is how many stations are listed.
const nearestClimates = 5

// nearest lists the built-in climates that are nearest to a place, by distance and
// height.
func (c *common) nearest(place string) error {
	units, err := c.unitsWanted()
	if err != nil {
		return err
	}
	if units == "" {
		units = zones.UnitsUS
	}
	spot, err := climate.FindSpot(place)
	if err != nil {
		return usagef("--%s", strings.TrimPrefix(err.Error(), ": "))
	}
	near := climate.NearestTo(spot, nearestClimates)
	if len(near) == 0 {
		return usagef("--near: %q: no station is within %s: the stations are those of the United States", place, units.Away(climate.FarthestKM))
	}
	if c.json {
		return report.JSON(c.out, report.NewClimates(spot, near))
	}
	printClimates(c, units, spot, near)
	return nil
}

func printClimates(c *common, units zones.Units, spot climate.Spot, near []climate.Near) {
	high := ""
	if !math.IsNaN(spot.ElevationM) {
		high = ", at " + units.Height(math.Max(spot.ElevationM, 0))
	}
	fmt.Fprintf(c.out, "Near %s%s, counting height as well as distance:\n", spot.Title, high)
	for _, n := range near {
		f := n.Facts()
		fmt.Fprintf(c.out, "  %s  %s, %d years\n", n.ID, units.StationText(n), n.Years)
		fmt.Fprintf(c.out, "            %s of rain a year; coldest night of one year in ten %s; %s\n", units.Rain(f.RainMM), units.Temp(f.ColdestC), frost(f))
	}
	fmt.Fprintf(c.out, "Years are made from such a climate; they are not a record. Most of the figures end before %d.\n", climate.StationsUntil)
	for _, doubt := range near[0].Doubts() {
		fmt.Fprintf(c.out, "Note: %s.\n", doubt)
	}
	made := near[0].Here().Record(climate.Years, 1, site.Patterns()[0])
	fmt.Fprintf(c.out, "The year by month from %s:\n", near[0].Title())
	doc.Terminal(c.out, []doc.Block{report.Climate(report.Garden{Units: units}, zones.RecordFacts{Months: made.MonthMeans()}, spot.LatDeg)})
	fmt.Fprintf(c.out, "In the garden file: weather: {station: %s}\n", near[0].ID)
}

// frost words the last and the first frost of the middle year.
func frost(f climate.Facts) string {
	if f.LastFrost == 0 && f.FirstFall == 0 {
		return "no frost in most years"
	}
	day := func(n int) string {
		return time.Date(2000, 1, n, 0, 0, 0, 0, time.UTC).Format("2 Jan")
	}
	switch {
	case f.FirstFall == 0:
		return "last frost " + day(f.LastFrost)
	case f.LastFrost == 0:
		return "first frost " + day(f.FirstFall)
	}
	return "frost until " + day(f.LastFrost) + " and from " + day(f.FirstFall)
}
