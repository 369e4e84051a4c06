package climate

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Made by go run ./testdata/climates; its source is in testdata/climates/SOURCES.md.
//
//go:embed stations.bin
var packed []byte

// StationsUntil is the year by which nearly all of the stations' records end.
const StationsUntil = 1995

// Station is a weather station of the United States and its climate.
type Station struct {
	ID, Name, State string
	LatDeg, LonDeg  float64 // north and east positive
	ElevationM      float64
	Years           int // of record
	Normals
}

// Title is the name as shown: "PEORIA WSO AP, IL".
func (s Station) Title() string { return s.Name + ", " + s.State }

// Column is a packed figure: its name in the source and the unit it is rounded to.
type Column struct {
	Name string
	Unit float64
	to   func(m *Month, v float64)
}

// Columns are the packed figures, in order. Units of the source: inches,
// deg F, inches an hour.
func Columns() []Column {
	const mm = 25.4
	celsius := func(f float64) float64 { return (f - 32) / 1.8 }
	return []Column{
		{"wet_day_mean_in", 0.01, func(m *Month, v float64) { m.WetMM = v * mm }},
		{"wet_day_sd_in", 0.01, func(m *Month, v float64) { m.WetSDMM = v * mm }},
		{"wet_day_skew", 0.1, func(m *Month, v float64) { m.WetSkew = v }},
		{"wet_after_wet", 0.01, func(m *Month, v float64) { m.WetAfterWet = v }},
		{"wet_after_dry", 0.01, func(m *Month, v float64) { m.WetAfterDry = v }},
		{"tmax_f", 0.1, func(m *Month, v float64) { m.TMaxC = celsius(v) }},
		{"tmin_f", 0.1, func(m *Month, v float64) { m.TMinC = celsius(v) }},
		{"tmax_sd_f", 0.1, func(m *Month, v float64) { m.TMaxSD = v / 1.8 }},
		{"tmin_sd_f", 0.1, func(m *Month, v float64) { m.TMinSD = v / 1.8 }},
		{"max_half_hour_in", 0.01, func(m *Month, v float64) { m.HalfHourMMH = v * mm }},
	}
}

// Stations returns the built-in stations, by id.
func Stations() []Station {
	stations, err := unpack(packed)
	if err != nil {
		panic(fmt.Sprintf("climate: stations.bin: %v", err)) // embedded: our mistake
	}
	return stations
}

// StationByID returns the station of an id, in upper or lower case.
func StationByID(id string) (Station, bool) {
	for _, s := range Stations() {
		if strings.EqualFold(s.ID, id) {
			return s, true
		}
	}
	return Station{}, false
}

func unpack(text []byte) ([]Station, error) {
	z, err := gzip.NewReader(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	all, err := io.ReadAll(z)
	if err != nil {
		return nil, err
	}
	names, figures, _ := bytes.Cut(all, []byte("\n\n"))
	rows, err := csv.NewReader(bytes.NewReader(names)).ReadAll()
	if err != nil {
		return nil, err
	}
	stations := make([]Station, len(rows))
	for i, row := range rows {
		if stations[i], err = station(row); err != nil {
			return nil, err
		}
	}
	for _, c := range Columns() {
		for i := range stations {
			sum := int64(0)
			for m := range stations[i].Months {
				step, n := binary.Varint(figures)
				if n <= 0 {
					return nil, io.ErrUnexpectedEOF
				}
				figures = figures[n:]
				sum += step
				c.to(&stations[i].Months[m], float64(float64(sum)*c.Unit))
			}
		}
	}
	if len(figures) > 0 {
		return nil, fmt.Errorf("more figures than stations")
	}
	return stations, nil
}

func station(c []string) (Station, error) {
	if len(c) != 7 {
		return Station{}, fmt.Errorf("%q: expected 7 cells", c)
	}
	var n [4]float64
	var err error
	for i := range n {
		if n[i], err = strconv.ParseFloat(c[3+i], 64); err != nil {
			return Station{}, err
		}
	}
	return Station{
		ID: c[0], Name: c[1], State: c[2], LatDeg: n[0], LonDeg: n[1], ElevationM: n[2] * 0.3048, Years: int(n[3]),
		Normals: Normals{WetDayMM: 0.254}, // 0.01 in, the least that gauges count
	}, nil
}
