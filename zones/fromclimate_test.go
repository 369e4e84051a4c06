package zones

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// lotOf is a garden file with its site and weather.
func lotOf(t *testing.T, place, weather string) (*Garden, error) {
	t.Helper()
	return ReadGarden("garden.yaml", strings.NewReader(fmt.Sprintf(`hollowbed: 1
site: {%s, time_zone: America/Chicago}
roof: {area: 60 m2, share: 100 %%}
soil: {rate: 6 mm/h, safety_factor: 1}
mix: {texture: sandy loam, depth: 450 mm}
bed: {shape: oval, length: 6 m, width: 4.2 m, ponding_depth: 150 mm}
weather: {%s}
`, place, weather)))
}

// files opens texts by their names.
func files(texts map[string]string) Open {
	return func(file string, take func(string, io.Reader) error) error {
		text, ok := texts[file]
		if !ok {
			return fmt.Errorf("%s: %w", file, fs.ErrNotExist)
		}
		return take(file, strings.NewReader(text))
	}
}

func TestWeatherOfAStation(t *testing.T) {
	g, err := lotOf(t, "latitude: 40.69, longitude: -89.59", "station: nearest")
	require.NoError(t, err)
	assert.Empty(t, g.Weather.File)
	rec, err := g.ReadWeather(files(nil))
	require.NoError(t, err)
	assert.Regexp(t, `^from the climate of PEORIA WB AIRPORT, IL, \d miles? away.*; not a record$`, rec.Climate)
	assert.Equal(t, 60, len(rec.Years(40)))
	again, err := g.ReadWeather(files(nil))
	require.NoError(t, err)
	assert.True(t, slices.Equal(rec.RainMM, again.RainMM), "the same years each time")

	byID, err := lotOf(t, "latitude: 40.69", "station: il116711")
	require.NoError(t, err)
	rec, err = byID.ReadWeather(files(nil))
	require.NoError(t, err)
	assert.Contains(t, rec.Climate, "PEORIA")
	l, err := Prepare(byID, rec)
	require.NoError(t, err)
	e, err := l.Expose()
	require.NoError(t, err)
	assert.Equal(t, rec.Climate, e.Record.Climate)
	assert.Equal(t, rec.Doubts, e.Record.Doubts)
	require.Len(t, rec.Doubts, 1, "no desert, no mountains")

	aspen, err := lotOf(t, "latitude: 39.19, longitude: -106.82", "station: nearest")
	require.NoError(t, err)
	rec, err = aspen.ReadWeather(files(nil))
	require.NoError(t, err)
	assert.Regexp(t, `(?s)dry country.*mountains`, strings.Join(rec.Doubts, "\n"))
}

func TestWeatherOfTwelveMonths(t *testing.T) {
	months := "month,rain_mm,rain_days,tmax_c,tmin_c\n"
	for m := range 12 {
		months += fmt.Sprintf("%d,%d,%d,%d,%d\n", m+1, 60, 10, 20, 10)
	}
	g, err := lotOf(t, "latitude: -36.8", "monthly: months.csv")
	require.NoError(t, err)
	rec, err := g.ReadWeather(files(map[string]string{"months.csv": months}))
	require.NoError(t, err)
	assert.Contains(t, rec.Climate, "months.csv")
	l, err := Prepare(g, rec)
	require.NoError(t, err)
	assert.InDelta(t, 720, l.RecordFacts().Figures.MeanYearMM, 15)
	_, err = g.ReadWeather(files(nil))
	assert.True(t, errors.Is(err, fs.ErrNotExist))
}

// Two years of record keep their own days; made ones come before them, held to the record.
func TestWeatherLengthened(t *testing.T) {
	text := "date,rain_mm,tmin_c,tmax_c\n"
	made, err := lotOf(t, "latitude: 40.69", "station: IL116711")
	require.NoError(t, err)
	peoria, err := made.ReadWeather(files(nil))
	require.NoError(t, err)
	for i := range 731 { // 1801 and 1802 as 2019 and 2020, half as wet again
		mm, _ := peoria.DayRainMM(i)
		day := peoria.Start.AddDate(218, 0, i)
		text += fmt.Sprintf("%s,%.1f,%.1f,%.1f\n", day.Format("2006-01-02"), 1.5*mm, peoria.Days[i].TMinC, peoria.Days[i].TMaxC)
	}
	g, err := lotOf(t, "latitude: 40.69", "file: rain.csv, station: IL116711")
	require.NoError(t, err)
	own, err := site.ReadRecord("rain.csv", strings.NewReader(text), site.Format{}, 40.69)
	require.NoError(t, err)
	rec, err := g.ReadWeather(files(map[string]string{"rain.csv": text}))
	require.NoError(t, err)
	assert.Len(t, rec.Years(40.69), 60)
	assert.True(t, slices.Equal(own.RainMM, rec.RainMM[len(rec.RainMM)-len(own.RainMM):]), "the record's own days")
	assert.Contains(t, rec.Climate, "2 whole years of record and 58 made")
	assert.Contains(t, strings.Join(rec.Notes, "\n"), "the record against that climate: rain +")
	sum := func(mm []float64) (s float64) {
		for _, v := range mm {
			s += v
		}
		return s / float64(len(mm))
	}
	before := sum(rec.RainMM[:len(rec.RainMM)-len(own.RainMM)])
	assert.Greater(t, before, 1.05*sum(peoria.RainMM), "made years are held to the record")
	assert.Less(t, before, sum(own.RainMM))
}

func TestWeatherKeysRefused(t *testing.T) {
	for weather, want := range map[string]string{
		"station: nearest":                       "site.longitude",
		"station: XX1":                           "no such station is built in",
		"station: IL116711, monthly: months.csv": "expected either this or station",
		"monthly: ../months.csv":                 "expected the name of a file in the folder",
		"wet_day: 40 mm, monthly: m.csv":         "wet_day",
	} {
		_, err := lotOf(t, "latitude: 40", weather)
		assert.ErrorContains(t, err, want, weather)
	}
	g, err := lotOf(t, "latitude: 48, longitude: 11", "station: nearest")
	require.NoError(t, err)
	_, err = g.ReadWeather(files(nil))
	assert.ErrorContains(t, err, "garden.yaml:7:20: weather.station: \"nearest\": no station is near")
}
