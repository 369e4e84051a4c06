package fit

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/basin"
)

// BenchmarkZones judges a catalogue in all three zones of a bed with a record
// of 24 years. Roots stand in steps of 5 cm, as in a table that people write.
func BenchmarkZones(b *testing.B) {
	c := climates()[0]
	bed := plots()[1].bed(b, c.invent(b, 24, 51), c.lat)
	for _, plants := range []int{200, 5000} {
		rng := rand.New(rand.NewPCG(1, 1))
		var table []catalogue.Plant
		for range plants {
			table = append(table, catalogue.Plant{
				WetH: 200 * rng.Float64(), PondMM: 200 * rng.Float64(), DryD: 60 * rng.Float64(), LowestC: -30 * rng.Float64(),
				RootCM: float64(10 + 5*rng.IntN(24)), SunMinH: 4, SunMaxH: 10, Assumed: []string{"dry_d"},
			})
		}
		b.Run(fmt.Sprint(plants), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				bed.dry = nil
				for _, p := range table {
					for _, zone := range []string{basin.Bottom, basin.Slope, basin.Rim} {
						bed.InZone(p, zone, 6)
					}
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*plants*3), "ns/plant-zone")
		})
	}
}
