package plants

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// smallGarden is the file of an invented lot. The lines given replace or add to
// its blocks: site, roof, soil, mix, bed, sun, wishes.
func smallGarden(blocks map[string]string) string {
	text := `hollowbed: 1
units: metric
`
	for _, b := range []struct{ key, usual string }{
		{"site", "{latitude: 41.5, time_zone: America/Chicago}"},
		{"roof", "{area: 40 m2}"},
		{"soil", "{texture: loam, rate: 15 mm/h, safety_factor: 1}"},
		{"mix", "{texture: sandy loam, depth: 400 mm}"},
		{"bed", "{shape: rectangle, length: 4 m, width: 3 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
		{"sun", "{bottom: 6 h, slope: 6 h, rim: 7 h}"},
		{"wishes", "{yearly_risk_max: 15 %, smallest_group: 1, share_cap: 100 %}"},
	} {
		body, ok := blocks[b.key]
		if !ok {
			body = b.usual
		}
		if body != "" {
			text += b.key + ": " + body + "\n"
		}
	}
	return text
}

// expose runs a small garden over a record.
func expose(t testing.TB, blocks map[string]string, rec *site.Record) *zones.Exposure {
	t.Helper()
	g, err := zones.ReadGarden("garden.yaml", strings.NewReader(smallGarden(blocks)))
	require.NoError(t, err)
	lot, err := zones.Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	return e
}

// someYears draws weather: rain on about every third day, more in some years
// than in others, frost to about -18 deg C.
func someYears(years int) *site.Record {
	rng := rand.New(rand.NewPCG(8, 1))
	rec := &site.Record{Source: "rain.csv", Start: time.Date(2001, 1, 1, 0, 0, 0, 0, time.FixedZone("", -6*3600)), Step: "daily"}
	for day := rec.Start; day.Year() < 2001+years; day = day.AddDate(0, 0, 1) {
		rain := 0.0
		if rng.Float64() < 0.3 {
			rain = 9 * rng.ExpFloat64()
		}
		for h := range 24 {
			mm := 0.0
			if h >= 9 && h < 15 {
				mm = rain / 6
			}
			rec.RainMM = append(rec.RainMM, mm)
		}
		mean := 10 - 14*math.Cos(2*math.Pi*float64(day.YearDay()-20)/365) + 3*rng.NormFloat64()
		rec.Days = append(rec.Days, site.Day{TMinC: mean - 6, TMaxC: mean + 6, ET0MM: math.NaN()})
	}
	rec.Missing = make([]bool, len(rec.RainMM))
	return rec
}

// hardy is an invented plant that bears anything the small lots do.
func hardy(id string) catalogue.Plant {
	return catalogue.Plant{
		ID: id, VernacularName: "Test " + id, Zones: []string{"bottom", "slope", "rim"},
		SunMinH: 4, SunMaxH: 10, WetH: 2000, PondMM: 1000, DryD: 200, LowestC: -40, RootCM: 40,
		HeightCM: 40, SpreadCM: 40, FlowerFrom: 5, FlowerTo: 8, Spreads: "no", Toxic: []string{"none"}, Price: 4,
	}
}

func with(p catalogue.Plant, change func(*catalogue.Plant)) catalogue.Plant {
	change(&p)
	return p
}

func tableOf(plants ...catalogue.Plant) *catalogue.Catalogue {
	return &catalogue.Catalogue{Name: "plants.csv", Plants: plants}
}

// many makes n plants alike.
func many(n int, p catalogue.Plant) []catalogue.Plant {
	var all []catalogue.Plant
	for i := range n {
		all = append(all, with(p, func(p *catalogue.Plant) { p.ID = fmt.Sprintf("%s-%d", p.ID, i) }))
	}
	return all
}

func plainNumber(v float64) string { return fmt.Sprintf("%g", v) }
