package plants

import (
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones"
)

// YearsAt compares every whole year of a record, in its order, with the limits of
// each plant in a band, in the units of the plant table, as the planting list does.
func YearsAt(e *zones.Exposure, band int, plants []catalogue.Plant) [][]fit.Year {
	bed := fitBed(e)
	out := make([][]fit.Year, len(plants))
	for i, p := range plants {
		for _, y := range e.Whole {
			out[i] = append(out[i], bed.At(p, band, y))
		}
	}
	return out
}
