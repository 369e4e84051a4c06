package zones

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/climates/records"
	"hollowbed/zones/site"
)

// snowLot is the lot of data/METHOD.md (100 m2 of roof, 4 x 3 m, 6 mm/h) at
// International Falls, 45 years of real days, with winters under snow.
func snowLot(t *testing.T, snow string) *Exposure {
	t.Helper()
	place := records.Places()[5]
	require.Equal(t, "daily-mn214026", place.File)
	rec, err := records.Read("..", place)
	require.NoError(t, err)
	text, err := os.ReadFile("../testdata/trust/garden.yaml")
	require.NoError(t, err)
	g, err := read(string(text))
	require.NoError(t, err)
	g.Site.LatitudeDeg, g.Weather.Snow = place.LatDeg, snow
	lot, err := Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	return e
}

// A pack moves water from winter into spring: the rain of the record stays as it
// was told, the same water comes down, and the record that was read is not changed,
// however often it is prepared, nor melted again. The worst wet spell is April's
// thaw, no longer a storm's in June, and frost makes no drought.
func TestSnowPackOnAColdRecord(t *testing.T) {
	rain, pack := snowLot(t, "rain"), snowLot(t, "pack")
	winter := func(r *site.Record) (mm float64) {
		for d := range r.Days {
			if m := r.Start.AddDate(0, 0, d).Month(); m == 12 || m <= 2 {
				day, _ := r.DayRainMM(d)
				mm += day
			}
		}
		return mm
	}
	assert.Less(t, winter(pack.Lot.Record), 0.25*winter(rain.Lot.Record), "next to nothing melts there from December to February")
	assert.Equal(t, rain.Record.Figures, pack.Record.Figures)
	for _, rec := range []*site.Record{rain.Lot.Record, pack.Lot.Record} {
		again, err := Prepare(pack.Lot.Garden, rec)
		require.NoError(t, err)
		assert.Equal(t, pack.Lot.Record.RainMM, again.Record.RainMM)
	}
	worst := func(e *Exposure) (wet, dry BandExposure) {
		return e.Bands[e.Zones[0].Wettest], e.Bands[e.Zones[len(e.Zones)-1].Driest]
	}
	wet, dry := worst(pack)
	assert.Equal(t, time.April, wet.WorstWet.From.Month())
	stormy, rimDry := worst(rain)
	assert.Equal(t, time.June, stormy.WorstWet.From.Month())
	assert.LessOrEqual(t, dry.DryOneInTenD, rimDry.DryOneInTenD)
	assert.Equal(t, time.May, dry.WorstDry.From.Month())
}
