package water

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// Weather that was worked out before gives what a run works out itself; that
// of another record or latitude is not taken.
func TestWeatherIsShared(t *testing.T) {
	showery := func(every int) *site.Record {
		rec := &site.Record{Start: time.Date(2012, 1, 1, 0, 0, 0, 0, time.UTC), Step: "hourly"}
		for d := range 400 {
			rec.Days = append(rec.Days, site.Day{TMinC: float64(d%50) - 10, TMaxC: float64(d % 50), ET0MM: 4})
			for h := range 24 {
				rain := 0.0
				if d%every == 0 && h < 6 {
					rain = 3
				}
				rec.RainMM, rec.Missing = append(rec.RainMM, rain), append(rec.Missing, d%(9*every) == 5)
			}
		}
		return rec
	}
	rec, other := showery(7), showery(11)
	s := tub(t, 150, 50, 8)
	s.LatitudeDeg = 45
	plain, err := Run(s, rec)
	require.NoError(t, err)
	for name, w := range map[string]*Weather{
		"its own": NewWeather(rec, 45), "another record's": NewWeather(other, 45), "another latitude's": NewWeather(rec, -20),
	} {
		with := s
		with.Weather = w
		got, err := Run(with, rec)
		require.NoError(t, err)
		assert.Equal(t, plain, got, name)
		volumes, err := Volumes(with, rec)
		require.NoError(t, err)
		assert.Equal(t, plain.Balance, volumes, name)
	}
	south := s
	south.LatitudeDeg = -20
	there, err := Run(south, rec)
	require.NoError(t, err)
	assert.NotEqual(t, plain.Balance, there.Balance, "the sun of a latitude matters, so the check means something")
}
