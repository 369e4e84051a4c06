package climate

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
)

// Places of the United States by GeoNames (geonames.org), CC BY 4.0; see
// testdata/climates/SOURCES.md.
//
//go:embed places.csv.gz
var gazetteer []byte

// Place is a town or village.
type Place struct {
	Name, State, County string
	LatDeg, LonDeg      float64 // north and east positive
	ElevationM          float64
	Population          int
	TimeZone            string // IANA name
}

// Title is the name as shown: "Duluth, MN".
func (p Place) Title() string { return p.Name + ", " + p.State }

// places returns the gazetteer, by name.
func places() []Place {
	z, err := gzip.NewReader(bytes.NewReader(gazetteer))
	if err != nil {
		panic(fmt.Sprintf("climate: places: %v", err)) // embedded: our mistake
	}
	rows := csv.NewReader(z)
	rows.ReuseRecord = true
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			panic(fmt.Sprintf("climate: places: %v", err))
		}
		return v
	}
	out := make([]Place, 0, 1<<15)
	for c, err := rows.Read(); err != io.EOF; c, err = rows.Read() {
		switch {
		case err != nil:
			panic(fmt.Sprintf("climate: places: %v", err))
		case c[0] != "name":
			out = append(out, Place{c[0], c[1], c[2], number(c[3]), number(c[4]), number(c[5]), int(number(c[6])), c[7]})
		}
	}
	return out
}

// plainLetters makes "canon city" of "Cañon City" and "saint paul" of "St. Paul".
func plainLetters(s string) string {
	if strings.ContainsFunc(s, func(r rune) bool { return r >= utf8.RuneSelf }) {
		if plain, _, err := transform.String(transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn))), s); err == nil {
			s = plain
		}
	}
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, w := range words {
		switch w {
		case "st":
			words[i] = "saint"
		case "mt":
			words[i] = "mount"
		case "ft":
			words[i] = "fort"
		}
	}
	return strings.Join(words, " ")
}

// findPlaces returns the places of a name in a state ("" for all), the largest first.
func findPlaces(name, state string) []Place {
	wanted := plainLetters(name)
	var out []Place
	for _, p := range places() {
		if (state == "" || strings.EqualFold(p.State, state)) && plainLetters(p.Name) == wanted {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(a, b Place) int { return b.Population - a.Population })
	return out
}

// NearestPlace returns the place that is nearest to a point, and how far it is.
func NearestPlace(latDeg, lonDeg float64) (p Place, km float64) {
	km = math.Inf(1)
	for _, each := range places() {
		if math.Abs(each.LatDeg-latDeg) > 3 { // 3 degrees are 330 km
			continue
		}
		if d := distanceKM(latDeg, lonDeg, each.LatDeg, each.LonDeg); d < km {
			p, km = each, d
		}
	}
	return p, km
}

// distanceKM is the distance on a globe of 6,371 km, by the haversine formula.
func distanceKM(latA, lonA, latB, lonB float64) float64 {
	const rad = math.Pi / 180
	a, b := math.Sin((latB-latA)*rad/2), math.Sin((lonB-lonA)*rad/2)
	return 2 * 6371 * math.Asin(math.Sqrt(min(1, a*a+math.Cos(latA*rad)*math.Cos(latB*rad)*b*b)))
}
