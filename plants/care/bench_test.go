package care

import (
	"testing"

	"hollowbed/plants/catalogue"
)

// BenchmarkFirstYear judges 120 plants in three zones, with the inlet open and
// shut, over the four years of New York.
func BenchmarkFirstYear(b *testing.B) {
	rec := realRecord(b, "New York", 40.7)
	bed, f := realBed(b, rec, 40, 15, 40.7)
	shut, shutFit := realBed(b, rec, 0, 15, 40.7)
	var plants []catalogue.Plant
	for i := range 120 {
		p := plant(float64(10+i%30), float64(12+4*i))
		p.RootCM = float64(15 + 5*(i%15))
		plants = append(plants, p)
	}
	var stands []Stand
	for _, zone := range []string{"bottom", "slope", "rim"} {
		stands = append(stands, stand(zone, 4, plants...))
	}
	closed := &Closed{Fit: shutFit, Care: shut}
	bed.Shut = shut.Weather
	for b.Loop() {
		bed.Unaided(f, stands, may1())
		plans, err := bed.Plans(stands, may1())
		if err != nil {
			b.Fatal(err)
		}
		for i, s := range stands {
			for k := range s.Groups {
				bed.FirstYear(f, closed, s, k, plans[i], 6, may1())
			}
		}
	}
}
