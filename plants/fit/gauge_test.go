package fit

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/basin"
)

// Plants that are judged together, and share what they have in common, fare as
// each does by itself in every band.
func TestTogetherAsAlone(t *testing.T) {
	c := climates()[0]
	b := plots()[1].bed(t, c.invent(t, 8, 51), c.lat)
	rng := rand.New(rand.NewPCG(3, 1))
	var table []catalogue.Plant
	for range 150 {
		p := catalogue.Plant{
			WetH: float64(10 + 20*rng.IntN(6)), PondMM: 40 + 200*rng.Float64(), DryD: 10 + 50*rng.Float64(),
			LowestC: -30 + 25*rng.Float64(), RootCM: float64(10 + 20*rng.IntN(4)), SunMinH: 4, SunMaxH: 10,
		}
		switch rng.IntN(8) {
		case 0:
			p.WetH = nan()
		case 1:
			p.DryD, p.RootCM = nan(), nan()
		case 2:
			p.Assumed = []string{"pond_mm", "dry_d"}
		}
		table = append(table, p)
	}
	for _, watered := range []bool{false, true} {
		b.Watered = watered
		for _, zone := range []string{basin.Bottom, basin.Slope, basin.Rim} {
			risks := b.RisksInZone(table, zone)
			for i, f := range b.AllInZone(table, zone, 3, nil) {
				area, risk := 0.0, 0.0
				for _, band := range b.bandsOf(zone) {
					area += b.Run.Bands[band].AreaM2
					risk += b.Run.Bands[band].AreaM2 * b.InBand(table[i], band, 3).YearlyRisk
				}
				require.InDelta(t, risk/area, f.YearlyRisk, 1e-12)
				require.InDelta(t, risk/area, risks[i], 1e-12)
				alone, ok := b.InZone(table[i], zone, 3)
				require.True(t, ok)
				assert.NotEmpty(t, alone.ByYear)
				alone.ByYear = nil
				require.Equal(t, fmt.Sprintf("%+v", alone), fmt.Sprintf("%+v", f), "%+v", table[i])
			}
		}
	}
}
