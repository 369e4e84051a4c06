package climate

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// Spot is where a lot lies.
type Spot struct {
	Title          string // as shown: "Duluth, MN", or "46.78, -92.11"
	LatDeg, LonDeg float64
	ElevationM     float64 // NaN if no place of known height is near
	TimeZone       string  // "" if no place is near
}

// nearKM is how far a place may be whose height and time zone are taken.
const nearKM = 25

// SpotAt is a spot with the height and the time zone of the nearest place.
func SpotAt(latDeg, lonDeg float64) Spot {
	s := Spot{fmt.Sprintf("%.2f, %.2f", latDeg, lonDeg), latDeg, lonDeg, math.NaN(), ""}
	p, km := NearestPlace(latDeg, lonDeg)
	if km <= nearKM {
		s.ElevationM = p.ElevationM
	}
	if km <= 10*nearKM {
		s.TimeZone = p.TimeZone
	}
	return s
}

// FindSpot reads where a lot lies: "46.78, -92.11", "Duluth, MN" or the id of a
// station. A place that is there more than once is a fault that names them all.
func FindSpot(text string) (Spot, error) {
	bad := func(want string) (Spot, error) {
		return Spot{}, table.Faults{{Name: "near", Value: text, Want: want}}
	}
	first, second, two := strings.Cut(text, ",")
	if two {
		lat, errLat := strconv.ParseFloat(strings.TrimSpace(first), 64)
		lon, errLon := strconv.ParseFloat(strings.TrimSpace(second), 64)
		switch {
		case errLat == nil && errLon == nil && math.Abs(lat) <= 90 && math.Abs(lon) <= 180:
			return SpotAt(lat, lon), nil
		case errLat == nil || errLon == nil:
			return bad("expected degrees north and east, west below zero, such as 46.78, -92.11")
		}
	}
	if s, ok := StationByID(strings.TrimSpace(text)); ok {
		spot := SpotAt(s.LatDeg, s.LonDeg)
		spot.Title, spot.ElevationM = s.Title(), s.ElevationM
		return spot, nil
	}
	state, county, inCounty := strings.Cut(strings.TrimSpace(second), "(")
	found := findPlaces(first, strings.TrimSpace(state))
	if inCounty {
		county = plainLetters(strings.TrimSuffix(county, ")"))
		found = slices.DeleteFunc(found, func(p Place) bool { return !strings.HasPrefix(plainLetters(p.County), county) })
	}
	switch len(found) {
	case 0:
		return bad("no such place in the fifty states or DC is known: expected a place and its state such as Duluth, MN, a latitude and longitude such as 46.78, -92.11, or the id of a station")
	case 1:
		p := found[0]
		return Spot{p.Title(), p.LatDeg, p.LonDeg, p.ElevationM, p.TimeZone}, nil
	}
	return bad("there is more than one: " + named(found) + "; expected one of them, or a latitude and longitude")
}

// named lists places so that each can be typed as it stands.
func named(found []Place) string {
	const most = 6
	states := map[string]int{}
	for _, p := range found {
		states[p.State]++
	}
	var out []string
	for i, p := range found {
		if i == most {
			out = append(out, fmt.Sprintf("%d more", len(found)-most))
			break
		}
		switch {
		case states[p.State] == 1:
			out = append(out, p.Title())
		case slices.ContainsFunc(found[:i], func(o Place) bool { return o.State == p.State && o.County == p.County }):
			out = append(out, fmt.Sprintf("%.3f, %.3f", p.LatDeg, p.LonDeg))
		default:
			out = append(out, fmt.Sprintf("%s (%s)", p.Title(), p.County))
		}
	}
	return strings.Join(out, "; ")
}

// Near is a station as seen from a spot.
type Near struct {
	Station
	KM      float64 // distance
	HigherM float64 // of the station over the spot; NaN if the spot's height is not known
	spot    Spot
}

// metresOfHeight count like a kilometre of distance when stations are ranked: 500 m
// of height like 50 km. Common practice is to weigh height far over distance; the
// figure is a choice of this project.
const metresOfHeight = 10

func (n Near) rank() float64 {
	if math.IsNaN(n.HigherM) {
		return n.KM
	}
	return n.KM + math.Abs(n.HigherM)/metresOfHeight
}

// FarthestKM is how far a station may be.
const FarthestKM = 200

// NearestTo returns the stations nearest to a spot by distance and height, at most
// so many, none that is farther than FarthestKM and none with warmNights.
func NearestTo(s Spot, most int) []Near {
	var out []Near
	for _, st := range Stations() {
		if n := st.From(s); n.KM <= FarthestKM && !st.warmNights() {
			out = append(out, n)
		}
	}
	slices.SortStableFunc(out, func(a, b Near) int {
		switch d := a.rank() - b.rank(); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	return out[:min(most, len(out))]
}

// From returns a station as seen from a spot.
func (s Station) From(spot Spot) Near {
	return Near{s, distanceKM(spot.LatDeg, spot.LonDeg, s.LatDeg, s.LonDeg), s.ElevationM - spot.ElevationM, spot}
}

// Here returns the climate of the spot: that of the station, but for the height.
func (n Near) Here() Normals { return n.Normals.Raised(-n.HigherM) }
