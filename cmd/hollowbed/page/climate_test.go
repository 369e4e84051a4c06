package page_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Place and climate are fields: another place gives another climate, the picture of the
// year follows, and what is wrong with one stands beside its field.
func TestPlaceAndClimate(t *testing.T) {
	w := call(t, smallGarden(t))
	try := func(changes map[string]string) (s shown) {
		t.Helper()
		text, err := json.Marshal(map[string]any{"version": get[shown](w, "/api/state").Version, "changes": changes})
		require.NoError(t, err)
		status, body := w.ask("POST", "/api/try", string(text))
		require.Equal(t, 200, status, string(body))
		require.NoError(t, json.Unmarshal(body, &s))
		return s
	}
	year := func() string {
		status, svg := w.ask("GET", "/api/climate.svg", "")
		require.Equal(t, 200, status)
		return string(svg)
	}
	assert.Contains(t, year(), "From the record rain.csv")
	s := try(map[string]string{"weather.file": "", "weather.station": "nearest"})
	if assert.Len(t, s.Faults, 1) {
		assert.Equal(t, "weather.station", s.Faults[0].Key)
		assert.Contains(t, s.Faults[0].Want, "site.longitude")
	}
	assert.Contains(t, year(), "From the record rain.csv", "figures are those of before")
	s = try(map[string]string{"site.latitude": "46.783", "site.longitude": "-92.107"})
	assert.Empty(t, s.Faults)
	assert.Contains(t, s.Record, "from the climate of SOLON SPRINGS, WI")
	duluth := year()
	assert.Contains(t, duluth, "From the climate of SOLON SPRINGS, WI")
	s = try(map[string]string{"site.latitude": "30.0", "site.longitude": "-90.1"})
	assert.Contains(t, s.Record, ", LA, ")
	assert.NotEqual(t, duluth, year())
	s = try(map[string]string{"site.longitude": "11"})
	if assert.Len(t, s.Faults, 1) {
		assert.Equal(t, "weather.station", s.Faults[0].Key)
		assert.Contains(t, s.Faults[0].Want, "no station is near")
	}
	s = try(map[string]string{"site.longitude": "east"})
	if assert.NotEmpty(t, s.Faults) {
		assert.Equal(t, "site.longitude", s.Faults[0].Key)
	}
}
